"""Outside work: does a pattern remain, what happens to the corners, and what carries the router?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.checks.walls import least_wall
from jigtemplates.geometry.offset import shrink
from jigtemplates.geometry.outline import Region
from jigtemplates.outside import is_outside
from jigtemplates.practice import HAIR
from jigtemplates.say import area

#: Corners that lose or keep less wood than this, mm², are not worth a word (chosen, as for recesses).
CRUMB = 0.01

#: Corners that come out further off than this are a warning, mm (chosen: what the eye sees at arm's length).
FAR = 1.0

#: A pattern less across than the first carries no router; less than the second, hardly one, mm. Chosen: a base is about
#: 150 mm across, and its middle lies beside the pattern by half the bushing.
TOO_SMALL, SMALL = 40.0, 100.0


def check_outside(case: Case) -> Iterator[Finding]:
    """A pattern in one piece, its corners, the router that lies half beside it. Nothing for a recess."""
    if not is_outside(case.job.cut):
        return
    yield from _pattern(case)
    if case.predicted is None:
        return
    yield from _corners(case)
    yield from _held(case)
    yield warning(
        "base-overhangs",
        "tools.router",
        "outside a pattern less than half of the router's base is carried: keep the weight on the pattern, or lay "
        f"strips as thick as it {case.aside(case.job.plate.thickness + case.job.plate.stand_off)} under the outer side",
    )


def _pattern(case: Case) -> Iterator[Finding]:
    parts, offset = case.template.opening_at_rest, (case.bushing - case.bit) / 2
    if any(region.holes for region in case.template.cut):
        yield stop(
            "pattern-with-holes",
            "cut.side",
            "the outline has others inside it, which a pattern followed round its outside does not cut: draw them as a "
            "recess of their own",
        )
    if not parts:
        yield stop(
            "no-pattern",
            "cut.side",
            f"nothing is left of the pattern, which is {case.said(offset, 3)} a side smaller than the work: use a "
            "smaller bushing or a wider bit",
        )
    elif len(parts) > 1 or parts[0].holes:
        yield stop(
            "pattern-in-parts",
            "cut.side",
            f"the pattern, {case.said(offset, 3)} a side smaller than the work, is in several parts or has a hole: use "
            "a smaller bushing or a wider bit, or make the neck of the work wider",
        )


def _held(case: Case) -> Iterator[Finding]:
    """A pattern's size, its necks, and what fastens it."""
    box, plate = case.template.plate.bounds, case.job.plate
    least = min(box.width, box.height)
    if least < TOO_SMALL - 1e-9:
        yield stop(
            "pattern-too-small",
            "cut.side",
            f"the pattern is {case.said(least)} across, too small to carry a hand-held router and to be fastened clear "
            "of the bit: cut such a piece at a router table, or from a recess in a larger template",
        )
    elif least < SMALL - 1e-9:
        yield warning(
            "pattern-small",
            "cut.side",
            f"the pattern is only {case.said(least)} across, so the router stands on little more than its bushing: "
            f"screw strips of the same thickness {case.aside(plate.thickness + plate.stand_off)} down round it",
        )
    wall = least_wall(case)
    if len(_narrowed(case, wall / 2)) > 1:
        yield warning(
            "pattern-neck",
            "cut.side",
            f"a neck of the pattern is narrower than {case.said(wall)}, which is sensible in this sheet: take a "
            "thicker or tougher one, a smaller bushing, or set plate.wall if you know better",
        )
    if not case.template.holes:
        yield note(
            "pattern-not-screwed",
            "plate.screws",
            "clamps are in the router's way all round a pattern: fasten it with screws into what is covered later or "
            "with strong double-sided tape, pressed down well, and both to the bench over a waste board",
        )


def _narrowed(case: Case, by: float) -> tuple[Region, ...]:
    """The pattern less so much all round: in several parts where a neck is narrower than twice that."""
    return shrink((case.template.plate,), by)


def _corners(case: Case) -> Iterator[Finding]:
    cut = case.predicted
    assert cut is not None
    offset = (case.bushing - case.bit) / 2
    if cut.excess_area >= CRUMB and cut.max_deviation >= HAIR:
        yield (warning if cut.max_deviation > FAR else note)(
            "corners-rounded",
            "cut.corner_radius" if case.job.cut.shape in ("rectangle", "polygon") else "cut.shape",
            f"corners of the work tighter than {case.said(offset, 3)}, half of bushing less bit, come out rounded to "
            f"that, the edge at most {case.said(cut.max_deviation, 2)} off: use a bushing nearer to the bit in size, "
            "or leave the corners standing and finish them by hand",
        )
    if cut.unreachable_area >= CRUMB and cut.max_deviation >= HAIR:
        yield warning(
            "corner-tighter-than-bit",
            "tools.bit",
            f"corners that go in are tighter than the bit ({case.beside(case.bit / 2, 3)} radius) and keep "
            f"{area(cut.unreachable_area, case.job)} of wood: chisel it away, or use a smaller bit",
        )
