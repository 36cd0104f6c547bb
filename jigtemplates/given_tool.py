"""A bit or bushing as an option of the command line gives it: a diameter, or a name in the profiles."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.match.command import read_lengths
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.profiles import Found, Profiles

_CALLED = {"bits": "bit", "bushings": "guide bushing"}
_LIKE_A_LENGTH = re.compile(r"[-+.]?[0-9½⅓⅔¼¾⅛⅜⅝⅞]|[-+]?(nan|inf)\b|$", re.IGNORECASE)


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
        near = profiles.looked(did_you_mean(text, entries))
        if _LIKE_A_LENGTH.match(text) and not near.startswith("did you mean"):
            raise
        called = _CALLED[option.kind]
        raise InputError(
            f"{option.name}: {quoted(text)} is neither a length nor a {called} in the profiles ({near})"
        ) from None
    bores = {found.bore for entry in entries.values() if (found := _named(entry)).diameter == length.mm}
    bore = bores.pop() if option.kind == "bushings" and len(bores) == 1 else None
    return GivenTool(length.text, length.mm, bore, named=False)


def _named(found: Found[Any]) -> GivenTool:
    entry = found.entry
    assert isinstance(entry, Bit | Bushing)
    bore = entry.bore.mm if isinstance(entry, Bushing) and entry.bore is not None else None
    return GivenTool(found.name, entry.diameter.mm, bore, named=True)


def shown(tool: GivenTool) -> str:
    """What to call it in a sentence."""
    return quoted(tool.text) if tool.named else tool.text
