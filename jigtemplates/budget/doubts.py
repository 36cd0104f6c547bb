"""How well each thing is known that decides the size of a cut: bit, bushing, opening, kerf, bushing off centre.

Nobody's silence hides here: what was not measured is taken to be within a stated band, and the words say so.
"""

from typing import NamedTuple

from jigtemplates.lengths import Length, Measured, inch_decimals, mm_text
from jigtemplates.parameters.job import Edge, Job
from jigtemplates.say import in_inches

# How far off a size is taken to be that nobody has measured, either way, mm.
#: A bit: new cutters are mostly 0.002 to 0.004 in under their nominal size (CNC router forum, "router bit diameter",
#: read).
BIT = 0.1
#: A guide bushing, outside (chosen: turned parts are closer than ground cutters that wear).
BUSHING = 0.05
#: A size that was measured without saying how well: an ordinary calliper's limit of error up to 200 mm, ± 0.02 mm (a
#: trade page on ISO 13385-1, quoted).
MEASURED = 0.02
#: The edge of an opening, where the process profile does not say (chosen: between a laser and a file).
EDGE = 0.1
#: The thickness of planed or bought tenon stock (chosen: what a planer and a calliper leave).
TENON = 0.05

#: What each source is called, in the order of the table.
BIT_NAME, BUSHING_NAME, KERF_NAME, CLEARANCE_NAME, CENTRE_NAME = (
    "bit", "bushing", "kerf", "running clearance", "bushing off centre",
)  # fmt: skip
#: What guides the bushing: an opening, or round the outside a pattern.
OPENING_NAME, PATTERN_NAME = EDGE_NAMES = ("opening", "pattern")

#: What a process is called where the opening is made with it.
MADE_BY = {"laser": "laser", "cnc": "CNC", "paper": "by hand", "print": "3D print"}


class Doubt(NamedTuple):
    """How far a size may be from what it is taken for."""

    #: mm, either way
    within: float
    #: how that is known, in words
    known: str
    #: True where nobody said it
    is_taken: bool


def small_text(mm: float, job: Job) -> str:
    """A small length: "0.05 mm"; in a job in inches "0.002 in"."""
    return inch_decimals(mm, 4).rstrip("0").rstrip(".") + " in" if in_inches(job) else mm_text(mm, 3)


def of_size(length: Length, otherwise: float, job: Job) -> Doubt:
    """The doubt of a size that may have been measured; `otherwise` of one that was not, mm."""
    if not isinstance(length, Measured):
        return Doubt(otherwise, f"not measured: ± {small_text(otherwise, job)} taken", True)
    if length.within is None:
        return Doubt(MEASURED, f"measured {length}: ± {small_text(MEASURED, job)} taken", True)
    return Doubt(length.within.mm, f"measured {length} ± {length.within}", False)


def of_edge(edge: Edge, job: Job) -> Doubt:
    """The doubt of the edge of an opening, by the process that makes it."""
    if edge.within is None:
        return Doubt(EDGE, f"± {small_text(EDGE, job)} at each edge taken", True)
    return Doubt(edge.within, f"± {small_text(edge.within, job)} at each edge", False)


def of_kerf(edge: Edge, job: Job) -> Doubt:
    """The doubt of a measured kerf, its full width; none where the process has none, or it was never measured."""
    within = job.fit.kerf_within if edge.target == "laser" and job.make.kerf else None
    return Doubt(within or 0.0, f"measured {small_text(job.make.kerf, job)} ± {small_text(within or 0.0, job)}", False)


def of_centre(job: Job) -> Doubt:
    """How far the bushing may sit off the bit's axis."""
    fit = job.fit
    off = small_text(fit.off_centre, job)
    how = "router turned" if fit.turned else "router held in one direction"
    is_taken = "off_centre" in fit.taken
    return Doubt(fit.off_centre, f"{f'not known: {off} taken' if is_taken else f'at most {off}'}, {how}", is_taken)
