"""OpenCASCADE as an engine: its offset of faces keeps lines and arcs, so that it is compared far more closely.

Its answers come from a process of their own, that may take long or end: what it does not say in time is no answer.
"""

import math
import multiprocessing
from multiprocessing.connection import Connection
from typing import Any

import numpy as np
import shapely
from engines.chords import Places

from jigtemplates.geometry.outline import Arc, Outline, Regions

#: Chords that stand for arcs of its answer are so near to them, mm; so it is told from ours within twice that.
CHORD = 2e-5
#: It is waited for so long, seconds (chosen: a hundred times what most take).
PATIENCE = 20


class Occt:
    """The process that answers."""

    def __init__(self) -> None:
        self._start()

    def _start(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._pipe, other = context.Pipe()
        self._process = context.Process(target=serve, args=(other,), daemon=True)
        self._process.start()
        if not self._pipe.poll(120):
            raise RuntimeError("OpenCASCADE does not start")
        self._pipe.recv()

    def stop(self) -> None:
        """Ends the process."""
        self._process.kill()
        self._process.join()

    def offset(self, regions: Regions, distance: float) -> Any:
        """Its offset as a shapely area, or None where it has no answer."""
        try:
            self._pipe.send((regions, distance))
            said = self._pipe.recv() if self._pipe.poll(PATIENCE) else None
        except (EOFError, OSError):
            said = None
        if said is None:
            self.stop()
            self._start()
        return said if said is None or isinstance(said, str) else _united(said)


def _united(parts: list[list[Places]]) -> Any:
    """The area of each region's loops, those within others taken out, all regions together."""
    areas = []
    for loops in parts:
        rings = [shapely.Polygon(loop) for loop in loops if len(loop) > 2]
        if not all(ring.is_valid for ring in rings):
            return "crosses itself"
        area = shapely.Polygon()
        for ring in rings:
            area = shapely.symmetric_difference(area, ring)
        areas.append(area)
    return shapely.union_all(areas)


def serve(pipe: Connection) -> None:
    """Answers until it is ended."""
    import build123d  # noqa: F401

    pipe.send("ready")
    while True:
        regions, distance = pipe.recv()
        try:
            pipe.send([_loops(region.rings, distance) for region in regions])
        except Exception as fault:  # whatever it raises, it has no answer
            pipe.send(f"{type(fault).__name__}: {fault}")


def _loops(rings: tuple[Outline, ...], distance: float) -> list[Places]:
    from build123d import Face, Wire
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakeOffset
    from OCP.GeomAbs import GeomAbs_Arc

    outer, *holes = [Wire(_edges(ring)) for ring in rings]
    face = Face(outer, holes)
    maker = BRepOffsetAPI_MakeOffset(face.wrapped, GeomAbs_Arc)
    maker.Perform(distance if face.normal_at().Z > 0 else -distance)
    if not maker.IsDone():
        raise RuntimeError("not done")
    return [_walked(wire) for wire in _wires(maker.Shape())]


def _edges(ring: Outline) -> list[Any]:
    from build123d import Edge

    if circle := ring.as_circle:
        return [_circle(circle)]
    return [
        Edge.make_three_point_arc(_at(s.start), _at(s.middle), _at(s.end))
        if isinstance(s, Arc)
        else Edge.make_line(_at(s.start), _at(s.end))
        for s in ring.segments
    ]


def _circle(arc: Arc) -> Any:
    from build123d import Edge, Plane

    return Edge.make_circle(arc.radius, Plane(origin=_at(arc.center)))


def _at(place: Any) -> tuple[float, float, float]:
    return (place[0], place[1], 0.0)


def _wires(shape: Any) -> list[Any]:
    from build123d import Compound, Wire
    from build123d.topology import downcast

    if shape is None or shape.IsNull():
        return []
    found = downcast(shape)
    return [Wire(found)] if type(found).__name__ == "TopoDS_Wire" else list(Compound(found).wires())


def _walked(wire: Any) -> Places:
    """Places along a wire, on chords within CHORD of its arcs."""
    places = []
    for edge in wire.order_edges():
        kind, count = edge.geom_type.name, 1
        if kind == "CIRCLE":
            step = 4 * math.asin(math.sqrt(min(0.5 * CHORD / edge.radius, 0.146)))
            count = max(4 if edge.is_closed else 1, math.ceil(edge.length / edge.radius / step))
        elif kind != "LINE":
            raise RuntimeError(f"an edge is a {kind}")
        at = [edge.position_at(i / count) for i in range(count)]
        places += [(p.X, p.Y) for p in at]
    return np.array(places)
