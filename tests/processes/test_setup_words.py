"""What the set-up sheet says in figures and words: band, passes, settings, tenon stock, findings, cautions."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Literal

import pytest

from jigtemplates.cautions import cautions
from jigtemplates.checks.finding import note, warning
from jigtemplates.processes.paper_page import GREY
from jigtemplates.processes.paper_text import Block, paragraph
from jigtemplates.processes.setup import COLUMNS
from jigtemplates.processes.setup_band import band, key_figures, shortened
from jigtemplates.processes.setup_notes import (
    CAUTIONS,
    cautions_block,
    fence_facts,
    findings_block,
    set_facts,
    short_findings,
    tenon_facts,
)
from jigtemplates.processes.setup_passes import passes_block
from jigtemplates.processes.setup_words import facts_block, fitted, is_in_inches, titled
from jigtemplates.report import Report

ReportOn = Callable[..., Report]
INCH_CUT = {"shape": "slot", "width": "1/2 in", "length": "2 in", "depth": "3/4 in"}
INCH: dict[str, Any] = {
    "cut": INCH_CUT,
    "tools": {"bit": "3/8 in", "bushing": {"diameter": "5/8 in", "bore": "1/2 in", "stem": "3/16 in"}},
    "plate": {"width": 6, "height": 6, "thickness": "1/4 in"},
}


def strings(block: Block) -> list[str]:
    """All texts of a block."""
    return [text.string for text in block.texts]


def figures(report: Report) -> dict[str, tuple[str, str]]:
    """Figure and what stands below it, by name."""
    return {figure.name: (figure.figure, figure.below) for figure in key_figures(report)}


# The band ---------------------------------------------------------------------------------------------------------


def test_key_figures(sheet_report: ReportOn) -> None:
    """Plate 6 + cut 28 = 34 mm; bit and bushing as sold, with the other unit; 24,000 up to 1 in; clockwise inside."""
    assert figures(sheet_report()) == {
        "PLUNGE SETTING": ("34 mm", "base to end of bit"),
        "BIT": ("3/8 in", "9.525 mm"),
        "BUSHING": ("1/2 in", "12.7 mm"),
        "SPEED, AT MOST": ("24,000", "rpm"),
        "FEED": ("clockwise", "inside the opening"),
    }


def test_key_figures_in_inches(sheet_report: ReportOn) -> None:
    """1/4 in of plate and 3/4 in of cut: 1 in, and 25.4 mm below it."""
    assert figures(sheet_report("Slat", "in", **INCH))["PLUNGE SETTING"] == ("1 in", "25.4 mm; base to end of bit")


def test_a_plunge_that_is_on_no_rule(sheet_report: ReportOn) -> None:
    """1/4 + 0.7 in is 0.950 in, between 60/64 (0.938) and 61/64 (0.953): the nearer is named."""
    report = sheet_report("Slat", "in", **{**INCH, "cut": {**INCH["cut"], "depth": 0.7}})
    assert figures(report)["PLUNGE SETTING"] == ("0.950 in", "24.13 mm; about 61/64 in")


def test_a_measured_bit_in_inches(sheet_report: ReportOn) -> None:
    """What was measured stands below in both units: 0.373 in is 9.474 mm."""
    bit = {"diameter": {"nominal": "3/8 in", "measured": "0.373 in"}}
    report = sheet_report("Slat", "in", **{**INCH, "tools": {**INCH["tools"], "bit": bit}})
    assert figures(report)["BIT"] == ("3/8 in", "measured 0.373 in = 9.474 mm")
    assert dict(set_facts(report))["bit"] == "3/8 in, measured 0.373 in = 9.474 mm"


def test_a_metric_bit_has_its_inches_below(sheet_report: ReportOn) -> None:
    """10 mm is 0.394 in."""
    tools = {"bit": "10 mm", "bushing": {"diameter": "5/8 in"}}
    assert figures(sheet_report(tools=tools))["BIT"] == ("10 mm", "0.394 in")


def test_a_bit_measured_to_half_a_thousandth(sheet_report: ReportOn) -> None:
    """It is said as it was written: rounded to thousandths 0.3745 in would be what the bit is sold as."""
    bit = {"diameter": {"nominal": "3/8 in", "measured": "0.3745 in"}}
    report = sheet_report("Slat", "in", **{**INCH, "tools": {**INCH["tools"], "bit": bit}})
    assert figures(report)["BIT"] == ("3/8 in", "measured 0.3745 in = 9.512 mm")
    assert dict(set_facts(report))["bit"] == "3/8 in, measured 0.3745 in = 9.512 mm"


def test_a_measured_bit(sheet_report: ReportOn) -> None:
    """The size it is sold as, and below it the measured one."""
    bit = {"diameter": {"nominal": "3/8 in", "measured": "9.49 mm"}}
    report = sheet_report(tools={"bit": bit})
    assert figures(report)["BIT"] == ("3/8 in", "measured 9.49 mm")
    assert ("bit", "3/8 in, measured 9.49 mm") in set_facts(report)


@pytest.mark.parametrize(
    ("bit", "speed"),
    [(25.4, "24,000"), (30, "18,000"), (60, "16,000"), (80, "12,000"), (100, "see maker")],
)
def test_speed(sheet_report: ReportOn, bit: float, speed: str) -> None:
    """By the cutter's diameter ("Choosing Proper Router Bit Speeds", read); above 3-1/2 in the maker says."""
    cut = {"shape": "round", "diameter": 150, "depth": 10}
    tools = {"bit": f"{bit} mm", "bushing": {"diameter": bit + 10}}
    report = sheet_report(cut=cut, tools=tools, plate={"width": 400, "height": 400})
    assert figures(report)["SPEED, AT MOST"][0] == speed


