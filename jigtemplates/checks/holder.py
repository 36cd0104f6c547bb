"""Does the plate fit the holder it is made for, at every turn, and does the cut lie within the holder's window?

What is looked at stands in modules of its own, which other jobs need not wait for.
"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding


def check_holder(case: Case) -> Iterator[Finding]:
    """The plate in its holder, with the work below; its rebate, and its turns, where they are wanted."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is not None:
        from jigtemplates.checks.holder_fit import check_fit
        from jigtemplates.checks.holder_work import check_work_in_holder

        yield from check_fit(case, holder)
        yield from check_work_in_holder(case)
    if plate.rebate:
        from jigtemplates.checks.holder_rebate import check_rebate

        yield from check_rebate(case)
    if plate.turn is not None or (holder is not None and holder.screws is not None and case.template.holes):
        from jigtemplates.checks.holder_turn import check_turn

        yield from check_turn(case)
