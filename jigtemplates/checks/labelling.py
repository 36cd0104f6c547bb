"""What became of the label that belongs on the plate?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.label import HEIGHTS
from jigtemplates.lettering import LetteringError, missing_letters


def check_label(case: Case) -> Iterator[Finding]:
    """A label that is smaller than usual, elsewhere than usual, or left out."""
    placement = case.template.label
    if not case.job.plate.label:
        yield note("label-off", "plate.label", "the plate carries no label: write bit, bushing and cut on it by hand")
    elif unlettered := tuple(_without_letters(case)):
        yield from unlettered
    elif placement.label is None:
        yield warning(
            "label-left-out",
            "plate.label",
            f"there is no room for the label, even with letters of {case.said(HEIGHTS[-1])}: write bit, bushing and "
            "cut on the plate by hand, or make the plate larger",
        )
    elif placement.moved:
        yield note(
            "label-moved",
            "plate.label",
            f"the label did not fit {_usual(case)} and stands elsewhere, with letters of "
            f"{case.said(placement.label.height)}",
        )
    elif placement.shrunk:
        yield note(
            "label-smaller",
            "plate.label",
            f"the label's letters are {case.said(placement.label.height)} high, to fit {_usual(case)}",
        )


def _usual(case: Case) -> str:
    return "in the middle of the pattern" if case.job.cut.side == "outside" else "below the opening"


def _without_letters(case: Case) -> Iterator[Finding]:
    """What of the label has characters that no single-line letter exists for."""
    missing = missing_letters(case.job.title)
    if missing:
        fault = LetteringError(case.job.title, missing)
        yield stop("label-letters", "title", f"{fault}, or leave the label off: plate.label = false")
