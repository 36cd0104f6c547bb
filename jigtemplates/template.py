"""A job becomes a template: the opening, the plate round it, its holes, marks and label.

Millimetres from the plate's lower-left corner (the datum), x right, y up, seen from above.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from jigtemplates.drawing import Stroke
from jigtemplates.freespace import FreeSpace
from jigtemplates.geometry.offset import SLACK, grow, shrink
from jigtemplates.geometry.outline import Bounds, Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.holes import Hole, screw_holes
from jigtemplates.label import LabelPlacement, line_breaks, place_label
from jigtemplates.lengths import sold_as
from jigtemplates.lettering import missing_letters
from jigtemplates.marks import apart, centre_lines, centre_marks, datum_mark, edge_mark, group_marks
from jigtemplates.outside import is_outside, pattern_for
from jigtemplates.parameters.job import Cut, Job, Plate
from jigtemplates.say import in_inches
from jigtemplates.wanted import (
    Place,
    cut_outline,
    cut_region,
    cut_text,
    edge_of_work,
    is_lopsided,
    narrow_side,
    places_of,
    widest,
)

if TYPE_CHECKING:
    from jigtemplates.numbering import CutNumber

__all__ = [
    "FITS",
    "Size",
    "Template",
    "cut_middle",
    "cut_outline",
    "cut_text",
    "label_facts",
    "least_side",
    "make_template",
    "narrow_side",
    "opening_for",
    "placed",
    "plate_outline",
    "size_of",
    "turn",
]

#: A bit this much wider than the cut still counts as fitting, mm (twice the slack of the offset: what
#: is left of a length after turning inches into binary numbers).
FITS = 2 * SLACK


#: A label names so many cuts (chosen: more lines than that are small print on most plates).
MOST_SAID = 4


@dataclass(frozen=True, slots=True)
class Size:
    """Extents of an opening or a cut before it is turned, mm."""

    width: float
    length: float
    #: radius of its tightest inside corner; half the width for round ends
    corner_radius: float


@dataclass(frozen=True)
class Template:
    """A template as geometry, before any process."""

    job: Job
    #: the cut that was asked for (of several the first), about its own middle and not yet turned
    cut: Regions
    #: the opening (of outside work the pattern) about the middle of the cut and not yet turned; empty where the bit
    #: is too wide, or nothing is left of the pattern
    opening_at_rest: Regions
    #: True where the opening was made wider than the cut asks, so that the bushing slides
    widened: bool
    #: every opening in its place on the plate, those of the other cuts as well
    opening: Regions
    plate: Region
    holes: tuple[Hole, ...]
    #: datum corner, ticks of the centre lines and the openings' numbers, to be engraved or cut lightly
    marks: tuple[Stroke, ...]
    #: full centre lines, for paper only
    reference: tuple[Stroke, ...]
    label: LabelPlacement
    #: the same plate with each of the other cuts alone
    others: tuple["Template", ...] = ()
    #: of a cut looked at alone: the openings of the others
    beside: Regions = ()
    #: of several cuts: the number beside each opening, where it found room; its strokes are among the marks
    numbers: tuple["CutNumber", ...] = ()

    @property
    def parts(self) -> tuple["Template", ...]:
        """The template once for each cut that differs; this one for the first."""
        return (self, *self.others)

    def alone(self) -> "Template":
        """The same plate with the first cut alone."""
        if not self.others:
            return self
        beside = tuple(region for one in self.others for region in one.opening)
        job = single_cuts(self.job)[0]
        return replace(self, job=job, opening=placed(self.opening_at_rest, job), others=(), beside=beside)

    @cached_property
    def opening_size(self) -> Size | None:
        """Size of the opening before turning; None without an opening."""
        return size_of(self.opening_at_rest)

    def placed(self, regions: Regions) -> Regions:
        """Regions about the middle of the cut, turned and moved to each of its places on the plate."""
        return placed(regions, self.job)


def make_template(job: Job) -> Template:
    """The template for a job. Where the bit is wider than the cut the opening is empty.

    opening = (cut shrunk by half the bit) grown by half the bushing; where that would leave the bushing
    less than the running clearance, the cut is first widened to bit + clearance. A label with
    characters that cannot be engraved is left out; `checks` says so.
    """
    if is_outside(job.cut):
        return _pattern(job)
    parts = [_Part.of(one) for one in single_cuts(job)]
    opening = tuple(region for part in parts for region in part.opening)
    plate = Region(plate_outline(job.plate))
    holes = _holes(job)
    blocked = [*(region.outer for region in opening), *(hole.rim for hole in holes)]
    marks, label, numbers = _marks_and_label(job, plate, parts, blocked)
    lines = (line for part in parts for line in part.centre_lines(plate, holes))
    whole = Template(
        job=job,
        cut=parts[0].cut,
        opening_at_rest=parts[0].at_rest,
        widened=parts[0].widened,
        opening=opening,
        plate=plate,
        holes=holes,
        marks=marks,
        reference=tuple(dict.fromkeys(lines)),
        label=label,
        numbers=numbers,
    )
    return replace(whole, others=tuple(_alone(whole, part, parts) for part in parts[1:])) if parts[1:] else whole


def _pattern(job: Job) -> Template:
    """The template of outside work: the plate is the pattern, without an opening."""
    cut = (cut_region(job.cut),)
    at_rest = pattern_for(cut, job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm)
    pattern = placed(at_rest, job)
    plate = pattern[0] if pattern else Region(plate_outline(job.plate))
    holes = _holes(job)
    blocked = [hole.rim for hole in holes]
    datum = datum_mark(plate, blocked)
    (place,) = places_made(job)
    return Template(
        job=job,
        cut=cut,
        opening_at_rest=at_rest,
        widened=False,
        opening=(),
        plate=plate,
        holes=holes,
        marks=datum,
        reference=centre_lines(Point(place.x, place.y), place.angle, plate, blocked),
        label=_label(job, plate, [*blocked, *datum], preferred=plate.bounds.center),
    )


@dataclass(frozen=True, slots=True)
class _Part:
    """One of the cuts on its way to its openings."""

    #: with that cut alone
    job: Job
    cut: Regions
    at_rest: Regions
    widened: bool
    opening: Regions

    @classmethod
    def of(cls, job: Job) -> "_Part":
        """The part of a job with one cut."""
        least = least_side(job)
        guided = (cut_region(job.cut, least=least),)
        at_rest = opening_for(guided, job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm)
        return cls(job, (cut_region(job.cut),), at_rest, least > 0, placed(at_rest, job))

    def centre_lines(self, plate: Region, holes: Sequence[Hole]) -> tuple[Stroke, ...]:
        """The centre lines of each of its places, broken at the holes."""
        rims = [hole.rim for hole in holes]
        return tuple(
            line
            for place in places_made(self.job)
            for line in centre_lines(Point(place.x, place.y), place.angle, plate, rims)
        )


def single_cuts(job: Job) -> tuple[Job, ...]:
    """The job once for each of its cuts, as if that were the only one; work and tenons belong to the first."""
    if not job.more_cuts:
        return (job,)
    others = (replace(job, cut=cut, more_cuts=(), work=None, tenon=None) for cut in job.more_cuts)
    return (replace(job, more_cuts=()), *others)


def _alone(whole: Template, part: _Part, parts: Sequence[_Part]) -> Template:
    return replace(
        whole,
        job=part.job,
        cut=part.cut,
        opening_at_rest=part.at_rest,
        widened=part.widened,
        opening=part.opening,
        beside=tuple(region for one in parts if one is not part for region in one.opening),
    )


def opening_for(cut: Regions, bit: float, bushing: float) -> Regions:
    """The opening that lets a bushing of that diameter carry a bit of that diameter over the cut.

    (cut shrunk by bit / 2) grown by bushing / 2, all mm: parts too narrow for the bit are lost and its
    inside corners are at least bushing / 2. A cut as wide as the bit gives an opening as wide as the
    bushing, without clearance. Empty where the bit fits nowhere.
    """
    return grow(shrink(cut, bit / 2), bushing / 2)


def plate_outline(plate: Plate) -> Outline:
    """The plate with its lower-left corner at (0, 0)."""
    outline = rectangle(plate.width, plate.height, plate.corner_radius)
    return outline.moved(plate.width / 2, plate.height / 2)


def cut_middle(job: Job) -> Point:
    """Where the middle of the cut, or of its group, lies on the plate; a mirrored job has it on the other side."""
    x = job.plate.width - job.cut.x if job.make.mirrored else job.cut.x
    return Point(x, job.cut.y)


def places_made(job: Job) -> tuple[Place, ...]:
    """Every place of the job's (first) cut on the plate as it is made; a mirrored plate has them on the other side."""
    places = places_of(job.cut)
    if not job.make.mirrored:
        return places
    return tuple(Place(job.plate.width - place.x, place.y, -place.angle) for place in places)


