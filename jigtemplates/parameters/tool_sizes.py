"""Sizes of tools that no tool of the trade has: a slip of the hand, or a wrong unit; millimetres.

They are refused where they are typed, and told where a tools file is listed. A file may hold them: a tool that somebody
made may be so.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from pydantic import BaseModel

from jigtemplates.lengths import MM_PER_INCH, Length, beside_text, mm_text
from jigtemplates.parameters.entries import Bit


@dataclass(frozen=True, slots=True)
class Limits:
    """Between which a size lies in every tool of its kind."""

    least: float
    most: float
    #: whose size it is
    what: str


#: From memory, not read anywhere, and moved far outwards (chosen: nothing that is sold is to be questioned). Shanks are
#: 3 mm to 1 in; edges at most 4 in; bits 1-1/4 in to 7 in; stems 4 to 30 mm; bushings 5/16 in to 50 mm; nuts 1 in to
#: 2 in and 4 to 15 mm; bases 80 to 220 mm, their holes 25 to 100 mm; travels 40 to 90 mm; nuts of collets 15 to 35 mm.
LIMITS: Mapping[str, Mapping[str, Limits]] = {
    "bits": {
        "diameter": Limits(0.3, 100, "a router bit"),
        "shank": Limits(2, 26, "the shank of a router bit"),
        "cutting_length": Limits(0.2, 130, "the cutting edges of a router bit"),
        "overall_length": Limits(20, 260, "a whole router bit"),
    },
    "bushings": {
        "diameter": Limits(3, 100, "a guide bushing"),
        "bore": Limits(1, 95, "the bore of a guide bushing"),
        "stem": Limits(1, 60, "the stem of a guide bushing"),
        "nut.diameter": Limits(8, 120, "the nut of a guide bushing"),
        "nut.height": Limits(1, 40, "the nut of a guide bushing"),
    },
    "routers": {
        "base.diameter": Limits(40, 400, "the base of a router"),
        "base.width": Limits(40, 400, "the base of a router"),
        "base.depth": Limits(40, 400, "the base of a router"),
        "base_hole": Limits(8, 200, "the hole in the base of a router"),
        "travel": Limits(5, 150, "the travel of a router"),
        "collet_to_base": Limits(0.5, 250, "the way from the collet to the base of a router"),
        "collets": Limits(2, 26, "the collet of a router"),
        "nut_diameter": Limits(5, 80, "the collet nut of a router"),
    },
}
#: What to do where such a size is right after all.
BY_HAND = "where it really is so, write it into the tools file by hand"
#: Edges that are shorter than this, or than this part of the bit's diameter where that is less, are on no bit (from
#: memory: the shallowest, for the gains of hinges, have 1/4 in; thin ones are about twice as long as they are thick).
SHORTEST_EDGES, SHORTEST_PART = 4.5, 0.75


def size_doubts(kind: str, entry: BaseModel) -> Iterator[tuple[str, str]]:
    """Dotted key, and what is odd, of each size that no tool of the kind has."""
    for key, limits in LIMITS.get(kind, {}).items():
        for size in _sizes(entry, key):
            within = _of_edges(entry, limits) if key == "cutting_length" else limits
            if not within.least - 1e-9 <= size.mm <= within.most + 1e-9:
                yield key, _words(size, within)


def _sizes(entry: BaseModel, key: str) -> Iterable[Length]:
    held: object = entry
    for part in key.split("."):
        held = getattr(held, part, None)
    found = held if isinstance(held, tuple) else (held,)
    return (size for size in found if isinstance(size, Length))


def _of_edges(entry: BaseModel, limits: Limits) -> Limits:
    assert isinstance(entry, Bit)
    return Limits(min(SHORTEST_EDGES, SHORTEST_PART * entry.diameter.mm), limits.most, limits.what)


def _words(size: Length, limits: Limits) -> str:
    least, most = (beside_text(mm, size.is_inch) for mm in (limits.least, limits.most))
    return (
        f'"{size.text}" is not the size of {limits.what} (from memory, at least {least} and at most {most}): '
        f"{_meant(size, limits)}"
    )


def _meant(size: Length, limits: Limits) -> str:
    """The same number in the other unit, where that would do."""
    other = size.mm / MM_PER_INCH if size.is_inch else size.mm * MM_PER_INCH
    if not limits.least <= other <= limits.most:
        return "measure again"
    return f"was {mm_text(other, 3)} meant?" if size.is_inch else f"was {size.mm:g} in meant?"
