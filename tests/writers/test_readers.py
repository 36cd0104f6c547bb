"""The readers of our own files know what they know and refuse the rest."""

from collections.abc import Mapping

import pytest

from jigtemplates.drawing import Drawing, Pen, Role
from jigtemplates.geometry.outline import Arc, BulgeVertex, Line, Point
from jigtemplates.writers.drawn import Drawn
from jigtemplates.writers.dxf_reader import (
    ArcEntity,
    CircleEntity,
    LineEntity,
    PolylineEntity,
    read_dxf,
)
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.svg import write_svg
from jigtemplates.writers.svg_reader import SvgGroup, read_svg

Pens = Mapping[Role, Pen]

HEAD = "0 SECTION|2 HEADER|9 $EXTMIN|10 0.0|20 1.5|9 $INSUNITS|70 4|0 ENDSEC"
TABLES = "0 SECTION|2 TABLES|0 TABLE|2 LAYER|0 LAYER|2 CUT|70 0|62 5|0 ENDTAB|0 ENDSEC"
EOF = "0 EOF"


def text(*parts: str) -> bytes:
    """A DXF file from "code value" pairs."""
    pairs = [pair.split(" ", 1) for part in parts for pair in part.split("|")]
    return "".join(f"{code}\n{value}\n" for code, value in pairs).encode()


def entities(body: str) -> bytes:
    return text(HEAD, TABLES, f"0 SECTION|2 ENTITIES|{body}|0 ENDSEC", EOF)


def test_header_and_layers() -> None:
    """Header variables come with all their values, layers with their colours."""
    file = read_dxf(entities("0 LINE|8 CUT|10 0|20 0|30 0|11 1|21 2|31 0"))
    assert file.header == {"$EXTMIN": ("0.0", "1.5"), "$INSUNITS": ("4",)}
    assert file.layers == {"CUT": 5}


def test_every_entity() -> None:
    """Each kind of entity from literal group codes."""
    file = read_dxf(
        entities(
            "0 LWPOLYLINE|5 1|100 AcDbPolyline|8 CUT|90 2|70 1|10 0|20 0|42 1|10 4|20 0"
            "|0 POLYLINE|8 CUT|66 1|10 0|20 0|30 0|70 0"
            "|0 VERTEX|8 CUT|10 1|20 2|30 0|70 0|0 VERTEX|8 CUT|10 3|20 4|30 0|42 -0.5|70 0|0 SEQEND|8 CUT"
            "|0 CIRCLE|8 CUT|10 5|20 6|30 0|40 7|0 ARC|8 CUT|10 5|20 6|30 0|40 7|50 90|51 180"
            "|0 LINE|8 CUT|10 1|20 2|30 0|11 3|21 4|31 0"
        )
    )
    assert file.entities == (
        PolylineEntity("LWPOLYLINE", "CUT", True, (BulgeVertex(0, 0, 1), BulgeVertex(4, 0, 0))),
        PolylineEntity("POLYLINE", "CUT", False, (BulgeVertex(1, 2, 0), BulgeVertex(3, 4, -0.5))),
        CircleEntity("CIRCLE", "CUT", Point(5, 6), 7),
        ArcEntity("ARC", "CUT", Point(5, 6), 7, 90, 180),
        LineEntity("LINE", "CUT", Point(1, 2), Point(3, 4)),
    )


