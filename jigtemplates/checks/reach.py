"""With this router: does the bit reach the depth, well held, and does it come up clear of the work again?

Heights are from the face of the router's base, up; mm. A bit's projection is from the lower face of the collet nut
to the bit's tip.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import mm_text
from jigtemplates.parameters.entries import Router
from jigtemplates.practice import HELD as HELD

#: A shank this near a collet's size is of that size, mm (chosen: a shank is ground to hundredths, and the sizes that
#: are most alike, 6 mm and 1/4 in, differ by 0.35 mm).
SAME = 0.05

#: The tip should come up this far clear of the work, mm (chosen: as much as the eye sees from above).
CLEAR = 3.0

#: Where a collet nut that passes through the bushing stops at the latest.
ON_WORK = "on the work"


@dataclass(frozen=True, slots=True)
class Reach:
    """What a bit's projection must be, and what decides it; mm."""

    #: of the collet nut's lower face above the base's face, fully plunged; 0 where nothing is known of it
    collet: float
    #: where the collet nut stops: "at the end of its travel", "on the bushing's nut", "on the bushing", "on the work"
    stopped_by: str
    #: the depth is reached, and no cutting edge is in the collet
    least: float
    #: HELD of the shank is in the collet; None where the bit's overall length is not known
    held: float | None
    #: the tip comes up clear of the work; None where the router's measures are not known
    clear: float | None

    @property
    def most(self) -> float | None:
        """The smaller of what is known of `held` and `clear`."""
        return min((limit for limit in (self.held, self.clear) if limit is not None), default=None)


def reach_of(case: Case) -> Reach:
    """The projections with which the bit can be used; without a router only what plate and bit say of it."""
    bit, router = case.job.tools.bit, case.job.tools.router
    collet, stopped_by = _lowest(case, router)
    to_base = None if router is None or router.collet_to_base is None else router.collet_to_base.mm
    return Reach(
        collet=collet,
        stopped_by=stopped_by,
        least=max(case.plunge_depth + collet, bit.cutting_length or 0.0),
        held=None if bit.overall_length is None else bit.overall_length - HELD,
        clear=None if to_base is None else to_base + _under_base(case),
    )


def _under_base(case: Case) -> float:
    """From the base's face to the work."""
    return case.job.plate.thickness + case.job.plate.stand_off


def _lowest(case: Case, router: Router | None) -> tuple[float, str]:
    """How low the collet nut comes, and what stops it there."""
    if router is None:
        return 0.0, ""
    stops = [_floor(case, router)]
    if router.collet_to_base is not None and router.travel is not None:
        stops.append((router.collet_to_base.mm - router.travel.mm, "at the end of its travel"))
    return max(stops, key=lambda one: one[0])


def _floor(case: Case, router: Router) -> tuple[float, str]:
    """What lies in the collet nut's way: the bushing and its nut, unless it passes through the bore to the work.

    A nut or bore of unknown size counts as one that does not pass: collet nuts are wider than most bores.
    """
    bore, nut = case.job.tools.bushing.bore, case.job.tools.bushing.nut
    if router.nut_diameter is not None and bore is not None and router.nut_diameter.mm < bore:
        return -_under_base(case), ON_WORK
    return (0.0, "on the bushing") if nut is None else (nut.height.mm, "on the bushing's nut")


def check_reach(case: Case) -> Iterator[Finding]:
    """Length of the bit; with a router also its collets, its travel, and the way up clear of the work."""
    reach, router = reach_of(case), case.job.tools.router
    yield from _length(case, reach)
    if router is None:
        return
    yield from _collet(case, router)
    yield from _way_up(case, router, reach)
    yield from _projection(case, router, reach)


def _length(case: Case, reach: Reach) -> Iterator[Finding]:
    """Whether the whole bit is long enough for depth, collet and hold."""
    bit, needed = case.job.tools.bit, reach.least + HELD
    if bit.overall_length is None or bit.overall_length >= needed - 1e-9:
        return
    size, hold = case.aside(bit.overall_length), f"the 3/4 in ({mm_text(HELD)}) that the collet must hold"
    if reach.least > case.plunge_depth + reach.collet + 1e-9:
        yield stop(
            "shank-too-short",
            "tools.bit",
            f"the whole bit {size} is shorter than its cutting edges {case.aside(reach.least)}, which must stay out "
            f"of the collet, and {hold}: use a bit with a longer shank",
        )
        return
    stack = [*_down_to(case, reach), hold]
    total = f", {case.said(needed)} in all" if reach.collet else ""
    yield stop(
        "bit-too-short",
        "tools.bit",
        f"the whole bit {size} is shorter than {', '.join(stack[:-1])} and {stack[-1]}{total}: use a longer bit, a "
        "thinner plate or a shallower cut",
    )


