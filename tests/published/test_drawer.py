"""What `drawer` says of openings that magazines, forums and common practice have worked out."""

from collections.abc import Callable
from typing import Any

import pytest

Call = Callable[..., Any]

#: Opening, bit, bushing, and what it cuts; inch sizes in mm by 1 in = 25.4 mm exactly. That a bushing without any
#: running clearance binds is ours to say: the sources speak of sizes only.
PAIRS = {
    "13 mm over 9.5 mm: opening 13.5 mm for a 10 mm mortise (common practice)": (
        "13.5 mm x 53.5 mm", "9.5 mm", "13 mm", "cuts 10 x 50 mm, side play 0.5 mm",
    ),
    "1/2 in bushing, 3/8 in bit: a slot of 1/2 in for a mortise of 3/8 in, 9.525 mm (woodworking forum, read)": (
        "1/2 in x 2 in", "3/8 in", "1/2 in", "cuts 9.525 x 47.625 mm, side play 0 mm: the bushing will bind in it",
    ),
    "3/8 in bushing, 1/4 in bit: opening 3/8 in, mortise 1/4 in, 6.35 mm (common practice)": (
        "3/8 in x 1-1/8 in", "1/4 in", "3/8 in", "cuts 6.35 x 25.4 mm, side play 0 mm: the bushing will bind in it",
    ),
    "a slot as wide as a bushing of 7/16 in cuts as wide as the bit (Woodworker's Journal 17(1), 1993, p. 49, read)": (
        "7/16 in x 3 in", "1/8 in", "7/16 in", "cuts 3.175 x 68.263 mm, side play 0 mm: the bushing will bind in it",
    ),
    "3/4 in bushing, 1/2 in bit: offset 1/8 in (WOOD magazine, Understanding Guide Bushings, as quoted by others)": (
        "1-1/4 in x 3-1/4 in", "1/2 in", "3/4 in", "cuts 25.4 x 76.2 mm, side play 12.7 mm",
    ),
    "30 mm bushing, 10 mm bit: offset 10 mm (HolzWerken, article on the offset of guide bushings, read)": (
        "80 mm", "10 mm", "30 mm", "cuts dia 60 mm, side play 50 mm",
    ),
}  # fmt: skip


@pytest.mark.parametrize("source", PAIRS)
def test_a_published_pair(here: Any, call: Call, source: str) -> None:
    """The opening of the source, typed by hand, cuts what the source says."""
    opening, bit, bushing, says = PAIRS[source]
    said = call("drawer", "--opening", opening, "--with-bit", bit, "--with-bushing", bushing)
    assert (said.status, said.err) == (0, "")
    assert said.out.endswith(f"with bit {bit} in bushing {bushing}: {says}\n")
