"""The numbers a maker needs, as labelled text: for the terminal, the paper pattern and the set-up sheet."""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from jigtemplates.geometry.shapes.basic import CORNERS
from jigtemplates.lengths import (
    Length,
    Measured,
    first_text,
    full_text,
    inch_decimals,
    inch_short,
    inch_text,
    is_on_rule,
    mm_text,
    rule_text,
    sold_as,
)
from jigtemplates.opening import Size, least_side
from jigtemplates.outside import is_outside
from jigtemplates.parameters.forms import ArcSlot, Butterfly, FromFile, HandHold, Hinge, Polygon, Uneven
from jigtemplates.parameters.job import Bit, Bushing, Cut, Job, Repeat
from jigtemplates.report import Report
from jigtemplates.routing import PredictedCut
from jigtemplates.say import in_inches, said, written
from jigtemplates.wanted import cut_text, edge_of_work, is_lopsided

Facts = tuple[tuple[str, str], ...]

#: Cuts that a page has a line for (chosen: beside cautions and bars there is room for so many on A4).
MOST_LINES = 6

#: Passes this much alike go equally deep, mm (chosen: half of the last digit that is shown).
ALIKE = 0.005


def facts(report: Report) -> Facts:
    """Label and value of everything that belongs to the template, in the order of the job."""
    job = report.job
    return (
        ("bit", tool_text(job.tools.bit)),
        ("bushing", tool_text(job.tools.bushing)),
        ("offset", f"{own_text(report.offset, job)} a side"),
        *_of_each_cut(report, _cut_facts),
        ("plate", _plate(job)),
        *(holder_facts(job) if job.plate.rebate or job.plate.turn is not None else ()),
        *_print_facts(report),
        *_of_each_cut(report, _depth_facts),
        *_inlay_facts(report),
    )


def _inlay_facts(report: Report) -> Facts:
    """The plug of a job with [inlay]; nothing without one."""
    if report.job.inlay is None:
        return ()
    from jigtemplates.inlay.rows import inlay_facts  # which knows this module

    return tuple(inlay_facts(report))


def short_facts(report: Report) -> Facts:
    """The same for a page: of several cuts a line each, and of many only the first ones."""
    parts = report.parts
    if len(parts) == 1:
        return facts(report)
    lines = [(f"cut {number}", _in_a_line(part)) for number, part in enumerate(parts, 1)]
    if len(lines) > MOST_LINES:
        more = len(lines) - MOST_LINES + 1
        lines = [*lines[: MOST_LINES - 1], ("and more", f"{more} other cuts: see the set-up sheet")]
    tools = [fact for fact in facts(report) if fact[0] in ("bit", "bushing", "offset", "plate")]
    return (*tools[:3], *lines, *tools[3:])


def _in_a_line(report: Report) -> str:
    """ "round dia 20 x 12 mm, 3 times; opening dia 26.35 mm; plunge 18 mm, 4 passes"."""
    job, found = report.job, dict(_opening_facts(report))
    repeated = f", {job.cut.repeat.total} times" if job.cut.repeat else ""
    opening, plunge = _first(found["opening"]), own_text(report.case.plunge_depth, job, 2)
    count = len(report.pass_depths)
    passes = f"{count} pass{'es' * (count > 1)}"
    cut = f"{job.cut.shape} {cut_text(job.cut, least=least_side(job), inches=in_inches(job))}{repeated}"
    return f"{cut}; opening {opening}; plunge {plunge}, {passes}"


def _first(size: str) -> str:
    """Of a size in several units the first: "13.175 x 53.175 mm", "0.442 x 1.688 in"."""
    return size.partition(" = ")[0].partition(", about")[0]


def _of_each_cut(report: Report, say: Callable[[Report], Facts]) -> Iterator[tuple[str, str]]:
    """What is said of each cut; of several with its number before each label."""
    parts = report.parts
    for number, part in enumerate(parts, 1):
        for label, value in say(part):
            yield f"{number}: {label}" if len(parts) > 1 else label, value


def _cut_facts(report: Report) -> Facts:
    job = report.job
    return (
        ("work wanted" if is_outside(job.cut) else "cut wanted", cut_wanted(job)),
        *_repeated(job.cut),
        *_opening_facts(report),
        *_edge_facts(report),
    )


