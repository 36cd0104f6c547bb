"""What is to be looked at before a template is printed."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import report_on

Said = Callable[..., list[tuple[str, str, str]]]
OnBench = Callable[..., dict[str, Any]]

PRINT: dict[str, Any] = {"for": ["print"]}


def printing(**keys: Any) -> dict[str, Any]:
    """The [make] table of a printed template, with keys of its print table."""
    return {"for": ["print"], "print": keys}


CODES = (
    "print-extra-missing", "printed-edge", "opening-allowance-not-set", "label-too-deep", "small-print", "raised-label",
    "countersink-through", "print-bed", "print-turned-over",
)  # fmt: skip


@pytest.mark.parametrize("code", CODES)
def test_nothing_where_nothing_is_printed(said: Said, code: str) -> None:
    """A job for laser, CNC and paper hears nothing of it, whatever its print table says."""
    assert said(code, plate={"width": 300}, make={"print": {"label": "raised"}}) == []


def test_heat_and_wear(said: Said) -> None:
    """Every printed template comes with a warning about its guided edge; one that guides nothing has none."""
    assert said("printed-edge", make=PRINT) == [
        (
            "warning",
            "plate",
            "the metal bushing rubs on the printed edge, and PLA softens from about 55 °C: feed steadily, never let "
            "the bushing rub in one place, look at the edge before every job and print a new plate when it is worn or "
            "glazed; PETG and ABS bear more heat",
        )
    ]
    assert said("printed-edge", make=PRINT, tools={"bit": 12}) == []


def test_the_extra_is_missing(said: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without manifold3d a printed template stops, and the line says how to install it."""
    assert said("print-extra-missing", make=PRINT) == []
    monkeypatch.setattr("jigtemplates.checks.printing.find_spec", lambda name: None)
    assert said("print-extra-missing", make=PRINT) == [
        (
            "stop",
            "make.for",
            "files for a 3D printer need the package manifold3d: install it with pip install 'jigtemplates[print]', or "
            "leave print out of make.for",
        )
    ]
    assert said("print-extra-missing") == []


def test_openings_as_drawn(said: Said) -> None:
    """Until an allowance was measured a note says what to do; with one there is none."""
    assert said("opening-allowance-not-set", make=PRINT) == [
        (
            "note",
            "make.print.opening_allowance",
            "openings are printed as drawn, and most printers make them 0.1 to 0.3 mm too narrow: scrape the first "
            "layer's bulge off the lower edge, try the bushing in it, and set make.print.opening_allowance to what is "
            "missing (the running clearance is 0.1 mm)",
        )
    ]
    assert said("opening-allowance-not-set", make=printing(opening_allowance=0.15)) == []


def test_a_printed_job_in_inches() -> None:
    """Allowances and what is usual are said in inches first."""
    report = report_on(job_from_text(INCHES, name="rail", profiles=Profiles()))
    found = {(f.where, f.code): f.message for f in report.findings}
    usual = found["make.print.opening_allowance", "opening-allowance-not-set"]
    assert "most printers make them 0.004 to 0.012 in (0.1 to 0.3 mm) too narrow" in usual
    assert usual.endswith("(the running clearance is 0.004 in (0.102 mm))")
    assert found["make.print.allowance", "assumed"] == (
        'screw holes are printed 0.008 in (0.2 mm) wider, taken from the process profile "print"'
    )


INCHES = """\
title = "Rail"
units = "in"
cut = { shape = "slot", width = "1/2 in", length = 2, depth = "3/4 in" }
tools = { bit = "3/8 in", bushing = "5/8 in", clearance = 0.004 }
plate = { width = 6, height = 6, thickness = "1/4 in" }
make = { for = ["print"] }
"""


def test_allowances_from_the_profile(said: Said) -> None:
    """What the profile gives is said; what the job gives is not."""
    sentence = 'screw holes are printed 0.2 mm wider, taken from the process profile "print"'
    assert ("note", "make.print.allowance", sentence) in said("assumed", make=PRINT)
    assert [where for _, where, _ in said("assumed", make=printing(allowance=0.1))] == ["tools.bushing"]


def test_letters_too_deep(said: Said) -> None:
    """Letters or marks deeper than half the plate stop; half is allowed; raised ones sink nothing but the marks."""
    assert said("label-too-deep", plate={"thickness": 2}, make=printing(label_depth=1.1)) == [
        (
            "stop",
            "make.print.label_depth",
            "letters and marks 1.1 mm deep leave less than half of the plate, which is 2 mm thick: at most 1 mm",
        )
    ]
    assert said("label-too-deep", plate={"thickness": 2}, make=printing(label_depth=1)) == []
    assert len(said("label-too-deep", plate={"thickness": 2}, make=printing(label_depth=1.1, label="none"))) == 1


