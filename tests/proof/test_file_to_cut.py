"""From file to cut: what stands in the files, routed by another engine, is the cut that was asked for.

The files are read by programs that did not write them (`other_programs`), the openings routed by Clipper, and what
comes out is compared with the cut of the job, built by its own words (`asked`): 0.002 mm. Paper: test_paper_to_cut.
"""

import math
import random
from pathlib import Path
from typing import Any

import pytest
import shapely
from asked import asked_of, flipped, polygon, rectangle, slot, there
from other_programs import apart, area, best, by_clipper, dxf_contours, routed, svg_contours

from jigtemplates.making import make_files
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text, load_jobs
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.report import Report, report_on

SAMPLES = Path(__file__).parents[2] / "samples"
#: What DXF and SVG may be off by, mm.
EXACT = 0.002
#: The same of shapes that the program makes of arcs, which are within 0.005 mm of the true one (samples/README.md).
WITHIN = {"towpath-table-oval": 0.007, "leaf-tray": 0.009}
#: Jobs of random tools, cuts, places and turns.
RANDOM_JOBS = 200


class Drawn:
    """A random job as text, and the cut it asks for in its place on the plate."""

    def __init__(self, seed: int) -> None:
        """Everything about it comes from the seed."""
        draw = random.Random(seed)
        self.bit = draw.choice([3.0, 3.175, 6.0, 6.35, 8.0, 9.525, 12.0, 12.7])
        self.bushing = draw.choice(
            [g for g in (7.9375, 9.525, 12.0, 12.7, 17.0, 20.0, 24.0, 30.0) if g > self.bit + 0.5]
        )
        clearance = draw.choice([0.05, 0.1, 0.15])
        width = round(self.bit + draw.choice([clearance, 0.3, 1.0, 5.0, 17.3]), 4)
        length = round(width + draw.choice([0.4, 10.0, 33.3, 80.0]), 4)
        self.plate = (240.0, 220.0)
        x, y, angle = draw.uniform(90, 150), draw.uniform(90, 130), draw.choice([0, 0, 90, 30, 45.5, -120])
        kind = draw.choice(["slot", "round", "rectangle", "rectangle", "polygon"])
        if kind == "slot":
            shape, keys = slot(length, width), f"width = {width}\nlength = {length}"
        elif kind == "round":
            shape, keys = slot(width, width), f"diameter = {width}"
        elif kind == "rectangle":
            radius = round(draw.choice([0.0, self.bit / 2, width / 2.2, width / 2.5]), 4)
            shape, keys = (
                rectangle(length, width, radius),
                f"width = {width}\nlength = {length}\ncorner_radius = {radius}",
            )
        else:
            shape, keys = polygon(6, width), f"across = {width}\nsides = 6"
        self.mirrored = draw.random() < 0.25
        self.kerf = draw.choice([0.0, 0.0, 0.12, 0.3])
        repeat, places = "", [(0.0, 0.0)]
        if draw.random() < 0.25 and max(length, width) < 50:
            pitch = max(length, width) + self.bushing + 6
            repeat, places = f"repeat = {{ count = 2, pitch = {pitch} }}", [(-pitch / 2, 0.0), (pitch / 2, 0.0)]
        cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        mirror = self.plate[0] if self.mirrored else None
        self.wanted = shapely.union_all(
            [there(shape, x + u * cos, y + u * sin, angle, mirrored=mirror) for u, _ in places]
        )
        self.text = f"""
title = "Random {seed}"
units = "mm"
[cut]
shape = "{kind}"
{keys}
depth = 10
angle = {angle}
x = {x}
y = {y}
{repeat}
[tools]
bit = "{self.bit} mm"
bushing = "{self.bushing} mm"
clearance = {clearance}
[plate]
width = {self.plate[0]}
height = {self.plate[1]}
thickness = 6
[make]
for = ["laser"]
kerf = {self.kerf}
mirrored = {"true" if self.mirrored else "false"}
"""

    def job(self) -> Job:
        """The job as the program reads it."""
        return job_from_text(self.text, name="r", profiles=Profiles())


