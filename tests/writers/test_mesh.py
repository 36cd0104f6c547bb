"""Meshes of solids: closed, of the volume and size that arithmetic gives, on the safe side of every arc."""

import math
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.drawing import Stroke
from jigtemplates.errors import OutputError
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.solid import Beads, Cone, Prism, Solid
from jigtemplates.writers import mesh_build
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.mesh import Mesh, slice_area, surface_faults
from jigtemplates.writers.mesh_build import mesh_of

from .solids import PLATE, box, disc, slot, tetrahedron

P = Point


def judged(mesh: Mesh) -> Any:
    """The mesh as an independent library takes it, without mending anything."""
    return trimesh.Trimesh(mesh.vertices.astype(float), mesh.triangles, process=False)


def test_volume_is_area_times_thickness() -> None:
    """100 x 60 less 20 x 10, by 6: 34,800 mm³, to 1e-6 of it; as we count it and as trimesh does."""
    mesh = mesh_of(Solid(Prism(box(0, 0, 100, 60), 0, 6), (Prism(box(10, 10, 30, 20), -1, 7),), (), 0.01))
    assert mesh.volume == pytest.approx(34_800, rel=1e-6)
    assert judged(mesh).volume == pytest.approx(34_800, rel=1e-6)


def test_volume_round_a_hole() -> None:
    """A hole of radius 10 has 71 sides that touch the circle: area 71 x 100 x tan(pi / 71) = 314.36445; by 6 mm."""
    mesh = mesh_of(Solid(Prism(box(0, 0, 100, 60), 0, 6), (Prism(disc(50, 30, 10), -1, 7),), (), 0.01))
    assert mesh.volume == pytest.approx((6000 - 314.36445334) * 6, rel=1e-6)


def test_a_cone() -> None:
    """A countersink of 12 over 6 at 90 degrees takes off a third pi h (R² + R r + r²) = 63 pi, within the facets."""
    solid = Solid(Prism(box(0, 0, 40, 40), 0, 6), (Cone(P(20, 20), 3, 7, (3, 7)),), (), 0.001)
    taken = 40 * 40 * 6 - mesh_of(solid).volume
    assert 63 * math.pi < taken < 63 * math.pi * 1.0003


def test_watertight() -> None:
    """A plate with slot, countersunk holes and letters is closed, one piece with three openings (trimesh)."""
    mesh = judged(mesh_of(PLATE))
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume > 0
    assert mesh.euler_number == 2 - 2 * 3
    assert mesh.extents == pytest.approx([120, 80, 6])


def test_every_edge_twice() -> None:
    """Counted by hand: every pair of corners stands in two triangles, once in each direction."""
    triangles = mesh_of(PLATE).triangles.tolist()
    edges = [(t[i], t[(i + 1) % 3]) for t in triangles for i in range(3)]
    assert len(set(edges)) == len(edges)
    assert {(b, a) for a, b in edges} == set(edges)


def test_a_length_measured_by_another_library() -> None:
    """Sliced at half its height by trimesh the slot is 20 wide in the middle, and 60 to 60.02 long."""
    lines = trimesh.intersections.mesh_plane(judged(mesh_of(PLATE)), [0, 0, 1], [0, 0, 1.5]).reshape(-1, 3)
    rim = lines[(abs(lines[:, 0] - 60) < 35) & (abs(lines[:, 1] - 40) < 15)]
    assert rim[:, 1].max() - rim[:, 1].min() == pytest.approx(20, abs=1e-4)
    assert 60 - 1e-4 <= rim[:, 0].max() - rim[:, 0].min() <= 60.02


def test_the_guided_edge_is_never_tighter() -> None:
    """No corner of the slot's rim and no middle of its facets lies inside the drawn slot, nor 0.01 outside it."""
    lines = trimesh.intersections.mesh_plane(judged(mesh_of(PLATE)), [0, 0, 1], [0, 0, 1.5])
    rim = lines[(abs(lines[:, 0, 0] - 60) < 35) & (abs(lines[:, 0, 1] - 40) < 15)][:, :, :2]
    places = np.concatenate((rim.reshape(-1, 2), rim.mean(axis=1)))
    from_spine = np.hypot(np.maximum(0, abs(places[:, 0] - 60) - 20), places[:, 1] - 40)
    assert from_spine.min() > 10 - 1e-5
    assert from_spine.max() < 10.01 + 1e-5


def test_the_plate_is_never_larger() -> None:
    """A round plate has its corners on the circle: 313.74937 mm² for radius 10, by 2."""
    mesh = mesh_of(Solid(Prism(disc(10, 10, 10), 0, 2), (), (), 0.01))
    assert mesh.volume == pytest.approx(2 * 313.74937132, rel=1e-6)


