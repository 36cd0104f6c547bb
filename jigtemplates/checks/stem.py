"""Is the bushing's stem short enough for what is under the base, and long enough to follow the edge?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.practice import LEAST_ENGAGEMENT as LEAST_ENGAGEMENT
from jigtemplates.say import sides


def check_stem(case: Case) -> Iterator[Finding]:
    """Stem against plate, stand-off and ledge: it must touch neither work nor holder, and it must meet the edge."""
    stem, plate = case.job.tools.bushing.stem, case.job.plate
    room = plate.thickness + plate.stand_off
    if stem is None:
        from jigtemplates.checks.enter import enter

        yield note(
            "stem-unknown",
            "tools.bushing",
            f"the stem's length is not known: it must be shorter than {case.beside(room)} (plate and stand-off); "
            f"measure it, file it down where it is longer, or {enter(case.job.tools.bushing, 'stem')}",
        )
        return
    if stem >= room - 1e-9:
        yield stop(
            "stem-too-long",
            "tools.bushing",
            f"the stem {case.aside(stem)} reaches the work: plate and stand-off are {case.said(room)}; shorten it to "
            f"at most {case.said(room - 0.5)}, or make the plate at least {case.said(stem + 0.5 - plate.stand_off)} "
            "thick",
        )
    engaged = min(stem, plate.thickness)
    if engaged < LEAST_ENGAGEMENT:
        yield warning(
            "stem-hardly-engages",
            "plate.thickness" if plate.thickness < stem else "tools.bushing",
            f"only {case.said(engaged)} of the stem meets the template's edge: at least {case.said(LEAST_ENGAGEMENT)} "
            "keeps it from riding up",
        )
    if stem > plate.thickness + 1e-9:
        yield from _clear_of_ledge(case, stem)


def _clear_of_ledge(case: Case, stem: float) -> Iterator[Finding]:
    """A stem that comes out under the plate runs in the holder's window, wherever it is in the opening."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is None or not case.template.opening:
        return
    from jigtemplates.checks.holder_fit import over_window
    from jigtemplates.holders import window_of

    window = window_of(holder)
    if window is None or (over := over_window(window, case, case.template.opening)) <= 1e-6:
        return
    yield stop(
        "stem-meets-ledge",
        "tools.bushing",
        f"the stem {case.aside(stem)} comes {case.said(stem - plate.thickness)} out under the plate and meets "
        f"the holder's ledge: the opening reaches {case.said(over)} beyond its window of "
        f"{sides(case.job, window.width, window.height)}; shorten the stem to less than "
        f"{case.said(plate.thickness)}, or move the cut",
    )
