"""From paper to cut: the opening as it is drawn on the pages, routed by another engine, is the cut that was asked for.

The pages are drawn by pdfium and the opening taken from the picture (`paper_pages`), its place on the plate with it;
the cut is built by the job's own words (`asked`). 0.1 mm everywhere; a mirror image, a shift or another scale is seen.
"""

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely
from asked import asked_of, flipped, polygon, rectangle, slot, there, uneven
from other_programs import apart, best
from paper_pages import drawn_openings, offset

from jigtemplates.making import make_files
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text, load_jobs
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report, report_on

SAMPLES = Path(__file__).parents[2] / "samples"
ON_PAPER = 0.1
#: A bushing goes into an opening drawn this much narrower all round, or a picture's last hundredth would stop it, mm.
ROOM = 0.05
#: Jobs in the normal run, and in the long campaign.
FEW, MANY = 20, 400


def routed_from_paper(data: bytes, job: Job) -> Any:
    """What a bit cuts whose bushing is run all over the openings of a pattern."""
    opening = drawn_openings(data, job.plate.width, job.plate.height)
    bit, bushing = job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm
    return offset(offset(opening, ROOM - bushing / 2), bit / 2 - ROOM)


def patterns(report: Report, profiles: Profiles) -> Iterator[tuple[str, bytes]]:
    """The paper patterns of a report by their names."""
    for file in make_files(report, profiles):
        if "_paper_" in file.name:
            yield file.name, file.data


class Sketch:
    """A random job for paper as text, of one to three cuts, and what it asks for in its place on the plate."""

    def __init__(self, seed: int) -> None:
        """Everything about it comes from the seed."""
        draw = random.Random(seed)
        self.bit, self.bushing = draw.choice([(6.0, 12.0), (6.35, 12.7), (8.0, 17.0), (9.525, 12.7), (12.0, 20.0)])
        self.plate = draw.choice([(150.0, 170.0), (170.0, 150.0), (160.0, 160.0), (220.0, 180.0), (260.0, 200.0)])
        count = draw.choice([1, 1, 2, 3])
        across = self.plate[0] / count
        tables, shapes = [], []
        for i in range(count):
            most = across - self.bushing - 26
            keys, shape = _shape(draw, self.bit, most)
            x = round(across * (i + 0.5) + draw.uniform(-5, 5), 3)
            y = round(self.plate[1] / 2 + draw.uniform(-20, 20), 3)
            angle = draw.choice([0, 90, 30, -45.5, 200])
            tables.append(f"[[cut]]\n{keys}\ndepth = 8\nx = {x}\ny = {y}\nangle = {angle}")
            shapes.append(there(shape, x, y, angle))
        self.wanted = shapely.union_all(shapes)
        self.hands = draw.choice(["", "", "mirrored = true", 'pair = "left"', 'pair = "right"'])
        if self.hands == "mirrored = true":
            self.wanted = flipped(self.wanted, self.plate[0])
        self.text = "\n".join(
            [
                f'title = "Sketch {seed}"',
                'units = "mm"',
                *tables,
                f'[tools]\nbit = "{self.bit} mm"\nbushing = "{self.bushing} mm"\nclearance = 0.1',
                f"[plate]\nwidth = {self.plate[0]}\nheight = {self.plate[1]}\nthickness = 6",
                f'[make]\nfor = ["paper"]\npapers = ["{draw.choice(["a4", "letter"])}"]\n{self.hands}',
            ]
        )


def _shape(draw: random.Random, bit: float, most: float) -> tuple[str, Any]:
    """Keys and area of a shape no longer than most, as lopsided as not."""
    width = round(draw.uniform(bit + 0.2, min(bit + 14, most * 0.7)), 3)
    length = round(draw.uniform(width + 1, max(width + 2, most)), 3)
    kind = draw.choice(["slot", "round", "rectangle", "uneven", "uneven", "polygon"])
    if kind == "slot":
        return f'shape = "slot"\nwidth = {width}\nlength = {length}', slot(length, width)
    if kind == "round":
        return f'shape = "round"\ndiameter = {width}', slot(width, width)
    if kind == "polygon":
        return f'shape = "polygon"\nsides = 6\nacross = {width}', polygon(6, width)
    if kind == "rectangle":
        radius = round(draw.choice([0, width / 4, min(bit / 2, width / 2 - 0.001)]), 3)
        keys = f'shape = "rectangle"\nwidth = {width}\nlength = {length}\ncorner_radius = {radius}'
        return keys, rectangle(length, width, radius)
    radii = [round(draw.uniform(0, width * 0.45), 3) for _ in range(4)]
    keys = f'shape = "rectangle"\nwidth = {width}\nlength = {length}\ncorner_radii = {radii}'
    return keys, uneven(length, width, radii)


