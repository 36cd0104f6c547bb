"""Sizes so small that they are surely a slip are refused before any geometry sees them."""

from collections.abc import Callable

import pytest

Faults = Callable[..., tuple[str, ...]]


@pytest.mark.parametrize(
    ("old", "new", "key", "text", "least"),
    [
        ("width  = 10", 'width = "0.000000001 mm"', "rail:5: cut.width", "0.000000001 mm", "0.1"),
        ("width  = 10", "width = 0.09", "rail:5: cut.width", "0.09 mm", "0.1"),
        ("depth  = 28", "depth = 0.009", "rail:7: cut.depth", "0.009 mm", "0.01"),
        ("width = 140", "width = 0.9", "rail:14: plate.width", "0.9 mm", "1"),
        ("height = 140", "height = 0.9", "rail:15: plate.height", "0.9 mm", "1"),
        ("thickness = 6", "thickness = 0.09", "rail:16: plate.thickness", "0.09 mm", "0.1"),
        ("[make]", "[make]\ndxf = { chord = 0.0009 }", "rail:20: make.dxf.chord", "0.0009 mm", "0.001"),
    ],
)
def test_a_size_below_its_limit(faults: Faults, old: str, new: str, key: str, text: str, least: str) -> None:
    """One line: what is written, the least that is taken, and the likely reason."""
    assert faults((old, new)) == (f'{key}: "{text}" is too small (write at least {least} mm; is the unit right?)',)


def test_the_least_sizes_are_taken(faults: Faults) -> None:
    """Each limit itself is allowed: only the one bad key of the job is named."""
    lines = faults(
        ("width  = 10", "width = 0.1"),
        ("depth  = 28", "depth = 0.01"),
        ("thickness = 6", "thickness = 0.1"),
        ("[make]", "[make]\ndxf = { chord = 0.001 }\nmirrored = 1"),
    )
    assert lines == ("rail:21: make.mirrored: 1 does not fit here (write true or false, without quotes)",)
