"""Does the plate hold together, and does the bit get everywhere without being lifted out?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, warning


def check_loose(case: Case) -> Iterator[Finding]:
    """Pieces of the plate that an opening cuts free, and parts of a drawn cut with no way between them."""
    if case.job.cut.side == "outside":
        return
    pieces = sum(len(region.holes) for region in case.template.opening)
    if pieces:
        what = "a piece" if pieces == 1 else f"{pieces} pieces"
        yield warning(
            "loose-piece",
            "cut.file",
            f"the opening cuts {what} free from the middle of the plate: fasten it to the work in its place "
            "(double-sided tape, against the datum), or draw what stands inside as a cut of its own",
        )
    parts = len(case.template.opening_at_rest) if case.predicted is None else len(case.predicted.path)
    if parts > 1:
        yield warning(
            "lift-between-parts",
            "tools.bit",
            f"the bushing does not pass between {parts} parts of the cut: let the bit stop and lift it out between "
            "them, or use a smaller bit and bushing",
        )
