"""Reads an SVG drawing: every visible shape as drawn pieces, in mm from the page's upper left corner, y down.

Text, pictures and what is only defined (clip paths, markers, symbols) draw no contour and are passed over.
What display and visibility hide is not seen, whether an attribute says so, a style or a style sheet (`svg_style`;
which rules of a sheet are followed says `svg_css`). Opacity, and lines and fills without colour, hide nothing.
What would change a shape in a way that is not followed here is a fault of that shape.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from jigtemplates.errors import quoted
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.drawn import Drawn, Effort, are_finite, segments_of
from jigtemplates.imports.svg_shapes import READERS
from jigtemplates.imports.svg_style import Look, Styles, refuse_unfollowed
from jigtemplates.imports.svg_transform import transform
from jigtemplates.imports.svg_units import page_map
from jigtemplates.imports.svg_xml import DEEPEST, MOST_ELEMENTS, Element, read_xml
from jigtemplates.imports.trouble import OutlineError, TooMuchError, refuse
from jigtemplates.lengths import Unit

#: Most shapes, copies by <use> counted (chosen: beyond any outline, drawn in seconds).
MOST_SHAPES = 20_000

#: What is said of coordinates beyond all numbers.
NO_NUMBER = "has a number that is none (draw it anew)"

_GROUPS = ("g", "a", "switch")
_DRAWN = frozenset((*READERS, *_GROUPS, "use", "svg"))


def read_svg(data: bytes, *, unit: Unit | None, chord: float) -> list[Drawn]:
    """Every piece that the drawing shows, in its order; OutlineError where it cannot be read."""
    root, sheets = read_xml(data)
    walk = _Walk(chord, page_map(root, unit), _by_id(root), Styles.of(sheets))
    return list(walk.pieces(root))


def _by_id(root: Element) -> dict[str, Element]:
    found: dict[str, Element] = {}
    waiting = [root]
    while waiting:
        element = waiting.pop()
        if element.ident:
            found.setdefault(element.ident, element)
        waiting.extend(reversed(element.children))
    return found


class _Around(NamedTuple):
    """What an element is in."""

    place: Affine
    #: layers and groups
    groups: tuple[str, ...] = ()
    visible: bool = True


@dataclass
class _Walk:
    """Goes through the tree as a drawing program shows it."""

    chord: float
    page: Affine
    by_id: dict[str, Element]
    styles: Styles
    count: int = 0
    met: int = 0
    numbers: dict[str, int] = field(default_factory=dict)
    effort: Effort = field(default_factory=Effort)

    def pieces(self, root: Element) -> Iterator[Drawn]:
        """All pieces of the drawing."""
        try:
            look = self.styles.look(root)
            refuse_unfollowed(root, look)
        except TooMuchError:
            raise
        except OutlineError as trouble:
            name = f"svg {quoted(root.ident)}" if root.ident else "svg"
            raise OutlineError(f"{name}: {sentence}" for sentence in trouble.sentences) from None
        if look.shown:
            place = self.page.after(transform(root.attributes.get("transform")))
            for child in root.children:
                yield from self._element(child, _Around(place, (), look.visible is not False), 0)

    def _element(self, element: Element, around: _Around, depth: int) -> Iterator[Drawn]:
        self.met += 1
        if self.met > MOST_ELEMENTS:  # such that draw nothing too, copied again and again
            raise TooMuchError(f"copies more than {MOST_ELEMENTS} elements (keep only the outline in the drawing)")
        if element.tag not in _DRAWN:
            return
        try:
            look = self.styles.look(element)
        except TooMuchError:
            raise
        except OutlineError as trouble:
            yield from _faults(element, self._name(element), around, trouble.sentences)
            return
        around = around._replace(visible=around.visible if look.visible is None else look.visible)
        if look.shown and (around.visible or element.tag not in READERS):
            yield from self._seen(element, look, around, depth)

    def _seen(self, element: Element, look: Look, around: _Around, depth: int) -> Iterator[Drawn]:
        self.count += 1
        if self.count > MOST_SHAPES:
            raise TooMuchError(f"draws more than {MOST_SHAPES} shapes (keep only the outline in the drawing)")
        if depth > DEEPEST:
            raise TooMuchError(f"copies within copies, more than {DEEPEST} deep (unlink them in your drawing program)")
        name = self._name(element)
        try:
            refuse_unfollowed(element, look)
            if element.tag == "svg":
                refuse("is a drawing within the drawing (ungroup it)")
            yield from self._followed(element, name, around, depth)
        except TooMuchError:
            raise
        except OutlineError as trouble:
            yield from _faults(element, name, around, trouble.sentences)
        except (ValueError, ArithmeticError):
            yield from _faults(element, name, around, (NO_NUMBER,))

    def _followed(self, element: Element, name: str, around: _Around, depth: int) -> Iterator[Drawn]:
        place = around.place.after(transform(element.attributes.get("transform")))
        if element.tag in READERS:
            yield from self._shape(element, name, place, around.groups)
            return
        groups = (*around.groups, *element.groups)
        if element.tag == "use":
            target, place = self._used(element, place)
            yield from self._element(target, _Around(place, groups, around.visible), depth + 1)
        else:
            for child in element.children:
                yield from self._element(child, _Around(place, groups, around.visible), depth + 1)

    def _shape(self, element: Element, name: str, place: Affine, groups: tuple[str, ...]) -> Iterator[Drawn]:
        for run in READERS[element.tag](element, place, self.chord):
            segments = segments_of(run.parts, self.chord, self.effort)
            if not are_finite(segments):
                refuse(NO_NUMBER)
            if segments:
                yield Drawn(name, element.ident, groups, segments, run.closed)

    def _used(self, element: Element, place: Affine) -> tuple[Element, Affine]:
        link = element.attributes.get("href", "").strip()
        target = self.by_id.get(link.removeprefix("#"))
        if target is None:
            refuse(f"uses {quoted(link)}, which is not in the file (unlink the copy in your drawing program)")
        if target.tag in ("symbol", "svg"):
            refuse(f"uses the symbol {quoted(link)} (unlink the copy in your drawing program)")
        shift = [transform(f"translate({element.attributes.get(k) or 0})").e for k in ("x", "y")]
        return target, place.after(Affine(e=shift[0], f=shift[1]))

    def _name(self, element: Element) -> str:
        if element.ident:
            return f"{element.tag} {quoted(element.ident)}"
        self.numbers[element.tag] = self.numbers.get(element.tag, 0) + 1
        return f"{element.tag} number {self.numbers[element.tag]}"


def _faults(element: Element, name: str, around: _Around, sentences: Sequence[str]) -> Iterator[Drawn]:
    """Pieces that stand for what is wrong with an element."""
    for sentence in sentences:
        yield Drawn(name, element.ident, around.groups, (), False, f"{name}: {sentence}")
