"""Sizes that no tool of the trade has: refused where they are typed, told where they stand in a file."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.tool_sizes import LIMITS, size_doubts
from jigtemplates.profiles import Profiles

Call = Callable[..., Any]

OWN = """\
units = "mm"
[bits."spiral 8"]
diameter = 8
shank = 8
[bushings."g 24"]
diameter = 24
bore = 20
[routers.mine]
base = { shape = "round", diameter = 150 }
"""
HAND = "(where it really is so, write it into the tools file by hand)"


@pytest.fixture
def own(here: Path) -> Path:
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(OWN, encoding="utf-8")
    return here / "profiles" / "tools.toml"


@pytest.mark.parametrize(
    ("kind", "name", "pair", "line"),
    [
        (
            "bushings", "g 24", "stem=8 in",
            'bushings.g 24.stem: "8 in" is not the size of the stem of a guide bushing '
            '(from memory, at least 0.039 in = '
            "1 mm and at most 2.362 in = 60 mm): was 8 mm meant?",
        ),
        (
            "bushings", "g 24", "stem=0.5 mm",
            'bushings.g 24.stem: "0.5 mm" is not the size of the stem of a guide bushing '
            '(from memory, at least 1 mm and '
            "at most 60 mm): was 0.5 in meant?",
        ),
        (
            "bits", "spiral 8", "shank=80 mm",
            'bits.spiral 8.shank: "80 mm" is not the size of the shank of a router bit '
            '(from memory, at least 2 mm and at '
            "most 26 mm): measure again",
        ),
        (
            "bits", "spiral 8", "cutting_length=3 mm",
            'bits.spiral 8.cutting_length: "3 mm" is not the size of the cutting edges of a router bit '
            '(from memory, at '
            "least 4.5 mm and at most 130 mm): was 3 in meant?",
        ),
        (
            "bits", "spiral 8", "overall_length=300 mm",
            'bits.spiral 8.overall_length: "300 mm" is not the size of a whole router bit (from memory, at least 20 mm '
            "and at most 260 mm): measure again",
        ),
        (
            "routers", "mine", "collets=8 mm, 80 mm",
            'routers.mine.collets: "80 mm" is not the size of the collet of a router '
            '(from memory, at least 2 mm and at '
            "most 26 mm): measure again",
        ),
        (
            "routers", "mine", "base.diameter=15 mm",
            'routers.mine.base.diameter: "15 mm" is not the size of the base of a router '
            '(from memory, at least 40 mm and '
            "at most 400 mm): was 15 in meant?",
        ),
    ],
)  # fmt: skip
def test_what_is_typed_is_refused(kind: str, name: str, pair: str, line: str, own: Path, call: Call) -> None:
    """By add and change alike, in a line that says the limits and what may have been meant; the file stays."""
    said = call("tools", "change", kind, name, pair)
    assert (said.status, said.err) == (2, f"tools change: {line} {HAND}\n")
    rest = {
        "bits": ("diameter=8 mm",), "bushings": ("diameter=24 mm",),
        "routers": () if pair.startswith("base") else ("base.diameter=150 mm",),
    }[kind]  # fmt: skip
    shape = ("base.shape=round",) if kind == "routers" else ()
    added = call("tools", "add", kind, "new", *rest, *shape, pair)
    assert (added.status, added.err) == (2, f"tools add: {line.replace(name, 'new')} {HAND}\n")
    assert own.read_text(encoding="utf-8") == OWN


@pytest.mark.usefixtures("own")
def test_all_of_them_at_once(call: Call) -> None:
    """A line for each size that was typed."""
    said = call("tools", "change", "bits", "spiral 8", "shank=80 mm", "cutting_length=3 mm")
    assert [line.partition(": ")[2].partition(":")[0] for line in said.faults] == [
        "bits.spiral 8.shank", "bits.spiral 8.cutting_length",
    ]  # fmt: skip


def test_what_a_file_holds_is_told_and_stays_usable(own: Path, call: Call) -> None:
    """The listing says what to look at again; another key can be changed all the same."""
    own.write_text(OWN.replace("bore = 20", "bore = 20\nstem = 203.2"), encoding="utf-8")
    listed = call("tools")
    assert listed.status == 0
    assert (
        '    look again at stem: "203.2 mm" is not the size of the stem of a guide bushing (from memory, at least 1 mm '
        "and at most 60 mm): measure again\n"
    ) in listed.out
    assert call("tools", "change", "bushings", "g 24", "bore=19 mm").status == 0


@pytest.mark.parametrize(
    ("pairs", "status"),
    [
        (("diameter=1 mm", "cutting_length=0.8 mm"), 0),  # thin ones are short as well
        (("diameter=1 mm", "cutting_length=0.7 mm"), 2),
        (("diameter=1/2 in", "cutting_length=1/4 in"), 0),  # for the gains of hinges
        (("diameter=3/4 in", "shank=1 in", "cutting_length=4 in", "overall_length=7 in"), 0),
        (("diameter=3 mm", "shank=1/8 in"), 0),
    ],
)
def test_unusual_bits_pass(pairs: tuple[str, ...], status: int, call: Call) -> None:
    """The shortest and the longest that are sold are taken without a question."""
    assert call("tools", "add", "bits", "x", *pairs).status == status


def test_no_shipped_tool_is_odd() -> None:
    """What comes with the program lies within the limits."""
    profiles = Profiles()
    entries = [(kind, found.entry) for kind in LIMITS for found in profiles.entries(kind)]
    assert len(entries) > 80
    assert [doubt for kind, entry in entries for doubt in size_doubts(kind, entry)] == []


def test_holders_have_no_limits(call: Call) -> None:
    """A jig has any size."""
    said = call("tools", "add", "holders", "wide", "width=900 mm", "height=900 mm", "play=0.3 mm")
    assert (said.status, said.err) == (0, "")
