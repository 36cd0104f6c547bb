"""Do all the cuts of one plate stay within the stock, which lies as from_face and from_end of the first one say?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, warning
from jigtemplates.checks.lying import Box, box_of, extent_of, is_outside, lies_along
from jigtemplates.checks.tenon import LEAST_WOOD
from jigtemplates.geometry.outline import cos_sin
from jigtemplates.parameters.job import Work
from jigtemplates.wanted import edge_of_work

#: What is less than this is nothing, mm (chosen: what stands for round ends is within 0.001 of them).
NOTHING = 0.002


def check_other_cuts(case: Case, work: Work) -> Iterator[Finding]:
    """Every cut but the first against faces and ends of the work, which are the first one's.

    A gain is open at the reference face on purpose. Of work that lies along no first cut nothing is said but of the
    far side.
    """
    box = box_of(case, work) if lies_along(case) else None
    for number, part in enumerate(case.others, 2):
        extent = None if box is None else extent_of(case, part)
        if box is not None and extent is not None and is_outside(extent, box):
            yield _beyond(case, number, extent, box)
            continue
        for name, key, left in _walls(case, part, work, extent, box):
            yield from _wall(case, number, name, key, left)


def _beyond(case: Case, number: int, extent: Box, box: Box) -> Finding:
    names = _names(case)
    gaps = (box[0] - extent[1], extent[0] - box[1], box[2] - extent[3], extent[2] - box[3])
    side = max(range(4), key=lambda i: gaps[i])
    return warning(
        "cut-beyond-work",
        f"cut {number}.{_key(case, side)}",
        f"cut {number} lies wholly beyond {names[side]}, where there is no work: move it, or correct "
        f"{'work.from_end' if side < 2 else 'work.from_face'}, which is that of cut 1",
    )


def _walls(case: Case, part: Case, work: Work, extent: Box | None, box: Box | None) -> Iterator[tuple[str, str, float]]:
    """Name, key and wood that is left at each face and end."""
    if extent is not None and box is not None:
        is_open = edge_of_work(part.job.cut) is not None
        gaps = (extent[0] - box[0], box[1] - extent[1], extent[2] - box[2], box[3] - extent[3])
        for side, (name, left) in enumerate(zip(_names(case), gaps, strict=True)):
            if not (is_open and side == 2):
                yield name, _key(case, side), left
    if work.height is not None:
        yield "the far side, below it", "depth", work.height - part.job.cut.depth


def _names(case: Case) -> tuple[str, str, str, str]:
    """Of the sides of the work: at the left and right, below and above the cut."""
    ends = ("the end of the work", "the other end of the work")
    if case.job.make.mirrored:
        ends = (ends[1], ends[0])
    return (*ends, "the reference face", "the face opposite")


def _key(case: Case, side: int) -> str:
    """The key that moves a cut towards that side, as nearly as one does."""
    cos, sin = cos_sin(case.job.cut.angle)
    return "x" if (abs(cos) >= abs(sin)) == (side < 2) else "y"


def _wall(case: Case, number: int, name: str, key: str, left: float) -> Iterator[Finding]:
    if left <= NOTHING:
        yield warning(
            "mortise-breaks-through",
            f"cut {number}.{key}",
            f"cut {number} comes out at {name}: nothing is left of the wood there; move it or make it smaller",
        )
    elif left < LEAST_WOOD - NOTHING:
        yield warning(
            "thin-wood",
            f"cut {number}.{key}",
            f"only {case.said(left)} of wood between cut {number} and {name}, where at least "
            f"{case.said(LEAST_WOOD)} is sensible: move it or make it smaller",
        )
