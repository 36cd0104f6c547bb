"""How likely a tenon is too tight, good or too loose in the mortise that comes out."""

from typing import NamedTuple

from jigtemplates.budget.band import Band
from jigtemplates.budget.doubts import TENON, Doubt, of_size, small_text
from jigtemplates.lengths import Length
from jigtemplates.parameters.job import Job


class Tenon(NamedTuple):
    """The thickness of a tenon, and how well it is known."""

    #: mm
    thickness: float
    doubt: Doubt
    #: the thickness as it was written; None where it is planned, from [tenon]
    written: Length | None


class Fit(NamedTuple):
    """Chances of a tenon in the mortise, 0 to 1; they add up to 1."""

    too_tight: float
    good: float
    too_loose: float
    #: clearance at worst, mm: the tightest and the loosest
    clearance: tuple[float, float]


def tenon_of(job: Job, narrow: float | None) -> Tenon | None:
    """The tenon there is, else the one planned for a predicted mortise that is so narrow (mm); None without one."""
    written = job.fit.tenon
    if written is not None:
        return Tenon(written.mm, of_size(written, TENON, job), written)
    if job.tenon is None or narrow is None or narrow <= job.tenon.fit:
        return None
    return Tenon(narrow - job.tenon.fit, Doubt(TENON, f"planned: ± {small_text(TENON, job)} taken", True), None)


def fit_of(band: Band, tenon: Tenon, limits: tuple[float, float]) -> Fit:
    """The chances from the exact spread of mortise less tenon; limits are clearances, mm."""
    clearance = band.spread.less(tenon.thickness, tenon.doubt.within)
    tight, not_loose = (clearance.below(limit) for limit in limits)
    thick, thin = tenon.thickness + tenon.doubt.within, tenon.thickness - tenon.doubt.within
    return Fit(tight, not_loose - tight, 1.0 - not_loose, (band.worst[0] - thick, band.worst[1] - thin))
