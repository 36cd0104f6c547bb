"""What a holder adds to the plan of a set-up sheet: the rebate below the plate, and where its turns bring the cut."""

from collections.abc import Callable, Iterator

from jigtemplates.geometry.outline import Outline, Point
from jigtemplates.holders.turning import directions
from jigtemplates.processes.paper_page import GREY
from jigtemplates.processes.setup_draw import DASHED, MEDIUM, THIN, VERMILLION, Picture
from jigtemplates.rebate import rebate_of
from jigtemplates.report import Report

#: Short dashes, mm on the page (chosen: unlike those of what lies below).
DOTTED = (0.6, 0.6)


def rows(report: Report) -> Iterator[tuple[str, str]]:
    """Colour and meaning of what is added."""
    if report.job.plate.rebate:
        yield GREY, "dashed: the rebate round the underside"
    if report.job.plate.turn is not None:
        yield VERMILLION, "dotted: the cut in the plate's other places"


def draw(report: Report, picture: Picture, shape: Callable[[Outline], Outline]) -> None:
    """The additions; `shape` brings an outline of the plate onto the page."""
    plate = report.job.plate
    rebate, middle = rebate_of(plate), Point(plate.width / 2, plate.height / 2)
    if rebate is not None:
        picture.outline(shape(rebate.middle_on(plate)), MEDIUM, GREY, DASHED)
    for turn in directions(plate.turn)[1:]:
        for region in report.case.cut_made:
            picture.outline(shape(region.outer.rotated(turn, middle)), THIN, VERMILLION, DOTTED)