def placed(regions: Regions, job: Job) -> Regions:
    """Regions about the middle of the cut, turned (first mirrored, where that matters) and moved to its places."""
    is_mirrored = job.make.mirrored != job.cut.mirrored and is_lopsided(job.cut)

    def there(ring: Outline, place: Place) -> Outline:
        return turn(ring.mirrored() if is_mirrored else ring, place.angle, Point(place.x, place.y))

    return tuple(
        Region(there(region.outer, place), tuple(there(hole, place) for hole in region.holes))
        for place in places_made(job)
        for region in regions
    )


def turn(outline: Outline, degrees: float, middle: Point) -> Outline:
    """Turned counter-clockwise about the origin, then moved so that the origin comes to middle."""
    return outline.rotated(degrees).moved(middle.x, middle.y)


def size_of(regions: Regions) -> Size | None:
    """Width along y, length along x and tightest inside corner of an area; None for an empty one."""
    if not regions:
        return None
    boxes = [region.bounds for region in regions]
    box = Bounds(
        min(b.left for b in boxes),
        min(b.bottom for b in boxes),
        max(b.right for b in boxes),
        max(b.top for b in boxes),
    )
    return Size(box.height, box.width, min(region.outer.inside_radius for region in regions))


def least_side(job: Job) -> float:
    """Bit + running clearance, mm, where the bit fits and the cut would leave the bushing less; else 0."""
    if is_outside(job.cut):
        return 0.0
    bit = job.tools.bit.diameter.mm
    least = bit + job.tools.clearance
    return least if bit - FITS <= narrow_side(job.cut) < least - FITS and least < widest(job.cut) else 0.0