VERTEX = "0 VERTEX|8 CUT|10 1|20 2|30 0|70 0"
POLY = "0 POLYLINE|8 CUT|66 1|10 0|20 0|30 0|70 1"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("0 SPLINE|8 CUT", "a forbidden SPLINE"),
        ("0 TEXT|8 CUT|1 hello", "a forbidden TEXT"),
        ("0 LINE|8 CUT|10 0|20 0|30 1|11 1|21 2|31 0", "LINE does not lie in the plane"),
        ("0 LINE|8 CUT|62 1|10 0|20 0|30 0|11 1|21 2|31 0", "LINE with group code 62"),
        ("0 LINE|10 0|20 0|30 0|11 1|21 2|31 0", "LINE has 0 values of group code 8, not 1"),
        ("0 LINE|8 A|8 B|10 0|20 0|30 0|11 1|21 2|31 0", "LINE has 2 values of group code 8, not 1"),
        ("0 CIRCLE|8 CUT|10 0|20 0|30 0|40 nan", '"nan" is not a number'),
        ("0 CIRCLE|8 CUT|10 0|20 0|30 0|40 1,5", '"1,5" is not a number'),
        ("0 CIRCLE|8 CUT|10 0|20 0|30 0|40 1|230 -1", "CIRCLE with group code 230"),
        ("0 LWPOLYLINE|8 CUT|90 2|70 0|10 0|10 1|20 0", "LWPOLYLINE with group code 10 out of turn"),
        ("0 LWPOLYLINE|8 CUT|90 2|70 0|42 1|10 1|20 0", "LWPOLYLINE with group code 42 out of turn"),
        ("0 LWPOLYLINE|8 CUT|90 3|70 0|10 0|20 0|10 1|20 0", "LWPOLYLINE has 2 corners and says 3"),
        ("0 LWPOLYLINE|8 CUT|90 2|70 0|10 0|20 0|10 1", "LWPOLYLINE has 2 corners and says 2"),
        ("0 LWPOLYLINE|8 CUT|90 x|70 0|10 0|20 0|10 1|20 0", '"x" is not a whole number'),
        ("0 LWPOLYLINE|8 CUT|90 1|70 0|10 0|20 0", "LWPOLYLINE with fewer than two corners"),
        ("0 LWPOLYLINE|8 CUT|90 2|70 128|10 0|20 0|10 1|20 0", "LWPOLYLINE with flags 128"),
        (f"{POLY}|{VERTEX}|{VERTEX}", "POLYLINE without SEQEND"),
        (f"{POLY}|{VERTEX}|0 SEQEND|8 CUT", "POLYLINE with fewer than two corners"),
        (f"{POLY}|0 VERTEX|8 X|10 1|20 2|30 0|70 0", "VERTEX on layer X within a POLYLINE"),
        (f"{POLY}|0 VERTEX|8 CUT|10 1|20 2|30 0|70 16", "a VERTEX that is no plain corner"),
        ("8 CUT", "group code 8 outside any entity"),
        ("0 SEQEND|8 CUT", "a forbidden SEQEND"),
    ],
)
def test_entity_refused(body: str, said: str) -> None:
    """An entity that is unknown, incomplete or says too much is refused with its line."""
    with pytest.raises(ReadBackError, match=r"^line \d+: ") as caught:
        read_dxf(entities(body))
    assert str(caught.value).split(": ", 1)[1] == said


def test_the_line_is_the_right_one() -> None:
    """The number in the refusal is that of the group code's line, counted from 1."""
    with pytest.raises(ReadBackError) as caught:
        read_dxf(entities("0 LINE|8 CUT|62 1"))
    # 8 pairs of head, 10 of tables, 2 of the section, 2 of the entity: 44 lines before it
    assert str(caught.value) == "line 45: LINE with group code 62"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (text(HEAD, TABLES, EOF), "no section ENTITIES"),
        (b"  0\nEOF", "the last line is cut off"),
        (b"  0\nEOF\n  9\n", "the last line is cut off"),
        ("  0\nÜ\n".encode(), "a character that is not ASCII"),
        (b"x\nEOF\n", 'line 1: "x" is not a whole number'),
        (text(HEAD), "EOF is not the last of the file"),
        (text(EOF, HEAD), "EOF is not the last of the file"),
        (text("0 SECTION|2 HEADER", EOF), "line 1: section HEADER has no end"),
        (text("0 SECTION|2 THUMBNAILIMAGE|0 ENDSEC", EOF), "line 1: an unexpected section THUMBNAILIMAGE"),
        (text(HEAD, HEAD, EOF), "line 17: an unexpected section HEADER"),
        (text("0 LINE", EOF), 'line 1: "LINE" where a section should begin'),
        (text("0 SECTION"), 'line 1: "SECTION" where a section should begin'),
        (
            text("0 SECTION|2 HEADER|9 $A|70 1|9 $A|70 1|0 ENDSEC", TABLES, "0 SECTION|2 ENTITIES|0 ENDSEC", EOF),
            "line 9: $A stands there twice",
        ),
        (
            text("0 SECTION|2 HEADER|70 1|0 ENDSEC", TABLES, "0 SECTION|2 ENTITIES|0 ENDSEC", EOF),
            "line 5: a value before any header variable",
        ),
        (
            text(HEAD, TABLES, "0 SECTION|2 BLOCKS|0 LINE|8 0|0 ENDSEC|0 SECTION|2 ENTITIES|0 ENDSEC", EOF),
            "line 41: LINE in a block",
        ),
        (
            text(HEAD, TABLES.replace("70 0", "70 1"), "0 SECTION|2 ENTITIES|0 ENDSEC", EOF),
            "line 25: layer CUT is frozen or locked",
        ),
        (
            text(HEAD, TABLES.replace("|0 ENDTAB", "|0 LAYER|2 CUT|70 0|62 5"), "0 SECTION|2 ENTITIES|0 ENDSEC", EOF),
            "line 33: layer CUT stands there twice",
        ),
    ],
)
def test_file_refused(data: bytes, said: str) -> None:
    """A file that is cut off, out of order or holds more than it may is refused."""
    with pytest.raises(ReadBackError) as caught:
        read_dxf(data)
    assert str(caught.value) == said


