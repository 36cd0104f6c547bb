"""What a job's [fit] table and the process profiles say of errors, with what is taken where they are silent."""

from jigtemplates.parameters import job
from jigtemplates.parameters.budget_table import OFF_CENTRE, TOO_LOOSE, TOO_TIGHT, FitTable
from jigtemplates.parameters.make_tables import Target
from jigtemplates.profiles import Profiles

#: The keys whose default is a guess at the person's workshop.
_GUESSED = ("off_centre", "turned")
_NOTHING = FitTable.model_construct()


def fit_choice(
    table: FitTable | None, targets: tuple[Target, ...], kerf_within: float | None, profiles: Profiles
) -> job.FitChoice:
    """What the budget is computed with, for the processes that the template is made with."""
    said = _NOTHING if table is None else table
    edges = ((target, profiles.find("processes", target).entry.within) for target in targets)
    return job.FitChoice(
        off_centre=(OFF_CENTRE if said.off_centre is None else said.off_centre).mm,
        turned=said.turned is not False,
        limits=(
            (TOO_TIGHT if said.too_tight is None else said.too_tight).mm,
            (TOO_LOOSE if said.too_loose is None else said.too_loose).mm,
        ),
        tenon=said.tenon,
        edges=tuple(job.Edge(target, None if within is None else within.mm) for target, within in edges),
        kerf_within=kerf_within if "laser" in targets else None,
        taken=tuple(key for key in _GUESSED if getattr(said, key) is None),
    )
