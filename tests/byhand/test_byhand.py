"""A plate made by hand: drilling, the tables, and openings that own bits and drills make directly."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.byhand import ByHand, Table, by_hand, with_own_bits
from jigtemplates.byhand.drill import INCH, METRIC, opening_ends, widest_within
from jigtemplates.geometry.outline import BulgeVertex, Outline, Region
from jigtemplates.geometry.shapes import slot as rounded_slot
from jigtemplates.lengths import Length, parse_length
from jigtemplates.parameters.entries import Bit
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

Reports = Callable[..., Report]

#: A bushing 4 mm wider than its bit: an opening of 14 x 54 mm for the cut of 10 x 50.
TOOLS = {"bit": 8, "bushing": 12}
PLATE = {"width": 140, "height": 100, "screws": None}


def bit(diameter: float, **known: Any) -> Bit:
    return Bit.model_validate({"diameter": diameter, **known}, context={"unit": "mm"})


def mm(*sizes: float) -> tuple[Length, ...]:
    return tuple(parse_length(size, unit="mm") for size in sizes)


def slot(report_with: Reports, *bits: Bit, drills: tuple[Length, ...] = (), **tables: Any) -> ByHand:
    """The slot 14 x 54 in the middle of a plate of 140 x 100, unless told otherwise."""
    return by_hand(report_with(**{"tools": TOOLS, "plate": PLATE, **tables}), bits, drills)


# Drilling ------------------------------------------------------------------------------------------------------------


def test_screw_holes_come_first_then_the_ends_of_the_opening(report_with: Reports) -> None:
    """Four screws in their order, then the ends: 70 - 27 + 7 = 50 and 70 + 27 - 7 = 90, each 14 mm."""
    screws = {"pattern": "corners", "size": "M5", "inset": 10, "hole": "countersunk"}
    made = slot(report_with, plate={**PLATE, "screws": screws})
    found = [(h.number, round(h.x, 6), round(h.y, 6), h.what, round(h.diameter, 6)) for h in made.drilling]
    assert found == [
        (1, 10, 10, "screw hole", 5.5),
        (2, 130, 10, "screw hole", 5.5),
        (3, 130, 90, "screw hole", 5.5),
        (4, 10, 90, "screw hole", 5.5),
        (5, 50, 50, "end of the opening", 14.0),
        (6, 90, 50, "end of the opening", 14.0),
    ]
    assert made.drilling[0].countersink == 11.2  # M5, 90 degrees: ISO 10642 (quoted; see references)
    assert made.drilling[4].drill == mm(14)[0]


def test_corners_of_an_opening_are_drilled_row_by_row(report_with: Reports) -> None:
    """A cut 20 x 50 with corners of 5: an opening 24 x 54 with corners of 7, whose middles are 17 and 5 off its own."""
    cut = {"shape": "rectangle", "width": 20, "length": 50, "corner_radius": 5, "depth": 10}
    made = slot(report_with, cut=cut)
    assert [(round(h.x, 6), round(h.y, 6), h.what) for h in made.drilling] == [
        (50, 45, "corner of the opening"),
        (90, 45, "corner of the opening"),
        (50, 55, "corner of the opening"),
        (90, 55, "corner of the opening"),
    ]


def test_only_arcs_with_room_for_their_whole_circle_are_drilled() -> None:
    """A lens of two arcs of 25 mm, 30 mm long and 10 wide: no hole of 50 mm fits it; a slot's end of 5 mm does."""
    lens = Outline.from_bulges([BulgeVertex(-15, 0, 1 / 3), BulgeVertex(15, 0, 1 / 3)])
    assert list(opening_ends((Region(lens),))) == []
    found = list(opening_ends((Region(rounded_slot(30, 10)),)))
    assert [(round(p.x, 6), round(r, 6), what) for p, r, what in found] == [
        (-10, 5, "end of the opening"),
        (10, 5, "end of the opening"),
    ]


def test_a_round_opening_is_one_hole(report_with: Reports) -> None:
    """40 mm and 4 more, wider than any drill of the series."""
    made = slot(report_with, cut={"shape": "round", "diameter": 40, "depth": 10})
    (hole,) = made.drilling
    assert (round(hole.x, 6), round(hole.y, 6), hole.what, round(hole.diameter, 6)) == (70, 50, "opening", 44.0)
    assert made.tables()[0].rows == (("1", "70 mm", "50 mm", "30 mm to start, saw to 44 mm", "-", "opening"),)


