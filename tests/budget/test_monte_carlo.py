"""The budget against routing: tools, openings and bushings off centre whose true sizes are drawn by chance.

Every sample is a template, a bit and a bushing with true sizes of their own. The opening's outline is grown or shrunk
by what the process did to it, routed with the true bushing by the program's geometry and covered with the true bit by
shapely. Nothing here knows the budget's formulas.
"""

import math
import random
import statistics
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import pytest
import shapely
import shapely.affinity

from jigtemplates.budget import Budget
from jigtemplates.budget.band import Band
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Regions
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
#: How many templates are made and routed of each job, and how far their share within a band of 95 % may be from that:
#: four standard deviations of such a share, √(0.95 · 0.05 / 250) = 1.4 % each.
SAMPLES, SLIP = 250, 0.056
#: Chords of the discs that stand for the bit, a quarter: 0.002 % of the radius too small.
QUARTER = 120


@dataclass(frozen=True)
class Limits:
    """How far true sizes may be from those the template was made for, mm."""

    bit: float
    bushing: float
    edge: float
    centre: float


@dataclass(frozen=True)
class Cut:
    """What came out, and whether the bushing went into the opening at all."""

    width: float
    length: float
    went_in: bool


def test_a_slot_run_round_its_edge(report_with: ReportWith) -> None:
    """Width and length of 250 slots: none beyond the worst case, 95 % in the band, spread as uncertain as it says."""
    report = report_with(
        cut={"width": 12},
        tools={"bit": measured("3/8 in", 9.51, 0.03), "bushing": measured("1/2 in", 12.68, 0.02)},
        fit={"off_centre": 0.04},
        make={"for": ["cnc"]},
    )
    cuts = list(guided(report, Limits(bit=0.03, bushing=0.02, edge=0.05, centre=0.04)))
    width, length = bands(report)
    agrees(width, [cut.width for cut in cuts])
    agrees(length, [cut.length for cut in cuts])
    assert all(cut.went_in for cut in cuts)


def test_a_rectangle_held_in_one_direction(report_with: ReportWith) -> None:
    """A bushing off centre by as much as 0.4 mm changes no size where the router is not turned."""
    report = report_with(
        cut={"shape": "rectangle", "width": 20, "length": 34, "corner_radius": 6, "depth": 8},
        tools={"bit": measured("8 mm", 8.02, 0.05), "bushing": measured("14 mm", 14.01, 0.04)},
        fit={"off_centre": 0.4, "turned": False},
        make={"for": ["laser"]},
    )
    cuts = list(guided(report, Limits(bit=0.05, bushing=0.04, edge=0.05, centre=0.4), turned=False))
    width, length = bands(report)
    agrees(width, [cut.width for cut in cuts])
    agrees(length, [cut.length for cut in cuts])


def test_a_trapped_slot(report_with: ReportWith) -> None:
    """A slot as wide as the bit: between the bit and all that the bushing can rub; the chance of binding agrees too."""
    report = report_with(
        cut={"width": 9.5},
        tools={
            "bit": measured("3/8 in", 9.5, 0.02), "bushing": measured("1/2 in", 12.7, 0.03), "clearance": 0.1,
        },
        fit={"off_centre": 0.03},
        make={"for": ["laser"]},
    )  # fmt: skip
    cuts = list(trapped(report, Limits(bit=0.02, bushing=0.03, edge=0.05, centre=0.03)))
    width = bands(report)[0]
    assert width.size.trapped
    agrees(width, [cut.width for cut in cuts], u_within=0.18)
    stuck = sum(not cut.went_in for cut in cuts) / SAMPLES
    assert width.binds == pytest.approx(stuck, abs=4 * math.sqrt(0.1 * 0.9 / SAMPLES))


def test_how_a_tenon_fits(report_with: ReportWith) -> None:
    """The chances of a tenon are those of 250 routed mortises and as many tenons."""
    report = report_with(
        tools={"bit": measured("3/8 in", 9.51, 0.03), "bushing": measured("1/2 in", 12.68, 0.02)},
        fit={"off_centre": 0.02, "tenon": {"nominal": 10, "measured": 9.9, "within": 0.03}},
        make={"for": ["cnc"]},
    )
    chance = random.Random(11)
    limits = Limits(bit=0.03, bushing=0.02, edge=0.05, centre=0.02)
    rooms = [cut.width - chance.uniform(9.87, 9.93) for cut in guided(report, limits)]
    tight, loose = (sum(test(room) for room in rooms) / SAMPLES for test in (_tight, _loose))
    fit = budget(report).processes[0].fit
    assert fit is not None
    assert 0.1 < fit.too_tight < 0.4
    assert fit.too_tight == pytest.approx(tight, abs=4 * 0.5 / math.sqrt(SAMPLES))
    assert fit.too_loose == pytest.approx(loose, abs=4 * 0.5 / math.sqrt(SAMPLES))
    assert fit.clearance[0] <= min(rooms)
    assert fit.clearance[1] >= max(rooms)


def _tight(room: float) -> bool:
    return room < 0.02


def _loose(room: float) -> bool:
    return room > 0.15


def measured(nominal: str, is_really: float, within: float) -> dict[str, dict[str, object]]:
    """A tool that was measured."""
    return {"diameter": {"nominal": nominal, "measured": is_really, "within": within}}


def budget(report: Report) -> Budget:
    """The budget, which there is."""
    assert report.budget is not None
    return report.budget