def _holes(job: Job) -> tuple[Hole, ...]:
    holes = screw_holes(job.plate)
    if not job.make.mirrored:
        return holes
    return tuple(Hole(Point(job.plate.width - h.center.x, h.center.y), h.diameter, h.head) for h in holes)


def _marks_and_label(
    job: Job, plate: Region, parts: Sequence[_Part], blocked: Sequence[Outline]
) -> tuple[tuple[Stroke, ...], LabelPlacement, tuple["CutNumber", ...]]:
    """The marks, then the label beside them; where it finds no room the centre marks give way to it."""
    edges = [stroke for part in parts for stroke in _edges(part.job, plate, blocked)]
    datum = (*datum_mark(plate, blocked), *edges)
    ticks = _all_ticks(plate, parts, (*blocked, *datum))
    marks = (*datum, *ticks)
    numbers = _numbers(plate, parts, (*blocked, *marks))
    written = tuple(stroke for one in numbers for stroke in one.strokes)
    placed_first = _label(job, plate, [*blocked, *marks, *(one.outline for one in numbers)])
    if placed_first.label:
        return (*marks, *written), placed_first, numbers
    placed_alone = _label(job, plate, [*blocked, *datum])
    if not placed_alone.label:
        return (*marks, *written), placed_alone, numbers
    taken: tuple[Outline | Stroke, ...] = (*blocked, *datum, placed_alone.label.outline)
    numbers = _numbers(plate, parts, taken)
    ticks = _all_ticks(plate, parts, (*taken, *(one.outline for one in numbers)))
    return (*datum, *ticks, *(stroke for one in numbers for stroke in one.strokes)), placed_alone, numbers


