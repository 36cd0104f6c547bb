"""The pairs that a job of any shape could be made with, looked at by arithmetic before a template is made; mm.

What stops a pair here stops it in the checks of the job as well, but for an inlay's plug that is far too loose. What is
left is made in the order of its `guess`.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.lengths import Length, mm_text, sold_as
from jigtemplates.match import name_of
from jigtemplates.match.bore import bore_of, chip_room, clashes
from jigtemplates.match.reach import Stack, bit_remarks, bit_stops, stem_remark, stem_stop
from jigtemplates.opening import FITS
from jigtemplates.outside import is_outside
from jigtemplates.parameters import entries
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.resolve import IN_JOB
from jigtemplates.passes import pass_count, usual_pass
from jigtemplates.practice import FIT, HAIR
from jigtemplates.say import in_inches
from jigtemplates.wanted import edge_of_work, narrow_side

if TYPE_CHECKING:
    from jigtemplates.inlay import Fit
    from jigtemplates.parameters.job import Bit, Bushing, Cut, Job

#: How far a round corner stays short of a right-angled one, in its radius: the square root of 2, less 1.
ACROSS = math.sqrt(2) - 1


@dataclass(frozen=True, slots=True)
class Candidate:
    """A bit in a bushing for a job, before anything is made."""

    bit: entries.Bit
    bushing: entries.Bushing
    #: whether it is the pair that the job names
    in_job: bool
    #: why it cannot be; empty where it is worth being made
    stops: tuple[str, ...]
    #: what to look at: reach, room for chips, stem
    remarks: tuple[str, ...]
    #: room for chips: 0 best, 4 worst
    room: int
    #: how much is not known of reach and stem, or needs care
    doubt: int
    #: of the bit less the narrowest passage: how much too wide, mm; 0 where it goes in
    too_wide: float
    #: where it is likely to stand: what the bit leaves in the corners, trapped, side play, then room and doubt
    guess: tuple[float, ...]

    @property
    def diameters(self) -> tuple[float, float]:
        """Of bit and bushing, mm, to a nanometre."""
        return round(self.bit.diameter.mm, 6), round(self.bushing.diameter.mm, 6)


def stack_of(job: "Job") -> Stack:
    """From the base down to the bottom of the deepest cut; sentences in the job's unit."""
    return Stack(job.plate.thickness, job.plate.stand_off, max(cut.depth for cut in job.cuts), in_inches(job))


def candidates(job: "Job", bits: Sequence[entries.Bit], bushings: Sequence[entries.Bushing]) -> tuple[Candidate, ...]:
    """Every bit in every bushing, and the job's own pair where it is not among them; the likeliest first."""
    bit, bushing = job.tools.bit, job.tools.bushing
    pairs = [(a, b, _is(bit, a) and _is(bushing, b)) for a in bits for b in bushings]
    if not any(own for _, _, own in pairs):
        pairs.append((_bit(bit), _bushing(bushing), True))
    stack = stack_of(job)
    left = {wide: left_by(job.cuts, wide) for wide in {bit.diameter.mm for bit, _, _ in pairs}}
    found = (_candidate(job, *pair, left[pair[0].diameter.mm], stack) for pair in pairs)
    return tuple(sorted(found, key=lambda one: one.guess))


def _is(tool: "Bit | Bushing", entry: entries.Bit | entries.Bushing) -> bool:
    """Whether the tool of a job is the one of the profiles."""
    return tool.origin != IN_JOB and tool.name == entry.name and tool.diameter.exact == entry.diameter.exact


def _bit(bit: "Bit") -> entries.Bit:
    """The tool of a job as the profiles would have it."""
    return entries.Bit.model_construct(
        name=bit.name, diameter=bit.diameter, shank=_length(bit.shank), cutting_length=_length(bit.cutting_length),
        overall_length=_length(bit.overall_length), plunging=bit.plunging,
    )  # fmt: skip


def _bushing(bushing: "Bushing") -> entries.Bushing:
    return entries.Bushing.model_construct(
        name=bushing.name, diameter=bushing.diameter, bore=_length(bushing.bore), stem=_length(bushing.stem),
        nut=bushing.nut,
    )  # fmt: skip


def _length(mm: float | None) -> Length | None:
    return None if mm is None else Length(Fraction(mm), mm_text(mm, 3))


def _candidate(
    job: "Job", bit: entries.Bit, bushing: entries.Bushing, in_job: bool, left: float, stack: Stack
) -> Candidate:
    wide, bore = bit.diameter.mm, bore_of(bushing)
    room, of_room = chip_room(wide, bushing.diameter.mm, bore, stack)
    reach, of_reach = bit_remarks(bit, stack)
    held, of_stem = stem_remark(bushing, stack)
    passages = _passages(job.cuts)
    narrow = min(passages, default=math.inf)
    too_wide = max(0.0, wide - narrow) if narrow < wide - FITS else 0.0
    return Candidate(
        bit=bit,
        bushing=bushing,
        in_job=in_job,
        stops=(
            *_too_wide(narrow, wide, stack),
            *bit_stops(bit, stack, trusting=True),
            *clashes(bit, bushing, stack),
            *stem_stop(bushing, stack),
            *_plug_misses(job, wide, bushing.diameter.mm, stack.inches),
        ),
        remarks=(*of_reach, of_room, *of_stem),
        room=room,
        doubt=reach + held,
        too_wide=too_wide,
        guess=(*_guess(job, bit, bushing.diameter.mm, passages, left), room, reach + held, bushing.diameter.mm),
    )


