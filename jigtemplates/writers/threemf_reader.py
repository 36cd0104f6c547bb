"""Reads a 3MF package with the standard library, apart from the module that writes it, and is strict about it.

It knows the core specification's one mesh in one object; anything more is refused, for we write no more.
"""

import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import numpy as np

from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.mesh import Mesh, surface_faults

_CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
_TYPE = "{http://schemas.openxmlformats.org/package/2006/content-types}"
_START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_MODEL = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
_PARTS = ["[Content_Types].xml", "_rels/.rels"]


@dataclass(frozen=True, eq=False)
class ThreemfFile:
    """What stands in a 3MF package with one object."""

    unit: str
    metadata: dict[str, str]
    #: the object's
    name: str
    mesh: Mesh


def read_threemf(data: bytes) -> ThreemfFile:
    """The package's one mesh; ReadBackError where the package, its parts or its model are not as specified."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            names = package.namelist()
            parts = {name: ElementTree.fromstring(package.read(name)) for name in names}
    except (zipfile.BadZipFile, ElementTree.ParseError) as error:
        raise ReadBackError(f"it is no 3MF package ({error})") from None
    if names[:2] != _PARTS or len(names) != 3:
        raise ReadBackError(f"its parts are {', '.join(names)}")
    return _read_model(parts[_model_name(parts)])


def _model_name(parts: dict[str, Element]) -> str:
    """The part that the package begins with, which must have the type of a model."""
    starts = [link.get("Target", "") for link in parts["_rels/.rels"] if link.get("Type") == _START]
    types = {
        one.get("Extension"): one.get("ContentType") for one in parts["[Content_Types].xml"].iter(f"{_TYPE}Default")
    }
    if len(starts) != 1 or starts[0].lstrip("/") not in parts or types.get("model") != _MODEL:
        raise ReadBackError("it does not say where its model is")
    return starts[0].lstrip("/")


def _read_model(model: Element) -> ThreemfFile:
    objects = model.findall(f"{_CORE}resources/{_CORE}object")
    items = model.findall(f"{_CORE}build/{_CORE}item")
    if (
        model.tag != f"{_CORE}model"
        or len(objects) != 1
        or [dict(i.attrib) for i in items] != [{"objectid": objects[0].get("id")}]
    ):
        raise ReadBackError("its model is not one object, built once where it is")
    named = [(one.get("name", ""), one.text or "") for one in model.findall(f"{_CORE}metadata")]
    if len(dict(named)) != len(named):
        raise ReadBackError("it has metadata of the same name twice")
    return ThreemfFile(model.get("unit", ""), dict(named), objects[0].get("name", ""), _read_mesh(objects[0]))


def _read_mesh(part: Element) -> Mesh:
    corners = part.findall(f"{_CORE}mesh/{_CORE}vertices/{_CORE}vertex")
    triangles = part.findall(f"{_CORE}mesh/{_CORE}triangles/{_CORE}triangle")
    try:
        return Mesh(
            np.array([[float(one.attrib[axis]) for axis in "xyz"] for one in corners], dtype=np.float32),
            np.array([[int(one.attrib[v]) for v in ("v1", "v2", "v3")] for one in triangles], dtype=np.int32),
        )
    except (KeyError, ValueError):
        raise ReadBackError("a corner or triangle of it lacks a number") from None


def check_threemf(data: bytes, mesh: Mesh, *, title: str, description: str) -> None:
    """Raise ReadBackError unless the bytes are that mesh, closed, in mm, under that title."""
    try:
        fault = next(_faults(read_threemf(data), mesh, title, description), None)
    except ReadBackError as error:  # from the reader, which does not know what it reads for
        fault = str(error)
    if fault is not None:
        raise ReadBackError(f"3MF file read back: {fault} (a fault of this program: the file was not written)")


def _faults(file: ThreemfFile, mesh: Mesh, title: str, description: str) -> Iterator[str]:
    if file.unit != "millimeter":
        yield f'its unit is "{file.unit}"'
    said = (file.metadata.get("Title"), file.metadata.get("Description"), file.name)
    if said != (title, description, title):
        yield f"it is called {said}"
    if not np.array_equal(file.mesh.vertices, mesh.vertices) or not np.array_equal(file.mesh.triangles, mesh.triangles):
        yield "its mesh is not the one that was meant"
    yield from surface_faults(file.mesh)