def compared(seed: int) -> list[float]:
    """How far each pattern of a random job is off, mm; none where the job is stopped."""
    sketch = Sketch(seed)
    job = job_from_text(sketch.text, name="s", profiles=Profiles())
    report = report_on(job)
    if report.stopped:
        return []
    asked = best(sketch.wanted, sketch.bit, sketch.bushing)
    found = []
    for name, data in patterns(report, Profiles()):
        other = "pair" in sketch.hands and "MIRRORED" in name
        off = apart(routed_from_paper(data, job), flipped(asked, sketch.plate[0]) if other else asked)
        assert off < ON_PAPER, (seed, name, off)
        found.append(off)
    return found


@pytest.mark.parametrize("part", range(4))
def test_random_jobs_on_paper(part: int) -> None:
    """Random jobs, most lopsided, off the middle or turned, some of several cuts or in pairs: the cut asked for."""
    made = [found for seed in range(part, FEW, 4) if (found := compared(seed))]
    assert len(made) >= FEW / 4 / 2


def samples_on_paper() -> list[Any]:
    """Every sample, each size of a family, that makes paper and has an opening."""
    return [
        pytest.param(job, id=job.stem)
        for path in sorted(SAMPLES.glob("*.toml"))
        for job in load_jobs(path, profiles=profiles_for(path))
        if job.cut.side == "inside" and "paper" in job.make.targets
    ]


def sample_off(job: Job, papers: slice) -> list[float]:
    """How far the patterns of a sample are off on some of its papers, mm."""
    job = replace(job, make=replace(job.make, targets=("paper",), papers=job.make.papers[papers]))
    asked = best(asked_of(job), job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm)
    found = []
    for name, data in patterns(report_on(job), profiles_for(job.source)):
        wanted = flipped(asked, job.plate.width) if "MIRRORED" in name else asked
        found.append(apart(routed_from_paper(data, job), wanted))
        assert found[-1] < ON_PAPER, (name, found[-1])
    assert len(found) == len(job.make.papers) * (2 if job.make.pair else 1)
    return found


@pytest.mark.parametrize("job", samples_on_paper())
def test_samples_on_paper(job: Job) -> None:
    """The pattern of every sample makes the cut asked for; that of the other hand its mirror image."""
    assert sample_off(job, slice(0, 1))


@pytest.mark.slow
@pytest.mark.parametrize("job", samples_on_paper())
def test_samples_on_other_papers(job: Job) -> None:
    """The same on every further paper, where there is one."""
    assert len(sample_off(job, slice(1, None))) < 3


def test_outside_work_on_paper() -> None:
    """The pattern for outside work, as it is drawn, leaves the work: 320 x 220 mm with corners of 40 mm."""
    path = SAMPLES / "quay-stool-seat.toml"
    (job,) = load_jobs(path, profiles=profiles_for(path))
    for name, data in patterns(report_on(job), profiles_for(path)):
        pattern = drawn_openings(data, 300, 200, plate=True)
        work = offset(offset(pattern, 15), -5)
        assert apart(work, there(rectangle(320, 220, 40), 150, 100, 0)) < ON_PAPER, name


@pytest.mark.slow
@pytest.mark.parametrize("part", range(20))
def test_many_random_jobs_on_paper(part: int) -> None:
    """The same of hundreds more."""
    made = [found for seed in range(1000 + part, 1000 + MANY, 20) if (found := compared(seed))]
    assert len(made) > MANY / 20 / 2
