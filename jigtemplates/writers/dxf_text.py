"""A DXF file about its entities, as text that ezdxf has written once.

The files of many jobs differ in their size and their entities only; ezdxf makes some hundred objects for each file
and asks every one of them for every attribute it might have. So it writes one file for each set of layers, with one
entity of each kind and numbers that are unlike any other, and what stands about those numbers is kept: the bytes are
those that ezdxf itself would write.
"""

import io
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

#: Stands for the upper right of the box and the drawing's size, in any unit: larger than any drawing (chosen).
SIZES = (70001.5, 70002.5, 70003.5, 70004.5)
#: The first handle of the pattern's entities: larger than ezdxf gives to anything before (chosen).
_HANDLES = 0xF00000
_LAYER = "LAYER-OF-THE-PATTERN"
#: Numbers of the pattern's entities.
_A, _B, _C, _D, _E, _F = (80001.5 + i for i in range(6))
#: The kinds of entity, in the pattern's order.
_LINE, _CIRCLE, _ARC, _CLOSED, _OPEN = range(5)
_HANDLE_LINE = re.compile(r"(?<=\n)F[0-9A-F]{5}(?=\n)")


@dataclass(frozen=True, slots=True)
class Form:
    """What ezdxf writes about the entities, and each kind of entity, with %s where it differs."""

    before: str
    #: entities by kind: handle and layer first
    kinds: tuple[str, ...]
    after: str
    #: handle of the first entity
    first: int
    #: how many handles are given to what comes into being when the file is written, and one that is free
    late: int

    def text(self, entities: "Entities", size: Iterable[float]) -> str:
        """The file: size are the box's upper right and the drawing's width and height, in the file's unit."""
        free = entities.next
        names = {f"late{i}": f"{free + i:X}" for i in range(self.late)}
        names |= {f"size{i}": str(number) for i, number in enumerate(size)}
        return "".join([self.before % names, *entities.texts, self.after % names])


@dataclass(slots=True)
class Entities:
    """Model space as text; places and sizes are in the file's unit, and as they are to be written."""

    form: Form
    next: int
    texts: list[str] = field(default_factory=list)

    def add_line(self, a: tuple[float, float], b: tuple[float, float], look: dict[str, Any]) -> None:
        """A LINE."""
        self._add(_LINE, look, *a, *b)

    def add_circle(self, center: tuple[float, float], radius: float, look: dict[str, Any]) -> None:
        """A CIRCLE."""
        self._add(_CIRCLE, look, *center, radius)

    def add_arc(
        self, center: tuple[float, float], radius: float, first: float, last: float, _ccw: bool, look: dict[str, Any]
    ) -> None:
        """An ARC from one angle counter-clockwise to another, degrees."""
        self._add(_ARC, look, *center, radius, first, last)

    def add_corners(self, count: int, corners: str, look: dict[str, Any], *, close: bool) -> None:
        """An LWPOLYLINE; the corners are text already."""
        self._add(_CLOSED if close else _OPEN, look, count, corners)

    def _add(self, kind: int, look: dict[str, Any], *values: object) -> None:
        self.texts.append(self.form.kinds[kind] % (f"{self.next:X}", look["layer"], *values))
        self.next += 1


def corners_text(places: Iterable[tuple[float, float, float]]) -> str:
    """The corners of an LWPOLYLINE: x, y and, of an arc, the bulge."""
    return "".join(
        [
            f" 10\n{x}\n 20\n{y}\n 42\n{bulge}\n" if bulge else f" 10\n{x}\n 20\n{y}\n"
            for x, y, bulge in places
        ]
    )  # fmt: skip


def form_of(document: "Document") -> Form:
    """The form of a document without entities, whose box and size are SIZES; the document is used up by it."""
    first = int(str(document.entitydb.handles), 16)
    document.entitydb.handles.reset(f"{_HANDLES:X}")
    _fill(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    before, _, rest = stream.getvalue().replace("%", "%%").partition("\nENTITIES\n")
    inside, _, after = rest.partition("  0\nENDSEC\n")
    before, after = f"{before}\nENTITIES\n", f"  0\nENDSEC\n{after}"
    before, after = _named(before), _named(after)
    late = int(str(document.entitydb.handles), 16) - _HANDLES - _OPEN
    return Form(before, _kinds(inside), after, first, late)


def _fill(space: Any) -> None:
    """One entity of each kind."""
    look = {"layer": _LAYER}
    space.add_line((_A, _B), (_C, _D), look)
    space.add_circle((_A, _B), _C, look)
    space.add_arc((_A, _B), _C, _D, _E, True, look)
    for close in (True, False):
        space.add_lwpolyline([(_A, _B, _C)], "xyb", close=close, dxfattribs=look)


def _kinds(inside: str) -> tuple[str, ...]:
    """Each entity's text with its places: handle, layer, numbers; of a polyline number of corners and corners."""
    corners = corners_text([(_A, _B, _C)])
    texts = [f"  0\n{text}" for text in re.split(r"(?:^|(?<=\n))  0\n", inside)[1:]]
    return tuple(_open(text.replace(" 90\n1\n", " 90\n%s\n").replace(corners, "%s")) for text in texts)


def _open(text: str) -> str:
    text = _HANDLE_LINE.sub("%s", text, count=1).replace(f"\n{_LAYER}\n", "\n%s\n")
    return re.sub(r"(?<=\n)8000\d\.5(?=\n)", "%s", text)


def _named(text: str) -> str:
    """With a name for each size, and for each handle that depends on the number of entities."""
    for i, number in enumerate(SIZES):
        text = text.replace(f"\n{number}\n", f"\n%(size{i})s\n")
    return _HANDLE_LINE.sub(lambda found: f"%(late{_place(found[0])})s", text)


def _place(handle: str) -> int:
    """Of a handle among those given after the entities of the pattern."""
    return int(handle, 16) - _HANDLES - (_OPEN + 1)