def test_a_turned_slot_has_turned_ends(report_with: Reports) -> None:
    """At 90 degrees the ends are 20 mm below and above the middle, the lower first."""
    made = slot(report_with, cut={"angle": 90})
    assert [(round(h.x, 6), round(h.y, 6)) for h in made.drilling] == [(70, 30), (70, 70)]


def test_holes_that_lie_together_are_one() -> None:
    """Round ends drawn as two arcs, their centres 0.02 mm apart: one hole, the narrower; 0.6 mm apart two."""
    for apart, count in ((0.02, 2), (0.6, 3)):
        # a stadium from x = 0 to 40, its right end two quarters about (40, 0) and (40, apart)
        quarter = math.tan(math.pi / 8)
        corners = [(0.0, -10.0, 0.0), (40.0, -10.0, quarter), (50.0, 0.0, 0.0), (50.0, apart, quarter)]
        corners += [(40.0, 10.0 + apart, 0.0), (0.0, 10.0 + apart, math.tan(math.pi / 4))]
        outline = Outline.from_bulges([BulgeVertex(*corner) for corner in corners])
        found = list(opening_ends((Region(outline),)))
        assert len(found) == count
        assert found[0][1] == pytest.approx(10.0)


SEAT = """
title = "Seat"
units = "mm"
[cut]
shape = "round"
diameter = 120
depth = 20
side = "outside"
[tools]
bit = "8 mm"
bushing = { diameter = "20 mm", bore = "16 mm", stem = "5 mm" }
[plate]
thickness = 6
"""
CORNER = "x and y from the datum corner, the plate's lower-left one seen from above."
LINE = "Saw the pattern close to its line, then plane, sand or file it to the line."


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            "",
            {
                "The pattern": (
                    f"Nothing is drilled. {LINE}",
                    "It is round: draw its line with a trammel set to a radius of 54 mm.",
                )
            },
        ),
        (
            'screws = { pattern = "points", points = [[30, 54], [78, 54]], size = "M5" }',
            {
                "Drilling, in this order": (
                    "x and y from the datum corner, the lower-left one of the square round the plate, seen from above.",
                ),
                "The pattern": (
                    LINE,
                    "It is round, its middle at (54 mm, 54 mm) from the datum corner: draw its line with a trammel set "
                    "to a radius of 54 mm.",
                ),
            },
        ),
    ],
)
def test_a_round_pattern_has_a_middle_and_a_radius(more: str, said: dict[str, tuple[str, ...]]) -> None:
    """120 mm less 20 - 8: radius 54 for a trammel; a table of holes only where there are any."""
    report = report_on(job_from_text(SEAT + more, name="seat", profiles=Profiles()))
    assert {table.title: table.notes for table in by_hand(report, ()).tables()} == said


def test_a_pattern_of_another_shape_has_no_radius() -> None:
    """A square one is sawn to its line, that is all."""
    source = SEAT.replace('"round"\ndiameter = 120', '"rectangle"\nwidth = 90\nlength = 120')
    report = report_on(job_from_text(source, name="seat", profiles=Profiles()))
    assert [table.notes for table in by_hand(report, ()).tables()] == [(f"Nothing is drilled. {LINE}",)]


@pytest.mark.parametrize(
    ("diameter", "drills", "drill"),
    [
        (13.175, METRIC, "13 mm"),
        (13.175, INCH, "33/64 in"),  # 13.097; 17/32 in is 13.494
        (12.7, INCH, "1/2 in"),
        (14.0, METRIC, "14 mm"),
        (13.995, METRIC, "14 mm"),  # no drill is truer than that
        (13.98, METRIC, "13.5 mm"),
        (44.0, METRIC, "30 mm"),
        (0.5, METRIC, None),
        (10.0, mm(4, 9.8, 10.2), "9.8 mm"),
    ],
)
def test_the_nearest_drill_stays_inside(diameter: float, drills: tuple[Length, ...], drill: str | None) -> None:
    """A wider drill would spoil the opening's edge."""
    found = widest_within(diameter, drills)
    assert (found.text if found else None) == drill


def test_the_series_are_what_they_say() -> None:
    """0.5 mm steps from 1 to 30 mm; 1/64 in steps from 3/64 to 1 in."""
    assert (len(METRIC), METRIC[0].text, METRIC[1].text, METRIC[-1].text) == (59, "1 mm", "1.5 mm", "30 mm")
    assert (len(INCH), INCH[0].text, INCH[1].text, INCH[-1].text) == (62, "3/64 in", "1/16 in", "1 in")
    assert INCH[-1].mm == 25.4


