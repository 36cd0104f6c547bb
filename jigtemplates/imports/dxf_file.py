"""Reads a DXF drawing: every visible entity of the model space as drawn pieces in mm, blocks taken apart.

Texts, dimensions, points, fillings and pictures draw no contour and are passed over; any other entity that is not
followed is a fault of its own.
"""

import io
import logging
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from jigtemplates.errors import quoted
from jigtemplates.ezdxf_import import import_ezdxf
from jigtemplates.imports.drawn import Drawn, Effort, are_finite, segments_of
from jigtemplates.imports.dxf_entities import READERS
from jigtemplates.imports.dxf_guard import check_dxf
from jigtemplates.imports.trouble import GIVE_UNITS, LEAVE_UNITS, OutlineError, refuse
from jigtemplates.lengths import Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

#: mm in each unit that $INSUNITS can name (DXF reference, header variables), as far as workshops use them.
MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 8: 25.4e-6, 9: 25.4e-3, 10: 914.4, 13: 1e-3, 14: 100.0}
_GIVEN = {"mm": 1.0, "in": 25.4}
_NAMES = {
    1: "inches",
    2: "feet",
    4: "mm",
    5: "cm",
    6: "m",
    8: "microinches",
    9: "mils",
    10: "yards",
    13: "µm",
    14: "dm",
}

# The header's variable, its group code and the number after it.
_CODE = re.compile(rb"\$INSUNITS\s+70\s+([0-9]{1,2})\b")

_ANNOTATION = ("TEXT", "MTEXT", "ATTDEF", "ATTRIB", "DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION", "LEADER")
_NO_LINE = ("POINT", "HATCH", "IMAGE", "WIPEOUT", "VIEWPORT", "XLINE", "RAY", "ACAD_TABLE", "OLE2FRAME", "SEQEND")
_PASSED_OVER = frozenset((*_ANNOTATION, "MULTILEADER", "MLEADER", "TOLERANCE", *_NO_LINE))


def read_dxf(data: bytes, *, unit: Unit | None, chord: float) -> list[Drawn]:
    """Every piece that the drawing shows, in its order; OutlineError where it cannot be read."""
    check_dxf(data)
    document = _document(data)
    reading = _Reading(_unit(document, unit, b"$INSUNITS" in data), chord, _hidden_layers(document))
    return [piece for entity in document.modelspace() for piece in reading.pieces(entity, None)]


def _document(data: bytes) -> "Document":
    import_ezdxf()
    from ezdxf.filemanagement import dxf_stream_info, read

    log = logging.getLogger("ezdxf")  # which tells the terminal of what it mends
    level = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        ascii_text = io.StringIO(data.decode("ascii", "replace").replace("\r\n", "\n"))
        text = data.decode(dxf_stream_info(ascii_text).encoding, "replace")
        return read(io.StringIO(text.replace("\r\n", "\n")))
    except Exception:  # ezdxf meets a damaged file with whatever error comes first
        refuse("is not a valid DXF drawing (save it anew from your drawing program)")
    finally:
        log.setLevel(level)


def _unit(document: "Document", given: Unit | None, said: bool) -> float:
    """mm in the file's unit; OutlineError where nobody says it, or file and job say different ones."""
    code = document.header.get("$INSUNITS", 0) if said else 0  # ezdxf takes metres where there is no header at all
    if not code:
        if given is None:
            refuse(f"does not say its unit ({GIVE_UNITS})")
        return _GIVEN[given]
    if code not in MM:
        refuse(f"has a unit that no workshop uses, $INSUNITS {code} (set mm or inches in your drawing program)")
    if given is not None and _GIVEN[given] != MM[code]:
        refuse(f"says itself that it is in {_NAMES[code]} ({LEAVE_UNITS}, or set the unit in your drawing program)")
    return MM[code]


def said_unit(data: bytes) -> str | None:
    """The name of the unit that a DXF text says it is in; None where it says none."""
    found = _CODE.search(data)
    return _NAMES.get(int(found[1])) if found else None


def _hidden_layers(document: "Document") -> frozenset[str]:
    hidden = {layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()}
    return frozenset(hidden | {"defpoints"})  # what is on this one is never printed


def _said(entity: Any, key: str, default: Any) -> Any:
    """An attribute, or what stands for it where a kind that nobody knows has none."""
    try:
        return entity.dxf.get(key, default)
    except Exception:  # as in `_document`
        return default


def _plain(name: object) -> str:
    """A kind or handle as it may stand in a line: short, without control characters."""
    return quoted(str(name))[1:-1]


@dataclass(frozen=True)
class _Reading:
    """How entities become pieces."""

    unit: float
    chord: float
    hidden: frozenset[str]
    effort: Effort = field(default_factory=Effort)

    def pieces(self, entity: Any, block: Any) -> Iterator[Drawn]:
        """The pieces of an entity, one from a block named and selected as the block's insertion."""
        kind, layer = entity.dxftype(), _said(entity, "layer", "0")
        if block is not None and layer == "0":  # what lies on layer 0 of a block is on the insertion's layer
            layer = _said(block, "layer", "0")
        if layer.lower() in self.hidden or _said(entity, "invisible", 0) or kind in _PASSED_OVER:
            return
        if kind == "INSERT":
            yield from self._inserted(entity, block or entity)
            return
        handle = _said(block or entity, "handle", "")
        which = f"of block {_plain(handle)}" if block is not None else _plain(handle)
        name = f"{_plain(kind)} {which} on layer {quoted(layer)}"
        groups = (layer,) if block is None else (layer, _said(block, "layer", "0"))
        yield from self._drawn(entity, kind, Drawn(name, handle, groups, (), False))

    def _inserted(self, entity: Any, outer: Any) -> Iterator[Drawn]:
        """A block's content, as often as it is put in, scaled and turned by ezdxf."""
        try:
            copies = entity.multi_insert() if entity.mcount > 1 else (entity,)
            inside = [inner for one in copies for inner in one.virtual_entities()]
        except Exception:  # as in `_document`
            refuse(f"block {quoted(entity.dxf.get('name', ''))} cannot be taken apart (explode it)")
        for inner in inside:
            yield from self.pieces(inner, outer)

    def _drawn(self, entity: Any, kind: str, empty: Drawn) -> Iterator[Drawn]:
        try:
            if kind not in READERS:
                refuse(f"is a {_plain(kind)}, which is not read (explode it into lines, arcs or a polyline)")
            run = READERS[kind](entity, self.unit, self.chord)
            segments = segments_of(run.parts, self.chord, self.effort)
            if not are_finite(segments):
                refuse("has a number that is none (draw it anew)")
        except Exception as error:  # as in `_document`
            said = error.sentences[0] if isinstance(error, OutlineError) else "is damaged (draw it anew)"
            yield Drawn(empty.name, empty.ident, empty.groups, (), False, f"{empty.name}: {said}")
            return
        if segments:
            yield Drawn(empty.name, empty.ident, empty.groups, segments, run.closed)
