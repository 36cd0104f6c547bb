"""How deep, in how many passes, and do the cutting edges reach?"""

import math
from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, stop, warning
from jigtemplates.lengths import mm_text

#: Deepest single pass whatever the bit, mm (about 5 mm: common practice, no source).
DEEPEST_PASS = 5.0


def deepest_pass(case: Case) -> float:
    """Deepest single pass, mm: the job's own, else half the bit's diameter and at most DEEPEST_PASS.

    Less than half the bit's diameter is a cutter guide's rule (read; see references).
    """
    return case.job.tools.pass_depth or min(case.bit / 2, DEEPEST_PASS)


def passes(case: Case) -> tuple[float, ...]:
    """Depth of cut in the work after each pass, mm, in equal steps; the last is the full depth."""
    depth = case.job.cut.depth
    count = max(1, math.ceil(depth / deepest_pass(case) - 1e-9))
    return tuple(depth * i / count for i in range(1, count + 1))


def check_depth(case: Case) -> Iterator[Finding]:
    """Cutting length against depth, a bit that cannot plunge, passes deeper than the bit is wide."""
    bit, depth = case.job.tools.bit, case.job.cut.depth
    if bit.cutting_length is not None and depth > bit.cutting_length:
        yield warning(
            "deeper-than-cutting-edges",
            "cut.depth",
            f"the cut ({mm_text(depth)}) is deeper than the cutting edges are long ({mm_text(bit.cutting_length)}): "
            "only go on if the shank is thinner than the bit, and clear the chips after each pass",
        )
    if bit.overall_length is not None and bit.overall_length <= case.plunge_depth:
        yield stop(
            "bit-too-short",
            "tools.bit",
            f"the whole bit ({mm_text(bit.overall_length)}) is shorter than the plunge depth "
            f"({mm_text(case.plunge_depth)}): use a longer bit or a thinner plate",
        )
    if bit.plunging is False:
        yield warning(
            "bit-cannot-plunge",
            "tools.bit",
            "the bit does not cut across its end: use a plunging bit, or drill a starting hole first",
        )
    if case.job.tools.pass_depth is not None and case.job.tools.pass_depth > case.bit:
        yield warning(
            "deep-pass",
            "tools.pass_depth",
            f"passes of {mm_text(case.job.tools.pass_depth)} are deeper than the bit is wide "
            f"({mm_text(case.bit, 3)}): {mm_text(min(case.bit / 2, DEEPEST_PASS))} is safer",
        )