def _down_to(case: Case, reach: Reach) -> list[str]:
    """From the collet nut down to the bottom of the cut, as the parts of a sum."""
    plunge = f"the plunge depth {case.aside(case.plunge_depth)}"
    if reach.collet > 1e-9:
        return [plunge, f"the {case.said(reach.collet)} above the base where the collet nut stops ({reach.stopped_by})"]
    if reach.collet < -1e-9:
        return [f"{plunge} less the {case.said(-reach.collet)} that the collet nut comes down through the bushing"]
    return [plunge]


def _collet(case: Case, router: Router) -> Iterator[Finding]:
    """Whether one of the router's collets takes the shank."""
    shank = case.job.tools.bit.shank
    if shank is None or not router.collets or any(abs(size.mm - shank) <= SAME + 1e-9 for size in router.collets):
        return
    sizes = ", ".join(size.text for size in router.collets)  # by the names they are sold by
    yield stop(
        "shank-fits-no-collet",
        "tools.bit",
        f"the shank {case.aside(shank, 3)} fits none of the router's collets ({sizes}): use a bit with one of these "
        "shanks, or add the collet to the router's entry if you have it",
    )


def _way_up(case: Case, router: Router, reach: Reach) -> Iterator[Finding]:
    """Whether a bit that reaches the depth also comes up out of the cut."""
    depth, up = case.job.cut.depth, "the bit would start and stop in the wood"
    if router.travel is not None and router.travel.mm < depth - 1e-9:
        yield stop(
            "travel-too-short",
            "cut.depth",
            f"the router plunges {case.said(router.travel.mm)} and the cut is {case.said(depth)} deep, so {up}: cut at "
            f"most {case.said(router.travel.mm)} deep, or use a router with more travel",
        )
        return
    if reach.clear is None:
        return
    gap = reach.clear - reach.least
    out = f"a bit that sticks {case.said(reach.least)} out of the collet, {_why_so_far(case, reach)},"
    if gap < -1e-9:
        yield stop(
            "bit-stays-in-cut",
            "tools.router",
            f"{out} still stands {case.said(-gap)} deep in the work when the router is fully raised, so {up}: cut less "
            "deep, use a thicker plate or a router with more room under the collet",
        )
    elif gap < CLEAR - 1e-9:
        yield warning(
            "bit-hardly-clear",
            "tools.router",
            f"{out} comes up only {case.said(gap)} clear of the work, less than {case.said(CLEAR)}: set it no longer, "
            "and see that it is clear before you switch on or lift the router",
        )


def _why_so_far(case: Case, reach: Reach) -> str:
    if reach.least > case.plunge_depth + reach.collet + 1e-9:
        return "as its cutting edges do"
    return f"as the depth needs with the collet nut {reach.stopped_by}"


def _projection(case: Case, router: Router, reach: Reach) -> Iterator[Finding]:
    """How far the bit may stick out, where that is possible at all; or what to measure."""
    if router.travel is None or router.collet_to_base is None:
        yield note(
            "router-not-measured",
            "tools.router",
            "travel or collet_to_base of the router is not known, so whether its collet comes low enough and the bit "
            "high enough is not checked: measure them, and give them in the router's entry",
        )
    elif reach.most is not None and reach.most >= reach.least - 1e-9 and router.travel.mm >= case.job.cut.depth - 1e-9:
        yield note("bit-projection", "tools.router", _projection_words(case, reach, reach.most))


def _projection_words(case: Case, reach: Reach, most: float) -> str:
    by = "3/4 in of its shank is held" if most == reach.held else "it comes up clear of the work"
    words = (
        f"let the bit stick {case.said(reach.least)} to {case.said(most)} out of the collet: at least so much "
        f"{_purpose(case, reach)}, at most so much that {by}"
    )
    if reach.held is None:
        words += f"; in all it must be at least {case.said(reach.least + HELD)} long (its overall_length is not known)"
    if case.job.tools.bushing.nut is None and reach.stopped_by != ON_WORK:
        words += "; see that the collet nut clears the bushing's nut, whose height is not known"
    return words


def _purpose(case: Case, reach: Reach) -> str:
    if reach.least > case.plunge_depth + reach.collet + 1e-9:
        return "that the cutting edges stay out of it"
    return f"that it reaches {case.said(case.plunge_depth)} below the base"
