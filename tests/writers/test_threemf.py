"""3MF: a package by the core specification, in mm, read by the format's own library, refused where it is not right."""

import io
import zipfile
from collections.abc import Callable
from xml.etree import ElementTree

import numpy as np
import pytest

from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.mesh import Mesh
from jigtemplates.writers.mesh_build import mesh_of
from jigtemplates.writers.threemf import write_threemf
from jigtemplates.writers.threemf_reader import check_threemf, read_threemf

from .solids import PLATE, tetrahedron

FAULT = " (a fault of this program: the file was not written)"
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def written(mesh: Mesh) -> bytes:
    return write_threemf(mesh, title='Rail <1> & "2"', description="holes +0.2 mm")


def check(data: bytes, mesh: Mesh) -> None:
    check_threemf(data, mesh, title='Rail <1> & "2"', description="holes +0.2 mm")


def test_the_package() -> None:
    """Three parts in this order, deflated, all dated to ZIP's first day, with the types the specification names."""
    with zipfile.ZipFile(io.BytesIO(written(tetrahedron()))) as package:
        infos = package.infolist()
        types, relations = (package.read(info).decode() for info in infos[:2])
        assert package.testzip() is None
    assert [info.filename for info in infos] == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
    assert {info.compress_type for info in infos} == {zipfile.ZIP_DEFLATED}
    assert {info.date_time for info in infos} == {(1980, 1, 1, 0, 0, 0)}
    assert 'Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"' in types
    assert 'Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"' in types
    assert 'Target="/3D/3dmodel.model"' in relations
    assert 'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"' in relations


def test_the_model() -> None:
    """Word for word, for a tetrahedron."""
    with zipfile.ZipFile(io.BytesIO(write_threemf(tetrahedron(), title="T", description="D"))) as package:
        assert package.read("3D/3dmodel.model").decode() == (
            '<?xml version="1.0" encoding="UTF-8"?>\n'
            '<model unit="millimeter" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">\n'
            '<metadata name="Title">T</metadata>\n'
            '<metadata name="Description">D</metadata>\n'
            '<metadata name="Application">jigtemplates</metadata>\n'
            '<resources>\n<object id="1" type="model" name="T">\n<mesh>\n<vertices>\n'
            '<vertex x="0.0" y="0.0" z="0.0"/>\n<vertex x="1.0" y="0.0" z="0.0"/>\n'
            '<vertex x="0.0" y="1.0" z="0.0"/>\n<vertex x="0.0" y="0.0" z="1.0"/>\n'
            "</vertices>\n<triangles>\n"
            '<triangle v1="0" v2="2" v3="1"/>\n<triangle v1="0" v2="1" v3="3"/>\n'
            '<triangle v1="0" v2="3" v3="2"/>\n<triangle v1="1" v2="2" v3="3"/>\n'
            "</triangles>\n</mesh>\n</object>\n</resources>\n"
            '<build>\n<item objectid="1"/>\n</build>\n</model>\n'
        )


def test_the_formats_own_library_reads_it() -> None:
    """lib3mf, strict: no warning; millimetres; title; one mesh, "manifold and oriented", 120 x 80 x 6, built once."""
    lib3mf = pytest.importorskip("lib3mf", reason="no wheel of it for this machine")
    mesh = mesh_of(PLATE)
    model = lib3mf.Wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(written(mesh))
    assert reader.GetWarningCount() == 0
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    group = model.GetMetaDataGroup()
    assert group.GetMetaDataByKey("", "Title").GetValue() == 'Rail <1> & "2"'
    assert group.GetMetaDataByKey("", "Description").GetValue() == "holes +0.2 mm"
    meshes = model.GetMeshObjects()
    assert meshes.Count() == 1
    assert meshes.MoveNext()
    read = meshes.GetCurrentMeshObject()
    assert read.IsManifoldAndOriented()
    assert (read.GetVertexCount(), read.GetTriangleCount()) == (len(mesh.vertices), len(mesh.triangles))
    box = read.GetOutbox()
    assert [*box.MinCoordinate, *box.MaxCoordinate] == pytest.approx([0, 0, 0, 120, 80, 6])
    assert model.GetBuildItems().Count() == 1


