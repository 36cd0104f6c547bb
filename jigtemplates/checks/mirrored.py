"""Does a mirrored cut differ from one that is not, and the plate for one hand from that for the other?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note
from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.outline import Region
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


#: Plates for two hands are one plate where no edge is further off, mm (chosen: what no tool can tell apart).
ALIKE = 1e-4


def check_pair(case: Case) -> Iterator[Finding]:
    """A pair of plates of which either does for both hands."""
    make, template = case.job.make, case.template
    if make.hand is None or make.mirrored:
        return
    edges = (*template.opening, template.plate, *(Region(hole.rim) for hole in template.holes))
    turned = tuple(_mirrored(region, case.job.plate.width) for region in edges)
    if deviation(edges, turned) < ALIKE:
        yield note(
            "pair-alike",
            "make.pair",
            "the plates for the left and the right hand have the same openings and holes, so that either does for "
            "both: leave pair out, or place the cut where the hands differ",
        )


def _mirrored(region: Region, width: float) -> Region:
    outer, *holes = (ring.mirrored().moved(width, 0.0) for ring in region.rings)
    return Region(outer, tuple(holes))
