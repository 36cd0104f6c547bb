"""From a reading to the size behind it; millimetres.

kerf      total gap / number of cuts across (Rice University, ENGI 210, "kerf box", read: ten blocks, eleven kerfs)
bushing   the opening it just slides in, less half a step: its true size lies between that one and the next smaller
printer   what a bar measured, for a bar of 100 mm; the page is then printed 100 / that times as large
"""

import math
from dataclasses import dataclass

from jigtemplates.parameters.make_tables import BAR_MM

#: How far a caliper may be wrong, mm (chosen: one that shows hundredths is sold as good to two of them).
CALIPER = 0.02
#: From one opening of a bushing gauge to the next where it was not said, mm; of one in inches (as `gauge bushing`).
STEP = {False: 0.05, True: 0.0508}
#: How far a gap between lasered edges may be read wrong, mm (chosen: such an edge leans and is sooty).
GAP_READING = 0.05


@dataclass(frozen=True, slots=True)
class Size:
    """A size and how far the true one may be from it, either way."""

    mm: float
    within: float


def kerf_of(gap: float, cuts: int) -> Size:
    """Full width of the kerf from the gap that all blocks leave, over so many cuts across."""
    return Size(gap / cuts, GAP_READING / cuts)


def slid_in(opening: float, step: float) -> Size:
    """A bushing that slides in an opening and not in the next smaller one, one step less."""
    return Size(opening - step / 2, step / 2)


def taken_by(caliper: float, step: float) -> float:
    """How far the width of a cut may be from what the tenon says that it takes: half a step, and the caliper."""
    return caliper + step / 2


def bar_of(measured: float, drawn: float, corrected_for: float = BAR_MM) -> float:
    """What a bar of 100 mm measures on an uncorrected page, where one that is drawn so long measured so much.

    On a page that was corrected already, `corrected_for` is the bar it was corrected with.
    """
    return measured / drawn * corrected_for


def factor_of(bar: float) -> float:
    """How many times as large a page is printed where the 100 mm bar measured that."""
    return BAR_MM / bar


def lean_of(across: float, up: float, diagonal: float) -> float:
    """How far the corner between two bars is from a right angle, degrees; what their far ends are apart tells it.

    Positive where the angle between the bars is more than 90°. ValueError where the three make no triangle.
    """
    cosine = (across**2 + up**2 - diagonal**2) / (2 * across * up)
    return math.degrees(math.acos(cosine)) - 90
