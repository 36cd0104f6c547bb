"""Reads an SVG drawing: every visible shape as drawn pieces, in mm from the page's upper left corner, y down.

Text, pictures and what is only defined (clip paths, markers, symbols) draw no contour and are passed over.
What would change a shape in a way that is not followed here is a fault of that shape.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from jigtemplates.errors import quoted
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.drawn import Drawn, Effort, are_finite, segments_of
from jigtemplates.imports.svg_shapes import READERS
from jigtemplates.imports.svg_transform import transform
from jigtemplates.imports.svg_units import page_map
from jigtemplates.imports.svg_xml import DEEPEST, Element, read_xml
from jigtemplates.imports.trouble import OutlineError, refuse
from jigtemplates.lengths import Unit

#: Most shapes, copies by <use> counted (chosen: beyond any outline, drawn in seconds).
MOST_SHAPES = 20_000

#: What is said of coordinates beyond all numbers.
NO_NUMBER = "has a number that is none (draw it anew)"

_GROUPS = ("g", "a", "switch")
_FOLLOWED = re.compile(r"(?:^|;)\s*(transform|clip-path|mask)\s*:\s*(?!none)")


def read_svg(data: bytes, *, unit: Unit | None, chord: float) -> list[Drawn]:
    """Every piece that the drawing shows, in its order; OutlineError where it cannot be read."""
    root = read_xml(data)
    walk = _Walk(chord, page_map(root, unit), _by_id(root))
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


class _TooMuchError(OutlineError):
    """The drawing as a whole is refused, not one shape in it."""


@dataclass
class _Walk:
    """Goes through the tree as a drawing program shows it."""

    chord: float
    page: Affine
    by_id: dict[str, Element]
    count: int = 0
    numbers: dict[str, int] = field(default_factory=dict)
    effort: Effort = field(default_factory=Effort)

    def pieces(self, root: Element) -> Iterator[Drawn]:
        """All pieces of the drawing."""
        place = self.page.after(transform(root.attributes.get("transform")))
        for child in root.children:
            yield from self._element(child, place, (), 0)

    def _element(self, element: Element, place: Affine, groups: tuple[str, ...], depth: int) -> Iterator[Drawn]:
        if element.hidden or element.attributes.get("visibility") == "hidden":
            return
        if element.tag not in (*READERS, *_GROUPS, "use", "svg"):
            return
        self.count += 1
        if self.count > MOST_SHAPES:
            raise _TooMuchError(f"draws more than {MOST_SHAPES} shapes (keep only the outline in the drawing)")
        if depth > DEEPEST:
            raise _TooMuchError(f"copies within copies, more than {DEEPEST} deep (unlink them in your drawing program)")
        name = self._name(element)
        try:
            yield from self._followed(element, name, place, groups, depth)
        except _TooMuchError:
            raise
        except OutlineError as trouble:
            yield from (Drawn(name, element.ident, groups, (), False, f"{name}: {s}") for s in trouble.sentences)
        except (ValueError, ArithmeticError):
            yield Drawn(name, element.ident, groups, (), False, f"{name}: {NO_NUMBER}")

    def _followed(
        self, element: Element, name: str, place: Affine, groups: tuple[str, ...], depth: int
    ) -> Iterator[Drawn]:
        _refuse_unfollowed(element)
        place = place.after(transform(element.attributes.get("transform")))
        if element.tag in READERS:
            yield from self._shape(element, name, place, groups)
            return
        groups = (*groups, *element.groups)
        if element.tag == "use":
            target, place = self._used(element, place)
            yield from self._element(target, place, groups, depth + 1)
        else:
            for child in element.children:
                yield from self._element(child, place, groups, depth + 1)

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


def _refuse_unfollowed(element: Element) -> None:
    """What a shape may have that would change its contour."""
    styled = _FOLLOWED.search(element.attributes.get("style", ""))
    if styled and styled[1] == "transform":
        refuse("is transformed by its style (apply the transform in your drawing program)")
    if styled or any(element.attributes.get(key, "none") != "none" for key in ("clip-path", "mask")):
        refuse("is clipped or masked (release the clip, and draw the contour that is left)")
    if element.tag == "svg":
        refuse("is a drawing within the drawing (ungroup it)")