def test_svg_comes_back(drawing: Drawing, pens: Pens) -> None:
    """The reader turns y up again and says every group, shape and the title."""
    file = read_svg(write_svg(drawing, pens, title="Rail"))
    assert (file.title, file.width, file.height) == ("Rail", 100, 60)
    mark, label, hole, opening, plate = file.groups
    line = Line(Point(50, 1), Point(50, 4))
    assert mark == SvgGroup("MARK", "#56b4e9", 0.2, (Drawn("MARK", False, (line,)),))
    assert [s.end for s in label.shapes[0].segments] == [(20, 5), (25, 8)]
    start = Point(22.5, 15)
    assert hole.shapes[0] == Drawn("DRILL", True, (Arc(start, start, Point(20, 15), 2.5, 1),))
    assert len(opening.shapes[0].segments) == 4
    notch = plate.shapes[0].segments[3]
    assert isinstance(notch, Arc)
    assert (notch.start, notch.end, notch.turn) == ((80, 60), (70, 50), -1)
    assert notch.center == pytest.approx((70, 60), abs=1e-9)


def svg(inner: str, head: str = 'width="10mm" height="10mm" viewBox="0 0 10 10"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inner}</svg>'.encode()


def group(inner: str) -> str:
    return f'<title>T</title><g id="A" fill="none" stroke="#000000" stroke-width="0.1">{inner}</g>'


def test_radius_that_is_too_small_grows() -> None:
    """A half circle whose radius is written a little too small is a half circle (SVG 1.1, F.6.6)."""
    file = read_svg(svg(group('<path d="M 0 5 A 4.999999999 4.999999999 0 0 0 10 5 Z" />')))
    arc = file.groups[0].shapes[0].segments[0]
    assert isinstance(arc, Arc)
    assert (arc.radius, arc.center, arc.turn) == (5, (5, 5), 1)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"<svg", "it is not XML: unclosed token: line 1, column 0"),
        (b"<svg/>", "a forbidden <svg>"),
        (svg("", 'width="10" height="10mm" viewBox="0 0 10 10"'), 'width "10" is not in mm'),
        (svg("", 'height="10mm" viewBox="0 0 10 10"'), "<svg> without width"),
        (svg("", 'width="1e1mm" height="10mm" viewBox="0 0 10 10"'), '"1e1" is not a number'),
        (
            svg("", 'width="10mm" height="10mm" viewBox="0 0 9 10"'),
            'viewBox "0 0 9 10" does not make one unit 1 mm',
        ),
        (
            svg("", 'width="10mm" height="10mm" viewBox="0 0 10 10" style="a"'),
            "<svg> with a forbidden style",
        ),
        (svg(""), "a forbidden <svg>"),
        (svg("<text>x</text>"), "a forbidden <text>"),
        (svg("<title>T</title><path d='M 0 0 L 1 1'/>"), "a forbidden <path>"),
        (svg(group('<g id="B"/>')), "a forbidden <g>"),
        (svg(group("").replace("none", "red")), 'group "A" is filled'),
        (svg(group('<path d="M 0 0 L 1 1" transform="scale(2)"/>')), "<path> with a forbidden transform"),
        (svg(group("<path/>")), "<path> without d"),
        (svg(group('<path d="M 0 0"/>')), 'path "M 0 0" draws nothing'),
        (
            svg(group('<path d="M 0 0 l 1 1"/>')),
            'path "M 0 0 l 1 1" holds more than commands and plain numbers',
        ),
        (
            svg(group('<path d="M 0 0 L 1 1e1"/>')),
            'path "M 0 0 L 1 1e1" holds more than commands and plain numbers',
        ),
        (svg(group('<path d="M 0 0 1 1"/>')), 'a path with "1" where a command should be'),
        (svg(group('<path d="L 0 0 L 1 1"/>')), 'a path with "L" where a command should be'),
        (svg(group('<path d="M 0 0 M 1 1"/>')), 'a path with "M" where a command should be'),
        (svg(group('<path d="M 0 0 L 1"/>')), 'a path that breaks off in "L"'),
        (svg(group('<path d="M 0 0 L 1 1-2"/>')), 'a path with "1 1-2" where numbers should be'),
        (
            svg(group('<path d="M 0 0 A 1 2 0 0 0 1 1"/>')),
            "an arc that is elliptical, turned or over half a circle",
        ),
        (
            svg(group('<path d="M 0 0 A 1 1 0 1 0 1 1"/>')),
            "an arc that is elliptical, turned or over half a circle",
        ),
        (svg(group('<path d="M 0 0 A 1 1 0 0 0 0 0"/>')), "an arc that ends where it starts"),
    ],
)
def test_svg_refused(data: bytes, said: str) -> None:
    """Whatever the writer would not write is refused."""
    with pytest.raises(ReadBackError) as caught:
        read_svg(data)
    assert str(caught.value) == said
