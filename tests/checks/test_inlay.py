"""The inlay's check: pairs that miss, narrow passages, thin stock, corners, and the plug's own set-up."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

Said = Callable[..., list[tuple[str, str, str]]]
Made = Callable[..., Report]

CUT = {"shape": "rectangle", "width": 50, "length": 80, "corner_radius": 6, "depth": 5}
TOOLS = {"bit": "5 mm", "bushing": {"diameter": 20, "bore": 16, "stem": 5}}
PLUG = {"plug_bushing": {"diameter": 10, "bore": 8.5, "stem": 5}, "glue_line": 0, "plug_thickness": 6}


def job(cut: dict[str, Any] | None = None, tools: dict[str, Any] | None = None, **inlay: Any) -> dict[str, Any]:
    """The tables of a job whose plug fits, keys changed."""
    plug = {key: value for key, value in {**PLUG, **inlay}.items() if value is not None}
    return {"cut": {**CUT, **(cut or {})}, "tools": {**TOOLS, **(tools or {})}, "inlay": plug}


def of_the_inlay(report: Report) -> list[str]:
    return [finding.code for finding in report.findings if finding.where.startswith("inlay")]


def test_nothing_to_say(report_with: Made) -> None:
    """A plug that fits, thick enough, with known tools: nothing but that its bit is that of the recess."""
    report = report_with(**job())
    assert [(f.code, f.where) for f in report.findings if f.where.startswith("inlay")] == [
        ("assumed", "inlay.plug_bit")
    ]


def test_no_inlay_is_not_looked_at(report_with: Made) -> None:
    """Without [inlay] there is nothing of it, in findings or in JSON."""
    report = report_with(cut=CUT, tools=TOOLS)
    assert of_the_inlay(report) == []
    assert report.case.inlay is None
    assert "inlay" not in report.as_json()


def test_too_large(said: Said, report_with: Made) -> None:
    """A bushing 1 mm thinner: 0.5 mm a side too large, which is a stop, with every way out."""
    tables = job(plug_bushing={"diameter": 9, "bore": 7, "stem": 5})
    assert said("plug-too-large", **tables) == [
        (
            "stop",
            "inlay.plug_bushing",
            "recess and plug do not fit, they miss by 0.5 mm a side: the plug is larger than the recess by 0.5 mm a "
            "side; one of these would make them fit: the plug's bushing 10 mm, or the plug's bit 6 mm, or the recess's "
            "bushing 19 mm; or a sleeve (or tape) 0.5 mm thick round the plug's bushing; jigtemplates inlay with this "
            "job names tools you have",
        )
    ]
    assert report_with(**tables).stopped


def test_tight(said: Said) -> None:
    """The plug goes in but leaves no glue line: a warning."""
    ((level, where, sentence),) = said("plug-tight", **job(glue_line=0.1))
    assert (level, where) == ("warning", "inlay.plug_bushing")
    assert "they miss by 0.1 mm a side: the plug leaves no gap where 0.1 mm is wanted; one of" in sentence


def test_tight_with_a_gap(said: Said) -> None:
    """Some of the glue line is there: how much is said."""
    tables = job(glue_line=0.1, plug_bushing={"diameter": 10.1, "bore": 8.5, "stem": 5})
    ((_, _, sentence),) = said("plug-tight", **tables)
    assert "they miss by 0.05 mm a side: the plug leaves a gap of 0.05 mm a side where 0.1 mm is wanted" in sentence


def test_loose(said: Said) -> None:
    """More than the glue line: a warning; by no more than a hair only a note."""
    wide = said("plug-loose", **job(plug_bushing={"diameter": 11, "bore": 8.5, "stem": 5}))
    hair = said("plug-loose", **job(plug_bushing={"diameter": 10.01, "bore": 8.5, "stem": 5}))
    assert [(level, where) for level, where, _ in (*wide, *hair)] == [
        ("warning", "inlay.plug_bushing"),
        ("note", "inlay.plug_bushing"),
    ]
    assert wide[0][2].endswith(
        "the plug's bushing 10 mm, or the plug's bit 4 mm, or the recess's bushing 21 mm; or a sleeve (or tape) 0.5 mm "
        "thick round the recess's bushing, and the opening made for that size; jigtemplates inlay with this job names "
        "tools you have"
    )


def test_inches_come_first() -> None:
    """A job in inches says gaps in inches, mm behind them."""
    text = """
title = "Inlay"
units = "in"
[cut]
shape = "round"
diameter = 2
depth = "1/8"
[tools]
bit = "1/8"
bushing = "5/8"
[plate]
width = 6
height = 6
thickness = "1/4"
[inlay]
plug_bushing = "7/16"
"""
    found = report_on(job_from_text(text, profiles=Profiles())).findings
    (sentence,) = [f.message for f in found if f.code == "plug-loose"]
    assert "they miss by 1/32 in (0.794 mm) a side: the plug leaves a gap of 1/32 in (0.794 mm) a side" in sentence


def test_a_plug_in_inches() -> None:
    """A plug's bit that is as wide as its bushing, in inches first."""
    text = """
title = "Slat"
units = "in"
cut = { shape = "slot", width = "1", length = 2, depth = "1/8" }
tools = { bit = "1/8", bushing = "5/8", clearance = 0.004 }
plate = { width = 6, height = 5, thickness = "1/4" }
inlay = { plug_bit = "3/8", plug_bushing = "3/8" }
"""
    found = report_on(job_from_text(text, profiles=Profiles())).findings
    (sentence,) = [f.message for f in found if f.code == "plug-bushing-not-wider-than-bit"]
    assert sentence.startswith(
        "the plug's bushing (3/8 in = 9.525 mm) must be wider than its bit (3/8 in = 9.525 mm), "
    )


