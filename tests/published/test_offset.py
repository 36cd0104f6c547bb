"""Offset of a guide bushing, half of its outside diameter less the bit's: geometry, report and match against print."""

from collections.abc import Callable

import pytest
from published import Published, Source, inch, table
from sources import (
    ALAN,
    BRETAGNE,
    HOLZWERKEN,
    RF_HELP,
    RF_INLAY_MATH,
    STACK_7205,
    TEMPLATES_EASY,
    UK_SIZES,
    WOOD_BUSHINGS,
)

from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Region, Regions
from jigtemplates.geometry.shapes import rectangle, round_hole
from jigtemplates.match import Wanted, match
from jigtemplates.opening import opening_for
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.report import Report
from jigtemplates.routing import route


def inches(bushing: str, bit: str, offset: str, source: Source) -> Published:
    what = f"{bushing} in bushing, {bit} in bit"
    return Published(what, f"{offset} in", source, (inch(bushing), inch(bit)), inch(offset))


def metric(bushing: float, bit: float, offset: float, source: Source) -> Published:
    what = f"{bushing:g} mm bushing, {bit:g} mm bit"
    return Published(what, f"{offset:g} mm", source, (bushing, bit), offset)


#: Bushing and bit; from the edge of the cut to that of the opening.
OFFSETS = (
    inches("3/4", "1/2", "1/8", WOOD_BUSHINGS),
    inches("1", "1/2", "1/4", RF_INLAY_MATH),
    inches("3/4", "1/4", "1/4", RF_HELP),
    inches("1/2", "1/4", "1/8", RF_HELP),
    metric(30, 10, 10, HOLZWERKEN),
    metric(40, 10, 15, TEMPLATES_EASY),
    metric(15, 9, 3, UK_SIZES),
    metric(17, 9, 4, BRETAGNE),
    inches("5/16", "1/8", "3/32", ALAN),
    inches("3/8", "1/8", "1/8", ALAN),
    inches("7/16", "1/8", "5/32", ALAN),
    inches("1/2", "1/8", "3/16", ALAN),
    inches("5/8", "1/8", "1/4", ALAN),
    inches("3/4", "1/8", "5/16", ALAN),
    inches("51/64", "1/8", "43/128", ALAN),
    inches("3/8", "1/4", "1/16", ALAN),
    inches("7/16", "1/4", "3/32", ALAN),
    inches("1/2", "1/4", "1/8", ALAN),
    inches("5/8", "1/4", "3/16", ALAN),
    inches("3/4", "1/4", "1/4", ALAN),
    inches("51/64", "1/4", "35/128", ALAN),
)

#: Bushing and bit; how much smaller an outside template is than the work, over both sides.
OUTSIDE = (
    Published("30 mm bushing, 10 mm bit, round the outside", "20 mm smaller", HOLZWERKEN, (30, 10), 20),
    Published("17 mm bushing, 9 mm bit, round a tenon", "8 mm smaller", BRETAGNE, (17, 9), 8),
)

#: Bushing, bit and the hole that is wanted; the hole in the template, "half the difference added to the radius".
ROUND_HOLES = (
    Published(
        "5/16 in bushing, 1/4 in bit, hole of 6 in",
        "6-1/16 in",
        STACK_7205,
        (inch("5/16"), inch("1/4"), inch("6")),
        inch("6-1/16"),
    ),
)


def only(regions: Regions) -> Region:
    (region,) = regions
    return region


@table(OFFSETS)
def test_offset(row: Published) -> None:
    """The opening for a rectangle of 100 by 60 mm is larger by the offset on every side."""
    (bushing, bit), e = row.given, row.value
    box = only(opening_for((Region(rectangle(100, 60, bit / 2)),), bit, bushing)).bounds
    assert box == pytest.approx((-50 - e, -30 - e, 50 + e, 30 + e), abs=1e-9)


@table(OFFSETS)
def test_offset_reported(report_with: Callable[..., Report], row: Published) -> None:
    """What `check` says of a job with that pair."""
    bushing, bit = row.given
    report = report_with(cut={"width": 30, "length": 60}, tools={"bit": bit, "bushing": bushing})
    assert report.offset == pytest.approx(row.value, abs=1e-9)


@table(OFFSETS)
def test_offset_matched(row: Published) -> None:
    """The opening that `match` finds is the cut and twice the offset, its corner's radius once."""
    bushing, bit = row.given
    tools = [Bit.model_validate({"diameter": f"{bit} mm"})], [Bushing.model_validate({"diameter": f"{bushing} mm"})]
    (found,) = match(Wanted(60.0, 90.0, corner_radius=15.0), *tools, plate_thickness=None)
    assert found.opening is not None
    assert (found.opening.width, found.opening.length, found.opening.corner_radius) == pytest.approx(
        (60 + 2 * row.value, 90 + 2 * row.value, 15 + row.value)
    )


@table(OUTSIDE)
def test_outside_template(row: Published) -> None:
    """Run round a template of 180 mm the pair leaves that much more of the work, and back again."""
    bushing, bit = row.given
    work = shrink(grow((Region(round_hole(180)),), bushing / 2), bit / 2)
    assert only(work).bounds.width == pytest.approx(180 + row.value, abs=1e-9)
    template = only(shrink(grow(work, bit / 2), bushing / 2))
    assert template.bounds.width == pytest.approx(180, abs=1e-9)
    assert template.outer.as_circle is not None


@table(ROUND_HOLES)
def test_round_hole(row: Published) -> None:
    """The template's hole is the published one, a true circle, and cuts the hole that was wanted."""
    bushing, bit, hole = row.given
    opening = opening_for((Region(round_hole(hole)),), bit, bushing)
    circle = only(opening).outer.as_circle
    assert circle is not None
    assert 2 * circle.radius == pytest.approx(row.value, abs=1e-9)
    assert only(route(opening, bit, bushing)).bounds.width == pytest.approx(hole, abs=1e-9)
