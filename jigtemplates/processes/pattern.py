"""The template's lines for a paper pattern: all that a machine gets, and what helps the eye."""

from collections.abc import Iterator

from jigtemplates.drawing import Drawing, Item, Role
from jigtemplates.processes.layout import countersinks, drawing_of, engraving, rings, strokes
from jigtemplates.routing import PredictedCut
from jigtemplates.template import Template


def paper_drawing(template: Template, predicted: PredictedCut | None) -> Drawing:
    """True outlines, holes, label and marks; full centre lines and the predicted cut for reference.

    Of a rebate on the underside the inner edge, for reference too.
    """
    box = template.plate.bounds
    inside = template.job.cut.side == "inside"  # the work round which a pattern is followed is larger than the sheet
    cut = template.placed(predicted.outline) if predicted and inside else ()
    items = [
        *rings(Role.REFERENCE, cut),
        *strokes(Role.REFERENCE, template.reference),
        *(_rebate(template) if template.job.plate.rebate else ()),
        *engraving(template),
        *countersinks(template),
        *(Item(Role.DRILL, hole.outline) for hole in template.holes),
        *rings(Role.CUT_INSIDE, template.opening),
        *rings(Role.CUT_OUTSIDE, (template.plate,)),
    ]
    return drawing_of(items, box.width, box.height)


def _rebate(template: Template) -> Iterator[Item]:
    from jigtemplates.rebate import rebate_of

    rebate = rebate_of(template.job.plate)
    if rebate is not None:
        yield Item(Role.REFERENCE, rebate.middle_on(template.job.plate))
