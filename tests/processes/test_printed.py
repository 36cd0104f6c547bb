"""A template as a solid: what is cut through, what is sunk, what is raised, and by how much things are wider."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
import trimesh

from jigtemplates.drawing import Pen, Role
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.parameters.job import Job
from jigtemplates.processes.pens import pens_of
from jigtemplates.processes.printed import Pocket, letter_stroke, printed_solid, printed_words, rebate_pockets
from jigtemplates.profiles import Profiles
from jigtemplates.solid import Beads, Cone, Prism, Solid
from jigtemplates.template import Template, make_template
from jigtemplates.writers.mesh_build import mesh_of

JobWith = Callable[..., Job]

PENS = pens_of(Profiles().find("processes", "print").entry)
SUNK = {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}
BARE: dict[str, Any] = {"label": False, "screws": None}


@pytest.fixture
def made(job_with: JobWith) -> Callable[..., tuple[Template, Solid]]:
    """made(print={…}, roles={…}, plate={…}): template and solid of the plan's job; roles are those that have a pen."""

    def build(
        roles: set[Role] | None = None, pockets: tuple[Pocket, ...] = (), **tables: Any
    ) -> tuple[Template, Solid]:
        job = job_with(make={"for": ["print"], "print": tables.pop("print", {})}, **tables)
        template = make_template(job)
        assert job.make.printing is not None
        pens = {role: pen for role, pen in PENS.items() if roles is None or role in roles}
        return template, printed_solid(template, job.make.printing, pens, pockets=pockets)

    return build


Made = Callable[..., tuple[Template, Solid]]


def of(kind: type[Any], solid: Solid) -> list[Any]:
    """The cuts of one kind."""
    return [cut for cut in solid.cuts if isinstance(cut, kind)]


def test_the_plate_lies_on_the_bed(made: Made) -> None:
    """From 0 to its thickness, its corner at (0, 0); facets by the tolerance of the job."""
    template, solid = made(print={"chord": 0.02}, plate={"thickness": 8})
    assert (solid.body.bottom, solid.body.top, solid.chord) == (0, 8, 0.02)
    assert solid.body.area == (template.plate,)


def test_what_goes_through(made: Made) -> None:
    """The opening as drawn, 13.175 x 53.175; four holes of 5.5 made 5.7; all from below to above the plate."""
    _, solid = made()
    opening, *holes = of(Prism, solid)
    box = opening.area[0].bounds
    assert (box.width, box.height) == pytest.approx((53.175, 13.175))
    assert [hole.area[0].bounds.width for hole in holes] == pytest.approx([5.7] * 4)
    assert {(prism.bottom, prism.top) for prism in (opening, *holes)} == {(-1, 7)}


def test_without_an_opening(made: Made) -> None:
    """A pattern, or a plate whose bit does not fit, has holes only; its mesh is closed."""
    _, solid = made(tools={"bit": 12}, roles={Role.DRILL})
    assert len(of(Prism, solid)) == 4
    assert mesh_of(solid).volume == pytest.approx((140 * 140 - 4 * math.pi * 5.7**2 / 4) * 6, rel=2e-5)


def test_a_pattern_for_outside_work(made: Made) -> None:
    """Work of 140 x 100 cut round with 8 and 17 needs a pattern 9 smaller: 131 x 91, as drawn whatever is allowed."""
    work = {"shape": "rectangle", "side": "outside", "width": 100, "length": 140, "corner_radius": 20, "depth": 18}
    _, solid = made(
        cut=work,
        tools={"bit": 8, "bushing": 17},
        plate={"width": None, "height": None, "screws": None, "label": False},
        print={"opening_allowance": 0.2},
    )
    low, high = mesh_of(solid).box
    assert (high - low).tolist() == pytest.approx([131, 91, 6], abs=0.01)
    assert of(Prism, solid) == []


def test_allowances(made: Made) -> None:
    """Each widens its own: holes 5.5 + 0.3, the opening 13.175 + 0.15."""
    _, solid = made(print={"allowance": 0.3, "opening_allowance": 0.15})
    opening, *holes = of(Prism, solid)
    assert opening.area[0].bounds.height == pytest.approx(13.325)
    assert opening.area[0].bounds.width == pytest.approx(53.325)
    assert holes[0].area[0].bounds.width == pytest.approx(5.8)
    (circle,) = holes[0].area[0].outer.segments
    assert circle.center == pytest.approx((10, 10))


