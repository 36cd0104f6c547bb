"""Every option of every command by itself, in company that is right: with a value that is likely, and with nasty ones.

Commands and options are read from click's own tree. A new one is tried at once, with the value that its metavar asks
for; where that does not get it as far as the command's own work, ALONG or LIKELY needs a line.
"""

import random
from collections.abc import Iterator
from typing import NamedTuple

import click
from calls import ODD_PATHS
from strategies import HOSTILE_TEXT

from jigtemplates.cli import cli


class Chosen(NamedTuple):
    """An option of a command, the program itself among them."""

    words: tuple[str, ...]
    command: click.Command
    option: click.Option

    def __str__(self) -> str:
        return " ".join((*self.words, self.option.opts[-1]))


def every_option(
    command: click.Command = cli, words: tuple[str, ...] = (), above: click.Context | None = None
) -> Iterator[Chosen]:
    """Of the program, its groups and their commands, `--help` among them."""
    context = click.Context(command, above, **command.context_settings)  # click keeps the names of help from here on
    for param in command.get_params(context):
        if isinstance(param, click.Option):
            yield Chosen(words, command, param)
    for name in command.list_commands(context) if isinstance(command, click.Group) else ():
        held = command.get_command(context, name)
        assert held is not None
        yield from every_option(held, (*words, name), context)


EVERY = tuple(every_option())

#: The arguments and options that a command needs to do its work in the arena.
ALONG: dict[str, tuple[str, ...]] = {
    "new": ("fresh.toml",),
    "check": ("job.toml",),
    "make": ("job.toml",),
    "sheet": ("job.toml", "--stock", "600x400"),
    "match": ("--width", "12 mm", "--length", "40 mm"),
    "inlay": ("--bit", "6 mm"),
    "holder": ("quay-frame-160",),
    "tools add": ("bits", "fresh", "diameter=8 mm"),
    "tools change": ("bits", "shop 8 mm up-spiral", "note=x", "--file", "own.toml"),
    "tools remove": ("bits", "shop 8 mm up-spiral", "--file", "own.toml"),
    "profiles": ("bits",),
    "gauge bushing": ("--bushing", "12 mm"),
    "gauge fit": ("jobs/family.toml",),
    "gauge kerf": ("--material", "mdf", "--thickness", "6 mm"),
    "calibrate bit": ("shop 8 mm up-spiral", "--measured", "7.97 mm"),
    "calibrate bushing": ("shop 12 mm", "--measured", "11.96 mm"),
    "calibrate cut": ("job.toml", "--measured-width", "10.1 mm", "--made-by", "cnc"),
    "calibrate kerf": ("--gap", "1.9 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm"),
    "calibrate printer": ("--across", "99.2 mm", "--up", "99.6 mm"),
    "regenerate": ("jobs", "--bit", "6 mm"),
    "drawer": ("templates",),
}
PAIR = ("6 mm", "12 mm")
#: Other company, where an option asks for it.
ALONG_WITH: dict[str, tuple[str, ...]] = {
    "new --select": ("fresh.toml", "--outline", "jobs/leaf.svg"),
    "new --drawing-units": ("fresh.toml", "--outline", "jobs/plain.dxf"),
    "new --schema": (),
    "match --size": ("jobs/family.toml",),
    "inlay --recess": ("--plug", *PAIR),
    "inlay --plug": ("--recess", *PAIR),
    "inlay --first": ("--second", *PAIR),
    "inlay --second": ("--first", *PAIR),
    "inlay --stand-off": ("--bit", "6 mm", "--plate", "6 mm"),
    "inlay --picture": ("job.toml", "--first", *PAIR),
    "calibrate --file": ("--undo",),
    "calibrate bushing --opening": ("shop 12 mm",),
    "calibrate bushing --step": ("shop 12 mm", "--opening", "12 mm"),
    "calibrate cut --size": ("jobs/family.toml", "--measured-width", "10.1 mm"),
    "calibrate cut --cut": ("jobs/several.toml", "--measured-width", "12.1 mm"),
    "calibrate cut --gauge": ("job.toml", "--measured-width", "10.1 mm"),
    "calibrate cut --engraved": ("job.toml", "--gauge", "--measured-width", "9.95 mm"),
    "calibrate cut --tenon": ("job.toml", "--gauge", "--engraved", "9.95 mm"),
    "regenerate --old-bushing": ("jobs", "--bushing", "14 mm"),
    "regenerate --write": ("jobs", "--bit", "6 mm", "--old-bit", "8 mm"),
    "drawer --opening": ("--with-bit", "6 mm", "--with-bushing", "12 mm"),
}
#: Likely values of an option of a command, of an option, or of whatever has that metavar.
LIKELY: dict[str, tuple[str, ...]] = {
    "new --schema": ("fresh.json",),
    "new --select": ("leaf",),
    "gauge bushing --from": ("11.8 mm",),
    "gauge bushing --to": ("12.3 mm",),
    "calibrate --file": ("profiles/tools.toml",),
    "calibrate bit --job": ("jobs/family.toml",),
    "calibrate bushing --job": ("jobs/family.toml",),
    "calibrate bit --measured": ("7.96 mm",),
    "calibrate bushing --measured": ("11.98 mm",),
    "calibrate kerf --gap": ("2 mm", "1.9 mm"),
    "calibrate cut --cut": ("2",),
    "--outline": ("jobs/leaf.svg",),
    "--profiles": ("profiles",),
    "--jobs": ("jobs",),
    "--grain": ("along", "across", "any"),
    "--length": ("40 mm", "1-1/2 in"),
    "--corner-radius": ("3 mm",),
    "--size": ("shallow", "long"),
    "--glue-line": ("0.1 mm",),
    "--picture": ("fresh.pdf",),
    "--paper": ("a4", "letter"),
    "--without": ("kind", "shank"),
    "--from": ("9.8 mm",),
    "--to": ("10.2 mm",),
    "--step": ("0.05 mm", "0.002 in"),
    "--kerf": ("0.2 mm",),
    "--cuts": ("10",),
    "--within": ("0.02 mm", "0.001 in"),
    "--opening": ("12 mm",),
    "drawer --opening": ("13.2 mm x 53.2 mm",),
    "--measured-width": ("10.05 mm",),
    "--measured-length": ("50.1 mm",),
    "--engraved": ("9.95 mm",),
    "--tenon": ("9.9 mm",),
    "--tape": ("0.1 mm",),
    "--made-by": ("cnc", "laser", "paper"),
    "--across": ("99.2 mm", "100.4 mm"),
    "--up": ("99.2 mm", "100.4 mm"),
    "--diagonal": ("140 mm",),
    "--bar": ("100 mm",),
    "--old-bit": ("8 mm",),
    "L": ("8 mm", "12 mm", "3/8 in"),
    "LxL": ("600 mm x 300 mm", "24 in x 12 in"),
    "WxH": ("600x300", "24 x 12 in*2"),
    "BIT BUSHING": PAIR,
    "N": ("2",),
    "DATE": ("2026-11-20",),
    "NAME...": ("cnc", "laser"),
    "NAME": ("mdf",),
    "DIR": ("out",),
    "FILE": ("own.toml",),
}
#: Of the right kind and beyond all measure.
ODD_LENGTHS = (
    "0 mm", "-8 mm", "-0 in", "0.0000001 mm", "1e-300 mm", "1000000 in", "1e15 mm", "9" * 39 + " mm", "1/0 in",
    "nan mm", "12,7 mm", "0.5 mm", "300 mm", "1-63/64 in", "½ in", "8", "8 mm 8 mm", "8 mm x 8 mm",
)  # fmt: skip
ODD_SIZES = (
    *(f"{a} x {b}" for a in ODD_LENGTHS[::3] for b in ODD_LENGTHS[::4]), "600x400*0", "600x400*" + "9" * 30, "x",
)  # fmt: skip
ODD_NUMBERS = ("0", "-1", "1e3", "٣", str(10**30), "1.5", "job=0", "job=" + "9" * 20, "=", "x=", "2=2=2", "1000000")
ODD_NAMES = ("..", "../x", "a/b", "CON", "cnc,,laser", "cnc laser cnc", "every", ".", "bits.x", '"', "a" * 300)
ODD: dict[str, tuple[str, ...]] = {
    "L": ODD_LENGTHS,
    "BIT BUSHING": ODD_LENGTHS,
    "LxL": ODD_SIZES,
    "WxH": ODD_SIZES,
    "N": ODD_NUMBERS,
    "DATE": ("2026-02-30", "9999-12-31", "0001-01-01", "25.11.2026", "2026-11-25T10:00", "-1-1-1"),
}


