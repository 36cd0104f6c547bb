"""Joins the strips swept beside an outline's edges into as few areas as can be.

Strips that follow one another without a gap make one band: along the outline and back along the rim.
Where that band crosses itself it is cut in two, and those again, down to single strips.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from jigtemplates.geometry.chain import GRID, Coordinates
from jigtemplates.geometry.outline import Point

#: How far two bands lap over one another where one was cut, along their rims, mm: areas that only share
#: an edge can come apart there by the rounding of its nodes. Chosen: half the shortest edge that counts,
#: so that nothing of it is ever seen.
LAP = GRID / 2


@dataclass(frozen=True, slots=True)
class Strip:
    """What one edge or corner covers when it is swept sideways."""

    #: points along the outline, and along the far edge of the strip; a corner has but one of the former
    base: Coordinates
    rim: Coordinates
    #: unit vectors from base to rim at either end
    first: Point
    last: Point


def areas_of(chains: Sequence[Sequence[Strip]], is_closed: bool, reach: float) -> list[Any]:
    """Valid shapely polygons that cover the strips of one ring's chains; a closed ring is one chain.

    Reach is the width of the strips, mm. No strip folds back on itself, so a band that does not cross
    itself covers just what its strips cover.
    """
    areas: list[Any] = []
    flat = [_Flat.of(chain) for chain in chains]
    if is_closed:
        ring = _closed(flat[0])
        if ring is not None:
            return [ring]
        areas.append(_lap(chains[0][-1], reach))
    waiting = [_Part(chain, 0, len(chain.strips)) for chain in flat]
    while waiting:
        bands = polygons_of([part.loop() for part in waiting])
        whole = shapely.is_valid(bands) | np.array([part.until - part.at == 1 for part in waiting])
        areas.extend(bands[whole])
        crossing = [part for part, is_whole in zip(waiting, whole.tolist(), strict=True) if not is_whole]
        areas.extend(_lap(part.chain.strips[part.half - 1], reach) for part in crossing)
        waiting = [half for part in crossing for half in part.halves()]
    return areas


@dataclass(frozen=True, slots=True)
class _Flat:
    """A chain's points in one array each, so that every part of the chain is a slice of them."""

    strips: Sequence[Strip]
    base: Coordinates
    rim: Coordinates
    #: False where a rim begins where the one before it ends
    is_new: NDArray[np.bool_]
    #: where each strip's points begin in base and rim, and where the last one's end
    base_at: list[int]
    rim_at: list[int]

    @staticmethod
    def of(strips: Sequence[Strip]) -> "_Flat":
        """The points of a chain; consecutive strips share a point of base."""
        if len(strips) == 1:
            (one,) = strips
            is_new = np.ones(len(one.rim), dtype=bool)
            return _Flat(strips, one.base, one.rim, is_new, [0, len(one.base) - 1], [0, len(one.rim)])
        rim = np.concatenate([s.rim for s in strips])
        rim_at = np.cumsum([0, *(len(s.rim) for s in strips)])
        is_new = np.ones(len(rim), dtype=bool)
        joints = rim_at[1:-1]
        # the rim of an arc narrower than the reach ends at its centre, not where the next one begins
        is_new[joints] = np.abs(rim[joints - 1] - rim[joints]).max(axis=1) >= LAP
        base = np.concatenate([strips[0].base[:1], *(s.base[1:] for s in strips)])
        base_at = np.cumsum([0, *(len(s.base) - 1 for s in strips)])
        return _Flat(strips, base, rim, is_new, base_at.tolist(), rim_at.tolist())

    def along(self, at: int, until: int) -> tuple[Coordinates, Coordinates]:
        """Points along the outline and along the rim of the strips from at up to until."""
        base = self.base[self.base_at[at] : self.base_at[until] + 1]
        first, last = self.rim_at[at], self.rim_at[until]
        is_new = self.is_new[first:last].copy()
        is_new[0] = True
        return base, self.rim[first:last][is_new]


@dataclass(frozen=True, slots=True)
class _Part:
    """The strips of a chain from at up to until."""

    chain: _Flat
    at: int
    until: int

    @property
    def half(self) -> int:
        """Where it is cut in two."""
        return self.at + (self.until - self.at) // 2

    def halves(self) -> tuple["_Part", "_Part"]:
        """Both halves."""
        return _Part(self.chain, self.at, self.half), _Part(self.chain, self.half, self.until)

    def loop(self) -> Coordinates:
        """Along the outline and back along the rim."""
        base, rim = self.chain.along(self.at, self.until)
        return np.concatenate([base, rim[::-1], base[:1]])


def _closed(chain: _Flat) -> Any | None:
    """The ring between outline and rim, or None where the rim crosses itself or is inside out."""
    base, rim = chain.along(0, len(chain.strips))
    base, rim = base[:-1], rim[:-1] if np.abs(rim[-1] - rim[0]).max() < LAP else rim
    inner, outer = sorted((base, rim), key=lambda points: abs(_shoelace(points)))
    if len(inner) < 3 or _shoelace(inner) * _shoelace(outer) <= 0:
        return None
    ring = shapely.polygons(outer, holes=[inner])
    return ring if ring.is_valid else None


def _shoelace(points: Coordinates) -> float:
    (x, y), (x2, y2) = (points - points[0]).T, (np.roll(points, -1, axis=0) - points[0]).T
    return float(np.dot(x, y2) - np.dot(x2, y)) / 2


def _lap(strip: Strip, reach: float) -> Any:
    """A needle over the far end of a strip, just under the rim."""
    at, out = strip.base[-1], np.array(strip.last)
    rim, beside = at + reach * out, LAP * np.array([-out[1], out[0]])
    under = rim - LAP / 8 * out
    return shapely.polygons(np.array([at, under - beside, rim, under + beside]))


def polygons_of(loops: Sequence[Coordinates]) -> Any:
    """A shapely polygon for each closed loop of points."""
    which = np.repeat(np.arange(len(loops)), [len(loop) for loop in loops])
    return shapely.polygons(shapely.linearrings(np.concatenate(loops), indices=which))
