"""A solid becomes a mesh, and the mesh is measured against the solid before anything is written.

No facet reaches into a cut or beyond the body (`solid.Solid`), nor is it further than the chord tolerance off. The
same solid gives the same mesh. The one module that holds manifold3d, which is an optional extra.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from jigtemplates.errors import OutputError
from jigtemplates.geometry.facets import Side, polygons
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.thin import thinned
from jigtemplates.solid import Beads, Cone, Prism, Solid
from jigtemplates.writers.faults import ReadBackError, shown
from jigtemplates.writers.mesh import Mesh, slice_area, surface_faults

#: What to do where manifold3d is not there.
EXTRA = "install it with: pip install 'jigtemplates[print]'"

#: Chord tolerance of the round ends of beads, mm (chosen: letters guide nothing, and a bead of 0.8 mm still has 8
#: corners at each end).
BEAD_CHORD = 0.03

#: Corners of beads closer than this become one, mm (chosen: a printer's step; letters have thousands of them).
BEAD_DETAIL = 0.01

#: How far a corner of the mesh may be from where it was meant, mm, and as a share of the plate (single precision has 24
#: binary digits).
SAME, SAME_SHARE = 1e-4, 2.0**-23


def mesh_of(solid: Solid) -> Mesh:
    """The mesh of a solid. OutputError where manifold3d is missing, ReadBackError where the mesh is not as promised."""
    try:
        import manifold3d
    except ImportError:
        raise OutputError(f"printed templates need the package manifold3d ({EXTRA})") from None
    mesh = _Builder(manifold3d, solid.chord).built(solid)
    fault = next(_faults(mesh, solid), None)
    if fault is not None:
        raise ReadBackError(f"mesh of the plate: {fault} (a fault of this program: the file was not written)")
    return mesh


@dataclass(frozen=True, slots=True)
class _Builder:
    """manifold3d, and the chord tolerance of what is built with it."""

    kernel: Any
    chord: float

    def built(self, solid: Solid) -> Mesh:
        body = self._prism(solid.body, "within")
        cuts = [self._cut(cut) for cut in solid.cuts]
        whole = self._boolean([body, *cuts], "Subtract") if cuts else body
        if solid.added:
            whole = self._boolean([whole, *map(self._beads, solid.added)], "Add")
        # Once to single precision and back: corners that have become one there are then one corner.
        single = self.kernel.Manifold(whole.to_mesh()).to_mesh()
        vertices = np.ascontiguousarray(single.vert_properties[:, :3], dtype=np.float32)
        return _in_order(vertices, single.tri_verts.astype(np.int32))

    def _boolean(self, parts: Sequence[Any], operation: str) -> Any:
        return self.kernel.Manifold.batch_boolean(list(parts), getattr(self.kernel.OpType, operation))

    def _cut(self, cut: Prism | Cone | Beads) -> Any:
        if isinstance(cut, Prism):
            return self._prism(cut, "around")
        return self._cone(cut) if isinstance(cut, Cone) else self._beads(cut)

    def _prism(self, prism: Prism, side: Side) -> Any:
        area = thinned(prism.area, self.chord, side)
        chord = self.chord if area is prism.area else self.chord / 2
        rings = [ring for region in area for ring in polygons(region, chord, side)]
        return self._extruded(self._section(rings), prism.bottom, prism.top)

    def _cone(self, cone: Cone) -> Any:
        """As many sides all the way up as its wide end needs, round it rather than within."""
        low, high = cone.radii
        ring = polygons(Region(Outline.circle(Point(0.0, 0.0), high)), self.chord, "around")
        height = cone.top - cone.bottom
        upside_down = self.kernel.Manifold.extrude(self._section(ring), height, 0, 0.0, (low / high, low / high))
        return upside_down.mirror((0.0, 0.0, 1.0)).translate((cone.center.x, cone.center.y, cone.top))

    def _beads(self, beads: Beads) -> Any:
        rings = [bead for stroke in beads.strokes for bead in _beads_along(stroke.points, beads.width / 2)]
        section = self._section(rings).simplify(BEAD_DETAIL)
        return self._extruded(section, beads.bottom, beads.top)

    def _section(self, rings: Iterable[Sequence[tuple[float, float]]]) -> Any:
        listed = [np.array(ring, dtype=np.float64) for ring in rings]
        return self.kernel.CrossSection(listed, self.kernel.FillRule.Positive)

    def _extruded(self, section: Any, bottom: float, top: float) -> Any:
        return self.kernel.Manifold.extrude(section, top - bottom).translate((0.0, 0.0, bottom))


def _beads_along(points: Sequence[Point], radius: float) -> Iterator[list[tuple[float, float]]]:
    """A capsule round each straight piece, counter-clockwise."""
    steps = max(2, math.ceil(math.pi / (2 * math.acos(max(0.0, 1 - BEAD_CHORD / radius)))))
    half = [math.pi * (i / steps) for i in range(steps + 1)]
    for a, b in pairwise(points):
        ahead = math.atan2(b.y - a.y, b.x - a.x)
        yield [
            (end.x + radius * math.cos(ahead + turn + angle), end.y + radius * math.sin(ahead + turn + angle))
            for end, turn in ((b, -math.pi / 2), (a, math.pi / 2))
            for angle in half
        ]


def _in_order(vertices: NDArray[np.float32], triangles: NDArray[np.int32]) -> Mesh:
    """Corners sorted by place and triangles by corner, each from its first: whatever order they were found in."""
    order = np.lexsort(vertices.T[::-1])
    rank = np.empty(len(order), dtype=np.int32)
    rank[order] = np.arange(len(order), dtype=np.int32)
    ranked = rank[triangles]
    first = ranked.argmin(axis=1)
    turned = np.take_along_axis(ranked, (first[:, None] + np.arange(3)) % 3, axis=1)
    turned = turned[np.lexsort(turned.T[::-1])]
    return Mesh(vertices[order] + np.float32(0), turned.astype(np.int32))  # + 0: no -0


def _faults(mesh: Mesh, solid: Solid) -> Iterator[str]:
    yield from surface_faults(mesh)
    yield from _box_faults(mesh, solid)
    yield from _area_faults(mesh, solid)


def _box_faults(mesh: Mesh, solid: Solid) -> Iterator[str]:
    """The plate's own width, height and thickness, raised letters included."""
    boxes = [region.bounds for region in solid.body.area]
    right, top = max(box.right for box in boxes), max(box.top for box in boxes)
    left, bottom = min(box.left for box in boxes), min(box.bottom for box in boxes)
    highest = max([solid.body.top, *(beads.top for beads in solid.added if beads.strokes)])
    wanted = np.array([[left, bottom, solid.body.bottom], [right, top, highest]])
    off = np.abs(np.array(mesh.box) - wanted).max()
    if off > solid.chord + _same(solid):
        yield f"its size is {shown(float(off))} mm off"


