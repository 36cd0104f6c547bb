"""Solids and meshes that the tests of printers' files share."""

import numpy as np

from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Arc, Line, Outline, Point, Region, Regions
from jigtemplates.solid import Beads, Cone, Prism, Solid
from jigtemplates.writers.mesh import Mesh

P = Point


def box(left: float, bottom: float, right: float, top: float) -> Regions:
    """A rectangle."""
    return (Region(Outline.polygon([(left, bottom), (right, bottom), (right, top), (left, top)])),)


def disc(x: float, y: float, radius: float) -> Regions:
    """A circle's area."""
    return (Region(Outline.circle(P(x, y), radius)),)


def slot() -> Regions:
    """A slot of 20 x 60 about (60, 40): 40 x 20 + 100 pi."""
    return (
        Region(
            Outline(
                (
                    Line(P(40, 30), P(80, 30)),
                    Arc(P(80, 30), P(80, 50), P(80, 40), 10, 1),
                    Line(P(80, 50), P(40, 50)),
                    Arc(P(40, 50), P(40, 30), P(40, 40), 10, 1),
                )
            )
        ),
    )


#: 120 x 80 x 6 with a slot, two holes of 5 with countersinks of 10 (90 degrees), and a letter L sunk by 0.6.
PLATE = Solid(
    Prism(box(0, 0, 120, 80), 0.0, 6.0),
    (
        Prism(slot(), -1.0, 7.0),
        Prism(disc(10, 10, 2.5), -1.0, 7.0),
        Prism(disc(110, 70, 2.5), -1.0, 7.0),
        Cone(P(10, 10), 2.25, 7.0, (1.25, 6.0)),
        Cone(P(110, 70), 2.25, 7.0, (1.25, 6.0)),
        Beads((Stroke((P(20, 20), P(20, 10), P(26, 10))),), 0.8, 5.4, 7.0),
    ),
    (),
    0.01,
)


def tetrahedron() -> Mesh:
    """Corners at the origin and 1 along each axis; volume a sixth."""
    corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=np.float32)
    return Mesh(corners, np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]], dtype=np.int32))
