"""Calls of the command line: every command and option that click knows of, with values that are right, odd or hostile.

A command or option that comes is tried without a change here; its metavar says what belongs there.
"""

from collections.abc import Iterator
from typing import NamedTuple

import click
from hypothesis import strategies as st
from strategies import HOSTILE_TEXT, LENGTH_TEXTS, TEXTS

from jigtemplates.cli import cli

#: Folders where a command writes, unless it is told another.
OUTS = {"make": "templates", "holder": "holders", "sheet": "sheets", "gauge": "gauges"}
#: Commands that write nothing at all.
READ_ONLY = ("check", "match", "profiles", "drawer", "tools list")


class Leaf(NamedTuple):
    """A command that does something."""

    words: tuple[str, ...]
    command: click.Command


def leaves(command: click.Command = cli, words: tuple[str, ...] = ()) -> Iterator[Leaf]:
    """Every command without subcommands, and the groups that do something by themselves."""
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            held = command.get_command(context, name)
            assert held is not None
            yield from leaves(held, (*words, name))
    if words and (not isinstance(command, click.Group) or command.invoke_without_command):
        yield Leaf(words, command)


LEAVES = tuple(leaves())

#: Nothing in these leads out of the arena.
ODD_PATHS = (
    "", "no/such", "CON", "nul.toml", "a\nb.toml", "x" * 300, "\0", "é/ü.toml", "own.toml/x", "pipe.toml", "~", "$HOME",
    "a.svg", "templates/job/job.json", "empty.toml", "loop", "*", "x?.toml", " ", "../here/out", "./", "new one.toml",
    "\udcff.toml", "binary.toml", "-",
)  # fmt: skip
PATHS = {
    "JOB": ("job.toml", "job.toml", "jobs/inlay.toml", "jobs/family.toml", "jobs", "."),
    "FILE": ("own.toml", "own.toml", "profiles/tools.toml", "new.toml"),
    "DIR": ("templates", "templates", "profiles", "jobs", ".", "out"),
    "PATH": ("new.toml", "new", "-"),
}
NAMES = (
    "a4", "letter", "mdf", "plywood", "quay-frame-160", "quay-frame-160", "bits", "bushings", "routers", "holders",
    "laser", "cnc", "paper", "print", "along", "across", "any", "set-1", "sheet", "shallow", "shop 8 mm up-spiral",
)  # fmt: skip
KEYS = ("diameter", "shank", "kind", "bore", "stem", "diameter.measured", "note", "width", "screws.size", "a.b.c")
SIZES = st.tuples(LENGTH_TEXTS, st.sampled_from([" x ", "x", "×", " X ", "x x"]), LENGTH_TEXTS).map("".join)
LENGTHS = LENGTH_TEXTS | st.sampled_from(("8 mm", "3/8 in", "12 mm", "17 mm", "0.1 mm", "50 mm", "6 mm", "1/2 in"))
RIGHT = {
    "L": LENGTHS,
    "LxL": SIZES | LENGTHS,
    "WxH": SIZES | st.sampled_from(["600x300", "600x300*2", "24 x 12 in"]),
    "BIT BUSHING": LENGTHS,
    "N": st.integers(-2, 40).map(str) | st.sampled_from(["job=3", "x=", "1e3", "٣", str(10**30)]),
    "DATE": st.dates().map(str) | st.sampled_from(["2026-11-25", "2026-11-31", "25.11.2026"]),
    "KEY=VALUE...": st.tuples(
        st.sampled_from(KEYS),
        LENGTHS | TEXTS,
    ).map("=".join),
}  # fmt: skip


def _value(param: click.Parameter) -> st.SearchStrategy[str]:
    metavar = (param.metavar or param.name or "").strip("[].").upper()
    if isinstance(param.type, click.Choice):
        return st.sampled_from(tuple(param.type.choices))
    if isinstance(param.type, click.Path):
        return st.sampled_from(PATHS.get(metavar, PATHS["FILE"])) | st.sampled_from(ODD_PATHS)
    right = RIGHT.get(param.metavar or "", st.sampled_from(NAMES))
    return right | right | right | st.sampled_from(HOSTILE_TEXT) | TEXTS


@st.composite
def given_options(draw: st.DrawFn, command: click.Command) -> list[str]:
    """Some of a command's options."""
    options = [p for p in command.params if isinstance(p, click.Option)]
    words: list[str] = []
    for option in draw(st.lists(st.sampled_from(options), max_size=5)) if options else ():
        words.append(draw(st.sampled_from([*option.opts, *option.secondary_opts])))
        if not option.is_flag:
            words += [draw(_value(option)) for _ in range(option.nargs)]
    return words


@st.composite
def calls(draw: st.DrawFn) -> tuple[Leaf, list[str]]:
    """One call: the command, then arguments and options in any order, now and then a word too many."""
    leaf = draw(st.sampled_from(LEAVES))
    arguments = [p for p in leaf.command.params if isinstance(p, click.Argument)]
    words = [
        draw(_value(p)) for p in arguments for _ in range(draw(st.sampled_from([1, 1, 1, 2])) if p.nargs < 0 else 1)
    ]
    required = [p for p in leaf.command.params if isinstance(p, click.Option) and p.required]
    wanted = [word for p in required for word in (p.opts[0], draw(_value(p)))]
    options = draw(given_options(leaf.command))
    more = draw(st.lists(TEXTS, max_size=1)) if draw(st.integers(0, 9)) == 0 else []
    laid = [*words, *wanted, *options, *more]
    return leaf, [*leaf.words, *(word.replace("\0", "") for word in laid)]  # which no system hands to a program


def may_write(leaf: Leaf, args: list[str]) -> list[str]:
    """The files and folders of the arena that a call may write to."""
    name = " ".join(leaf.words)
    if name == "inlay":
        return [args[at + 1] for at, word in enumerate(args[:-1]) if word == "--picture"]
    if name in READ_ONLY or "--look" in args:
        return []
    if leaf.words[0] in OUTS:
        given = [args[at + 1] for at, word in enumerate(args[:-1]) if word == "--out"]
        return [*given, OUTS[leaf.words[0]]]
    return ["."]
