"""The command `match` of a job file: which pairs can make it, whatever its shape."""

import json
import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import click

from jigtemplates.errors import quoted
from jigtemplates.facts import cut_wanted
from jigtemplates.match import Match, name_of
from jigtemplates.match.candidates import candidates
from jigtemplates.match.command import columns, print_lines, the_tools
from jigtemplates.match.judged import judged, refused
from jigtemplates.match.made import Source, made_with
from jigtemplates.match.text import SIZES, own_line, pair_lines, pairs_text
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import profiles_for
from jigtemplates.say import in_inches

#: What a shell leaves alone between double quotes, in every system's.
_PLAIN = set(" .,-_+/#%&()=:;~^'")


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed of a job."""

    path: Path
    size: str | None
    #: only the tools in this file
    tools: Path | None
    #: a folder of profiles
    folder: Path | None
    shipped: bool
    show_all: bool
    as_json: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """Every pair, best first, and how many of other diameters were left out."""

    job: Job
    matches: tuple[Match, ...]
    left: int
    #: whether shipped tools were left out, and how many of the person's own there are
    own: tuple[int, int] | None


def print_match_of_job(asked: Asked) -> int:
    """Print the pairs for a job; 0 where one can make it, else 1. InputError for what is wrong with job or tools.

    JSON is a list of the pairs that can (with --all also of the others), best first, each an object
    {"bit", "bushing", "possible", "opening": {"width", "length", "corner_radius"}, "predicted_cut": {"width", "length",
    "max_deviation", "unreachable_area"}, "side_play", "trapped", "passes", "reasons", "in_job"}, of several cuts with
    "cut": which of them, counted from 1, the sizes are of: the one that is furthest off, else the one with the most
    side play. "side_play" is the most of all cuts, and null for outside work, whose "opening" is the pattern and whose
    "predicted_cut" the work that is left; opening and cut are null where the pair was refused before anything was made.
    Lengths in mm, areas in mm², the reasons in the job's own unit. Pairs that were left out are told on stderr.
    """
    answer = answer_to(asked)
    able = any(one.possible for one in answer.matches)
    if asked.as_json:
        shown = [one.as_json() for one in answer.matches if one.possible or asked.show_all]
        click.echo(json.dumps(shown, indent=2))
        if answer.left:
            click.echo(_left_line(answer.left), err=True)
    else:
        print_lines(_lines(answer, asked))
    return 0 if able else 1


def answer_to(asked: Asked) -> Answer:
    """The pairs for a job, made and judged."""
    profiles = profiles_for(asked.path, asked.folder, tools=asked.tools)
    source = Source(asked.path, profiles, asked.size)
    job = source.job()
    held = the_tools(asked.tools, asked.folder, shipped=asked.shipped, job=asked.path)
    found = candidates(job, held.bits, held.bushings)
    made, left = made_with(source, job, (one for one in found if not one.stops), show_all=asked.show_all)
    matches = (*judged(made), *(refused(one, job) for one in found if one.stops))
    own = (len(held.bits), len(held.bushings)) if held.only_own else None
    return Answer(job, tuple(sorted(matches, key=lambda one: (*one.order, not one.in_job))), left, own)


def _lines(answer: Answer, asked: Asked) -> Iterator[str]:
    job, matches = answer.job, answer.matches
    always, matches = _with_every_pair(matches)
    if answer.own is not None:
        yield own_line(*answer.own)
    sizes = ("pattern", "work made") if is_outside(job.cut) else SIZES
    what = f"{'looked at ' if answer.left else ''}can make {_what(job)}"
    yield from pair_lines(what, matches, show_all=asked.show_all, inches=in_inches(job), columns=columns(), sizes=sizes)
    for message in always:
        yield f"With every pair: {message}"
    if answer.left:
        yield _left_line(answer.left)
    if matches[0].possible:
        yield from _next_lines(matches[0], asked)


def _what(job: Job) -> str:
    cuts = f"{len(job.cuts)} different cuts" if job.more_cuts else cut_wanted(job)
    return f"{quoted(job.title)} ({cuts})"


def _left_line(left: int) -> str:
    return f"{pairs_text(left)} of other diameters, likely to come after these, not looked at (--all does)"


def _with_every_pair(matches: tuple[Match, ...]) -> tuple[tuple[str, ...], tuple[Match, ...]]:
    """Stops that no pair of those made escapes, and the pairs with what else stops them."""
    made = [one for one in matches if one.opening is not None]
    if not made or any(one.possible for one in matches):
        return (), matches
    always = tuple(text for text in made[0].reasons if all(text in one.reasons for one in made))
    return always, tuple(replace(one, reasons=_others(one, always)) for one in matches)


def _others(one: Match, always: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(text for text in one.reasons if text not in always) or ("nothing but what stops every pair",)


def _next_lines(best: Match, asked: Asked) -> Iterator[str]:
    """How the best pair is taken."""
    if best.in_job:
        yield "The job has the best of these already."
        return
    bit, bushing = name_of(best.bit), name_of(best.bushing)
    options: Mapping[str, str | None] = {
        "--bit": bit,
        "--bushing": bushing,
        "--tools": None if asked.tools is None else str(asked.tools),
        "--profiles": None if asked.folder is None else str(asked.folder),
    }
    words = [word for name, value in options.items() if value is not None for word in (name, in_quotes(value))]
    yield f"To make it with the first: jigtemplates make {' '.join((in_quotes(str(asked.path)), *words))}"
    in_toml = [json.dumps(name, ensure_ascii=False) for name in (bit, bushing)]
    yield "To keep it: bit = {} and bushing = {} in [tools] of the job".format(*in_toml)


def in_quotes(word: str) -> str:
    """A word for a command line: as it is, between double quotes, or as a POSIX shell takes it."""
    if word and word == shlex.quote(word):
        return word
    plain = word and all(one.isalnum() or one in _PLAIN for one in word)
    return f'"{word}"' if plain else shlex.quote(word)