def test_small_letters(said: Said) -> None:
    """Letters below 3 mm are near what a nozzle can do; larger ones and none at all are not spoken of."""
    small = {"width": 90, "height": 60, "screws": None}
    cut = {"length": 50, "depth": 10}
    ((level, where, sentence),) = said(
        "small-print", "A long name, for a plate with little room", cut=cut, plate=small, make=PRINT
    )
    assert (level, where) == ("note", "plate.label")
    assert sentence.startswith("letters 2.5 mm high are near the limit of a 0.4 mm nozzle: slow the first and the last")
    assert said("small-print", make=PRINT) == []
    assert (
        said(
            "small-print",
            "A long name, for a plate with little room",
            cut=cut,
            plate=small,
            make=printing(label="none"),
        )
        == []
    )


def test_raised_letters_without_a_router(said: Said) -> None:
    """Where no router is named it is not known whether its base comes over the letters: a warning."""
    assert said("raised-label", make=printing(label="raised")) == [
        (
            "warning",
            "make.print.label",
            'the letters stand 0.6 mm above the face, and lift a base that comes over them: label = "sunk" is safe '
            "anywhere; with tools.router named it is known how far the base reaches",
        )
    ]
    assert said("raised-label", make=PRINT) == []
    assert said("raised-label", plate={"label": False}, make=printing(label="raised")) == []


def test_raised_letters_under_the_base(said: Said, on_bench: OnBench) -> None:
    """A base of 150 runs over letters beside the opening and stops; on a large plate they can stand clear of it."""
    ((level, where, sentence),) = said("raised-label", **on_bench(make=printing(label="raised")))
    assert (level, where) == ("stop", "make.print.label")
    assert sentence.startswith("the letters stand 0.6 mm above the face, and the router's base reaches ")
    assert sentence.endswith('beyond their nearest edge, so it rides up on them: label = "sunk", or a larger plate')
    assert said("raised-label", **on_bench(make=PRINT)) == []
    far = {"width": 300, "height": 300}
    away = {"x": 220, "y": 220}
    assert (
        said("raised-label", **on_bench({"base": SMALL_BASE}, cut=away, plate=far, make=printing(label="raised"))) == []
    )


#: A base smaller than a router's, so that letters can stand clear of it.
SMALL_BASE = '{ shape = "round", diameter = 60 }'


def test_a_rectangular_base_reaches_to_its_corners(said: Said, on_bench: OnBench) -> None:
    """60 x 80 reaches 50, as round one of 100 does: the same number of millimetres over the letters."""
    sentences = [
        said("raised-label", **on_bench({"base": base}, make=printing(label="raised")))[0][2]
        for base in ('{ shape = "rectangle", width = 60, depth = 80 }', '{ shape = "round", diameter = 100 }')
    ]
    assert sentences[0] == sentences[1]


def test_raised_letters_without_an_opening(said: Said, on_bench: OnBench) -> None:
    """Where the bit does not fit there is no path to look at."""
    assert said("raised-label", **on_bench(tools={"bit": 12}, make=printing(label="raised"))) == []


def test_countersinks_through_the_plate(said: Said) -> None:
    """M5: a head of 11.2 over a hole of 5.5 at 90 degrees is 2.85 deep: through a plate of 2.8, not of 2.9."""
    screws = {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}
    assert said("countersink-through", plate={"thickness": 2.8, "screws": screws}, make=PRINT) == [
        (
            "warning",
            "plate.screws",
            "the countersinks would be 2.85 mm deep and the plate is 2.8 mm thick, so they come out below as wider "
            'holes: take a thicker plate or smaller screws, or hole = "clearance"',
        )
    ]
    assert said("countersink-through", plate={"thickness": 2.9, "screws": screws}, make=PRINT) == []
    assert said("countersink-through", plate={"thickness": 2.8}, make=PRINT) == []


def test_the_printers_bed(said: Said) -> None:
    """A plate longer than 220 mm is more than most beds take; 220 is not."""
    assert said("print-bed", plate={"width": 220.5}, make=PRINT) == [
        (
            "note",
            "make.for",
            "the plate is 220.5 mm long, longer than the bed of most printers: see that it lies on yours before you "
            "print it",
        )
    ]
    assert said("print-bed", plate={"width": 220, "height": 100}, make=PRINT) == []


def test_a_rebate_hangs_in_the_air(said: Said) -> None:
    """A rebated plate is printed face down; one without a rebate as it lies."""
    holder = {"holder": "quay-frame-160", "width": None, "height": None, "screws": None}
    rebated = {**holder, "thickness": 9, "rebate": True}
    assert said("print-turned-over", plate=rebated, make=PRINT) == [
        (
            "note",
            "plate.rebate",
            "the edge over the rebate would hang in the air: turn the plate over in the printer's program, so that its "
            "upper face is printed first",
        )
    ]
    assert said("print-turned-over", plate=rebated, make=printing(label="raised")) == [
        (
            "warning",
            "make.print.label",
            "the plate has a rebate below and letters raised above, so one of the two hangs in the air while it is "
            'printed: label = "sunk", and turn the plate over in the printer\'s program',
        )
    ]
    unlettered = said("print-turned-over", plate={**rebated, "label": False}, make=printing(label="raised"))
    assert [level for level, _, _ in unlettered] == ["note"]
    assert said("print-turned-over", make=PRINT) == []
