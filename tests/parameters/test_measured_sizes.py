"""Measured sizes beyond the diameters of bit and bushing: where they may stand, what is computed, what is told."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.lengths import Measured
from jigtemplates.manifest import plain
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

JobWith = Callable[..., Job]
ReportWith = Callable[..., Report]
Said = Callable[..., list[tuple[str, str, str]]]
Call = Callable[..., Any]


def size(nominal: Any, is_really: Any) -> dict[str, Any]:
    """A size and its measurement, as a job has them."""
    return {"nominal": nominal, "measured": is_really}


ALL: dict[str, dict[str, Any]] = {
    "tools": {
        "bit": {
            "diameter": 8, "shank": size(8, 7.98), "cutting_length": size(40, 39), "overall_length": size(80, 79.6),
        },
        "bushing": {
            "diameter": 14, "bore": size(11, 10.9), "stem": size(5, 4.8),
            "nut": {"diameter": size(30, 29.7), "height": size(6, 6.1)},
        },
    },
    "plate": {"thickness": size(6, 5.8)},
    "work": {"thickness": size(40, 39.6), "height": size(90, 89.5), "length": size(600, 600.5)},
    "make": {"kerf": size(0.2, 0.18)},
    "fit": {"tenon": size(10, 9.9)},
}  # fmt: skip

MEASURED = {
    "tools.bit.shank": 7.98, "tools.bit.cutting_length": 39, "tools.bit.overall_length": 79.6,
    "tools.bushing.bore": 10.9, "tools.bushing.stem": 4.8, "tools.bushing.nut.diameter": 29.7,
    "tools.bushing.nut.height": 6.1, "plate.thickness": 5.8, "work.thickness": 39.6, "work.height": 89.5,
    "work.length": 600.5, "make.kerf": 0.18, "fit.tenon": 9.9,
}  # fmt: skip


def test_wherever_a_size_can_be_measured(job_with: JobWith) -> None:
    """Tools, their nut, plate, stock, kerf and tenon: each table is read, and its key kept with the measured size."""
    made = job_with(**ALL)
    assert {use.where: use.size.mm for use in made.measured} == MEASURED


def test_the_measured_size_is_computed_with(job_with: JobWith) -> None:
    """The resolved job has the measured ones."""
    made = job_with(**ALL)
    bit, bushing = made.tools.bit, made.tools.bushing
    assert (bit.shank, bit.cutting_length, bit.overall_length) == (7.98, 39, 79.6)
    assert (bushing.bore, bushing.stem) == (10.9, 4.8)
    assert bushing.nut is not None
    assert (bushing.nut.diameter.mm, bushing.nut.height.mm) == (29.7, 6.1)
    assert made.work is not None
    assert (made.plate.thickness, made.make.kerf, made.work.thickness) == (5.8, 0.18, 39.6)


def test_the_plunge_setting_uses_the_measured_plate(report_with: ReportWith) -> None:
    """5.8 mm and a cut of 28 mm: 33.8 mm."""
    assert report_with(**ALL).case.plunge_depth == pytest.approx(33.8)


def test_the_manifest_says_which_was_used(job_with: JobWith) -> None:
    """Key, measured size, nominal size and doubt; a job without any has an empty list."""
    thickness = {"nominal": "1/4 in", "measured": 6.2, "within": 0.05}
    told = plain(job_with(plate={"thickness": thickness}))
    assert told["measured"] == [
        {
            "where": "plate.thickness",
            "size": {
                "text": "6.2 mm",
                "mm": 6.2,
                "used": "measured",
                "nominal": {"text": "1/4 in", "mm": 6.35},
                "within": {"text": "0.05 mm", "mm": 0.05},
            },
        }
    ]
    assert plain(job_with())["measured"] == []


def test_what_a_profile_says(job_with: JobWith, tmp_path: Path) -> None:
    """Sizes of a named bushing, router and holder are kept at the keys that name them."""
    (tmp_path / "a.toml").write_text(
        'units = "mm"\n[bushings.mine]\ndiameter = { nominal = 14, measured = 13.97 }\n'
        "bore = { nominal = 11, measured = 10.9 }\n"
        '[routers.mine]\nbase = { shape = "round", diameter = { nominal = 150, measured = 149.6 } }\n'
        "travel = { nominal = 60, measured = 59 }\n"
        "[holders.mine]\nwidth = { nominal = 140, measured = 140.4 }\nheight = 140\nplay = 0.4\n",
        encoding="utf-8",
    )
    made = job_with(
        tools={"bit": "8 mm", "bushing": "mine", "router": "mine"},
        plate={"holder": "mine", "width": None, "height": None},
        profiles=Profiles([tmp_path]),
    )
    assert {use.where: use.size.mm for use in made.measured} == {
        "tools.bushing.diameter": 13.97, "tools.bushing.bore": 10.9, "tools.router.base.diameter": 149.6,
        "tools.router.travel": 59, "plate.holder.width": 140.4,
    }  # fmt: skip
    assert made.plate.width == 140.0  # 140.4 less the play


@pytest.mark.parametrize("tool", ["bit", "bushing"])
def test_a_tool_that_is_only_a_diameter(job_with: JobWith, tool: str) -> None:
    """Where a diameter may stand for a tool, a nominal and a measured one may."""
    tools = {"bit": "8 mm", "bushing": "14 mm"} | {tool: {"nominal": 9, "measured": 8.96, "within": 0.01}}
    found = getattr(job_with(tools=tools).tools, tool)
    assert isinstance(found.diameter, Measured)
    assert (found.diameter.mm, found.label) == (8.96, "9 mm")


def test_a_nominal_size_alone(job_with: JobWith) -> None:
    """A table without a measurement is a plain size, and not among the measured ones."""
    made = job_with(plate={"thickness": {"nominal": 6}})
    assert (made.plate.thickness, made.measured) == (6, ())


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        (
            "thickness = 6",
            "thickness = { nominal = 6, measured = 4.9 }",
            'plate.thickness.measured: "4.9 mm" is more than 1 mm from the nominal size, "6 mm" (measure again, or '
            "correct the nominal size)",
        ),
        (
            "thickness = 6",
            "thickness = { nominal = 6, mesured = 5.9 }",
            'plate.thickness: unknown key "mesured" (did you mean "measured"?)',
        ),
        (
            "thickness = 6",
            "thickness = { nominal = 0.1, measured = 0.05 }",
            'plate.thickness: "0.05 mm" is too small (write at least 0.1 mm; is the unit right?)',
        ),
        (
            'bit       = "3/8 in"',
            'bit = { measured = "9.5 mm" }',
            "tools.bit.nominal: is missing (size it is sold as; this stands on labels)",
        ),
        (
            'bit       = "3/8 in"',
            'bit = { nominal = "3/8 in", measured = "9,5 mm" }',
            'tools.bit.measured: "9,5 mm" is not a length (write 9.5 mm)',
        ),
        (
            "width  = 10",
            "width = { nominal = 10, measured = 9.9 }",
            "cut.width: a table is not a length (write a number, or text such as 9.5 mm or 3/8 in)",
        ),
        (
            'for = ["laser", "cnc", "paper"]',
            'for = ["laser"]\nkerf = { nominal = 0.2, measured = 2.4 }',
            'make.kerf.measured: "2.4 mm" is more than 1 mm from the nominal size, "0.2 mm" (measure again, or correct '
            "the nominal size)",
        ),
    ],
)
def test_each_fault_has_one_line(faults: Callable[..., tuple[str, ...]], old: str, new: str, line: str) -> None:
    """A table that cannot be right is one line at its key; what is wanted is not measured."""
    (found,) = faults((old, new))
    assert found.partition(": ")[2] == line


def test_it_is_said(said: Said) -> None:
    """A note names the key, the nominal and the measured size, and how good that is."""
    found = said("measured-size", plate={"thickness": {"nominal": "6 mm", "measured": "5.8 mm", "within": "0.1 mm"}})
    assert found == [
        (
            "note",
            "plate.thickness",
            "computed with the measured size: 6 mm nominal, measured 5.8 mm ± 0.1 mm",
        )
    ]


def test_the_facts_show_both(call: Call, rail: Path) -> None:
    """The plate is told by its nominal thickness and what was measured."""
    text = rail.read_text(encoding="utf-8").replace("thickness = 6", "thickness = { nominal = 6, measured = 5.8 }")
    rail.write_text(text, encoding="utf-8")
    assert "6 mm nominal, measured 5.8 mm mdf" in " ".join(call("check", "rail.toml").out.split())


def test_a_table_on_the_command_line(call: Call, rail: Path) -> None:
    """`make --bit` takes the same table as a job; a fault names the option, a text that is no table is a name."""
    assert call("make", "rail.toml", "--bit", '{ nominal = "3/8 in", measured = 9.48 }').status == 0
    made = json.loads((rail.parent / "templates" / "rail" / "rail.json").read_text(encoding="utf-8"))
    assert made["job"]["tools"]["bit"]["diameter"]["used"] == "measured"
    assert [use["where"] for use in made["job"]["measured"]] == ["tools.bit.diameter"]
    assert call("make", "rail.toml", "--bit", '{ nominal = "3/8 in", measured = "9,48" }').faults == [
        '--bit: "9,48" is not a length (write 9.48)'
    ]
    assert (
        call("make", "rail.toml", "--bushing", "{ x")
        .faults[0]
        .startswith('--bushing: "{ x" is neither a length nor a guide bushing in the profiles')
    )


def test_a_table_for_a_tool_in_text() -> None:
    """The loader takes the text as well; a whole tool in { } too."""
    tool = '{ diameter = { nominal = "8 mm", measured = "7.95 mm" }, shank = "8 mm" }'
    text = (
        'title = "t"\n[cut]\nshape = "round"\ndiameter = "20 mm"\ndepth = "5 mm"\n[tools]\nbit = "1/4 in"\n'
        'bushing = "1/2 in"\n[plate]\nwidth = "90 mm"\nheight = "90 mm"\nthickness = "6 mm"\n'
    )
    made = job_from_text(text, profiles=Profiles(), bit=tool)
    assert (made.tools.bit.diameter.mm, made.tools.bit.shank) == (7.95, 8.0)
