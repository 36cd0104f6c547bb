"""The lines of a template with their roles, on which every process builds."""

from collections.abc import Iterable, Iterator

from jigtemplates.drawing import WORKING_ORDER, Drawing, Item, Role, Stroke
from jigtemplates.geometry.outline import Outline, Point, Regions
from jigtemplates.template import Template


def drawing_of(items: Iterable[Item], width: float, height: float) -> Drawing:
    """A drawing with its items in working order."""
    return Drawing(tuple(sorted(items, key=lambda item: WORKING_ORDER.index(item.role))), width, height)


def rings(role: Role, regions: Regions) -> Iterator[Item]:
    """Every ring of the regions, outer ones and holes."""
    return (Item(role, ring) for region in regions for ring in region.rings)


def strokes(role: Role, lines: Iterable[Stroke]) -> Iterator[Item]:
    """Open strokes in one role."""
    return (Item(role, line) for line in lines)


def engraving(template: Template) -> Iterator[Item]:
    """The label, where it found room, and the marks."""
    if template.label.label:
        yield from strokes(Role.ENGRAVE, template.label.label.strokes)
    yield from strokes(Role.MARK, template.marks)


def countersinks(template: Template) -> Iterator[Item]:
    """The rims of countersunk holes."""
    return (Item(Role.POCKET, hole.rim) for hole in template.holes if hole.head)


def shifted(item: Item, by: float) -> Item:
    """The item moved right and up by the same distance, mm."""
    if isinstance(item.shape, Outline):
        return Item(item.role, item.shape.moved(by, by))
    return Item(item.role, Stroke(tuple(Point(p.x + by, p.y + by) for p in item.shape.points)))
