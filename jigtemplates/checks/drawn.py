"""A drawn outline: what the bit cuts away that was to stay standing, and how far it stays short of the cut."""

from collections.abc import Iterator

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

#: Wood that is lost this many offsets away from what stays is no corner rounded off but a part that is gone. The
#: corner of a square loses 0.41 of the offset, a point of 30 degrees 2.9 of it: (1 / sin(half the angle) - 1).
PART = 3.0

#: Less wood than this is not worth a word, mm² (chosen, as for corners).
CRUMB = 0.01


def check_drawn(case: Case) -> Iterator[Finding]:
    """Islands and tongues of a drawn outline that the bushing cannot go round, and points that it rounds off."""
    cut = case.predicted
    if cut is None or not isinstance(case.job.cut.form, FromFile) or case.job.cut.side == "outside":
        return
    if cut.excess_area < CRUMB or cut.max_deviation < HAIR:
        return
    lost, where = furthest(cut.outline, case.template.cut, cut.outline)
    offset = (case.bushing - case.bit) / 2
    spot = case.template.placed((Region(Outline.circle(where, CHORD)),))[0].bounds.center
    said = f"up to {case.said(lost)} ({area(cut.excess_area, case.job)} in all), most at {place(spot, case.job)}"
    remedy = "take a bit and a bushing nearer to each other in size, or draw it wider"
    if lost > PART * max(offset, HAIR):
        yield stop(
            "wood-cut-away",
            "cut.file",
            f"a part that is to stay standing is cut away, {said}: it is narrower than the bushing can go round "
            f"({case.said(2 * offset, 3)}); {remedy}",
        )
    elif lost >= HAIR:
        yield warning(
            "corner-rounded-off",
            "cut.file",
            f"points of wood that reach into the cut are rounded off, {said}: {remedy}",
        )


def furthest(of: Regions, beyond: Regions, edge: Regions) -> tuple[float, Point]:
    """How far what lies in one area and not in another reaches from an edge, mm, and where."""
    first, second = area_of(of, CHORD), area_of(beyond, CHORD)
    rest = [part for part in shapely.get_parts(shapely.difference(first, second)) if part.area > THIN * part.length]
    corners = shapely.get_coordinates(rest)
    if not len(corners):
        return 0.0, Point(0.0, 0.0)
    away = shapely.distance(shapely.boundary(area_of(edge, CHORD)), shapely.points(corners))
    worst = int(away.argmax())
    return float(away[worst]), Point(*map(float, corners[worst]))
