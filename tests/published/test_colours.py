"""Colours of the lines: a published palette that people with any kind of colour vision tell apart."""

import pytest
from published import Published, table
from sources import OKABE_ITO

from jigtemplates.profiles import Profiles


def colour(name: str, value: str, role: str) -> Published:
    return Published(name, value, OKABE_ITO, role, value)


#: The role that laser and CNC router draw in it.
COLOURS = (
    colour("vermillion", "#D55E00", "cut_outside"),
    colour("blue", "#0072B2", "cut_inside"),
    colour("bluish green", "#009E73", "drill"),
    colour("black", "#000000", "engrave"),
    colour("orange", "#E69F00", "mark"),
)

#: What only the CNC router draws.
POCKETS = (colour("reddish purple", "#CC79A7", "pocket"),)

#: The rest of the palette: sky blue and yellow.
OTHERS = {"#56B4E9", "#F0E442"}


@pytest.mark.parametrize("name", ["laser", "cnc"])
@table(COLOURS)
def test_colour(row: Published, name: str) -> None:
    """The role's pen has it."""
    assert Profiles().find("processes", name).entry.roles.drawn()[row.given].colour == row.value


@table(POCKETS)
def test_pocket(row: Published) -> None:
    """The CNC router's pockets have it, and a laser has no pockets."""
    assert Profiles().find("processes", "cnc").entry.roles.drawn()[row.given].colour == row.value
    assert row.given not in Profiles().find("processes", "laser").entry.roles.drawn()


def test_every_pen_is_of_the_palette() -> None:
    """No process draws in any other colour."""
    pens = [pen for found in Profiles().entries("processes") for pen in found.entry.roles.drawn().values()]
    assert len(pens) >= 18
    assert {pen.colour for pen in pens} <= {row.value for row in (*COLOURS, *POCKETS)} | OTHERS
