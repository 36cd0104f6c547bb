"""What became of the label that belongs on the plate?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.label import HEIGHTS
from jigtemplates.lengths import mm_text


def check_label(case: Case) -> Iterator[Finding]:
    """A label that is smaller than usual, elsewhere than usual, or left out."""
    placement = case.template.label
    if not case.job.plate.label:
        yield note("label-off", "plate.label", "the plate carries no label: write bit, bushing and cut on it by hand")
    elif placement.label is None:
        yield warning(
            "label-left-out",
            "plate.label",
            f"there is no room for the label, even with letters of {mm_text(HEIGHTS[-1])}: write bit, bushing and cut "
            "on the plate by hand, or make the plate larger",
        )
    elif placement.moved:
        yield note(
            "label-moved",
            "plate.label",
            f"the label did not fit below the opening and stands elsewhere, with letters of "
            f"{mm_text(placement.label.height)}",
        )
    elif placement.shrunk:
        yield note(
            "label-smaller",
            "plate.label",
            f"the label's letters are {mm_text(placement.label.height)} high, to fit below the opening",
        )