def test_countersinks(made: Made) -> None:
    """A head of 11.2 at 90 degrees is 11.4 wide on the face, and a millimetre higher a millimetre more a side."""
    _, solid = made(plate={"screws": SUNK})
    cones = of(Cone, solid)
    assert [tuple(cone.center) for cone in cones] == [(12, 12), (128, 12), (128, 128), (12, 128)]
    rim = PLAIN_HEAD / 2
    assert cones[0].radii[1] == pytest.approx(rim + 1)
    assert cones[0].top == 7
    # narrower than the hole (5.7) where it ends, so that its tip cuts nothing
    assert cones[0].radii[0] == pytest.approx(5.7 / 4)
    assert cones[0].bottom == pytest.approx(6 - (rim - 5.7 / 4))


#: An M5 countersunk head's sharp edge in the shipped profile (ISO 7721), with the allowance of 0.2.
PLAIN_HEAD = 11.2 + 0.2


def test_a_sharper_countersink(made: Made) -> None:
    """An 82 degree head grows by tan 41 degrees a millimetre."""
    _, solid = made(plate={"screws": {**SUNK, "size": "#8"}})
    cone = of(Cone, solid)[0]
    slope = (cone.radii[1] - cone.radii[0]) / (cone.top - cone.bottom)
    assert slope == pytest.approx(math.tan(math.radians(41)))


def test_a_printed_countersink_is_as_wide_as_its_head(made: Made) -> None:
    """Measured on the mesh by trimesh: the widest circle on the upper face is the head's, 11.4, within the facets."""
    _, solid = made(plate={"screws": SUNK, "label": False})
    mesh = mesh_of(replace(solid, cuts=tuple(cut for cut in solid.cuts if not isinstance(cut, Beads))))
    judged = trimesh.Trimesh(mesh.vertices.astype(float), mesh.triangles, process=False)
    top = judged.vertices[abs(judged.vertices[:, 2] - 6) < 1e-6]
    near = top[(abs(top[:, 0] - 12) < 8) & (abs(top[:, 1] - 12) < 8)]
    assert near[:, 0].max() - near[:, 0].min() == pytest.approx(11.4, abs=0.03)
    assert judged.is_watertight


def test_letters_and_marks_are_sunk(made: Made) -> None:
    """0.6 deep from the upper face, letters 0.8 wide and marks 0.6; nothing is raised."""
    template, solid = made()
    letters, marks = of(Beads, solid)
    assert template.label.label is not None
    assert (letters.strokes, letters.width) == (template.label.label.strokes, 0.8)
    assert (marks.strokes, marks.width) == (template.marks, 0.6)
    assert (letters.bottom, letters.top) == (marks.bottom, marks.top) == (5.4, 7)
    assert solid.added == ()


def test_raised_letters(made: Made) -> None:
    """They are rooted in the plate and stand as high as was asked; marks stay sunk."""
    template, solid = made(print={"label": "raised", "label_depth": 0.8})
    (marks,) = of(Beads, solid)
    (letters,) = solid.added
    assert marks.strokes == template.marks
    assert template.label.label is not None
    assert letters.strokes == template.label.label.strokes
    assert (letters.bottom, letters.top) == (5.5, 6.8)


def test_without_a_label(made: Made) -> None:
    """label = "none" makes the marks alone; a plate without a label too."""
    for tables in ({"print": {"label": "none"}}, {"plate": {"label": False}}):
        template, solid = made(**tables)
        assert [beads.strokes for beads in of(Beads, solid)] == [template.marks]


@pytest.mark.parametrize(
    ("left_out", "kinds"),
    [
        (Role.DRILL, [Prism, Cone, Cone, Cone, Cone, Beads, Beads]),
        (Role.POCKET, [Prism] * 5 + [Beads, Beads]),
        (Role.ENGRAVE, [Prism, *[Prism, Cone] * 4, Beads]),
        (Role.MARK, [Prism, *[Prism, Cone] * 4, Beads]),
    ],
)
def test_a_role_without_a_pen_is_not_made(made: Made, left_out: Role, kinds: list[type[Any]]) -> None:
    """Holes, countersinks, letters or marks that the profile leaves out are not in the solid."""
    _, solid = made(roles=set(Role) - {left_out}, plate={"screws": SUNK})
    assert [type(cut) for cut in solid.cuts] == kinds