def test_the_band_keeps_to_its_cells(sheet_report: ReportOn) -> None:
    """Long sizes are written smaller, and what stands below is cut off with an ellipsis."""
    found = key_figures(sheet_report())
    long = (replace(found[0], figure="1234.56789 mm", below="a very long word " * 6), *found[1:])
    usual, small = (band(f, 190.0).texts for f in (found, long))
    assert small[1].size < usual[1].size
    assert small[2].string.endswith("…")


def test_a_measured_size_without_room_for_both_units(sheet_report: ReportOn) -> None:
    """On Letter the column of a bit of 3/8 in that measures 0.3725 in has the inches alone, and whole."""
    bit = {"diameter": {"nominal": "3/8 in", "measured": "0.3725 in"}}
    report = sheet_report("Slat", "in", **{**INCH, "tools": {**INCH["tools"], "bit": bit}})
    assert figures(report)["BIT"][1] == "measured 0.3725 in = 9.462 mm"
    said = strings(band(key_figures(report), 195.9))
    assert "measured 0.3725 in" in said
    assert not any("…" in words for words in said)


def test_shortened() -> None:
    """A text that fits stays; another ends with an ellipsis."""
    assert shortened("base to end of bit", 100.0, 2.65) == "base to end of bit"
    assert shortened("base to end of bit", 12.0, 2.65) == "base t…"


# Passes -----------------------------------------------------------------------------------------------------------


def test_all_passes(sheet_report: ReportOn) -> None:
    """Six passes of 28 mm in a plate of 6 mm: depth, and depth + 6, of each."""
    said = strings(passes_block(sheet_report(), 50.0, 100.0))
    assert said[1] == "6 passes of at most 4.7 mm"
    for depth, plunge in (("4.7", "10.7"), ("14", "20"), ("23.3", "29.3"), ("28", "34")):
        assert {depth, plunge} <= set(said)


def test_a_single_pass(sheet_report: ReportOn) -> None:
    """One pass is called one."""
    said = strings(passes_block(sheet_report(cut={"depth": 3}), 50.0, 100.0))
    assert said[1] == "1 pass of 3 mm"
    assert said[-3:] == ["1", "3", "9"]


def test_passes_in_inches(sheet_report: ReportOn) -> None:
    """Passes of 1/8 in... the bit's half would be 3/16 in: four of 3/16 in, each with both units."""
    said = strings(passes_block(sheet_report("Slat", "in", **INCH), 50.0, 100.0))
    assert said[1] == "4 passes of 3/16 in (4.76 mm)"
    assert said[2:6] == ["no.", "depth, in", "plunge, in", "mm"]
    assert said[-5:] == ["4", "3/4", "19.05", "1", "25.4"]


@pytest.mark.parametrize("room", [200.0, 100.0, 60.0, 30.0])
def test_many_passes(sheet_report: ReportOn, room: float) -> None:
    """Fifty-six passes never take more than the room; the first and the last are kept, an ellipsis between them."""
    block = passes_block(sheet_report(tools={"pass_depth": 0.5}), 50.0, room)
    said = strings(block)
    assert block.height <= room
    assert "56 passes of 0.5 mm" in said
    assert ("…" in said) == (room < 200.0 or "…" in said)
    assert said[-3:] == ["56", "28", "34"]
    assert "6.5" in said


