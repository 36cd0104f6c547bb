"""A holder's part as a drawing, by the rules of every other drawing: roles, order of work, kerf, label."""

from collections.abc import Iterator

from jigtemplates.drawing import Drawing, Item, Role, Stroke
from jigtemplates.geometry.offset import offset
from jigtemplates.geometry.outline import Region
from jigtemplates.holders.box import Box
from jigtemplates.holders.parts import Part
from jigtemplates.label import Label, line_breaks, place_label
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.lettering import missing_letters
from jigtemplates.marks import datum_mark
from jigtemplates.parameters.entries import Holder
from jigtemplates.processes.layout import drawing_of, rings, shifted, strokes


def part_drawing(part: Part, holder: Holder, kerf: float = 0.0) -> Drawing:
    """The part's lines. With a kerf (mm, full width) the beam runs half of it outside the part and inside every hole;
    the drawing is one kerf larger than the part.
    """
    half = kerf / 2
    items = [*_face(part, holder), *_sunk(part), *_holes(part, half)]
    items += [*rings(Role.CUT_INSIDE, offset((Region(part.placed(part.through)),), -half))]
    items += [Item(Role.CUT_OUTSIDE, part.placed(_grown(part.outside, half)))]
    if half:
        items = [shifted(item, half) for item in items]
    return drawing_of(items, part.outside.width + kerf, part.outside.height + kerf)


def _grown(box: Box, distance: float) -> Box:
    """Square corners stay square, since a beam may run past them."""
    radius = box.radius + distance if box.radius else 0.0
    return Box(box.width + 2 * distance, box.height + 2 * distance, radius)


def _sunk(part: Part) -> Iterator[Item]:
    if part.pocket is not None:
        yield Item(Role.POCKET, part.placed(part.pocket))
    yield from (Item(Role.POCKET, bore.hole.rim) for bore in part.bores if bore.hole.head)


def _holes(part: Part, half: float) -> Iterator[Item]:
    for bore in part.bores:
        yield from rings(Role.DRILL, offset((Region(bore.hole.outline),), -half))


def _face(part: Part, holder: Holder) -> Iterator[Item]:
    """Datum corner and label, so that the layers come together the way they were drawn."""
    yield from strokes(Role.MARK, _datum(part))
    label = part_label(part, holder)
    if label is not None:
        yield from strokes(Role.ENGRAVE, label.strokes)


def _datum(part: Part) -> tuple[Stroke, ...]:
    return datum_mark(Region(part.placed(part.outside)), [bore.hole.rim for bore in part.bores])


def label_lines(part: Part, holder: Holder) -> tuple[str, ...]:
    """What the part says of itself: holder, part, thickness, how many, which side is up."""
    thick = inch_short(part.thickness) if holder.width.is_inch else mm_text(part.thickness)
    return (holder.name, part.name, f"{thick} thick", f"make {part.quantity}", "this side up")


def part_label(part: Part, holder: Holder) -> Label | None:
    """The label on the frame beside the recess; None where it has no room or letters that cannot be engraved."""
    lines = label_lines(part, holder)
    if any(missing_letters(line) for line in lines):
        return None
    hollow = part.placed(part.pocket or part.through)
    breaks = line_breaks(lines)
    return place_label(
        breaks[0],
        plate=Region(part.placed(part.outside)),
        blocked=(hollow, *(bore.hole.rim for bore in part.bores), *_datum(part)),
        others=breaks[1:],
    ).label
