"""Outlines as shapely areas, for the tests that ask other engines."""

from collections.abc import Callable

import pytest
import shapely

from jigtemplates.geometry.outline import Regions


@pytest.fixture(scope="session")
def polygon_of() -> Callable[..., "shapely.Geometry"]:
    """polygon_of(regions, chord): the area on chords of that tolerance, mm."""

    def area(regions: Regions, chord: float) -> "shapely.Geometry":
        return shapely.union_all(
            [
                shapely.Polygon(one.outer.flattened(chord), [hole.flattened(chord) for hole in one.holes])
                for one in regions
            ]
        )

    return area
