"""Where the cuts of a job stand on the plate as it is made: each place, and regions put there.

Millimetres from the plate's lower-left corner (the datum), x right, y up, seen from above.
"""

from dataclasses import replace

from jigtemplates.geometry.outline import Outline, Point, Region, Regions
from jigtemplates.parameters.job import Cut, Job, TenonChoice
from jigtemplates.wanted import Place, is_lopsided, places_of


def single_cuts(job: Job) -> tuple[Job, ...]:
    """The job once for each of its cuts, with its tenons, as if that were the only one; work belongs to the first."""
    if not job.more_cuts:
        return (job,)
    tenons = job.more_tenons or (None,) * len(job.more_cuts)
    pairs = zip(job.more_cuts, tenons, strict=True)
    others = (_another(job, cut, tenon) for cut, tenon in pairs)
    return (replace(job, more_cuts=(), more_tenons=()), *others)


def _another(job: Job, cut: Cut, tenon: TenonChoice | None) -> Job:
    """The job with another of its cuts; of one with tenons of its own [fit] knows no thickness."""
    fit = job.fit if tenon is None else replace(job.fit, tenon=None)
    return replace(job, cut=cut, more_cuts=(), more_tenons=(), work=None, tenon=tenon, fit=fit)


def cut_middle(job: Job) -> Point:
    """Where the middle of the cut, or of its group, lies on the plate; a mirrored job has it on the other side."""
    x = job.plate.width - job.cut.x if job.make.mirrored else job.cut.x
    return Point(x, job.cut.y)


def places_made(job: Job) -> tuple[Place, ...]:
    """Every place of the job's (first) cut on the plate as it is made; a mirrored plate has them on the other side."""
    places = places_of(job.cut)
    if not job.make.mirrored:
        return places
    return tuple(Place(job.plate.width - place.x, place.y, -place.angle) for place in places)


def placed(regions: Regions, job: Job) -> Regions:
    """Regions about the middle of the cut, turned (first mirrored, where that matters) and moved to its places."""
    is_mirrored = job.make.mirrored != job.cut.mirrored and is_lopsided(job.cut)

    def there(ring: Outline, place: Place) -> Outline:
        return turn(ring.mirrored() if is_mirrored else ring, place.angle, Point(place.x, place.y))

    return tuple(
        Region(there(region.outer, place), tuple(there(hole, place) for hole in region.holes))
        for place in places_made(job)
        for region in regions
    )


def turn(outline: Outline, degrees: float, middle: Point) -> Outline:
    """Turned counter-clockwise about the origin, then moved so that the origin comes to middle."""
    return outline.rotated(degrees).moved(middle.x, middle.y)
