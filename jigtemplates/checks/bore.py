"""Does the bit, and the shank where it comes that far down, pass through the bushing with room for chips?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.practice import BETTER_ROOM as BETTER_ROOM
from jigtemplates.practice import LEAST_ROOM as LEAST_ROOM
from jigtemplates.practice import LEAST_WALL as LEAST_WALL
from jigtemplates.practice import TOUCHES as TOUCHES


def check_bore(case: Case) -> Iterator[Finding]:
    """Bit against bore, chip room, shank against bore."""
    bore = case.job.tools.bushing.bore
    if bore is None:
        from jigtemplates.checks.enter import enter

        yield from _no_bore_fits(case)
        yield note(
            "bore-unknown",
            "tools.bushing",
            "the bushing's bore is not known: see that the bit passes through it with at least 1/16 in to spare, "
            f"or {enter(case.job.tools.bushing, 'bore')}",
        )
        return
    yield from _bit_through(case, bore)
    yield from _shank_through(case, bore)


def _no_bore_fits(case: Case) -> Iterator[Finding]:
    """A bushing of unknown bore that is too near the bit's size to have one that the bit passes."""
    between = case.bushing - case.bit
    if 0 < between < LEAST_WALL - 1e-9:
        yield warning(
            "bushing-hardly-wider-than-bit",
            "tools.bushing",
            f"the bushing is only {case.said(between, 3)} wider than the bit, less than the 1/16 in (1.59 mm) that "
            "its own wall takes: the bit hardly passes through it; measure the bore, or use a wider bushing",
        )


def _bit_through(case: Case, bore: float) -> Iterator[Finding]:
    room = bore - case.bit
    if room <= 1e-9:
        yield stop(
            "bit-does-not-pass-bore",
            "tools.bit",
            f"the bit {case.aside(case.bit, 3)} does not pass through the bushing's bore {case.aside(bore, 3)}: use a "
            "bushing with a wider bore or a smaller bit",
        )
    elif room < TOUCHES - 1e-9:
        yield stop(
            "bit-touches-bushing",
            "tools.bushing",
            f"only {case.said(room)} between bit and bore, {case.said(room / 2)} a side: a bushing a little off centre "
            "touches the bit, metal on metal; use a bushing with a wider bore or a smaller bit",
        )
    elif room < LEAST_ROOM - 1e-9:
        yield warning(
            "chip-room",
            "tools.bushing",
            f"only {case.said(room)} between bit and bore, less than 1/16 in (1.59 mm) in all: chips will pack and "
            "the bit may touch; centre the bushing with care, take shallow passes, or use a wider bushing",
        )
    elif room < BETTER_ROOM - 1e-9:
        yield note(
            "chip-room",
            "tools.bushing",
            f"{case.said(room)} between bit and bore: enough, but 1/8 in (3.18 mm) in all clears chips better",
        )


def _shank_through(case: Case, bore: float) -> Iterator[Finding]:
    """The shank comes down to the bushing's upper end, which is where its nut ends, as far as that is known."""
    bit, nut = case.job.tools.bit, case.job.tools.bushing.nut
    if bit.shank is None or bit.shank < bore:
        return
    size = f"the shank {case.aside(bit.shank, 3)} does not pass through the bore {case.aside(bore, 3)}"
    upper_end = 0.0 if nut is None else nut.height.mm
    and_nut = "" if nut is None else f" and the height of the bushing's nut {case.aside(upper_end)}"
    if bit.cutting_length is None:
        yield warning(
            "shank-may-meet-bushing",
            "tools.bit",
            f"{size}: the part of the bit below the shank must be longer than the plunge depth of "
            f"{case.said(case.plunge_depth)}{and_nut}; measure it and give it as cutting_length",
        )
    elif bit.cutting_length <= case.plunge_depth + upper_end:
        yield stop(
            "shank-meets-bushing",
            "tools.bit",
            f"{size} and the cutting length {case.aside(bit.cutting_length)} is not longer than the plunge depth "
            f"{case.aside(case.plunge_depth)}{and_nut}: use a longer bit, a thinner plate or a wider bushing",
        )
