"""The budget of errors: what width and length a template's cut may come out at, and how a tenon then fits.

Everything is arithmetic on the sizes that routing predicts; the tests compare it with routing many templates, tools
and bushings off centre whose true sizes were drawn by chance.
"""

from typing import TYPE_CHECKING, Any, NamedTuple

from jigtemplates.budget.band import COVERAGE, Band, Errors, band_of
from jigtemplates.budget.doubts import (
    BIT,
    BUSHING,
    OPENING_NAME,
    PATTERN_NAME,
    of_centre,
    of_edge,
    of_kerf,
    of_size,
)
from jigtemplates.budget.fit import Fit, Tenon, fit_of, tenon_of
from jigtemplates.budget.sizes import sizes_of
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Edge, Job

if TYPE_CHECKING:
    from jigtemplates.checks.finding import Case

#: Decimals of millimetres and of probabilities in JSON (chosen: 0.1 µm and 0.01 %, far below what is meant).
DECIMALS = 4


class ByProcess(NamedTuple):
    """The budget of a template whose opening is made in one way."""

    edge: Edge
    bands: tuple[Band, ...]
    #: None where nothing is to go into the cut
    fit: Fit | None

    @property
    def narrow(self) -> Band:
        """The band of the smaller size: a mortise's width."""
        return narrowest(self.bands)


class Budget(NamedTuple):
    """The budget of one cut, for each way its opening is made."""

    job: Job
    processes: tuple[ByProcess, ...]
    tenon: Tenon | None

    @property
    def is_outside(self) -> bool:
        """Whether the work is cut out round a pattern."""
        return is_outside(self.job.cut)

    def as_json(self) -> dict[str, Any]:
        """Lengths in mm, probabilities and shares from 0 to 1."""
        tight, loose = self.job.fit.limits
        tenon = self.tenon and {
            "thickness": _rounded(self.tenon.thickness),
            "within": _rounded(self.tenon.doubt.within),
            "known": self.tenon.doubt.known,
            "too_tight_below": _rounded(tight),
            "too_loose_above": _rounded(loose),
        }
        return {"coverage": COVERAGE, "tenon": tenon, "processes": [_by_process(one) for one in self.processes]}


def budget_of(case: "Case") -> Budget | None:
    """The budget of a case's own cut; None where the template makes no cut."""
    job, sizes = case.job, sizes_of(case)
    if not sizes:
        return None
    tenon = tenon_of(job, min(size.predicted for size in sizes))
    processes = []
    for edge in job.fit.edges:
        errors = Errors(
            of_size(job.tools.bit.diameter, BIT, job),
            of_size(job.tools.bushing.diameter, BUSHING, job),
            of_edge(edge, job),
            of_kerf(edge, job),
            of_centre(job),
            turned=job.fit.turned,
            guide=PATTERN_NAME if is_outside(job.cut) else OPENING_NAME,
        )
        bands = tuple(band_of(size, case.bit, errors) for size in sizes)
        fit = None if tenon is None else fit_of(narrowest(bands), tenon, job.fit.limits)
        processes.append(ByProcess(edge, bands, fit))
    return Budget(job, tuple(processes), tenon)


def narrowest(bands: tuple[Band, ...]) -> Band:
    """The band of the smallest size."""
    return min(bands, key=lambda band: band.size.predicted)


def _by_process(one: ByProcess) -> dict[str, Any]:
    fit = one.fit and {
        "too_tight": _rounded(one.fit.too_tight),
        "good": _rounded(one.fit.good),
        "too_loose": _rounded(one.fit.too_loose),
        "clearance_worst": [_rounded(mm) for mm in one.fit.clearance],
    }
    return {"process": one.edge.target, "sizes": [_band(band) for band in one.bands], "fit": fit}


def _band(band: Band) -> dict[str, Any]:
    return {
        "name": band.size.name,
        "predicted": _rounded(band.size.predicted),
        "trapped": band.size.trapped,
        "likely": [_rounded(mm) for mm in band.likely],
        "worst": [_rounded(mm) for mm in band.worst],
        "standard_uncertainty": _rounded(band.u),
        "bushing_may_not_enter": _rounded(band.binds),
        "matters_most": band.most and band.most.name,
        "errors": [
            {
                "name": share.name,
                "known": share.known,
                "taken": share.is_taken,
                "down": _rounded(share.down),
                "up": _rounded(share.up),
                "share": _rounded(band.part(share)),
            }
            for share in band.shares
        ],
    }


def _rounded(number: float) -> float:
    return round(number, DECIMALS) + 0.0
