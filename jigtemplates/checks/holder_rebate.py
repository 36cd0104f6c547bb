"""Can the plate be rebated round its underside, and do opening, stem and screws bear with the thinner edge?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.checks.holder_fit import over_window
from jigtemplates.holders import window_of
from jigtemplates.holes import countersink_depth
from jigtemplates.rebate import Rebate, rebate_of

#: The middle is at least this wide, mm (chosen: no opening has room in a smaller one).
LEAST_MIDDLE = 1.0


def check_rebate(case: Case) -> Iterator[Finding]:
    """What is left of the plate's middle, the opening in it, the stem over the ledge, the screws in the edge."""
    rebate = rebate_of(case.job.plate)
    if rebate is None:
        return
    if min(rebate.middle.width, rebate.middle.height) < LEAST_MIDDLE:
        yield stop(
            "rebate-takes-all",
            "plate.rebate",
            f"a rebate {case.said(rebate.width)} wide on every side leaves nothing of the plate's middle: take a "
            "plate as thick as the recess is deep",
        )
        return
    yield _how(case, rebate)
    yield from _opening(case, rebate)
    yield from _screws(case, rebate)


def _how(case: Case, rebate: Rebate) -> Finding:
    width, depth, targets = case.said(rebate.width), case.said(rebate.depth), case.job.make.targets
    words = (
        f"rebate the underside all round, {width} wide and {depth} deep: {case.said(rebate.edge)} stays on the "
        "ledge, and the upper face lies flush with the holder's"
    )
    if "cnc" in targets:
        words += "; a CNC file of its own shows the underside, with the rebate as a pocket"
    if "laser" in targets:
        words += "; a laser cannot make it"
    if "print" in targets:
        words += "; a printed plate has it already"
    if case.job.plate.corner_radius < case.job.plate.width / 2 - 1e-6:  # a round plate finds no fence
        words += f". By hand on a router table: bit {depth} high, its far side {width} in front of the fence"
    return note("rebate", "plate.rebate", words)


def _opening(case: Case, rebate: Rebate) -> Iterator[Finding]:
    """An opening that reaches into the rebate has a thinner edge there, with the ledge close under it."""
    opening, holder = case.template.opening, case.job.plate.holder
    if not opening or holder is None:
        return
    into = over_window(rebate.middle, case, opening)
    if into > 1e-6:
        yield warning(
            "opening-in-rebate",
            "cut.x",
            f"the opening reaches {case.said(into)} into the rebate, where only {case.said(rebate.edge)} of "
            "the plate guides the bushing: move or shorten the cut, or use another holder",
        )
    window, stem = window_of(holder), case.job.tools.bushing.stem
    if window is None or stem is None or not rebate.edge + 1e-9 < stem <= case.job.plate.thickness + 1e-9:
        return  # a longer one is the question of check_stem
    over = over_window(window, case, opening)
    if over > 1e-6:
        yield stop(
            "stem-meets-ledge",
            "tools.bushing",
            f"the stem {case.aside(stem)} is longer than the rebated edge is thick "
            f"{case.aside(rebate.edge)} and meets the holder's ledge: the opening reaches {case.said(over)} "
            "beyond its window; shorten the stem, or move the cut",
        )


def _screws(case: Case, rebate: Rebate) -> Iterator[Finding]:
    """Countersinks and threads in the thinner edge, which is what lies over the ledge."""
    screws = case.job.plate.screws
    if screws is None:
        return
    sunk = max((countersink_depth(hole, screws) for hole in case.template.holes), default=0.0)
    edge = case.said(rebate.edge)
    if sunk >= rebate.edge - 1e-9:
        yield stop(
            "countersink-through-edge",
            "plate.screws",
            f"the countersinks ({case.beside(sunk)} deep) go through the rebated edge, which is {edge} thick: take "
            "smaller screws, or another hole",
        )
    thread = screws.screw.diameter.mm
    if screws.hole == "tapped" and rebate.edge < thread - 1e-9:
        yield warning(
            "short-thread",
            "plate.screws",
            f"only {edge} of thread is left in the rebated edge, less than the screw is thick "
            f"{case.aside(thread)}: screw from above into the ledge",
        )