def _area_faults(mesh: Mesh, solid: Solid) -> Iterator[str]:
    """A slice where nothing but the body and what goes right through it is cut has the exact outlines' area."""
    height = _plain_height(solid)
    if height is None:
        return
    through = [cut for cut in solid.cuts if isinstance(cut, Prism) and _goes_through(cut, solid.body)]
    rings = [ring for prism in (solid.body, *through) for region in prism.area for ring in region.rings]
    wanted = _area(solid.body.area) - sum(_area(cut.area) for cut in through)
    short = wanted - slice_area(mesh, height)
    rim, same = math.fsum(ring.length for ring in rings), _same(solid)
    if not -same * rim <= short <= (solid.chord + same) * rim:
        yield f"a slice at {shown(height)} mm is {shown(short)} mm² short of what was meant"


def _same(solid: Solid) -> float:
    longest = max(max(region.bounds.right, region.bounds.top) for region in solid.body.area)
    return SAME + SAME_SHARE * longest


def _area(regions: Regions) -> float:
    return math.fsum(region.area for region in regions)


def _plain_height(solid: Solid) -> float | None:
    """The middle of the highest layer without cones, beads and pockets; None where every layer has some."""
    through = [cut for cut in solid.cuts if _goes_through(cut, solid.body)]
    shaped = [part for part in (*solid.cuts, *solid.added) if part not in through]
    levels = sorted({*(level for part in (*solid.cuts, *solid.added) for level in (part.bottom, part.top))})
    inside = [solid.body.bottom, *(z for z in levels if solid.body.bottom < z < solid.body.top), solid.body.top]
    middles = [(a + b) / 2 for a, b in pairwise(inside)]
    plain = [z for z in middles if not any(part.bottom <= z <= part.top for part in shaped)]
    return max(plain, default=None)


def _goes_through(cut: Prism | Cone | Beads, body: Prism) -> bool:
    return isinstance(cut, Prism) and cut.bottom < body.bottom and cut.top > body.top
