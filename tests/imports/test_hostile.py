"""Drawings made to cost time or memory, or to reach out of the file, are one line."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.geometry.outline import Region
from jigtemplates.imports import contours, dxf_guard, svg_file, svg_xml

Faults = Callable[..., tuple[str, ...]]
Bytes = Callable[..., bytes]

LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha">'
    + "".join(
        f'<!ENTITY a{i} "{"&a" + (str(i - 1) if i else "") + ";"}{"&a" + (str(i - 1) if i else "") + ";"}">'
        for i in range(40)
    )
    + ']><svg xmlns="http://www.w3.org/2000/svg"><title>&a39;</title></svg>'
)
INVALID = "is not a valid DXF drawing (save it anew from your drawing program)"
TYPE = "has a document type of its own (delete <!DOCTYPE …>, or save it as plain SVG)"
TEXT = "is not UTF-8 text (save the drawing as plain SVG)"


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (LAUGHS.encode(), f"line 1: {TYPE}"),
        (b'<!DOCTYPE svg SYSTEM "file:///etc/passwd"><svg/>', f"line 1: {TYPE}"),
        (b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x" [<!ENTITY a "b">]><svg/>', f"line 1: {TYPE}"),
        (LAUGHS.encode("utf-16"), TEXT),
        (b'<?xml version="1.0" encoding="utf-7"?><svg/>', TEXT),
        (b"<svg>\xff</svg>", TEXT),
        (b"<svg>\0</svg>", TEXT),
        (b"<svg>", "line 1: is not valid XML (save it anew from your drawing program)"),
        (b"\n<svg>&x;</svg>", "line 2: is not valid XML (save it anew from your drawing program)"),
        (b"not xml", "line 1: is not valid XML (save it anew from your drawing program)"),
        (b"<html/>", "is not an SVG drawing (its first element is not <svg>)"),
        (b'<svg xmlns="urn:other"/>', "is not an SVG drawing (its first element is not <svg>)"),
        (
            b'<?xml-stylesheet href="http://x"?><svg/>',
            "line 1: refers to another file (save it as plain SVG, with nothing linked)",
        ),
        (
            b'<svg xmlns="http://www.w3.org/2000/svg"><use href="http://x/y.svg#a"/></svg>',
            'line 1: refers to another file, "http://x/y.svg#a" (put what it shows into the drawing)',
        ),
        (
            b'<svg xmlns:l="http://www.w3.org/1999/xlink">\n<image l:href="file:///etc/passwd"/></svg>',
            'line 2: refers to another file, "file:///etc/passwd" (put what it shows into the drawing)',
        ),
    ],
)
def test_hostile_svg(faults: Faults, data: bytes, line: str) -> None:
    """Entities, document types, other encodings, broken XML and references out of the file are refused unread."""
    assert faults(data) == (f"leaf.svg: {line}",)


def test_deep_nesting(faults: Faults, as_svg: Bytes) -> None:
    """A hundred thousand groups in one another stop at the hundredth."""
    assert faults(as_svg("<g>" * 100_000)) == (
        "leaf.svg: line 1: elements are nested more than 100 deep (ungroup them)",
    )


def test_many_elements(faults: Faults, as_svg: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drawing of more elements than the limit is refused while it is read."""
    monkeypatch.setattr(svg_xml, "MOST_ELEMENTS", 1000)
    assert faults(as_svg("<g/>" * 1000)) == (
        "leaf.svg: holds more than 1000 elements (keep only the outline in the drawing)",
    )


