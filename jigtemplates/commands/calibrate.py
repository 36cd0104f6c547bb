"""The command `calibrate`, with a subcommand for each thing that can be measured."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigtemplates.commands.common import PATH, json_option, option, profiles_option
from jigtemplates.errors import InputError

if TYPE_CHECKING:
    from jigtemplates.calibrate.command import Typed

_COMMON = (
    option("--on", metavar="DATE", help="Day of the measurement, 2026-11-25; else today."),
    option("--file", type=PATH, metavar="FILE", help="Your tools file; else the entry's, or profiles/tools.toml."),
    option("--jobs", type=PATH, metavar="DIR", help="Folder of the jobs to look at; else here and one folder below."),
    option("--look", is_flag=True, help="Only show it; nothing is written."),
    option("--sure", is_flag=True, help="Write it although it is questioned."),
    profiles_option,
    json_option,
)  # fmt: skip


def common(command: Callable[..., int]) -> Callable[..., int]:
    """The options that every correction has, below its own."""
    for one in reversed(_COMMON):
        command = one(command)
    return command


def typed(values: dict[str, Any]) -> "Typed":
    """What was typed for them."""
    from jigtemplates.calibrate.command import Typed

    return Typed(**values)


@click.group(short_help="Enter what was measured; correct a wrong cut.", invoke_without_command=True)
@option("--undo", is_flag=True, help="Take the last correction back; what else was changed since stays.")
@option("--file", type=PATH, metavar="FILE", help="With --undo: your tools file; else profiles/tools.toml.")
@click.pass_context
def calibrate(ctx: click.Context, undo: bool, file: Path | None) -> int | None:
    """Turn measurements into corrections of your profiles, and a wrong test cut into a right template.

    \b
    jigtemplates calibrate kerf --gap "1.9 mm" --cuts 10 --material mdf --thickness "6 mm"
    jigtemplates calibrate bushing "my 1/2" --opening "12.70 mm"
    jigtemplates calibrate bit "my 3/8" --measured "9.48 mm"
    jigtemplates calibrate cut rail.toml --measured-width "10.08 mm" --measured-length "50.1 mm"
    jigtemplates calibrate printer --across "99.2 mm" --up "99.6 mm"
    jigtemplates calibrate --undo

    Each shows the correction and what it changes in your jobs, then writes it with its date; the old
    value stays beside it. What is not plausible, or makes a job impossible, is written only with --sure.
    """
    if undo and ctx.invoked_subcommand is not None:
        raise InputError(f"--undo: takes the last correction back, alone (leave {ctx.invoked_subcommand} out)")
    if file is not None and not undo:
        raise InputError("--file: belongs behind the subcommand, or to --undo")
    if ctx.invoked_subcommand is not None:
        return None
    if not undo:
        click.echo(ctx.get_help())
        return 0
    from jigtemplates.calibrate.command import undo as take_back

    return take_back(file)


@calibrate.command(short_help="The laser's kerf, from one gap over many cuts.")
@option("--gap", metavar="L", help="The gap that all blocks leave together.")
@option("--cuts", metavar="N", help="Number of cuts across, the window's two ends counted.")
@option("--material", metavar="NAME", help="The sheet it was measured in; without it, any.")
@option("--thickness", metavar="L", help="Its thickness; without it, any.")
@common
def kerf(gap: str | None, cuts: str | None, material: str | None, thickness: str | None, **others: Any) -> int:
    """Enter the full width that the laser's beam removes: the gap divided by the number of cuts.

    The next make allows for it in plates of that material and thickness, unless a job sets make.kerf.
    """
    from jigtemplates.calibrate.command import calibrate_kerf

    return calibrate_kerf(typed(others), gap, cuts, material, thickness)


@calibrate.command(short_help="A guide bushing, by a gauge or a caliper.")
@click.argument("name", metavar="NAME|L")
@option("--opening", metavar="L", help="The narrowest opening of a gauge that it slides in.")
@option("--step", metavar="L", help="From one opening to the next; else 0.05 mm, of inches 0.002 in.")
@option("--measured", metavar="L", help="Its outside diameter by caliper.")
@option("--within", metavar="L", help="How good the caliper's reading is, either way; else 0.02 mm.")
@option("--job", "in_jobs", type=PATH, metavar="JOB", multiple=True, help="A job that gets its name for a bare size.")
@common
def bushing(
    name: str, opening: str | None, step: str | None, measured: str | None, within: str | None,
    in_jobs: Sequence[Path], **others: Any,
) -> int:  # fmt: skip
    """Enter what a guide bushing really measures.

    NAME is its name in the profiles, or the size it is sold as. In a gauge its true size lies between the narrowest
    opening it slides in and the next smaller one: the middle of the two is taken.
    """
    from jigtemplates.calibrate.command import calibrate_tool

    return calibrate_tool(
        "bushings", name, typed(others), in_jobs, measured=measured, within=within, opening=opening, step=step
    )


@calibrate.command(short_help="A bit, by a caliper or by a groove it cut.")
@click.argument("name", metavar="NAME|L")
@option("--measured", metavar="L", help="Across its cutting edges, or the width of a groove cut in one pass.")
@option("--within", metavar="L", help="How good the reading is, either way; else 0.02 mm.")
@option("--job", "in_jobs", type=PATH, metavar="JOB", multiple=True, help="A job that gets its name for a bare size.")
@common
def bit(name: str, measured: str | None, within: str | None, in_jobs: Sequence[Path], **others: Any) -> int:
    """Enter how wide a bit really cuts. NAME is its name in the profiles, or the size it is sold as."""
    from jigtemplates.calibrate.command import calibrate_tool

    return calibrate_tool("bits", name, typed(others), in_jobs, measured=measured, within=within)


@calibrate.command(short_help="A test cut: what is off, and what makes it right.")
@click.argument("job", metavar="JOB", type=PATH)
@option("--measured-width", "width", metavar="L", help="Width of the test cut, or of the work cut out.")
@option("--measured-length", "length", metavar="L", help="Its length, ends included.")
@option("--size", metavar="NAME", help="Which size of a job file that holds several.")
@option("--cut", "number", metavar="N", help="Which of a template's several cuts, as they stand in JOB; else 1.")
@option("--gauge", is_flag=True, help="A cut of the job's fit gauge: the one engraved with the width wanted.")
@option("--engraved", metavar="L", help="With --gauge: another one, the value engraved at it.")
@option("--tenon", metavar="L", help="With --engraved: thickness of the tenon it takes; no --measured-width then.")
@option("--made-by", metavar="NAME", help="What the template was made by: laser, cnc, paper ...; else the job's first.")
@option(
    "--correct",
    type=click.Choice(["bit", "bushing", "kerf"]),
    help="What to correct; else what most likely is off.",
)
@option("--tape", metavar="L", help="Thickness of one layer of your tape; else 0.05 mm.")
@option("--within", metavar="L", help="How good the readings are; else 0.02 mm, for --tenon half a step more.")
@option(
    "--out",
    type=PATH,
    metavar="DIR",
    help="Folder of the templates, as for make; else templates, with --gauge gauges.",
)
@common
def cut(
    job: Path, width: str | None, length: str | None, size: str | None, number: str | None, gauge: bool,
    engraved: str | None, tenon: str | None, made_by: str | None, correct: Any, tape: str | None, within: str | None,
    out: Path | None, **others: Any,
) -> int:  # fmt: skip
    """Say what most likely is off in a test cut, and correct it for the next template.

    Bit, bushing and kerf change width and length alike; the likeliest of them gets the correction, or the one named
    with --correct. Also told: what makes the cut right with the template that is there, by tape, sandpaper, another
    pair of yours, or the tenon that fits.

    \b
    Of a fit gauge tell which cut takes the tenon, and what the tenon measures:
    jigtemplates calibrate cut JOB --gauge --engraved "9.95 mm" --tenon "9.9 mm"
    """
    from jigtemplates.calibrate.command import calibrate_cut

    return calibrate_cut(
        job, typed(others), width=width, length=length, size=size, made_by=made_by, correct=correct, tape=tape,
        within=within, out=out, gauge=gauge, cut=number, engraved=engraved, tenon=tenon,
    )  # fmt: skip


@calibrate.command(short_help="A printer, by the bars of a page.")
@option("--across", metavar="L", help="Measured length of the level bar.")
@option("--up", metavar="L", help="Measured length of the upright bar.")
@option("--diagonal", metavar="L", help="Measured distance of the two bars' far ends.")
@option("--bar", metavar="L", help="Length the bars are drawn with; else 100 mm.")
@option("--corrected/--uncorrected", default=None, help="Whether the page was printed with the correction in force.")
@common
def printer(
    across: str | None, up: str | None, diagonal: str | None, bar: str | None, corrected: bool | None, **others: Any
) -> int:
    """Enter what the bars of a printed page measure; the next patterns are printed as much larger or smaller."""
    from jigtemplates.calibrate.command import calibrate_printer

    return calibrate_printer(typed(others), across=across, up=up, diagonal=diagonal, bar=bar, corrected=corrected)
