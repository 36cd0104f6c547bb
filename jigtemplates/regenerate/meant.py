"""Which jobs of a folder a new bit or bushing is meant for: those that have the old one.

A tool that was given as a size is that of every job whose tool is sold as it, whatever it measures. Given by name it is
that of the jobs that name it, and of those that only give the size it is sold as: they are cut with it too.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import starmap
from pathlib import Path
from typing import Any, Literal, NamedTuple

from jigtemplates.errors import InputError, quoted
from jigtemplates.given_tool import GivenTool, shown
from jigtemplates.lengths import Length, parse_length, sold_as
from jigtemplates.parameters.job import Bit, Bushing, Tools
from jigtemplates.profiles import Profiles
from jigtemplates.regenerate.outcome import Outcome
from jigtemplates.say import listed

Kind = Literal["bits", "bushings"]
#: What a tool is called, and the option that names the one it replaces.
CALLED: dict[Kind, tuple[str, str]] = {"bits": ("bit", "--old-bit"), "bushings": ("bushing", "--old-bushing")}


@dataclass(frozen=True, slots=True)
class Seen:
    """What is known of the jobs of a file before any template is made."""

    path: Path
    #: what becomes of them, where nothing is to be done
    outcomes: tuple[Outcome, ...] = ()
    #: the tools that they share, and how many they are; None where the file cannot be read
    tools: Tools | None = None
    jobs: int = 0
    #: the kinds of tool that would be replaced
    kinds: tuple[Kind, ...] = ()
    #: whether they have the tools that are replaced; so has any job where none was named
    has_old: bool = True
    #: what they are if nothing is to be done with them, where they have not
    as_left: tuple[Outcome, ...] = ()

    @property
    def left(self) -> bool:
        """Whether they are left alone, having another tool than the one that is replaced."""
        return any(one.status == "left" for one in self.outcomes)

    def alone(self) -> "Seen":
        """The same, with nothing to be done."""
        return self if self.outcomes else replace(self, outcomes=self.as_left)


class Held(NamedTuple):
    """A size of tool, and how many jobs have one."""

    size: Length
    jobs: int


def is_old(old: GivenTool, own: Bit | Bushing, profiles: Profiles) -> bool:
    """Whether a job's tool is the one that was given; `profiles` are the job's."""
    size = sold_as(own.diameter).exact
    if not old.named:
        return parse_length(old.text).exact == size
    if own.name is not None:
        return own.name == old.text
    try:
        entry: Any = profiles.find("bits" if isinstance(own, Bit) else "bushings", old.text).entry
    except InputError:
        return False
    return bool(sold_as(entry.diameter).exact == size)


def held(seen: Iterable[Seen], kind: Kind) -> tuple[Held, ...]:
    """The sizes that the tools of all these jobs are sold as, in the jobs' order."""
    found: dict[Fraction, Held] = {}
    for one in seen:
        if one.tools is not None:
            size = sold_as(tool_of(one.tools, kind).diameter)
            before = found.get(size.exact, Held(size, 0))
            found[size.exact] = Held(before.size, before.jobs + one.jobs)
    return tuple(found.values())


def by_kind(bit: GivenTool | None, bushing: GivenTool | None) -> dict[Kind, GivenTool]:
    """Those of the two that were given."""
    tools: tuple[tuple[Kind, GivenTool | None], ...] = (("bits", bit), ("bushings", bushing))
    return {kind: tool for kind, tool in tools if tool is not None}


def is_written(tool: GivenTool, own: Bit | Bushing) -> bool:
    """Whether a job writes for its tool what it would write for this one."""
    return tool.text == (own.diameter.text if own.typed else own.name)


def tool_of(tools: Tools, kind: Kind) -> Bit | Bushing:
    """The bit, or the bushing."""
    return tools.bit if kind == "bits" else tools.bushing


def unclear(seen: Sequence[Seen], new: Mapping[Kind, GivenTool]) -> Iterator[str]:
    """Of each kind of new tool that would replace several sizes: which, and what says the one that is meant."""
    for kind, tool in new.items():
        sizes = held((one for one in seen if kind in one.kinds), kind)
        if len(sizes) > 1:
            called, option = CALLED[kind]
            near = min(sizes, key=lambda one: abs(one.size.mm - tool.diameter)).size
            yield (
                f"its jobs have different {called}s, {_sizes(sizes)}: say which one is replaced, "
                f"{option} {quoted(near.text)}, or --every-job if all are meant"
            )


def none_meant(seen: Sequence[Seen], old: Mapping[Kind, GivenTool], folder: str) -> str | None:
    """The line that says so where no job has the tools that are to be replaced, and which they have; else None.

    InputError with it where none has the new ones either: a run that was done before leaves jobs that have.
    """
    readable = [one for one in seen if one.tools is not None]
    if not old or not readable or any(one.has_old for one in readable):
        return None
    options, which = (" and ".join(CALLED[kind][1] for kind in old), " and ".join(starmap(_called, old.items())))
    there = "; ".join(f"{CALLED[kind][0]}s {_sizes(held(seen, kind))}" for kind in old)
    line = f"{options}: no job in {folder} has {which} (they have {there})"
    if all(one.left for one in seen):
        raise InputError(line)
    return line


def _called(kind: Kind, tool: GivenTool) -> str:
    return f"the {CALLED[kind][0]} {shown(tool)}"


def _sizes(sizes: Sequence[Held]) -> str:
    """ "3/8 in (4 jobs) and 1/2 in (1 job)"."""
    return listed(f"{one.size} ({one.jobs} job{'s' * (one.jobs != 1)})" for one in sizes)
