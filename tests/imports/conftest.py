"""Drawings as a drawing program would write them, and their outlines as rounded literals."""

import io
from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.geometry.outline import Arc, Outline, Region
from jigtemplates.imports.outline_file import outline_of

Segments = list[tuple[Any, ...]]
PAGE = 'width="100mm" height="100mm" viewBox="0 0 100 100"'


def svg_bytes(body: str, page: str = PAGE) -> bytes:
    """An SVG file with that content."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{body}</svg>'.encode()


def dxf_bytes(draw: Callable[[Any], object], *, units: int = 4, version: str = "R2010") -> bytes:
    """A DXF file as ezdxf writes it, after draw has put entities into its model space."""
    import ezdxf

    document = ezdxf.new(version)
    document.header["$INSUNITS"] = units
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def literal(outline: Outline, digits: int = 6) -> Segments:
    """("line", x, y, x, y) or ("arc", x, y, x, y, radius, turn) for each segment, rounded."""
    rows: Segments = []
    for s in outline.segments:
        ends = tuple(round(n, digits) + 0.0 for n in (*s.start, *s.end))
        rows.append(("arc", *ends, round(s.radius, digits), s.turn) if isinstance(s, Arc) else ("line", *ends))
    return rows


@pytest.fixture(scope="session")
def svg() -> Callable[..., Region]:
    """The region of an SVG with that content."""
    return lambda body, page=PAGE, **options: outline_of(svg_bytes(body, page), "leaf.svg", **options)


@pytest.fixture(scope="session")
def dxf() -> Callable[..., Region]:
    """The region of a DXF whose model space draw has filled."""

    def read(draw: Callable[[Any], object], *, units: int = 4, version: str = "R2010", **options: Any) -> Region:
        return outline_of(dxf_bytes(draw, units=units, version=version), "bracket.dxf", **options)

    return read


@pytest.fixture(scope="session")
def segments() -> Callable[..., Segments]:
    """`literal`."""
    return literal


@pytest.fixture(scope="session")
def faults() -> Callable[..., tuple[str, ...]]:
    """The lines of the fault that a file's bytes are."""

    def lines(data: bytes, name: str = "leaf.svg", **options: Any) -> tuple[str, ...]:
        with pytest.raises(InputError) as caught:
            outline_of(data, name, **options)
        return caught.value.lines

    return lines


@pytest.fixture(scope="session")
def as_svg() -> Callable[..., bytes]:
    """`svg_bytes`."""
    return svg_bytes


@pytest.fixture(scope="session")
def as_dxf() -> Callable[..., bytes]:
    """`dxf_bytes`."""
    return dxf_bytes
