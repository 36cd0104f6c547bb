"""A template as a solid for a 3D printer: plate, openings, screw holes and their countersinks, label and marks.

It is printed as it is used, upper face up: countersinks and sunk letters open upwards and need no support. Holes
come out of a printer too small, so they are drawn wider by a stated allowance; openings have one of their own, for
their size decides the cut. Neither has to do with the bushing's offset, which is in the opening already.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from jigtemplates.drawing import Pens, Role, Stroke
from jigtemplates.geometry.offset import grow
from jigtemplates.geometry.outline import Outline, Region, Regions
from jigtemplates.geometry.shapes import rectangle
from jigtemplates.geometry.tidy import without_slivers
from jigtemplates.holes import Hole, countersink_slope
from jigtemplates.parameters.job import PrintChoice
from jigtemplates.solid import Beads, Cone, Prism, Solid
from jigtemplates.template import Template

#: What is cut through reaches this far beyond the faces, mm (chosen: no two faces then lie in one plane).
BEYOND = 1.0

#: Raised letters are rooted this deep in the plate, or half its thickness deep, mm (chosen, for the same reason).
ROOT = 0.5

#: A stroke is at most this part of the height of a capital wide. Chosen: an "e" has three bars a third of that
#: height apart, so that as much stays between two of them as each is wide.
STROKE_SHARE = 1 / 6


@dataclass(frozen=True, slots=True)
class Pocket:
    """A place that is lower than its face, as a rebate round the plate is."""

    area: Regions
    #: from the face, mm
    depth: float
    face: Literal["upper", "under"] = "under"


def printed_solid(template: Template, choice: PrintChoice, pens: Pens, *, pockets: Iterable[Pocket] = ()) -> Solid:
    """The template for a printer that is given these pens: a role without one is left out.

    Of a pen only the stroke counts, for the width of letters and marks. The rebate that the plate has is made, and
    so are `pockets`.
    """
    sunk = (*(rebate_pockets(template) if Role.POCKET in pens else ()), *pockets)
    thickness = template.job.plate.thickness
    through = (-BEYOND, thickness + BEYOND)
    return Solid(
        body=Prism((template.plate,), 0.0, thickness),
        cuts=(
            *_openings(template, choice, through),
            *_screw_holes(template, choice, pens),
            *(_pocketed(pocket, thickness) for pocket in sunk),
            *_sunk(template, choice, pens),
        ),
        added=tuple(_raised(template, choice, pens)),
        chord=choice.chord,
    )


def rebate_pockets(template: Template) -> Iterator[Pocket]:
    """The rebate round the underside of a plate that has one: from its middle to beyond its edge."""
    plate, box = template.job.plate, template.plate.bounds
    if not plate.rebate:
        return
    from jigtemplates.rebate import rebate_of  # other plates need not wait for it

    rebate = rebate_of(plate)
    assert rebate is not None  # the plate has one
    beyond = rectangle(box.width + 2 * BEYOND, box.height + 2 * BEYOND).moved(*box.center)
    yield Pocket((Region(beyond, (rebate.middle_on(plate).turned(False),)),), rebate.depth)


def printed_words(choice: PrintChoice) -> str:
    """What the file says of itself, in ASCII: how much wider than drawn things are, how far its facets are off, mm."""
    return (
        f"holes +{choice.allowance:g} mm, openings +{choice.opening_allowance:g} mm, facets within {choice.chord:g} mm"
    )


def widened(openings: Regions, allowance: float) -> Regions:
    """The openings wider by the allowance, half of it on every side, mm."""
    return without_slivers(grow(openings, allowance / 2))


def _openings(template: Template, choice: PrintChoice, through: tuple[float, float]) -> Iterator[Prism]:
    """The openings; none in a pattern for outside work, whose own edge guides the bushing and is made as drawn."""
    if template.opening:
        yield Prism(widened(template.opening, choice.opening_allowance), *through)


def _screw_holes(template: Template, choice: PrintChoice, pens: Pens) -> Iterator[Prism | Cone]:
    thickness = template.job.plate.thickness
    for hole in template.holes:
        if Role.DRILL in pens:
            circle = Outline.circle(hole.center, (hole.diameter + choice.allowance) / 2)
            yield Prism((Region(circle),), -BEYOND, thickness + BEYOND)
        if hole.head is not None and Role.POCKET in pens:
            yield _countersink(
                hole, hole.head, countersink_slope(template.job.plate.screws), choice.allowance, thickness
            )


def _countersink(hole: Hole, head: float, slope: float, allowance: float, thickness: float) -> Cone:
    """From half the radius of the through hole, inside which nothing is left to cut, to above the upper face."""
    rim, inner = (head + allowance) / 2, (hole.diameter + allowance) / 4
    return Cone(hole.center, thickness - (rim - inner) / slope, thickness + BEYOND, (inner, rim + BEYOND * slope))


def _pocketed(pocket: Pocket, thickness: float) -> Prism:
    if pocket.face == "under":
        return Prism(pocket.area, -BEYOND, pocket.depth)
    return Prism(pocket.area, thickness - pocket.depth, thickness + BEYOND)


def _sunk(template: Template, choice: PrintChoice, pens: Pens) -> Iterator[Beads]:
    """The letters where they are wanted sunk, and the marks, which always are: a base must run over them."""
    thickness = template.job.plate.thickness
    bottom, top = thickness - choice.label_depth, thickness + BEYOND
    if choice.label == "sunk":
        yield from _letters(template, pens, bottom, top)
    if template.marks and Role.MARK in pens:
        yield Beads(template.marks, pens[Role.MARK].stroke, bottom, top)


def _raised(template: Template, choice: PrintChoice, pens: Pens) -> Iterator[Beads]:
    thickness = template.job.plate.thickness
    if choice.label == "raised":
        yield from _letters(template, pens, thickness - min(ROOT, thickness / 2), thickness + choice.label_depth)


def _letters(template: Template, pens: Pens, bottom: float, top: float) -> Iterator[Beads]:
    label = template.label.label
    if label is not None and Role.ENGRAVE in pens:
        strokes: tuple[Stroke, ...] = label.strokes
        yield Beads(strokes, letter_stroke(label.height, pens), bottom, top)


def letter_stroke(height: float, pens: Pens) -> float:
    """Width of the strokes of letters with capitals of that height, mm: the pen's, or less where they would close."""
    return min(pens[Role.ENGRAVE].stroke, height * STROKE_SHARE)
