"""Does the work come as near to the plate as the stand-off says, and no nearer, past the ledge of its holder?"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.holders.beneath import SAME, Beneath, beneath, goes_in
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.say import in_inches, sides

if TYPE_CHECKING:
    from jigtemplates.lengths import Length

_KEY = "plate.stand_off"


def check_work_in_holder(case: Case) -> Iterator[Finding]:
    """Work that must come up into the holder's window: whether it goes in, and what to write where it does not.

    And work that goes in although the plunge counts a stand-off: whether it may stand up to the plate.
    """
    below = beneath(case.job.plate)
    if below is None:
        return
    goes = goes_in(case.job, below.window)
    if not below.is_short:
        if goes and case.job.plate.stand_off > SAME:
            yield _may_come_up(case, below)
        return
    if goes:
        return
    if below.ledge is None:
        yield from _of_unknown_ledge(case, below, is_too_large=goes is False)
    elif goes is False:
        yield _too_large(case, below, below.ledge)
    else:
        yield _perhaps(case, below, below.ledge)


def _may_come_up(case: Case, below: Beneath) -> Finding:
    """Work that goes wholly into the window, where no ledge keeps it off the plate.

    A warning where the stand-off is the ledge's thickness, which then counts for nothing; else something else is meant
    to keep the work off, and it is a note.
    """
    off = case.job.plate.stand_off
    is_ledge = below.ledge is not None and below.into_window >= -SAME
    return (warning if is_ledge else note)(
        "work-under-window",
        _KEY,
        f"the work {_size(case)} goes into the holder's window of {_window(case, below)}, and where it stands up to "
        f"the plate the cut comes out {case.said(off)} deeper than asked: write plate.stand_off = 0, and the plunge is "
        f"{case.said(case.plunge_depth - off)}, or see that the work lies {case.said(off)} below the plate",
    )


def _too_large(case: Case, below: Beneath, ledge: "Length") -> Finding:
    return stop(
        "work-meets-ledge",
        _KEY,
        f"the work {_size(case)} does not go into the holder's window of {_window(case, below)}, so the ledge "
        f"{case.aside(ledge.mm)} lies on it, and the cut comes out {case.said(below.into_window)} less deep than "
        f"asked: write {_remedy(case, below, ledge)}",
    )


def _perhaps(case: Case, below: Beneath, ledge: "Length") -> Finding:
    return note(
        "work-in-window",
        _KEY,
        f"the work must come {case.said(below.into_window)} up into the holder's window of {_window(case, below)}, for "
        f"the ledge {case.aside(ledge.mm)} is thicker than the stand-off has room for: where the work is larger, the "
        f"cut comes out as much less deep; write {_remedy(case, below, ledge)}{_unless(case)}",
    )


def _of_unknown_ledge(case: Case, below: Beneath, *, is_too_large: bool) -> Iterator[Finding]:
    """The same where only that there is a ledge is known."""
    remedy = "measure the ledge, and write its thickness as plate.stand_off: the plunge is as much more"
    if is_too_large:
        yield warning(
            "work-meets-ledge",
            _KEY,
            f"the work {_size(case)} does not go into the holder's window of {_window(case, below)}, so the ledge lies "
            f"on it, and the cut comes out less deep by the ledge's thickness: {remedy}",
        )
    else:
        yield note(
            "work-in-window",
            _KEY,
            f"with this stand-off the work must come up through the holder's window of {_window(case, below)} to the "
            f"plate: where it is larger, {remedy}{_unless(case)}",
        )


def _unless(case: Case) -> str:
    """What would have told it."""
    if case.job.work is None:
        return " (with the work's thickness and length in [work] this is looked at)"
    return "" if case.job.work.length is not None else " (with work.length this is looked at)"


def _remedy(case: Case, below: Beneath, ledge: "Length") -> str:
    """What to write, and the plunge with it."""
    needed = ledge.mm - below.hang
    text = ledge.text if below.hang < SAME else inch_short(needed) if in_inches(case.job) else mm_text(needed)
    plunge = case.plunge_depth + below.into_window
    profile = "or correct stand_off in the holder's profile"
    return f'plate.stand_off = "{text}", {profile}, and the plunge is {case.said(plunge)}'


def _size(case: Case) -> str:
    """ "(1-3/8 in = 34.93 mm thick, 42 in = 1066.8 mm long)"."""
    work = case.job.work
    assert work is not None  # that too little is known of was not looked at
    long = "" if work.length is None else f", {case.beside(work.length)} long"
    return f"({case.beside(work.thickness)} thick{long})"


def _window(case: Case, below: Beneath) -> str:
    return sides(case.job, below.window.width, below.window.height)
