"""What a set-up sheet says in words: the set, fence and stops, tenon stock, support, what to look at, cautions."""

from collections.abc import Sequence

from jigtemplates.checks import Level
from jigtemplates.facts import holder_facts, repeat_text
from jigtemplates.lengths import Measured, beside_text, first_text, inch_short, mm_text
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Bit, Bushing, Work
from jigtemplates.processes.paper_text import Block, bullet, paragraph, stacked
from jigtemplates.processes.setup_brief import brief
from jigtemplates.processes.setup_dims import measured_line, size_line
from jigtemplates.processes.setup_draw import UNKNOWN
from jigtemplates.processes.setup_first import lines_of
from jigtemplates.processes.setup_stops import Mirrored, end_mirrored, end_side, fence_mirrored, fence_side
from jigtemplates.processes.setup_words import is_in_inches, titled
from jigtemplates.report import Report
from jigtemplates.wanted import edge_of_work

#: So many of a group's lines are told one by one (chosen: more are a table).
MOST_ROWS = 3

#: Warnings on making the plate.
OF_MAKING = frozenset(
    {
        "countersink-by-hand", "countersink-through", "label-left-out", "label-moved", "label-smaller",
        "material-unknown", "number-left-out", "rounded-conversion", "short-thread", "thin-wall", "unusual-thickness",
    }
)  # fmt: skip

CLAMP = "Clamp work and template."
FASTEN = (
    "Fasten the pattern with screws or strong double-sided tape, and the work to the bench: clamps are in the router's "
    "way."
)
FEED_INSIDE = "Several shallow passes, clockwise inside the template."
TIGHT = "Bit tight, at least 19 mm (3/4 in) of shank in the collet. Bushing nut tight and below the base."
TIGHT_INCH = TIGHT.replace("19 mm (3/4 in)", "3/4 in (19 mm)")
FEED_OUTSIDE = (
    "Several shallow passes, counter-clockwise round the pattern; fasten the offcut too, the last pass frees it."
)
END_GRAIN = "End grain tears out at its corners: light passes, a backing strip there, end grain before the long sides."

#: The usual cautions, shorter than `cautions.cautions` has them: the sheet hangs over the bench.
CAUTIONS = (
    "Unplug the router to change bit or bushing.",
    "Eye, ear and dust protection.",
    CLAMP,
    TIGHT,
    FEED_INSIDE,
    "Start and lift out with the bit clear of the wood; let it stop in the air.",
    "Numbers are aids, no guarantee: make a test cut in scrap first.",
    "Follow the manuals of your tools and local rules; where in doubt, ask someone trained.",
)


Facts = list[tuple[str, str]]


def set_facts(report: Report) -> Facts:
    """What belongs together, and what is not known of it."""
    job, inches = report.job, is_in_inches(report)
    tools, size, predicted, play = job.tools, report.template.opening_size, report.predicted, report.case.side_play
    assert size is not None  # a job without an opening is stopped
    assert predicted is not None
    made = "work made" if is_outside(job.cut) else "cut made"
    how = "trapped: one pass makes the width" if report.case.trapped else "run round the edge"
    found: Facts = [
        ("bit", tool_words(tools.bit, inches)),
        ("cutting length", _or_measure(tools.bit.cutting_length, inches)),
        ("bushing", tool_words(tools.bushing, inches)),
        ("bore", _or_measure(tools.bushing.bore, inches)),
        ("stem", _or_measure(tools.bushing.stem, inches)),
        ("offset", f"{size_line(report.offset, inches, 3)} a side"),
        ("pattern" if is_outside(job.cut) else "opening", _area(report, size.width, size.length)),
        (made, _area(report, predicted.width, predicted.length)),
        *([("repeated", repeat_text(job.cut.repeat))] if job.cut.repeat else []),
        ("depth", size_line(job.cut.depth, inches)),
        *([] if play is None else [("side play", f"{beside_text(play, inches, 3)}, {how}")]),
    ]
    if job.plate.rebate or job.plate.turn is not None:
        found += holder_facts(job)
    if job.plate.holder is not None:
        found += _work_in_holder(report)
    if job.inlay is not None:
        found.append(("inlay", "this is the recess; for the plug see the inlay sheet (…_inlay.pdf)"))
    return [*found, *_router_facts(report)]


