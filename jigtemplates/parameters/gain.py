"""Where a cut that is open to the edge of the work lies in it: its own edge line says so."""

from collections.abc import Iterator

from jigtemplates.errors import quoted
from jigtemplates.lengths import first_text
from jigtemplates.parameters.cut_tables import HingeTable
from jigtemplates.parameters.faults import Fault
from jigtemplates.parameters.repeat_table import RepeatTable
from jigtemplates.parameters.work_tables import WorkTable

#: Distances closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = 0.01

_KEY = ("work", "from_face")
_REPEAT = ("cut", "repeat")


def gain_faults(cut: HingeTable, work: WorkTable) -> Iterator[Fault]:
    """A from_face that would put the edge of the work elsewhere than where the gain opens; gains off that edge."""
    given, own = work.from_face, cut.width.mm / 2
    if given is not None and abs(given.mm - own) > SAME:
        where = first_text(own, cut.width.is_inch)
        yield Fault(
            _KEY,
            _KEY,
            f"{quoted(given.text)} does not go with a hinge gain, which is open to the edge of the work: its middle "
            f"lies half its width, {where}, from there (leave from_face out)",
        )
    if cut.repeat is not None and not _is_along(cut.repeat):
        yield Fault(
            _REPEAT,
            _REPEAT,
            "lays gains where they are not all open to one edge of the work (lay them end to end: direction = 0, in "
            "one row; or leave [work] out)",
        )


def _is_along(repeat: RepeatTable) -> bool:
    """Whether all gains lie at one edge."""
    way = 0.0 if repeat.direction is None else float(repeat.direction) % 180.0
    return repeat.ring is None and min(way, 180.0 - way) < 1e-9 and (repeat.rows or 1) == 1
