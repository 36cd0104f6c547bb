"""Is everything on the plate, with enough wood or plastic left between?"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from jigtemplates.checks.finding import Case, Finding, stop, warning
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.shapes import ends_apart
from jigtemplates.parameters.forms import ArcSlot
from jigtemplates.say import place

#: Chords on which distances are measured, mm (chosen: far below any wall that matters).
CHORD = 1e-3

#: A wall no thicker than this is none, mm (chosen: ten times the chords' error).
TOUCHING = 0.01

#: Smallest wall where neither the job nor its material says one, mm (chosen).
LEAST_WALL = 5.0

#: Walls this much thinner than sensible are as good, mm (chosen: what a rule can show).
SAME = 0.01


@dataclass(frozen=True, slots=True)
class _Thing:
    """An opening or a hole on the plate."""

    name: str
    #: the key to change when it is in the way
    key: str
    area: Any
    is_opening: bool = False


def check_walls(case: Case) -> Iterator[Finding]:
    """Opening and holes within the plate, apart from each other and from its edge."""
    plate = _area(case.template.plate.outer)
    things = _things(case)
    least = least_wall(case)
    edge = shapely.boundary(plate)
    shapely.prepare(plate)
    thin: list[tuple[_Thing, float]] = []
    for thing in things:
        apart = float(shapely.distance(edge, thing.area))
        if apart <= TOUCHING or not plate.contains_properly(thing.area):
            yield _off_plate(thing)
        elif apart < least - SAME:
            thin.append((thing, apart))
    yield from _thin_edges(case, thin, least)
    for a, b in _neighbours([thing.area for thing in things], least):
        yield from _between(case, things[a], things[b], least)
    for part in case.parts:
        yield from _ends_of_an_arc(part, least)


def _neighbours(areas: list[Any], least: float) -> list[tuple[int, int]]:
    """The pairs that are nearer to each other than least, in their order."""
    if len(areas) < 2:
        return []
    near = shapely.STRtree(areas).query(areas, predicate="dwithin", distance=least)
    return sorted((int(a), int(b)) for a, b in near.T if a < b)


def least_wall(case: Case) -> float:
    """The job's own wall, else its material's, else LEAST_WALL; mm."""
    plate = case.job.plate
    if plate.wall is not None:
        return plate.wall
    return plate.material.min_wall.mm if plate.material else LEAST_WALL


def _things(case: Case) -> list[_Thing]:
    things = list(_openings(case))
    for number, hole in enumerate(case.template.holes, 1):
        name = f"screw hole {number} at {place(hole.center, case.job)}"
        things.append(_Thing(name, "plate.screws", _area(hole.rim)))
    return things


def _openings(case: Case) -> Iterator[_Thing]:
    """Every opening; where there are several, each with its number and its middle."""
    total = len(case.template.opening)
    number = 0
    for part, one in enumerate(case.alone() if case.others else case.parts):
        cut = f"cut {part + 1}" if case.others else "cut"
        key = f"{cut}.x" if one.job.cut.repeat is None else f"{cut}.repeat"
        for region in one.template.opening:
            number += 1
            where = f"opening {number} at {place(region.bounds.center, case.job)}"
            yield _Thing("the opening" if total == 1 else where, key, _area(region.outer), is_opening=True)


def _area(outline: Outline) -> Any:
    return shapely.polygons(np.array(outline.flattened(CHORD)))


def _off_plate(thing: _Thing) -> Finding:
    return stop(
        "opening-off-plate" if thing.is_opening else "hole-off-plate",
        thing.key,
        f"{thing.name} does not lie on the plate: move it, or make the plate larger",
    )


def _thin_edges(case: Case, thin: list[tuple[_Thing, float]], least: float) -> Iterator[Finding]:
    """One warning for all that are equally near to the edge: corner screws mostly are."""
    equal: dict[tuple[str, str], list[_Thing]] = {}
    for thing, apart in thin:
        equal.setdefault((thing.key, case.said(apart)), []).append(thing)
    for (key, wall), nearest in equal.items():
        yield _thin(" and ".join(thing.name for thing in nearest), "the plate's edge", key, wall, case.said(least))


def _between(case: Case, a: _Thing, b: _Thing, least: float) -> Iterator[Finding]:
    apart = float(shapely.distance(a.area, b.area))
    if apart <= TOUCHING:
        yield stop("holes-overlap", b.key, f"{a.name} and {b.name} overlap: {_apart(a, b, case)}")
    elif apart < least - SAME:
        yield _thin(a.name, b.name, b.key, case.said(apart), case.said(least), _apart(a, b, case, "move it"))


def _apart(a: _Thing, b: _Thing, case: Case, else_: str = "move one of them") -> str:
    """What brings two openings of one repeat further apart, or any two things."""
    if not (a.is_opening and b.key.endswith("repeat") and a.key == b.key):
        return else_
    repeat = case.parts[0].job.cut.repeat if len(case.parts) == 1 else None
    way = ", or look at its direction (0: end to end, 90: side by side)" if repeat and repeat.pitch else ""
    return f"make the pitch or ring of the repeat larger, or take a narrower bushing{way}"


def _thin(a: str, b: str, key: str, apart: str, least: str, remedy: str | None = None) -> Finding:
    return warning(
        "thin-wall",
        key,
        f"only {apart} between {a} and {b}, where {least} is sensible: "
        f"{'move it, make the plate larger' if remedy in (None, 'move it') else remedy}, or set plate.wall if you know "
        "better",
    )


def _ends_of_an_arc(case: Case, least: float) -> Iterator[Finding]:
    """The neck that holds what an arc slot goes round: gone, and the middle of the plate falls out."""
    form, play = case.job.cut.form, case.side_play
    if not isinstance(form, ArcSlot) or play is None:
        return
    apart = ends_apart(form.radius.mm, form.span, case.bushing + play)
    if apart <= TOUCHING:
        yield stop(
            "ends-meet",
            "cut.span",
            "the ends of the opening meet, so the middle of the plate falls out: make the span smaller or the radius "
            "larger, or take a smaller bushing",
        )
    elif apart < least - SAME:
        yield warning(
            "thin-wall",
            "cut.span",
            f"only {case.said(apart)} between the ends of the opening, where {case.said(least)} is sensible: make the "
            "span smaller or the radius larger, or set plate.wall if you know better",
        )
