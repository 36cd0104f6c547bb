"""What a drawing says of its own unit."""

from collections.abc import Callable

import pytest

from jigtemplates.imports.outline_file import unit_said

Bytes = Callable[..., bytes]


@pytest.mark.parametrize(
    ("page", "said"),
    [
        ('width="10mm" height="10mm"', "mm"),
        ('width="10in" height="9in"', "inches"),
        ('width="96px" height="96px"', "px"),
        ('width="10" height="10mm"', None),
        ('width="100%" height="100%"', None),
        ("", None),
    ],
)
def test_the_unit_of_a_page(as_svg: Bytes, page: str, said: str | None) -> None:
    """That of width and height where both have one."""
    assert unit_said(as_svg("", page), "a.svg") == said


@pytest.mark.parametrize(("code", "said"), [(1, "inches"), (4, "mm"), (5, "cm"), (0, None)])
def test_the_unit_of_a_dxf(as_dxf: Bytes, code: int, said: str | None) -> None:
    """That of $INSUNITS, by its name."""
    assert unit_said(as_dxf(lambda space: space.add_circle((0, 0), 9), units=code), "a.DXF") == said


def test_a_dxf_without_a_header() -> None:
    """Says nothing."""
    assert unit_said(b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", "a.dxf") is None
