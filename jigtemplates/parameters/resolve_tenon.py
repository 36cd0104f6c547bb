"""Validated tables of loose tenons, [tenon] or a cut's own, become the tenons the program works with."""

from collections.abc import Iterator, Sequence

from jigtemplates.lengths import Length
from jigtemplates.parameters import job
from jigtemplates.parameters.model import MORTISES, JobFile
from jigtemplates.parameters.work_tables import FIT, GLUE_ROOM, SAW_KERF, WASTE, TenonTable
from jigtemplates.say import written_text

#: Where the table stands: of the first cut of a job, or in the cut's own table.
SHARED, OWN = "tenon", "cut.tenon"


def table_of(file: JobFile) -> TenonTable | None:
    """The table in that of the (first) cut; None where it has none."""
    return getattr(file.cut, "tenon", None)


def resolved_tenons(
    files: Sequence[JobFile], cuts: Sequence[job.Cut]
) -> tuple[job.TenonChoice | None, tuple[job.TenonChoice | None, ...]]:
    """The tenons of the first cut, and of each further one; nothing for those where none of them has any."""
    first, *others = (_for(file, cut) for file, cut in zip(files, cuts, strict=True))
    return first, tuple(others) if any(others) else ()


def _for(file: JobFile, cut: job.Cut) -> job.TenonChoice | None:
    own = table_of(file)
    table = file.tenon if own is None else own
    return None if table is None else _resolved(table, cut, SHARED if own is None else OWN)


def _resolved(table: TenonTable, cut: job.Cut, key: str) -> job.TenonChoice:
    return job.TenonChoice(
        joints=table.joints * (1 if cut.repeat is None else cut.repeat.total),
        fit=(table.fit or FIT).mm,
        glue_room=(table.glue_room or GLUE_ROOM).mm,
        mate_depth=cut.depth if table.mate_depth is None else table.mate_depth.mm,
        edge=table.edge or ("square" if cut.shape == "rectangle" else "round"),
        kerf=(table.kerf or SAW_KERF).mm,
        waste=(table.waste or WASTE).mm,
        strip=_mm(table.strip),
        key=key,
    )


def tenon_assumptions(files: Sequence[JobFile], inches: bool) -> Iterator[job.Assumption]:
    """What was not said of the tenons of each cut, and that those of [tenon] are for the first alone."""
    for number, file in enumerate(files, 1):
        if (own := table_of(file)) is not None:
            yield from _of_table(own, f"cut {number}.tenon" if len(files) > 1 else OWN, OWN, inches)
        elif file.tenon is not None:
            yield from _of_table(file.tenon, SHARED, "[tenon]", inches)
            if len(files) > 1:
                yield job.Assumption(SHARED, f"the tenons are for the first cut alone{_how_for_others(files[1:])}")


def _how_for_others(others: Sequence[JobFile]) -> str:
    """How another mortise gets tenons, where one has none."""
    bare = [n for n, one in enumerate(others, 2) if one.cut.shape in MORTISES and table_of(one) is None]
    return f" (for cut {bare[0]} write tenon = {{ joints = 4 }} in its table)" if bare else ""


def _of_table(table: TenonTable, where: str, called: str, inches: bool) -> Iterator[job.Assumption]:
    defaults = {"fit": FIT, "glue_room": GLUE_ROOM, "kerf": SAW_KERF, "waste": WASTE}
    taken = [f"{key} {written_text(length, inches)}" for key, length in defaults.items() if getattr(table, key) is None]
    if taken:
        yield job.Assumption(where, f"for the tenons, {', '.join(taken)} assumed (not set in {called})")
    if table.mate_depth is None:
        text = "the other mortise is taken to be as deep as this one (tenon.mate_depth is not set)"
        yield job.Assumption(f"{where}.mate_depth", text)


def _mm(length: Length | None) -> float | None:
    return None if length is None else length.mm
