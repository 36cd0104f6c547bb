"""Plates on sheets: distances from profile or command line, grain, shares, what did not fit and why."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.lengths import parse_length
from jigtemplates.report import Report
from jigtemplates.sheets.choice import choice_of
from jigtemplates.sheets.laying import faults_of, lay, rules_for
from jigtemplates.sheets.plates import Group

from .conftest import group_of, laid, process

Make = Callable[..., Report]


@pytest.fixture
def plates(report_with: Make) -> Callable[..., Group]:
    """plates((140, 90), copies=4, material="plywood"): a group of plates of that size, for the laser."""

    def made(*sizes: tuple[float, float], copies: int = 1, target: str = "laser", material: str = "mdf") -> Group:
        reports = [
            report_with(
                name=f"p{number}",
                cut={"length": 40},
                plate={"width": width, "height": height, "screws": None, "material": material},
                make={"for": [target]},
            )
            for number, (width, height) in enumerate(sizes, 1)
        ]
        return group_of(*reports, copies=copies)

    return made


def messages(layout: Any) -> list[str]:
    """What was found, as sentences."""
    return [finding.message for finding in layout.findings]


def test_margin_and_gap_are_those_of_the_process(plates: Callable[..., Group]) -> None:
    """Laser: 5 mm from the edges and 3 mm between two; CNC router: 15 and 8 mm."""
    for target, first, second in (("laser", 5.0, 128.0), ("cnc", 15.0, 143.0)):
        (sheet,) = laid(plates((120, 140), copies=2, target=target), "600x200").sheets
        assert [(one.x, one.y) for one in sheet.plates] == [(first, first), (second, first)]


def test_margin_and_gap_of_the_command_line_come_first(plates: Callable[..., Group]) -> None:
    """--gap 10 mm --margin 0 mm: at the sheet's very corner, and 10 mm on."""
    (sheet,) = laid(plates((140, 120), copies=2), "290x120", gap="10 mm", margin="0 mm").sheets
    assert [(one.x, one.y) for one in sheet.plates] == [(0.0, 0.0), (150.0, 0.0)]


def test_share_reach_and_rest(plates: Callable[..., Group]) -> None:
    """Two plates of 120 x 140 on 600 x 160: 33600 of 96000 mm²; what is left whole begins a gap beyond them."""
    (sheet,) = laid(plates((120, 140), copies=2), "600x160").sheets
    assert sheet.share == pytest.approx(33600 / 96000)
    assert sheet.reach == (248.0, 145.0)
    assert sheet.rest == (600 - 248 - 3, 160.0)
    (low,) = laid(plates((560, 40), copies=1), "600x300").sheets
    assert low.rest == (600.0, 300 - 45 - 3)


def test_several_sheets_are_numbered(plates: Callable[..., Group]) -> None:
    """Five plates of 280 x 180 on 600 x 400, four on each: sheets 1 and 2, nothing left."""
    layout = laid(plates((280, 180), copies=5))
    assert [(sheet.number, len(sheet.plates)) for sheet in layout.sheets] == [(1, 4), (2, 1)]
    assert layout.findings == ()


