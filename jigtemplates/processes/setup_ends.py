"""Where a bushing comes to in its opening: the two places that tell most."""

import math

from jigtemplates.geometry.outline import LONG, Outline, Point, cos_sin
from jigtemplates.report import Report


def far_apart(report: Report) -> tuple[Point, Point]:
    """Two places of the bushing's middle that are furthest apart, real mm from the middle of the cut.

    The ends of a slot, opposite corners of a rectangle; of a round, left and right. Looked for among the places
    that are furthest out in sixteen directions.
    """
    assert report.predicted is not None  # a job without an opening is stopped
    rims = [region.outer for region in report.predicted.path]
    found = [p for rim in rims for p in _places(rim)]
    found += [Point(x, y) for rim in rims for x, y in _reached(rim)]
    places = [Point(round(p.x, 6), round(p.y, 6)) for p in found]  # so that corners level with each other tie
    ways = [cos_sin(22.5 * i) for i in range(16)]
    out = [_furthest(places, *way) for way in ways]
    pairs = [(min(a, b), max(a, b)) for i, a in enumerate(out) for b in out[i:]]
    return min(pairs, key=lambda pair: (-round(math.dist(*pair), 3), pair))


def _places(rim: Outline) -> list[Point]:
    """Every corner and the middle of every segment; of very many only those furthest out in one of the directions."""
    if rim.count < LONG:
        return [p for s in rim.segments for p in (s.start, s.middle)]
    import numpy as np

    from jigtemplates.geometry.long import table_of

    table = table_of(rim)
    every = np.concatenate([table.starts, table.middles])
    out = [every @ cos_sin(22.5 * i) for i in range(16)]
    far = np.any([away > away.max() - 1e-5 for away in out], axis=0)
    return [Point(x, y) for x, y in every[far].tolist()]


def _furthest(places: list[Point], cos: float, sin: float) -> Point:
    return max(places, key=lambda p: p.x * cos + p.y * sin)


def _reached(rim: Outline) -> list[tuple[float, float]]:
    """Where a round rim is furthest left and right."""
    circle = rim.as_circle
    if circle is None:
        return []
    (x, y), r = circle.center, circle.radius
    return [(x - r, y), (x + r, y)]
