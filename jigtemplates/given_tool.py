"""A bit or bushing as an option of the command line gives it: a diameter, or a name in the profiles."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal, NamedTuple

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import sold_as
from jigtemplates.match.command import read_lengths
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.job import Owned
from jigtemplates.parameters.lookup import LIKE_A_LENGTH
from jigtemplates.parameters.owned import owned
from jigtemplates.profiles import Found, Profiles

_CALLED = {"bits": "bit", "bushings": "guide bushing"}


@dataclass(frozen=True, slots=True)
class GivenTool:
    """What is known of a tool that was named on the command line."""

    #: what a job writes for it: the name, or the diameter with its unit
    text: str
    #: mm; the measured one where there is one
    diameter: float
    #: what a bushing's bore is, mm; None for a bit, and where it is not known
    bore: float | None
    #: whether it is a name from the profiles
    named: bool
    #: where a bare diameter was given, the person's own tools that are sold as it and measure otherwise
    measured: tuple[Owned, ...] = field(default=(), compare=False)


class Option(NamedTuple):
    """An option and what was typed after it."""

    #: such as "--bit"
    name: str
    kind: Literal["bits", "bushings"]
    typed: str | None


def given_tools(options: Iterable[Option], profiles: Profiles) -> tuple[GivenTool | None, ...]:
    """The tool of each option, None where it was not given; InputError has a line for each that will not do."""
    found: list[GivenTool | None] = []
    faults: list[str] = []
    for option in options:
        try:
            found.append(None if option.typed is None else _tool(option, option.typed, profiles))
        except InputError as error:
            faults += error.lines
    if faults:
        raise InputError(faults)
    return tuple(found)


def _tool(option: Option, typed: str, profiles: Profiles) -> GivenTool:
    entries = {found.name: found for found in profiles.entries(option.kind)}
    text = typed.strip()
    if text in entries:
        return _named(entries[text])
    try:
        length = read_lengths({option.name: typed})[option.name]
    except InputError:
        near = profiles.looked(did_you_mean(text, entries), option.kind, text)
        if LIKE_A_LENGTH.match(text) and not near.startswith(("did you mean", '"')):
            raise
        called = _CALLED[option.kind]
        raise InputError(
            f"{option.name}: {quoted(text)} is neither a length nor a {called} in the profiles ({near})"
        ) from None
    bores = {_named(found).bore for found in entries.values() if _sold_as(found) == length.exact}
    bore = bores.pop() if option.kind == "bushings" and len(bores) == 1 else None
    own = owned(option.kind, length, profiles) if profiles.has_own else ()
    measured = tuple(one for one in own if one.diameter.exact != length.exact)
    return GivenTool(length.text, length.mm, bore, named=False, measured=measured)


def _sold_as(found: Found[Any]) -> Fraction:
    """The size a tool is sold as, mm: tools of one trade size have one bore, whatever each measures."""
    entry = found.entry
    assert isinstance(entry, Bit | Bushing)
    return sold_as(entry.diameter).exact


def _named(found: Found[Any]) -> GivenTool:
    entry = found.entry
    assert isinstance(entry, Bit | Bushing)
    bore = entry.bore.mm if isinstance(entry, Bushing) and entry.bore is not None else None
    return GivenTool(found.name, entry.diameter.mm, bore, named=True)


def shown(tool: GivenTool) -> str:
    """What to call it in a sentence."""
    return quoted(tool.text) if tool.named else tool.text


def measured_otherwise(options: Iterable[Option], tools: Iterable[GivenTool | None]) -> tuple[str, ...]:
    """A line for each option with a bare size as which the person has a tool that measures otherwise."""
    return tuple(
        f"{option.name}: {tool.text} is taken as it stands; {_typed(one)} measures {one.diameter} "
        f"(for that: {option.name} {_typed(one)})"
        for option, tool in zip(options, tools, strict=True)
        if tool is not None
        for one in tool.measured
    )


def _typed(one: Owned) -> str:
    return f"'{one.name}'" if '"' in one.name else f'"{one.name}"'
