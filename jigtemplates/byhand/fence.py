"""The opening at a router table: fence, stops or a pivot for each of the person's bits; millimetres.

The plate lies on the table, its upper face up, and one of its edges runs along the fence, which stands behind the bit.
Hold the drawing so that this edge is away from you: left and right are then as one sees them from the front of the
table. The bit's axis travels between the middles of the opening's ends or corners, so nothing outside it is cut.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from jigtemplates.byhand.table import Table, letters, shown
from jigtemplates.geometry.outline import Arc, Bounds, Regions
from jigtemplates.match import name_of
from jigtemplates.placing import cut_middle
from jigtemplates.template import Template
from jigtemplates.wanted import places_of

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit

Edge = Literal["lower", "upper", "left", "right"]

#: A bit so little wider or narrower than the opening makes it in one setting, mm (chosen: half of the usual
#: running clearance, and about what a fence can be set to).
AS_WIDE = 0.05
#: Bits shown for one opening, the widest first (chosen: the narrower ones take more settings).
MOST_BITS = 4

#: Areas that differ by less are the same, mm² (chosen: rounding only).
SAME_AREA = 1e-3

NOT_PLAIN = (
    "This opening has other sides than straight ones along the plate's edges, or unequal corners: saw and file it."
)
NOT_TURNED = "The cut is turned in the plate, so its sides run along no edge: not possible with a fence."
#: From the rotation: a table's bit turns counter-clockwise seen from above, so that its right side moves to the fence,
#: its side towards you to the right, and the one at the fence to the left. The wood is fed the other way.
FEED = (
    "Feed as the row says, against the bit's rotation, {deep} deep at a time: from right to left in a "
    "full-width run and in one that widens on your side; from left to right, well pressed to the fence, in one that "
    "widens on the fence's side. Push blocks, hands clear of the bit."
)
#: The same rotation: turned clockwise, the wood at the bit's side away from the pin, which is the opening's edge, comes
#: against its edges there.
PIN_FEED = (
    "Turn the plate clockwise, seen from above: a table's bit turns the other way, so that the opening's edge comes "
    "against its rotation. {deep} deep at a time, begun over a hole drilled in the waste. Keep both hands "
    "on top of the plate and clear of the bit: it may come through."
)
RIGHT_TO_LEFT, LEFT_TO_RIGHT = "right to left", "left to right"
NO_EDGE = (
    "The plate is round and has no edge that runs along a fence: rout the opening while the blank is still square, or "
    "saw and file it."
)
NO_BIT = "None of the bits makes this opening: all are wider than it, or than its corners are round."


@dataclass(frozen=True, slots=True)
class FenceCut:
    """One run along the fence."""

    #: what the person calls the bit
    bit: str
    diameter: float
    #: the plate's edge that runs along the fence
    edge: Edge
    #: from the fence to the near side of the bit
    fence: float
    #: from the bit's side to the stop on its left, and on its right
    left_stop: float
    right_stop: float
    #: fence settings the bit takes for the opening's width, the same edge along the fence; 1: as wide as the opening
    settings: int
    #: how much further the fence stands for the far side, the same edge along it; 0 in one setting
    shift: float
    #: length of the bit's edges where that is less than the plate is thick
    too_short: float | None
    #: letter of the one it makes of several openings; empty for the only one
    opening: str = ""


@dataclass(frozen=True, slots=True)
class Pivot:
    """A round opening with a pin in its middle."""

    bit: str
    diameter: float
    #: from the pin's middle to the bit's axis
    radius: float
    #: from the pin's middle to the near side of the bit; 0 where the bit is as wide as the opening
    near_side: float
    too_short: float | None


def distinct(bits: Iterable["Bit"]) -> Sequence["Bit"]:
    """One bit of each diameter, the widest first; of equal ones the first."""
    by_size: dict[float, Bit] = {}
    for bit in bits:
        by_size.setdefault(round(bit.diameter.mm, 6), bit)
    return [by_size[size] for size in sorted(by_size, reverse=True)]


def fence_cuts(template: Template, bits: Iterable["Bit"]) -> tuple[FenceCut, ...]:
    """The runs that make the opening's sides, for the widest bits that can; none where it is round or turned.

    A slot has two long sides, or one run for a bit as wide as it; a rectangle has four. Of several openings each has
    the runs of the widest bit alone.
    """
    singles, chosen = single_openings(template), tuple(bits)
    if len(singles) == 1:
        return _fence_cuts(template, chosen, MOST_BITS)
    cuts = ((letter, cut) for letter, one in lettered(template) for cut in _fence_cuts(one, chosen, 1))
    return tuple(replace(cut, opening=letter) for letter, cut in cuts)


def lettered(template: Template) -> Iterator[tuple[str, Template]]:
    """Of several openings those that are not round, each with its letter on the plan and in the table: A, B, ... AA.

    Round ones have the number of their drilled hole.
    """
    singles = single_openings(template)
    if len(singles) > 1:
        long = (one for one in singles if not is_circle(one))
        yield from ((letters(number), one) for number, one in enumerate(long))


def single_openings(template: Template) -> tuple[Template, ...]:
    """The plate once for each of its openings, with that one alone; a cut in several parts stays one."""
    found = []
    for part in (one.alone() for one in template.parts):
        count = len(part.opening_at_rest)
        for number, place in enumerate(places_of(part.job.cut)):
            cut = replace(part.job.cut, x=place.x, y=place.y, angle=place.angle, repeat=None)
            opening = part.opening[number * count : (number + 1) * count]
            found.append(replace(part, job=replace(part.job, cut=cut), opening=opening))
    return tuple(found)


def _fence_cuts(template: Template, bits: Iterable["Bit"], most: int) -> tuple[FenceCut, ...]:
    size = template.opening_size
    if size is None or has_no_edge(template) or is_turned(template) or not is_plain(template.opening):
        return ()
    radius, box = size.corner_radius, template.opening[0].bounds
    fitting = [bit for bit in distinct(bits) if bit.diameter.mm <= 2 * radius + AS_WIDE]
    return tuple(cut for bit in fitting[:most] for cut in _runs(template, box, radius, bit))


def has_no_edge(template: Template) -> bool:
    """True for a round plate."""
    return template.plate.outer.as_circle is not None


def is_turned(template: Template) -> bool:
    """True where the opening's sides run along no edge of the plate; never for a round one."""
    return template.job.cut.angle % 90 > 1e-9 and not is_circle(template)


