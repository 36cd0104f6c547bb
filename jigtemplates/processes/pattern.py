"""The template's lines for a paper pattern: all that a machine gets, and what helps the eye."""

import math
from collections.abc import Iterator

from jigtemplates.drawing import Drawing, Item, Role, Stroke
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.layout import countersinks, drawing_of, engraving, rings, strokes
from jigtemplates.processes.setup_draw import clipped
from jigtemplates.routing import PredictedCut
from jigtemplates.template import Template

#: Kept free round the label, and the shortest piece of a centre line that is drawn, mm (chosen).
ROOM, SHORTEST = 1.5, 1.0


def paper_drawing(template: Template, predicted: PredictedCut | None) -> Drawing:
    """True outlines, holes, label and marks; centre lines, broken at the label, and the predicted cut for reference.

    Of a rebate on the underside the inner edge, for reference too.
    """
    box = template.plate.bounds
    inside = template.job.cut.side == "inside"  # the work round which a pattern is followed is larger than the sheet
    cut = template.placed(predicted.outline) if predicted and inside else ()
    items = [
        *rings(Role.REFERENCE, cut),
        *strokes(Role.REFERENCE, _beside_label(template)),
        *(_rebate(template) if template.job.plate.rebate else ()),
        *engraving(template),
        *countersinks(template),
        *(Item(Role.DRILL, hole.outline) for hole in template.holes),
        *rings(Role.CUT_INSIDE, template.opening),
        *rings(Role.CUT_OUTSIDE, (template.plate,)),
    ]
    return drawing_of(items, box.width, box.height)


def _beside_label(template: Template) -> Iterator[Stroke]:
    """The centre lines as far as they do not run through the label, which then can be read."""
    label = template.label.label
    if label is None:
        yield from template.reference
        return
    left, bottom, right, top = label.box
    room = Bounds(left - ROOM, bottom - ROOM, right + ROOM, top + ROOM)
    for line in template.reference:
        hidden = clipped(line.points[0], line.points[-1], room)
        ends = (*line.points[:1], *(hidden or ()), *line.points[-1:])
        yield from (Stroke((a, b)) for a, b in zip(ends[::2], ends[1::2], strict=True) if math.dist(a, b) > SHORTEST)


def _rebate(template: Template) -> Iterator[Item]:
    from jigtemplates.rebate import rebate_of

    rebate = rebate_of(template.job.plate)
    if rebate is not None:
        yield Item(Role.REFERENCE, rebate.middle_on(template.job.plate))
