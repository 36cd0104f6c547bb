"""Drawings broken or made up: by bytes, by elements and attributes, by group codes and values, and by sheer size."""

from drawings import PAGE, dxfs, svgs
from hypothesis import strategies as st
from strategies import damaged

NUMBERS = (
    st.sampled_from(
        ["0", "-0", "1e308", "-1e308", "1e-320", "nan", "inf", "1e", "9" * 400, "0x10", "1_000", "", "٣", "50%"]
    )
    | st.integers(-100, 100).map(str)
    | st.floats(-200, 200).map(lambda n: f"{n:.3f}")
    | st.tuples(st.floats(1, 9.9), st.integers(-9, 12)).map(lambda n: f"{n[0]:.3f}e{n[1]}")
)
UNIT = st.sampled_from(["", "", "", "mm", "in", "px", "%", "em", "pc", "Q"])
SIZES = st.tuples(NUMBERS, UNIT).map("".join)
PATH = st.lists(
    st.tuples(st.sampled_from("MmLlHhVvCcSsQqTtAaZz"), st.lists(NUMBERS, max_size=8)).map(
        lambda n: n[0] + " ".join(n[1])
    ),
    max_size=8,
).map(" ".join)
TRANSFORM = st.lists(
    st.tuples(
        st.sampled_from(["translate", "scale", "rotate", "skewX", "skewY", "matrix", "perspective", ""]),
        st.lists(NUMBERS, max_size=6).map(",".join),
    ).map(lambda n: f"{n[0]}({n[1]})"),
    max_size=3,
).map(" ".join)
STYLE = st.sampled_from(
    ["display:none", "transform:scale(2)", "clip-path:url(#a)", "mask:url(http://x)", "fill:red;;", ":"]
)
NAMES = st.sampled_from(["a", "b", "\u202ex", "x" * 300, "#a", "", "é"])
LINKS = st.sampled_from(
    ["#a", "#b", "#", "", "a", "data:image/png;base64,AA", "file:///etc/passwd", "//x/y.svg#a", "\\\\x\\y"]
)
ATTRIBUTES = st.fixed_dictionaries(
    {},
    optional={
        **dict.fromkeys(("x", "y", "width", "height", "r", "cx", "cy", "rx", "ry", "x1", "y1", "x2", "y2"), SIZES),
        "points": st.lists(NUMBERS, max_size=12).map(" ".join),
        "d": PATH,
        "transform": TRANSFORM,
        "style": STYLE,
        "id": NAMES,
        "href": LINKS,
        "viewBox": st.lists(NUMBERS, min_size=4, max_size=4).map(" ".join),
        "preserveAspectRatio": st.sampled_from(["none", "xMidYMid slice", "x"]),
        "pathLength": NUMBERS,
        "display": st.sampled_from(["none", "inline"]),
    },
)
TAGS = st.sampled_from(
    ("path", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "g", "g", "use", "svg", "defs", "a",
     "symbol", "text", "image", "clipPath", "switch", "style", "script", "animate", "foreignObject")
)  # fmt: skip


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


def _element(tag: str, attributes: dict[str, str], inner: str) -> str:
    said = " ".join(f'{key}="{_escaped(value)}"' for key, value in attributes.items())
    return f"<{tag} {said}>{inner}</{tag}>"


ELEMENTS = st.recursive(
    st.builds(_element, TAGS, ATTRIBUTES, st.just("")),
    lambda held: st.builds(_element, TAGS, ATTRIBUTES, st.lists(held, max_size=4).map("".join)),
    max_leaves=8,
)
PAGES = st.sampled_from(
    [PAGE, PAGE, "", 'viewBox="0 0 0 0"', 'width="0"', 'width="1e300mm" height="1"', 'width="100%"']
)
DRAWN_SVGS = st.builds(
    lambda page, body: f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{"".join(body)}</svg>'.encode(),
    PAGES,
    st.lists(ELEMENTS, min_size=1, max_size=4),
)

CODES = st.sampled_from(
    (0, 2, 5, 8, 10, 20, 30, 11, 21, 40, 41, 42, 43, 50, 51, 62, 66, 67, 70, 71, 72, 73, 74, 90, 210, 220, 230)
).map(str)
VALUES = NUMBERS | st.sampled_from(
    ("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE", "VERTEX", "SEQEND", "INSERT", "B", "0",
     "ENDSEC", "recess", "SOLID", "3DFACE", "MLINE", "HELIX", "REGION", "BODY", "DIMENSION", "é", "\x1b[2J", "x" * 300)
)  # fmt: skip


