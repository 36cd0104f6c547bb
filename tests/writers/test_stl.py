"""Binary STL: bytes as the format has them, in mm, read by another library, and refused where they are not right."""

import io
import struct
from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.mesh_build import mesh_of
from jigtemplates.writers.stl import write_stl
from jigtemplates.writers.stl_reader import check_stl, read_stl

from .solids import PLATE, tetrahedron

FAULT = " (a fault of this program: the file was not written)"


def test_the_bytes() -> None:
    """A tetrahedron: 80 bytes that say mm, the count, then its first triangle with the normal down."""
    data = write_stl(tetrahedron(), note="Bench rail, 10 × 50")
    assert data[:80] == b"jigtemplates; unit: mm; Bench rail, 10 ? 50".ljust(80)
    assert len(data) == 84 + 4 * 50
    assert struct.unpack_from("<I", data, 80) == (4,)
    assert struct.unpack_from("<12fH", data, 84) == (0, 0, -1, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0)


def test_a_long_note_is_cut() -> None:
    """The header stays 80 bytes long, whatever is to be said."""
    data = write_stl(tetrahedron(), note="x" * 200)
    assert data[:80] == b"jigtemplates; unit: mm; " + b"x" * 56
    assert read_stl(data).header == "jigtemplates; unit: mm; " + "x" * 56


def test_another_library_reads_it() -> None:
    """trimesh loads 120 x 80 x 6, closed, with the volume of the mesh."""
    mesh = mesh_of(PLATE)
    loaded = trimesh.load(io.BytesIO(write_stl(mesh)), file_type="stl")
    assert loaded.extents == pytest.approx([120, 80, 6])
    assert loaded.is_watertight
    assert loaded.volume == pytest.approx(mesh.volume, rel=1e-6)
    assert loaded.euler_number == -4


def test_what_was_written_is_read() -> None:
    """Read back and welded, the mesh has the corners and triangles it had."""
    mesh = mesh_of(PLATE)
    welded = read_stl(write_stl(mesh)).welded()
    assert np.array_equal(welded.vertices, mesh.vertices)
    assert np.array_equal(welded.triangles, mesh.triangles)
    check_stl(write_stl(mesh, note="a plate"), mesh, note="a plate")


def test_normals_point_out() -> None:
    """Every normal is 1 long and looks away from the tetrahedron's middle."""
    file = read_stl(write_stl(tetrahedron()))
    assert np.linalg.norm(file.normals, axis=1) == pytest.approx(1)
    outwards = file.triangles.mean(axis=1) - 0.25
    assert (np.einsum("ij,ij->i", outwards, file.normals) > 0).all()


def text(data: bytes) -> bytes:
    return b"solid" + data[5:]


@pytest.mark.parametrize(
    ("spoilt", "sentence"),
    [
        (text, "it is no binary STL file"),
        (lambda data: data[:83], "it is no binary STL file"),
        (lambda data: data[:-50], "it says 4 triangles and has 3"),
        (lambda data: b"inches".ljust(80) + data[80:], 'its header is "inches"'),
        (lambda data: data[:96] + struct.pack("<f", 0.5) + data[100:], "its triangles are not those of the mesh"),
        (lambda data: data[:92] + struct.pack("<f", 1) + data[96:], "a normal points into the plate"),
    ],
)
def test_what_is_refused(spoilt: Callable[[bytes], bytes], sentence: str) -> None:
    """Each fault in one line that says it is ours."""
    with pytest.raises(ReadBackError) as refused:
        check_stl(spoilt(write_stl(tetrahedron())), tetrahedron())
    assert str(refused.value) == f"STL file read back: {sentence}{FAULT}"


def test_a_note_that_is_missing() -> None:
    """The header must say what it was to say."""
    with pytest.raises(ReadBackError, match='its header is "jigtemplates; unit: mm;"'):
        check_stl(write_stl(tetrahedron()), tetrahedron(), note="holes")


def test_a_surface_that_is_open() -> None:
    """A mesh that is open itself is refused, even where the file says it faithfully."""
    mesh = tetrahedron()
    opened = type(mesh)(mesh.vertices, mesh.triangles[:3])
    with pytest.raises(ReadBackError, match="it is not closed: 3 edges"):
        check_stl(write_stl(opened), opened)
