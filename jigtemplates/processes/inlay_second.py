"""A second template from the outside of a first, on a page: the first over what the second cuts, and the numbers."""

from collections.abc import Iterable

from jigtemplates.geometry.outline import Bounds, Point
from jigtemplates.inlay import Fit
from jigtemplates.inlay.overlay import Overlay
from jigtemplates.processes.inlay_plan import PLUG, Plan, Scene, plan_height, plan_scale
from jigtemplates.processes.paper_page import GREY, Page, Pattern, Window
from jigtemplates.processes.paper_text import paragraph, stacked
from jigtemplates.processes.setup import APART, FOOT, MARGIN, paper_for, printable
from jigtemplates.processes.setup_draw import BLUE, CUT, MEDIUM, SMALL, THICK, VERMILLION, Picture, scale_text
from jigtemplates.processes.setup_words import facts_block
from jigtemplates.report import Report

#: The picture takes at most this height, mm (chosen: half of an upright page).
MOST = 140.0


def lay_out_second(report: Report, fit: Fit, laid: Overlay, rows: Iterable[tuple[str, str]]) -> Pattern:
    """The page, on the paper of the job's set-up sheet; `laid` has the second's cut as recess, the first as plug."""
    width, height = paper_for(report)
    area = Bounds(MARGIN, FOOT, width - MARGIN, height - MARGIN)
    title = printable(report.job.title)[0]
    about = "second template, made round the outside of a first · the numbers are aids: make a test cut in scrap first"
    head = stacked((paragraph(title, area.width, 6.0, bold=True), paragraph(about, area.width, SMALL, colour=GREY)))
    scene = Scene(laid.recess, fit, laid)
    scale, top = plan_scale(scene, area.width, MOST), area.top - head.height - APART
    low = top - plan_height(scene, scale, area.width)
    picture = _overlay(scene, Bounds(area.left, low, area.right, top), scale)
    facts = facts_block("What comes out", rows, area.width, SMALL).placed(area.left, low - APART)
    first = head.placed(area.left, area.top)
    window = Window(picture.cell, Point(0.0, 0.0), tuple(picture.inks), tuple(picture.texts))
    return Pattern(
        title, width, height, (Page("", (*first.inks, *facts.inks), (*first.texts, *facts.texts), (window,)),)
    )


def _overlay(scene: Scene, cell: Bounds, scale: float) -> Picture:
    plan = Plan(scene, Picture(cell, scale))
    plan.caption("The first laid over what the second cuts", f"scale {scale_text(scale)}, seen from above")
    plan.rings(scene.laid.recess, CUT, THICK, VERMILLION, hole="#FFFFFF")
    plan.rings(scene.laid.plug, PLUG, MEDIUM, BLUE, hole="#FFFFFF")
    plan.key(((PLUG, "the first template"), (CUT, "cut of the second beyond it")))
    return plan.picture
