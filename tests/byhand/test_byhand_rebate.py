"""The rebate at a router table: fence and height for each bit, and what is said of a round plate."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.byhand import Table, by_hand, with_own_bits
from jigtemplates.byhand.rebate import RebateCut, rebate_cuts, rebate_tables
from jigtemplates.holders.box import Box
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.entries import Bit
from jigtemplates.profiles import Profiles
from jigtemplates.rebate import Rebate
from jigtemplates.report import Report

REBATE = Rebate(width=21.0, depth=3.0, edge=6.0, middle=Box(117.6, 117.6))


def bit(diameter: str) -> Bit:
    """A straight bit of which nothing else is known."""
    return Bit.model_construct(name=None, diameter=parse_length(diameter), cutting_length=None)


@pytest.fixture
def held(report_with: Callable[..., Report], tmp_path: Path) -> Callable[..., Report]:
    """A rebated plate of 9 mm in a holder of 160 x 160 mm with a ledge of 20 mm, its corners as round as given."""

    def build(corner_radius: float = 0, **plate: Any) -> Report:
        keys = "width = 160\nheight = 160\nplay = 0.4\ndepth = 6\nledge = 20\nstand_off = 9\n"
        text = f'units = "mm"\n[holders.frame]\n{keys}corner_radius = {corner_radius}\n'
        (tmp_path / "own.toml").write_text(text, encoding="utf-8")
        given = {"holder": "frame", "width": None, "height": None, "screws": None, "thickness": 9, "rebate": True}
        return report_with(profiles=Profiles([tmp_path]), plate={**given, **plate})

    return build


def test_a_bit_wider_than_the_rebate_takes_one_setting() -> None:
    """A bit of 25 mm stands 21 mm in front of the fence, 3 mm high."""
    assert rebate_cuts(REBATE, [bit("25 mm")]) == (RebateCut("25 mm", (21.0,), 3.0),)


def test_a_narrow_bit_takes_several_in_equal_steps() -> None:
    """A bit of 8 mm comes to 21 mm in three steps of 7 mm; one of 21 mm in one."""
    (wide, narrow) = rebate_cuts(REBATE, [bit("8 mm"), bit("21 mm")])
    assert (wide.bit, wide.fences) == ("21 mm", (21.0,))
    assert (narrow.bit, narrow.fences) == ("8 mm", (7.0, 14.0, 21.0))


def test_the_table_stands_behind_the_others(held: Callable[..., Report]) -> None:
    """The last table of the plan page, with the job's bit; how it is measured, and in which order."""
    table = with_own_bits(held(), ()).tables()[-1]
    assert table == Table(
        "The rebate round the underside, at a router table",
        ("bit", "fence to far side", "height", "settings"),
        (("3/8 in", "21 mm", "3 mm", "3, before it at 7 mm, 14 mm"),),
        (
            "Measured from the fence to the bit's far side, the one towards you, and from the table to its end.",
            "Rout it before the opening, while the plate is whole, all four edges, upper face up, fed from right to "
            "left. Bury the rest of the bit in the fence, and take no more at a time than the bit likes.",
            "Or on the CNC router, with the underside's own file: seen from below; (0, 0) lies 5 mm left of and 5 mm "
            "below the plate's corner, as far as the pocket overruns; overall 10 mm more than the plate each way.",
        ),
    )


def test_inches(held: Callable[..., Report]) -> None:
    """In a job in inches the distances have the nearest 1/64."""
    (table,) = rebate_tables(held().template, [bit("1 in")], True)
    assert table.rows == (("1 in", "0.827 in ≈ 53/64", "0.118 in ≈ 1/8", "1"),)


def test_a_round_plate(held: Callable[..., Report]) -> None:
    """It finds no fence; the reason stands alone."""
    table = by_hand(held(80), [bit("1 in")]).tables()[-1]
    assert table.rows == ()
    assert table.notes == (
        "The plate is round and finds no fence: turn it on a pin in its middle, or rout round it with a bearing.",
    )


def test_no_table_without_a_rebate(held: Callable[..., Report]) -> None:
    """Any other plate has the tables it had."""
    titles = [table.title for table in by_hand(held(rebate=False), [bit("1 in")]).tables()]
    assert "The rebate round the underside, at a router table" not in titles
    assert rebate_tables(held(rebate=False).template, [bit("1 in")], False) == ()