def test_the_drilling_table_says_which_drills_it_chose_from(report_with: Reports) -> None:
    """The series, one's own drills, or nothing where the opening needs none; what no drill can do is said."""
    assert "drills in steps of 0.5 mm to 30 mm that" in slot(report_with).tables()[0].notes[1]
    own = slot(report_with, drills=mm(13.5)).tables()[0]
    assert "your own drills that stays inside" in own.notes[1]
    assert own.rows[0] == ("1", "50 mm", "50 mm", "13.5 mm, then pare to 14 mm", "-", "end of the opening")
    none = slot(report_with, drills=mm(20)).tables()[0]
    assert none.rows[0][3] == "none for 14 mm: saw and file"
    assert len(none.notes) == 1


def test_a_job_in_inches_is_told_in_inches() -> None:
    """Places and drills in inches; steps of 1/64 in."""
    from jigtemplates.parameters.load import job_from_text
    from jigtemplates.profiles import Profiles
    from jigtemplates.report import report_on

    text = """\
title = "inch"
units = "in"
cut = { shape = "slot", width = "1/2", length = 2, depth = 1 }
tools = { bit = "3/8", bushing = "1/2" }
plate = { width = 6, height = 4, thickness = "1/4" }
"""
    made = by_hand(report_on(job_from_text(text, name="inch", profiles=Profiles())), [])
    table = made.tables()[0]
    # the opening is 5/8 x 2-1/8 in: its ends are 3/4 in either side of the middle at 3 in
    assert table.rows == (
        ("1", "2-1/4 in", "2 in", "5/8 in", "-", "end of the opening"),
        ("2", "3-3/4 in", "2 in", "5/8 in", "-", "end of the opening"),
    )
    assert "1/64 in to 1 in" in table.notes[1]


ROUND = {"shape": "round", "diameter": 40, "depth": 10}  # an opening of 44 mm


# Easy openings -------------------------------------------------------------------------------------------------------


def test_easy_openings_are_as_wide_as_a_bit_or_drill(report_with: Reports) -> None:
    """Cut = 8 + opening - 12: 13 mm gives 9, 13.5 gives 9.5, 14.5 gives 10.5; 11.9 does not let the bushing in."""
    made = slot(report_with, bit(13), bit(14.5), bit(11.9), drills=mm(13.5, 12))
    found = [(e.tool, e.kind, e.width, e.length, e.cut, e.difference, e.clearance) for e in made.easy]
    assert found == [
        ("14.5 mm", "bit", 14.5, 54.0, 10.5, 0.5, 2.5),
        ("13.5 mm", "drill", 13.5, 54.0, 9.5, -0.5, 1.5),
        ("13 mm", "bit", 13.0, 54.0, 9.0, -1.0, 1.0),
        ("12 mm", "drill", 12.0, 54.0, 8.0, -2.0, 0.0),
    ]
    assert [e.binds for e in made.easy] == [False, False, False, True]
    table = made.tables()[2]
    assert table.rows[0] == ("14.5 mm", "14.5 mm", "54 mm", "10.5 mm", "0.5 mm wider", "2.5 mm room")
    assert table.rows[3] == ("drill 12 mm", "12 mm", "54 mm", "8 mm", "2 mm narrower", "binds: pare a little")
    assert table.notes[1].startswith("A drill makes the ends of a slot")


def test_the_cut_of_an_easy_opening_is_what_routing_it_makes(report_with: Reports) -> None:
    """A job with the easy opening's cut has that very opening, and makes that cut."""
    (easy,) = slot(report_with, bit(13)).easy
    report = report_with(tools=TOOLS, plate=PLATE, cut={"width": easy.cut})
    assert report.template.opening_size is not None
    assert report.predicted is not None
    assert (report.template.opening_size.width, report.template.opening_size.length) == pytest.approx((13.0, 54.0))
    assert report.predicted.width == pytest.approx(9.0)


def test_an_opening_that_is_easy_already_is_as_wanted(report_with: Reports) -> None:
    """A 14 mm bit makes the opening of the job itself."""
    made = slot(report_with, bit(14))
    assert made.tables()[2].rows == (("14 mm", "14 mm", "54 mm", "10 mm", "as wanted", "2 mm room"),)
    assert len(made.tables()[2].notes) == 1