def opening_in(contours: list[Any], kerf: float) -> Any:
    """The opening that a machine makes of a file: what lies on the layer of inside cuts, wider by the beam."""
    drawn = area([one.ring for one in contours if "inside" in one.layer])
    if kerf:  # a drawing with a kerf is larger by it all round
        drawn = shapely.transform(by_clipper(drawn, kerf / 2), lambda points: points - kerf / 2)
    return drawn


def machine_files(report: Report, profiles: Profiles) -> dict[str, bytes]:
    """The machine files of a report by the end of their name."""
    return {file.name: file.data for file in make_files(report, profiles) if file.name.endswith((".dxf", ".svg"))}


@pytest.mark.parametrize("part", range(8))
def test_random_jobs(part: int) -> None:
    """Hundreds of random jobs: DXF and SVG of the laser, with its kerf, routed by Clipper: the cut asked for.

    Where the bit does not reach a corner it is the most that any template lets the pair cut. Jobs that are
    stopped are passed over, and most are not.
    """
    made = 0
    for seed in range(part, RANDOM_JOBS, 8):
        drawn = Drawn(seed)
        report = report_on(drawn.job())
        if report.stopped:
            continue
        made += 1
        asked = best(drawn.wanted, drawn.bit, drawn.bushing)
        for name, data in machine_files(report, Profiles()).items():
            size = drawn.plate[1] + drawn.kerf
            contours = dxf_contours(data) if name.endswith(".dxf") else svg_contours(data, size)
            opening = opening_in(contours, drawn.kerf)
            off = apart(routed(opening, drawn.bit, drawn.bushing), asked)
            assert off < EXACT, (seed, name, off)
    assert made > RANDOM_JOBS / 8 / 2


def sample_jobs() -> list[Any]:
    """Every sample, each size of a family, by its stem; patterns for outside work are in a test of their own."""
    found = []
    for path in sorted(SAMPLES.glob("*.toml")):
        for job in load_jobs(path, profiles=profiles_for(path)):
            if job.cut.side == "inside":
                found.append(pytest.param(job, id=job.stem))
    return found


def predicted(report: Report) -> Any:
    """The cut that the report says will come out, of all parts in their places."""
    parts = [part.template.placed(part.predicted.outline) for part in report.parts if part.predicted]
    return area([ring.flattened(2e-4) for part in parts for region in part for ring in region.rings])


@pytest.mark.parametrize("job", sample_jobs())
def test_samples(job: Job) -> None:
    """Every sample's files, read by others and routed by Clipper, make what its text asks for, as near as can be.

    So does the cut that the report predicts. Files of the other hand of a pair make the mirror image.
    """
    report, profiles = report_on(job), profiles_for(job.source)
    bit, bushing = job.tools.bit.diameter.mm, job.tools.bushing.diameter.mm
    asked = best(asked_of(job), bit, bushing)
    inch = 25.4 if job.make.dxf.unit == "in" else 1.0
    assert apart(predicted(report), asked) < WITHIN.get(job.stem, EXACT)
    seen = 0
    for name, data in machine_files(report, profiles).items():
        if "underside" in name:
            continue
        kerf = job.make.kerf if "laser" in name else 0.0
        if name.endswith(".dxf"):
            contours = [one._replace(ring=[(x * inch, y * inch) for x, y in one.ring]) for one in dxf_contours(data)]
        else:
            contours = svg_contours(data, job.plate.height + kerf)
        wanted = flipped(asked, job.plate.width) if "MIRRORED" in name else asked
        off = apart(routed(opening_in(contours, kerf), bit, bushing), wanted)
        assert off < WITHIN.get(job.stem, EXACT), (name, off)
        seen += 1
    assert seen or not {"laser", "cnc"} & set(job.make.targets)


def test_outside_work() -> None:
    """The pattern in the file, followed round its outside by Clipper, leaves the work that was asked for."""
    path = SAMPLES / "quay-stool-seat.toml"
    (job,) = load_jobs(path, profiles=profiles_for(path))
    report = report_on(job)
    wanted = there(rectangle(320, 220, 40), 150, 100, 0)
    for name, data in machine_files(report, profiles_for(path)).items():
        contours = dxf_contours(data) if name.endswith(".dxf") else svg_contours(data, 200)
        pattern = area([one.ring for one in contours if "outside" in one.layer])
        assert apart(by_clipper(by_clipper(pattern, 15), -5), wanted) < EXACT, name