# Settings ---------------------------------------------------------------------------------------------------------


def test_the_set(sheet_report: ReportOn) -> None:
    """Bit to side play, with what is not known of them."""
    assert dict(set_facts(sheet_report())) == {
        "bit": "3/8 in = 9.525 mm",
        "cutting length": "not known: measure",
        "bushing": "1/2 in = 12.7 mm",
        "bore": "10.32 mm",
        "stem": "5.5 mm",
        "offset": "1.588 mm a side",
        "opening": "13.175 x 53.175 mm",
        "cut made": "10 x 50 mm",
        "depth": "28 mm",
        "side play": "0.475 mm, run round the edge",
    }


def test_a_trapped_bushing(sheet_report: ReportOn) -> None:
    """A cut as wide as the bit: one pass makes the width."""
    report = sheet_report(cut={"width": 9.525}, tools={"clearance": 0.1})
    assert dict(set_facts(report))["side play"] == "0.1 mm, trapped: one pass makes the width"


def test_a_round_has_one_figure(sheet_report: ReportOn) -> None:
    """Opening and cut of a round are diameters."""
    found = dict(set_facts(sheet_report(cut={"shape": "round", "diameter": 30, "depth": 9})))
    assert (found["opening"], found["cut made"]) == ("dia 33.175 mm", "dia 30 mm")


def test_the_set_in_inches(sheet_report: ReportOn) -> None:
    """1/2 x 2 in with 3/8 and 5/8 in: opening 3/4 x 2-1/4 in."""
    found = dict(set_facts(sheet_report("Slat", "in", **INCH)))
    assert found["opening"] == "3/4 x 2-1/4 in = 19.05 x 57.15 mm"
    assert found["stem"] == "3/16 in = 4.76 mm"
    assert found["offset"] == "1/8 in = 3.175 mm a side"
    assert found["side play"] == "1/8 in = 3.175 mm, run round the edge"


def test_a_metric_bit_in_a_job_in_inches(sheet_report: ReportOn) -> None:
    """A bit keeps the size it is sold by, and has its inches behind it: 10 mm is 0.394 in."""
    report = sheet_report("Slat", "in", **{**INCH, "tools": {**INCH["tools"], "bit": "10 mm"}})
    assert dict(set_facts(report))["bit"] == "10 mm = 0.394 in"


def test_tools_with_names(sheet_report: ReportOn) -> None:
    """A name stands before the size."""
    bit = {"name": "shop spiral", "diameter": 8, "cutting_length": 30}
    found = dict(set_facts(sheet_report(tools={"bit": bit})))
    assert (found["bit"], found["cutting length"]) == ("shop spiral, 8 mm", "30 mm")


def test_the_router(sheet_report: ReportOn) -> None:
    """With a router: its name, and how its base is carried where that is worst."""
    found = dict(set_facts(sheet_report(tools={"router": "generic mid-size plunge"})))
    assert found["router"] == "generic mid-size plunge"
    # a base of 150 mm over a slot of 53 mm in a plate of 140 mm: the same figures as the note base-carried
    assert found["base"] == "at least 83 % of it carried, its middle at least 50 mm from the edge"
    assert "router" not in dict(set_facts(sheet_report()))


def test_the_router_beside_a_pattern(sheet_report: ReportOn) -> None:
    """Outside a pattern the middle of the base overhangs it, at a corner by 13 mm, and is not "-13 mm inside"."""
    cut = {"shape": "rectangle", "side": "outside", "width": 120, "length": 200, "corner_radius": 20, "depth": 12}
    report = sheet_report(cut=cut, plate={"width": None, "height": None}, tools={"router": "generic mid-size plunge"})
    assert dict(set_facts(report))["base"].endswith(" % of it carried, its middle overhangs by up to 13 mm")


def test_a_pattern_is_fastened_and_not_clamped() -> None:
    """Round the outside clamps are in the way; inside work and template are clamped."""
    inside, outside = (" ".join(strings(cautions_block(300.0, 3.0, outside=side))) for side in (False, True))
    assert "Fasten the pattern with screws or strong double-sided tape" in outside
    assert "clamps are in the router's way" in outside
    assert "Clamp work and template." in inside
    assert "Clamp work" not in outside


