"""Where a cut that is open to the edge of the work lies in it: its own edge line says so, and from_face cannot."""

from collections.abc import Iterator

from jigtemplates.errors import quoted
from jigtemplates.lengths import first_text
from jigtemplates.parameters.cut_tables import HingeTable
from jigtemplates.parameters.faults import Fault
from jigtemplates.parameters.work_tables import WorkTable

#: Distances closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = 0.01

_KEY = ("work", "from_face")


def gain_faults(cut: HingeTable, work: WorkTable) -> Iterator[Fault]:
    """A from_face that would put the edge of the work elsewhere than where the gain opens to it."""
    given, own = work.from_face, cut.width.mm / 2
    if given is None or abs(given.mm - own) <= SAME:
        return
    where = first_text(own, cut.width.is_inch)
    yield Fault(
        _KEY,
        _KEY,
        f"{quoted(given.text)} does not go with a hinge gain, which is open to the edge of the work: its middle lies "
        f"half its width, {where}, from there (leave from_face out)",
    )
