"""Short ways to write regions down, and to look at them with shapely and Clipper."""

from collections.abc import Callable

import numpy as np
import pytest
import shapely

from jigtemplates.geometry.outline import Arc, Outline, Region, Regions


@pytest.fixture(scope="session")
def regions_of() -> Callable[..., Regions]:
    """One region: an outer outline and its holes, each turned the way it must run."""
    return lambda outer, *holes: (Region(outer.turned(True), tuple(h.turned(False) for h in holes)),)


@pytest.fixture(scope="session")
def kinds_of() -> Callable[[Outline], str]:
    """The kinds of an outline's segments in a word, L for a line and A for an arc, least turn of it first."""

    def word(outline: Outline) -> str:
        kinds = "".join("A" if isinstance(s, Arc) else "L" for s in outline.segments)
        return min(kinds[i:] + kinds[:i] for i in range(len(kinds)))

    return word


@pytest.fixture(scope="session")
def polygon_of() -> Callable[..., "shapely.Geometry"]:
    """Regions as one shapely area on chords of a given tolerance; fails where a part is not valid."""

    def area(regions: Regions, tolerance: float = 1e-4) -> "shapely.Geometry":
        parts = [
            shapely.polygons(
                np.array(r.outer.flattened(tolerance)),
                holes=[np.array(h.flattened(tolerance)) for h in r.holes] or None,
            )
            for r in regions
        ]
        assert all(shapely.is_valid(parts)), [shapely.is_valid_reason(p) for p in parts]
        return shapely.union_all(parts)

    return area