def call_of(chosen: Chosen, values: list[str], times: int = 1) -> list[str]:
    """The words of a call: the option first, so that nothing else is refused before it is read."""
    own = (chosen.option.opts[-1], *values) * times
    along = ALONG_WITH.get(str(chosen), ALONG.get(" ".join(chosen.words), ()))
    return [*chosen.words, *own, *_without(along, chosen.option)]


def _without(along: tuple[str, ...], option: click.Option) -> tuple[str, ...]:
    """The company, but for the option itself."""
    for at, word in enumerate(along):
        if word in option.opts:
            return along[:at] + along[at + 1 + (0 if option.is_flag else option.nargs) :]
    return along


def likely(chosen: Chosen, draw: random.Random) -> list[str]:
    """The call with a value that makes sense."""
    option = chosen.option
    if option.is_flag:
        return call_of(chosen, [])
    if isinstance(option.type, click.Choice):
        return call_of(chosen, [draw.choice(list(option.type.choices))])
    known = LIKELY.get(str(chosen)) or LIKELY.get(option.opts[-1]) or LIKELY[option.metavar or ""]
    return call_of(chosen, list(known) if option.nargs > 1 else [draw.choice(known)])


def nasty(chosen: Chosen, draw: random.Random) -> list[list[str]]:
    """Calls with a value beyond measure, one that belongs nowhere, and the option given twice; a flag with a value."""
    option = chosen.option
    if option.is_flag:
        others = [one.opts[-1] for one in chosen.command.params if isinstance(one, click.Option) and not one.is_flag]
        more = [draw.choice(others), _odd(HOSTILE_TEXT, draw)] if others else []
        return [call_of(chosen, more, 2)]
    odd = ODD_PATHS if isinstance(option.type, click.Path) else ODD.get(option.metavar or "", ODD_NAMES)
    anything = ODD_PATHS if isinstance(option.type, click.Path) else HOSTILE_TEXT
    return [
        call_of(chosen, [_odd(odd, draw) for _ in range(option.nargs)]),
        call_of(chosen, [_odd(anything, draw) for _ in range(option.nargs)], draw.choice([1, 1, 1, 2])),
    ]


def _odd(values: tuple[str, ...], draw: random.Random) -> str:
    return draw.choice(values).replace("\0", "")  # which no system hands to a program