def test_end_grain_outside() -> None:
    """Round the outside the cautions know of end grain, inside not."""
    line = "End grain tears out at its corners: light passes, a backing strip there, end grain before the long sides."
    inside, outside = (" ".join(strings(cautions_block(80.0, 3.0, outside=side))) for side in (False, True))
    assert line in outside
    assert "End grain" not in inside


def test_the_router_of_a_job_in_inches(sheet_report: ReportOn) -> None:
    """How far the middle of the base stays inside, in inches first: half of 6 in less half of 2-1/4 - 5/8 in."""
    report = sheet_report("Slat", "in", **{**INCH, "tools": {**INCH["tools"], "router": "generic mid-size plunge"}})
    assert dict(set_facts(report))["base"].endswith(
        " % of it carried, its middle at least 2-3/16 in (56 mm) from the edge"
    )


def test_an_inlay_points_to_its_own_sheet(sheet_report: ReportOn) -> None:
    """With [inlay] it is said that this is the recess, and where the plug is."""
    inlay = {"plug_bushing": {"diameter": "3/8 in"}}
    tools = {"bit": "1/8 in", "bushing": {"diameter": "5/8 in"}}
    found = dict(set_facts(sheet_report("Slat", "in", **{**INCH, "tools": tools, "inlay": inlay})))
    assert found["inlay"] == "this is the recess; for the plug see the inlay sheet (…_inlay.pdf)"
    assert "inlay" not in dict(set_facts(sheet_report()))


