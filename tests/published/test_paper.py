"""Papers and inches: sheet sizes, points of the PDF, the inch and its fractions."""

import re
from fractions import Fraction
from typing import Any

import pytest
from published import Published, table
from sources import BOURKE, DECIMALS, ISO_216, NBS_572, PRACTICAL_MM, SUNDIAL, Y14_1

from jigtemplates.calibrate.arithmetic import bar_of, factor_of
from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.lengths import inch_text, mm_text, parse_length
from jigtemplates.processes.paper import lay_out
from jigtemplates.processes.paper_page import PaperSize, PatternNotes
from jigtemplates.profiles import Profiles
from jigtemplates.writers.pdf import write_pdf

#: Upright, mm.
PAPERS = (
    Published("A4", "210 x 297 mm", ISO_216, "a4", (210, 297)),
    Published("A3", "297 x 420 mm", ISO_216, "a3", (297, 420)),
    Published("Letter", "8.5 x 11 in", Y14_1, "letter", (215.9, 279.4)),
    Published("Tabloid", "11 x 17 in", Y14_1, "tabloid", (279.4, 431.8)),
)

#: Upright, points of 1/72 in, to the nearest.
POINTS = (
    Published("A4 in points", "595 x 842", BOURKE, "a4", (595, 842)),
    Published("A3 in points", "842 x 1191", BOURKE, "a3", (842, 1191)),
    Published("Letter in points", "612 x 792", BOURKE, "letter", (612, 792)),
    Published("Tabloid in points", "792 x 1224", BOURKE, "tabloid", (792, 1224)),
)

#: What a copy of a rule measures, and the rule, inches; at how many per cent it would come out right.
COPIES = (Published("16 in rule copied as 15-3/4 in", "copy it at 102 %", SUNDIAL, (15.75, 16.0), 102),)

#: Text and exact millimetres.
INCH = (Published("1 inch", "25.4 mm exactly", NBS_572, "1 in", Fraction(254, 10)),)

#: Text; millimetres to the fourth decimal; decimal inches to the fourth.
FRACTIONS = (
    Published("1/64 in", "0.3969 mm, 0.0156 in", DECIMALS, "1/64 in", ("0.3969 mm", 0.0156)),
    Published("13/64 in", "5.1594 mm, 0.2031 in", DECIMALS, "13/64 in", ("5.1594 mm", 0.2031)),
    Published("5/16 in", "7.9375 mm, 0.3125 in", DECIMALS, "5/16 in", ("7.9375 mm", 0.3125)),
    Published("3/8 in", "9.5250 mm, 0.3750 in", DECIMALS, "3/8 in", ("9.525 mm", 0.3750)),
    Published("27/64 in", "10.7156 mm, 0.4219 in", DECIMALS, "27/64 in", ("10.7156 mm", 0.4219)),
    Published("1/2 in", "12.7000 mm, 0.5000 in", DECIMALS, "1/2 in", ("12.7 mm", 0.5000)),
    Published("33/64 in", "13.0969 mm, 0.5156 in", DECIMALS, "33/64 in", ("13.0969 mm", 0.5156)),
    Published("51/64 in", "20.2406 mm, 0.7969 in", DECIMALS, "51/64 in", ("20.2406 mm", 0.7969)),
)

#: Sizes by name: what a bit or bushing called so is not.
PRACTICAL = (
    Published('3/8 in in "practical millimeters"', "10 mm", PRACTICAL_MM, "3/8 in", 10.0, ("9.525 mm", 9.525)),
    Published('1/2 in in "practical millimeters"', "13 mm", PRACTICAL_MM, "1/2 in", 13.0, ("12.7 mm", 12.7)),
)


@table(PAPERS)
def test_paper(row: Published) -> None:
    """Width and height of the shipped paper."""
    paper = Profiles().find("papers", row.given).entry
    assert (paper.width.mm, paper.height.mm) == row.value


@pytest.mark.parametrize("name", ["a4", "a3", "letter", "tabloid"])
def test_margins(name: str) -> None:
    """At least 10 mm at the sides and 15 at the foot, tiles overlapping by 10 to 15 mm (our rule for output files)."""
    paper = Profiles().find("papers", name).entry
    assert paper.margin.mm >= 10
    assert paper.foot.mm >= 15
    assert 10 <= paper.overlap.mm <= 15


@table(POINTS)
def test_points(row: Published) -> None:
    """Every page of a pattern printed on it is that large."""
    paper = Profiles().find("papers", row.given).entry
    size = PaperSize(row.given, paper.width.mm, paper.height.mm)
    drawing = Drawing((Item(Role.CUT_OUTSIDE, rectangle(100, 120).moved(50, 60)),), 100, 120)
    pens = {Role.CUT_OUTSIDE: Pen("cut_outside", "#000000", 0.25)}
    pdf = write_pdf(lay_out(drawing, pens, PatternNotes("Rail", (), (), "100 x 120 mm"), size))
    boxes = re.findall(rb"/MediaBox \[ ([-0-9. ]+) \]", pdf)
    assert boxes
    for box in boxes:
        left, bottom, right, top = map(float, box.split())
        assert (round(right - left), round(top - bottom)) == row.value


@table(COPIES)
def test_copy(row: Published) -> None:
    """The factor that `calibrate` finds for a printer that prints so, and a bar printed with it."""
    measured, drawn = row.given
    bar = bar_of(measured, drawn)
    assert round(100 * factor_of(bar)) == row.value
    assert factor_of(bar) * bar == pytest.approx(100)


@table(INCH)
def test_inch(row: Published) -> None:
    """Exactly, as a fraction."""
    assert parse_length(row.given).exact == row.value


@table(FRACTIONS)
def test_fraction(row: Published) -> None:
    """Read as text and written in millimetres and inches; back from millimetres it is the same fraction."""
    length = parse_length(row.given)
    assert mm_text(length.mm, 4) == row.value[0]
    assert round(float(length.exact / Fraction("25.4")), 4) == row.value[1]
    assert inch_text(length.mm) == row.given


@table(PRACTICAL)
def test_practical_millimetres(report_with: Any, row: Published) -> None:
    """A bit by its name in inches is its true size, and a job with the other one cuts another width."""
    assert row.right is not None
    assert parse_length(row.given).mm == row.right[1] != row.value
    cuts = []
    for bit in (row.given, row.value):
        tools = {"bit": bit, "bushing": 20, "clearance": 0}
        cut = report_with(cut={"width": bit, "length": 60}, tools=tools).predicted
        cuts.append(round(cut.width, 6))
    assert cuts == [row.right[1], row.value]