def test_bit_as_wide_as_its_bushing(said: Said) -> None:
    """A plug's bit that cannot be in its bushing stops alone."""
    tables = job(plug_bit="10 mm", plug_bushing="10 mm")
    assert said("plug-bushing-not-wider-than-bit", **tables) == [
        (
            "stop",
            "inlay.plug_bushing",
            "the plug's bushing (10 mm) must be wider than its bit (10 mm), which runs inside it: use a larger bushing "
            "or a smaller bit",
        )
    ]
    assert said("plug-loose", **tables) == []


def test_open_to_the_edge(said: Said) -> None:
    """A hinge gain has no plug."""
    hinge = {"shape": "hinge", "width": 25, "length": 76, "depth": 2.5}
    assert said("inlay-open", cut=hinge, tools=TOOLS, inlay=PLUG) == [
        (
            "stop",
            "inlay",
            "a cut that is open to the edge of the work leaves no plug standing: leave [inlay] out, or give the cut "
            "another shape",
        )
    ]


def test_nothing_stays_standing(said: Said) -> None:
    """A slot 6 mm wide has an opening of 21 mm: 14 mm of bushing and 8 of bit leave nothing."""
    slot = {"shape": "slot", "width": 6, "length": 60, "depth": 5}
    tables = {"cut": slot, "tools": TOOLS, "inlay": {**PLUG, "plug_bushing": 14, "plug_bit": 8}}
    assert said("no-plug", **tables) == [
        (
            "stop",
            "inlay.plug_bushing",
            "nothing of the plug stays standing: bushing and bit together, 22 mm, are as wide as the opening; use "
            "smaller ones, or make the cut wider",
        )
    ]


def test_a_bushing_that_does_not_go_in(report_with: Made) -> None:
    """A plug's bushing wider than the opening leaves nothing either, and its set-up is still looked at."""
    slot = {"shape": "slot", "width": 6, "length": 60, "depth": 5}
    inlay = {**PLUG, "plug_bushing": {"diameter": 30, "bore": 26, "stem": 7}}
    codes = of_the_inlay(report_with(cut=slot, tools=TOOLS, inlay=inlay))
    assert codes[:2] == ["no-plug", "stem-too-long"]
    assert "plug-loose" in codes


def test_narrow_waist(said: Said) -> None:
    """A key whose waist is as narrow as the gaps on both sides: the plug falls into two parts."""
    key = {"shape": "butterfly", "width": 40, "length": 80, "waist": 6, "depth": 5, "corner_radius": 3}
    tables = {"cut": key, "tools": TOOLS, "inlay": {**PLUG, "plug_bushing": 18}}
    ((level, where, sentence),) = said("plug-incomplete", **tables)
    assert (level, where) == ("warning", "inlay.plug_bushing")
    assert sentence.startswith("recess and plug differ by up to ")
    assert "(recess in 1 part, plug in 2 parts): fill that with a piece of its own, or make the narrow" in sentence


def test_a_wide_gap_leaves_more_open_at_corners(said: Said) -> None:
    """A plug 3 mm too small is more than that away from round corners of 2.5 mm, which is no lost part."""
    tables = job(cut={"corner_radius": 2.5}, plug_bushing={"diameter": 16, "bore": 8.5, "stem": 5})
    assert said("plug-incomplete", **tables) == []
    assert len(said("plug-loose", **tables)) == 1


def test_neck_that_the_recess_does_not_pass(said: Said) -> None:
    """The bit parts the recess at the key's waist; the plug's smaller bushing passes there and leaves too much."""
    key = {"shape": "butterfly", "width": 60, "length": 60, "waist": 8, "depth": 5, "corner_radius": 8}
    tools = {"bit": "16 mm", "bushing": {"diameter": 20, "bore": 18, "stem": 5}}
    tables = {"cut": key, "tools": tools, "inlay": {**PLUG, "plug_bushing": 3, "plug_bit": 1}}
    ((level, where, sentence),) = said("plug-overlaps", **tables)
    assert (level, where) == ("stop", "inlay.plug_bushing")
    assert sentence.startswith("where the recess's bushing does not pass, the plug is up to ")
    assert sentence.endswith(
        "make the narrow passages of the cut wider, or take a smaller bushing and bit for the recess"
    )
    assert "0.832 mm larger than the recess (4.00 mm² in all)" in sentence