def test_letters_sunk_and_raised() -> None:
    """A stroke 10 long and 0.8 wide covers 8 and the ends of a circle, 0.50; 0.6 deep or high."""
    bead = Beads((Stroke((P(10, 10), P(20, 10))),), 0.8, 5.4, 7.0)
    sunk = mesh_of(Solid(Prism(box(0, 0, 40, 40), 0, 6), (bead,), (), 0.01))
    raised = mesh_of(Solid(Prism(box(0, 0, 40, 40), 0, 6), (), (replace(bead, bottom=5.5, top=6.6),), 0.01))
    assert 9600 - sunk.volume == pytest.approx(0.6 * 8.49, abs=0.02)
    assert raised.volume - 9600 == pytest.approx(0.6 * 8.49, abs=0.02)
    assert raised.box[1][2] == pytest.approx(6.6)


def test_beads_that_cross_are_one() -> None:
    """A cross of two strokes is cut once where they meet: 16 less 0.64, and round ends of 1.005 on coarse facets."""
    cross = Beads((Stroke((P(10, 15), P(20, 15))), Stroke((P(15, 10), P(15, 20)))), 0.8, 5.0, 7.0)
    mesh = mesh_of(Solid(Prism(box(0, 0, 40, 40), 0, 6), (cross,), (), 0.01))
    assert 9600 - mesh.volume == pytest.approx(16 - 0.64 + 1.005, abs=0.1)
    assert judged(mesh).is_watertight


def test_an_island_in_the_cut() -> None:
    """A ring-shaped cut leaves its middle: two bodies, closed."""
    ring = (Region(Outline.circle(P(20, 20), 15), (Outline.circle(P(20, 20), 5).reversed(),)),)
    mesh = mesh_of(Solid(Prism(box(0, 0, 40, 40), 0, 6), (Prism(ring, -1, 7),), (), 0.01))
    assert mesh.volume == pytest.approx((1600 - 200 * math.pi) * 6, rel=1e-3)
    assert judged(mesh).euler_number == 2


def test_the_same_again() -> None:
    """The same solid gives the same corners and triangles in the same order."""
    first, second = mesh_of(PLATE), mesh_of(PLATE)
    assert first.vertices.tobytes() == second.vertices.tobytes()
    assert first.triangles.tobytes() == second.triangles.tobytes()
    order = np.lexsort(first.vertices.T[::-1])
    assert order.tolist() == list(range(len(order)))


def test_a_slice() -> None:
    """Slices of a tetrahedron are similar triangles: half way up a quarter of the base's 1/2."""
    assert slice_area(tetrahedron(), 0.5) == pytest.approx(0.125)
    assert slice_area(tetrahedron(), 0.9) == pytest.approx(0.005)
    assert tetrahedron().volume == pytest.approx(1 / 6)


BROKEN: list[tuple[str, Callable[[Mesh], Mesh]]] = [
    (
        "it has no triangles, or a corner that is nowhere",
        lambda m: Mesh(m.vertices, m.triangles[:0]),
    ),
    (
        "it has no triangles, or a corner that is nowhere",
        lambda m: Mesh(np.where(m.vertices == 1, np.float32(np.nan), m.vertices), m.triangles),
    ),
    ("a triangle names a corner that is not there", lambda m: Mesh(m.vertices[:3], m.triangles)),
    ("a triangle names a corner that is not there", lambda m: Mesh(m.vertices, m.triangles - np.int32(1))),
    ("two corners are at one place", lambda m: Mesh(np.concatenate((m.vertices, m.vertices[:1])), m.triangles)),
    (
        "a triangle has the same corner twice",
        lambda m: Mesh(m.vertices, np.concatenate((m.triangles, np.array([[1, 1, 2]], dtype=np.int32)))),
    ),
    ("it is not closed: 3 edges do not belong to two triangles", lambda m: Mesh(m.vertices, m.triangles[1:])),
    (
        "it is not closed: 3 edges do not belong to two triangles",
        lambda m: Mesh(m.vertices, np.concatenate((m.triangles[1:], m.triangles[:1, ::-1]))),
    ),
    ("it is inside out", lambda m: Mesh(m.vertices, m.triangles[:, ::-1])),
]


@pytest.mark.parametrize(("sentence", "broken"), BROKEN)
def test_what_is_no_surface(sentence: str, broken: Callable[[Mesh], Mesh]) -> None:
    """Each way to be no surface of a solid is named; the whole tetrahedron is one."""
    assert next(surface_faults(broken(tetrahedron()))) == sentence
    assert list(surface_faults(tetrahedron())) == []