def test_the_machine_goes_there_and_back(plates: Callable[..., Group]) -> None:
    """Rows from below, the second one from right to left."""
    (sheet,) = laid(plates((180, 120), copies=6, material="plywood"), "560x400").sheets
    assert [(one.x, one.y) for one in sheet.plates] == [
        (5.0, 5.0), (188.0, 5.0), (371.0, 5.0), (371.0, 128.0), (188.0, 128.0), (5.0, 128.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("material", "grain", "turned"),
    [
        ("mdf", None, True),  # has none: turned where that helps
        ("plywood", None, None),  # has one: not turned, so not laid
        ("plywood", "any", True),
        ("mdf", "along", None),
        ("mdf", "across", True),
    ],
)
def test_grain(plates: Callable[..., Group], material: str, grain: str | None, turned: bool | None) -> None:
    """A plate of 140 x 300 on a sheet of 400 x 160 lies only turned by a quarter."""
    layout = laid(plates((140, 300), material=material), "400x160", grain=grain)
    assert [one.turned for sheet in layout.sheets for one in sheet.plates] == ([] if turned is None else [turned])
    assert bool(layout.findings) is (turned is None)


def test_across_turns_all(plates: Callable[..., Group]) -> None:
    """--grain across: each by a quarter, though they would fit as drawn."""
    (sheet,) = laid(plates((200, 100), copies=2), grain="across").sheets
    assert [(one.turned, one.size) for one in sheet.plates] == [(True, (100.0, 200.0))] * 2


def test_what_is_too_large_says_by_how_much(plates: Callable[..., Group]) -> None:
    """A plate of 300 x 200 for 280 x 190 less 5 mm at each edge; the smaller one is laid."""
    layout = laid(plates((300, 200), (140, 100)), "280x190")
    assert messages(layout) == [
        "p1 not laid: 300 x 200 mm is 30 mm too wide and 20 mm too high for a sheet of 280 x 190 mm, of which 5 mm at "
        "each edge stays free"
    ]
    assert [(one.level.value, one.code, one.where) for one in layout.findings] == [
        ("stop", "larger-than-sheet", "--stock")
    ]
    assert [one.plate.name for sheet in layout.sheets for one in sheet.plates] == ["p2"]


def test_too_large_for_its_grain(plates: Callable[..., Group]) -> None:
    """It would fit turned: the line says why it is not. Of two sizes the nearest is told."""
    layout = laid(plates((140, 300), material="plywood", copies=2), ["50x50", "400x160"], margin="0 mm")
    assert messages(layout) == [
        "2 of p1 not laid: 140 x 300 mm is 140 mm too high for a sheet of 400 x 160 mm, and is not turned because of "
        "the grain (--grain any turns it)"
    ]


def test_inches_are_said_first_where_the_stock_is_in_inches(plates: Callable[..., Group]) -> None:
    """Sizes and what is missing in inches, mm in brackets."""
    layout = laid(plates((254, 127)), "8 x 8 in", margin="1/4 in")
    assert messages(layout) == [
        "p1 not laid: 10 x 5 in is 2-1/2 in (63.5 mm) too wide for a sheet of 8 x 8 in, of which 1/4 in (6.35 mm) at "
        "each edge stays free"
    ]


def test_full_sheets_are_told(plates: Callable[..., Group]) -> None:
    """Of one sheet for four plates and six plates two are left over."""
    layout = laid(plates((280, 180), copies=6), "600x400*1")
    assert messages(layout) == ["2 of p1 not laid: the sheets there are, are full (give more, or leave out the *COUNT)"]
    assert [one.code for one in layout.findings] == ["sheets-full"]


def test_a_sheet_of_margins_alone_takes_nothing(plates: Callable[..., Group]) -> None:
    """Margins wider than the sheet leave no room, which is a line and no crash."""
    layout = laid(plates((140, 100)), "100x100", margin="60 mm")
    assert layout.sheets == ()
    assert messages(layout)[0].startswith("p1 not laid: 140 x 100 mm is 160 mm too wide and 120 mm too high")


@pytest.mark.parametrize(
    ("target", "changes", "options", "faults"),
    [
        ("laser", {}, {}, []),
        ("cnc", {}, {"gap": "6 mm"}, []),
        (
            "cnc",
            {},
            {"gap": "5.9 mm"},
            [
                "--gap: 5.9 mm is less than the cutter that goes round the plates, 6 mm, which would cut into their "
                'neighbours (write at least 6 mm, or your own cutter in the profile of the process "cnc")'
            ],
        ),
        (
            "cnc",
            {"gap": parse_length("2 mm")},
            {},
            [
                "shipped: processes.cnc.gap: 2 mm is less than the cutter that goes round the plates, 6 mm, which "
                "would cut into their neighbours (write at least 6 mm, or your own cutter in the profile of the "
                'process "cnc")'
            ],
        ),
        ("cnc", {"cutter": None}, {"gap": "2 mm"}, []),
        (
            "laser",
            {"gap": None, "margin": None},
            {},
            [
                'shipped: processes.laser: gap is missing (write it there, such as gap = "5 mm", or give --gap "5 mm")',
                'shipped: processes.laser: margin is missing (write it there, such as margin = "5 mm", or give '
                '--margin "5 mm")',
            ],
        ),
    ],
)
def test_faults_of_distances(
    plates: Callable[..., Group], target: str, changes: Any, options: Any, faults: list[str]
) -> None:
    """A gap in which a tool spoils the neighbour is refused, and so is one that nobody gave."""
    group, choice = plates((140, 100), target=target), choice_of(stocks=["600x400"], **options)
    assert list(faults_of(group, choice, process(group.machine, **changes))) == faults


def test_a_gap_of_less_than_two_kerfs(report_with: Make) -> None:
    """0.4 mm hold two kerfs of 0.2 mm, 0.3 mm do not."""
    group = group_of(report_with(make={"for": ["laser"], "kerf": 0.2}))
    assert list(faults_of(group, choice_of(stocks=["600x400"], gap="0.4 mm"), process("laser"))) == []
    assert list(faults_of(group, choice_of(stocks=["600x400"], gap="0.3 mm"), process("laser"))) == [
        "--gap: 0.3 mm is less than two kerfs of 0.2 mm: nothing is left between two plates (write 3 mm)"
    ]


@pytest.mark.parametrize(("gap", "said"), [("12 mm", False), ("13 mm", True), ("17.9 mm", True), ("18 mm", False)])
def test_strips_that_may_come_loose(plates: Callable[..., Group], gap: str, said: bool) -> None:
    """Two passes of a 6 mm cutter take 12 mm of a gap; what is left of it holds from 6 mm on."""
    layout = laid(plates((140, 100), copies=2, target="cnc"), gap=gap)
    assert [one.code for one in layout.findings] == (["loose-strips"] if said else [])
    assert laid(plates((140, 100), target="cnc"), gap=gap).findings == ()  # one plate has no neighbour
    if gap == "13 mm":
        assert messages(layout) == [
            "mdf-6mm: between two plates the cutter leaves strips of 1 mm, which may come loose while it runs: a gap "
            "of at most 12 mm leaves none, one of 18 mm leaves strips that hold"
        ]


def test_straight_cuts_reach_the_packing(plates: Callable[..., Group]) -> None:
    """A pinwheel of plates in plywood takes one sheet, and two where a saw is to part it."""
    group = plates((200, 100), (100, 200), (201, 100), (100, 201), (99, 99), material="plywood")
    options = {"margin": "0 mm", "gap": "0 mm"}
    free = lay(group, choice_of(stocks=["301x301"], **options), process("laser"))
    sawn = lay(group, choice_of(stocks=["301x301"], straight_cuts=True, **options), process("laser"))
    assert (len(free.sheets), len(sawn.sheets)) == (1, 2)


def test_rules(plates: Callable[..., Group]) -> None:
    """What the layout went by is kept with it."""
    rules = rules_for(plates((140, 100), material="plywood"), choice_of(stocks=["1x1"]), process("laser"))
    assert (rules.gap, rules.margin, rules.may_turn, rules.turned) == (3.0, 5.0, False, False)
