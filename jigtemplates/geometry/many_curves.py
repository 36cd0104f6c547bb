"""Where many pairs of endless curves meet: `curves.meeting` for columns of numbers."""

from dataclasses import dataclass

import numpy as np

from jigtemplates.geometry.curves import TANGENT
from jigtemplates.geometry.table import Array, Indices, Mask, cross, dot, norms, picked, put


@dataclass(frozen=True, eq=False)
class Curves:
    """Lines and circles, a row each, mm."""

    is_circle: Mask
    #: a place on the line, or the centre
    places: Array
    #: unit direction of the line
    along: Array
    #: 0 of a line
    radii: Array

    def rows(self, which: Indices | Mask) -> "Curves":
        """Some of them."""
        return Curves(*(picked(column, which) for column in (self.is_circle, self.places, self.along, self.radii)))

    def across(self, places: Array) -> Array:
        """Signed distance of a place to the left of each line."""
        return cross(self.along, places - self.places)

    def off(self, places: Array) -> Array:
        """Distance of a place from each curve."""
        arms = places - self.places
        found: Array = np.where(self.is_circle, np.abs(norms(arms) - self.radii), np.abs(cross(self.along, arms)))
        return found


def meetings(a: Curves, b: Curves, near: Array) -> tuple[Array, Array]:
    """Where each pair meets, nearest to a place; and by how much they miss each other, mm, where they do."""
    if not (a.is_circle.any() or b.is_circle.any()):
        return _line_line(a, b, near)
    places, gaps = np.empty((len(near), 2)), np.zeros(len(near))
    kinds = 2 * a.is_circle.astype(int) + b.is_circle
    for kind, meet in enumerate((_line_line, _line_circle, _circle_line, _circle_circle)):
        which = np.flatnonzero(kinds == kind)
        if len(which):
            there, gaps[which] = meet(a.rows(which), b.rows(which), picked(near, which))
            put(places, which, there)
    return places, gaps


def _line_line(a: Curves, b: Curves, near: Array) -> tuple[Array, Array]:
    turned = cross(a.along, b.along)
    parallel = np.abs(turned) < 1e-12
    ahead = cross(b.places - a.places, b.along) / np.where(parallel, 1.0, turned)
    ahead = np.where(parallel, dot(near - a.places, a.along), ahead)
    places: Array = a.places + ahead[:, None] * a.along
    return places, np.where(parallel, np.abs(a.across(b.places)), 0.0)


def _circle_line(a: Curves, b: Curves, near: Array) -> tuple[Array, Array]:
    return _line_circle(b, a, near)


def _line_circle(line: Curves, circle: Curves, near: Array) -> tuple[Array, Array]:
    arms = circle.places - line.places
    foot = line.places + dot(arms, line.along)[:, None] * line.along
    off = np.abs(cross(line.along, arms))
    touches = circle.radii - off < TANGENT
    half = np.sqrt(np.maximum(np.where(touches, 0.0, (circle.radii - off) * (circle.radii + off)), 0.0))
    return _nearer(foot, half[:, None] * line.along, near), np.where(touches, off - circle.radii, 0.0)


def _circle_circle(a: Curves, b: Curves, near: Array) -> tuple[Array, Array]:
    a, b = _smaller_first(a, b)
    step = b.places - a.places
    apart = norms(step)
    same = apart < TANGENT
    unit = step / np.where(same, 1.0, apart)[:, None]
    beyond = a.radii**2 + (apart - b.radii) * (apart + b.radii)
    around = apart**2 + (a.radii - b.radii) * (a.radii + b.radii)
    along = np.where(a.radii < apart, beyond, around) / np.where(same, 1.0, 2 * apart)
    touches = ~same & (a.radii - np.abs(along) < TANGENT)
    gap = np.where(touches, np.maximum(apart - a.radii - b.radii, np.abs(a.radii - b.radii) - apart), 0.0)
    reach = np.where(touches, np.copysign(a.radii, along), along)
    square = np.where(same | touches, 0.0, (a.radii - along) * (a.radii + along))
    half = np.sqrt(np.maximum(square, 0.0))
    beside = half[:, None] * np.column_stack([-unit[:, 1], unit[:, 0]])
    places = _nearer(a.places + reach[:, None] * unit, beside, near)
    if same.any():
        arms = near - a.places
        away = norms(arms)
        on = a.places + arms * (a.radii / np.where(away == 0, 1.0, away))[:, None]
        places = np.where(same[:, None], on, places)
        gap = np.where(same, np.abs(a.radii - b.radii), gap)
    return places, gap


def _smaller_first(a: Curves, b: Curves) -> tuple[Curves, Curves]:
    """Pairs of circles, of each the smaller first, as `curves` sees them too."""
    swaps = a.radii > b.radii

    def of(one: Curves, other: Curves) -> Curves:
        places = np.where(swaps[:, None], other.places, one.places)
        return Curves(one.is_circle, places, one.along, np.where(swaps, other.radii, one.radii))

    return of(a, b), of(b, a)


def _nearer(middle: Array, aside: Array, near: Array) -> Array:
    """The one of two places on either side of a middle that is nearer to a place."""
    found: Array = np.where((dot(near - middle, aside) >= 0)[:, None], middle + aside, middle - aside)
    return found
