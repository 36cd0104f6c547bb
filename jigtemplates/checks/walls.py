"""Is everything on the plate, with enough wood or plastic left between?"""

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
import shapely

from jigtemplates.checks.finding import Case, Finding, stop, warning
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.shapes import ends_apart
from jigtemplates.parameters.forms import ArcSlot
from jigtemplates.say import listed, place

T = TypeVar("T")

#: Chords on which distances are measured, mm (chosen: far below any wall that matters).
CHORD = 1e-3

#: A wall no thicker than this is none, mm (chosen: ten times the chords' error).
TOUCHING = 0.01

#: Smallest wall where neither the job nor its material says one, mm (chosen).
LEAST_WALL = 5.0

#: Walls this much thinner than sensible are as good, mm. A sensible wall is a round figure, good to half of its last
#: digit at best (6.0 mm), and 1/4 in less a head of 0.531 in misses it by a thousandth or two: no reason for a warning.
SAME = 0.05


#: What makes room for one thing that stands too near to another.
MOVE = "move it, make the plate larger"

#: Numbers of openings or holes that a sentence names (chosen: what a reader bears).
MOST_NAMED = 6


@dataclass(frozen=True, slots=True)
class _Thing:
    """An opening or a hole on the plate."""

    name: str
    number: int
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
    off: list[_Thing] = []
    thin: list[tuple[_Thing, float]] = []
    for thing in things:
        apart = float(shapely.distance(edge, thing.area))
        if apart <= TOUCHING or not plate.contains_properly(thing.area):
            off.append(thing)
        elif apart < least - SAME:
            thin.append((thing, apart))
    yield from _off_plate(case, things, off)
    yield from _thin_edges(case, things, thin, least)
    near = [(things[a], things[b]) for a, b in _neighbours([thing.area for thing in things], least)]
    yield from _between(case, near, least)
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
        things.append(_Thing(name, number, "plate.screws", _area(hole.rim)))
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
            yield _Thing("the opening" if total == 1 else where, number, key, _area(region.outer), is_opening=True)


def _area(outline: Outline) -> Any:
    return shapely.polygons(np.array(outline.flattened(CHORD)))


def _off_plate(case: Case, things: list[_Thing], off: list[_Thing]) -> Iterator[Finding]:
    """One stop for all that share a key."""
    for key, those in _by(off, lambda thing: thing.key).items():
        do, them = ("do", "them") if len(those) > 1 else ("does", "it")
        yield stop(
            "opening-off-plate" if those[0].is_opening else "hole-off-plate",
            key,
            f"{_named(those, things)} {do} not lie on the plate: move {them}, or make the plate larger"
            + (_meant(case, key) if those[0].is_opening else ""),
        )


def _meant(case: Case, key: str) -> str:
    """What may have been meant by the sizes of the cut that a key belongs to: "cut.x", "cut 2.x"."""
    from jigtemplates.checks.meant import meant_in_mm

    number = key.partition(".")[0].removeprefix("cut").strip()
    return meant_in_mm(case.parts[int(number) - 1] if number else case)


def _named(those: list[_Thing], things: list[_Thing]) -> str:
    """One with its place; several by their numbers; all there are by how many they are."""
    if len(those) == 1:
        return those[0].name
    kind = "openings" if those[0].is_opening else "screw holes"
    if len(those) == sum(thing.is_opening == those[0].is_opening for thing in things):
        return f"the {len(those)} {kind}"
    numbers = [str(thing.number) for thing in those]
    if len(numbers) > MOST_NAMED:
        return f"{kind} {', '.join(numbers[:MOST_NAMED])} and {len(numbers) - MOST_NAMED} more"
    return f"{kind} {listed(numbers)}"


def _by(found: list[T], which: Callable[[T], Hashable]) -> dict[Any, list[T]]:
    """In groups, in the order of their firsts."""
    groups: dict[Any, list[T]] = {}
    for one in found:
        groups.setdefault(which(one), []).append(one)
    return groups


def _thin_edges(case: Case, things: list[_Thing], thin: list[tuple[_Thing, float]], least: float) -> Iterator[Finding]:
    """One warning for all that are equally near to the edge: corner screws mostly are."""
    for (key, wall), found in _by(thin, lambda one: (one[0].key, case.said(one[1]))).items():
        those = [thing for thing, _ in found]
        many = len(those) > 1
        of_holder = key == "plate.screws" and _has_holder_screws(case)
        remedy = "move them, make the plate larger" if many else MOVE
        if of_holder:
            remedy = "give the holder's screws in its profile more room to its recess, or take smaller ones there"
        names = f"{'each of ' if many else ''}{_named(those, things)}"
        words = f"{names} is only {wall} from the plate's edge"
        yield _thin(words, "plate.holder" if of_holder else key, case.said(least), remedy)


def _has_holder_screws(case: Case) -> bool:
    """Whether the plate's screws are those its holder brings."""
    from jigtemplates.parameters.resolve import screws_of

    holder, screws = case.job.plate.holder, case.job.plate.screws
    if holder is None or holder.screws is None or screws is None:
        return False
    return screws_of(holder.screws, screws.screw) == screws


def _between(case: Case, near: list[tuple[_Thing, _Thing]], least: float) -> Iterator[Finding]:
    """One finding for all pairs of a kind that are equally far apart, the first of them named."""
    apart = [(a, b, max(TOUCHING, float(shapely.distance(a.area, b.area)))) for a, b in near]
    groups = _by(apart, lambda one: (one[0].key, one[1].key, one[2] <= TOUCHING or case.said(one[2])))
    for (_, key, how), pairs in groups.items():
        a, b, wall = pairs[0]
        others = f"{len(pairs) - 1} more pair{'s' if len(pairs) > 2 else ''}"
        if how is True:
            more = f" (and {others} {'do' if len(pairs) > 2 else 'does'})" if len(pairs) > 1 else ""
            yield stop("holes-overlap", key, f"{a.name} and {b.name} overlap{more}: {_apart(a, b, case)}")
        elif wall < least - SAME:
            more = f" (and between {others})" if len(pairs) > 1 else ""
            words = f"only {how} between {a.name} and {b.name}{more}"
            yield _thin(words, key, case.said(least), _apart(a, b, case, MOVE))


def _apart(a: _Thing, b: _Thing, case: Case, else_: str = "move one of them") -> str:
    """What brings two openings of one repeat further apart, or any two things."""
    if not (a.is_opening and b.key.endswith("repeat") and a.key == b.key):
        return else_
    repeat = case.parts[0].job.cut.repeat if len(case.parts) == 1 else None
    way = ", or look at its direction (0: end to end, 90: side by side)" if repeat and repeat.pitch else ""
    return f"make the pitch or ring of the repeat larger, or take a narrower bushing{way}"


def _thin(words: str, key: str, least: str, remedy: str) -> Finding:
    sentence = f"{words}, where {least} is sensible: {remedy}, or set plate.wall if you know better"
    return warning("thin-wall", key, sentence)


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