def _depth_facts(report: Report) -> Facts:
    return (
        ("plunge", f"{own_text(report.case.plunge_depth, report.job, 2)} from the base ({_stack(report.job)})"),
        ("passes", _passes(report)),
    )


def _repeated(cut: Cut) -> Facts:
    """How a cut is repeated; nothing for one."""
    return () if cut.repeat is None else (("repeated", repeat_text(cut.repeat)),)


def repeat_text(repeat: Repeat) -> str:
    """ "2 times, 32 mm apart, side by side", "6 times on a ring of 80 mm, each turned by its step"."""
    if repeat.ring is not None:
        how = "each turned by its step" if repeat.turned else "none of them turned"
        first = f", the first at {repeat.start_angle:g}°" if repeat.start_angle else ""
        return f"{repeat.count} times on a ring of {repeat.ring.text}{first}, {how}"
    assert repeat.pitch is not None
    way = _WAYS.get(repeat.direction % 180, f"at {repeat.direction:g}° to its length")
    rows = (
        "" if repeat.row_pitch is None or repeat.rows == 1 else f", in {repeat.rows} rows {repeat.row_pitch.text} apart"
    )
    return f"{repeat.total} times, {repeat.pitch.text} from middle to middle, {way}{rows}"


_WAYS = {0.0: "end to end", 90.0: "side by side"}


def holder_facts(job: Job) -> Facts:
    """What a holder asks of the plate: its rebate, and the turns in which it may be put back."""
    from jigtemplates.holders import plate_box
    from jigtemplates.holders.turning import place_count
    from jigtemplates.rebate import rebate_of

    rebate, turn = rebate_of(job.plate), job.plate.turn
    found: list[tuple[str, str]] = []
    if rebate is not None:
        size = f"{own_text(rebate.width, job, 2)} wide, {own_text(rebate.depth, job, 2)} deep"
        found.append(("rebate", f"round the underside, {size}"))
        if "cnc" in job.make.targets:
            found.append(("its cnc file", underside_zero(job)))
    if turn is not None:
        first = "the first as drawn" if plate_box(job.plate).is_round else "in the first the datum is lower left"
        found.append(("turns", f"{place_count(turn)} places, {turn:g}° apart; {first}"))
    return tuple(found)


def underside_zero(job: Job) -> str:
    """Where the zero of the CNC file of the underside lies, and that its size is not the plate's."""
    from jigtemplates.rebate import OVERRUN

    return (
        f"seen from below; (0, 0) lies {own_text(OVERRUN, job)} left of and {own_text(OVERRUN, job)} below the plate's "
        f"corner, as far as the pocket overruns; overall {own_text(2 * OVERRUN, job)} more than the plate each way"
    )


def own_text(mm: float, job: Job, digits: int = 3) -> str:
    """A length in the job's own unit: "34.93 mm", or "1-3/8 in (34.93 mm)" in a job in inches."""
    return said(mm, job, digits)


def tool_text(tool: Bit | Bushing) -> str:
    """The size as written and its other unit, of a measured one both sizes; the name where it has one."""
    size = diameter_text(tool.diameter)
    return f"{tool.name} ({size})" if tool.name and tool.name != sold_as(tool.diameter).text else size


def diameter_text(length: Length) -> str:
    """A size as written: "3/8 in = 9.525 mm", or "1/2 in nominal, measured 12.68 mm ± 0.02 mm"."""
    if isinstance(length, Measured):
        return full_text(length) + (f" = {mm_text(length.mm, 3)}" if length.is_inch else "")
    mm = length.mm
    inch = f" = {inch_text(mm)}" if is_on_rule(mm) else f", about {inch_text(mm)}"
    return f"{length}{f' = {mm_text(mm, 3)}' if length.is_inch else inch}"


def cut_wanted(job: Job) -> str:
    """The cut as it was written: shape, sizes, depth, angle; in a job in inches what is in mm in inches first."""
    cut = job.cut
    turned = f", turned {cut.angle:g}°" if cut.angle else ""
    turned += ", mirrored" if cut.mirrored and is_lopsided(cut) else ""
    return f"{_size_written(job)}{_corners_written(job)}, {written(cut.depth_written, job)} deep{turned}"


