"""The plan page: what it says, that nothing stands on anything else, and that its bars are true."""

from collections.abc import Callable, Sequence
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pypdfium2  # type: ignore[import-untyped]
import pytest
import shapely
from boxes import apart, text_box
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.byhand import Table, with_own_bits
from jigtemplates.drawing import Stroke
from jigtemplates.parameters.entries import Bit
from jigtemplates.parameters.load import job_from_text, load_job
from jigtemplates.processes.paper import PaperSize, Pattern, PatternNotes, lay_out
from jigtemplates.processes.paper_page import Page, box_of
from jigtemplates.processes.paper_plan_picture import scale_for
from jigtemplates.processes.paper_table import laid_out, narrowed
from jigtemplates.processes.pattern import paper_drawing
from jigtemplates.processes.pens import pens_of
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.writers.pdf import check_pdf, write_pdf

Reports = Callable[..., Report]
SAMPLES = Path(__file__).parents[2] / "samples"

A4, LETTER = PaperSize("a4", 210.0, 297.0), PaperSize("letter", 215.9, 279.4)
PENS = pens_of(Profiles().find("processes", "paper").entry)
NOTES = PatternNotes("Bench rail", (("bit", "8 mm"),), ("Test cut first.",), "140 x 100 mm")
#: A bushing 4 mm wider than its bit: an opening of 14 x 54 mm for the cut of 10 x 50.
TOOLS = {"bit": 8, "bushing": 12}
SCREWS = {"pattern": "corners", "size": "M5", "inset": 10, "hole": "countersunk"}
PLATE = {"width": 140, "height": 100, "screws": SCREWS}
POINT = 72 / 25.4
DPI = 600
PIXEL = DPI / 25.4


def bit(diameter: float, name: str | None = None) -> Bit:
    return Bit.model_validate({"diameter": diameter, "name": name}, context={"unit": "mm"})


BITS = (bit(14, "wide"), bit(10, "ten"), bit(13.5, "old"))


