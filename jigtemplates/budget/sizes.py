"""Which sizes of a cut the budget looks at, and what guides them; millimetres."""

import math
from collections.abc import Iterator
from typing import NamedTuple

from jigtemplates.checks.finding import Case
from jigtemplates.opening import least_side
from jigtemplates.outside import is_outside
from jigtemplates.parameters.forms import ArcSlot, Butterfly, Polygon
from jigtemplates.wanted import edge_of_work

#: A size that leaves the bushing no more than the running clearance, and this, is trapped (as `Case.trapped`).
_TRAPPED = 1e-6


class GuidedSize(NamedTuple):
    """A size of the predicted cut and the edges of the opening that decide it."""

    #: what it is called: "width", "length", "diameter", "across", "waist"
    name: str
    #: what routing predicts, mm
    predicted: float
    #: how much wider than the bushing the opening is there, mm; no end to it round the outside
    play: float
    #: True where the bushing has nothing but its running clearance, so that one pass makes the size
    trapped: bool
    #: 2; 1 for what is measured from the edge of the work
    edges: int = 2


def sizes_of(case: Case) -> tuple[GuidedSize, ...]:
    """The sizes of a cut, the one across first; none without an opening.

    Between parallel edges, or round ends, an error moves each edge by as much. In a sharp inside corner it counts
    more: 1 / sin of half the angle; sizes from corner to corner are therefore left out for polygons and keys.
    """
    predicted = case.predicted
    return () if predicted is None else tuple(_sizes(case, predicted.width, predicted.length))


def _sizes(case: Case, width: float, length: float) -> Iterator[GuidedSize]:
    cut = case.job.cut
    least = 0.0 if is_outside(cut) else least_side(case.job)
    if cut.shape == "round":
        yield _size(case, "diameter", width)
    elif isinstance(cut.form, Polygon):
        yield _size(case, "across", max(cut.width, least))
    elif isinstance(cut.form, Butterfly):
        yield _size(case, "waist", max(cut.form.waist.mm, least))
        yield _size(case, "length", length)
    elif isinstance(cut.form, ArcSlot):
        across = max(cut.width, least)
        yield _size(case, "width", across)
        yield _size(case, "length", cut.length + across - cut.width)
    elif edge_of_work(cut) is not None:
        yield GuidedSize("width", width, width - case.bit, trapped=False, edges=1)
        yield _size(case, "length", length)
    else:
        yield _size(case, "width", width)
        yield _size(case, "length", length)


def _size(case: Case, name: str, predicted: float) -> GuidedSize:
    if is_outside(case.job.cut):
        return GuidedSize(name, predicted, math.inf, trapped=False)
    play = max(0.0, predicted - case.bit)
    return GuidedSize(name, predicted, play, trapped=play <= case.job.tools.clearance + _TRAPPED)
