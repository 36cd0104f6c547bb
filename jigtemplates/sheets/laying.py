"""Plates find their places on sheets: the process's gap and margin, the material's grain, what found no room."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from jigtemplates.checks.finding import Finding, stop, warning
from jigtemplates.errors import quoted
from jigtemplates.lengths import Length, inch_short, mm_text
from jigtemplates.parameters.entries import Process
from jigtemplates.profiles import Found
from jigtemplates.sheets.choice import Choice, Machine
from jigtemplates.sheets.packing import Blank, Filled, Piece, pack, size_of
from jigtemplates.sheets.plates import Group, Plate
from jigtemplates.sheets.stock import Stock

#: A strip of sheet narrower than this is not relied on to hold, mm (chosen).
LEAST_STRIP = 6.0


@dataclass(frozen=True)
class Rules:
    """What is kept free on the sheets of one group, mm, and how its plates may lie."""

    gap: float
    margin: float
    #: False: as drawn, or all turned by a quarter, `turned`
    may_turn: bool
    turned: bool = False


@dataclass(frozen=True, eq=False)
class Laid:
    """A plate in its place: the lower-left corner of its box from that of the sheet, mm."""

    plate: Plate
    x: float
    y: float
    #: by a quarter, counter-clockwise
    turned: bool

    @property
    def size(self) -> tuple[float, float]:
        """Width and height as it lies, mm."""
        return size_of(Piece(*self.plate.size), turned=self.turned)


@dataclass(frozen=True, eq=False)
class LaidSheet:
    """A sheet with its plates, in the order they are worked: there and back in rows, from the lower left."""

    group: Group
    stock: Stock
    #: from 1, within its group
    number: int
    rules: Rules
    plates: tuple[Laid, ...]

    @cached_property
    def share(self) -> float:
        """What of the sheet's area becomes plates, 0 to 1; openings count as plate."""
        return sum(laid.plate.area for laid in self.plates) / self.stock.area

    @cached_property
    def reach(self) -> tuple[float, float]:
        """How far right and up plates reach, from the sheet's lower-left corner, mm."""
        ends = [(laid.x + laid.size[0], laid.y + laid.size[1]) for laid in self.plates]
        return max(x for x, _ in ends), max(y for _, y in ends)

    @property
    def finished(self) -> tuple[float, float]:
        """Width and height of the box round all finished plates, mm."""
        left, low = min(laid.x for laid in self.plates), min(laid.y for laid in self.plates)
        return round(self.reach[0] - left, 9), round(self.reach[1] - low, 9)

    @property
    def rest(self) -> tuple[float, float]:
        """Width and height of the larger strip that is left whole at the right or the top, mm; beyond a gap."""
        width, height = self.stock.width.mm, self.stock.height.mm
        right = max(0.0, width - self.reach[0] - self.rules.gap)
        top = max(0.0, height - self.reach[1] - self.rules.gap)
        return (right, height) if right * height >= top * width else (width, top)


@dataclass(frozen=True)
class Layout:
    """The sheets of one group, and what is said of them."""

    group: Group
    rules: Rules
    sheets: tuple[LaidSheet, ...]
    findings: tuple[Finding, ...]


def lay(group: Group, choice: Choice, process: Found[Process]) -> Layout:
    """Lay a group's plates on as few sheets as can be found; a finding names each plate that found no room."""
    rules = rules_for(group, choice, process)
    singles = [plate for plate in group.plates for _ in range(plate.copies)]
    pieces = [_piece(plate, rules) for plate in singles]
    blanks = [_blank(stock, rules.margin) for stock in choice.stocks]
    usable = [i for i, blank in enumerate(blanks) if blank.width > 0 and blank.height > 0]
    packing = pack(pieces, [blanks[i] for i in usable], rules.gap, straight_cuts=choice.straight_cuts)
    sheets = tuple(
        LaidSheet(group, choice.stocks[usable[filled.blank]], number, rules, _laid(filled, singles, pieces, rules))
        for number, filled in enumerate(packing.sheets, 1)
    )
    left = Counter(singles[i] for i in packing.left)
    findings = [_left_out(plate, count, choice, rules) for plate, count in left.items()]
    findings += _loose_strips(group, rules, process.entry, choice) if len(singles) > 1 else ()
    return Layout(group, rules, sheets, tuple(findings))


