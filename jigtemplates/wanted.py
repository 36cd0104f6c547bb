"""The cut that is wanted: its outline, its narrowest passage, and what the plate says of it; millimetres."""

from collections.abc import Iterator
from typing import NamedTuple

from jigtemplates.geometry.outline import Outline, Region, cos_sin
from jigtemplates.geometry.shapes import (
    arc_slot,
    butterfly_key,
    ellipse,
    ends_apart,
    hand_hold,
    hinge_gain,
    largest_key_radius,
    rectangle,
    regular_polygon,
    round_hole,
    slot,
    uneven_rectangle,
)
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.parameters.forms import ArcSlot, Butterfly, FromFile, HandHold, Hinge, Polygon, Uneven
from jigtemplates.parameters.job import Cut


class Place(NamedTuple):
    """Where a cut stands on the plate, seen from above."""

    #: of its middle, mm from the plate's lower-left corner
    x: float
    y: float
    #: turn, degrees counter-clockwise
    angle: float


def places_of(cut: Cut) -> tuple[Place, ...]:
    """Every place of a cut: one, or those of its repeat, row by row in the direction of the row."""
    cos, sin = cos_sin(cut.angle)
    return tuple(
        Place(cut.x + x * cos - y * sin, cut.y + x * sin + y * cos, cut.angle + turned) for x, y, turned in _group(cut)
    )


def _group(cut: Cut) -> Iterator[tuple[float, float, float]]:
    """Middle and turn of each cut of a group before it is turned, about the middle of the group."""
    repeat = cut.repeat
    if repeat is None:
        yield 0.0, 0.0, 0.0
    elif repeat.ring is not None:
        for i in range(repeat.count):
            turned = 360.0 * i / repeat.count
            cos, sin = cos_sin(repeat.start_angle + turned)
            radius = repeat.ring.mm / 2
            yield radius * cos, radius * sin, turned if repeat.turned else 0.0
    elif repeat.pitch is not None:
        cos, sin = cos_sin(repeat.direction)
        across = 0.0 if repeat.row_pitch is None else repeat.row_pitch.mm
        for row in range(repeat.rows):
            for i in range(repeat.count):
                along, aside = _from_middle(i, repeat.count, repeat.pitch.mm), _from_middle(row, repeat.rows, across)
                yield along * cos - aside * sin, along * sin + aside * cos, 0.0


def _from_middle(number: int, count: int, pitch: float) -> float:
    return (number - (count - 1) / 2) * pitch


def cut_region(cut: Cut, *, least: float = 0.0) -> Region:
    """The cut with what stands in it, as `cut_outline`; only a drawn outline has such holes."""
    return cut.form.region if isinstance(cut.form, FromFile) else Region(cut_outline(cut, least=least))


def cut_outline(cut: Cut, *, least: float = 0.0) -> Outline:
    """The cut about its own middle, length along x; no passage narrower than least (mm).

    Where the middle is, the shape's function says (`geometry.shapes`).
    """
    width, length = max(cut.width, least), max(cut.length, least)
    if cut.form is not None:
        return _formed(cut, width, length, least)
    if cut.shape == "round":
        return round_hole(width)
    if cut.shape == "slot":
        return slot(length, width)
    if cut.shape == "ellipse":
        return ellipse(length, width)
    return rectangle(length, width, cut.corner_radius)


def _formed(cut: Cut, width: float, length: float, least: float) -> Outline:
    match cut.form:
        case Uneven(radii):
            return uneven_rectangle(length, width, [radius.mm for radius in radii])
        case Polygon(sides):
            return regular_polygon(sides, width, cut.corner_radius)
        case Butterfly(waist):
            return _key(cut, length, max(waist.mm, least))
        case HandHold(rise):
            return hand_hold(length, width, min(rise.mm, (length - width) / 2))
        case ArcSlot(radius, span):
            return arc_slot(radius.mm, span, width)
        case FromFile():
            return cut.form.region.outer  # it is what was drawn, and not widened
        case Hinge(overrun, end_radius):
            return hinge_gain(length, cut.width, cut.corner_radius, overrun=overrun, end_radius=end_radius)
    raise AssertionError(cut.form)