def _size_written(job: Job) -> str:
    cut = job.cut
    width, length = written(cut.width_written, job), written(cut.length_written, job)
    match cut.form:
        case Polygon(sides):
            return f"polygon of {sides} sides, {width} across"
        case Butterfly(waist):
            return f"butterfly key, {width} wide, {written(waist, job)} at the waist, {length} long"
        case HandHold(rise):
            return f"hand-hold, {width} wide, {length} long" + (
                f", arched by {written(rise, job)}" if rise.exact else ""
            )
        case ArcSlot(radius, span):
            return f"arc slot, {width} wide, radius {written(radius, job)}, {span:g}°"
        case FromFile(file, _, select, scale):
            which = f" ({select})" if select else ""
            larger = f", {scale:g} times as large" if scale != 1 else ""
            return f"outline from {file}{which}{larger}, {width} wide (up the drawing), {length} long (across it)"
        case Hinge():
            return f"hinge gain, {width} from the edge of the work, {length} long"
    return f"round, {width}" if cut.shape == "round" else f"{cut.shape}, {width} wide, {length} long"


def _corners_written(job: Job) -> str:
    cut = job.cut
    if isinstance(cut.form, Uneven):
        radii = zip(CORNERS, cut.form.corner_radii, strict=True)
        return f", corners r {', '.join(f'{written(radius, job)} {name}' for name, radius in radii)}"
    if cut.shape in ("rectangle", "polygon", "butterfly", "hinge") and cut.corner_radius:
        return f", corners r {said(cut.corner_radius, job, 3)}"
    return ""


def _edge_facts(report: Report) -> Facts:
    """Where the edge of the work is, for a cut that is open to it."""
    cut, size = report.job.cut, report.template.opening_size
    below = edge_of_work(cut)
    if below is None or size is None:
        return ()
    past = -report.template.opening_at_rest[0].bounds.bottom - below
    words = f"the line on the plate, {said(below, report.job, 3)} from the middle of the gain"
    return (("edge of work", f"{words}; the opening runs {said(past, report.job, 3)} past it"),)


def _opening_facts(report: Report) -> Facts:
    size, cut, play = report.template.opening_size, report.predicted, report.case.side_play
    inches = in_inches(report.job)
    if is_outside(report.job.cut):
        return _pattern_facts(size, cut, inches)
    if size is None or cut is None or play is None:
        return (("opening", "none: the bit does not fit"),)
    how = "trapped: one pass makes the width" if report.case.trapped else "run round the edge"
    return (
        ("opening", _area_text(size.width, size.length, size.corner_radius, inches=inches)),
        ("cut made", f"{_cut_text(cut, inches)}, {deviation_text(cut.max_deviation, inches=inches)}"),
        ("side play", f"{own_text(play, report.job)}, {how}"),
    )


def _pattern_facts(size: Size | None, cut: PredictedCut | None, inches: bool) -> Facts:
    if size is None or cut is None:
        return (("pattern", "none: nothing is left of it"),)
    return (
        ("pattern", f"{_area_text(size.width, size.length, inches=inches)}, followed round its outside"),
        ("work made", f"{_cut_text(cut, inches)}, {deviation_text(cut.max_deviation, inches=inches)}"),
    )


def _cut_text(cut: PredictedCut, inches: bool) -> str:
    """Width x length of a cut; one figure for a circle."""
    circle = cut.outline[0].outer.as_circle
    return _area_text(cut.width, cut.length, circle.radius if circle else None, inches=inches)


def deviation_text(deviation: float, *, inches: bool = False) -> str:
    """How far the cut's edge is from what was asked, in words."""
    return "as asked" if deviation < 5e-4 else f"its edge at most {first_text(deviation, inches, 3)} off"


def _area_text(width: float, length: float, radius: float | None = None, *, inches: bool = False) -> str:
    """Width x length in mm and inch, or inches first; one figure for a circle, and the radius where it says more.

    In a job in inches "1-1/8 x 3-1/2 in = 1.125 x 3.500 in (28.575 x 88.9 mm)"; what is not on a rule has its decimals
    first.
    """
    is_round = abs(width - length) < 1e-6 and radius is not None and abs(radius - width / 2) < 1e-6
    sides = (width,) if is_round else (width, length)
    mm = " x ".join(mm_text(side, 3).removesuffix(" mm") for side in sides) + " mm"
    corners = f", corners r {first_text(radius, inches, 3)}" if radius is not None and not is_round else ""
    both = f"{_inches_first(*sides)} ({mm})" if inches else f"{mm} = {_inches(*sides)}"
    return f"{'dia ' if is_round else ''}{both}{corners}"


