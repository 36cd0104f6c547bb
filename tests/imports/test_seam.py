"""A contour that begins in the middle of a straight, of few segments and of very many."""

import math

import numpy as np
import pytest

from jigtemplates.geometry.long import LongOutline
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.table import Table
from jigtemplates.imports.contours import tidied


@pytest.mark.parametrize("sides", [600, 1200])
def test_the_seam_of_a_long_contour_goes(sides: int) -> None:
    """A polygon drawn from the middle of a side has one corner less: as many as it has sides, found either way."""
    corners = [(100 * math.cos(math.tau * i / sides), 100 * math.sin(math.tau * i / sides)) for i in range(sides)]
    (ax, ay), (bx, by) = corners[-1], corners[0]
    points = [((ax + bx) / 2, (ay + by) / 2), *corners]
    quick = tidied(LongOutline(Table.polygon(np.array(points))))
    patient = tidied(Outline.polygon(points))
    assert isinstance(quick, LongOutline)
    assert quick.count == len(patient.segments) == sides
    assert quick.segments == patient.segments


def test_a_long_contour_without_a_seam_stays() -> None:
    """Begun at a corner it is given back as it is."""
    corners = [(100 * math.cos(math.tau * i / 600), 100 * math.sin(math.tau * i / 600)) for i in range(600)]
    outline = LongOutline(Table.polygon(np.array(corners)))
    assert tidied(outline) is outline
