"""Findings in few words for the set-up sheet: shortened they still say what to do."""

import re
import tomllib
from pathlib import Path

import pytest

from jigtemplates.processes.setup_brief import brief

#: The sentences of all checks, in inches.
SAID = tomllib.loads((Path(__file__).parents[1] / "checks" / "in_inches.toml").read_text(encoding="utf-8"))["case"]
MATTER, DO = "the wall between the openings is thin", "take a larger plate"


def test_a_short_one_is_said_whole() -> None:
    """With what to do, and in mm as it is."""
    words = (
        "outside a pattern less than half of the router's base is carried: lay strips (6 mm thick) under the outer side"
    )
    assert brief(words, inches=False) == words


@pytest.mark.parametrize(
    ("whole", "short"),
    [
        ("only 1/32 in (0.79 mm) of it", "only 1/32 in of it"),
        ("the plate (6 x 5 in = 152.4 x 127 mm)", "the plate (6 x 5 in)"),
        ("a window of 4 x 4 in (101.6 x 101.6 mm)", "a window of 4 x 4 in"),
        ("short of it (0.030 sq in = 19.47 mm² in all)", "short of it (0.030 sq in in all)"),
        ("holes of 5 mm (they were 6 mm)", "holes of 5 mm (they were 6 mm)"),
    ],
)
def test_one_unit(whole: str, short: str) -> None:
    """In inches the millimetres behind them are left out."""
    assert brief(whole, inches=True) == short
    assert brief(whole, inches=False) == whole


def test_what_only_compares_goes_first() -> None:
    """Of a long one the comparison is left out."""
    do = "keep the weight on the plate, " * 7 + DO
    assert brief(f"only 12 % of the base is carried, less than half: {do}", inches=False) == (
        f"only 12 % of the base is carried: {do}"
    )


def test_the_matter_is_cut_and_not_what_to_do() -> None:
    """What is the matter, 360 characters, is cut at a word; what to do, 225, stands whole."""
    do = f"{'move the cut, ' * 14}or {DO}"
    said = brief(f"{'matter ' * 51}end: {do}", inches=False)
    matter, _, action = said.partition(": ")
    assert matter == ("matter " * 25).rstrip() + "…"
    assert action == do


def test_a_sentence_behind_says_what_to_do() -> None:
    """Of three parts the one in the middle explains, and is left out."""
    why = "as little as 28 % of the base has work under it, " * 4
    said = brief(f"{MATTER}: {why}and more. Take a larger plate, or clamp a batten beside it", inches=False)
    assert said == f"{MATTER}. Take a larger plate, or clamp a batten beside it"
    lower = brief(f"{MATTER}: {why}about 1. of {DO}", inches=False)
    assert lower.endswith(f"1. of {DO}")


def test_in_few_words() -> None:
    """Tight leaves out asides and comparisons, and of what to do all but the first way; short ones stay as they are."""
    long = (
        "the base comes over the heads of screws (how high they stand is not known) that are less than 80 mm (3 in) "
        "from it, less than usual: holes 1 and 2 (46 mm); countersink them, or move them out of its way, or take others"
    )
    assert brief(long, inches=False) == long
    assert brief(long, inches=False, tight=True) == (
        "the base comes over the heads of screws that are less than 80 mm (3 in) from it: holes 1 and 2 (46 mm); "
        "countersink them"
    )
    short = "the base overhangs (by half): keep the weight on the plate, or lay strips under it"
    assert brief(short, inches=False, tight=True) == short


def test_one_without_a_remedy() -> None:
    """Words without ": " are said whole; 400 characters are cut at a word."""
    assert brief("word " * 60, inches=False) == "word " * 60
    assert brief("word " * 80, inches=False) == ("word " * 68).rstrip() + "…"


@pytest.mark.parametrize("case", SAID, ids=[case["code"] for case in SAID])
def test_no_sentence_loses_what_to_do(case: dict[str, str]) -> None:
    """The last ten words of every check's sentence are the last of its short form, units aside."""
    whole = re.sub(r"(?<= in)( \([\d. x]+ mm\)| = [\d. x]+ mm|, [\d.]+ mm²)", "", case["says"])
    said = brief(case["says"], inches=True)
    assert said.split()[-10:] == whole.split()[-10:]
    assert len(said) <= 380