def grid(count: int) -> dict[str, Any]:
    """A large plate with that many screws, 22 mm apart, in rows of 12."""
    points = [[14 + 22 * (i % 12), 14 + 22 * (i // 12)] for i in range(count)]
    return {"width": 270, "height": 180, "screws": {"pattern": "points", "size": "M5", "points": points}}


def laid(
    report_with: Reports,
    bits: Sequence[Bit] = BITS,
    paper: PaperSize = A4,
    how: dict[str, Any] | None = None,
    **job: Any,
) -> Pattern:
    """The pattern of the slot with its plan pages."""
    report = report_with(**{"tools": TOOLS, "plate": PLATE, **job})
    drawing = paper_drawing(report.template, report.predicted)
    return lay_out(drawing, PENS, NOTES, paper, by_hand=with_own_bits(report, bits), **(how or {}))


def plans(pattern: Pattern) -> list[Page]:
    return [page for page in pattern.pages if page.name == "plan"]


def printed(pattern: Pattern) -> list[str]:
    """The text of each page as another program reads it from the file."""
    data = write_pdf(pattern)
    check_pdf(data, pattern)
    pdf = pypdfium2.PdfDocument(data)
    texts = [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]
    pdf.close()
    return texts


# What it says --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_last_page_says_what_is_made_where(report_with: Reports, paper: PaperSize) -> None:
    """Drilling, fence and stops, and easy openings with their figures, read from the file by PDFium.

    Opening 14 x 54 about (70, 50): ends at x 50 and 90. A 10 mm bit: near sides at 43, stops at 90 - 5; 13.5 in
    14 at 90 - 6.75. A bit of 13.5 makes a cut of 8 + 13.5 - 12.
    """
    pattern = laid(report_with, paper=paper)
    first, *rest = printed(pattern)
    last = " ".join(rest)
    assert f"page 1 of {len(pattern.pages)}" in first
    assert f"page {len(pattern.pages)} of {len(pattern.pages)}" in rest[-1]
    for words in (
        "Bench rail The finished plate: 140 x 100 mm",
        "This page is not the pattern: its plan is drawn small.",
        "Plan, 1 : 2 seen from above",
        "Drilling, in this order",
        "no. x y drill countersink what",
        "3 130 mm 90 mm 5.5 mm to 11.2 mm screw hole",
        "5 50 mm 50 mm 14 mm - end of the opening",
        "6 90 mm 50 mm 14 mm - end of the opening",
        "wide lower 43 mm 83 mm 83 mm right to left one setting",
        "old lower 43 mm 83.25 mm 83.25 mm right to left or same edge, fence 0.5 mm further",
        "ten upper 43 mm 85 mm 85 mm left to right the plate turned by 180°",
        "wide 14 mm 54 mm 10 mm as wanted 2 mm room",
        "old 13.5 mm 54 mm 9.5 mm 0.5 mm narrower 1.5 mm room",
        "if this is not 100.0 mm, do not use this page",
        "Unplug the router to set bit, fence and stops.",
        "Ask someone trained to show you.",
        "datum",
    ):
        assert words in last
    assert "Drilling" not in first


def test_without_it_the_pattern_is_as_it_was(report_with: Reports) -> None:
    """The first page with a plan differs from that without only in the number of pages."""
    report = report_with(tools=TOOLS, plate=PLATE)
    alone = lay_out(paper_drawing(report.template, report.predicted), PENS, NOTES, A4)
    (page,), (first, _) = alone.pages, laid(report_with).pages
    assert page.windows == first.windows
    assert page.inks == first.inks
    changed = {(a.string, b.string) for a, b in zip(page.texts, first.texts, strict=True) if a != b}
    assert changed == {("page 1 of 1", "page 1 of 2")}


def test_a_tiled_pattern_ends_with_it(report_with: Reports) -> None:
    """A plate of 380 x 250: a cover, tiles, and the plan on a sheet turned as they are."""
    pattern = laid(report_with, plate={"width": 380, "height": 250, "screws": SCREWS})
    names = [page.name for page in pattern.pages]
    assert (names[0], names[-1], names.count("plan")) == ("cover", "plan", 1)
    texts = printed(pattern)
    assert f"page {len(names)} of {len(names)}" in texts[-1]
    assert f"page 1 of {len(names)}" in texts[0]
    assert pattern.width > pattern.height
    assert "Plan, 1 : 8 " in texts[-1]


def test_a_turned_slot_says_why_there_is_no_fence(report_with: Reports) -> None:
    """No sketch of a fence, no cautions for a router table, but the reason."""
    text = printed(laid(report_with, cut={"angle": 30}))[-1]
    assert "its sides run along no edge: not possible with a fence" in text
    assert "Fence and stops" not in text
    assert "Unplug the router" not in text
    assert "Clamp the plate on a scrap board" in text


def test_a_round_opening_turns_on_a_pin(report_with: Reports) -> None:
    """The pin's table and the cautions of a router table, without a fence's sketch."""
    text = printed(laid(report_with, cut={"shape": "round", "diameter": 40, "depth": 10}))[-1]
    assert "ten 17 mm 12 mm turn the plate about the pin" in text
    assert "Fence and stops" not in text
    assert "push blocks" in text


def test_a_mirrored_or_corrected_plan_says_so(report_with: Reports) -> None:
    """As on every page of the pattern; the mirrored plate's first screw is on the right."""
    pattern = laid(
        report_with, how={"correction": (1.005, 0.995), "mirrored": True}, make={"for": ["paper"], "mirrored": True}
    )
    text = " ".join(printed(pattern)[1:])
    assert "MIRRORED · Bench rail" in text
    assert "This page is corrected for one printer: across × 1.005, up × 0.995" in text
    assert "1 130 mm 10 mm 5.5 mm" in text


@pytest.mark.parametrize("holes", [False, True])
def test_a_round_pattern_shows_its_middle(holes: bool) -> None:
    """Its radius stands at its middle; the datum corner, which is in the air, only where holes are measured from it."""
    screws = 'screws = { pattern = "points", points = [[30, 54], [60, 50]], size = "M5" }' if holes else ""
    source = f"""
title = "Seat"
units = "mm"
[cut]
shape = "round"
diameter = 120
depth = 20
side = "outside"
[tools]
bit = "8 mm"
bushing = {{ diameter = "20 mm", bore = "16 mm", stem = "5 mm" }}
[plate]
thickness = 6
{screws}
"""
    report = report_on(job_from_text(source, name="seat", profiles=Profiles()))
    drawing = paper_drawing(report.template, report.predicted)
    pattern = lay_out(drawing, PENS, NOTES, A4, by_hand=with_own_bits(report, ()))
    (plan,) = plans(pattern)
    said = [text.string for text in plan.texts]
    assert "r 54 mm" in said
    assert ("datum" in said) == holes
    assert any(words.startswith("Mark centres") for words in said) == holes


def test_without_bits_of_ones_own_it_says_how_to_add_them(report_with: Reports) -> None:
    """The job's bit alone is looked at."""
    text = printed(laid(report_with, bits=()))[-1]
    assert "8 mm lower 43 mm 86 mm 86 mm" in text
    assert 'To add one: jigtemplates tools add bits "my 1/2" diameter="1/2 in"' in text


def test_a_bit_whose_name_cannot_be_printed_is_shown_with_a_mark(report_with: Reports) -> None:
    """Never a gap in silence: its figures stand, and □ for each lost character; an accent is composed."""
    text = printed(laid(report_with, bits=(bit(14, "木工 cafe\u0301"),)))[-1]
    assert "□□ café lower 43 mm 83 mm 83 mm" in text


def test_the_same_job_gives_the_same_bytes(report_with: Reports) -> None:
    """Nothing depends on time or chance."""
    assert write_pdf(laid(report_with)) == write_pdf(laid(report_with))


# Where it stands -----------------------------------------------------------------------------------------------------


@given(
    width=st.integers(60, 420),
    height=st.integers(60, 420),
    paper=st.sampled_from([A4, LETTER, PaperSize("a3", 297.0, 420.0)]),
    shape=st.sampled_from(["slot", "round", "rectangle"]),
    angle=st.sampled_from([0, 90, 30]),
    screws=st.sampled_from([None, SCREWS, {"pattern": "ring", "size": "M4", "count": 24, "diameter": 50}]),
    bits=st.sampled_from([(), BITS, tuple(bit(d, f"a bit with a rather long name, {d} mm") for d in (6, 9, 12, 13))]),
    mirrored=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_nothing_overlaps_and_all_is_within_the_margins(
    report_with: Reports,
    width: int,
    height: int,
    paper: PaperSize,
    shape: str,
    angle: int,
    screws: Any,
    bits: tuple[Bit, ...],
    mirrored: bool,
) -> None:
    """Law: texts stand clear of each other and of the bars, within the margins; only the bars' are under 7.5 pt."""
    cut: dict[str, Any] = {"shape": shape, "depth": 10, "angle": angle}
    cut |= {"diameter": 20} if shape == "round" else {"width": 12, "length": 30}
    cut |= {"corner_radius": 5} if shape == "rectangle" else {}
    pattern = laid(
        report_with,
        bits,
        paper,
        {"mirrored": mirrored},
        cut=cut,
        plate={"width": width, "height": height, "screws": screws},
    )
    side = 10.0 if pattern.height > pattern.width else 15.0
    for page in plans(pattern):
        texts = [text_box(t) for t in page.texts]
        for box in (*texts, *(box_of(ink.shape) for ink in page.inks)):
            assert box.left > side - 0.1
            assert box.right < pattern.width - side + 0.1
            assert box.bottom > 14.9
            assert box.top < pattern.height - 9.9
        for a, b in combinations(page.texts, 2):
            assert apart(text_box(a), text_box(b)), (a, b)
        small = [t.string for t in page.texts if t.size * POINT < 7.5]
        assert all(
            s in ("0", "50", "100 mm", "1", "2", "3", "4 in")
            or "mm" in s
            or s in ("across", "up")
            or s.startswith(("if this", "Measure"))
            for s in small
        )


def test_a_long_table_goes_on_to_a_second_page(report_with: Reports) -> None:
    """Sixty screws: every row once, in order, under a header of its own on each page."""
    pattern = laid(report_with, plate=grid(60), cut={"y": 150})
    pages = plans(pattern)
    assert len(pages) >= 2
    titles = [t.string for page in pages for t in page.texts if t.string.startswith("Drilling")]
    assert titles == ["Drilling, in this order", "Drilling, in this order (continued)"]
    # the rows are the bold numbers left of everything else in the table
    left = [t for page in pages for t in page.texts if t.bold and t.string.isdigit() and abs(t.x - 28.5) < 1e-6]
    assert [t.string for t in left] == [str(n) for n in range(1, 63)]
    assert [t.string for page in pages for t in page.texts if t.string == "no."] == ["no."] * 2


def test_numbers_that_have_no_room_are_left_out_and_said(report_with: Reports) -> None:
    """Screws a millimetre or two apart on the plan: no number covers another."""
    points = [[100 + 5 * (i % 8), 10 + 5 * (i // 8)] for i in range(64)]
    plate = {"width": 270, "height": 180, "screws": {"pattern": "points", "size": "M3", "points": points}}
    (first, *_) = plans(laid(report_with, plate=plate, cut={"y": 150}))
    said = [t.string for t in first.texts if t.string.startswith("no room for")]
    assert len(said) == 1
    assert 0 < int(said[0].split()[3]) < 64


@pytest.mark.parametrize(
    ("size", "room", "scale"),
    [
        ((140, 140), (106, 100), 1 / 2),
        ((60, 50), (106, 100), 1),
        ((1000, 300), (106, 100), 1 / 12),
        ((9e4, 9), (90, 90), 1 / 200),
    ],
)
def test_the_scale_is_the_largest_of_those_a_rule_reads(
    size: tuple[float, float], room: tuple[float, float], scale: float
) -> None:
    """With 15 mm round it across, and 21 up for the caption too: 70 + 21 is 91, 83 + 15 is 98."""
    assert scale_for(*size, room) == scale


# Tables --------------------------------------------------------------------------------------------------------------


def test_columns_give_way_the_widest_first() -> None:
    """As they are where there is room; else what is over 20 goes first, then all are levelled."""
    assert narrowed([10, 30], 50, 20) == [10, 30]
    assert narrowed([10, 30], 35, 20) == [10, 25]
    assert narrowed([10, 40, 30], 50, 20) == [10, 20, 20]
    assert narrowed([5, 40, 30], 25, 20) == [5, 10, 10]


def rows_table(count: int, note: str = "A note.") -> Table:
    return Table("Title", ("a", "b"), tuple((str(n), "x") for n in range(count)), (note,))


def shown(parts: Sequence[Any]) -> list[list[str]]:
    return [[t.string for t in part.texts if t.string.isdigit()] for part in parts]


def test_a_table_breaks_between_rows() -> None:
    """Letters of 3 mm: title 4.68, header 3.9 + 1.32, rows 3.9 + 1.32 each, notes 0.9 + 3.9."""
    laid_table = laid_out(rows_table(6), 100.0, 3.0)
    assert laid_table.whole.height == pytest.approx(4.68 + 7 * 5.22 + 4.8)
    assert shown(list(laid_table.parts(50.0, 50.0))) == [["0", "1", "2", "3", "4", "5"]]
    # four rows fit 31 mm, but not all six with their note; the note never stands alone
    assert shown(list(laid_table.parts(31.0, 200.0))) == [["0", "1", "2", "3"], ["4", "5"]]
    assert shown(list(laid_table.parts(42.0, 200.0))) == [["0", "1", "2", "3", "4"], ["5"]]
    # one row would stand alone: the whole table goes on to the next page
    assert shown(list(laid_table.parts(16.0, 200.0))) == [[], ["0", "1", "2", "3", "4", "5"]]


def test_a_row_higher_than_any_page_still_ends() -> None:
    """What cannot be broken is printed, one row a page, and the notes at last."""
    laid_table = laid_out(rows_table(2), 100.0, 3.0)
    parts = list(laid_table.parts(5.0, 5.0))
    assert shown(parts) == [["0"], ["1"], []]
    assert parts[-1].texts[0].string == "A note."


def test_a_table_without_rows_is_its_reason() -> None:
    """Title and note, no header."""
    block = laid_out(Table("Title", ("a",), (), ("Why.",)), 100.0, 3.0).whole
    assert [t.string for t in block.texts] == ["Title", "Why."]


# True size -----------------------------------------------------------------------------------------------------------


def raster(data: bytes, number: int) -> npt.NDArray[np.bool_]:
    """Dark pixels of a page, its foot first."""
    pdf = pypdfium2.PdfDocument(data)
    image = pdf[number].render(scale=DPI / 72, grayscale=True).to_numpy()
    pdf.close()
    return np.asarray(image.squeeze()[::-1] < 110)


def longest(mask: npt.NDArray[np.bool_]) -> int:
    """Longest run of dark pixels in any row."""
    best = 0
    for row in mask:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0])))).reshape(-1, 2)
        best = max(best, int(np.diff(edges, axis=1).max(initial=0)))
    return best


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_bars_of_the_plan_page_measure_true(report_with: Reports, paper: PaperSize) -> None:
    """Level and upright bars of 4 in and a pen of 0.15 mm, at 600 dpi; the plan is half as large as the plate."""
    pattern = laid(report_with, paper=paper)
    dark = raster(write_pdf(pattern), 1)
    foot, strip = dark[: round(25 * PIXEL)], dark[: round(125 * PIXEL), : round(25 * PIXEL)]
    assert longest(foot) == pytest.approx(101.75 * PIXEL, abs=1.5)
    assert longest(strip.T) == pytest.approx(101.75 * PIXEL, abs=1.5)
    # 140 mm at 1 : 2, with a pen of 0.4, in the upper left of the page
    upper = dark[-round(95 * PIXEL) : -round(40 * PIXEL), : round(100 * PIXEL)]
    assert longest(upper) == pytest.approx(70.4 * PIXEL, abs=1.5)


def test_a_squeezed_table_has_a_page_of_its_own() -> None:
    """On a page on its side, where the table would go on to the next page anyway, it stands there in its full width."""
    report = report_on(load_job(SAMPLES / "porch-door-hinge.toml"))
    drawing = paper_drawing(report.template, report.predicted)
    made = with_own_bits(report, [bit(12.7, "1/2 in"), bit(8, "shop 8 mm up-spiral")])
    pattern = lay_out(drawing, PENS, NOTES, LETTER, by_hand=made)
    assert pattern.width > pattern.height
    first, second = ([text.string for text in page.texts] for page in plans(pattern))
    title = "The opening at a router table, with a fence"
    assert "Drilling, in this order" in first
    assert title not in first
    assert title in second
    assert "2.931 in ≈ 2-15/16" in second


def test_several_openings_have_letters_on_plan_and_list(report_with: Reports) -> None:
    """Twins: A and B stand in the middles of the openings, 32 mm apart at the plan's scale, and in the list."""
    twins = {
        "shape": "slot",
        "width": 10,
        "length": 50,
        "depth": 12,
        "repeat": {"count": 2, "pitch": 32, "direction": 90},
    }
    texts = plans(laid(report_with, [bit(14)], cut=twins))[0].texts
    scale = next(1 / int(text.string[-1]) for text in texts if text.string.startswith("Plan, 1 : "))
    places = {letter: [text for text in texts if text.string == letter] for letter in "AB"}
    assert [len(found) for found in places.values()] == [2, 2]
    first, second = (min(found, key=lambda text: -text.y) for found in places.values())
    assert second.y - first.y == pytest.approx(32 * scale, abs=1e-6)


def test_a_round_opening_has_its_hole_s_number_alone(report_with: Reports) -> None:
    """Two rounds: numbers on plan and drilling table, no letter; the only opening of a plate has none either."""
    rounds = {"shape": "round", "diameter": 20, "depth": 12, "repeat": {"count": 2, "pitch": 40}}
    for job in ({"cut": rounds}, {}):
        assert not {"A", "B"} & {text.string for page in plans(laid(report_with, **job)) for text in page.texts}


def test_openings_too_small_for_their_letters_are_counted(report_with: Reports) -> None:
    """Slots a few tenths of a millimetre apart on a plan of 1 : 10 leave no place: it is said how many have none."""
    cut = {
        "shape": "slot",
        "width": 10,
        "length": 20,
        "depth": 9,
        "angle": 90,
        "repeat": {"count": 40, "pitch": 16, "direction": 90},
    }
    page = plans(laid(report_with, cut=cut, plate={**PLATE, "width": 700, "height": 60, "screws": None}))[0]
    (said,) = [text.string for text in page.texts if text.string.startswith("no room for")]
    assert said.endswith(" of the numbers and letters")


def test_in_inches_the_bars_are_measured_in_inches(report_with: Reports) -> None:
    """On every page of a job in inches: the bar of 4 in, blanks in inches, and what the pattern is good for."""
    job = report_on(load_job(SAMPLES / "porch-door-hinge.toml"))
    drawing = paper_drawing(job.template, job.predicted)
    for page in lay_out(drawing, PENS, NOTES, LETTER, by_hand=with_own_bits(job, BITS)).pages:
        words = [text.string for text in page.texts]
        assert words.count("if this is not 4.00 in (101.6 mm), do not use this page") == 2
        assert "Measure both bars, 0 to 4 in, with a rule:" in words
        assert words.count("in") == 2
        assert not any("millimetre" in word or "100.0 mm" in word for word in words)


def test_a_long_plate_has_its_plan_above_the_tables(report_with: Reports) -> None:
    """Twelve slots in a row on a plate of 480 x 90 mm: beside the tables their numbers would lie over each other."""
    cut = {"shape": "slot", "width": 8, "length": 24, "depth": 14, "angle": 90}
    cut["repeat"] = {"count": 12, "pitch": 36, "direction": 90}
    plate = {"width": 480, "height": 90, "screws": None}
    pattern = laid(report_with, [bit(8)], cut=cut, plate=plate)
    assert pattern.width > pattern.height
    texts = plans(pattern)[0].texts
    assert "Plan, 1 : 4" in [text.string for text in texts]
    assert not any("of the numbers" in text.string for text in texts)
    (drilling,) = [text for text in texts if text.string == "Drilling, in this order"]
    assert drilling.y < min(text.y for text in texts if text.string in ("lower edge, 480 mm", "datum"))


def test_a_plate_with_room_has_its_plan_beside_the_tables(report_with: Reports) -> None:
    """A plate of 230 x 120 mm with four screws lies on its side, its tables on the right of the plan."""
    pattern = laid(report_with, plate={**PLATE, "width": 230, "height": 120})
    assert pattern.width > pattern.height
    texts = plans(pattern)[0].texts
    (drilling,) = [text for text in texts if text.string == "Drilling, in this order"]
    (datum,) = [text for text in texts if text.string == "datum"]
    assert drilling.x > datum.x + 60
    assert drilling.y > datum.y


@pytest.mark.parametrize("count", [30, 36, 42])
def test_leaders_run_through_no_number(report_with: Reports, count: int) -> None:
    """Many screws in a ring: numbers that stand further off are led to, past all others."""
    screws = {"pattern": "ring", "size": "M4", "hole": "countersunk", "count": count, "diameter": 215}
    plate = {"width": 240, "height": 240, "corner_radius": 120, "screws": screws}
    cut = {"shape": "round", "diameter": 60, "depth": 9}
    page = plans(laid(report_with, cut=cut, plate=plate, tools={"bit": 10, "bushing": 17}))[0]
    numbers = [shapely.box(*text_box(t)).buffer(-0.2) for t in page.texts if t.bold and t.string.isdigit()]
    lines = [i.shape.points for i in page.inks if isinstance(i.shape, Stroke) and len(i.shape.points) == 2]
    centres = {(round((a.x + b.x) / 2, 3), round((a.y + b.y) / 2, 3)) for a, b in lines}
    leaders = [shapely.LineString(line) for line in lines if (round(line[0].x, 3), round(line[0].y, 3)) in centres]
    assert len(leaders) >= 2
    ends = [shapely.Point(leader.coords[-1]) for leader in leaders]
    through = [
        n
        for n, leader in enumerate(leaders)
        for number in numbers
        if leader.intersects(number) and number.distance(ends[n]) > 0.7
    ]
    assert through == []
