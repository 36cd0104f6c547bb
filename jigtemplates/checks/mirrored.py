"""Does a mirrored cut differ from one that is not?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note
from jigtemplates.wanted import is_lopsided


def check_mirrored(case: Case) -> Iterator[Finding]:
    """A cut whose shape is its own mirror image stays as it is; its angle is not mirrored."""
    cut = case.job.cut
    if not cut.mirrored or is_lopsided(cut):
        return
    turned = f"to lean it the other way write angle = {-cut.angle:g}" if cut.angle % 180 else "leave it out"
    yield note(
        "mirrored-alike",
        "cut.mirrored",
        f"a cut of this shape is its own mirror image, and mirrored = true does not change its angle: {turned}",
    )
