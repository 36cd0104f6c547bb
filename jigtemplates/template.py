"""A job becomes a template: the opening, the plate round it, its holes, marks and label.

Millimetres from the plate's lower-left corner (the datum), x right, y up, seen from above.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from jigtemplates.drawing import Stroke
from jigtemplates.engraving import engraved_label, marks_and_label, reference_lines
from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.holes import Hole, screw_holes
from jigtemplates.label import LabelPlacement
from jigtemplates.marks import centre_lines, datum_mark
from jigtemplates.opening import Part, Size, size_of
from jigtemplates.outside import is_outside, pattern_for
from jigtemplates.parameters.job import Job, Plate
from jigtemplates.placing import placed, places_made, single_cuts
from jigtemplates.wanted import cut_region

if TYPE_CHECKING:
    from jigtemplates.numbering import CutNumber


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
    parts = [Part.of(one) for one in single_cuts(job)]
    opening = tuple(region for part in parts for region in part.opening)
    plate = Region(plate_outline(job.plate))
    holes = _holes(job)
    blocked = [*(region.outer for region in opening), *(hole.rim for hole in holes)]
    marks, label, numbers = marks_and_label(job, plate, parts, blocked)
    whole = Template(
        job=job,
        cut=parts[0].cut,
        opening_at_rest=parts[0].at_rest,
        widened=parts[0].widened,
        opening=opening,
        plate=plate,
        holes=holes,
        marks=marks,
        reference=reference_lines(parts, plate, holes),
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
        label=engraved_label(job, plate, [*blocked, *datum], preferred=plate.bounds.center),
    )


def _alone(whole: Template, part: Part, parts: Sequence[Part]) -> Template:
    return replace(
        whole,
        job=part.job,
        cut=part.cut,
        opening_at_rest=part.at_rest,
        widened=part.widened,
        opening=part.opening,
        beside=tuple(region for one in parts if one is not part for region in one.opening),
    )


def plate_outline(plate: Plate) -> Outline:
    """The plate with its lower-left corner at (0, 0)."""
    outline = rectangle(plate.width, plate.height, plate.corner_radius)
    return outline.moved(plate.width / 2, plate.height / 2)


def _holes(job: Job) -> tuple[Hole, ...]:
    holes = screw_holes(job.plate)
    if not job.make.mirrored:
        return holes
    return tuple(Hole(Point(job.plate.width - h.center.x, h.center.y), h.diameter, h.head) for h in holes)
