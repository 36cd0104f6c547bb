"""A mesh: triangles over shared corners, which every file format for printers says in its own way.

What is promised of one before it is written:
- watertight: every edge belongs to exactly two triangles, which run along it in opposite directions;
- triangles run counter-clockwise seen from outside, so the volume is positive;
- coordinates are those of single precision (within 1e-5 mm of the drawing for plates up to 250 mm), so that STL and
  3MF say the same corners.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles over shared corners, mm."""

    #: n by 3
    vertices: NDArray[np.float32]
    #: m by 3 indices, counter-clockwise seen from outside
    triangles: NDArray[np.int32]

    @property
    def corners(self) -> NDArray[np.float64]:
        """The corners of every triangle, m by 3 by 3."""
        return self.vertices.astype(np.float64)[self.triangles]

    @cached_property
    def volume(self) -> float:
        """What the triangles enclose, mm³; negative where they are inside out."""
        a, b, c = np.moveaxis(self.corners, 1, 0)
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)

    @property
    def box(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """The lowest and the highest coordinates."""
        return self.vertices.min(axis=0).astype(np.float64), self.vertices.max(axis=0).astype(np.float64)


def surface_faults(mesh: Mesh) -> Iterator[str]:
    """What keeps the triangles from being the surface of a solid; nothing where they are one."""
    if not len(mesh.triangles) or not np.isfinite(mesh.vertices).all():
        yield "it has no triangles, or a corner that is nowhere"
        return
    if mesh.triangles.min() < 0 or mesh.triangles.max() >= len(mesh.vertices):
        yield "a triangle names a corner that is not there"
        return
    if len(np.unique(mesh.vertices, axis=0)) != len(mesh.vertices):
        yield "two corners are at one place"
    if (mesh.triangles == np.roll(mesh.triangles, 1, axis=1)).any():
        yield "a triangle has the same corner twice"
    if (open_edges := _open_edges(mesh)) > 0:
        yield f"it is not closed: {open_edges} edges do not belong to two triangles"
    elif mesh.volume <= 0:
        yield "it is inside out"


def _open_edges(mesh: Mesh) -> int:
    """How many edges are not run along once in each direction."""
    a = mesh.triangles.astype(np.int64).ravel()
    b = np.roll(mesh.triangles, -1, axis=1).astype(np.int64).ravel()
    low, high = np.minimum(a, b), np.maximum(a, b)
    _, edge, count = np.unique(low * len(mesh.vertices) + high, return_inverse=True, return_counts=True)
    balance = np.bincount(edge, weights=np.where(a < b, 1, -1))
    return int(((count != 2) | (balance != 0)).sum())


def slice_area(mesh: Mesh, height: float) -> float:
    """Area of a slice through the mesh, mm², by the edges in which its triangles cross the plane."""
    above = mesh.corners[:, :, 2] > height
    crossing = mesh.corners[above.any(axis=1) & ~above.all(axis=1)]
    alone = (crossing[:, :, 2] > height).sum(axis=1) == 1
    lone = np.where(alone, (crossing[:, :, 2] > height).argmax(axis=1), (crossing[:, :, 2] <= height).argmax(axis=1))
    row = np.arange(len(crossing))
    tip, after, before = (crossing[row, (lone + step) % 3] for step in range(3))
    p, q = _at_height(tip, after, height), _at_height(tip, before, height)
    start, end = np.where(alone[:, None], p, q), np.where(alone[:, None], q, p)
    return abs(float((start[:, 0] * end[:, 1] - end[:, 0] * start[:, 1]).sum() / 2))


def _at_height(a: NDArray[np.float64], b: NDArray[np.float64], height: float) -> NDArray[np.float64]:
    share: NDArray[np.float64] = ((height - a[:, 2]) / (b[:, 2] - a[:, 2]))[:, None]
    return (a + share * (b - a))[:, :2]
