"""The gain for a hinge's leaf, open to the edge of the work; millimetres."""

from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.shapes.basic import uneven_rectangle


def hinge_gain(
    length: float, width: float, corner_radius: float = 0.0, *, overrun: float = 0.0, end_radius: float = 0.0
) -> Outline:
    """The recess for a hinge's leaf: length along the edge of the work, width from the edge inwards.

    ::

          ╭──────────────╮  ─┬─   corner_radius (0: square)
          │      +       │  width
        ──┼              ┼── ─┼─  edge of the work
          ╰──────────────╯   ─┴─  overrun, corners of end_radius
          ├─── length ───┤

    The origin is the middle of length and width, so the edge of the work is at y = -width / 2. Below it the cut goes
    on by overrun, in the air, so that the bit leaves the work before it turns. Raises ValueError where the corners
    do not fit.
    """
    reach = width + overrun
    gain = uneven_rectangle(length, reach, (end_radius, end_radius, corner_radius, corner_radius))
    return gain.moved(0.0, -overrun / 2)
