"""Openings for slots and mortises that magazines, forums and common practice have worked out."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from published import Published, inch, table
from sources import PRACTICE, RF_MORTISE, WWJ_1993

from jigtemplates.geometry.outline import Region
from jigtemplates.geometry.shapes import slot
from jigtemplates.match import Wanted, match
from jigtemplates.opening import opening_for
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.report import Report
from jigtemplates.routing import route

#: Bushing, bit and width of the opening as they are written; width of the cut, and side play.
OPENINGS = (
    Published(
        "1/2 in slot and bushing, 3/8 in bit", "mortise 3/8 in", RF_MORTISE, ("1/2 in", "3/8 in", "1/2 in"), inch("3/8")
    ),
    Published(
        "7/16 in slot and bushing, 1/8 in bit", "as the bit", WWJ_1993, ("7/16 in", "1/8 in", "7/16 in"), inch("1/8")
    ),
    Published(
        "7/16 in slot and bushing, 1/4 in bit", "as the bit", WWJ_1993, ("7/16 in", "1/4 in", "7/16 in"), inch("1/4")
    ),
    Published(
        "7/16 in slot and bushing, 5/16 in bit", "as the bit", WWJ_1993, ("7/16 in", "5/16 in", "7/16 in"), inch("5/16")
    ),
    Published(
        "3/8 in slot and bushing, 1/4 in bit", "mortise 1/4 in", PRACTICE, ("3/8 in", "1/4 in", "3/8 in"), inch("1/4")
    ),
    Published("13.5 mm slot, 13 mm bushing, 9.5 mm bit", "mortise 10 mm", PRACTICE, ("13 mm", "9.5 mm", "13.5 mm"), 10),
)


def sizes(row: Published) -> list[float]:
    return [inch(text[:-3]) if text.endswith(" in") else float(text[:-3]) for text in row.given]


@table(OPENINGS)
def test_opening(row: Published) -> None:
    """Routed, the opening cuts the published width; for that cut it is the opening."""
    bushing, bit, width = sizes(row)
    opening = (Region(slot(60, width)),)
    (cut,) = route(opening, bit, bushing)
    assert (cut.bounds.height, cut.bounds.width) == pytest.approx((row.value, 60 - bushing + bit), abs=1e-9)
    (again,) = opening_for((cut,), bit, bushing)
    assert again.bounds == pytest.approx(opening[0].bounds, abs=1e-9)


@pytest.mark.parametrize("clearance", [0.0, 0.1])
@table(OPENINGS)
def test_opening_matched(row: Published, clearance: float) -> None:
    """`match` finds it for the cut; a trapped pair needs the running clearance, and its cut is wider by it."""
    bushing, _, width = sizes(row)
    tools = [Bit.model_validate({"diameter": row.given[1]})], [Bushing.model_validate({"diameter": row.given[0]})]
    (found,) = match(Wanted(row.value, 60.0), *tools, plate_thickness=None, clearance=clearance)
    assert found.opening is not None
    assert found.predicted is not None
    more = clearance if width == bushing else 0.0
    assert (found.opening.width, found.predicted.width) == pytest.approx((width + more, row.value + more))
    assert found.trapped is (width == bushing)
    assert ("trapped: one pass makes the width" in found.reasons) is found.trapped


@table(OPENINGS)
def test_opening_reported(report_with: Callable[..., Report], row: Published) -> None:
    """A job for the cut gets it, without clearance."""
    tools = {"bit": row.given[1], "bushing": row.given[0], "clearance": 0}
    report = report_with(tools=tools, cut={"width": row.value})
    size, cut = report.template.opening_size, report.predicted
    assert size is not None
    assert cut is not None
    assert (size.width, cut.width) == pytest.approx((sizes(row)[2], row.value), abs=1e-6)


#: What `drawer` says of each, 60.325 mm long; inches come first. That a bushing without running clearance binds is
#: ours to say.
BINDS = ": the bushing will bind in it"
SAYS = (
    "cuts 3/8 x 2-1/4 in (9.525 x 57.15 mm), side play 0 in (0 mm)" + BINDS,
    "cuts 1/8 x 2-1/16 in (3.175 x 52.388 mm), side play 0 in (0 mm)" + BINDS,
    "cuts 1/4 x 2-3/16 in (6.35 x 55.563 mm), side play 0 in (0 mm)" + BINDS,
    "cuts 5/16 x 2-1/4 in (7.938 x 57.15 mm), side play 0 in (0 mm)" + BINDS,
    "cuts 1/4 x 2-1/4 in (6.35 x 57.15 mm), side play 0 in (0 mm)" + BINDS,
    "cuts 10 x 56.825 mm, side play 0.5 mm",
)


@table(OPENINGS)
def test_opening_in_the_drawer(here: Path, call: Callable[..., Any], row: Published) -> None:
    """The opening, typed by hand, is said to cut what the source says."""
    bushing, bit, width = row.given
    said = call("drawer", "--opening", f"{width} x 60.325 mm", "--with-bit", bit, "--with-bushing", bushing)
    assert (said.status, said.err) == (0, "")
    assert said.out.endswith(f"with bit {bit} in bushing {bushing}: {SAYS[OPENINGS.index(row)]}\n")
