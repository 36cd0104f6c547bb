"""Joins the strips swept beside an outline's edges into as few areas as can be.

Strips that follow one another without a gap make one band: along the outline and back along the rim.
Where that band crosses itself it is cut in two, and those again, down to single strips.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

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
    if is_closed:
        ring = _closed(chains[0])
        if ring is not None:
            return [ring]
        areas.append(_lap(chains[0][-1], reach))
    waiting = list(chains)
    while waiting:
        bands = polygons_of([_loop(chain) for chain in waiting])
        whole = shapely.is_valid(bands) | np.array([len(chain) == 1 for chain in waiting])
        areas.extend(bands[whole])
        crossing = [chain for chain, is_whole in zip(waiting, whole, strict=True) if not is_whole]
        areas.extend(_lap(c[len(c) // 2 - 1], reach) for c in crossing)
        waiting = [half for c in crossing for half in (c[: len(c) // 2], c[len(c) // 2 :])]
    return areas


def _along(chain: Sequence[Strip]) -> tuple[Coordinates, Coordinates]:
    """Points along the outline and along the rim of a whole chain."""
    base = np.concatenate([chain[0].base[:1], *(s.base[1:] for s in chain)])
    rims = [chain[0].rim]
    for before, strip in itertools.pairwise(chain):
        # the rim of an arc narrower than the reach ends at its centre, not where the next one begins
        goes_on = np.abs(before.rim[-1] - strip.rim[0]).max() < LAP
        rims.append(strip.rim[1:] if goes_on else strip.rim)
    return base, np.concatenate(rims)


def _closed(chain: Sequence[Strip]) -> Any | None:
    """The ring between outline and rim, or None where the rim crosses itself or is inside out."""
    base, rim = _along(chain)
    base, rim = base[:-1], rim[:-1] if np.abs(rim[-1] - rim[0]).max() < LAP else rim
    inner, outer = sorted((base, rim), key=lambda points: abs(_shoelace(points)))
    if len(inner) < 3 or _shoelace(inner) * _shoelace(outer) <= 0:
        return None
    ring = shapely.polygons(outer, holes=[inner])
    return ring if ring.is_valid else None


def _shoelace(points: Coordinates) -> float:
    (x, y), (x2, y2) = (points - points[0]).T, (np.roll(points, -1, axis=0) - points[0]).T
    return float(np.dot(x, y2) - np.dot(x2, y)) / 2


def _loop(chain: Sequence[Strip]) -> Coordinates:
    base, rim = _along(chain)
    return np.concatenate([base, rim[::-1], base[:1]])


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