def test_small_letters_have_thin_strokes() -> None:
    """0.8 from capitals of 4.8 on; below, a sixth of their height."""
    assert letter_stroke(5.0, PENS) == 0.8
    assert letter_stroke(3.0, PENS) == pytest.approx(0.5)
    assert letter_stroke(5.0, {Role.ENGRAVE: Pen("a", "#000000", 0.3)}) == 0.3


def test_pockets(made: Made) -> None:
    """From the underside up, or from the upper face down, beyond the face on the open side."""
    area = (Region(Outline.circle(Point(30, 110), 5)),)
    _, solid = made(plate=BARE, pockets=(Pocket(area, 2.0), Pocket(area, 1.5, "upper")))
    _, under, upper, _ = solid.cuts
    assert under == Prism(area, -1, 2)
    assert upper == Prism(area, 4.5, 7)


def test_no_rebate(made: Made) -> None:
    """A plate without a rebate has no pocket."""
    assert list(rebate_pockets(made()[0])) == []


def test_a_rebate(made: Made) -> None:
    """A plate of 9 in a recess 6 deep keeps 6 at its edge: the mesh has a step of 3 all round its underside."""
    holder = {"holder": "quay-frame-160", "width": None, "height": None, "thickness": 9, "screws": None}
    template, solid = made(plate={**holder, "rebate": True, "label": False})
    (pocket,) = rebate_pockets(template)
    assert (pocket.depth, pocket.face) == (3, "under")
    mesh = mesh_of(solid)
    judged = trimesh.Trimesh(mesh.vertices.astype(float), mesh.triangles, process=False)
    assert judged.is_watertight
    bottom = judged.vertices[judged.vertices[:, 2] < 1e-6]
    shelf = judged.vertices[abs(judged.vertices[:, 2] - 3) < 1e-6]
    # the plate is 159.7 wide and its rebate 23.5, which the tests of the rebate account for
    assert bottom[:, 0].max() - bottom[:, 0].min() == pytest.approx(159.7 - 47, abs=1e-3)
    assert shelf[:, 0].max() - shelf[:, 0].min() == pytest.approx(159.7, abs=1e-3)


def test_the_solid_of_the_plans_job(made: Made) -> None:
    """140 x 140 x 6 less the opening and four holes: the drawn volume, less at most the facets; genus 5 (trimesh)."""
    _, solid = made(plate={"label": False}, roles={Role.DRILL})
    mesh = mesh_of(solid)
    judged = trimesh.Trimesh(mesh.vertices.astype(float), mesh.triangles, process=False)
    opening = 40 * 13.175 + math.pi * 13.175**2 / 4
    drawn = (140 * 140 - opening - 4 * math.pi * 5.7**2 / 4) * 6
    assert drawn * (1 - 2e-5) < judged.volume < drawn
    assert judged.euler_number == 2 - 2 * 5


def test_mirrored(job_with: JobWith) -> None:
    """What is mirrored on purpose is so in the solid: a hole 20 from the left edge is 20 from the right one."""
    screws = {"pattern": "points", "size": "M5", "points": [[20, 30]]}
    for mirrored, x in ((False, 20), (True, 120)):
        job = job_with(make={"for": ["print"], "mirrored": mirrored}, plate={"screws": screws})
        assert job.make.printing is not None
        hole = of(Prism, printed_solid(make_template(job), job.make.printing, PENS))[1]
        assert hole.area[0].bounds.center == pytest.approx((x, 30))


def test_what_the_file_says(made: Made) -> None:
    """Allowances and tolerance, in ASCII."""
    template, _ = made(print={"allowance": 0.25})
    assert template.job.make.printing is not None
    words = printed_words(template.job.make.printing)
    assert words == "holes +0.25 mm, openings +0 mm, facets within 0.01 mm"
