"""Boxes round what stands on a page, for tests that nothing stands on anything else."""

from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.paper_page import Text


def text_box(text: Text) -> Bounds:
    """Upright box of a text: 0.75 em above its baseline, 0.2 em below (measured on the face's letters)."""
    width = text_width(text.string, text.size, bold=text.bold)
    start = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    low, high = -0.2 * text.size, 0.75 * text.size
    if text.angle == 90:
        return Bounds(text.x - high, text.y + start, text.x - low, text.y + start + width)
    return Bounds(text.x + start, text.y + low, text.x + start + width, text.y + high)


def apart(a: Bounds, b: Bounds) -> bool:
    """Whether two boxes share no area, to 0.05 mm."""
    slack = 0.05
    level = a.right <= b.left + slack or b.right <= a.left + slack
    return level or a.top <= b.bottom + slack or b.top <= a.bottom + slack
