"""The command `inlay`: options as they were typed become pairs of bit and bushing, and lines."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from jigtemplates.errors import InputError, quoted
from jigtemplates.given_tool import GivenTool, Option, given_tools
from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.pairs import Candidate, candidates, changes, passes
from jigtemplates.inlay.stems import NOT_JUDGED, left_out_text, stem_words, suiting, too_narrow_text
from jigtemplates.inlay.text import candidate_lines, change_lines, fit_lines, hung
from jigtemplates.inlay.words import INLAY, SECOND, Names
from jigtemplates.lengths import Length, sold_as
from jigtemplates.match.command import Tools, read_lengths, refuse_too_many, the_tools
from jigtemplates.match.reach import Stack
from jigtemplates.match.text import own_line
from jigtemplates.parameters.entries import Bit, Bushing
from jigtemplates.parameters.inlay_table import WIDEST_GLUE_LINE
from jigtemplates.profiles import Profiles, profiles_for

#: What each pair's options are called.
_PAIRS = {"--recess": INLAY, "--plug": INLAY, "--first": SECOND, "--second": SECOND}
_OF_A_BIT = {"--plug-bit": INLAY, "--first-bit": SECOND}


@dataclass(frozen=True)
class Asked:
    """What was typed."""

    jobs: Sequence[Path]
    #: one length or name by its option: "--bit", "--plug-bit", "--first-bit", "--glue-line"
    single: Mapping[str, str | None]
    #: bit and bushing by their option: "--recess", "--plug", "--first", "--second"
    pairs: Mapping[str, tuple[str, str] | None]
    second_template: bool
    tools: Path | None
    folder: Path | None
    shipped: bool
    show_all: bool
    as_json: bool
    #: where a page of a job's second template goes
    picture: Path | None = None

    @property
    def given(self) -> list[str]:
        """The options that say something of tools."""
        return [name for name, value in (*self.single.items(), *self.pairs.items()) if value is not None]

    @property
    def names(self) -> Names:
        """What the two cuts are called."""
        return SECOND if self.second_template or any(_whose(name) is SECOND for name in self.given) else INLAY


def _whose(option: str) -> Names | None:
    """Which of the two questions an option belongs to; None for both."""
    return _PAIRS.get(option) or _OF_A_BIT.get(option)


def print_inlay(asked: Asked) -> int:
    """Print what was asked: of jobs, of two pairs, or of bushings for a bit; 0 where they fit, else 1.

    Raises InputError with every fault of the options.
    """
    if asked.picture is not None and (len(asked.jobs) != 1 or asked.pairs["--first"] is None):
        raise InputError("--picture: is of one job and its second template (give JOB and --first BIT BUSHING as well)")
    if asked.picture is not None and asked.picture.suffix.lower() != ".pdf":
        raise InputError(f"--picture: {quoted(str(asked.picture))} is no PDF file (end its name in .pdf)")
    if asked.jobs:
        from jigtemplates.inlay.jobs import print_jobs

        _refuse(_not_with_jobs(asked))
        return print_jobs(asked)
    _refuse(_faults(asked))
    return _print_pairs(asked) if any(asked.pairs.values()) else _print_candidates(asked)


def _refuse(faults: Iterable[str]) -> None:
    listed = list(faults)
    if listed:
        raise InputError(listed)


def _not_with_jobs(asked: Asked) -> Iterable[str]:
    for name in asked.given:
        if name in ("--plate", "--stand-off"):
            yield f"{name}: not with a job, which says that in its [plate] (leave it out)"
        elif name != "--first":
            yield f"{name}: not with a job, whose tools stand in its [tools] and [inlay] (leave one of them out)"
    if asked.second_template and asked.pairs["--first"] is None:
        hint = 'add --first BIT BUSHING, such as "1/8 in" "3/8 in"'
        yield f"--second-template: a job needs the pair that runs round its first template ({hint})"


def _faults(asked: Asked) -> Iterable[str]:
    names = asked.names
    for name in asked.given:
        if _whose(name) not in (None, names):
            yield f"{name}: not in the same question as a second template (leave one of them out)"
    if asked.single["--stand-off"] is not None and asked.single["--plate"] is None:
        yield "--stand-off: says nothing of a stem without the template's thickness (add --plate)"
    outer, inner = (f"--{part}" for part in (names.outer, names.inner))
    has_pair = [name for name in asked.given if name in _PAIRS]
    if not has_pair and asked.single["--bit"] is None:
        yield f"--bit: is missing (give a bit, or {outer} and {inner} with a bit and a bushing each, or a job)"
    if has_pair:
        missing = [name for name in (outer, inner) if asked.pairs[name] is None]
        yield from (f"{name}: is missing (give its bit and its bushing)" for name in missing)
        yield from (
            f"{name}: not with {outer} and {inner}, which have bits of their own (leave it out)"
            for name in asked.given
            if name.endswith("bit")
        )


def _print_pairs(asked: Asked) -> int:
    """Whether two pairs fit."""
    names, profiles = asked.names, profiles_for(Path("job.toml"), asked.folder, tools=asked.tools)
    options = [option for part in (names.outer, names.inner) for option in options_of(asked, f"--{part}")]
    tools = [tool for tool in given_tools(options, profiles) if tool is not None]
    fit = Fit(pair_of("--" + names.outer, *tools[:2]), pair_of("--" + names.inner, *tools[2:]), glue_line(asked))
    inches = all(is_inch(tool, profiles) for tool in tools)
    stack = stack_of(asked, inches and not asked.as_json)
    stems = [] if stack is None else [stem_words(_entry(tool, profiles), stack) for tool in (tools[1], tools[3])]
    said = [f"{part}: {text}" for part, (_, text) in zip((names.outer, names.inner), stems, strict=False) if text]
    status = int(not fit.fits or not all(can for can, _ in stems))
    if asked.as_json:
        remarks = {} if stack is None else {"remarks": said}
        click.echo(json.dumps({**fit.as_json(names.outer, names.inner), **remarks}, indent=2))
        return status
    outer, inner = (tools[0].text, tools[1].text), (tools[2].text, tools[3].text)
    print_lines(fit_lines(fit, outer, inner, inches=inches, names=names))
    for line in said:
        print_lines(hung(f"{_capital(line)}.", ""))
    if not fit.fits:
        bits, bushings = own_tools(profiles, asked)
        usable = bushings if stack is None else suiting(bushings, stack)
        print_lines(change_lines(changes(fit, bits, usable), inches=inches, names=names))
    print_lines(_not_judged() if stack is None else ())
    return status


def stack_of(asked: Asked, inches: bool) -> Stack | None:
    """Plate and stand-off of the options; None where no plate was given."""
    found = read_lengths({name: asked.single[name] for name in ("--plate", "--stand-off")})
    if "--plate" not in found:
        return None
    gap = found.get("--stand-off")
    return Stack(found["--plate"].mm, 0.0 if gap is None else gap.mm, None, inches)


def _entry(tool: GivenTool, profiles: Profiles) -> Bushing | None:
    """What the profiles say of a bushing that was named; None for a bare diameter."""
    return profiles.find("bushings", tool.text).entry if tool.named else None


def own_tools(profiles: Profiles, asked: Asked) -> tuple[list[Bit], list[Bushing]]:
    """The person's own bits and bushings where they have both, else, or with --shipped, all there are.

    InputError where they are too many.
    """
    own: list[list[Any]] = [[found.entry for found in profiles.own(kind)] for kind in ("bits", "bushings")]
    if not all(own) or asked.shipped:
        own = [[found.entry for found in profiles.entries(kind)] for kind in ("bits", "bushings")]
    refuse_too_many(own[0], own[1], asked.tools)
    return own[0], own[1]


def options_of(asked: Asked, name: str) -> tuple[Option, Option]:
    """The bit and the bushing of a pair that was typed."""
    bit, bushing = asked.pairs[name] or (None, None)
    return Option(name, "bits", bit), Option(name, "bushings", bushing)


def pair_of(option: str, bit: GivenTool, bushing: GivenTool) -> Pair:
    """A bit in a bushing; InputError where it does not go in."""
    if bit.diameter >= bushing.diameter:
        raise InputError(
            f"{option}: the bit, {bit.text}, is not smaller than its bushing, {bushing.text} (the bit comes first)"
        )
    if bushing.bore is not None and bit.diameter >= bushing.bore - 1e-9:
        raise InputError(f"{option}: the bit, {bit.text}, does not pass the bore of the bushing, {bushing.text}")
    return Pair(bit.diameter, bushing.diameter)


def _print_candidates(asked: Asked) -> int:
    """Which bushings fit together for a bit."""
    names, profiles = asked.names, profiles_for(Path("job.toml"), asked.folder, tools=asked.tools)
    other = f"--{names.inner}-bit"
    options = [Option(name, "bits", asked.single[name]) for name in ("--bit", other)]
    bit, own_other = given_tools(options, profiles)
    assert bit is not None
    inner = own_other or bit
    inches, line = all(is_inch(tool, profiles) for tool in (bit, inner)), glue_line(asked)
    held, in_words = the_tools(asked.tools, asked.folder, shipped=asked.shipped), inches and not asked.as_json
    stack, sizes = stack_of(asked, in_words), (bit.diameter, inner.diameter)
    found = candidates(*sizes, held.bushings, glue_line=line, stack=stack, inches=in_words)
    if asked.as_json:
        click.echo(json.dumps([one.as_json(names.outer, names.inner) for one in found], indent=2))
    else:
        _print_found(asked, held, found, (bit, inner), line, inches)
        print_lines(_left_out(held.bushings, found, sizes, line, stack))
    return int(not any(one.fit.fits for one in found))


def _not_judged() -> Iterable[str]:
    return hung(f"{_capital(NOT_JUDGED)}.", "")


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def _left_out(
    bushings: Sequence[Bushing], found: Sequence[Candidate], bits: tuple[float, float], line: float, stack: Stack | None
) -> Iterable[str]:
    """That stems were not judged, and which bushings were left out for theirs, or since no bit passes them.

    Where two are left that fit only those are named that would fit as well, else all.
    """
    fits, kept = any(one.fit.fits for one in found), suiting(bushings, stack) if stack else tuple(bushings)
    going = [one for one in bushings if any(passes(bit, one) for bit in bits)]
    wanted = going
    if fits:
        every = candidates(*bits, bushings, glue_line=line)
        ids = {id(one) for pair in every if pair.fit.fits for one in (pair.recess, pair.plug)}
        wanted = [one for one in bushings if id(one) in ids]
    left = [one for one in wanted if not any(one is other for other in kept)]
    words = [] if stack is None else [*left_out_text(left, stack)]
    words += [] if fits else [*too_narrow_text([one for one in bushings if not any(one is other for other in going)])]
    yield from (text for one in words for text in hung(f"{one}.", ""))
    yield from _not_judged() if stack is None else ()


def _print_found(
    asked: Asked, held: Tools, found: Sequence[Candidate], bits: tuple[GivenTool, GivenTool], line: float, inches: bool
) -> None:
    print_lines([own_line(len(held.bits), len(held.bushings))] if held.only_own else [])
    print_lines(
        candidate_lines(
            found, (bits[0].text, bits[1].text), (bits[0].diameter, bits[1].diameter), glue_line=line, inches=inches,
            names=asked.names, show_all=asked.show_all,
        )
    )  # fmt: skip


def glue_line(asked: Asked) -> float:
    """The glue line of the options, mm; 0 where none was given."""
    length = read_lengths({"--glue-line": asked.single["--glue-line"]}).get("--glue-line")
    if length is None:
        return 0.0
    if length.exact > WIDEST_GLUE_LINE:
        raise InputError(f'--glue-line: "{length}" is too much for a glue line (at most {WIDEST_GLUE_LINE} mm a side)')
    return length.mm


def is_inch(tool: GivenTool, profiles: Profiles) -> bool:
    """Whether a tool was typed, or is sold, in inches."""
    if not tool.named:
        return tool.text.endswith(" in")
    entries: list[Any] = [*profiles.entries("bits"), *profiles.entries("bushings")]
    diameters: list[Length] = [found.entry.diameter for found in entries if found.name == tool.text]
    return bool(diameters) and sold_as(diameters[0]).is_inch


def print_lines(lines: Iterable[str]) -> None:
    """Each on a line of its own."""
    for line in lines:
        click.echo(line)