def test_a_round_is_drilled_outright(report_with: Reports) -> None:
    """A drill of 43 mm gives a round of 39; its length is its diameter."""
    (easy,) = slot(report_with, drills=mm(43), cut=ROUND).easy
    assert (easy.width, easy.length, easy.cut, easy.difference) == (43.0, 43.0, 39.0, -1.0)


def test_only_the_six_nearest_are_offered(report_with: Reports) -> None:
    """Enough to choose from."""
    made = slot(report_with, *[bit(12 + n / 2) for n in range(12)])
    assert [e.width for e in made.easy] == [14.0, 14.5, 13.5, 15.0, 13.0, 15.5]


def test_where_no_opening_is_easy_the_table_says_why(report_with: Reports) -> None:
    """A rectangle has corners; a narrow bit does not let the bushing in."""
    cut = {"shape": "rectangle", "width": 20, "length": 50, "corner_radius": 5, "depth": 10}
    made = slot(report_with, bit(24), cut=cut)
    assert made.easy == ()
    assert made.tables()[2].notes == (
        "Only a slot or a round is as wide as a bit or drill: for this shape there is none to choose.",
    )
    none = ("None of the bits and drills is as wide as the bushing and near the opening's width.",)
    assert slot(report_with, bit(6)).tables()[2].notes == none
    # a cut of 10 is wanted; 19 mm would make 15, 19.5 would make 15.5
    assert slot(report_with, bit(19.5)).tables()[2].notes == none
    assert len(slot(report_with, bit(19)).easy) == 1


# Together ------------------------------------------------------------------------------------------------------------


def test_three_tables_with_rows_as_wide_as_their_headers(report_with: Reports) -> None:
    """Drilling, router table, easy openings."""
    tables = slot(report_with, bit(10), bit(14), drills=mm(13)).tables()
    assert [table.title for table in tables] == [
        "Drilling, in this order",
        "The opening at a router table, with a fence",
        "Easier openings, which a bit or drill makes directly",
    ]
    assert all(len(row) == len(table.header) for table in tables for row in table.rows)
    assert tables[1].rows


def test_a_template_without_an_opening_has_only_its_screw_holes(report_with: Reports) -> None:
    """A bit wider than the cut: nothing else can be said."""
    made = by_hand(report_with(tools={"bit": 11, "bushing": 14}), [bit(14)], mm(14))
    assert [table.title for table in made.tables()] == ["Drilling, in this order"]
    assert [hole.what for hole in made.drilling] == ["screw hole"] * 4
    assert (made.fence, made.pivots, made.easy) == ((), (), ())


def test_a_table_as_lines() -> None:
    """Columns as wide as their widest text, notes under them; without rows no header."""
    table = Table("Title", ("a", "bb"), (("ccc", "d"), ("e", "ffff")), ("A note.",))
    assert list(table.lines()) == ["Title", "  a    bb", "  ccc  d", "  e    ffff", "  A note."]
    assert list(Table("Title", ("a", "bb"), (), ("Why.",)).lines()) == ["Title", "  Why."]


def test_lines_are_the_tables_one_after_the_other(report_with: Reports) -> None:
    """For a terminal."""
    lines = list(slot(report_with, bit(14)).lines())
    assert lines[:2] == ["Drilling, in this order", "  no.  x      y      drill  countersink  what"]
    assert "The opening at a router table, with a fence" in lines


def test_the_jobs_bit_is_looked_at_with_the_persons_own(report_with: Reports) -> None:
    """The bit of the job comes first; with none of one's own it stands alone, and the page says how to add some."""
    tools = {"bit": {"name": "mine", "diameter": 8, "cutting_length": 5}, "bushing": 12}
    report = report_with(tools=tools, plate=PLATE)
    made = with_own_bits(report, [bit(8, name="other"), bit(14, name="wide")])
    assert [(cut.bit, cut.too_short) for cut in made.fence] == [("wide", None), ("mine", 5.0), ("mine", 5.0)]
    assert not any("of your own" in note for table in made.tables() for note in table.notes)
    alone = with_own_bits(report, [])
    assert {cut.bit for cut in alone.fence} == {"mine"}
    assert alone.tables()[2].notes[-1] == (
        "No bits of your own are written down, so only the job's is looked at. To add one: "
        'jigtemplates tools add bits "my 1/2" diameter="1/2 in"'
    )
