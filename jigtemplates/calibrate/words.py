"""How a recess and outside work differ in what is said of them, and in which way a tool changes them."""

from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.wanted import edge_of_work


def sense(job: Job) -> int:
    """How the cut grows with the bit: 1; of outside work, which gets smaller, -1."""
    return -1 if is_outside(job.cut) else 1


def edges_across(job: Job) -> int:
    """How many edges of the opening decide a cut's width: 2; of a gain, measured from the edge of the work, 1."""
    return 2 if edge_of_work(job.cut) is None else 1


def guide(job: Job) -> str:
    """What the bushing follows: "opening", or "pattern"."""
    return "pattern" if is_outside(job.cut) else "opening"


def product(job: Job) -> str:
    """What is measured: "cut", or "work"."""
    return "work" if is_outside(job.cut) else "cut"
