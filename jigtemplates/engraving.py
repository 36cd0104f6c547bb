"""What is engraved on the plate, each where the others leave room: the marks, the cuts' numbers, the label.

Millimetres from the plate's lower-left corner (the datum), x right, y up, seen from above.
"""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import FreeSpace
from jigtemplates.geometry.outline import Outline, Point, Region
from jigtemplates.holes import Hole
from jigtemplates.label import LabelPlacement, line_breaks, place_label
from jigtemplates.label_words import label_facts
from jigtemplates.lettering import missing_letters
from jigtemplates.marks import apart, centre_lines, centre_marks, datum_mark, edge_mark, group_marks
from jigtemplates.opening import Part
from jigtemplates.parameters.job import Job
from jigtemplates.placing import cut_middle, places_made
from jigtemplates.wanted import Place, edge_of_work

if TYPE_CHECKING:
    from jigtemplates.numbering import CutNumber


def marks_and_label(
    job: Job, plate: Region, parts: Sequence[Part], blocked: Sequence[Outline]
) -> tuple[tuple[Stroke, ...], LabelPlacement, tuple["CutNumber", ...]]:
    """The marks, then the label beside them; where it finds no room the centre marks give way to it."""
    edges = _each_once([stroke for part in parts for stroke in _edges(part.job, plate, blocked)])
    datum = (*datum_mark(plate, blocked), *edges)
    ticks = _all_ticks(plate, parts, (*blocked, *datum))
    marks = (*datum, *ticks)
    numbers = _numbers(plate, parts, (*blocked, *marks))
    written = tuple(stroke for one in numbers for stroke in one.strokes)
    placed_first = engraved_label(job, plate, [*blocked, *marks, *(one.outline for one in numbers)])
    if placed_first.label:
        return (*marks, *written), placed_first, numbers
    placed_alone = engraved_label(job, plate, [*blocked, *datum])
    if not placed_alone.label:
        return (*marks, *written), placed_alone, numbers
    taken: tuple[Outline | Stroke, ...] = (*blocked, *datum, placed_alone.label.outline)
    numbers = _numbers(plate, parts, taken)
    ticks = _all_ticks(plate, parts, (*taken, *(one.outline for one in numbers)))
    return (*datum, *ticks, *(stroke for one in numbers for stroke in one.strokes)), placed_alone, numbers


def reference_lines(parts: Sequence[Part], plate: Region, holes: Sequence[Hole]) -> tuple[Stroke, ...]:
    """The centre lines of each place of every cut, broken at the holes, each once; for paper only."""
    rims = [hole.rim for hole in holes]
    places = (place for part in parts for place in places_made(part.job))
    lines = (line for at in places for line in centre_lines(Point(at.x, at.y), at.angle, plate, rims))
    return tuple(dict.fromkeys(lines))


def _numbers(plate: Region, parts: Sequence[Part], blocked: Sequence[Outline | Stroke]) -> tuple["CutNumber", ...]:
    """The number of its cut beside each opening; nothing where there is only one cut."""
    if len(parts) == 1:
        return ()
    from jigtemplates.numbering import Numbered, place_numbers

    openings = [
        Numbered(number, Point(place.x, place.y), place.angle, placed_at(part, place))
        for number, part in enumerate(parts, 1)
        if part.at_rest
        for place in places_made(part.job)
    ]
    return place_numbers(openings, plate, blocked)


def _all_ticks(plate: Region, parts: Sequence[Part], taken: Sequence[Outline | Stroke]) -> tuple[Stroke, ...]:
    """The ticks of every opening, and those of the middle of each group."""
    openings = [(place, placed_at(part, place)) for part in parts if part.at_rest for place in places_made(part.job)]
    if len(openings) <= 1:
        return tuple(stroke for place, own in openings for stroke in _ticks(place, plate, own, taken))
    space = FreeSpace(plate, tuple(taken))
    ticks = apart(stroke for place, own in openings for stroke in _ticks(place, plate, own, taken, space))
    for part in parts:
        if part.at_rest and part.job.cut.repeat is not None:
            middle, turn = cut_middle(part.job), part.job.cut.angle
            places = [(Point(place.x, place.y), place.angle) for place in places_made(part.job)]
            angle = -turn if part.job.make.mirrored else turn
            ticks = (*ticks, *group_marks(middle, angle, places, plate, (*taken, *ticks)))
    return ticks


def _ticks(
    place: Place, plate: Region, opening: Region, blocked: Sequence[Outline | Stroke], space: FreeSpace | None = None
) -> tuple[Stroke, ...]:
    return centre_marks(Point(place.x, place.y), place.angle, plate, opening, blocked, space)


def placed_at(part: Part, place: Place) -> Region:
    """The first opening of a part in one of its places."""
    return part.opening[places_made(part.job).index(place) * len(part.at_rest)]


def _edges(job: Job, plate: Region, blocked: Sequence[Outline]) -> Iterator[Stroke]:
    """The lines that are laid on the edge of the work, where the cut is open to it."""
    below = edge_of_work(job.cut)
    if below is not None:
        for place in places_made(job):
            yield from edge_mark(Point(place.x, place.y), place.angle, below, plate, blocked)


def _each_once(lines: Sequence[Stroke]) -> tuple[Stroke, ...]:
    """Gains along one edge of the work share its line, whichever way they lie; ends within 0.001 mm are the same."""
    return tuple({frozenset((round(p.x, 3), round(p.y, 3)) for p in line.points): line for line in lines}.values())


def engraved_label(
    job: Job, plate: Region, blocked: Sequence[Outline | Stroke], preferred: Point | None = None
) -> LabelPlacement:
    """The label where it finds room; none where it is not wanted, or has characters that cannot be engraved.

    blocked is what it must keep away from; preferred as for `place_label`.
    """
    facts = label_facts(job)
    if not job.plate.label or any(missing_letters(fact) for fact in facts):
        return LabelPlacement(None)
    breaks = line_breaks(facts)
    return place_label(breaks[0], plate=plate, blocked=blocked, preferred=preferred, others=breaks[1:])