@pytest.mark.parametrize(
    ("meant", "built", "sentence"),
    [
        (
            PLATE,
            replace(PLATE, body=Prism(box(0, 0, 121, 80), 0, 6)),
            "mesh of the plate: its size is 1 mm off (a fault of this program: the file was not written)",
        ),
        (
            replace(PLATE, added=(Beads((Stroke((P(5, 5), P(5, 8))),), 0.8, 5.5, 6.6),)),
            PLATE,
            "mesh of the plate: its size is 0.6 mm off (a fault of this program: the file was not written)",
        ),
        (
            replace(PLATE, cuts=()),
            replace(PLATE, cuts=(Prism(box(10, 10, 30, 20), -1, 7),)),
            "mesh of the plate: a slice at 3 mm is 200 mm² short of what was meant (a fault of this program: the file "
            "was not written)",
        ),
        (
            replace(PLATE, cuts=(Prism(box(10, 10, 30, 20), -1, 7),)),
            replace(PLATE, cuts=()),
            "mesh of the plate: a slice at 3 mm is -200 mm² short of what was meant (a fault of this program: the file "
            "was not written)",
        ),
    ],
)
def test_a_mesh_of_something_else(meant: Solid, built: Solid, sentence: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A mesh of another size or with another opening than was meant is refused."""
    other = mesh_of(built)
    monkeypatch.setattr(mesh_build._Builder, "built", lambda *_: other)
    with pytest.raises(ReadBackError) as refused:
        mesh_of(meant)
    assert str(refused.value) == sentence


def test_a_solid_without_a_plain_layer() -> None:
    """Where a cone reaches through the whole plate no slice is compared, and the rest is still looked at."""
    solid = Solid(Prism(box(0, 0, 40, 40), 0, 4), (Cone(P(20, 20), -1, 5, (1, 7)),), (), 0.01)
    assert mesh_build._plain_height(solid) is None
    assert judged(mesh_of(solid)).is_watertight


def test_without_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where manifold3d is missing, one line says how to install it."""
    monkeypatch.setitem(sys.modules, "manifold3d", None)
    with pytest.raises(OutputError) as missing:
        mesh_of(PLATE)
    assert missing.value.lines == (
        "printed templates need the package manifold3d (install it with: pip install 'jigtemplates[print]')",
    )


def test_slots_of_every_turn_are_closed() -> None:
    """Turned by odd angles and cut by many strokes the plate stays closed in single precision."""
    for degrees in (0.1, 17.3, 45, 88.8):
        turned = tuple(type(r)(r.outer.rotated(degrees, P(60, 40))) for r in slot())
        strokes = tuple(Stroke((P(10 + i / 3, 5), P(12 + i / 7, 25))) for i in range(12))
        solid = replace(PLATE, cuts=(Prism(turned, -1, 7), Beads(strokes, 0.7, 5.4, 7)))
        assert judged(mesh_of(solid)).is_watertight


def test_a_plate_as_large_as_a_job_may_ask_for() -> None:
    """Ten metres are known to half a millimetre's thousandth in single precision: not taken for a fault."""
    solid = Solid(Prism(box(0, 0, 9999.123, 80), 0, 6), (Prism(disc(5000.7, 40, 20.3), -1, 7),), (), 0.001)
    assert judged(mesh_of(solid)).is_watertight


@settings(max_examples=25, deadline=None)
@given(
    size=st.tuples(st.floats(60, 200), st.floats(60, 200), st.floats(2, 20)),
    hole=st.tuples(st.floats(0.2, 0.8), st.floats(0.2, 0.8), st.floats(0.5, 10)),
    turn=st.floats(0, 180),
    chord=st.sampled_from([0.001, 0.01, 0.1, 1.0]),
)
def test_any_plate_is_closed(
    size: tuple[float, float, float], hole: tuple[float, float, float], turn: float, chord: float
) -> None:
    """Law: a plate with a hole is closed (trimesh), and its volume is area x thickness less at most the facets."""
    width, height, thick = size
    x, y, radius = hole[0] * width, hole[1] * height, hole[2]
    ring = Outline.circle(P(x, y), radius).rotated(turn, P(x, y))
    cuts = (Prism((Region(ring),), -1, thick + 1),)
    mesh = judged(mesh_of(Solid(Prism(box(0, 0, width, height), 0, thick), cuts, (), chord)))
    assert mesh.is_watertight
    assert mesh.euler_number == 0
    drawn = (width * height - math.pi * radius**2) * thick
    facets = chord * 2 * math.pi * (radius + chord) * thick
    assert drawn - facets - 1e-6 * drawn <= mesh.volume <= drawn + 1e-6 * drawn


def test_an_outline_of_very_many_points() -> None:
    """A circle of 20,000 corners in the plate: a few thousand triangles, on the safe side of it by 0.01 at most."""
    points = [(60 + 30 * math.cos(a), 40 + 30 * math.sin(a)) for a in (math.tau * i / 20_000 for i in range(20_000))]
    round_hole = (Region(Outline.polygon(points)),)
    mesh = mesh_of(Solid(Prism(box(0, 0, 120, 80), 0, 6), (Prism(round_hole, -1, 7),), (), 0.01))
    assert len(mesh.triangles) < 4000
    taken = 9600 - mesh.volume / 6
    assert 900 * math.pi < taken < 900 * math.pi + 60 * math.pi * 0.01
