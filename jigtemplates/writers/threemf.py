"""Meshes as 3MF, in millimetres: the format's core specification (1.2.4), without extensions.

What is promised of a file, the specification's words in quotes:
- a ZIP package of three parts, "[Content_Types].xml", "_rels/.rels" with one StartPart relationship, and
  "3D/3dmodel.model"; "plain ZIP files", "Deflate";
- `unit="millimeter"`, UTF-8, no document type, no extension;
- title, description and application as metadata, each once ("MUST NOT create multiple metadata elements with the same
  name");
- one object of type "model" whose mesh has "Manifold Edges: Every triangle edge in the mesh shares common vertex
  endpoints with the edge of exactly 1 other triangle", "Consistent Triangle Orientation" and "Outward-facing normals";
- one build item, without a transform: the plate lies on the bed "in the positive octant of the coordinate space";
- no clock: every part is dated to the first day that ZIP knows. The same mesh gives the same bytes.
"""

import io
import zipfile
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from jigtemplates.writers.mesh import Mesh

#: Names and types (specification, chapter 2.2 and appendix C).
MODEL_PART = "3D/3dmodel.model"
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
START_PART = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
#: Of the package itself (Open Packaging Conventions, ECMA-376 part 2).
RELATIONSHIPS = "http://schemas.openxmlformats.org/package/2006/relationships"
CONTENT_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
RELATIONSHIPS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"

#: The first moment a ZIP archive can say.
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)
_UNIX, _MODE = 3, 0o100644 << 16
_XML = '<?xml version="1.0" encoding="UTF-8"?>\n'

_TYPES = (
    f'{_XML}<Types xmlns="{CONTENT_TYPES}">'
    f'<Default Extension="rels" ContentType="{RELATIONSHIPS_TYPE}"/>'
    f'<Default Extension="model" ContentType="{MODEL_TYPE}"/></Types>\n'
)
_RELS = (
    f'{_XML}<Relationships xmlns="{RELATIONSHIPS}">'
    f'<Relationship Target="/{MODEL_PART}" Id="rel0" Type="{START_PART}"/></Relationships>\n'
)


def write_threemf(mesh: Mesh, *, title: str, description: str) -> bytes:
    """The bytes of the file. The title names the document and its one object."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", allowZip64=False) as package:
        for name, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELS),
            (MODEL_PART, _model(mesh, title, description)),
        ):
            part = zipfile.ZipInfo(name, _FIRST_DAY)
            part.compress_type, part.create_system, part.external_attr = zipfile.ZIP_DEFLATED, _UNIX, _MODE
            package.writestr(part, text.encode("utf-8"))
    return buffer.getvalue()


def _model(mesh: Mesh, title: str, description: str) -> str:
    return "".join(
        (
            f'{_XML}<model unit="millimeter" xmlns="{CORE}">\n',
            *_metadata({"Title": title, "Description": description, "Application": "jigtemplates"}),
            f'<resources>\n<object id="1" type="model" name={quoteattr(title)}>\n<mesh>\n<vertices>\n',
            *_vertices(mesh),
            "</vertices>\n<triangles>\n",
            *(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in mesh.triangles.tolist()),
            '</triangles>\n</mesh>\n</object>\n</resources>\n<build>\n<item objectid="1"/>\n</build>\n</model>\n',
        )
    )


def _metadata(values: dict[str, str]) -> Iterable[str]:
    return (f'<metadata name="{name}">{escape(value)}</metadata>\n' for name, value in values.items())


def _vertices(mesh: Mesh) -> Iterable[str]:
    """Each coordinate in the fewest digits that mean the same number in single precision."""
    texts = mesh.vertices.astype(str).tolist()
    return (f'<vertex x="{x}" y="{y}" z="{z}"/>\n' for x, y, z in texts)
