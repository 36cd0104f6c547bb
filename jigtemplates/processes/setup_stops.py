"""Fence and end stop in the plan of a set-up sheet: how far from the middle of the cut, on which side; real mm."""

from dataclasses import dataclass

from jigtemplates.processes.setup_ray import ahead, angle, hand, to_edge
from jigtemplates.report import Report

#: The view grows to take in fence and stop up to this much of the plate's longer side (chosen).
REACH = 0.75
#: What stands further off is drawn this much of the plate's longer side beyond its edge, and its line broken (chosen).
BEYOND = 0.13
#: Where something lies from a place, in steps of 45 degrees counter-clockwise from the right.
_SIDES = (
    "to the right of",
    "to the upper right of",
    "above",
    "to the upper left of",
    "to the left of",
    "to the lower left of",
    "below",
    "to the lower right of",
)


@dataclass(frozen=True, slots=True)
class Stop:
    """A fence or an end stop."""

    #: from the middle of the cut
    distance: float
    #: where it is drawn: nearer, where it stands too far off to be shown
    at: float

    @property
    def is_far(self) -> bool:
        """Whether it stands further off than it is drawn."""
        return self.at < self.distance


@dataclass(frozen=True, slots=True)
class Stops:
    """Fence and end stop; None where there is none."""

    fence: Stop | None
    end: Stop | None

    @property
    def shown(self) -> tuple[tuple[str, Stop], ...]:
        """Each that there is, with its name."""
        both = (("fence", self.fence), ("stop", self.end))
        return tuple((name, stop) for name, stop in both if stop is not None)


def stops(report: Report) -> Stops:
    """Fence and end stop of the work, where they are drawn."""
    work = report.job.work
    if work is None:
        return Stops(None, None)
    fence = _drawn(report, work.from_face, to_edge(report, -1))
    return Stops(fence, None if work.from_end is None else _drawn(report, work.from_end, ahead(report, -hand(report))))


def _drawn(report: Report, distance: float, edge: float) -> Stop:
    """A stop that far off, where the plate ends at edge that way."""
    longer = max(report.job.plate.width, report.job.plate.height)
    beyond = edge + BEYOND * longer
    return Stop(distance, distance if distance <= max(REACH * longer, beyond) else beyond)


@dataclass(frozen=True, slots=True)
class Mirrored:
    """Where something stands on a plate's mirror image, left for right."""

    #: as `fence_side`
    side: str
    #: whether it stands on the same side there, as what is above or below does
    is_same: bool
    #: whether it stands on the side opposite there
    is_opposite: bool


def fence_side(report: Report) -> str:
    """On which side of the long centre line the fence stands, seen on the plan: "below"."""
    return _SIDES[_fence_step(report)]


def end_side(report: Report) -> str:
    """On which side of the cross centre line the end stop stands, seen on the plan: "to the left of"."""
    return _SIDES[_end_step(report)]


def fence_mirrored(report: Report) -> Mirrored:
    """The fence on the mirror image of the plate."""
    return _mirrored(_fence_step(report))


def end_mirrored(report: Report) -> Mirrored:
    """The end stop on the mirror image of the plate."""
    return _mirrored(_end_step(report))


def _mirrored(step: int) -> Mirrored:
    other = (4 - step) % 8
    return Mirrored(_SIDES[other], other == step, (other - step) % 8 == 4)


def _fence_step(report: Report) -> int:
    return _step(angle(report) - 90.0)


def _end_step(report: Report) -> int:
    return _step(angle(report) + (180.0 if hand(report) > 0 else 0.0))


def _step(degrees: float) -> int:
    return round(degrees / 45.0) % 8
