"""Pairs of bit and bushing as lines for a terminal: the best with their reasons, and what is near."""

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.match import Area, CutMade, Match, Wanted, name_of
from jigtemplates.match.near import Suited
from jigtemplates.practice import FIT
from jigtemplates.say import sizes_text

#: Pairs and tenons shown where not all are asked for (chosen: they fit one screen).
SHOWN_PAIRS, SHOWN_TENONS = 10, 5
#: Lines are not made longer than this, characters (chosen: comfortable to read).
WIDEST = 100
#: Heads of the columns of sizes.
SIZES = ("opening", "cut made")
#: What stands beside the pair that a job names.
IN_JOB = "now in the job"


@dataclass(frozen=True, slots=True)
class Group:
    """Pairs of the same two diameters: the best of them stands for all."""

    best: Match
    #: how many more there are, such as the same bit with another shank
    more: int


def grouped(matches: Sequence[Match]) -> tuple[Group, ...]:
    """Matches of equal diameters (to a nanometre) together, in rank order.

    Possible and impossible ones are apart, and so is the pair that a job names.
    """
    groups: dict[tuple[bool, bool | None, float, float], list[Match]] = {}
    for one in matches:
        key = (one.possible, one.in_job, round(one.bit.diameter.mm, 6), round(one.bushing.diameter.mm, 6))
        groups.setdefault(key, []).append(one)
    return tuple(Group(alike[0], len(alike) - 1) for alike in groups.values())


def match_lines(
    wanted: Wanted, matches: Sequence[Match], *, show_all: bool = False, inches: bool = False, columns: int = WIDEST
) -> Iterator[str]:
    """The pairs that can make the cut, best first, and with show_all the others with why they cannot.

    Where none can, the first of those that cannot are shown with why. Sizes in mm, or in inches.
    """
    what = f"can make {cut_text(wanted, inches=inches)}"
    return pair_lines(what, matches, show_all=show_all, inches=inches, columns=columns)


def pair_lines(
    what: str,
    matches: Sequence[Match],
    *,
    show_all: bool = False,
    inches: bool = False,
    columns: int = WIDEST,
    sizes: tuple[str, str] = SIZES,
) -> Iterator[str]:
    """The same of anything that they "can make"; the pair of a job is shown wherever it stands."""
    groups = grouped(matches)
    able = [group for group in groups if group.best.possible]
    unable = [group for group in groups if not group.best.possible]
    width, most = min(columns, WIDEST), None if show_all else SHOWN_PAIRS
    best = ", best first" if len(able) > 1 else ""
    yield from _hung(f"{len(able)} of {pairs_text(len(groups))} {what}{best}", 0, width)
    if able:
        rows = [(no, group) for no, group in enumerate(able, 1) if most is None or no <= most or group.best.in_job]
        yield from _table(rows, sizes, inches, width)
        yield from _how_many_more(len(able) - len(rows))
    if unable and able and not show_all:
        yield f"  {pairs_text(len(unable))} cannot (--all says why)"
        yield from _refused_lines([group for group in unable if group.best.in_job], None, width)
    elif unable:
        yield "Not possible:"
        yield from _refused_lines(unable, most, width)


def _refused_lines(groups: Sequence[Group], most: int | None, width: int) -> Iterator[str]:
    refused = _refused(groups)
    for text, reasons in refused[:most]:
        yield from _hung(text, 2, width)
        yield from _hung("; ".join(reasons), 6, width)
    yield from _how_many_more(0 if most is None else len(refused) - most)


def own_line(bits: int, bushings: int) -> str:
    """Whose tools were looked at, where a person has both bits and bushings."""
    counts = f"{bits} bit{'s' * (bits != 1)} and {bushings} bushing{'s' * (bushings != 1)}"
    return f"Your own {counts}; --shipped adds those that come with the program"


#: Said where stems are known but not how thick the plate is.
NO_PLATE = "Stems were not judged: give --plate"


def pairs_text(count: int) -> str:
    """ "1 pair", "2 pairs"."""
    return f"{count} pair{'s' * (count != 1)}"


def _how_many_more(more: int) -> Iterator[str]:
    if more > 0:
        yield f"  … and {more} more (--all shows them)"


def cut_text(wanted: Wanted, *, inches: bool = False) -> str:
    """Shape and sizes: "a slot 10 x 50 mm, 28 mm deep"."""
    width, length = wanted.extents
    depth = "" if wanted.depth is None else f", {_side(wanted.depth, inches)} deep"
    if wanted.is_round:
        return f"a round of {_side(width, inches)}{depth}"
    shape = "a slot" if wanted.corner_radius is None else "a rectangle"
    corners = "" if wanted.corner_radius is None else f", corners r {_side(wanted.corner_radius, inches)}"
    return f"{shape} {_sides(width, length, inches)}{corners}{depth}"


