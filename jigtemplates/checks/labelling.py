"""What became of the label that belongs on the plate?"""

from collections import Counter
from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.label import HEIGHTS
from jigtemplates.lettering import LetteringError, missing_letters
from jigtemplates.placing import places_made


def check_label(case: Case) -> Iterator[Finding]:
    """A label that is smaller than usual, elsewhere than usual, or left out; and numbers that found no room."""
    yield from _of_label(case)
    yield from _of_numbers(case)


def _of_label(case: Case) -> Iterator[Finding]:
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


def _of_numbers(case: Case) -> Iterator[Finding]:
    """Of several cuts that differ: openings without their number."""
    if not case.others:
        return
    parts = enumerate(case.template.parts, 1)
    wanted = Counter({number: len(places_made(part.job)) for number, part in parts if part.opening_at_rest})
    missing = wanted - Counter(one.number for one in case.template.numbers)
    if missing:
        named = ", ".join(_openings(number, count, wanted[number]) for number, count in sorted(missing.items()))
        yield warning(
            "number-left-out",
            "plate",
            f"there is no room to engrave its number beside {named}: write it there by hand, so that each is routed to "
            "its own depth, or make the plate larger",
        )


def _openings(number: int, missing: int, of: int) -> str:
    if of == 1:
        return f"the opening of cut {number}"
    return f"{'all' if missing == of else missing} of the {of} openings of cut {number}"


def _usual(case: Case) -> str:
    return "in the middle of the pattern" if case.job.cut.side == "outside" else "below the opening"


def _without_letters(case: Case) -> Iterator[Finding]:
    """What of the label has characters that no single-line letter exists for."""
    missing = missing_letters(case.job.title)
    if missing:
        fault = LetteringError(case.job.title, missing)
        yield stop("label-letters", "title", f"{fault}, or leave the label off: plate.label = false")
