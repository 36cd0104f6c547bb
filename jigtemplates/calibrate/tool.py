"""A bit or bushing as it was measured, or as a gauge showed it, becomes a correction of its profile."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

from jigtemplates.calibrate.arithmetic import Size
from jigtemplates.calibrate.change import InJob, Rewrite, Tree, diameter_of, place_of, rewrite, tree_of
from jigtemplates.calibrate.jobs import Corrected, measured_before
from jigtemplates.calibrate.plausible import against_earlier, day_questions, tool_questions
from jigtemplates.calibrate.proposal import Options, Proposal, length_text, with_within
from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Length, LengthError, Measured, first_text, full_text, parse_length, sold_as
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.measured import FURTHEST
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Found, Profiles

Kind = Literal["bits", "bushings"]
CALLED = {"bits": "bit", "bushings": "bushing"}


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool as it was named: its profile, or a size that none of the person's own is sold as."""

    kind: Kind
    #: the name in the profiles, found or new
    name: str
    #: size it is sold as
    nominal: Length
    #: the size in force, a Measured where it was measured
    diameter: Length
    found: Found[Any] | None

    @property
    def called(self) -> str:
        """What to call it in a sentence."""
        return f"{CALLED[self.kind]} {quoted(self.name)}"


def tool_of(kind: Kind, typed: str, profiles: Profiles) -> Tool:
    """The tool of a name in the profiles, or of the size it is sold as.

    A size stands for the only own tool of it, else for a new one. InputError where it is neither, or where several are
    sold as that size.
    """
    text = typed.strip()
    entries = {found.name: found for found in profiles.entries(kind)}
    if text in entries:
        return _named(kind, entries[text])
    try:
        size = parse_length(text)
        if size.exact <= 0:
            raise LengthError(text, "write a length greater than 0")
    except LengthError as error:
        near = profiles.looked(did_you_mean(text, entries), kind, text)
        called = f"{CALLED[kind]}: {quoted(text)} is neither a length nor a {CALLED[kind]} in the profiles ({near})"
        raise InputError(
            f"{CALLED[kind]}: {error}" if text[:1].isdigit() and not near.startswith(("did you", '"')) else called
        ) from None
    return _sized(kind, size, profiles)


def _named(kind: Kind, found: Found[Any]) -> Tool:
    diameter: Length = found.entry.diameter
    return Tool(kind, found.name, sold_as(diameter), diameter, found)


def _sized(kind: Kind, size: Length, profiles: Profiles) -> Tool:
    own = [found for found in profiles.own(kind) if sold_as(_diameter(found)).exact == size.exact]
    if len(own) == 1:
        return _named(kind, own[0])
    if own:
        names = ", ".join(quoted(found.name) for found in own)
        raise InputError(f"{CALLED[kind]}: {len(own)} of yours are sold as {size} (say which: {names})")
    return Tool(kind, f"my {size} {CALLED[kind]}", size, size, None)


def _diameter(found: Found[Any]) -> Length:
    entry = found.entry
    assert isinstance(entry, Bit | Bushing)
    return entry.diameter


def refuse_far(tool: Tool, size: float, option: str, *, inches: bool) -> None:
    """Refuse what no profile can hold: InputError for a size too far from the one the tool is sold as.

    With inches, in which the reading was typed, they are said first.
    """
    if size <= 0 or abs(Fraction(size) - tool.nominal.exact) > FURTHEST:
        raise InputError(
            f"{option}: the {tool.called} would be {first_text(size, inches, 3)}, more than "
            f"{first_text(FURTHEST, inches)} from {tool.nominal}, what it is sold as (is it another tool, or the "
            "unit wrong?)"
        )


def tool_proposal(
    tool: Tool, new: Size, how: str, options: Options, profiles: Profiles, *, inches: bool, jobs: Sequence[Path] = ()
) -> Proposal:
    """The tool's profile with its new size; how says what it was measured from.

    `jobs` are those to get its name in the place of a bare size; InputError where one has no such size.
    """
    size, within = (length_text(mm, inches=inches) for mm in (new.mm, new.within))
    before = tool.diameter if isinstance(tool.diameter, Measured) else None
    return Proposal(
        what=tool.called,
        facts=(
            ("measured", how),
            ("until now", full_text(tool.diameter) if before else f"{tool.nominal}, not measured"),
            ("from now", f"{with_within(new.mm, new.within, inches=inches)}, sold as {tool.nominal}"),
        ),
        questions=(
            *tool_questions(new.mm, tool.nominal, measured_before(tool.diameter), inches=inches),
            *against_earlier(new.mm, new.within, before, before and before.within, inches=inches),
            *day_questions(options.on, None if before is None else before.measured_on),
        ),
        corrected=Corrected(tool.kind, tool.name, tool.nominal),
        rewrites=(
            _rewrite(tool, size, within, options, profiles),
            *(_naming(tool, job, profiles, options) for job in jobs),
        ),
        numbers=(
            ("tool", tool.name),
            ("nominal", tool.nominal.mm),
            ("before", None if before is None else before.mm),
            ("now", round(new.mm, 6)),
            ("within", round(new.within, 6)),
        ),
    )


def _rewrite(tool: Tool, size: str, within: str, options: Options, profiles: Profiles) -> Rewrite:
    place = place_of(tool.kind, tool.name, tool.found, options.file)
    raw = None if place.raw is None else place.raw.get("diameter")
    if raw is None and isinstance(tool.diameter, Measured):
        assert tool.found is not None
        raw = tree_of(tool.found.entry)["diameter"]
    diameter = diameter_of(raw, tool.nominal, size, within, options.on)
    return rewrite(place, "diameter", diameter, {**_whole(tool, profiles), "diameter": diameter})


def _whole(tool: Tool, profiles: Profiles) -> Tree:
    """All that is known of a tool, for a file that has no entry of it yet."""
    if tool.found is not None:
        return {"diameter": None, **tree_of(tool.found.entry)}
    same = [
        found.entry for found in profiles.entries(tool.kind) if sold_as(_diameter(found)).exact == tool.nominal.exact
    ]
    bores = {entry.bore.text for entry in same if isinstance(entry, Bushing) and entry.bore is not None}
    return {"diameter": None, **({"bore": bores.pop()} if len(bores) == 1 else {})}


def _naming(tool: Tool, job: Path, profiles: Profiles, options: Options) -> InJob:
    """The job with the tool's name; InputError where it has another tool, or a name already."""
    from jigtemplates.profiles import profiles_for

    key = "bit" if tool.kind == "bits" else "bushing"
    held = load_jobs(job, profiles=profiles_for(job, options.folder, tools=options.tools))[0].tools
    there = held.bit if tool.kind == "bits" else held.bushing
    if not there.typed or sold_as(there.diameter).exact != tool.nominal.exact:
        said = f"it is {quoted(there.label)}"
        raise InputError(
            f"{shown_name(str(job))}: tools.{key}: is not the bare size {tool.nominal}, {said} (leave --job out)"
        )
    return InJob(job, key, tool.name)


def in_job(job: Path, tool: Bit | Bushing | Any, key: str, table: Tree, size: str, within: str, on: str) -> InJob:
    """A job's own table of a tool with another diameter; the table is as the job has it."""
    diameter = diameter_of(table.get("diameter"), sold_as(tool.diameter), size, within, on)
    return InJob(job, key, {**table, "diameter": diameter})
