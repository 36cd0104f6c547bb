"""Meshes as binary STL, in millimetres.

What is promised of a file:
- binary: 80 bytes of header, the number of triangles, 50 bytes for each, all little-endian;
- the format cannot state its unit, so header and file name say mm; the header never begins with "solid", by which
  text files are known;
- each triangle has its unit normal, its corners counter-clockwise seen from outside, and no attribute;
- corners that are one in the mesh are the same bytes in every triangle;
- the same mesh gives the same bytes.
"""

import struct

import numpy as np
from numpy.typing import NDArray

from jigtemplates.writers.mesh import Mesh

#: One triangle (the layout in wide use since 1989: "StereoLithography Interface Specification", from memory).
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])

HEADER_BYTES = 80


def write_stl(mesh: Mesh, *, note: str = "") -> bytes:
    """The bytes of the file. `note` follows the unit in the header, in ASCII, as far as it has room."""
    records = np.zeros(len(mesh.triangles), dtype=RECORD)
    records["normal"] = _normals(mesh)
    records["corners"] = mesh.vertices[mesh.triangles]
    return stl_header(note) + struct.pack("<I", len(records)) + records.tobytes()


def stl_header(note: str) -> bytes:
    """The 80 bytes before the triangles."""
    text = f"jigtemplates; unit: mm; {note}".encode("ascii", "replace")
    return text[:HEADER_BYTES].ljust(HEADER_BYTES, b" ")


def _normals(mesh: Mesh) -> NDArray[np.float64]:
    """Unit normals; zero for a triangle that is none in single precision, as the format allows."""
    a, b, c = np.moveaxis(mesh.corners, 1, 0)
    across = np.cross(b - a, c - a)
    length = np.linalg.norm(across, axis=1, keepdims=True)
    unit: NDArray[np.float64] = np.divide(across, length, out=np.zeros_like(across), where=length > 0)
    return unit + 0.0  # no -0