def _piece(plate: Plate, rules: Rules) -> Piece:
    width, height = size_of(Piece(*plate.size), turned=rules.turned)
    return Piece(width, height, rules.may_turn)


def _blank(stock: Stock, margin: float) -> Blank:
    return Blank(stock.width.mm - 2 * margin, stock.height.mm - 2 * margin, stock.area, stock.count)


def _laid(filled: Filled, singles: Sequence[Plate], pieces: Sequence[Piece], rules: Rules) -> tuple[Laid, ...]:
    found = [
        Laid(singles[spot.piece], rules.margin + spot.x, rules.margin + spot.y, spot.turned != rules.turned)
        for spot in filled.spots
    ]
    return tuple(_there_and_back(found))


def _there_and_back(plates: Sequence[Laid]) -> Iterator[Laid]:
    """In rows from below, every second one from right to left, so that the machine travels little."""
    rest, forward = sorted(plates, key=lambda one: (one.y, one.x)), True
    while rest:
        # a row: whatever begins no higher than the middle of its lowest plate
        top = rest[0].y + rest[0].size[1] / 2
        row = [one for one in rest if one.y <= top]
        yield from sorted(row, key=lambda one: (one.x if forward else -one.x, one.y))
        rest, forward = [one for one in rest if one.y > top], not forward


def rules_for(group: Group, choice: Choice, process: Found[Process]) -> Rules:
    """Gap, margin and turning of a group of which `faults_of` has no fault."""
    gap, margin = choice.gap or process.entry.gap, choice.margin or process.entry.margin
    assert gap is not None
    assert margin is not None
    way = choice.grain or ("along" if group.material is not None and group.material.grain else "any")
    return Rules(gap.mm, margin.mm, way == "any", way == "across")


def faults_of(group: Group, choice: Choice, process: Found[Process]) -> Iterator[str]:
    """A line for a distance that nothing gives, and for a gap in which a tool would spoil the neighbour."""
    own = {"gap": choice.gap or process.entry.gap, "margin": choice.margin or process.entry.margin}
    for key, found in own.items():
        if found is None:
            yield (
                f"{process.origin}: processes.{process.name}: {key} is missing (write it there, such as "
                f'{key} = "5 mm", or give --{key} "5 mm")'
            )
    if own["gap"] is not None:
        where = "--gap" if choice.gap is not None else f"{process.origin}: processes.{process.name}.gap"
        yield from (f"{where}: {own['gap']} {words}" for words in _narrow(own["gap"], group, process.entry))


def _narrow(gap: Length, group: Group, process: Process) -> Iterator[str]:
    """Why a gap is too narrow for what goes round the plates."""
    cutter, kerf = process.cutter, max(plate.kerf for plate in group.plates)
    if cutter is not None and gap.exact < cutter.exact:
        yield (
            f"is less than the cutter that goes round the plates, {cutter}, which would cut into their neighbours "
            f"(write at least {cutter}, or your own cutter in the profile of the process {quoted(process.name)})"
        )
    if gap.mm < 2 * kerf:
        yield f"is less than two kerfs of {mm_text(kerf, 3)}: nothing is left between two plates (write 3 mm)"


def _loose_strips(group: Group, rules: Rules, process: Process, choice: Choice) -> Iterator[Finding]:
    """Between two plates the cutter may leave a strip too narrow to hold."""
    cutter = 0.0 if process.cutter is None else process.cutter.mm
    strip = rules.gap - 2 * cutter
    if cutter and 0 < round(strip, 6) < LEAST_STRIP:
        most, least = (length_words(mm, choice) for mm in (2 * cutter, 2 * cutter + LEAST_STRIP))
        yield warning(
            "loose-strips",
            "--gap",
            f"{group.name}: between two plates the cutter leaves strips of {length_words(strip, choice)}, which may "
            f"come loose while it runs: a gap of at most {most} leaves none, one of {least} leaves strips that hold",
        )


