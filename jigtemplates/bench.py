"""The bench: what the router's base stands on while its bushing runs all over the opening.

Millimetres from the plate's lower-left corner, seen from above. What is taken for granted:

- The load presses on the middle of the base, which is the middle of the bushing.
- Of a rectangular base the circle that fits inside it counts. Hands turn a router as they go, and that circle is
  under the base at every turn, so a router never tips sooner than is said here.
- The plate carries, less its opening; screw holes are too small to matter. The holder's frame carries too where its
  width is known and it lies flush with the plate; work and bench carry nothing.
"""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.chorded import area_of, polygon_of
from jigtemplates.geometry.measure import samples
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.parameters.entries import RoundBase, Router

if TYPE_CHECKING:  # checks import this module
    from jigtemplates.checks.finding import Case

Array = NDArray[np.float64]

#: Places of the bushing along the rim of its path are no further apart than this, mm, and those within it than GRID.
#: Chosen: corners and ends are always among them, and half a step changes the share of a base d mm across by at most
#: 2 STEP / (pi d), 2 % at 150 mm.
STEP, GRID = 5.0, 10.0

#: Long rims have this many steps, wide paths about this many places within. Chosen: a few milliseconds.
MOST = 100

#: Corners of the polygon that stands for a base (chosen: its rim is within 0.06 % of the radius).
CORNERS = 96

#: Chords of plate and opening, mm (chosen: a tenth of what the margin is shown to).
CHORD = 0.01

#: Frame and plate this close in height are flush, mm (chosen: a sheet of paper, over which a base slides).
FLUSH = 0.1

#: Less than this of a base carries nothing, mm² (chosen: rounding of areas of thousands).
TRACE = 1e-6


@dataclass(frozen=True, slots=True)
class Support:
    """How the router's base is carried at one place."""

    #: middle of bushing and base on the plate
    position: Point
    #: of the base's face, less the hole in it, how much lies on what carries it, 0 to 1
    share: float
    #: from the middle of the base to the edge of the convex hull of what carries it, mm; negative: it lies outside
    #: and the router tips; -radius where nothing carries it
    margin: float
    #: the base there, a circle
    base: Outline
    #: what of its face is carried, on chords
    carried: Regions


@dataclass(frozen=True)
class Ride:
    """The base at every place looked at: the rim of the bushing's path with its corners, and a grid within."""

    #: of the base, mm
    radius: float
    #: middle of the base at each place, n by 2
    places: Array
    #: what of the base's face is carried at each, shapely polygons
    carried: NDArray[Any]
    #: as in `Support`, for each place
    shares: Array
    #: as in `Support`, for each place
    margins: Array

    @cached_property
    def nearest_to_tipping(self) -> Support:
        """The place with the least margin; of several, the one with the least share."""
        return self._at(_first(self.margins, self.shares, self.places))

    @cached_property
    def least_carried(self) -> Support:
        """The place with the least share; of several, the one with the least margin."""
        return self._at(_first(self.shares, self.margins, self.places))

    def _at(self, index: int) -> Support:
        middle = Point(*map(float, self.places[index]))
        return Support(
            position=middle,
            share=float(self.shares[index]),
            margin=float(self.margins[index]),
            base=Outline.circle(middle, self.radius),
            carried=_regions(self.carried[index]),
        )


def ride_of(case: "Case") -> Ride | None:
    """The base all over the opening; None without a router, an opening, or a base wider than the bushing.

    The hole in the base, and at least the bushing, is no part of the face.
    """
    router = case.job.tools.router
    if router is None or not case.path or base_diameter(router) <= case.bushing:
        return None
    hole = case.bushing if router.base_hole is None else max(router.base_hole.mm, case.bushing)
    return ride_over(ground(case), case.path, base_diameter(router), hole=hole)


def base_diameter(router: Router) -> float:
    """Of a round base its diameter, of a rectangular one that of the circle inside it, mm."""
    base = router.base
    return base.diameter.mm if isinstance(base, RoundBase) else min(base.width.mm, base.depth.mm)


def ride_over(carrying: Any, path: Regions, diameter: float, *, hole: float = 0.0) -> Ride:
    """A round base with a hole in its middle, run over a path on what carries it (a shapely area); mm.

    `hole` is smaller than `diameter`. A degenerate path (a line there and back, a point) is a path like any other.
    """
    radius, places = diameter / 2, places_on(path)
    faces = shapely.polygons(_circles(places, radius))
    if hole > 0:
        faces = shapely.polygons(
            shapely.get_exterior_ring(faces), holes=shapely.linearrings(_circles(places, hole / 2))[:, None]
        )
    carried = shapely.intersection(faces, carrying)
    areas = shapely.area(carried)
    margins = np.where(areas < TRACE, -radius, _margins(places, shapely.convex_hull(carried)))
    return Ride(radius, places, carried, np.minimum(areas / shapely.area(faces), 1.0), margins)