def test_copies_that_double(faults: Faults, as_svg: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty groups that each use the one before twice would draw 2^30 circles; they are counted out."""
    monkeypatch.setattr(svg_file, "MOST_SHAPES", 2000)
    groups = '<circle id="g0" r="4"/>' + "".join(
        f'<g id="g{i}"><use href="#g{i - 1}"/><use href="#g{i - 1}" x="1"/></g>' for i in range(1, 31)
    )
    assert faults(as_svg(f'<defs>{groups}</defs><use href="#g30"/>')) == (
        "leaf.svg: draws more than 2000 shapes (keep only the outline in the drawing)",
    )


def test_copies_of_themselves(faults: Faults, as_svg: Bytes) -> None:
    """A group that uses itself is no endless loop."""
    (line,) = faults(as_svg('<g id="x"><use href="#x"/></g>'))
    assert line == "leaf.svg: copies within copies, more than 100 deep (unlink them in your drawing program)"


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"Some Program Binary DXF\r\n\x1a\x00\x00\x00SECTION", "is a binary DXF (save it as text, ASCII, DXF)"),
        (b"AC1032\x00\x00", "is a drawing in its program's own format (save it as DXF)"),
        (b"0\nSECTION\n\x00", "is not a DXF text (save it as text, ASCII, DXF)"),
        (b"hello\nworld\n", "is not a DXF drawing (it does not begin with a section)"),
        (
            b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n",
            "is not a valid DXF drawing (save it anew from your drawing program)",
        ),
        (b"0\nSECTION\n2\n", "is not a valid DXF drawing (save it anew from your drawing program)"),
    ],
)
def test_hostile_dxf(faults: Faults, data: bytes, line: str) -> None:
    """Compiled, broken and foreign bytes are refused in one line."""
    assert faults(data, "b.dxf") == (f"b.dxf: {line}",)


def nested(space: Any, times: int, deep: int) -> None:
    """Blocks that each put in the one before several times."""
    held = space.doc.blocks.new("B0")
    held.add_circle((0, 0), 4)
    for i in range(1, deep + 1):
        block = space.doc.blocks.new(f"B{i}")
        for k in range(times):
            block.add_blockref(f"B{i - 1}", (k, 0))
    space.add_blockref(f"B{deep}", (0, 0))


def test_blocks_that_multiply(faults: Faults, as_dxf: Bytes) -> None:
    """Ten blocks in each of ten would draw 10^10 circles; they are counted out unread."""
    (line,) = faults(as_dxf(lambda s: nested(s, 10, 10)), "b.dxf")
    assert line == 'b.dxf: block "B5" draws 211110 entities, blocks taken apart (at most 200000)'


def test_blocks_too_deep(faults: Faults, as_dxf: Bytes) -> None:
    """Thirty blocks in one another are no drawing."""
    assert faults(as_dxf(lambda s: nested(s, 1, 30)), "b.dxf") == (
        "b.dxf: blocks within blocks, more than 20 deep (take the blocks apart)",
    )


def test_blocks_in_rows(faults: Faults, as_dxf: Bytes) -> None:
    """A block put in 1000 by 1000 times is counted as that."""

    def draw(space: Any) -> None:
        space.doc.blocks.new("B").add_circle((0, 0), 4)
        space.add_blockref("B", (0, 0), dxfattribs={"row_count": 1000, "column_count": 1000})

    (line,) = faults(as_dxf(draw), "b.dxf")
    assert line == "b.dxf: it draws 1000001 entities, blocks taken apart (at most 200000)"


def test_a_block_in_itself(faults: Faults, as_dxf: Bytes) -> None:
    """A block that puts itself in is no endless loop."""

    def draw(space: Any) -> None:
        space.doc.blocks.new("B").add_blockref("B", (0, 0))
        space.add_blockref("B", (0, 0))

    assert "blocks within blocks" in faults(as_dxf(draw), "b.dxf")[0]


def test_many_entities(faults: Faults, as_dxf: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """More entities than the limit are refused before ezdxf sees them."""
    monkeypatch.setattr(dxf_guard, "MOST_ENTITIES", 50)

    def draw(space: Any) -> None:
        for i in range(51):
            space.add_line((i, 0), (i + 1, 0))

    assert faults(as_dxf(draw), "b.dxf") == (
        "b.dxf: draws more than 50 entities (keep only the outline in the drawing)",
    )


@pytest.mark.parametrize(
    "body",
    [
        '<circle r="1e308" cx="1e308"/>',
        '<path d="M0 0 C1e11 0 3 4 5 6 Z" transform="scale(1e200) scale(1e200)"/>',
        '<g transform="scale(1e300)"><rect width="1e300" height="9" rx="3"/></g>',
    ],
)
def test_numbers_beyond_all_numbers(faults: Faults, as_svg: Bytes, body: str) -> None:
    """What overflows is refused by the shape's name, whether as no number or as too far away."""
    (line,) = faults(as_svg(body))
    assert " number 1: has a number that is none" in line or "too large" in line or "from the origin" in line


def test_entities_that_nobody_knows(faults: Faults, as_dxf: Bytes, caplog: pytest.LogCaptureFixture) -> None:
    """An entity of an unknown kind is named, and ezdxf says nothing to the terminal of what it mends."""
    data = as_dxf(lambda s: s.add_circle((0, 0), 5)).replace(b"CIRCLE", b"CIRKEL")
    (line,) = faults(data, "b.dxf")
    assert line.endswith(": is a CIRKEL, which is not read (explode it into lines, arcs or a polyline)")
    assert caplog.records == []


def test_damaged_files_are_lines_and_nothing_else(as_svg: Bytes, as_dxf: Bytes) -> None:
    """Six hundred drawings with bytes lost, doubled or exchanged are read or refused, never an error of ours."""
    import random

    from jigtemplates.errors import InputError
    from jigtemplates.imports.outline_file import outline_of

    curved = '<path id="a" d="M0 0 C9 20 30 9 40 0 A9 9 0 0 1 40 9 Q 9 40 0 9Z" transform="rotate(9)"/>'
    sources = [(as_svg(curved), "a.svg"), (as_dxf(lambda s: s.add_circle((0, 0), 5), version="R12"), "a.dxf")]
    draw, lines, refused = random.Random(4), list[str](), 0
    for _ in range(600):
        data, name = draw.choice(sources)
        damaged = bytearray(data)
        for _ in range(draw.randint(1, 3)):
            at, other = draw.randrange(len(damaged)), draw.randrange(len(damaged))
            damaged[at : at + draw.randint(0, 9)] = damaged[other : other + draw.randint(0, 9)]
        try:
            outline_of(bytes(damaged), name, unit="mm" if name == "a.dxf" else None)
        except InputError as error:
            refused += 1
            lines.extend(error.lines)
    assert refused > 100
    assert all(line.startswith(("a.svg: ", "a.dxf: ")) and "\n" not in line for line in lines)


def test_more_edge_than_any_cut_has(svg: Callable[..., Region], monkeypatch: pytest.MonkeyPatch) -> None:
    """The edges of all contours together count, in the size they are drawn in."""
    monkeypatch.setattr(contours, "LONGEST", 0.4)
    body = '<rect width="90" height="60"/><rect x="10" y="10" width="30" height="20"/>'
    assert len(svg(body).holes) == 1
    sentence = r"leaf\.svg: rect number 1: the outline's edge is 0\.44 m long \(at most 0\.4 m; draw it simpler, with "
    with pytest.raises(InputError, match=sentence):
        svg(body, scale=1.1)
