"""A drawn outline: what the bit cuts away that was to stay standing, and how far it stays short of the cut."""

from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely

from jigtemplates.checks.finding import Case, Finding, stop, warning
from jigtemplates.geometry.chorded import area_of
from jigtemplates.geometry.exact import THIN
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.parameters.forms import FromFile
from jigtemplates.practice import HAIR
from jigtemplates.say import area, place

#: Chords on which it is looked at, mm (chosen: what is said is rounded to hundredths).
CHORD = 1e-3

#: Less wood than this is not worth a word, mm² (chosen, as for corners).
CRUMB = 0.01
#: More corners than this are not each compared with the whole edge (chosen: below, that takes milliseconds).
MANY = 1_000


def check_drawn(case: Case) -> Iterator[Finding]:
    """Islands and tongues of a drawn outline that the bushing cannot go round, and points that it rounds off."""
    cut = case.predicted
    if cut is None or not isinstance(case.job.cut.form, FromFile) or case.job.cut.side == "outside":
        return
    if cut.excess_area < CRUMB or cut.max_deviation < HAIR:
        return
    from jigtemplates.checks.gone import Pair, gone  # few jobs need it

    offset = (case.bushing - case.bit) / 2
    remedy = "take a bit and a bushing nearer to each other in size, or draw it wider"
    wanted, made = area_of(case.template.cut, CHORD), area_of(cut.outline, CHORD)
    parts = _beyond(made, wanted)
    piece = gone(parts, wanted, made, Pair(case.bit / 2, offset), CHORD)
    if piece is not None:
        yield stop(
            "wood-cut-away",
            "cut.file",
            f"a part that is to stay standing is cut away, {_said(case, *piece)}: it is narrower than the bushing can "
            f"go round ({case.said(2 * offset, 3)}); {remedy}",
        )
        return
    lost, where = _furthest(parts, made)
    if lost >= HAIR:
        yield warning(
            "corner-rounded-off",
            "cut.file",
            f"points of wood that reach into the cut are rounded off, {_said(case, lost, where)}: {remedy}",
        )


def _said(case: Case, lost: float, where: Point) -> str:
    """How far, how much in all, and where in the plate."""
    assert case.predicted is not None
    spot = case.template.placed((Region(Outline.circle(where, CHORD)),))[0].bounds.center
    wood = area(case.predicted.excess_area, case.job)
    return f"up to {case.said(lost)} ({wood} in all), most at {place(spot, case.job)} from the lower left corner"


def _beyond(first: Any, second: Any) -> list[Any]:
    """The parts of one area that lie outside another, without slivers between their chords."""
    return [part for part in shapely.get_parts(shapely.difference(first, second)) if part.area > THIN * part.length]


def furthest(of: Regions, other: Regions, edge: Regions) -> tuple[float, Point]:
    """How far what lies in one area and not in another reaches from an edge, mm, and where."""
    return _furthest(_beyond(area_of(of, CHORD), area_of(other, CHORD)), area_of(edge, CHORD))


def _furthest(parts: list[Any], edge: Any) -> tuple[float, Point]:
    corners = shapely.get_coordinates(parts)
    if not len(corners):
        return 0.0, Point(0.0, 0.0)
    away = (_among_many if len(corners) > MANY else _one_by_one)(edge, shapely.points(corners))
    worst = int(away.argmax())
    return float(away[worst]), Point(*map(float, corners[worst]))


def _one_by_one(edge: Any, places: Any) -> Any:
    return shapely.distance(shapely.boundary(edge), places)


def _among_many(edge: Any, places: Any) -> Any:
    """The same of very many places, each looked for among the straights near it."""
    ends, ring = shapely.get_coordinates(shapely.get_rings(shapely.get_parts(edge)), return_index=True)
    goes_on = ring[:-1] == ring[1:]
    straights = shapely.linestrings(np.stack([ends[:-1][goes_on], ends[1:][goes_on]], axis=1))
    return shapely.STRtree(straights).query_nearest(places, all_matches=False, return_distance=True)[1]
