"""Reads a binary STL file by its bytes, apart from the module that writes them."""

import struct
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.mesh import Mesh, surface_faults

#: Bytes before the first triangle, and of each triangle: a normal, three corners, two bytes more.
_START, _EACH = 84, 50


@dataclass(frozen=True, eq=False)
class StlFile:
    """What stands in a binary STL file."""

    header: str
    #: m by 3
    normals: NDArray[np.float32]
    #: m by 3 corners by 3 coordinates
    triangles: NDArray[np.float32]

    def welded(self) -> Mesh:
        """The triangles over shared corners: those with the same coordinates are one."""
        places, index = np.unique(self.triangles.reshape(-1, 3), axis=0, return_inverse=True)
        return Mesh(places, index.reshape(-1, 3).astype(np.int32))


def read_stl(data: bytes) -> StlFile:
    """The file's header and triangles; ReadBackError where it is not a binary STL file of its own length."""
    if len(data) < _START or data[:5].lower() == b"solid":
        raise ReadBackError("it is no binary STL file")
    (count,) = struct.unpack_from("<I", data, _START - 4)
    if len(data) != _START + count * _EACH:
        raise ReadBackError(f"it says {count} triangles and has {(len(data) - _START) / _EACH:g}")
    rows = np.frombuffer(data, dtype=np.uint8, offset=_START).reshape(count, _EACH)
    numbers = np.ascontiguousarray(rows[:, :48]).view("<f4").reshape(count, 4, 3).astype(np.float32)
    return StlFile(data[: _START - 4].decode("ascii", "replace").rstrip(), numbers[:, 0], numbers[:, 1:])


def check_stl(data: bytes, mesh: Mesh, *, note: str = "") -> None:
    """Raise ReadBackError unless the bytes are that mesh, closed, in mm."""
    try:
        fault = _fault(read_stl(data), mesh, note)
    except ReadBackError as error:  # from the reader, which does not know what it reads for
        fault = str(error)
    if fault is not None:
        raise ReadBackError(f"STL file read back: {fault} (a fault of this program: the file was not written)")


def _fault(file: StlFile, mesh: Mesh, note: str) -> str | None:
    if "unit: mm" not in file.header or (note and note.encode("ascii", "replace").decode()[:20] not in file.header):
        return f'its header is "{file.header}"'
    if not np.array_equal(file.triangles, mesh.vertices[mesh.triangles]):
        return "its triangles are not those of the mesh"
    across = np.cross(file.triangles[:, 1] - file.triangles[:, 0], file.triangles[:, 2] - file.triangles[:, 0])
    if (np.einsum("ij,ij->i", across, file.normals) < 0).any():
        return "a normal points into the plate"
    return next(surface_faults(file.welded()), None)
