"""A validated [inlay] table becomes the choice the program works with, its gaps filled and noted."""

from collections.abc import Iterator

from jigtemplates.parameters import job
from jigtemplates.parameters.inlay_table import GLUE_LINE, InlayTable


def resolved_inlay(
    table: InlayTable, *, bit: job.Bit, bushing: job.Bushing, cuts: tuple[job.Cut, ...]
) -> job.InlayChoice:
    """The plug of a table; `bit` and `bushing` are its tools as looked up, `cuts` those of the template."""
    thickness = table.plug_thickness
    return job.InlayChoice(
        bit=bit,
        bushing=bushing,
        glue_line=GLUE_LINE if table.glue_line is None else table.glue_line,
        thickness=max(cut.depth for cut in cuts) if thickness is None else thickness.mm,
    )


def inlay_assumptions(table: InlayTable, bushing: job.Bushing) -> Iterator[job.Assumption]:
    """What was not written of the plug."""
    if table.plug_bit is None:
        text = "the plug is taken to be routed with the same bit as the recess (inlay.plug_bit is not set)"
        yield job.Assumption("inlay.plug_bit", text)
    if bushing.assumed:
        text = f'of the plug\'s bushing taken from "{bushing.assumed_from}", which has the same diameter'
        yield job.Assumption("inlay.plug_bushing", f"{' and '.join(bushing.assumed)} {text}")
    if table.glue_line is None:
        text = "no glue line assumed: recess and plug of one size (inlay.glue_line is not set)"
        yield job.Assumption("inlay.glue_line", text)
    if table.plug_thickness is None:
        text = "the inlay stock is taken to be as thick as the recess is deep (inlay.plug_thickness is not set)"
        yield job.Assumption("inlay.plug_thickness", text)
