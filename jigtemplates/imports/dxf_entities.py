"""DXF entities as runs of lines, arcs and curves in mm, x right and y up.

An entity whose own plane is turned over (extrusion 0, 0, -1: what a mirrored copy becomes) is turned back;
one that does not lie flat is refused.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from typing import Any

import numpy as np

from jigtemplates.geometry.outline import LONG, BulgeVertex, Line, Point, segment_from_bulge
from jigtemplates.geometry.table import Rows, Table
from jigtemplates.imports.curves import bezier_count, ellipse
from jigtemplates.imports.drawn import Effort, Part, Run
from jigtemplates.imports.fit import Smooth
from jigtemplates.imports.trouble import refuse

#: What is out of the drawing's plane by less is rounding, in the file's unit (chosen).
FLAT = 1e-6

Read = Callable[[Any, float, float], Run]


def _line(entity: Any, unit: float, _: float) -> Run:
    start, end = entity.dxf.start, entity.dxf.end
    _flat(start.z - end.z)
    return Run((Line(_at(start, unit), _at(end, unit)),), False)


def _arc(entity: Any, unit: float, chord: float) -> Run:
    """ARC and CIRCLE: counter-clockwise in the entity's own plane."""
    center, u, v = _frame(entity, entity.dxf.center, entity.dxf.radius)
    if entity.dxftype() == "CIRCLE":
        first, sweep = 0.0, 360.0
    else:
        first = entity.dxf.start_angle
        sweep = (entity.dxf.end_angle - first) % 360.0 or 360.0
    parts = ellipse(_at(center, unit), _at(u, unit), _at(v, unit), math.radians(first), math.radians(sweep), chord)
    return Run(tuple(parts), sweep == 360.0)


def _ellipse(entity: Any, unit: float, chord: float) -> Run:
    u, v = entity.dxf.major_axis, entity.minor_axis
    _flat(u.z, v.z)
    first = entity.dxf.start_param
    sweep = (entity.dxf.end_param - first) % math.tau
    whole = min(sweep, math.tau - sweep) < 1e-9
    sweep = math.tau if whole else sweep
    return Run(tuple(ellipse(_at(entity.dxf.center, unit), _at(u, unit), _at(v, unit), first, sweep, chord)), whole)


def _frame(entity: Any, center: Any, radius: float) -> tuple[Any, Any, Any]:
    """Centre and the two half-axes of a circle in the drawing's coordinates."""
    ocs = entity.ocs()
    u, v = (ocs.to_wcs(axis) for axis in ((radius, 0.0, 0.0), (0.0, radius, 0.0)))
    _flat(u.z, v.z)
    return ocs.to_wcs(center), u, v


def _lwpolyline(entity: Any, unit: float, _: float) -> Run:
    if len(entity) >= LONG:
        return _long_polygon(entity, unit, bool(entity.closed))
    return _polygon(entity, entity.get_points("xyb"), unit, bool(entity.closed))


def _long_polygon(entity: Any, unit: float, closed: bool) -> Run:
    """As `_polygon`, all corners at once: x, y, two widths and the bulge of each."""
    across = _across(entity)
    corners = np.array(entity.lwpoints.values, dtype=float).reshape(-1, 5)
    places = corners[:, :2] * unit * np.array([across, 1.0])
    table = Table.from_bulges(places, across * corners[:, 4])
    steps = np.any(table.starts != table.ends, axis=1)
    steps[-1] &= closed
    return Run(Rows(table.rows(steps)), closed)


def _polyline(entity: Any, unit: float, _: float) -> Run:
    """An old polyline; the frame of a smoothed one is no part of it."""
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        refuse("is a mesh, not an outline (draw its contour as a polyline)")
    corners = [vertex.dxf for vertex in entity.vertices if not vertex.dxf.flags & 16]
    if entity.is_3d_polyline:
        _flat(*(c.location.z - corners[0].location.z for c in corners))
        return _run([BulgeVertex(*_at(c.location, unit), 0.0) for c in corners], bool(entity.is_closed))
    points = [(c.location.x, c.location.y, c.bulge if c.hasattr("bulge") else 0.0) for c in corners]
    return _polygon(entity, points, unit, bool(entity.is_closed))


def _polygon(entity: Any, points: Any, unit: float, closed: bool) -> Run:
    """A flat polyline with bulges in the entity's own plane."""
    across = _across(entity)
    corners = [BulgeVertex(across * unit * float(x), unit * float(y), across * float(b)) for x, y, b in points]
    return _run(corners, closed)


def _across(entity: Any) -> float:
    """1, or -1 of a plane turned over: its arbitrary axis is -x (DXF reference, "OCS")."""
    side = entity.dxf.extrusion.normalize().z if entity.dxf.hasattr("extrusion") else 1.0
    if abs(abs(side) - 1.0) > FLAT:
        refuse("does not lie in the drawing's plane (draw it flat)")
    return math.copysign(1.0, side)


def _run(corners: list[BulgeVertex], closed: bool) -> Run:
    if closed and len(corners) > 1:
        corners = [*corners, corners[0]]
    steps = ((a, b) for a, b in pairwise(corners) if (a.x, a.y) != (b.x, b.y))
    return Run(tuple(segment_from_bulge(a, b) for a, b in steps), closed)


def _spline(entity: Any, unit: float, chord: float) -> Run:
    if not entity.control_point_count():
        refuse("has no control points, only places to pass through (explode it into arcs or a polyline)")
    tool = entity.construction_tool()
    z = [p.z for p in tool.control_points]
    _flat(max(z) - min(z))
    effort, parts = Effort(), list[Part]()
    for part in _spans(tool, unit, chord):
        effort.spend((part,))
        parts.append(part)
    return Run(parts, False)


def _spans(tool: Any, unit: float, chord: float) -> Iterator[Part]:
    """The spline between its knots, where it is smooth; at a knot it may have a corner."""
    knots = [float(k) for k in tool.knots()]
    order = tool.order
    stops = sorted({k for k in knots if knots[order - 1] <= k <= knots[-order]})
    if len(stops) < 2:
        refuse("has knots that do not go up (draw it anew)")
    hull = np.array([(p.x, p.y) for p in tool.control_points]) * unit
    count = bezier_count(float(np.hypot(*np.diff(hull, axis=0).T).sum()) / len(stops), chord)
    for a, b in pairwise(stops):
        # just within the span at its end, where the direction belongs to this side
        t = np.linspace(a, b, count + 1)
        inner = [*t[:-1], b - (b - a) * 1e-9]
        found = list(tool.derivatives(inner, 1))
        places = np.array([(d[0].x, d[0].y) for d in found]) * unit
        end = tool.point(b)
        places[-1] = (end.x * unit, end.y * unit)
        yield Smooth.of(places, np.array([(d[1].x, d[1].y) for d in found]))


def _at(p: Any, unit: float) -> Point:
    return Point(float(p.x) * unit, float(p.y) * unit)


def _flat(*rises: float) -> None:
    if any(abs(rise) > FLAT for rise in rises):
        refuse("does not lie in the drawing's plane (draw it flat)")


READERS: Mapping[str, Read] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _arc,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _polyline,
    "SPLINE": _spline,
}
