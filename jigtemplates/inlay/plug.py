"""The plug of a job: its two pairs, what routing them makes, and its set-up as a case of its own."""

from dataclasses import replace
from typing import Any

from jigtemplates.checks.finding import Case
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Regions
from jigtemplates.inlay import DECIMALS, Fit, Pair
from jigtemplates.inlay.overlay import Overlay, lay_over
from jigtemplates.opening import size_of
from jigtemplates.parameters.job import InlayChoice, Job
from jigtemplates.routing import PredictedCut

#: How far the groove round the plug goes into the board below its stock, mm (chosen: about 1/64 in, so that no film
#: of wood is left to tear).
THROUGH = 0.4


def choice_of(job: Job) -> InlayChoice:
    """The [inlay] of a job that has one."""
    assert job.inlay is not None
    return job.inlay


def fit_of(job: Job) -> Fit:
    """The two pairs of a job with [inlay], by their measured sizes where they are known."""
    choice, tools = choice_of(job), job.tools
    return Fit(
        recess=Pair(tools.bit.diameter.mm, tools.bushing.diameter.mm),
        plug=Pair(choice.bit.diameter.mm, choice.bushing.diameter.mm),
        glue_line=choice.glue_line.mm,
    )


def overlay_of(case: Case) -> Overlay:
    """Recess and plug of all cuts, in their place on the plate."""
    return lay_over(case.template.opening, fit_of(case.job))


def are_apart(opening: Regions) -> bool:
    """Whether no two openings on a plate share any of it."""
    if len(opening) < 2:
        return True
    import shapely

    areas = [shapely.Polygon(region.outer.flattened(COARSE)) for region in opening]
    tree = shapely.STRtree(areas)
    pairs = ((int(a), int(b)) for a, b in tree.query(areas, predicate="intersects").T if a < b)
    return not any(shapely.intersection(areas[a], areas[b]).area > COARSE for a, b in pairs)


#: Chords on which openings are looked at, mm and mm² (chosen: walls between them are millimetres).
COARSE = 0.01


def inlay_json(case: Case) -> dict[str, Any]:
    """What `--json` prints of a job with [inlay]; lengths in mm."""
    depths = {"recess": case.plunge_depth, "plug": plug_case(case).plunge_depth}
    return {
        **fit_of(case.job).as_json(),
        "plunge_depth": {name: round(mm, DECIMALS) + 0.0 for name, mm in depths.items()},
        "laid_over": case.inlay and case.inlay.as_json(),
    }


def plug_case(case: Case) -> Case:
    """The same template with the plug's tools, its cut as deep as the inlay stock is thick and a hair.

    Its `predicted` is the groove with all that is inside it.
    """
    first, *others = (_one(part) for part in case.parts)
    return replace(first, others=tuple(others))


def _one(part: Case) -> Case:
    job, choice = part.job, choice_of(part.job)
    tools = replace(job.tools, bit=choice.bit, bushing=choice.bushing)
    template = replace(
        part.template,
        job=replace(job, tools=tools, cut=replace(job.cut, depth=choice.thickness + THROUGH)),
        others=(),
    )
    path = shrink(part.template.opening_at_rest, choice.bushing.diameter.mm / 2)
    outline = grow(path, choice.bit.diameter.mm / 2)
    size = size_of(outline)
    if size is None:
        return Case(template, None)
    groove = PredictedCut(outline, size.width, size.length, 0.0, 0.0, 0.0, path)
    return Case(template, groove)
