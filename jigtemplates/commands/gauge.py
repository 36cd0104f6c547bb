"""The command `gauge`, one subcommand for each kind."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from jigtemplates.commands.common import (
    PATH,
    TARGETS,
    json_option,
    option,
    profiles_option,
    tools_option,
    units_option,
)
from jigtemplates.commands.targets import TargetsCommand, for_option

_OUT = "gauges"

out_option = option(
    "--out", type=PATH, default=Path(_OUT), show_default=True, metavar="DIR",
    help="Folder for the files; each gauge gets one of its own in it.",
)  # fmt: skip
machines_option = for_option(TARGETS, "Make only these: laser, cnc.")
from_option = option("--from", "first", metavar="L", help="The smallest value of the row.")
to_option = option("--to", "last", metavar="L", help="The largest value of the row.")
step_option = option("--step", metavar="L", help="From one value to the next; else 0.05 mm, or 0.002 in.")
steps_option = option("--steps", "count", metavar="N", help="How many openings.")
material_option = option("--material", metavar="NAME", help="The sheet, by its name in the profiles.")
thickness_option = option("--thickness", metavar="L", help="How thick it is.")
sheet_option = option("--sheet", metavar="LxL", help='The piece the plate must come out of: "600 x 300 mm".')


@click.group(short_help="Gauges for bushing, kerf, fit and printer.", invoke_without_command=True)
@click.pass_context
def gauge(ctx: click.Context) -> None:
    """Make a gauge: small plates, or a page, that show what your bushing, laser, pair or printer really does.

    \b
    jigtemplates gauge printer                                      do bars print true?
    jigtemplates gauge kerf --material mdf --thickness "6 mm"       how much does the beam remove?
    jigtemplates gauge bushing --bushing "1/2 in"                   which opening does it slide in?
    jigtemplates gauge fit JOB                                      which cut takes the tenon?

    In this order, each builds on the one before. What was read is entered with: jigtemplates calibrate
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


@gauge.command("bushing", cls=TargetsCommand, short_help="Which opening does the bushing just slide in?")
@option("--bushing", metavar="L", required=True, help="The guide bushing: a diameter or a profile's name.")
@from_option
@to_option
@step_option
@steps_option
@machines_option
@material_option
@thickness_option
@option("--kerf", metavar="L", help="Full width of the laser's kerf; else as measured in the sheet.")
@sheet_option
@units_option
@out_option
@tools_option
@profiles_option
@json_option
def bushing_gauge(
    bushing: str, first: str | None, last: str | None, step: str | None, count: str | None, targets: Sequence[str],
    material: str | None, thickness: str | None, kerf: str | None, sheet: str | None, units: Any, out: Path,
    tools_file: Path | None, folder: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Make a plate with a row of openings from below to above the bushing, each engraved with its width.

    The openings are slots, as a template's are: the bushing slides in them from end to end.
    """
    from jigtemplates.gauges.blank import BlankAsked
    from jigtemplates.gauges.command import Given, RowTyped, print_bushing

    blank = BlankAsked(targets or ("laser", "cnc"), material, thickness, kerf, sheet, units)
    return print_bushing(bushing, RowTyped(first, last, step, count), blank, Given(out, folder, tools_file, as_json))


@gauge.command("kerf", short_help="How much does the laser remove?")
@material_option
@thickness_option
@option("--cuts", metavar="N", help="Cuts across, over which the gap adds up; else 10.")
@sheet_option
@units_option
@out_option
@profiles_option
@json_option
def kerf_gauge(
    material: str | None, thickness: str | None, cuts: str | None, sheet: str | None, units: Any, out: Path,
    folder: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Make a comb of blocks in a window: pushed together they leave a gap of ten kerfs.

    It is for a laser, and drawn on the line. A CNC router's program allows for its own cutter.
    """
    from jigtemplates.gauges.blank import BlankAsked
    from jigtemplates.gauges.command import Given, print_kerf

    blank = BlankAsked(("laser",), material, thickness, None, sheet, units)
    return print_kerf(cuts, blank, Given(out, folder, None, as_json))


@gauge.command("fit", cls=TargetsCommand, short_help="Which cut takes the tenon?")
@click.argument("job", metavar="JOB", type=PATH)
@from_option
@to_option
@step_option
@steps_option
@option("--bit", metavar="L", help="Another bit than the job's: a diameter or a profile's name.")
@option("--bushing", metavar="L", help="Another guide bushing than the job's.")
@machines_option
@sheet_option
@option("--units", type=click.Choice(["mm", "in"]), help="Unit of the DXF files; else as JOB has it.")
@out_option
@tools_option
@profiles_option
@json_option
def fit_gauge(
    job: Path, first: str | None, last: str | None, step: str | None, count: str | None, bit: str | None,
    bushing: str | None, targets: Sequence[str], sheet: str | None, units: Any, out: Path, tools_file: Path | None,
    folder: Path | None, as_json: bool,
) -> int:  # fmt: skip
    """Make a plate of short openings that cut widths round the one JOB asks for, with its bit and bushing.

    Each is engraved with the width of the cut it makes. The plate is the job's where there is room on it.
    """
    from jigtemplates.gauges.command import Given, RowTyped, print_fit

    row, given = RowTyped(first, last, step, count), Given(out, folder, tools_file, as_json)
    return print_fit(job, row, given, bit=bit, bushing=bushing, targets=targets, sheet=sheet, units=units)


@gauge.command("printer", short_help="Does the printer keep lengths and right angles?")
@option("--paper", "papers", multiple=True, metavar="NAME", help="For this paper; else a4 and letter.")
@out_option
@profiles_option
@json_option
def printer_gauge(papers: Sequence[str], out: Path, folder: Path | None, as_json: bool) -> int:
    """Make a page of bars and diagonals to print at 100 % and to measure."""
    from jigtemplates.gauges.command import Given, print_printer

    return print_printer(papers, Given(out, folder, None, as_json))
