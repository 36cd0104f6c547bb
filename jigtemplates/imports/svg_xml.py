"""Looks at an SVG's bytes and makes a plain tree of them, before anything of it can cost time or memory.

Refused: a document type of its own, entities, a nesting or a number of elements beyond any drawing, references
to other files. The one document type that may stand there is that of the published SVG standards, which
older programs write; it is taken out unread.
"""

import re
from dataclasses import dataclass, field
from typing import NamedTuple
from xml.parsers import expat

from jigtemplates.errors import quoted
from jigtemplates.imports.svg_css import Sheet
from jigtemplates.imports.trouble import refuse

#: Deepest nesting of elements, and most of them (chosen: far beyond drawn outlines, read in a second).
DEEPEST, MOST_ELEMENTS = 100, 200_000

_SVG, _XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
_XHTML = "http://www.w3.org/1999/xhtml"  # whose <style> counts for the whole file as well
_LABEL = "label"  # a layer's name, in whatever namespace a drawing program keeps it
# The document types of SVG 1.0 and 1.1 (W3C recommendations, "Document Type Definition").
_PUBLISHED = re.compile(rb'<!DOCTYPE\s+svg\s+PUBLIC\s+"-//W3C//DTD SVG 1\.[01][^"<>\[\]]*//EN"\s+"[^"<>\[\]]*"\s*>')
_DECLARED = re.compile(rb"""<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']""")


@dataclass
class Element:
    """An element of the SVG namespace, with the attributes that have none."""

    tag: str
    attributes: dict[str, str]
    children: list["Element"] = field(default_factory=list)

    @property
    def ident(self) -> str | None:
        """Its id."""
        return self.attributes.get("id") or None

    @property
    def groups(self) -> tuple[str, ...]:
        """The names by which its content can be selected: its id, and a layer's label."""
        names = (self.attributes.get("id"), self.attributes.get(_LABEL))
        return tuple(name for name in names if name)


class Document(NamedTuple):
    """What an SVG file holds."""

    root: Element
    #: its style sheets, in their order, wherever they stand
    sheets: tuple[Sheet, ...]


def read_xml(data: bytes) -> Document:
    """The root <svg> as a tree, and the style sheets; OutlineError on bytes that are no plain SVG."""
    data = _without_doctype(_utf8(data))
    tree = _Tree()
    try:
        tree.parser.Parse(data, True)
    except expat.ExpatError as error:
        refuse(f"line {error.lineno}: is not valid XML (save it anew from your drawing program)")
    if tree.root is None or tree.root.tag != "svg":
        refuse("is not an SVG drawing (its first element is not <svg>)")
    return Document(tree.root, tuple(tree.sheets))


def _utf8(data: bytes) -> bytes:
    declared = _DECLARED.match(data.removeprefix(b"\xef\xbb\xbf").lstrip()[:200])
    name = declared[1].decode("ascii", "replace").lower() if declared else "utf-8"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        refuse("is not UTF-8 text (save the drawing as plain SVG)")
    if b"\0" in data or name not in ("utf-8", "utf8", "us-ascii", "ascii"):
        refuse("is not UTF-8 text (save the drawing as plain SVG)")
    return data


def _without_doctype(data: bytes) -> bytes:
    return _PUBLISHED.sub(lambda found: b"\n" * found[0].count(b"\n"), data, count=1)


class _Tree:
    """Builds the tree, refusing as soon as something is hostile."""

    def __init__(self) -> None:
        self.root: Element | None = None
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.sheets: list[Sheet] = []
        self._open: list[Element] = []
        self._text: list[str] | None = None
        self._count = 0
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.ProcessingInstructionHandler = self._instruction
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._said
        self.parser.buffer_text = True

    def _line(self) -> int:
        return int(self.parser.CurrentLineNumber)

    def _doctype(self, *_: object) -> None:
        refuse(f"line {self._line()}: has a document type of its own (delete <!DOCTYPE …>, or save it as plain SVG)")

    def _instruction(self, target: str, _: str) -> None:
        if target == "xml-stylesheet":
            refuse(f"line {self._line()}: refers to another file (save it as plain SVG, with nothing linked)")

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            refuse(f"holds more than {MOST_ELEMENTS} elements (keep only the outline in the drawing)")
        if len(self._open) >= DEEPEST:
            refuse(f"line {self._line()}: elements are nested more than {DEEPEST} deep (ungroup them)")
        space, _, tag = name.rpartition(" ")
        element = Element(tag if space in ("", _SVG) else "", self._plain(tag, attributes))
        if self._open:
            self._open[-1].children.append(element)
        elif self.root is None:
            self.root = element
        self._open.append(element)
        if tag == "style" and space in ("", _SVG, _XHTML):
            self._sheet(element)

    def _end(self, name: str) -> None:
        self._open.pop()
        if self._text is not None and name.rpartition(" ")[2] == "style":
            self.sheets[-1] = self.sheets[-1]._replace(text="".join(self._text))
            self._text = None

    def _sheet(self, element: Element) -> None:
        """A style sheet begins, where it is one: of another language is nothing that is followed anywhere."""
        if element.attributes.get("type", "").strip().lower() in ("", "text/css"):
            media = element.attributes.get("media", "").strip().lower()
            self.sheets.append(Sheet(self._line(), "", media))
            self._text = []

    def _said(self, text: str) -> None:
        if self._text is not None:
            self._text.append(text)

    def _plain(self, tag: str, attributes: dict[str, str]) -> dict[str, str]:
        found: dict[str, str] = {}
        for name, value in attributes.items():
            space, _, plain = name.rpartition(" ")
            if not space or (plain == "href" and space == _XLINK) or plain == _LABEL:
                found.setdefault(plain, value)
        link = found.get("href", "").strip()
        if link and tag != "a" and not link.startswith(("#", "data:")):
            refuse(f"line {self._line()}: refers to another file, {quoted(link)} (put what it shows into the drawing)")
        return found
