"""What a check says: a finding with a level, a code, the key it concerns and what to do."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from jigtemplates.geometry.outline import Regions
from jigtemplates.opening import least_side
from jigtemplates.parameters.job import Job
from jigtemplates.routing import PredictedCut
from jigtemplates.say import beside, said
from jigtemplates.template import Template
from jigtemplates.wanted import narrow_key, narrow_side

if TYPE_CHECKING:
    from jigtemplates.bench import Ride
    from jigtemplates.inlay.overlay import Overlay


class Level(StrEnum):
    """How serious a finding is."""

    #: it cannot work; nothing is written
    STOP = "stop"
    #: it can work, but look at it first
    WARNING = "warning"
    #: worth knowing
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One answer of one check."""

    level: Level
    #: short name that stays the same, for programs and for the documentation
    code: str
    #: the key of the job it concerns, such as "tools.bit"
    where: str
    #: what is the matter and what to do, one sentence or two
    message: str


@dataclass(frozen=True)
class Case:
    """What a check looks at: a template and the cut that routing it predicts."""

    template: Template
    #: None where the template has no opening
    predicted: PredictedCut | None
    #: the same for each other cut in the template
    others: tuple["Case", ...] = ()

    @property
    def parts(self) -> tuple["Case", ...]:
        """A case for each cut that differs; the first is this one."""
        return (self, *self.others)

    def alone(self) -> tuple["Case", ...]:
        """The cases of all cuts, each as if it were the only one."""
        return tuple(replace(part, others=(), template=part.template.alone()) for part in self.parts)

    @property
    def deepest(self) -> "Case":
        """The case of the deepest cut; of equally deep ones the first."""
        return max(self.parts, key=lambda part: part.job.cut.depth)

    @cached_property
    def path(self) -> Regions:
        """Everywhere the middle of the bushing can be, in place on the plate; for all cuts."""
        return self._in_place(lambda cut: cut.path)

    @cached_property
    def cut_made(self) -> Regions:
        """What routing makes, in place on the plate; for all cuts."""
        return self._in_place(lambda cut: cut.outline)

    def _in_place(self, regions_of: Callable[[PredictedCut], Regions]) -> Regions:
        return tuple(
            region
            for part in self.parts
            if part.predicted is not None
            for region in part.template.placed(regions_of(part.predicted))
        )

    @property
    def job(self) -> Job:
        """The job the template was made for."""
        return self.template.job

    @property
    def bit(self) -> float:
        """Diameter of the bit, mm."""
        return self.job.tools.bit.diameter.mm

    @property
    def bushing(self) -> float:
        """Outside diameter of the bushing, mm."""
        return self.job.tools.bushing.diameter.mm

    @cached_property
    def side_play(self) -> float | None:
        """How far the bushing can move across the opening, mm: its narrowest passage less the bushing; else None.

        The opening is wider than the cut by as much as the bushing is wider than the bit, so this is the cut's
        narrowest passage less the bit.
        """
        if not self.template.opening_at_rest or self.job.cut.side == "outside":
            return None
        return max(0.0, round(max(narrow_side(self.job.cut), least_side(self.job)) - self.bit, 9))

    @property
    def trapped(self) -> bool:
        """No side play beyond the running clearance: one pass makes the width."""
        return self.side_play is not None and self.side_play <= self.job.tools.clearance + 1e-6

    @cached_property
    def ride(self) -> "Ride | None":
        """The router's base all over the opening, looked at once; None where `bench.ride_of` has none."""
        from jigtemplates.bench import ride_of

        return ride_of(self)

    @cached_property
    def inlay(self) -> "Overlay | None":
        """Recess and plug of a job with [inlay] laid over each other.

        None without one, without an opening, and where openings run into each other, which is stopped anyway.
        """
        if self.job.inlay is None or not self.template.opening:
            return None
        from jigtemplates.inlay.plug import are_apart, overlay_of

        return overlay_of(self) if are_apart(self.template.opening) else None

    @property
    def narrow_key(self) -> str:
        """The key of the job that gives the cut's narrowest passage."""
        return narrow_key(self.job.cut)

    def said(self, mm: float, digits: int = 2) -> str:
        """A length in the job's own unit, as `say.said` has it."""
        return said(mm, self.job, digits)

    def beside(self, mm: float, digits: int = 2) -> str:
        """The same where it stands in brackets with other words, as `say.beside` has it."""
        return beside(mm, self.job, digits)

    def aside(self, mm: float, digits: int = 2) -> str:
        """The same in brackets of its own: "(34.93 mm)", or "(1-3/8 in = 34.93 mm)"."""
        return f"({self.beside(mm, digits)})"

    @property
    def plunge_depth(self) -> float:
        """From the router's base to the bottom of the cut: plate + stand-off + depth, mm."""
        return self.job.plate.thickness + self.job.plate.stand_off + self.job.cut.depth


def stop(code: str, where: str, message: str) -> Finding:
    """A finding that forbids making the template."""
    return Finding(Level.STOP, code, where, message)


def warning(code: str, where: str, message: str) -> Finding:
    """A finding to look at before making the template."""
    return Finding(Level.WARNING, code, where, message)


def note(code: str, where: str, message: str) -> Finding:
    """A finding worth knowing."""
    return Finding(Level.NOTE, code, where, message)
