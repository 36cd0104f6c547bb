"""A family: one job file with several sizes, each a table [cuts.NAME], and what they share in [cut].

A member's cut is [cut] with the member's own keys over it; `title` in a member stands for the file's title.
"""

import pathlib
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import Any, NamedTuple

from jigtemplates.errors import quoted
from jigtemplates.parameters.faults import Fault
from jigtemplates.parameters.toml_lines import Path
from jigtemplates.parameters.toml_text import LARGEST_BYTES

#: The table of the sizes, and the table of what they share.
CUTS, CUT = "cuts", "cut"
#: A size's name: it becomes part of the names of folders and files.
MEMBER = re.compile(r"[A-Za-z0-9_-]{1,40}")
#: Most sizes in one file (chosen: more than any set of templates has).
MOST_MEMBERS = 200

_TABLES = "write a table for each size, [cuts.NAME]"


def stems_in(path: pathlib.Path) -> tuple[str, ...]:
    """The stems of the jobs in a file, found without checking it: its own, or one for each of its sizes.

    A file that cannot be read has its own; what is wrong with it is for `load_jobs` to say.
    """
    tables = None
    with suppress(OSError, ValueError, RecursionError):
        if path.is_file() and path.stat().st_size <= LARGEST_BYTES and CUTS.encode() in (raw := path.read_bytes()):
            tables = tomllib.loads(raw.decode("utf-8-sig")).get(CUTS)
    return tuple(f"{path.stem}-{name}" for name in tables) if isinstance(tables, dict) else (path.stem,)


class Member(NamedTuple):
    """One size of a family, as a job file of its own would say it."""

    #: what stands behind the file's name in the names of its files
    name: str
    #: the keys of the cut or the title that are the member's: in its table, or made from its name
    own: frozenset[str]
    #: whether the file has a [cut] with what its sizes share
    shares: bool
    #: the whole job's data
    data: dict[str, Any]


def members(data: Mapping[str, Any]) -> tuple[Member, ...]:
    """The sizes of a file whose `family_faults` are none, in its order."""
    shared = {key: value for key, value in data.items() if key != CUTS}
    return tuple(_member(name, table, shared) for name, table in data[CUTS].items())


def _member(name: str, table: Mapping[str, Any], shared: Mapping[str, Any]) -> Member:
    cut = {key: value for key, value in table.items() if key != "title"}
    base = shared.get(CUT, {})
    merged = {**base, **cut} if isinstance(base, dict) else base  # no table: left for the model to refuse
    data = {**shared, CUT: merged}
    if "title" in table:
        data["title"] = table["title"]
    elif isinstance(title := shared.get("title"), str) and title.strip():
        data["title"] = f"{title.strip()}, {name}"
    own = {*table, *(("title",) if data.get("title") != shared.get("title") else ())}
    return Member(name, frozenset(own), CUT in shared, data)


def family_faults(data: Mapping[str, Any]) -> Iterator[Fault]:
    """What is wrong with [cuts] before any size is looked at."""
    tables = data[CUTS]
    if isinstance(data.get(CUT), list):
        yield _fault((CUT,), "holds several cuts, which sizes cannot share (write one table [cut])")
        return
    if not isinstance(tables, dict):
        yield _fault((CUTS,), f"{quoted(tables)} does not fit here ({_TABLES})")
        return
    if not 1 <= len(tables) <= MOST_MEMBERS:
        yield _fault((CUTS,), f"holds {len(tables)} sizes ({_TABLES}; 1 to {MOST_MEMBERS})")
        return
    yield from _member_faults(tables)


def _member_faults(tables: Mapping[str, Any]) -> Iterator[Fault]:
    spelled: dict[str, str] = {}
    for name, table in tables.items():
        other = spelled.setdefault(name.casefold(), name)
        if not isinstance(table, dict):
            yield _fault((CUTS, name), f"{quoted(table)} does not fit here ({_TABLES})")
        if not MEMBER.fullmatch(name):
            yield _fault((CUTS, name), f"{quoted(name)} cannot name a size (letters, digits, - and _; 1 to 40)")
        if other != name:
            yield _fault((CUTS, name), f"differs only in capitals from {quoted(other)} (rename one)")


def _fault(path: tuple[str, ...], message: str) -> Fault:
    return Fault(path, path, message)


def told_apart(found: Sequence[tuple[Member, tuple[Fault, ...]]]) -> Iterator[Fault]:
    """The faults of all members, each at the keys where the file has it.

    What every member has wrong in the cut they share is said once, where it stands. Any other fault of a cut, or
    of a member's title, names the member.
    """
    in_all = set.intersection(*(set(faults) for _, faults in found)) if found else set()
    for member, faults in found:
        for fault in faults:
            if _is_members(fault, member, in_all=fault in in_all):
                yield Fault(_in_member(fault.keys, member), _in_member(fault.at, member), fault.message)
            else:
                yield fault


def _is_members(fault: Fault, member: Member, *, in_all: bool) -> bool:
    """Whether a fault belongs to what a member says, or to what it makes of the shared cut."""
    if fault.at[0] != CUT:
        return fault.at[0] == "title" and "title" in member.own
    return not in_all or not member.shares or not member.own.isdisjoint(fault.at[1:2])


def _in_member(path: Path, member: Member) -> Path:
    """The keys of a cut or of a title as keys of the member's table."""
    return (CUTS, member.name, *(path[1:] if path[0] == CUT else path))
