"""An inlay as lines for a terminal: two pairs, one's bushings for given bits, a job's recess and plug."""

import textwrap
from collections.abc import Iterator, Sequence

from jigtemplates.inlay import Fit
from jigtemplates.inlay.pairs import NEAR, Candidate, Change
from jigtemplates.inlay.words import INLAY, Names, radii_text, remedies, said, verdict_text
from jigtemplates.inlay.words import SHOWN as SHOWN_GAP
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.match import name_of
from jigtemplates.table import table_lines

#: Pairs that fit, near misses and changes shown where not all are asked for (chosen: they fit one screen).
SHOWN, SHOWN_NEAR, SHOWN_CHANGES = 10, 5, 4


def fit_lines(
    fit: Fit, outer: tuple[str, str], inner: tuple[str, str], *, inches: bool, names: Names = INLAY
) -> Iterator[str]:
    """Two pairs: where their edges lie, whether they fit, and the radii; `outer`, `inner` name bit and bushing."""
    edges = (
        names.outer_edge.format(said(fit.recess.inside, inches)),
        names.inner_edge.format(said(fit.plug.beyond, inches)),
    )
    for head, (bit, bushing), edge in zip((names.outer_head, names.inner_head), (outer, inner), edges, strict=True):
        yield from hung(f"{head}: bit {bit}, bushing {bushing}, {edge}", "")
    yield from hung(f"{_capital(verdict_text(fit, inches=inches, names=names))}.", "")
    for line in remedies(fit, inches=inches, names=names):
        yield from hung(line)
    yield from hung(f"Smallest radius both can follow: {radii_text(fit, inches=inches, names=names)}.", "")


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def candidate_lines(
    found: Sequence[Candidate],
    bits: tuple[str, str],
    sizes: tuple[float, float],
    *,
    glue_line: float,
    inches: bool,
    names: Names = INLAY,
    show_all: bool = False,
) -> Iterator[str]:
    """The bushings that fit two bits, then those that nearly do; `bits` are named, `sizes` in mm, recess's first."""
    fitting = [one for one in found if one.fit.fits]
    near = [one for one in found if not one.fit.fits]
    yield from _head(bits, sizes, glue_line, inches, names)
    nearest = ", so see the nearest." if near else f" or come within {said(NEAR, inches)} a side of it."
    yield from hung(f"{_pairs(len(fitting))}{':' if fitting else nearest}", "")
    if fitting:
        most = None if show_all else SHOWN
        yield from _table(fitting[:most], inches, names)
        yield from _more(len(fitting), most)
        yield from hung(f"offset: from the edge of {names.piece} to the opening's; out, in: its tightest corners")
    if near:
        most = None if show_all else SHOWN_NEAR
        anew = f"; round the {names.outer}'s{names.anew}" if names.anew else ""
        yield from hung(
            f"Near misses; a sleeve (or tape) as thick as the miss round one bushing makes them fit{anew}:", ""
        )
        yield from _near_table(near[:most], inches, names)
        yield from _more(len(near), most)


def _head(
    bits: tuple[str, str], sizes: tuple[float, float], glue_line: float, inches: bool, names: Names
) -> Iterator[str]:
    both = bits[0] if bits[0] == bits[1] else f"{bits[0]} for the {names.outer} and {bits[1]} for the {names.inner}"
    line = f", glue line {said(glue_line, inches)} a side" if glue_line else ""
    more = ", less twice the glue line" if glue_line else ""
    yield f"Bit {both}{line}."
    yield from hung(
        f"{_capital(names.rule)}{more}: the {names.outer}'s bushing must be "
        f"{said(sum(sizes) - 2 * glue_line, inches)} wider than the {names.inner}'s.",
        "",
    )


def _pairs(count: int) -> str:
    """ "3 pairs of bushings fit", "1 pair of bushings fits"."""
    if count == 1:
        return "1 pair of bushings fits"
    return f"{count} pairs of bushings fit" if count else "No two bushings fit"