def _key(cut: Cut, length: float, waist: float) -> Outline:
    if waist >= cut.width:  # only the running clearance can do that
        return rectangle(length, waist, min(cut.corner_radius, length / 2))
    radius = min(cut.corner_radius, largest_key_radius(length, cut.width, waist))
    return butterfly_key(length, cut.width, waist, radius)


def narrow_side(cut: Cut) -> float:
    """The narrowest passage of the cut, mm: a rectangle may be wider than long, a butterfly key has a waist.

    A hinge gain is open on one side, where the bit goes on by the overrun; that is always enough for the bit.
    """
    return min(_across(cut), cut.length)


#: The key of a shape's narrowest passage, where it is not its width.
_ACROSS = {"round": "diameter", "polygon": "across", "butterfly": "waist", "outline": "scale"}


def narrow_key(cut: Cut) -> str:
    """The key of the job that gives the cut's narrowest passage."""
    across = _ACROSS.get(cut.shape, "width")
    is_length = cut.shape not in ("round", "polygon", "outline") and cut.length < _across(cut)
    return f"cut.{'length' if is_length else across}"


def _across(cut: Cut) -> float:
    """The narrowest passage that is not the length, mm."""
    match cut.form:
        case Butterfly(waist):
            return waist.mm
        case Hinge(overrun):
            return cut.width + overrun
        case FromFile():
            return cut.form.widest_inside
    return cut.width


def widest(cut: Cut) -> float:
    """What the narrowest passage must stay below, mm, or the shape is lost: an arc slot; a drawn
    outline is never widened."""
    match cut.form:
        case ArcSlot(radius, span):
            return min(2 * radius.mm, ends_apart(radius.mm, span, 0.0))
        case FromFile():
            return 0.0
    return float("inf")


def edge_of_work(cut: Cut) -> float | None:
    """How far the edge of the work lies below the middle of the cut, mm; None for a cut within the work."""
    return cut.width / 2 if isinstance(cut.form, Hinge) else None


def is_lopsided(cut: Cut) -> bool:
    """True where left and right differ, so that a mirrored template needs a mirrored opening."""
    return isinstance(cut.form, Uneven | FromFile)


def is_drawn(cut: Cut) -> bool:
    """True for an outline from a drawing, of which only what routing makes tells whether the bit goes in."""
    return isinstance(cut.form, FromFile)


def cut_text(cut: Cut, *, least: float = 0.0, inches: bool = False) -> str:
    """The cut's width, length and depth, such as "10 x 50 x 28 mm", "dia 40 x 12 mm", "1/4 x 1-1/2 x 3/4 in".

    What the shape has besides comes behind: "30 x 8 mm, 6 sides". In inches where it was written in inches, and in a
    job in inches (inches) where it is drawn or any of it was. No passage is given as less than least.
    """
    in_inch = [length.is_inch for length in (cut.width_written, cut.length_written, cut.depth_written)]
    inches = all(in_inch) or (inches and (is_drawn(cut) or any(in_inch)))
    sizes = [max(size, least) for size in _sides(cut)]
    text = " x ".join(_number(size, inches) for size in (*sizes, cut.depth))
    return f"{'dia ' if cut.shape == 'round' else ''}{text} {'in' if inches else 'mm'}{_besides(cut, least, inches)}"


def _sides(cut: Cut) -> tuple[float, ...]:
    one = cut.shape == "round" or isinstance(cut.form, Polygon | ArcSlot)
    return (cut.width,) if one else (cut.width, cut.length)


def _besides(cut: Cut, least: float, inches: bool) -> str:
    match cut.form:
        case Polygon(sides):
            return f", {sides} sides"
        case Butterfly(waist):
            return f", waist {_number(max(waist.mm, least), inches)}"
        case HandHold(rise) if rise.exact:
            return f", rise {_number(rise.mm, inches)}"
        case ArcSlot(radius, span):
            return f", r {_number(radius.mm, inches)}, {span:g} deg"
    return ""


def _number(mm: float, inches: bool) -> str:
    """A size without its unit: in inches a fraction where it is on a rule; else three decimals."""
    if not inches:
        return mm_text(mm, 3).removesuffix(" mm")
    return inch_short(mm).removesuffix(" in")