def test_what_was_written_is_read() -> None:
    """Read back, corners are the same to the last bit, triangles the same, names as they were."""
    mesh = mesh_of(PLATE)
    file = read_threemf(written(mesh))
    assert file.mesh.vertices.tobytes() == mesh.vertices.tobytes()
    assert np.array_equal(file.mesh.triangles, mesh.triangles)
    assert (file.unit, file.name, file.metadata["Title"]) == ("millimeter", 'Rail <1> & "2"', 'Rail <1> & "2"')
    check(written(mesh), mesh)


def test_the_same_again() -> None:
    """The same mesh gives the same bytes."""
    assert written(mesh_of(PLATE)) == written(mesh_of(PLATE))


def repacked(change: Callable[[str, str], str], **more: str) -> bytes:
    """The tetrahedron's package with each part's text changed, and more parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(written(tetrahedron()))) as package, zipfile.ZipFile(out, "w") as other:
        for name in package.namelist():
            other.writestr(name, change(name, package.read(name).decode()))
        for name, text in more.items():
            other.writestr(name, text)
    return out.getvalue()


def swapped(old: str, new: str) -> bytes:
    """The package with one text in place of another, which must be there."""
    seen = []

    def change(_name: str, text: str) -> str:
        seen.append(old in text)
        return text.replace(old, new, 1)

    data = repacked(change)
    assert any(seen)
    return data


ITEM = '<item objectid="1"/>'
MOVED = '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/>'


@pytest.mark.parametrize(
    ("spoilt", "sentence"),
    [
        (b"PK no", "it is no 3MF package (File is not a zip file)"),
        (swapped("</build>", ""), "it is no 3MF package (mismatched tag: line 27, column 2)"),
        (
            repacked(lambda _, t: t, extra="<a/>"),
            "its parts are [Content_Types].xml, _rels/.rels, 3D/3dmodel.model, extra",
        ),
        (swapped("3dmodel.model", "other.model"), "it does not say where its model is"),
        (swapped("2013/01/3dmodel", "2013/01/other"), "it does not say where its model is"),
        (swapped("3dmanufacturing-3dmodel+xml", "other"), "it does not say where its model is"),
        (swapped(ITEM, ITEM * 2), "its model is not one object, built once where it is"),
        (swapped(ITEM, '<item objectid="2"/>'), "its model is not one object, built once where it is"),
        (swapped(ITEM, MOVED), "its model is not one object, built once where it is"),
        (swapped("object id", "thing id"), "it is no 3MF package (mismatched tag: line 22, column 2)"),
        (swapped('name="Description"', 'name="Title"'), "it has metadata of the same name twice"),
        (swapped(' y="0.0"', ""), "a corner or triangle of it lacks a number"),
        (swapped(' v2="2"', ' v2="two"'), "a corner or triangle of it lacks a number"),
        (swapped("millimeter", "inch"), 'its unit is "inch"'),
        (swapped("holes +0.2", "holes +0.3"), """it is called ('Rail <1> & "2"', 'holes +0.3 mm', 'Rail <1> & "2"')"""),
        (swapped('x="1.0"', 'x="1.1"'), "its mesh is not the one that was meant"),
        (swapped('v1="0" v2="2" v3="1"', 'v1="0" v2="1" v3="2"'), "its mesh is not the one that was meant"),
    ],
)
def test_what_is_refused(spoilt: bytes, sentence: str) -> None:
    """Each fault in one line that says it is ours."""
    with pytest.raises(ReadBackError) as refused:
        check(spoilt, tetrahedron())
    assert str(refused.value) == f"3MF file read back: {sentence}{FAULT}"


def test_a_surface_that_is_open() -> None:
    """A mesh that is open itself is refused, even where the file says it faithfully."""
    opened = Mesh(tetrahedron().vertices, tetrahedron().triangles[:3])
    with pytest.raises(ReadBackError, match="it is not closed: 3 edges"):
        check(written(opened), opened)


def test_nothing_of_other_namespaces() -> None:
    """Every element is of the core namespace: nobody needs an extension to read it."""
    with zipfile.ZipFile(io.BytesIO(written(mesh_of(PLATE)))) as package:
        model = ElementTree.fromstring(package.read("3D/3dmodel.model"))
    assert {element.tag.partition("}")[0] + "}" for element in model.iter()} == {CORE}
    assert model.attrib == {"unit": "millimeter"}