def _numbers(plate: Region, parts: Sequence[_Part], blocked: Sequence[Outline | Stroke]) -> tuple["CutNumber", ...]:
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


def _all_ticks(plate: Region, parts: Sequence[_Part], taken: Sequence[Outline | Stroke]) -> tuple[Stroke, ...]:
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


def placed_at(part: _Part, place: Place) -> Region:
    """The first opening of a part in one of its places."""
    return part.opening[places_made(part.job).index(place) * len(part.at_rest)]


def _edges(job: Job, plate: Region, blocked: Sequence[Outline]) -> Iterator[Stroke]:
    """The lines that are laid on the edge of the work, where the cut is open to it."""
    below = edge_of_work(job.cut)
    if below is not None:
        for place in places_made(job):
            yield from edge_mark(Point(place.x, place.y), place.angle, below, plate, blocked)


def _label(
    job: Job, plate: Region, blocked: Sequence[Outline | Stroke], preferred: Point | None = None
) -> LabelPlacement:
    facts = label_facts(job)
    if not job.plate.label or any(missing_letters(fact) for fact in facts):
        return LabelPlacement(None)
    breaks = line_breaks(facts)
    return place_label(breaks[0], plate=plate, blocked=blocked, preferred=preferred, others=breaks[1:])


def label_facts(job: Job) -> tuple[str, ...]:
    """What the plate itself says: name, bit, bushing, the cut that comes out, its turns, which side is up.

    Bit and bushing by the size they are sold as, not by a person's name for them: the plate may outlive the name.
    """
    facts = (
        full_title(job),
        f"bit {sold_as(job.tools.bit.diameter)}",
        f"bushing {sold_as(job.tools.bushing.diameter)}",
        *cuts_said(job),
        *(("follow the outside",) if is_outside(job.cut) else ()),
        *(("line = edge of work",) if any(edge_of_work(cut) is not None for cut in job.cuts) else ()),
        *(() if job.plate.turn is None else (f"turn {job.plate.turn:g}",)),
        "this side up",
    )
    return (*facts, "MIRRORED") if job.make.mirrored else facts


def full_title(job: Job) -> str:
    """The job's title, with the hand that the plate is for: "Porch hinge, LEFT"."""
    return f"{job.title}, {job.make.hand.upper()}" if job.make.hand else job.title


def cuts_said(job: Job) -> Iterator[str]:
    """Each cut by its sizes, and how often; of several with its number, of many the last ones only by their number."""
    jobs = single_cuts(job)
    shown = len(jobs) if len(jobs) <= MOST_SAID else MOST_SAID - 1
    for number, one in enumerate(jobs[:shown], 1):
        named = f"{number}: {_named(one.cut)}" if len(jobs) > 1 else _named(one.cut)
        yield f"{named} {cut_text(one.cut, least=least_side(one), inches=in_inches(one))}{_times(one.cut)}"
    if shown < len(jobs):
        yield f"and {len(jobs) - shown} cuts more"


def _named(cut: Cut) -> str:
    """What the label calls the cut: a shape whose sizes do not tell it by its name."""
    plain = "work" if is_outside(cut) else "cut"
    name = plain if cut.shape in ("slot", "round", "rectangle") else cut.shape
    return f"{name} mirrored" if cut.mirrored and is_lopsided(cut) else name


def _times(cut: Cut) -> str:
    """ ", 2 times" behind a cut that is repeated."""
    return "" if cut.repeat is None else f", {len(places_of(cut))} times"