def test_a_base_that_cannot_be_looked_at(sheet_report: ReportOn, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is known of the worst place, the router's name stands alone."""
    monkeypatch.setattr("jigtemplates.bench.ride_of", lambda case: None)
    found = dict(set_facts(sheet_report(tools={"router": "generic mid-size plunge"})))
    assert found["router"] == "generic mid-size plunge"
    assert "base" not in found


def test_fence_and_stop(sheet_report: ReportOn) -> None:
    """Distances from the cut's centre lines, and the size of the stock; nothing without work."""
    assert fence_facts(sheet_report()) == []
    work: dict[str, Any] = {"thickness": 34, "height": 60}
    assert fence_facts(sheet_report(work=work)) == [
        ("fence", "17 mm below the plan's long centre line"),
        ("work", "34 x 60 mm"),
    ]
    assert fence_facts(sheet_report(work={**work, "length": 700, "from_end": 55, "from_face": 12})) == [
        ("fence", "12 mm below the plan's long centre line"),
        ("end stop", "55 mm to the left of the plan's cross centre line"),
        ("work", "34 x 60 x 700 mm"),
    ]


def test_the_end_stop_of_a_mirrored_plate(sheet_report: ReportOn) -> None:
    """A mirrored plate says that the stop changes sides; of a pair, than with which plate."""
    work = {"thickness": 40, "height": 25, "from_face": 14, "from_end": 45}
    alone = sheet_report(work=work, make={"for": ["cnc"], "mirrored": True})
    assert dict(fence_facts(alone))["end stop"] == (
        "45 mm to the right of the plan's cross centre line, on the other side (mirrored work)"
    )
    pairs: tuple[tuple[Literal["left", "right"], str], ...] = (("left", "LEFT"), ("right", "RIGHT"))
    for pair, other in pairs:
        job = replace(alone.job, make=replace(alone.job.make, pair=pair))
        paired = replace(alone, case=replace(alone.case, template=replace(alone.template, job=job)))
        assert dict(fence_facts(paired))["end stop"] == (
            f"45 mm to the right of the plan's cross centre line, on the other side than with the {other} plate"
        )


@pytest.mark.parametrize(
    ("angle", "fence", "stop"),
    [
        (0, "", ", on the other side than with the LEFT plate"),
        (10, "", ", on the other side than with the LEFT plate"),
        (90, ", on the other side than with the LEFT plate", ""),
        (180, "", ", on the other side than with the LEFT plate"),
        (-90, ", on the other side than with the LEFT plate", ""),
        (45, ", to the lower right of it with the LEFT plate", ", to the lower left of it with the LEFT plate"),
        (-135, ", to the upper left of it with the LEFT plate", ", to the upper right of it with the LEFT plate"),
    ],
)
def test_what_changes_sides_with_the_other_hand(sheet_report: ReportOn, angle: int, fence: str, stop: str) -> None:
    """Of a cut that lies along the plate the stop does, of one that stands upright the fence, of an oblique one both.

    The places named are those that the LEFT sheet gives.
    """
    work = {"thickness": 40, "height": 25, "length": 400, "from_face": 14, "from_end": 45}
    left = sheet_report(cut={"angle": angle}, work=work, make={"for": ["cnc"], "pair": "left"})
    assert left.other_hand is not None
    own, other = (dict(fence_facts(report)) for report in (left, left.other_hand))
    for name, much, line, said in (("fence", 14, "long", fence), ("end stop", 45, "cross", stop)):
        there = other[name].partition(f" the plan's {line} centre line")
        assert there[2] == said
        assert "," not in own[name]
        side = own[name].removeprefix(f"{much} mm ").partition(" the plan's")[0]
        same = there[0] == f"{much} mm {side}"
        assert same == (said == "")
        if " of it " in said:
            assert said == f", {side} it with the LEFT plate"


def test_an_oblique_fence_of_mirrored_work(sheet_report: ReportOn) -> None:
    """Without a pair it is said of work that is not mirrored."""
    work = {"thickness": 40, "height": 25, "from_face": 14}
    report = sheet_report(cut={"angle": 45}, work=work, make={"for": ["cnc"], "mirrored": True})
    assert dict(fence_facts(report))["fence"] == (
        "14 mm to the lower left of the plan's long centre line, to the lower right of it without mirroring (mirrored "
        "work)"
    )


@pytest.mark.parametrize(
    ("angle", "mirrored", "fence", "stop"),
    [
        (90, False, "to the right of", "below"),
        (90, True, "to the left of", "below"),
        (180, False, "above", "to the right of"),
        (45, False, "to the lower right of", "to the lower left of"),
        (-45, False, "to the lower left of", "to the upper left of"),
        (45, True, "to the lower left of", "to the lower right of"),
        (-135, False, "to the upper left of", "to the upper right of"),
        (10, False, "below", "to the left of"),
    ],
)
def test_on_which_side_they_stand(sheet_report: ReportOn, angle: int, mirrored: bool, fence: str, stop: str) -> None:
    """The cut's length begins at the stop, and the fence is on its right: turned with it, and mirrored."""
    report = sheet_report(
        cut={"shape": "slot", "width": 10, "length": 50, "depth": 9, "angle": angle},
        work={"thickness": 40, "height": 25, "from_face": 14, "from_end": 45},
        make={"for": ["cnc"], "mirrored": mirrored},
    )
    facts = dict(fence_facts(report))
    assert facts["fence"].partition(",")[0] == f"14 mm {fence} the plan's long centre line"
    assert facts["end stop"].partition(",")[0] == f"45 mm {stop} the plan's cross centre line"


def test_the_fence_of_a_gain(sheet_report: ReportOn) -> None:
    """A gain 25 mm wide has the edge of the work, and so the fence, 12.5 mm from its middle."""
    cut = {"shape": "hinge", "width": 25, "length": 80, "corner_radius": 5, "depth": 3}
    for length, said in (({}, "35 mm thick"), ({"length": 2000}, "35 mm thick, 2000 mm long")):
        assert fence_facts(sheet_report(cut=cut, work={"thickness": 35, **length})) == [
            (
                "fence",
                "12.5 mm below the plan's long centre line: the edge of the work, where the gain is open; keep the "
                "fence below the bit",
            ),
            ("work", said),
        ]


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (2, "; 17 mm and 33 mm from the openings' own"),
        (3, "; 9 mm, 25 mm and 41 mm from the openings' own"),
        (4, ""),
    ],
)
def test_the_fence_of_a_group(sheet_report: ReportOn, count: int, said: str) -> None:
    """From the group's middle line, which the plate shows; for up to three rows from each one's own as well."""
    cut: dict[str, Any] = {"shape": "slot", "width": 10, "length": 40, "depth": 9}
    cut["repeat"] = {"count": count, "pitch": 16, "direction": 90}
    report = sheet_report(cut=cut, work={"thickness": 60, "height": 25, "from_face": 25, "from_end": 40})
    facts = dict(fence_facts(report))
    assert facts["fence"] == f"25 mm below the plan's long centre line of the group (ticks with a bar){said}"
    assert facts["end stop"] == "40 mm to the left of the plan's cross centre line"  # which they share


