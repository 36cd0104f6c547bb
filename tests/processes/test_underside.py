"""The underside of a rebated plate for the CNC router, and the rebate on paper and in words."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.byhand import with_own_bits
from jigtemplates.drawing import Drawing, Role, Stroke
from jigtemplates.facts import facts
from jigtemplates.geometry.outline import Outline
from jigtemplates.making import write
from jigtemplates.processes.machine import underside_drawing
from jigtemplates.processes.pattern import paper_drawing
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.processes.setup_notes import set_facts
from jigtemplates.processes.setup_plan import key_of
from jigtemplates.profiles import Profiles
from jigtemplates.rebate import rebate_of
from jigtemplates.report import Report
from jigtemplates.terminal import report_lines


@pytest.fixture
def held(report_with: Callable[..., Report], tmp_path: Path) -> Callable[..., Report]:
    """A rebated plate of 9 mm in a holder of 160 x 160 mm with a ledge of 20 mm: 159.6 mm wide, rebate 21 mm."""

    def build(corner_radius: float = 0, plate: dict[str, Any] | None = None, **tables: Any) -> Report:
        keys = "width = 160\nheight = 160\nplay = 0.4\ndepth = 6\nledge = 20\nstand_off = 9\n"
        text = f'units = "mm"\n[holders.frame]\n{keys}corner_radius = {corner_radius}\n'
        (tmp_path / "own.toml").write_text(text, encoding="utf-8")
        given = {"holder": "frame", "width": None, "height": None, "screws": None, "thickness": 9, "rebate": True}
        return report_with(profiles=Profiles([tmp_path]), plate={**given, **(plate or {})}, **tables)

    return build


def underside(report: Report) -> Drawing:
    """The underside of a report's plate."""
    rebate = rebate_of(report.job.plate)
    assert rebate is not None
    return underside_drawing(report.template, rebate)


def outlines(drawing: Drawing, role: Role) -> list[Outline]:
    return [i.shape for i in drawing.items if i.role is role and isinstance(i.shape, Outline)]


def strokes(drawing: Drawing, role: Role) -> list[Stroke]:
    return [i.shape for i in drawing.items if i.role is role and isinstance(i.shape, Stroke)]


def test_the_pocket(held: Callable[..., Report]) -> None:
    """Between a contour 5 mm past the plate's edge and the middle, 117.6 mm wide; the plate's edge is only a mark."""
    drawing = underside(held())
    assert (drawing.width, drawing.height) == pytest.approx((169.6, 169.6))
    outer, inner = outlines(drawing, Role.POCKET)
    assert outer.bounds == pytest.approx((0, 0, 169.6, 169.6))
    assert inner.bounds == pytest.approx((26, 26, 143.6, 143.6))
    assert outer.is_ccw
    assert not inner.is_ccw
    (edge,) = outlines(drawing, Role.MARK)
    assert edge.bounds == pytest.approx((5, 5, 164.6, 164.6))
    assert outlines(drawing, Role.CUT_OUTSIDE) == outlines(drawing, Role.CUT_INSIDE) == []


def test_it_is_mirrored(held: Callable[..., Report]) -> None:
    """Left and right are exchanged, up and down are not: the hole at (12, 20) is at 159.6 - 12 + 5 from the left."""
    screws = {"pattern": "points", "size": "M5", "points": [[12, 20]]}
    (hole,) = outlines(underside(held(plate={"screws": screws})), Role.DRILL)
    circle = hole.as_circle
    assert circle is not None
    assert circle.center == pytest.approx((152.6, 25))
    assert circle.radius == pytest.approx(2.75)


def test_the_datum_corner(held: Callable[..., Report]) -> None:
    """Its mark is at the lower right of the middle, 2 mm within it, where nothing is milled away."""
    (datum,) = strokes(underside(held()), Role.MARK)
    assert datum.points[1] == pytest.approx((141.6, 28))
    assert {round(p.x, 6) for p in datum.points} == {135.6, 141.6}


