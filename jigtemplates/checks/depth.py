"""How deep, in how many passes, and do the cutting edges reach?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import sold_as
from jigtemplates.passes import pass_count as _count
from jigtemplates.passes import pass_depths, usual_pass
from jigtemplates.say import in_inches

#: More passes than this nobody makes (chosen: the pass depth was surely mistyped).
MOST_PASSES = 200


def deepest_pass(case: Case) -> float:
    """Deepest single pass, mm: the job's own, else the usual one for the size the bit is sold as."""
    return case.job.tools.pass_depth or usual_pass(sold_as(case.job.tools.bit.diameter).mm)


def passes(case: Case) -> tuple[float, ...]:
    """Depth of cut in the work after each pass, mm, on marks of a rule where that can be; the last is the full depth.

    No more than MOST_PASSES + 1 of them, which is a stop anyway.
    """
    deepest, inches = deepest_pass(case), in_inches(case.job)
    return pass_depths(case.job.cut.depth, deepest, inches=inches, most=MOST_PASSES + 1)


def pass_count(case: Case) -> int:
    """How many passes no deeper than `deepest_pass` make the depth of the cut."""
    return _count(case.job.cut.depth, deepest_pass(case), inches=in_inches(case.job))


#: No cut of a hand-held router is deeper, mm: 4 in (chosen: the largest plunge 65 to 80 mm deep, from memory, and their
#: longest bits are little longer).
DEEPEST_CUT = 101.6


def check_depth(case: Case) -> Iterator[Finding]:
    """Cutting edges against depth, a bit that cannot plunge, depth of the passes."""
    bit = case.job.tools.bit
    yield from _edges(case)
    if case.job.cut.depth > DEEPEST_CUT:
        yield _too_deep(case)
    if bit.plunging is False:
        yield warning(
            "bit-cannot-plunge",
            "tools.bit",
            "the bit does not cut across its end: use a plunging bit, or drill a starting hole first",
        )
    yield from _passes(case)


def _too_deep(case: Case) -> Finding:
    from jigtemplates.checks.meant import as_mm, instead

    written = case.job.cut.depth_written
    mistaken = written.is_inch and as_mm(written) <= DEEPEST_CUT and "/" not in written.text
    return warning(
        "depth-unlikely",
        "cut.depth",
        f"the cut is {case.said(case.job.cut.depth)} deep, and no hand-held router plunges deeper than about "
        f"{case.said(DEEPEST_CUT)}: look at cut.depth{instead(written) if mistaken else ''}",
    )


def _edges(case: Case) -> Iterator[Finding]:
    bit, depth = case.job.tools.bit, case.job.cut.depth
    if bit.cutting_length is None:
        from jigtemplates.checks.enter import enter

        yield note(
            "reach-unknown",
            "tools.bit",
            "the length of the bit's cutting edges is not known: they must be longer than the cut is deep "
            f"{case.aside(depth)}, and the bit must reach {case.said(case.plunge_depth)} below the base; measure it, "
            f"or {enter(bit, 'cutting_length', 'shank')}",
        )
    elif depth <= bit.cutting_length + 1e-9:
        return
    elif bit.shank is not None and bit.shank > case.bit + 1e-9:
        yield stop(
            "shank-meets-work",
            "cut.depth",
            f"the cut {case.aside(depth)} is deeper than the cutting edges are long {case.aside(bit.cutting_length)} "
            f"and the shank {case.aside(bit.shank, 3)} is thicker than the bit {case.aside(case.bit, 3)}, so it would "
            f"jam in the cut: use a longer bit, or cut at most {case.said(bit.cutting_length)} deep",
        )
    else:
        yield warning(
            "deeper-than-cutting-edges",
            "cut.depth",
            f"the cut {case.aside(depth)} is deeper than the cutting edges are long {case.aside(bit.cutting_length)}: "
            "only go on if the shank is thinner than the bit, and clear the chips after each pass",
        )


def _passes(case: Case) -> Iterator[Finding]:
    own, count = case.job.tools.pass_depth, pass_count(case)
    usual = usual_pass(sold_as(case.job.tools.bit.diameter).mm)
    if own is not None and own > case.bit + 1e-9:
        yield warning(
            "deep-pass",
            "tools.pass_depth",
            f"passes of {case.said(own)} are deeper than the bit is wide {case.aside(case.bit, 3)}: {case.said(usual)} "
            "is safer",
        )
    if count > MOST_PASSES:
        yield stop(
            "too-many-passes",
            "cut.depth" if own is None else "tools.pass_depth",
            f"a cut {case.said(case.job.cut.depth)} deep would take {count} passes of "
            f"{case.said(deepest_pass(case), 4)}: at most {MOST_PASSES} make sense; check cut.depth, the bit and "
            f"tools.pass_depth ({case.beside(usual)} is usual for this bit)",
        )