def test_the_fence_of_a_ring(sheet_report: ReportOn) -> None:
    """Round a ring no line is told of each."""
    cut = {"shape": "round", "diameter": 10, "depth": 9, "repeat": {"count": 3, "ring": 80}}
    report = sheet_report(cut=cut, work={"thickness": 60, "height": 25, "from_face": 25})
    assert dict(fence_facts(report))["fence"] == "25 mm below the plan's long centre line"


def test_fence_in_inches(sheet_report: ReportOn) -> None:
    """Both units of a distance and of the stock."""
    work = {"thickness": "1-1/2 in", "height": 2, "from_face": "3/4 in"}
    assert fence_facts(sheet_report("Slat", "in", **INCH, work=work)) == [
        ("fence", "3/4 in = 19.05 mm below the plan's long centre line"),
        ("work", "1-1/2 x 2 in = 38.1 x 50.8 mm"),
    ]


@pytest.mark.parametrize(
    ("tenon", "expected"),
    [
        # 10 - 0.1 thick, 50 - 0.1 wide, 2 x 28 - 2 x 2 long; 2 x 20 + 3 x 52 + 4 x 3 of strip
        (
            {"joints": 3, "glue_room": 2},
            {"thickness": "9.9 mm", "width": "49.9 mm", "length": "52 mm", "edges": "rounded, r 4.95 mm",
             "pieces": "3, from 1 strip of 208 mm"},
        ),
        (
            {"joints": 3, "glue_room": 2, "strip": 160, "edge": "square"},
            {"thickness": "9.9 mm", "width": "40 mm", "length": "52 mm", "edges": "square",
             "pieces": "3, from 2 strips of at most 153 mm"},
        ),
        (
            {"joints": 3, "glue_room": 2, "strip": 60},
            {"thickness": "9.9 mm", "width": "49.9 mm", "length": "52 mm", "edges": "rounded, r 4.95 mm",
             "pieces": "3"},
        ),
        ({"joints": 3, "glue_room": 28}, {"tenon": "none: nothing is left of it"}),
    ],
)  # fmt: skip
def test_tenon_stock(sheet_report: ReportOn, tenon: dict[str, Any], expected: dict[str, str]) -> None:
    """Thickness, width, length, edges, pieces and strips, by hand."""
    report = sheet_report(tenon=tenon)
    assert dict(tenon_facts(report)) == expected


def test_no_tenon(sheet_report: ReportOn) -> None:
    """Nothing is said of tenons that are not wanted."""
    assert tenon_facts(sheet_report()) == []


# Findings and cautions --------------------------------------------------------------------------------------------


def with_findings(report: Report, *messages: str, where: str = "plate") -> Report:
    """The report with these warnings alone."""
    return replace(report, findings=tuple(warning("x", where, message) for message in messages))


def test_short_findings(sheet_report: ReportOn) -> None:
    """A warning is said with its remedy; notes are not said."""
    report = with_findings(sheet_report(), "the wall is thin: take a larger plate")
    report = report.with_findings((note("n", "plate", "a note: nothing to do"),))
    assert short_findings(report) == ["the wall is thin: take a larger plate"]


def test_short_findings_on_making_the_plate_come_last(sheet_report: ReportOn) -> None:
    """When the sheet is used the plate is made: what was to be looked at before stands behind the others."""
    found = tuple(warning(code, "plate", code) for code in ("thin-wall", "plate-tips", "label-left-out", "chip-room"))
    assert short_findings(replace(sheet_report(), findings=found)) == [
        "plate-tips",
        "chip-room",
        "thin-wall",
        "label-left-out",
    ]


def test_short_findings_in_inches(sheet_report: ReportOn) -> None:
    """In a job in inches they are said in inches alone, else as they are."""
    message = "the wall is 1/8 in (3.18 mm) thick: take a larger plate"
    assert short_findings(with_findings(sheet_report(), message)) == [message]
    report = sheet_report("Slat", "in", **INCH)
    (said,) = set(short_findings(with_findings(report, message))) - set(short_findings(report))
    assert said == "the wall is 1/8 in thick: take a larger plate"


def test_findings_on_making_the_files_are_left_out(sheet_report: ReportOn) -> None:
    """What concerns the machine's files is of no use at the bench."""
    assert short_findings(with_findings(sheet_report(), "R12 has no unit: say it", where="make.dxf")) == []