def test_its_words_keep_off_the_opening(held: Callable[..., Report]) -> None:
    """What is engraved lies within the middle and beside the opening; without room for it nothing is engraved."""
    report = held()
    lettering = [p for stroke in strokes(underside(report), Role.ENGRAVE) for p in stroke.points]
    assert all(26 < p.x < 143.6 and 26 < p.y < 143.6 for p in lettering)
    (opening,) = report.template.opening
    assert all(p.y < opening.bounds.bottom + 5 for p in lettering)
    full = held(cut={"shape": "rectangle", "width": 106, "length": 106, "depth": 10, "corner_radius": 5})
    assert strokes(underside(full), Role.ENGRAVE) == []


def test_a_round_plate(held: Callable[..., Report]) -> None:
    """Pocket and middle go round; no corner is a datum."""
    drawing = underside(held(80))
    outer, inner = outlines(drawing, Role.POCKET)
    assert outer.as_circle is not None
    assert inner.as_circle is not None
    assert (outer.bounds.width, inner.bounds.width) == pytest.approx((169.6, 117.6))
    assert strokes(drawing, Role.MARK) == []


def test_the_rebate_on_paper(held: Callable[..., Report]) -> None:
    """The pattern, seen from above, shows the middle's edge for reference; without a rebate it does not."""

    def widths(report: Report) -> list[float]:
        drawing = paper_drawing(report.template, report.predicted)
        return [round(outline.bounds.width, 6) for outline in outlines(drawing, Role.REFERENCE)]

    assert 117.6 in widths(held())
    assert 117.6 not in widths(held(plate={"rebate": False}))


def test_what_is_said_of_it(held: Callable[..., Report]) -> None:
    """Terminal, pattern and set-up sheet say rebate and turns; of any other plate they say neither."""
    both = held(plate={"turn": 90})
    rebate = ("rebate", "round the underside, 21 mm wide, 3 mm deep")
    turns = ("turns", "4 places, 90° apart; in the first the datum is lower left")
    for said in (facts(both), set_facts(both)):
        assert rebate in said
        assert turns in said
    plain = held(plate={"rebate": False})
    assert not {"rebate", "turns"} & {label for label, _ in (*facts(plain), *set_facts(plain))}
    round_plate = held(80, plate={"turn": 60})
    assert ("turns", "6 places, 60° apart; the first as drawn") in facts(round_plate)


ZERO = (
    "seen from below; (0, 0) lies 5 mm left of and 5 mm below the plate's corner, as far as the pocket overruns; "
    "overall 10 mm more than the plate each way"
)


def test_where_its_zero_lies(held: Callable[..., Report], tmp_path: Path) -> None:
    """Set-up sheet, plan page and list of files say it where there is such a file: not without the CNC router."""
    cnc, laser = held(make={"for": ["cnc"]}), held(make={"for": ["laser"]})
    for report, is_said in ((cnc, True), (laser, False)):
        assert (("its cnc file", ZERO) in set_facts(report)) is is_said
        notes = with_own_bits(report, ()).tables()[-1].notes
        assert (notes[-1] == f"Or on the CNC router, with the underside's own file: {ZERO}.") is is_said
        listed = " ".join(" ".join(report_lines(write(report, tmp_path))).split())
        assert (f"The file of the underside: {ZERO}." in listed) is is_said


def test_rebate_and_turns_on_the_set_up_sheet(held: Callable[..., Report]) -> None:
    """The plan shows the middle's edge dashed and the cut in the three other places dotted, to scale, and says so."""
    report = held(plate={"turn": 90}, cut={"x": 100})
    words = [words for _, words in key_of(report)]
    assert words[-2:] == ["dashed: the rebate round the underside", "dotted: the cut in the plate's other places"]
    sheet = lay_out_setup(report)
    page = sheet.pattern.pages[0]
    plan = page.windows[1]
    scale = sheet.plan_scale
    dashed = [i.shape for i in plan.inks if i.dash == (1.6, 0.9) and isinstance(i.shape, Outline)]
    assert [outline.bounds.width / scale for outline in dashed] == pytest.approx([117.6])
    dotted = [i.shape for i in plan.inks if i.dash == (0.6, 0.6) and isinstance(i.shape, Outline)]
    assert [round(outline.bounds.width / scale, 6) for outline in dotted] == [10, 50, 10]
    assert len(key_of(held(plate={"rebate": False}))) == 3
