"""Which of one's guide bushings fit together for recess and plug; closed-form arithmetic, mm."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product
from typing import TYPE_CHECKING, Any

from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.stems import mark, suiting
from jigtemplates.match import chip_room, name_of
from jigtemplates.match.reach import Stack
from jigtemplates.practice import FITS, HAIR, LEAST_WALL

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bit, Bushing

#: Two bushings that miss by more than this, mm a side, are not near (chosen: no tape or sleeve helps any more).
NEAR = 1.0

#: More changes of all three tools than this are not looked for: of so many tools two are enough (chosen: in a second).
MOST_TRIED = 250_000

#: Most changes that only come nearer (chosen: further ones help nobody).
MOST_NEAR = 4

#: A change that misses by more than this, mm a side, is named only where nothing is nearer (chosen: a hand plane or
#: a filled glue joint makes up for so much).
USEFUL = 0.15


@dataclass(frozen=True, slots=True)
class Candidate:
    """Two bushings for two given bits."""

    recess: "Bushing"
    plug: "Bushing"
    fit: Fit
    #: what to know of the room for chips in the recess's bushing and in the plug's; empty where there is enough
    remarks: tuple[str, str]
    #: the smaller, the better; compared one after the other
    order: tuple[float, ...]
    #: what to know of their stems; empty where they suit, or were not judged
    stems: tuple[str, str] = ("", "")

    def as_json(self, outer: str = "recess", inner: str = "plug") -> dict[str, Any]:
        """The object that `inlay --bit … --json` prints for a pair of bushings."""
        numbers = self.fit.as_json(outer, inner)
        for key, bushing in ((outer, self.recess), (inner, self.plug)):
            numbers[key] = {**numbers[key], "name": name_of(bushing)}
        texts = (
            (whose, text)
            for both in (self.remarks, self.stems)
            for whose, text in zip((outer, inner), both, strict=True)
        )
        remarks = [f"{whose}: {text}" for whose, text in texts if text]
        return {**numbers, "remarks": remarks}


def candidates(
    bit: float,
    other_bit: float,
    bushings: Iterable["Bushing"],
    *,
    glue_line: float = 0.0,
    stack: Stack | None = None,
    inches: bool = False,
) -> tuple[Candidate, ...]:
    """Every two bushings through which the bits pass and that fit or miss by at most NEAR, best first.

    `bit` is the recess's, `other_bit` the plug's. Those that fit come first, the smallest first (they follow the
    tightest corners and need the smallest opening); then the others by how much they miss, and of equal ones the
    loose before the tight. Of bushings of one diameter the one whose bore is known and widest stands for all. With the
    stack of plate and stand-off those whose stem is too long are left out.
    """
    held = _by_diameter(bushings if stack is None else suiting(bushings, stack))
    outer, inner = (tuple(one for one in held if passes(size, one)) for size in (bit, other_bit))
    chips = Stack(None, 0.0, None, inches)
    # what cannot be near is passed over before anything else is found out about it
    wanted = (bit + other_bit) / 2 - glue_line
    near = (
        (big, small)
        for big, small in product(_with_halves(outer), _with_halves(inner))
        if abs(small[0] - big[0] + wanted) <= NEAR + HAIR
    )
    found = (_candidate(big, small, (bit, other_bit), glue_line, chips, stack) for (_, big), (_, small) in near)
    return tuple(sorted((one for one in found if abs(one.fit.miss) <= NEAR), key=lambda one: one.order))


def _with_halves(bushings: Iterable["Bushing"]) -> tuple[tuple[float, "Bushing"], ...]:
    return tuple((one.diameter.mm / 2, one) for one in bushings)


def _by_diameter(bushings: Iterable["Bushing"]) -> tuple["Bushing", ...]:
    best: dict[float, Bushing] = {}
    for one in bushings:
        key = round(one.diameter.mm, 6)
        if key not in best or _bore(one) > _bore(best[key]):
            best[key] = one
    return tuple(best.values())


def _bore(bushing: "Bushing") -> float:
    return 0.0 if bushing.bore is None else bushing.bore.mm


def passes(bit: float, bushing: "Bushing") -> bool:
    """Whether a bit passes the bore, or one that is not known but leaves the bushing a wall."""
    bore = bushing.bore
    return bit < (bushing.diameter.mm - LEAST_WALL + 1e-9 if bore is None else bore.mm - 1e-9)


def _candidate(
    big: "Bushing",
    small: "Bushing",
    bits: tuple[float, float],
    glue_line: float,
    chips: Stack,
    stack: Stack | None,
) -> Candidate:
    fit = Fit(Pair(bits[0], big.diameter.mm), Pair(bits[1], small.diameter.mm), glue_line)
    rooms = [chip_room(size, one.diameter.mm, _known(one), chips) for size, one in zip(bits, (big, small), strict=True)]
    worst = max(rank for rank, _ in rooms)
    order = (not fit.fits, abs(fit.miss) if not fit.fits else 0.0, fit.miss < 0, worst >= 3, big.diameter.mm, worst)
    first, second = (text if rank >= 2 else "" for rank, text in rooms)
    stems = ("", "") if stack is None else (mark(big, stack), mark(small, stack))
    return Candidate(big, small, fit, (first, second), (*order, sum(map(bool, stems))), stems)


def _known(bushing: "Bushing") -> float | None:
    return None if bushing.bore is None else bushing.bore.mm


@dataclass(frozen=True, slots=True)
class Change:
    """Tools that one has and that make two pairs fit."""

    fit: Fit
    #: None: it stays
    recess_bushing: "Bushing | None"
    plug_bit: "Bit | None"
    plug_bushing: "Bushing | None"

    @property
    def count(self) -> int:
        """How many tools change."""
        return sum(tool is not None for tool in (self.recess_bushing, self.plug_bit, self.plug_bushing))


def changes(fit: Fit, bits: Iterable["Bit"], bushings: Iterable["Bushing"]) -> tuple[Change, ...]:
    """What of one's bits and bushings makes two pairs fit that do not, the fewest changes first.

    Where nothing does, what comes nearer, the nearest first. The recess's bit always stays, for the cut is designed for
    it. A change that another one makes needless is left out.
    """
    if fit.fits:
        return ()
    held = _by_diameter(bushings)
    cutters: dict[float, Bit] = {}
    for bit in bits:
        cutters.setdefault(round(bit.diameter.mm, 6), bit)
    nearer = list(_changes(fit, (None, *cutters.values()), (None, *held)))
    exact = [one for one in nearer if one.fit.fits]
    if exact:
        return tuple(_needed(sorted(exact, key=_how_much)))
    nearest = sorted(nearer, key=lambda one: (round(abs(one.fit.miss), 6), *_how_much(one)))
    useful = [one for at, one in enumerate(nearest) if at == 0 or abs(one.fit.miss) <= USEFUL]
    return tuple(islice(_needed(useful), MOST_NEAR))


def _needed(found: Iterable[Change]) -> Iterator[Change]:
    """Those that no earlier one makes needless."""
    kept: list[Change] = []
    for one in found:
        if not any(_is_within(other, one) for other in kept):
            kept.append(one)
            yield one


def _changes(fit: Fit, bits: Sequence["Bit | None"], bushings: Sequence["Bushing | None"]) -> Iterator[Change]:
    """Every change with which the plug goes in and the pairs miss by less; of very many tools, of at most two."""
    all_three = len(bits) * len(bushings) ** 2 <= MOST_TRIED
    for big, cutter in product(bushings, bits):
        if big is not None and not passes(fit.recess.bit, big):
            continue
        recess = fit.recess if big is None else Pair(fit.recess.bit, big.diameter.mm)
        bit = fit.plug.bit if cutter is None else cutter.diameter.mm
        for small in bushings if big is None or cutter is None or all_three else (None,):
            made = Fit(recess, Pair(bit, fit.plug.bushing if small is None else small.diameter.mm), fit.glue_line)
            if abs(made.miss) < abs(fit.miss) - HAIR and made.gap >= -FITS and _runs(made.plug, small):
                yield Change(made, big, cutter, small)


def _runs(pair: Pair, bushing: "Bushing | None") -> bool:
    """Whether the bit passes the bushing; of one that stays nothing but its diameter is looked at."""
    return pair.bushing - pair.bit >= LEAST_WALL - 1e-9 if bushing is None else passes(pair.bit, bushing)


def _how_much(change: Change) -> tuple[float, ...]:
    """Fewest tools first, the template kept before a new one, one bit for both, then the smallest bushings."""
    fit = change.fit
    one_bit = abs(fit.plug.bit - fit.recess.bit) < 1e-6
    return change.count, change.recess_bushing is not None, not one_bit, fit.recess.bushing, fit.plug.bushing


def _is_within(small: Change, large: Change) -> bool:
    """Whether a change does the same as another with fewer tools."""
    a, b = ((one.recess_bushing, one.plug_bit, one.plug_bushing) for one in (small, large))
    return small.count < large.count and all(tool is None or tool is other for tool, other in zip(a, b, strict=True))