@st.composite
def tagged(draw: st.DrawFn) -> bytes:
    """A DXF some of whose group codes and values are others."""
    lines = draw(st.sampled_from(dxfs())).split(b"\n")
    for _ in range(draw(st.integers(1, 6))):
        at = 2 * draw(st.integers(0, len(lines) // 2 - 1))
        pair = [draw(CODES).encode(), draw(VALUES).encode()]
        wish = draw(st.sampled_from(["value", "value", "both", "more", "less"]))
        lines[at : at + 2] = {
            "value": [lines[at], pair[1]],
            "both": pair,
            "more": [*lines[at : at + 2], *pair],
            "less": [],
        }[wish]
    return b"\n".join(lines)


DXFS = damaged(dxfs()) | tagged()
SVGS = damaged(svgs()) | DRAWN_SVGS


def _svg(body: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {PAGE}>{body}</svg>'.encode()


def _dxf(entity: bytes) -> bytes:
    head = b"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
    return head + b"0\nSECTION\n2\nENTITIES\n0\n" + entity + b"0\nENDSEC\n0\nEOF\n"


#: Made to cost time or memory, each by its file's name.
HUGE = {
    "groups.svg": _svg("<g>" * 50_000 + '<rect width="9" height="9"/>' + "</g>" * 50_000),
    "attributes.svg": _svg("<rect " + " ".join(f"a{i}='1'" for i in range(200_000)) + " width='9' height='9'/>"),
    "one attribute.svg": _svg(f'<path d="M0 0 {"L9 9 9 0 0 0 " * 150_000}"/>'),
    "numbers.svg": _svg(f'<path d="M0 0 L{"9" * 2_000_000} 1"/>'),
    "transforms.svg": _svg(f'<rect width="9" height="9" transform="{"scale(1.0001) " * 100_000}"/>'),
    "arcs.svg": _svg('<path d="M0 0 ' + "A 1e6 1e-6 9 1 1 9 9 A 1e-300 1e300 0 0 1 0 0 " * 5_000 + 'Z"/>'),
    "curves.svg": _svg('<path d="M0 0 ' + "C 1e6 0 -1e6 9 9 9 C 1e5 -1e5 3 3 0 0 " * 2_000 + 'Z"/>'),
    "copies.svg": _svg('<g id="a">' + '<use href="#a"/>' * 200 + "</g>"),
    "style.svg": _svg(f'<rect width="9" height="9" style="{"a:b;" * 400_000}"/>'),
    "spaces.svg": _svg(f'<path d="M0 0 {" " * 3_000_000}L 9 0 9 9Z"/>'),
    "points.svg": _svg(f'<polygon points="{"0,0 9,9 " * 400_000}"/>'),
    "pairs.dxf": b"0\nSECTION\n" + b"1\nx\n" * 1_000_000,
    "line.dxf": _dxf(b"LINE\n8\n" + b"x" * 10_000_000 + b"\n"),
    "vertices.dxf": _dxf(
        b"LWPOLYLINE\n100\nAcDbEntity\n100\nAcDbPolyline\n90\n2000000000\n70\n1\n" + b"10\n1\n20\n2\n" * 300_000
    ),
    "spline.dxf": _dxf(
        b"SPLINE\n100\nAcDbEntity\n100\nAcDbSpline\n70\n0\n71\n2000000\n72\n2000000000\n73\n2000000000\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n"
        b"10\n0\n20\n0\n10\n9\n20\n0\n10\n9\n20\n9\n"
    ),
    "ellipse.dxf": _dxf(
        b"ELLIPSE\n100\nAcDbEntity\n100\nAcDbEllipse\n10\n0\n20\n0\n11\n1000\n21\n0\n40\n1e-9\n41\n0\n42\n1e18\n"
    ),
    "bulges.dxf": _dxf(
        b"LWPOLYLINE\n100\nAcDbEntity\n100\nAcDbPolyline\n90\n3\n70\n1\n10\n0\n20\n0\n42\n1e300\n10\n9\n20\n0\n42\n-1e-300\n10\n9\n20\n9\n42\n1e9\n"
    ),
    "insert.dxf": (
        b"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n0\nCIRCLE\n40\n4\n0\nENDBLK\n0\nENDSEC\n"
        + _dxf(
            b"INSERT\n100\nAcDbEntity\n100\nAcDbBlockReference\n2\nB\n41\n1e300\n42\n1e-300\n44\n1e300\n70\n400\n71\n400\n"
        )
    ),
}