def is_circle(template: Template) -> bool:
    """True for one round opening."""
    return len(template.opening) == 1 and template.opening[0].outer.as_circle is not None


def is_plain(opening: Regions) -> bool:
    """True for one upright opening of four straight sides, or two, with corners of one radius: its area says so."""
    if len(opening) != 1 or opening[0].holes or opening[0].outer.as_circle is not None:
        return False
    outer = opening[0].outer
    radius = min((s.radius for s in outer.segments if isinstance(s, Arc)), default=0.0)
    plain = outer.bounds.width * outer.bounds.height - (4 - math.pi) * radius * radius
    return abs(outer.area - plain) < SAME_AREA


def _runs(template: Template, box: Bounds, radius: float, bit: "Bit") -> Iterator[FenceCut]:
    plate = template.job.plate
    along_x = box.width > 2 * radius + 1e-6  # else its ends are round and there is nothing straight that way
    along_y = box.height > 2 * radius + 1e-6
    if along_x:
        yield from _two_sides(("lower", "upper"), box, radius, bit, plate.width, plate.height, plate.thickness)
    if along_y:  # the same, seen after a quarter turn clockwise: the right edge is then at the bottom
        turned = Bounds(box.bottom, plate.width - box.right, box.top, plate.width - box.left)
        yield from _two_sides(("right", "left"), turned, radius, bit, plate.height, plate.width, plate.thickness)


