"""The free face of a plate: where a label or mark may stand without meeting an opening, a hole or the edge.

Millimetres. Every answer errs to the safe side: arcs are flattened within `CHORD` and that much is
added to each asked distance, so a place that is called free has at least the distance asked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

#: Flattening of arcs, mm (chosen: a fiftieth of the label's margin, and few points).
CHORD = 0.05

#: A line is examined in steps of this, mm (chosen: shorter than any distance kept from a hole).
STEP = 0.25

Obstacle = Outline | Stroke


@dataclass(frozen=True)
class Cells:
    """A grid of squares and which of them are free."""

    #: lower-left corner of the grid
    corner: Point
    #: side of a square, mm
    size: float
    #: [row from the bottom, column from the left]
    free: "NDArray[np.bool_]"

    def nearest(self, width: float, height: float, wanted: Point) -> Point | None:
        """Centre of the upright box of that size that lies on free squares only and nearest to a place.

        None where no such box exists. Equally near ones: the lowest, then the leftmost.
        """
        import numpy as np

        columns, rows = max(1, -int(-width // self.size)), max(1, -int(-height // self.size))
        # Summed-area table: the free squares in any rectangle from its four corners.
        total = np.pad(self.free.cumsum(0).cumsum(1), ((1, 0), (1, 0)))
        counts = total[rows:, columns:] - total[:-rows, columns:] - total[rows:, :-columns] + total[:-rows, :-columns]
        row, column = np.nonzero(counts == rows * columns)
        if not row.size:
            return None
        x = self.corner.x + (column + columns / 2) * self.size
        y = self.corner.y + (row + rows / 2) * self.size
        best = np.argmin((x - wanted.x) ** 2 + (y - wanted.y) ** 2)
        return Point(float(x[best]), float(y[best]))


@dataclass(frozen=True)
class FreeSpace:
    """A plate and what already stands on it; an outline blocks its whole inside, whichever way it runs."""

    plate: Region
    blocked: tuple[Obstacle, ...]

    def fits(self, boxes: "Sequence[Bounds] | NDArray[np.float64]", margin: float) -> "NDArray[np.bool_]":
        """For each upright box, whether it stays margin away from the plate's edge and all that blocks."""
        import numpy as np
        import shapely

        reach = margin + CHORD
        left, bottom, right, top = np.asarray(boxes, dtype=float).reshape(-1, 4).T
        grown = shapely.box(left - reach, bottom - reach, right + reach, top + reach)
        free: NDArray[np.bool_] = shapely.contains(self._face, grown)
        free[self._tree.query(grown, predicate="intersects")[0]] = False
        return free

    def is_clear(self, points: Sequence[Point], *, edge: float, gap: float) -> bool:
        """Whether a polyline stays on the plate, edge away from its edge and gap from all that blocks."""
        import shapely

        line = shapely.LineString(points)
        if not shapely.contains(self._face, line) or shapely.distance(self._face.boundary, line) < edge:
            return False
        return not self._tree.query(line, predicate="dwithin", distance=gap + CHORD).size

    def clear_parts(self, a: Point, b: Point, *, edge: float, gap: float, shortest: float) -> tuple[Stroke, ...]:
        """The parts of the straight from a to b that are clear (see `is_clear`) and not too short.

        All of it where nothing is in the way; otherwise the ends are found to within `STEP`.
        """
        length = ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5
        if length < shortest:
            return ()
        if self.is_clear((a, b), edge=edge, gap=gap):
            return (Stroke((a, b)),)
        count = max(1, int(-(-length // STEP)))
        stops = [Point(a.x + (b.x - a.x) * i / count, a.y + (b.y - a.y) * i / count) for i in range(count + 1)]
        free = self._are_clear(list(pairwise(stops)), edge=edge, gap=gap)
        return tuple(
            Stroke((stops[first], stops[last]))
            for first, last in _runs(free)
            if (last - first) * length / count >= shortest - 1e-9
        )

    def _are_clear(self, pieces: Sequence[tuple[Point, Point]], *, edge: float, gap: float) -> list[bool]:
        """`is_clear` of many straights at once."""
        import shapely

        lines = shapely.linestrings(pieces)
        clear = shapely.contains(self._face, lines) & (shapely.distance(self._face.boundary, lines) >= edge)
        clear[self._tree.query(lines, predicate="dwithin", distance=gap + CHORD)[0]] = False
        return [bool(one) for one in clear]

    def uncovered(self, a: Point, b: Point, *, around: Sequence[Obstacle]) -> tuple[Stroke, ...]:
        """The straight from a to b as far as it lies on the plate and crosses none of the obstacles given."""
        import shapely

        line = shapely.intersection(shapely.LineString((a, b)), self._face)
        for obstacle in around:
            line = shapely.difference(line, _geometry(obstacle))
        parts = [part for part in shapely.get_parts(line) if part.length > 0]
        strokes = [Stroke(tuple(Point(*p) for p in part.coords)) for part in parts]
        return tuple(sorted(strokes, key=lambda s: _along(s.points[0], a, b)))

    def cells(self, size: float, margin: float) -> "Cells":
        """A grid of squares over the plate, each marked free where it keeps the margin (see `fits`)."""
        import numpy as np

        bounds, inset = self.plate.bounds, margin + CHORD + 1e-6  # rounding must not cost a whole column
        x = bounds.left + inset + size * np.arange(max(0, int((bounds.width - 2 * inset) / size)))
        y = bounds.bottom + inset + size * np.arange(max(0, int((bounds.height - 2 * inset) / size)))
        left, bottom = (grid.ravel() for grid in np.meshgrid(x, y))
        boxes = np.column_stack((left, bottom, left + size, bottom + size))
        free = self.fits(boxes, margin).reshape(len(y), len(x))
        return Cells(Point(bounds.left + inset, bounds.bottom + inset), size, free)

    @cached_property
    def _face(self) -> Any:
        import shapely

        outer, *holes = (_geometry(ring).exterior for ring in self.plate.rings)
        face = shapely.polygons(outer, holes or None)
        shapely.prepare(face)
        return face

    @cached_property
    def _tree(self) -> Any:
        import shapely

        return shapely.STRtree([_geometry(obstacle) for obstacle in self.blocked])


@lru_cache(maxsize=256)  # one plate's holes are asked about by the datum, the centre marks and the label
def _geometry(obstacle: Obstacle) -> Any:
    import numpy as np
    import shapely

    if isinstance(obstacle, Stroke):
        return shapely.linestrings(np.array(obstacle.points))
    return shapely.polygons(np.array(obstacle.flattened(CHORD)))


def _runs(flags: Sequence[bool]) -> list[tuple[int, int]]:
    """First and one-past-last index of each stretch of true flags."""
    edges = [i for i in range(len(flags) + 1) if (i > 0 and flags[i - 1]) != (i < len(flags) and flags[i])]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _along(point: Point, a: Point, b: Point) -> float:
    return (point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)