def _work_in_holder(report: Report) -> Facts:
    """That the work must come up into the holder's window, unless it is known to go in; nothing where it need not."""
    from jigtemplates.holders.beneath import beneath, goes_in

    below = beneath(report.job.plate)
    if below is None or not below.is_short or goes_in(report.job, below.window):
        return []
    if below.ledge is None:
        return [("holder", "the work comes up through its window; else add the ledge's thickness to the plunge")]
    much = size_line(below.into_window, is_in_inches(report))
    return [("holder", f"the work comes {much} up into its window; else add as much to the plunge")]


def _router_facts(report: Report) -> Facts:
    """The router, the least of its base that is carried, and how far from tipping it stays; nothing without one."""
    router = report.job.tools.router
    if router is None:
        return []
    ride = report.case.ride
    if ride is None:
        return [("router", router.name)]
    share, margin = ride.least_carried.share, ride.nearest_to_tipping.margin
    where = "over this opening " if report.template.beside else ""
    carried = f"{where}at least {int(100 * share + 1e-6)} % of it carried, {_middle(report, margin)}"
    return [("router", router.name), ("base", carried)]


def _middle(report: Report, margin: float) -> str:
    """Where the middle of the base goes at worst; outside a pattern it lies beside that."""
    far = first_text(abs(margin), is_in_inches(report), 0)
    return f"its middle overhangs by up to {far}" if margin < 0 else f"its middle at least {far} from the edge"


def tool_words(tool: Bit | Bushing, inches: bool) -> str:
    """Name and size as sold, and the size that is computed with."""
    diameter = tool.diameter
    if isinstance(diameter, Measured):
        size = f"{diameter.nominal}, measured {measured_line(diameter, inches)}"
    else:
        mm, inch = mm_text(diameter.mm, 3), f" = {inch_short(diameter.mm)}" if inches else ""
        size = f"{diameter} = {mm}" if diameter.is_inch else f"{mm}{inch}"
    return f"{tool.name}, {size}" if tool.name else size


def _or_measure(mm: float | None, inches: bool) -> str:
    return UNKNOWN if mm is None else size_line(mm, inches)


def _area(report: Report, width: float, length: float) -> str:
    """One figure for a round."""
    inches = is_in_inches(report)
    if report.job.cut.shape == "round":
        return f"dia {size_line(width, inches, 3)}"
    return area_text(width, length, inches)


def area_text(width: float, length: float, inches: bool) -> str:
    """ "13.175 x 53.175 mm", with inches before it where wanted."""
    mm = f"{mm_text(width, 3).removesuffix(' mm')} x {mm_text(length, 3)}"
    return f"{inch_short(width).removesuffix(' in')} x {inch_short(length)} = {mm}" if inches else mm


def fence_facts(report: Report) -> Facts:
    """Where fence and end stop stand; nothing without work."""
    work, inches = report.job.work, is_in_inches(report)
    if work is None:
        return []
    along, across = lines_of(report.job.cut)
    line = _line("long", work.from_face, across, inches)
    where = f"{fence_side(report)} {line}{_elsewhere(report, fence_mirrored(report))}{_at_open_edge(report)}"
    found = [("fence", f"{size_line(work.from_face, inches)} {where}")]
    if work.from_end is not None:
        line = _line("cross", work.from_end, along, inches)
        words = f"{size_line(work.from_end, inches)} {end_side(report)} {line}"
        found.append(("end stop", f"{words}{_elsewhere(report, end_mirrored(report))}"))
    return [*found, ("work", _stock(work, inches))]


def _stock(work: Work, inches: bool) -> str:
    """Its sizes: "20 x 60 x 400 mm"; where the one that the depth goes into is not known, what the others are."""
    length = [work.length] if work.length is not None else []
    if work.height is None:
        long = f", {size_line(work.length, inches)} long" if work.length is not None else ""
        return f"{size_line(work.thickness, inches)} thick{long}"
    sizes = [work.thickness, work.height, *length]
    mm = " x ".join(mm_text(size).removesuffix(" mm") for size in sizes)
    inch = f"{' x '.join(inch_short(size).removesuffix(' in') for size in sizes)} in = " if inches else ""
    return f"{inch}{mm} mm"