def _two_sides(
    edges: tuple[Edge, Edge], box: Bounds, radius: float, bit: "Bit", width: float, height: float, thickness: float
) -> Iterator[FenceCut]:
    """The run with the first edge at the fence and, unless that makes the whole width, with the other.

    The box and the sides are given with the first edge at the bottom: seen from the fence, left and right exchanged.
    """
    diameter = bit.diameter.mm
    room = box.height - diameter
    one_setting = room <= AS_WIDE
    edges_short = bit.cutting_length is not None and bit.cutting_length.mm < thickness - 1e-9
    first = FenceCut(
        bit=name_of(bit),
        diameter=diameter,
        edge=edges[0],
        fence=box.bottom + min(room, 0.0) / 2,
        left_stop=width - box.left - radius - diameter / 2,
        right_stop=box.right - radius - diameter / 2,
        settings=1 if one_setting else -int(-(box.height - AS_WIDE) // diameter),
        shift=0.0 if one_setting else room,
        too_short=bit.cutting_length.mm if bit.cutting_length is not None and edges_short else None,
    )
    yield first
    if not one_setting:
        yield replace(
            first,
            edge=edges[1],
            fence=height - box.top,
            left_stop=first.right_stop,
            right_stop=first.left_stop,
        )


def round_openings(template: Template) -> tuple[Template, ...]:
    """The plate once for each diameter of a round opening."""
    rounds = {round(one.opening[0].bounds.width, 6): one for one in single_openings(template) if is_circle(one)}
    return tuple(rounds[diameter] for diameter in sorted(rounds, reverse=True))


def pivots(template: Template, bits: Iterable["Bit"]) -> tuple[Pivot, ...]:
    """For a round opening: each bit as wide as it, or at most half as wide, so that a pin holds the middle."""
    if not is_circle(template) or template.opening_size is None:
        return ()
    opening, thickness = template.opening_size.width, template.job.plate.thickness
    found = []
    for bit in distinct(bits):
        diameter = bit.diameter.mm
        whole = abs(opening - diameter) <= AS_WIDE
        if whole or diameter < opening / 2 - AS_WIDE:
            radius = 0.0 if whole else (opening - diameter) / 2
            short = bit.cutting_length.mm if bit.cutting_length and bit.cutting_length.mm < thickness - 1e-9 else None
            found.append(Pivot(name_of(bit), diameter, radius, 0.0 if whole else opening / 2 - diameter, short))
    return tuple(found[:MOST_BITS])


def fence_table(template: Template, cuts: Sequence[FenceCut], inches: bool) -> Table:
    """The runs as text; the reason alone where a fence is no help."""
    title = "The opening at a router table, with a fence"
    header = ("bit", "edge", "fence to bit", "stop left", "stop right", "feed", "how")
    if len(single_openings(template)) > 1:
        return _table_of_several(tuple(lettered(template)), cuts, header, inches)
    if has_no_edge(template):
        return Table(title, header, (), (NO_EDGE,))
    if is_turned(template):
        return Table(title, header, (), (NOT_TURNED,))
    if not is_plain(template.opening):
        return Table(title, header, (), (NOT_PLAIN,))
    if not cuts:
        return Table(title, header, (), (NO_BIT,))
    return Table(title, header, tuple(_fence_row(cut, inches) for cut in cuts), tuple(_fence_notes(cuts, inches)))


def _table_of_several(
    openings: Sequence[tuple[str, Template]], cuts: Sequence[FenceCut], header: tuple[str, ...], inches: bool
) -> Table:
    """The runs of several openings, each with its letter on the plan."""
    rows = tuple((cut.opening, *_fence_row(cut, inches)) for cut in cuts)
    made = {cut.opening for cut in cuts}
    without = [at for at, (letter, _) in enumerate(openings) if letter not in made]
    notes = [_without(without)] if without else []
    places = ", ".join(f"{letter} at {_middle(one, inches)}" for letter, one in openings)
    told = f"Openings by their letters on the plan, middles from the datum corner: {places}."
    title = "The openings at a router table, with a fence"
    return Table(title, ("opening", *header), rows, (told, *notes, *(_fence_notes(cuts, inches) if cuts else ())))


def _without(numbers: Sequence[int]) -> str:
    """What is said of the openings that no run along a fence makes; of more than two in a row the first and last."""
    names = [letters(number) for number in numbers]
    if len(numbers) == 1:
        return f"Opening {names[0]}: not with a fence; saw and file it."
    first, last = numbers[0], numbers[-1]
    if len(numbers) > 2 and last - first == len(numbers) - 1:
        return f"Openings {names[0]} to {names[-1]}: not with a fence; saw and file them."
    return f"Openings {', '.join(names[:-1])} and {names[-1]}: not with a fence; saw and file them."


def _middle(template: Template, inches: bool) -> str:
    x, y = cut_middle(template.job)
    return f"({shown(x, inches)}, {shown(y, inches)})"


def _fence_row(cut: FenceCut, inches: bool) -> tuple[str, ...]:
    distances = (shown(mm, inches) for mm in (cut.fence, cut.left_stop, cut.right_stop))
    return (cut.bit, cut.edge, *distances, feed_of(cut), _how(cut, inches))


def feed_of(cut: FenceCut) -> str:
    """Which way the plate goes: a second run that meets the first widens it on the fence's side."""
    return LEFT_TO_RIGHT if cut.edge in ("upper", "left") and cut.settings == 2 else RIGHT_TO_LEFT


def _how(cut: FenceCut, inches: bool) -> str:
    short = "" if cut.too_short is None else f"; cuts only {shown(cut.too_short, inches)} deep"
    if cut.settings == 1:
        return f"one setting{short}"
    if cut.edge in ("upper", "left"):
        return f"the plate turned by 180°{short}"
    between = f"; {_settings(cut.settings - 2)} between, or saw out the waste" if cut.settings > 2 else ""
    return f"or same edge, fence {shown(cut.shift, inches)} further{between}{short}"


def _settings(count: int) -> str:
    return f"{count} setting{'s' * (count != 1)}"


def _fence_notes(cuts: Sequence[FenceCut], inches: bool) -> Iterator[str]:
    yield (
        "Stand in front, the fence behind the bit, and hold the drawing with the edge that is on the fence away from "
        "you: left and right are as you then see them. Fence and stops are measured from the bit's side."
    )
    if any(cut.settings > 1 for cut in cuts):
        yield "Drill the ends or corners first, and lower the plate onto the bit in such a hole."
    both = [cut for cut in cuts if cut.settings > 1]
    if (
        len(both) > 1
        and not both[0].opening
        and abs(both[0].fence - both[1].fence) < 0.005
        and both[0].bit == both[1].bit
    ):
        where = shown(both[0].fence, inches)
        yield f"The opening is in the middle: one fence setting ({where}) does both edges, the plate turned by 180°."
    yield FEED.format(deep=_shallow(inches))


def pivot_table(opening: float, found: Sequence[Pivot], inches: bool) -> Table:
    """The pivots as text, with the hole saw beside them."""
    header = ("bit", "pin to bit's axis", "pin to bit's side", "how")
    rows = tuple(_pivot_row(one, inches) for one in found)
    notes = [
        f"Or bore it: a hole saw, Forstner bit or drill of {shown(opening, inches)}, or less and pare to the line."
    ]
    if any(one.radius for one in found):
        notes.append(PIN_FEED.format(deep=_shallow(inches).capitalize()))
        notes.append(
            f"Leave the last {'1/32 in' if inches else 'millimetre'} and saw it through, or tape both parts to a "
            "backing, so that none is loose."
        )
    return Table("The round opening at a router table, on a pin", header, rows, tuple(notes))


def _shallow(inches: bool) -> str:
    return "about 1/8 in" if inches else "a few millimetres"


def _pivot_row(one: Pivot, inches: bool) -> tuple[str, ...]:
    short = "" if one.too_short is None else f"; cuts only {shown(one.too_short, inches)} deep"
    if not one.radius:
        return (one.bit, "-", "-", f"as wide as the opening: plunge{short}")
    return (one.bit, shown(one.radius, inches), shown(one.near_side, inches), f"turn the plate about the pin{short}")
