"""Typed sizes that look like a rounded conversion."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from jigtemplates.checks.sizes import rounded_from
from jigtemplates.lengths import parse_length

Said = Callable[..., list[tuple[str, str, str]]]


def test_rounded_bit(said: Said) -> None:
    """9.5 mm for 3/8 in: a warning that the cut comes out 0.025 mm wider."""
    assert said("rounded-conversion", tools={"bit": 9.5}) == [
        (
            "warning",
            "tools.bit",
            "9.5 mm looks like 3/8 in, which is 9.525 mm: if it is, the cut comes out 0.025 mm wider and longer than "
            "shown; measure it, and write 3/8 in if that is what it is",
        )
    ]


def test_rounded_bushing(said: Said) -> None:
    """13 mm for 1/2 in: the real bushing is smaller, so the cut comes out 0.3 mm wider."""
    ((level, key, sentence),) = said("rounded-conversion", tools={"bushing": 13})
    assert (level, key) == ("warning", "tools.bushing")
    assert sentence.startswith(
        "13 mm looks like 1/2 in, which is 12.7 mm: if it is, the cut comes out 0.3 mm wider and longer than shown"
    )


def test_the_other_direction(said: Said) -> None:
    """A bit rounded up, or a bushing rounded down, makes the cut narrower and shorter."""
    ((_, _, bit),) = said("rounded-conversion", tools={"bit": 9.6})
    assert "comes out 0.075 mm narrower and shorter than shown" in bit
    ((_, _, bushing),) = said("rounded-conversion", tools={"bushing": 12.5})
    assert "comes out 0.2 mm narrower and shorter than shown" in bushing


@pytest.mark.parametrize(
    ("typed", "likely"),
    [
        ("9.5 mm", Fraction("9.525")),  # 3/8 in
        ("13 mm", Fraction("12.7")),  # 1/2 in
        ("6.4 mm", Fraction("6.35")),  # 1/4 in
        ("19 mm", Fraction("19.05")),  # 3/4 in
        ("11 mm", Fraction("11.1125")),  # 7/16 in
        ("12.7 mm", None),
        ("9.525 mm", None),
        ("9.5255 mm", None),
        ("12 mm", None),
        ("10 mm", None),
        ("3/8 in", None),
        ("0.374 in", None),
        ("9 mm", None),  # 0.525 from 3/8 in
        ("9.17 mm", None),  # 0.355 from 3/8 in
        ("9.175 mm", Fraction("9.525")),  # 0.35 from it
    ],
)
def test_what_looks_rounded(typed: str, likely: Fraction | None) -> None:
    """Metric sizes that nobody sells, within 0.35 mm of a sixteenth of an inch; no trade size, nothing in inches."""
    assert rounded_from(parse_length(typed)) == likely


def test_described_tools_were_measured(said: Said) -> None:
    """A tool with a table of its own, or from the profiles, is not doubted."""
    assert said("rounded-conversion", tools={"bit": {"diameter": 9.5}, "bushing": {"diameter": 13}}) == []
    assert said("rounded-conversion", tools={"bit": "up-spiral 10 mm", "bushing": 17}) == []


def measured(**known: object) -> dict[str, object]:
    """A bushing sold as 1/2 in of which that was measured."""
    return {"bushing": {"diameter": {"nominal": "1/2 in", **known}, "bore": "13/32 in"}}


def test_measured_bushing(said: Said) -> None:
    """A bushing 0.02 mm under its size makes cuts from a template for 1/2 in 0.02 mm wider: a note."""
    assert said("measured-size", tools=measured(measured="12.68 mm", within="0.01 mm")) == [
        (
            "note",
            "tools.bushing",
            "computed with the measured 12.68 mm: from a template for 1/2 in the cut would come out 0.02 mm wider and "
            "longer; it is good to 0.01 mm, and so is the cut",
        )
    ]
    ((_, _, larger),) = said("measured-size", tools=measured(measured="12.75 mm"))
    assert larger.endswith("for 1/2 in the cut would come out 0.05 mm narrower and shorter")
    ((_, _, exact),) = said("measured-size", tools=measured(measured="12.7 mm"))
    assert exact == "computed with the measured 12.7 mm: as it is sold"
    assert said("measured-size", tools=measured()) == []


def test_measured_bit(said: Said) -> None:
    """A bit 0.025 mm under its size makes cuts 0.025 mm narrower, and is not taken for a rounded size."""
    tools = {"bit": {"diameter": {"nominal": "3/8 in", "measured": "9.5 mm"}}}
    ((level, key, sentence),) = said("measured-size", tools=tools)
    assert (level, key) == ("note", "tools.bit")
    assert sentence.endswith("for 3/8 in the cut would come out 0.025 mm narrower and shorter")
    assert said("rounded-conversion", tools=tools) == []
