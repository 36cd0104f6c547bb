"""Shapes a cut can have. Each is a function whose parameters are its dimensions.

Millimetres, length along x, width along y, counter-clockwise; each says where its origin lies. Sizes that make no
such shape raise ValueError with a sentence.
"""

from jigtemplates.geometry.shapes.arched import arc_slot, ends_apart, hand_hold
from jigtemplates.geometry.shapes.basic import rectangle, round_hole, slot, uneven_rectangle
from jigtemplates.geometry.shapes.ellipse import ellipse
from jigtemplates.geometry.shapes.gain import hinge_gain
from jigtemplates.geometry.shapes.polygons import butterfly_key, largest_key_radius, regular_polygon

__all__ = [
    "arc_slot",
    "butterfly_key",
    "ellipse",
    "ends_apart",
    "hand_hold",
    "hinge_gain",
    "largest_key_radius",
    "rectangle",
    "regular_polygon",
    "round_hole",
    "slot",
    "uneven_rectangle",
]
