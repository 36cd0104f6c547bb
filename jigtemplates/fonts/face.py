"""A face of reportlab's that remembers the subsets it has been embedded with.

A subset has all of ASCII, then the other characters in the order a document needs them: the papers of one job, and
of most jobs, need the same. Cutting the subset out of the font's file, packing it and writing its widths takes longer
than most pages do; the bytes are those that reportlab writes.
"""

from functools import lru_cache
from typing import Any, NamedTuple

from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.ttfonts import SUBSETN, TTFont, makeToUnicodeCMap


class Written(pdfdoc.PDFObject):  # type: ignore[misc]  # reportlab is untyped
    """A part of one document, whose bytes are known."""

    def __init__(self, data: bytes) -> None:
        self.data = data

    def format(self, _document: Any) -> bytes:
        """The bytes."""
        return self.data


class Subset(NamedTuple):
    """What a document says of some characters of a face."""

    #: in thousandths of the em, an array
    widths: bytes
    #: which characters the codes are, a stream
    characters: bytes
    #: the font's own file, a stream
    file: bytes


class Face(TTFont):  # type: ignore[misc]
    """A TTFont; nothing but the time it takes to end a document is different."""

    def addObjects(self, document: Any) -> None:  # noqa: N802  # reportlab's name
        """Put the subsets that the document uses into it."""
        state = self.state[document]
        state.frozen = 1
        for number, codes in enumerate(state.subsets):
            name = self.getSubsetInternalName(number, document)[1:]
            document.idToObject["BasicFonts"].dict[name] = self._font(document, number, tuple(codes), name)
        del self.state[document]

    def _font(self, document: Any, number: int, codes: tuple[int, ...], name: str) -> Any:
        base = b"".join((SUBSETN(number), b"+", self.face.name, self.face.subfontNameX)).decode("pdfdoc")
        subset = _subset(self, base, codes)
        font = pdfdoc.PDFTrueTypeFont()
        font.Name, font.BaseFont = name, base
        font.FirstChar, font.LastChar = 0, len(codes) - 1
        font.Widths = Written(subset.widths)
        font.ToUnicode = document.Reference(Written(subset.characters), "toUnicodeCMap:" + base)
        font.FontDescriptor = self._descriptor(document, base, Written(subset.file))
        document.Reference(font, name)
        return font

    def _descriptor(self, document: Any, base: str, file: Written) -> Any:
        """The subset's measures, as `TTFontFile.addSubsetObjects` writes them."""
        face = self.face
        about = {
            "Type": "/FontDescriptor",
            "Ascent": face.ascent,
            "CapHeight": face.capHeight,
            "Descent": face.descent,
            "Flags": face.flags & ~_NONSYMBOLIC | _SYMBOLIC,
            "FontBBox": pdfdoc.PDFArray(face.bbox),
            "FontName": pdfdoc.PDFName(base),
            "ItalicAngle": face.italicAngle,
            "StemV": face.stemV,
            "FontFile2": document.Reference(file, f"fontFile:{face.filename}({base})"),
            "MissingWidth": face.defaultWidth,
        }
        return document.Reference(pdfdoc.PDFDictionary(about), "fontDescriptor:" + base)


#: Flags of a font descriptor (ISO 32000-1, table 123): its characters are its own, or the standard Latin ones.
_SYMBOLIC, _NONSYMBOLIC = 1 << 2, 1 << 5


@lru_cache(maxsize=32)
def _subset(font: Face, base: str, codes: tuple[int, ...]) -> Subset:
    """Packed and written out; `base` is the name of the subset."""
    widths = pdfdoc.PDFArray([font.face.getCharWidth(code) for code in codes])
    data = font.face.makeSubset(list(codes))
    file = _stream(data, {"Length1": len(data)})
    return Subset(widths.format(_NO_DOCUMENT), _stream(makeToUnicodeCMap(base, codes), {}), file)


def _stream(content: str | bytes, about: dict[str, int]) -> bytes:
    stream = pdfdoc.PDFStream(pdfdoc.PDFDictionary(about), content, [pdfdoc.PDFZCompress])
    data: bytes = stream.format(_NO_DOCUMENT)
    return data


#: What reportlab asks of a document to write numbers and streams: that it encrypts nothing.
_NO_DOCUMENT = pdfdoc.DummyDoc()