def test_thin_stock(said: Said) -> None:
    """Stock of 4 mm in a recess of 5 mm lies 1 mm below the face; stock of 5 mm is not spoken of."""
    assert said("plug-below-face", **job(plug_thickness=4)) == [
        (
            "warning",
            "inlay.plug_thickness",
            "the inlay stock (4 mm) is thinner than the recess is deep (5 mm), so the plug would lie 1 mm below the "
            "face: cut less deep, or use thicker stock and plane it flush",
        )
    ]
    assert said("plug-below-face", **job(plug_thickness=5)) == []


def test_corners_need_no_chisel(said: Said) -> None:
    """Sharp corners come out as round on the plug; a radius that the bit can follow is not spoken of."""
    assert said("inlay-corners", **job(cut={"corner_radius": 0})) == [
        (
            "note",
            "inlay",
            "corners that the recess's bit leaves round come out alike on the plug, so there is nothing to chisel: "
            "radius 2.5 mm where the inlay points out, at least 7.5 mm where the wood points into it",
        )
    ]
    assert said("inlay-corners", **job()) == []


def test_the_plugs_own_tools(said: Said) -> None:
    """What is wrong with the plug's bushing and bit is said under the plug's own keys."""
    tables = job(plug_bushing={"diameter": 10, "bore": 5.5, "stem": 7})
    assert said("stem-too-long", **tables) == [
        (
            "stop",
            "inlay.plug_bushing",
            "for the plug: the stem (7 mm) reaches the work: plate and stand-off are 6 mm; shorten it to at most "
            "5.5 mm, or make the plate at least 7.5 mm thick",
        )
    ]
    # the recess's bushing has 11 mm of room for chips and is not spoken of
    assert [(level, where) for level, where, _ in said("chip-room", **tables)] == [("warning", "inlay.plug_bushing")]


def test_the_plugs_own_bit(said: Said) -> None:
    """Another bit for the plug is looked at by itself: it is to cut 6.4 mm deep with edges of 6 mm."""
    bit = {"diameter": 5, "shank": 5, "cutting_length": 6}
    (said_of_it,) = said("deeper-than-cutting-edges", **job(plug_bit=bit))
    assert said_of_it[:2] == ("warning", "inlay.plug_thickness")
    assert said_of_it[2].startswith("for the plug: the cut (6.4 mm) is deeper than the cutting edges are long (6 mm)")


def test_what_is_true_of_both_is_said_once(report_with: Made) -> None:
    """One bit for both whose edges are not known: one note, not two; another unknown bit has a note of its own."""
    codes = [f.where for f in report_with(**job()).findings if f.code == "reach-unknown"]
    assert codes == ["tools.bit"]
    codes = [f.where for f in report_with(**job(plug_bit="5.0 mm")).findings if f.code == "reach-unknown"]
    assert codes == ["tools.bit", "inlay.plug_bit"]


def test_unknown_bore_is_asked_for_by_its_key(said: Said) -> None:
    """The hint names the key of the [inlay] table."""
    notes = said("bore-unknown", **job(plug_bushing=10))
    assert [(where, "give it as plug_bushing = {" in sentence) for _, where, sentence in notes] == [
        ("inlay.plug_bushing", True)
    ]


@pytest.mark.parametrize("repeat", [{"count": 2, "pitch": 90, "direction": 90}, None])
def test_laid_over_in_every_place(report_with: Made, repeat: dict[str, Any] | None) -> None:
    """A cut that is repeated has as many recesses and plugs, all of one size."""
    cut = {"shape": "round", "diameter": 30, "depth": 5, **({"repeat": repeat} if repeat else {})}
    laid = report_with(cut=cut, tools=TOOLS, inlay=PLUG, plate={"width": 140, "height": 240}).case.inlay
    count = 2 if repeat else 1
    assert laid is not None
    assert (len(laid.recess), len(laid.plug)) == (count, count)
    assert laid.largest_gap < 1e-6


def test_json_of_a_job(report_with: Made) -> None:
    """`check --json` has the pairs, both plunge settings, and what laying one over the other says."""
    said = report_with(**job(glue_line=0.1, plug_bushing={"diameter": 10.2, "bore": 8.5, "stem": 5})).as_json()["inlay"]
    assert (said["gap"], said["fits"]) == (0.1, True)
    assert said["plunge_depth"] == {"recess": 11.0, "plug": 12.4}
    laid = said["laid_over"]
    assert (laid["smallest_gap"], laid["largest_gap"], laid["overlap_area"]) == (0.1, 0.1, 0.0)
    # rim of 2 (38 + 68) + 12 pi times 0.1, less pi 0.01
    assert laid["open_area"] == pytest.approx(24.9385, abs=1e-3)


def test_corners_are_no_warning(said: Said) -> None:
    """What is left round, or rounded off, is a warning without [inlay] and a note with one."""
    sharp = {"shape": "butterfly", "width": 40, "length": 60, "waist": 16, "depth": 5, "corner_radius": 0}
    for code in ("corner-tighter-than-bit", "corner-rounded-off"):
        assert [level for level, *_ in said(code, cut=sharp, tools=TOOLS)] == ["warning"]
        assert [level for level, *_ in said(code, cut=sharp, tools=TOOLS, inlay=PLUG)] == ["note"]
