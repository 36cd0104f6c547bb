"""Several cuts in one template: a job file with an array of tables, [[cut]], instead of one table [cut]."""

from collections.abc import Iterator, Mapping
from typing import Any

from jigtemplates.errors import quoted
from jigtemplates.parameters.faults import Fault

#: The key of both.
CUT = "cut"
#: Most cuts that differ in one template (chosen: more of them nobody tells apart on one plate).
MOST_CUTS = 20


def variants(data: Mapping[str, Any]) -> list[dict[str, Any]]:
    """A job's data once for each of its cuts; what belongs to the first cut alone stands in the first."""
    cuts = data[CUT]
    shared = {key: value for key, value in data.items() if key not in ("work", "tenon", "inlay")}
    return [{**(data if i == 0 else shared), CUT: cut} for i, cut in enumerate(cuts)]


def several_faults(data: Mapping[str, Any]) -> Iterator[Fault]:
    """What is wrong with an array of cuts before any of them is looked at."""
    cuts = data[CUT]
    if not 1 <= len(cuts) <= MOST_CUTS:
        yield Fault((CUT,), (CUT,), f"holds {len(cuts)} cuts (write a table [[cut]] for each; 1 to {MOST_CUTS})")
    for i, cut in enumerate(cuts):
        if not isinstance(cut, dict):
            yield Fault((named(i),), (CUT, i), f"{quoted(cut)} does not fit here (write a table [[cut]] for each cut)")
        elif len(cuts) > 1 and cut.get("side") == "outside":
            yield Fault(
                (named(i), "side"), (CUT, i, "side"), "a pattern takes the whole plate (write a job of its own for it)"
            )


def of_cut(fault: Fault, number: int) -> Fault | None:
    """A fault found with one cut in its place of the array; None for one that the first cut's reading says as well."""
    if fault.keys[:1] == (CUT,):
        return Fault((named(number), *fault.keys[1:]), (CUT, number, *fault.at[1:]), fault.message)
    return fault if number == 0 else None


def named(number: int) -> str:
    """What one of several cuts is called, as people count: "cut 2"; number counts from 0."""
    return f"{CUT} {number + 1}"