def _at_open_edge(report: Report) -> str:
    """What to see to with a fence where the cut is open to the edge of the work; nothing elsewhere."""
    if edge_of_work(report.job.cut) is None:
        return ""
    return ": the edge of the work, where the gain is open; keep the fence below the bit"


def _line(which: str, distance: float, own: Sequence[float], inches: bool) -> str:
    """The centre line that a distance (mm) is given from; of a group with the distances from each opening's own."""
    if len(own) < 2:
        return f"the plan's {which} centre line"
    text = f"the plan's {which} centre line of the group (ticks with a bar)"
    if len(own) > MOST_ROWS:
        return text
    sizes = [(inch_short if inches else mm_text)(distance + shift) for shift in own]
    return f"{text}; {', '.join(sizes[:-1])} and {sizes[-1]} from the openings' own"


def _elsewhere(report: Report, mirrored: Mirrored) -> str:
    """Where a fence or stop of a mirrored plate stands otherwise than on the plate of which it is the mirror image.

    Nothing for a plate that is not mirrored, and for what stands above or below on both.
    """
    make = report.job.make
    if not make.mirrored or mirrored.is_same:
        return ""
    other = {"left": "RIGHT", "right": "LEFT", None: ""}[make.hand]
    if mirrored.is_opposite:
        return f", on the other side {f'than with the {other} plate' if other else '(mirrored work)'}"
    return f", {mirrored.side} it {f'with the {other} plate' if other else 'without mirroring (mirrored work)'}"


def tenon_facts(report: Report) -> Facts:
    """Loose-tenon stock in short; nothing where none is wanted."""
    job = report.job
    if job.tenon is None:
        return []
    from jigtemplates.tenon import stock_for

    stock = stock_for(report, job.tenon, job.work)
    if stock is None or not stock.can_be_made:
        return [("tenon", "none: nothing is left of it")]
    inches = is_in_inches(report)
    found = [
        ("thickness", size_line(stock.thickness, inches)),
        ("width", size_line(stock.width, inches)),
        ("length", size_line(stock.length, inches)),
        ("edges", f"rounded, r {size_line(stock.edge_radius, inches)}" if stock.edge_radius else "square"),
    ]
    strips = ""
    if stock.strips == 1:
        strips = f", from 1 strip of {size_line(stock.total_length, inches, 1)}"
    elif stock.strips:
        strips = f", from {stock.strips} strips of at most {size_line(stock.strip_length, inches, 1)}"
    return [*found, ("pieces", f"{stock.pieces}{strips}")]


def short_findings(report: Report, *, tight: bool = False) -> list[str]:
    """What each warning is about and what to do about it, in short (tight: in few words).

    Those on making the files are left out; those on making the plate stand last, for it is made when the sheet is used.
    """
    inches = is_in_inches(report)
    found = [one for one in report.findings if one.level is Level.WARNING and not one.where.startswith("make")]
    found.sort(key=lambda one: one.code in OF_MAKING)
    return [brief(one.message, inches=inches, tight=tight) for one in found]


def findings_block(found: Sequence[str], shown: int, width: float, size: float) -> Block:
    """The first warnings, and how many more there are."""
    if not found:
        return Block(0.0)
    bullets = [bullet(words, width, size) for words in found[:shown]]
    if len(found) > shown:
        bullets.append(paragraph(f"… and {len(found) - shown} more: see jigtemplates check", width, size))
    return titled("Look at first", stacked(bullets, 0.15 * size), width)


def cautions_block(width: float, size: float, *, outside: bool = False, inches: bool = False) -> Block:
    """The cautions."""
    round_it = {FEED_INSIDE: FEED_OUTSIDE, CLAMP: FASTEN} if outside else {}
    instead = {**round_it, **({TIGHT: TIGHT_INCH} if inches else {})}
    said = [instead.get(caution, caution) for caution in CAUTIONS]
    if outside:
        said.insert(said.index(FEED_OUTSIDE) + 1, END_GRAIN)
    return titled("Before you rout", stacked((bullet(c, width, size) for c in said), 0.2 * size), width)