def _too_wide(narrow: float, wide: float, stack: Stack) -> Iterator[str]:
    if narrow < wide - FITS:
        yield f"the bit {stack.aside(wide, 3)} is wider than the cut {stack.aside(narrow, 3)}"


def _passages(cuts: Sequence["Cut"]) -> tuple[float, ...]:
    """The narrowest passage of each cut, mm; round the outside any bit goes, and across the edge of the work."""
    return tuple(
        cut.length if edge_of_work(cut) is not None else narrow_side(cut) for cut in cuts if not is_outside(cut)
    )


def _guess(
    job: "Job", cutter: entries.Bit, bushing: float, passages: Sequence[float], left: float
) -> tuple[float, ...]:
    """What shape and sizes say of the rank: what is missed, then trapped, side play and how much wider it is made.

    Of several cuts the width that is made comes before the side play. Round a pattern the passes take the place of
    these.
    """
    bit, clearance = cutter.diameter.mm, job.tools.clearance
    plug = plug_miss(job, bit, bushing)
    if is_outside(job.cut):
        rounded = (bushing - bit) / 2 - (0.0 if isinstance(job.cut.form, FromFile) else job.cut.corner_radius)
        return plug, in_steps(rounded * ACROSS), pass_count_of(job, cutter), 0.0, 0.0
    made = [max(side, bit + clearance) for side in passages]
    play = max(0.0, *(round(side - bit, 9) for side in made))
    wider = max(round((after - before) / 2, 3) for after, before in zip(made, passages, strict=True))
    last = (wider, play) if len(passages) > 1 else (play, wider)
    return plug, in_steps(left), play > clearance + 1e-6, *last


def in_steps(mm: float) -> float:
    """How far a cut is off, in steps below which one is as good as the other, FIT: whole numbers, none below 0."""
    return max(0, math.floor(mm / FIT + 1e-9))


def plug_miss(job: "Job", bit: float, bushing: float) -> float:
    """How far recess and plug of an inlay miss each other with these diameters, mm a side; less than a hair is none."""
    fit = fit_with(job, bit, bushing)
    return 0.0 if fit is None or abs(fit.miss) < HAIR else round(abs(fit.miss), 3)


def pass_count_of(job: "Job", bit: entries.Bit) -> int:
    """Passes to the bottom of the deepest cut, no deeper than the job wants them."""
    deepest = job.tools.pass_depth or usual_pass(sold_as(bit.diameter).mm)
    return pass_count(max(cut.depth for cut in job.cuts), deepest, inches=in_inches(job))


def fit_with(job: "Job", bit: float, bushing: float) -> "Fit | None":
    """The fit of recess and plug of a job with [inlay] whose recess is routed with these diameters; else None."""
    if job.inlay is None:
        return None
    from jigtemplates.inlay import Fit, Pair

    is_same = any(one.where == "inlay.plug_bit" for one in job.assumptions)
    plug = Pair(bit if is_same else job.inlay.bit.diameter.mm, job.inlay.bushing.diameter.mm)
    return Fit(Pair(bit, bushing), plug, job.inlay.glue_line.mm)


def fit_text(fit: "Fit", *, inches: bool) -> str:
    """Whether recess and plug fit, and by how much they do not."""
    if abs(fit.miss) < HAIR:
        return "recess and plug fit"
    from jigtemplates.inlay.words import verdict_text

    return f"recess and plug do not fit, {verdict_text(fit, inches=inches)}"


def _plug_misses(job: "Job", bit: float, bushing: float, inches: bool) -> Iterator[str]:
    """Recess and plug that do not go together, or miss by so much that no tape or sleeve helps."""
    fit = fit_with(job, bit, bushing)
    if fit is None or bit >= bushing:
        return
    from jigtemplates.inlay.pairs import NEAR

    if fit.gap < -HAIR or fit.miss > NEAR:
        yield fit_text(fit, inches=inches)


def left_by(cuts: Sequence["Cut"], bit: float) -> float:
    """What a bit is likely to stay short of in the corners of cuts it goes into, mm.

    Of a drawn outline, which may have any corners, what geometry finds.
    """
    return max((_left_in(cut, bit) for cut in cuts if not is_outside(cut)), default=0.0)


def _left_in(cut: "Cut", bit: float) -> float:
    if not isinstance(cut.form, FromFile):
        return max(0.0, (bit / 2 - cut.corner_radius) * ACROSS)
    wanted = (cut.form.region,)
    reached = grow(shrink(wanted, bit / 2), bit / 2)
    return deviation(reached, wanted) if reached else bit


def pair_of(one: Candidate) -> tuple[str, str]:
    """What a job writes for the two."""
    return name_of(one.bit), name_of(one.bushing)
