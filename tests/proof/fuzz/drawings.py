"""Drawings that are right, to be broken: the samples' and small ones with every kind of entity the readers follow."""

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

SAMPLES = Path(__file__).parents[3] / "samples"

#: Content of an SVG; each is one closed contour, or several.
BODIES = (
    '<rect id="a" width="30" height="20" rx="3"/>',
    '<ellipse cx="50" cy="50" rx="9" ry="4" transform="rotate(30 50 50)"/>',
    '<polygon points="0,0 40,0 40,30"/><polyline points="20,5 30,5 30,10 20,5"/>',
    '<path id="a" d="M0 0 C9 20 30 9 40 0 A25 25 0 0 1 40 39 Q 20 60 0 39 T 0 0 Z" transform="rotate(9)"/>',
    '<g id="l" transform="matrix(1 0 0 -1 5 5)"><line x1="0" y1="0" x2="9" y2="0"/><path d="M9 0v9L0 0"/></g>',
    '<defs><circle id="c" r="4"/></defs><use href="#c" transform="translate(9 9) scale(2) skewX(9)"/>',
    '<rect width="60" height="60"/><path d="m10,10 20,0 0,20z m30 5 5 0 0 5z"/>',
)
PAGE = 'width="100mm" height="100mm" viewBox="0 0 100 100"'


def svgs() -> list[bytes]:
    """SVG files."""
    made = [f'<svg xmlns="http://www.w3.org/2000/svg" {PAGE}>{body}</svg>'.encode() for body in BODIES]
    return made + [(SAMPLES / name).read_bytes() for name in ("leaf.svg", "rose.svg")]


def _polyline(space: Any) -> None:
    space.add_lwpolyline([(0, 0, 0.5), (10, 0, 0), (10, 9, -0.2)], format="xyb", close=True)


def _lines(space: Any) -> None:
    space.add_line((0, 0), (9, 0))
    space.add_arc((0, 0), 9, 0, 45)
    space.add_line((9 / 2**0.5, 9 / 2**0.5), (0, 0))


def _ellipse(space: Any) -> None:
    space.add_ellipse((50, 50), (9, 1), 0.4)


def _spline(space: Any) -> None:
    space.add_open_spline([(0, 0), (20, 2), (12, 19), (-3, 14), (0, 0)], degree=3)


def _old_polyline(space: Any) -> None:
    space.add_polyline2d([(0, 30), (9, 30, 0, 0, 0.3), (9, 39)], format="xyseb", close=True)


def _block(space: Any) -> None:
    block = space.doc.blocks.new("B")
    block.add_lwpolyline([(0, 0), (9, 0), (9, 9)], close=True)
    space.add_blockref("B", (9, 9), dxfattribs={"xscale": 2, "yscale": -2, "rotation": 30})


DRAWN: tuple[Callable[[Any], None], ...] = (_polyline, _lines, _ellipse, _spline, _old_polyline, _block)


def dxfs() -> list[bytes]:
    """DXF files, with and without a unit of their own, whole ones of ezdxf cut down to what a reader needs."""
    import ezdxf

    bracket = (SAMPLES / "bracket.dxf").read_bytes()
    made = [bracket.partition(b"0\nCIRCLE")[0] + b"0\nENDSEC\n0\nEOF\n"]  # screws and dimensions come after it
    for draw in DRAWN:
        document = ezdxf.new("R2000")
        document.header["$INSUNITS"] = 4
        draw(document.modelspace())
        stream = io.StringIO()
        document.write(stream)
        made.append(_short(stream.getvalue()).encode())
    return made


def _short(text: str) -> str:
    """Without tables and objects; of the header the unit alone, so that what is broken is broken where it counts."""
    sections = text.split("  0\nSECTION\n")
    kept = [s for s in sections if s.lstrip().startswith(("2\nBLOCKS", "2\nENTITIES"))]
    header = "  2\nHEADER\n  9\n$ACADVER\n  1\nAC1015\n  9\n$INSUNITS\n 70\n4\n  0\nENDSEC\n"
    return "".join("  0\nSECTION\n" + section for section in (header, *kept)) + "  0\nEOF\n"


def as_bytes(target: str) -> list[bytes]:
    """The drawings of a kind, "svg" or "dxf"."""
    return svgs() if target == "svg" else dxfs()
