"""Sizes read in inches that may be meant in millimetres: said only where they would fit so."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.report import report_on
from tests.conftest import RAIL

Said = Callable[..., list[tuple[str, str, str]]]

OFF = "the opening does not lie on the plate: move it, or make the plate larger"


def test_a_length_that_would_fit_in_mm(said: Said) -> None:
    """A slot 50 in long on a plate of 140 mm: 50 mm may be meant."""
    assert said("opening-off-plate", cut={"length": "50 in"}) == [
        ("stop", "cut.x", f'{OFF}; if 50 mm is meant, not 50 in: write "50 mm"')
    ]


@pytest.mark.parametrize(
    ("cut", "meant"),
    [
        (
            {"width": "10 in", "length": "50 in"},
            '; if 10 mm and 50 mm are meant, not 10 in and 50 in: write "10 mm" and "50 mm"',
        ),
        ({"width": "5 in", "length": "50 in"}, ""),  # neither is 5 mm: the bit is wider
        ({"width": "2 in", "length": "50 in"}, ""),  # 50 mm are less than 2 in
        ({"length": "130.5 in"}, '; if 130.5 mm is meant, not 130.5 in: write "130.5 mm"'),
        ({"length": "138 in"}, ""),  # with the offset wider than the plate even so
        ({"length": "50-1/2 in"}, ""),  # no one writes mm so
        ({"length": 500}, ""),
        ({"x": "50 in"}, ""),  # the sizes fit
        ({"shape": "round", "diameter": "50 in", "depth": 5}, '; if 50 mm is meant, not 50 in: write "50 mm"'),
    ],
)  # fmt: skip
def test_only_where_it_would_fit(said: Said, cut: dict[str, Any], meant: str) -> None:
    """As mm the cut must be one for the bit and the plate, and be written as mm are."""
    ((_, _, sentence),) = said("opening-off-plate", cut=cut)
    assert sentence == OFF + meant


def test_the_width_too_where_the_plate_is_wide(said: Said) -> None:
    """On a plate of 12 in a width of 10 in fits, but not with a length of 50 mm: both are meant in mm."""
    plate = {"width": "12 in", "height": "12 in"}
    ((_, _, sentence),) = said("opening-off-plate", cut={"width": "10 in", "length": "50 in"}, plate=plate)
    assert sentence.endswith('write "10 mm" and "50 mm"')


def test_each_of_several_cuts() -> None:
    """The sizes of the cut that is off are looked at."""
    text = RAIL.replace("[cut]", "[[cut]]\nx = 40").replace(
        "[tools]", '[[cut]]\nshape = "slot"\nwidth = 10\nlength = "60 in"\ndepth = 20\nx = 100\n[tools]'
    )
    found = [one for one in report_on(job_from_text(text)).findings if one.code == "opening-off-plate"]
    assert [(one.where, one.message.partition(";")[2]) for one in found] == [
        ("cut 2.x", ' if 60 mm is meant, not 60 in: write "60 mm"')
    ]


def test_a_depth_no_router_has(said: Said) -> None:
    """Deeper than 4 in is a warning in either unit, and mm are suggested where the number is one of them."""
    assert said("depth-unlikely", cut={"depth": "28 in"}) == [
        (
            "warning",
            "cut.depth",
            "the cut is 711.2 mm deep, and no hand-held router plunges deeper than about 101.6 mm: look at cut.depth; "
            'if 28 mm is meant, not 28 in: write "28 mm"',
        )
    ]
    for depth in (102, "102 in", "28-1/2 in"):
        ((_, _, sentence),) = said("depth-unlikely", cut={"depth": depth})
        assert sentence.endswith("look at cut.depth")
    assert said("depth-unlikely", cut={"depth": 101}) == []