def bands(report: Report) -> tuple[Band, ...]:
    """The bands of the only process."""
    (only,) = budget(report).processes
    return only.bands


def agrees(band: Band, sizes: list[float], u_within: float = 0.15) -> None:
    """What came out is within the worst case, in the band as often as it says, and as uncertain."""
    assert min(sizes) >= band.worst[0] - 1e-3  # chords
    assert max(sizes) <= band.worst[1] + 1e-3
    inside = sum(band.likely[0] <= size <= band.likely[1] for size in sizes) / len(sizes)
    assert inside == pytest.approx(0.95, abs=SLIP)
    assert statistics.stdev(sizes) == pytest.approx(band.u, rel=u_within)
    # a standard error is u / √250; the middle of a trapped cut is not the one predicted
    middle = band.spread.quantile(0.5)
    assert statistics.median(sizes) == pytest.approx(middle, abs=5 * band.u / math.sqrt(SAMPLES))


def guided(report: Report, limits: Limits, *, turned: bool = True) -> Iterator[Cut]:
    """The bushing is run round the edge of a true opening; between two edges the router is turned half round."""
    chance = random.Random(5)
    for _ in range(SAMPLES):
        bit, path = true_path(report, limits, chance)
        covered = polygon(path).buffer(bit / 2, quad_segs=QUARTER)
        lean = [chance.uniform(-limits.centre, limits.centre) for _ in range(2)]
        across = leaning(covered, 0.0, lean[0], turned=turned).bounds
        along = leaning(covered, lean[1], 0.0, turned=turned).bounds
        yield Cut(across[3] - across[1], along[2] - along[0], went_in=bool(path))


def leaning(covered: shapely.Geometry, x: float, y: float, *, turned: bool) -> shapely.Geometry:
    """What is cut where the bit leans outwards on both sides, or inwards, after half a turn; shifted without one."""
    there = shapely.affinity.translate(covered, x, y)
    if not turned:
        return there
    back = shapely.affinity.translate(covered, -x, -y)
    return shapely.union(there, back) if x + y > 0 else shapely.intersection(there, back)


def trapped(report: Report, limits: Limits) -> Iterator[Cut]:
    """One pass and back: the bushing rubs somewhere between along one line and along both edges of the opening."""
    chance = random.Random(6)
    for _ in range(SAMPLES):
        bit, path = true_path(report, limits, chance)
        rubs, lean = chance.random(), chance.uniform(0.0, limits.centre)
        centre = polygon(path) if path else shapely.LineString([(-20.0, 0.0), (20.0, 0.0)])
        half = max(1e-6, rubs * (centre.bounds[3] - centre.bounds[1]) / 2)
        rubbed = shapely.intersection(centre, shapely.box(-100.0, -half, 100.0, half))
        covered = rubbed.buffer(bit / 2, quad_segs=QUARTER)
        left, low, right, high = leaning(covered, 0.0, lean, turned=True).bounds
        yield Cut(high - low, right - left, went_in=bool(path))


def true_path(report: Report, limits: Limits, chance: random.Random) -> tuple[float, Regions]:
    """A true bit, and where the middle of a true bushing can be in a true opening."""
    bit, bushing, opening = true_set(report, limits, chance)
    return bit, shrink(opening, bushing / 2)


def true_set(report: Report, limits: Limits, chance: random.Random) -> tuple[float, float, Regions]:
    """True diameters of bit and bushing, and a true opening or pattern, about the middle of the cut."""
    tools = report.job.tools
    bit = tools.bit.diameter.mm + chance.uniform(-limits.bit, limits.bit)
    bushing = tools.bushing.diameter.mm + chance.uniform(-limits.bushing, limits.bushing)
    moved = chance.uniform(-limits.edge, limits.edge)
    drawn = report.template.opening_at_rest
    return bit, bushing, grow(drawn, moved) if moved > 0 else shrink(drawn, -moved)


def polygon(regions: Regions) -> shapely.Geometry:
    """Regions on chords that are right to 1 µm."""
    return shapely.union_all([shapely.Polygon(region.outer.flattened(1e-3)) for region in regions])


def test_outside_work(report_with: ReportWith) -> None:
    """A piece cut out round a pattern: its width and length agree as those of a recess do."""
    report = report_with(
        cut={"shape": "rectangle", "side": "outside", "width": 60, "length": 90, "corner_radius": 15, "depth": 12},
        tools={"bit": measured("8 mm", 7.97, 0.03), "bushing": measured("20 mm", 20.02, 0.04)},
        plate={"width": None, "height": None, "screws": None},
        fit={"off_centre": 0.06},
        make={"for": ["cnc"]},
    )
    chance, limits, cuts = random.Random(8), Limits(bit=0.03, bushing=0.04, edge=0.05, centre=0.06), []
    for _ in range(SAMPLES):
        bit, bushing, pattern = true_set(report, limits, chance)
        stands = polygon(grow(pattern, bushing / 2)).buffer(-bit / 2, quad_segs=QUARTER)
        lean = [chance.uniform(-limits.centre, limits.centre) for _ in range(2)]
        across = leaning(stands, 0.0, lean[0], turned=True).bounds
        along = leaning(stands, lean[1], 0.0, turned=True).bounds
        cuts.append(Cut(across[3] - across[1], along[2] - along[0], went_in=True))
    width, length = bands(report)
    agrees(width, [cut.width for cut in cuts])
    agrees(length, [cut.length for cut in cuts])
