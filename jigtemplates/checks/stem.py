"""Is the bushing's stem shorter than what is under the base, and long enough to follow the edge?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import mm_text
from jigtemplates.practice import LEAST_ENGAGEMENT as LEAST_ENGAGEMENT


def check_stem(case: Case) -> Iterator[Finding]:
    """Stem against plate and stand-off: it must not touch the work, and it must meet the edge."""
    stem, plate = case.job.tools.bushing.stem, case.job.plate
    room = plate.thickness + plate.stand_off
    if stem is None:
        yield note(
            "stem-unknown",
            "tools.bushing",
            f"the stem's length is not known: it must be shorter than {mm_text(room)} (plate and stand-off); measure "
            "it, file it down where it is longer, or give it as bushing = { diameter = …, stem = … }",
        )
        return
    if stem >= room - 1e-9:
        yield stop(
            "stem-too-long",
            "tools.bushing",
            f"the stem ({mm_text(stem)}) reaches the work: plate and stand-off are {mm_text(room)}; shorten it to "
            f"at most {mm_text(room - 0.5)}, or make the plate at least {mm_text(stem + 0.5 - plate.stand_off)} thick",
        )
    engaged = min(stem, plate.thickness)
    if engaged < LEAST_ENGAGEMENT:
        yield warning(
            "stem-hardly-engages",
            "plate.thickness" if plate.thickness < stem else "tools.bushing",
            f"only {mm_text(engaged)} of the stem meets the template's edge: at least {mm_text(LEAST_ENGAGEMENT)} "
            "keeps it from riding up",
        )