def _sides(width: float, length: float, inches: bool) -> str:
    return sizes_text(width, length, inches=inches)


def _side(mm: float, inches: bool) -> str:
    return inch_short(mm) if inches else mm_text(mm, 3)


def _table(groups: Sequence[tuple[int, Group]], sizes: tuple[str, str], inches: bool, width: int) -> Iterator[str]:
    """A row for each group and its reasons under it; what is true of every row is said once at the end."""
    header = ("", "bit", "bushing", *sizes, "passes", "")
    rows = [header, *(_row(number, group.best, inches) for number, group in groups)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(header))]
    shared = _shared([group for _, group in groups]) if len(groups) > 1 else ()
    yield _joined(rows[0], widths)
    for row, (_, group) in zip(rows[1:], groups, strict=True):
        yield _joined(row, widths)
        more = (f"{group.more} more of these diameters",) * bool(group.more)
        own = tuple(reason for reason in group.best.reasons if reason not in shared)
        yield from _hung("; ".join((*own, *more)), widths[0] + 4, width)
    if shared:
        yield from _hung("All of these: " + "; ".join(shared), 2, width)


def _shared(groups: Sequence[Group]) -> tuple[str, ...]:
    return tuple(reason for reason in groups[0].best.reasons if all(reason in g.best.reasons for g in groups))


def _row(number: int, one: Match, inches: bool) -> tuple[str, ...]:
    passes = "-" if one.passes is None else str(one.passes)
    cut = "" if one.cut is None else f"cut {one.cut}: "
    sizes = (cut + _extents(one.opening, inches), _extents(one.predicted, inches))
    return (str(number), name_of(one.bit), name_of(one.bushing), *sizes, passes, IN_JOB * bool(one.in_job))


def _extents(area: Area | CutMade | None, inches: bool) -> str:
    if area is None:  # only where the bit is too wide, and then there is no row
        return "-"
    if abs(area.corner_radius - max(area.width, area.length) / 2) < 1e-6:
        return f"dia {_side(area.width, inches)}"
    return _sides(area.width, area.length, inches)


def _joined(row: Sequence[str], widths: Sequence[int]) -> str:
    first, *others = (f"{text:<{width}}" for text, width in zip(row, widths, strict=True))
    return f"{first.rstrip():>{widths[0] + 2}}  {'  '.join(others)}".rstrip()


def _refused(groups: Sequence[Group]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Pairs that cannot, those of one bit that fail for the same reasons together, and the reasons."""
    alike: dict[tuple[float, tuple[str, ...], bool | None], list[Match]] = {}
    for one in (group.best for group in groups):
        alike.setdefault((one.bit.diameter.mm, one.reasons, one.in_job), []).append(one)
    return tuple((_who(pairs), reasons) for (_, reasons, _), pairs in alike.items())


def _who(pairs: Sequence[Match]) -> str:
    first, others = pairs[0], len(pairs) - 1
    more = f" and {others} other{'s' * (others != 1)}" if others else ""
    return f"{name_of(first.bit)} in {name_of(first.bushing)}{more}{f' ({IN_JOB})' if first.in_job else ''}"


def _hung(text: str, indent: int, width: int) -> Iterator[str]:
    head = " " * indent
    yield from textwrap.wrap(
        text,
        max(width, indent + 30),
        initial_indent=head,
        subsequent_indent=head,
        break_on_hyphens=False,
        break_long_words=False,
    )


def nearest_line(found: tuple[Wanted, Match] | None, *, inches: bool = False) -> str:
    """What could be made instead of a cut that cannot be."""
    if found is None:
        return "No cut near it can be made with these bits and bushings."
    wanted, pair = found
    cut = cut_text(wanted, inches=inches)
    return f"The nearest that can be made: {cut}, with {name_of(pair.bit)} in {name_of(pair.bushing)}."


def tenon_lines(suits: Sequence[Suited], clearance: float, *, inches: bool = False) -> Iterator[str]:
    """The tenons that suit the bits, and the rule; nothing without any."""
    if not suits:
        return
    yield (
        "Tenons that suit a bit exactly, width in one pass (thickness = bit + clearance "
        f"{_side(clearance, inches)} - fit {_side(FIT, inches)}):"
    )
    for suit in suits[:SHOWN_TENONS]:
        yield f"  {_side(suit.thickness, inches)} thick with {suit.bit}, mortise {_side(suit.cut, inches)} wide"