def _more(count: int, most: int | None) -> Iterator[str]:
    if most is not None and count > most:
        yield f"  … and {count - most} more (--all shows them)"


def _table(found: Sequence[Candidate], inches: bool, names: Names) -> Iterator[str]:
    header = (f"{names.outer}", f"{names.inner}", "gap a side", "offset", "r out", "r in", "")
    yield from table_lines(header, [_row(one, inches, names) for one in found])


def _row(one: Candidate, inches: bool, names: Names) -> tuple[str, ...]:
    fit = one.fit
    sizes = (fit.gap, fit.recess.inside, fit.smallest_convex, fit.smallest_concave)
    return name_of(one.recess), name_of(one.plug), *(_short(mm, inches) for mm in sizes), _room(one, names)


def _room(one: Candidate, names: Names) -> str:
    """The remarks on the room for chips and on stems, those that are true of both once."""
    chips = (one.remarks[0].partition(":")[0], one.remarks[1].partition(":")[0])
    return "; ".join(text for both in (chips, one.stems) for text in _of_both(both, names))


def _of_both(remarks: tuple[str, str], names: Names) -> Iterator[str]:
    first, second = remarks
    if first and first == second:
        yield f"both: {first}"
        return
    yield from (f"{whose}: {text}" for whose, text in ((names.outer, first), (names.inner, second)) if text)


def _short(mm: float, inches: bool) -> str:
    if abs(mm) < 5e-4:
        return "0"
    return inch_short(mm) if inches else mm_text(mm, 3)


def _near_table(found: Sequence[Candidate], inches: bool, names: Names) -> Iterator[str]:
    header = (names.outer, names.inner, "too", "by, a side", "sleeve round")
    yield from table_lines(header, [_near_row(one, inches, names) for one in found])


def _near_row(one: Candidate, inches: bool, names: Names) -> tuple[str, ...]:
    is_loose = one.fit.miss > 0
    how, sleeve = ("loose", names.outer) if is_loose else ("tight", names.inner)
    return name_of(one.recess), name_of(one.plug), how, said(abs(one.fit.miss), inches), sleeve


def change_lines(found: Sequence[Change], *, inches: bool, names: Names = INLAY) -> Iterator[str]:
    """Tools that one has and that make two pairs fit, or the nearest to it."""
    if not found:
        yield f"No tools come nearer while the bit for the {names.outer} stays."
        return
    fits = found[0].fit.fits
    yield "Tools that make them fit:" if fits else "No tools make them fit; the nearest:"
    for one in found[:SHOWN_CHANGES]:
        yield from hung(change_text(one, names) if fits else f"{change_text(one, names)}: {_gap(one, inches, names)}")


def _gap(one: Change, inches: bool, names: Names) -> str:
    """What gap a change leaves."""
    return names.gap.format(said(one.fit.gap, inches)) if one.fit.gap >= SHOWN_GAP else names.no_gap


def change_text(one: Change, names: Names = INLAY) -> str:
    """ "plug: its bit in bushing 10 mm"."""
    parts = []
    if one.recess_bushing is not None:
        parts.append(f"{names.outer}: {name_of(one.recess_bushing)}{names.anew}")
    if one.plug_bushing is not None or one.plug_bit is not None:
        bit = "its bit" if one.plug_bit is None else name_of(one.plug_bit)
        bushing = "its bushing" if one.plug_bushing is None else name_of(one.plug_bushing)
        parts.append(f"{names.inner}: {bit} in {bushing}")
    return "; ".join(parts)


def hung(text: str, head: str = "  ", width: int = 100) -> Iterator[str]:
    """Wrapped behind a head."""
    yield from textwrap.wrap(
        text, width, initial_indent=head, subsequent_indent=" " * (len(head) + 2), break_on_hyphens=False,
        break_long_words=False,
    )  # fmt: skip