def _inches_first(*sides: float) -> str:
    """ "0.442 x 1.688 in, about 7/16 x 1-11/16 in"; on a rule "1-1/8 x 3-1/2 in = 1.125 x 3.500 in"; "6 x 5 in"."""
    decimals = " x ".join(inch_decimals(side) for side in sides) + " in"
    fractions = " x ".join(rule_text(side) for side in sides) + " in"
    if not all(is_on_rule(side) for side in sides):
        return f"{decimals}, about {fractions}"
    return f"{fractions} = {decimals}" if "/" in fractions else fractions


def _inches(*sides: float) -> str:
    """Decimals, and beside them the nearest 1/64 on a rule: "0.519 x 2.094 in (about 33/64 x 2-3/32)"."""
    about = "" if all(is_on_rule(side) for side in sides) else "about "
    decimals = " x ".join(inch_decimals(side) for side in sides)
    return f"{decimals} in ({about}{' x '.join(rule_text(side) for side in sides)})"


def size_text(width: float, height: float, *, inches: bool = False) -> str:
    """Overall size to check with a rule: "140 x 140 mm = 5.512 x 5.512 in (about 5-33/64 x 5-33/64)".

    With inches first "7-1/2 x 5 in = 7.500 x 5.000 in (190.5 x 127 mm)".
    """
    return _area_text(width, height, inches=inches)


def _plate(job: Job) -> str:
    plate = job.plate
    material = f" {plate.material.name}" if plate.material else ""
    measured = job.measured_at("plate.thickness")
    thickness = said(plate.thickness, job) if measured is None else _measured_thickness(measured, job)
    return f"{size_text(plate.width, plate.height, inches=in_inches(job))}, {thickness}{material}"


def _measured_thickness(measured: Measured, job: Job) -> str:
    """As written; one that was measured in mm in a job in inches also in inches."""
    inch = f" = {inch_short(measured.mm)}" if in_inches(job) and not measured.is_inch else ""
    return f"{full_text(measured)}{inch}"


def _print_facts(report: Report) -> Facts:
    """By how much a printed template differs from what is drawn."""
    job, template, choice = report.job, report.template, report.job.make.printing
    if choice is None:
        return ()
    holes = _wider("screw holes", choice.allowance, job) if template.holes else ""
    openings = _wider("openings", choice.opening_allowance, job) if template.opening else ""
    return (("printed", "; ".join(filter(None, (holes, openings))) or "as drawn"),)


def _wider(what: str, by: float, job: Job) -> str:
    return f"{what} {own_text(by, job)} wider" if by else f"{what} as drawn"


def _stack(job: Job) -> str:
    plate = job.plate
    text = inch_short if in_inches(job) else mm_text
    stand_off = f" + stand-off {text(plate.stand_off)}" if plate.stand_off else ""
    return f"plate {text(plate.thickness)}{stand_off} + cut {text(job.cut.depth)}"


def _passes(report: Report) -> str:
    return passes_text(report.pass_depths, in_inches(report.job))


def passes_text(depths: Sequence[float], inches: bool) -> str:
    """ "1, 8 mm deep", "6, each 3/16 in (4.76 mm) deeper"; of unequal steps "6, each at most 4.7 mm deeper"."""
    if len(depths) == 1:
        return f"1, {first_text(depths[0], inches)} deep"
    return f"{len(depths)}, each {step_text(depths, inches)} deeper"


def step_text(depths: Sequence[float], inches: bool) -> str:
    """How much deeper a pass goes: "3/16 in (4.76 mm)", of unequal ones "at most 4.7 mm"."""
    steps = [deep - before for before, deep in pairwise((0.0, *depths))]
    least, most = min(steps), max(steps)
    return f"{'at most ' if most - least > ALIKE else ''}{first_text(most, inches)}"
