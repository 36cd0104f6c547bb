"""From the middle of a cut to the edge of its plate, along the plate as it is turned; mm."""

import math

from jigtemplates.geometry.outline import Point, cos_sin
from jigtemplates.placing import cut_middle
from jigtemplates.report import Report


def angle(report: Report) -> float:
    """Turn of the cut in the plate as it is made, degrees counter-clockwise."""
    job = report.job
    return -job.cut.angle if job.make.mirrored else job.cut.angle


def hand(report: Report) -> float:
    """1, or -1 on a mirrored plate: there the work is mirrored too, and lies the other way along the cut."""
    return -1.0 if report.job.make.mirrored else 1.0


def in_plate(report: Report, along: float, aside: float) -> Point:
    """A place given along the cut and to its left (mm from its middle), in the plate's coordinates."""
    cos, sin = cos_sin(angle(report))
    middle = cut_middle(report.job)
    return Point(middle.x + along * cos - aside * sin, middle.y + along * sin + aside * cos)


def to_edge(report: Report, side: int, wider: tuple[float, float] = (0.0, 0.0)) -> float:
    """From the middle of the cut across it to the plate's edge; side 1 to the left of its length, -1 to the right.

    `wider` takes the edge of something about the plate's middle instead, that much wider and higher in all; negative
    where the middle of the cut lies outside it. Rounded corners are left out of account.
    """
    cos, sin = cos_sin(angle(report))
    return _to_edge(report, -side * sin, side * cos, wider)


def ahead(report: Report, way: float) -> float:
    """From the middle of the cut along it to the plate's edge; way 1 towards where its length runs, -1 back."""
    cos, sin = cos_sin(angle(report))
    return _to_edge(report, way * cos, way * sin, (0.0, 0.0))


def _to_edge(report: Report, run: float, rise: float, wider: tuple[float, float]) -> float:
    middle, plate = cut_middle(report.job), report.job.plate
    out_x, out_y = wider[0] / 2, wider[1] / 2
    ways = (
        (run, plate.width - middle.x + out_x, middle.x + out_x),
        (rise, plate.height - middle.y + out_y, middle.y + out_y),
    )
    return min(
        (ahead if step > 0 else behind) / abs(step) if abs(step) > 1e-12 else math.inf for step, ahead, behind in ways
    )
