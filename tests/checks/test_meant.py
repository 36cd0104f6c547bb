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


def in_inches(x: Any = 70, y: Any = 70, thickness: Any = 0.25) -> list[tuple[str, str, str]]:
    """Code, key and sentence of what is asked about the sizes of a job in inches."""
    text = (
        'title = "t"\nunits = "in"\n[cut]\nshape = "slot"\nwidth = "3/8"\nlength = 2\ndepth = "1/2"\n'
        f'x = {x}\ny = {y}\n[tools]\nbit = "1/4 in"\nbushing = "5/8 in"\nclearance = 0.004\n'
        f'[plate]\nwidth = "5-1/2"\nheight = 4\nthickness = {thickness}\n'
    )
    asked = ("opening-off-plate", "thickness-unlikely")
    return [(one.code, one.where, one.message) for one in report_on(job_from_text(text)).findings if one.code in asked]


@pytest.mark.parametrize(
    ("x", "y", "meant"),
    [
        (70, 70, '; if 70 mm is meant, not 70 in: write "70 mm"'),
        (70, 45.5, '; if 70 mm and 45.5 mm are meant, not 70 in and 45.5 in: write "70 mm" and "45.5 mm"'),
        (70, 2, '; if 70 mm is meant, not 70 in: write "70 mm"'),
        (2, 6, '; if 6 mm is meant, not 6 in: write "6 mm"'),
        (70, 110, ""),  # not on a plate of 4 in, as mm either
        (5.25, 2, ""),  # its middle lies on the plate
        ('"1778 mm"', 2, '; if 70 mm is meant, not 70 in: write "70 mm"'),  # as good as never written so
    ],
)
def test_a_place_that_would_fit_in_mm(x: Any, y: Any, meant: str) -> None:
    """A middle beyond the plate, in a job in inches: mm may be meant, where it would lie on the plate so."""
    ((code, where, sentence),) = in_inches(x, y)
    assert (code, where) == ("opening-off-plate", "cut.x")
    assert sentence == OFF + meant


def test_a_plate_no_template_has(said: Said) -> None:
    """Thicker than 2 in is a warning in either unit, and mm are suggested where the number is one of them."""
    thick = "the plate is 6 in (152.4 mm) thick, and no template is thicker than about 2 in (50.8 mm): look at "
    assert in_inches(2, 2, 6) == [
        (
            "thickness-unlikely",
            "plate.thickness",
            thick + 'plate.thickness; if 6 mm is meant, not 6 in: write "6 mm"',
        )
    ]
    assert in_inches(2, 2, 12.7)[0][2].endswith('if 12.7 mm is meant, not 12.7 in: write "12.7 mm"')
    assert in_inches(2, 2, 51)[0][2].endswith(": look at plate.thickness")
    assert in_inches(2, 2, 2) == []
    assert said("thickness-unlikely", plate={"thickness": 51}) == [
        (
            "warning",
            "plate.thickness",
            "the plate is 51 mm thick, and no template is thicker than about 50.8 mm: look at plate.thickness",
        )
    ]