def units_faults(groups: Sequence[Group], choice: Choice, processes: Mapping[Machine, Found[Process]]) -> Iterator[str]:
    """A line for each size without a unit that holds none of the plates, where its numbers in inches hold some."""
    plates = [(plate, rules_for(group, choice, processes[group.machine])) for group in groups for plate in group.plates]
    for stock in choice.stocks:
        inches = stock.in_inches
        if inches is None or any(_fits(plate, stock, rules) for plate, rules in plates):
            continue
        if any(_fits(plate, inches, rules) for plate, rules in plates):
            counted = f"{inches.text}*{stock.count}" if stock.count else inches.text
            yield (
                f"--stock: {quoted(stock.unitless or '')} is {stock.text}, which is too small for every plate (if "
                f"inches were meant, write {quoted(counted)})"
            )


def _fits(plate: Plate, stock: Stock, rules: Rules) -> bool:
    return _over(plate, stock, rules) == (0.0, 0.0)


def _left_out(plate: Plate, count: int, choice: Choice, rules: Rules) -> Finding:
    """Why a plate is on no sheet: larger than all of them, by how much; or those there are, are full."""
    name = f"{count} of {plate.name}" if count > 1 else plate.name
    nearest = min(choice.stocks, key=lambda stock: sum(_over(plate, stock, rules)))
    over = _over(plate, nearest, rules)
    if over == (0.0, 0.0):
        return stop(
            "sheets-full",
            "--stock",
            f"{name} not laid: the sheets there are, are full (give more, or leave out the *COUNT)",
        )
    sides = [
        f"{length_words(mm, choice)} {word}" for mm, word in zip(over, ("too wide", "too high"), strict=True) if mm
    ]
    grain = "" if rules.may_turn else ", and is not turned because of the grain (--grain any turns it)"
    margin = f", of which {length_words(rules.margin, choice)} at each edge stays free" if rules.margin else ""
    return stop(
        "larger-than-sheet",
        "--stock",
        f"{name} not laid: {size_words(plate.size, choice)} is {' and '.join(sides)} for a sheet of "
        f"{stock_words(nearest, choice)}{margin}{grain}",
    )


def _over(plate: Plate, stock: Stock, rules: Rules) -> tuple[float, float]:
    """By how much a plate is larger than a sheet less its margins, along the sheet's width and height, mm."""
    blank = _blank(stock, rules.margin)
    ways = (False, True) if rules.may_turn else (rules.turned,)
    sizes = [size_of(Piece(*plate.size), turned=turned) for turned in ways]
    over = [(_excess(width, blank.width), _excess(height, blank.height)) for width, height in sizes]
    return min(over, key=sum)


def _excess(size: float, room: float) -> float:
    return max(0.0, round(size - room, 6))


def length_words(mm: float, choice: Choice) -> str:
    """ "5 mm", or "1/4 in (6.35 mm)" where the sheets are in inches."""
    return f"{inch_short(mm)} ({mm_text(mm, 3)})" if choice.inches else mm_text(mm, 3)


def stock_words(stock: Stock, choice: Choice) -> str:
    """A size of sheet as it was typed; in the other unit first where the sheets are told in that: "24 x 16 in (…)"."""
    size = (stock.width.mm, stock.height.mm)
    return stock.text if stock.is_inch == choice.inches else f"{size_words(size, choice)} ({stock.text})"


def side_words(side: Length, choice: Choice) -> str:
    """One side of a sheet as it was typed, or alone in the unit in which the sheets are told."""
    if side.is_inch == choice.inches:
        return side.text
    return inch_short(side.mm) if choice.inches else mm_text(side.mm, 3)


def both_words(size: tuple[float, float], choice: Choice) -> str:
    """ "140 x 90 mm", or with mm beside "5-1/2 x 3-1/2 in (139.7 x 88.9 mm)" where the sheets are in inches."""
    metric = " x ".join(mm_text(side).removesuffix(" mm") for side in size)
    return f"{size_words(size, choice)} ({metric} mm)" if choice.inches else size_words(size, choice)


def size_words(size: tuple[float, float], choice: Choice) -> str:
    """ "140 x 90 mm", or "5-1/2 x 3-1/2 in" where the sheets are in inches."""
    text = inch_short if choice.inches else mm_text
    first, second = (text(side) for side in size)
    return f"{first.rpartition(' ')[0]} x {second}"