def test_findings_block() -> None:
    """The first ones under a heading, and how many more there are; nothing without any."""
    said = strings(findings_block(["one", "two", "three"], 2, 60.0, 3.0))
    assert said == ["Look at first", "•", "one", "•", "two", "… and 1 more: see jigtemplates check"]
    assert findings_block([], 0, 60.0, 3.0).height == 0


@pytest.mark.parametrize(
    "topic",
    ["Unplug", "ye, ear and dust", "lamp", "3/4 in", "nut tight and below", "hallow passes", "clockwise", "let it stop",
     "test cut in scrap first", "anuals of your tools"],
)  # fmt: skip
def test_the_cautions_are_the_usual_ones(sheet_report: ReportOn, topic: str) -> None:
    """Every topic of the long cautions on routing is among the short ones."""
    assert topic in " ".join(cautions(sheet_report().job))
    assert topic in " ".join(CAUTIONS)
    assert topic.split()[0] in " ".join(strings(cautions_block(60.0, 3.0)))


def test_the_shank_in_inches_first() -> None:
    """How much of the shank the collet holds: 19 mm, and in a job in inches 3/4 in first."""
    assert "at least 19 mm (3/4 in) of shank" in " ".join(strings(cautions_block(300.0, 3.0)))
    assert "at least 3/4 in (19 mm) of shank" in " ".join(strings(cautions_block(300.0, 3.0, inches=True)))


# Blocks -----------------------------------------------------------------------------------------------------------


def test_inches_or_not(sheet_report: ReportOn) -> None:
    """By the job's unit; a job that names none, by the unit its cut is written in."""
    assert is_in_inches(sheet_report("Slat", "in", **INCH))
    report = sheet_report()
    assert not is_in_inches(report)
    case = report.case
    for width, expected in (("1/2 in", True), ("12 mm", False)):
        job = sheet_report(cut={"width": width}).job
        template = replace(case.template, job=replace(job, units=None))
        assert is_in_inches(replace(report, case=replace(case, template=template))) is expected


def test_facts_block() -> None:
    """A heading, grey labels, bold values; nothing without facts."""
    block = facts_block("The set", [("bit", "3/8 in")], 60.0, 3.0)
    assert [(t.string, t.bold) for t in block.texts] == [("The set", True), ("bit", False), ("3/8 in", True)]
    assert block.texts[1].colour == GREY
    assert facts_block("Tenon stock", [], 60.0, 3.0).height == 0
    assert titled("Empty", Block(0.0), 60.0).height == 0


def test_fitted_takes_the_largest_letters() -> None:
    """Words are as large as the height allows."""
    few = fitted(lambda size: [paragraph("a few words", 60.0, size)], 50.0, 2.0)
    many = fitted(lambda size: [paragraph("many words " * 60, 60.0, size)], 50.0, 2.0)
    assert few.texts[0].size > many.texts[0].size >= 2.65
    assert many.height <= 50.0


def test_what_does_not_fit_is_cut_off_openly() -> None:
    """Too much for the smallest letters: as much as there is room for, and where the rest is."""
    block = fitted(lambda size: [facts_block("Many", [(str(i), "x") for i in range(90)], 60.0, size)], 80.0, 2.0)
    assert block.height == 80.0
    assert strings(block)[-1] == "… more: see jigtemplates check"
    assert "0" in strings(block)
    assert "89" not in strings(block)
    assert min(t.y for t in block.texts) >= -80.0
    assert len(block.inks) == 1


@pytest.mark.parametrize("size", [3.55, 3.3, 3.0, 2.8, 2.65])
def test_labels_stand_on_one_line(sheet_report: ReportOn, size: float) -> None:
    """In letters of every size the longest label of the settings has room beside its value."""
    block = facts_block("The set", set_facts(sheet_report()), 66.0, size)
    labels = {label for label, _ in set_facts(sheet_report())}
    assert labels <= {text.string for text in block.texts}


def test_values_of_the_settings_stand_on_one_line() -> None:
    """In the column of an A4 sheet, in the largest letters, a size in both units and "not known: measure" do."""
    column = COLUMNS[1] * 190.0 - 5.0
    block = facts_block(
        "The set", [("cutting length", "not known: measure"), ("bushing", "7/16 in = 11.113 mm")], column, 3.55
    )
    assert {"not known: measure", "7/16 in = 11.113 mm"} <= {text.string for text in block.texts}