def _circles(places: Array, radius: float) -> Array:
    """A closed ring of CORNERS corners about each place."""
    angles = np.linspace(0.0, 2 * math.pi, CORNERS + 1)
    angles[-1] = 0.0
    return places[:, None, :] + radius * np.column_stack((np.cos(angles), np.sin(angles)))


def _margins(places: Array, hulls: NDArray[Any]) -> Array:
    points = shapely.points(places)
    outside = shapely.distance(points, hulls)
    inside: Array = shapely.distance(points, shapely.boundary(hulls))
    return np.where(outside > 0, -outside, inside)


def _first(first: Array, second: Array, places: Array) -> int:
    """Index of the least by the first, then the second; rounded, so that one machine finds what another does."""
    keys = (places[:, 1], places[:, 0], second, first)
    return int(np.lexsort([np.round(key, 6) for key in keys])[0])


def places_on(path: Regions) -> Array:
    """Every corner of a path's rims, places along them, and a grid within, n by 2."""
    rims = [samples(ring, max(STEP, ring.length / MOST)) for region in path for ring in region.rings]
    found = np.concatenate([*rims, *(_within(region) for region in path)])
    return np.unique(np.round(found, 6), axis=0)


def _within(region: Region) -> Array:
    """Places of a grid that lie inside; none where the region is smaller than a step, or a line there and back."""
    box = region.bounds
    step = max(GRID, math.sqrt(region.area / MOST))
    if min(box.width, box.height) < step or region.area < step * step:
        return np.empty((0, 2))
    xs, ys = (np.arange(low + step / 2, high, step) for low, high in ((box.left, box.right), (box.bottom, box.top)))
    grid = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
    inside: Array = grid[shapely.contains_xy(polygon_of(region, CHORD), grid)]
    return inside


def ground(case: "Case") -> Any:
    """What carries the base, as a shapely area: the plate less all its openings, and a flush frame of the holder."""
    plate, template = case.job.plate, case.template
    gone = (*template.opening, *template.beside)  # the plate is cut for all of its cuts, also where one is looked at
    face = shapely.difference(polygon_of(template.plate, CHORD), area_of(gone, CHORD))
    if not frame_is_flush(case) or plate.holder is None or plate.holder.frame is None:
        return face
    x, y, frame = plate.holder.width.mm / 2, plate.holder.height.mm / 2, plate.holder.frame.mm
    recess, outside = _box(case, x, y), _box(case, x + frame, y + frame)
    return shapely.union(face, shapely.difference(outside, recess))


def _box(case: "Case", x: float, y: float) -> Any:
    """A box of half sides x and y about the middle of the plate."""
    middle = (case.job.plate.width / 2, case.job.plate.height / 2)
    return shapely.box(middle[0] - x, middle[1] - y, middle[0] + x, middle[1] + y)


def frame_is_flush(case: "Case") -> bool:
    """Whether the holder's frame is known to lie level with the plate's upper face, so that both carry the base."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is None or holder.frame is None or holder.depth is None:
        return False
    return bool(plate.rebate) or abs(plate.thickness - holder.depth.mm) <= FLUSH + 1e-9


def rides_on_holder(case: "Case", ride: Ride) -> bool:
    """Whether the plate lies lower than its holder's face and the base, reaching beyond the recess, rides on that."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is None or holder.depth is None or plate.thickness >= holder.depth.mm - FLUSH - 1e-9:
        return False
    reach = np.abs(ride.places - (plate.width / 2, plate.height / 2)).max(axis=0) + ride.radius
    return bool((reach > (holder.width.mm / 2, holder.height.mm / 2)).any())


def _regions(area: Any) -> Regions:
    """The polygons of a shapely area as regions of straight lines."""
    polygons = [part for part in shapely.get_parts(area) if part.geom_type == "Polygon" and not part.is_empty]
    return tuple(
        Region(_outline(p.exterior).turned(True), tuple(_outline(ring).turned(False) for ring in p.interiors))
        for p in polygons
    )


def _outline(ring: Any) -> Outline:
    return Outline.polygon(shapely.get_coordinates(ring)[:-1].tolist())
