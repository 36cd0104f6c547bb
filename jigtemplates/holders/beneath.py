"""What lies below a plate in its holder: the ledge, and the work, which touches the plate only within the window.

::

     plate ───────────────────────────────
     ledge ▓▓▓▓▓▓▓│               │▓▓▓▓▓▓▓  ─┬─ gap: stand-off and, of a rebated plate, what hangs below the ledge
     ─────────────┴── work ───────┴─────── ─┴─

Millimetres.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigtemplates.holders import window_of
from jigtemplates.holders.box import Box
from jigtemplates.rebate import rebate_of

if TYPE_CHECKING:
    from jigtemplates.lengths import Length
    from jigtemplates.parameters.job import Job, Plate, Work

#: Sizes closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = 0.01


@dataclass(frozen=True, slots=True)
class Beneath:
    """Ledge and gap under a plate."""

    window: Box
    #: thickness of the ledge; None where it is not known
    ledge: "Length | None"
    #: from the ledge's upper face, on which the plate's edge lies, down to the work
    gap: float
    #: how far the middle of a rebated plate hangs below the ledge's upper face; 0 for any other
    hang: float

    @property
    def is_short(self) -> bool:
        """Whether the work must come up into the window; with a ledge of unknown thickness, up to the plate."""
        return self.gap <= SAME if self.ledge is None else self.into_window > SAME

    @property
    def into_window(self) -> float:
        """How far the work comes up into the window; negative where it stays below, 0 where that is not known."""
        return 0.0 if self.ledge is None else self.ledge.mm - self.gap


def beneath(plate: "Plate") -> Beneath | None:
    """What is below a plate in a holder; None where it has none, or nothing is known of the holder's window."""
    window = None if plate.holder is None else window_of(plate.holder)
    if plate.holder is None or window is None:
        return None
    rebate = rebate_of(plate)
    hang = 0.0 if rebate is None else rebate.depth
    return Beneath(window, plate.holder.ledge_thickness, plate.stand_off + hang, hang)


def goes_in(job: "Job", window: Box) -> bool | None:
    """Whether a job's work goes up into the window, as it lies below the cut; None where that is not known.

    Of work whose length or end is not known, only what must be there is looked at: as much as the cut takes. Work that
    no end is given of is taken to lie in the middle of the window.
    """
    work, cut = job.work, job.cut
    if work is None or (cut.repeat is not None and cut.repeat.ring is not None):  # which lies along no work
        return None
    left, right = _along(job, work)
    is_in = all(window.beyond(*place) <= SAME for place in _corners(job, work, left, right))
    return (True if work.length is not None else None) if is_in else False


def _along(job: "Job", work: "Work") -> tuple[float, float]:
    """The work's ends along the cut, from its middle."""
    half = job.cut.length / 2
    if work.from_end is not None:
        left, right = -work.from_end, half if work.length is None else work.length - work.from_end
        return (-right, -left) if job.make.mirrored else (left, right)
    if work.length is None:
        return -half, half
    middle = _middle_of_window(job)
    return middle - work.length / 2, middle + work.length / 2


def _turn(job: "Job") -> tuple[float, float]:
    from jigtemplates.geometry.outline import cos_sin

    return cos_sin(-job.cut.angle if job.make.mirrored else job.cut.angle)


def _from_window(job: "Job") -> tuple[float, float]:
    """The middle of the cut, from the middle of plate and window."""
    from jigtemplates.placing import cut_middle

    middle = cut_middle(job)
    return middle.x - job.plate.width / 2, middle.y - job.plate.height / 2


def _middle_of_window(job: "Job") -> float:
    """Along the cut, from its middle."""
    (x, y), (cos, sin) = _from_window(job), _turn(job)
    return -(x * cos + y * sin)


def _corners(job: "Job", work: "Work", left: float, right: float) -> tuple[tuple[float, float], ...]:
    """Corners of the work, from the middle of the window."""
    (x, y), (cos, sin) = _from_window(job), _turn(job)
    low, high = -work.from_face, work.thickness - work.from_face
    places = ((left, low), (right, low), (right, high), (left, high))
    return tuple((x + along * cos - aside * sin, y + along * sin + aside * cos) for along, aside in places)
