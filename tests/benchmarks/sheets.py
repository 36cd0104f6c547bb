"""How long 200 plates take to be laid, beside drawing, writing and reading back their sheets.

    .venv/bin/python tests/benchmarks/sheets.py

Only the ratio means something on a noisy machine; the seconds of one core are shown for the rest.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # this checkout, whatever is installed

from jigtemplates.batch import Batch
from jigtemplates.parameters.entries import Process
from jigtemplates.profiles import Found, profiles_for
from jigtemplates.sheets.choice import Machine, choice_of
from jigtemplates.sheets.laying import lay
from jigtemplates.sheets.making import Sheets, process_of, write
from jigtemplates.sheets.plates import groups_of

#: Laying may take this part of writing, at most (chosen: it is then not what a person waits for).
LIMIT = 0.2
#: Sizes of plate, and plates of each.
SIZES, COPIES = 40, 5

HEAD = """
title = "Sheet"
units = "mm"
[cut]
shape = "slot"
width = 10
depth = 20
[tools]
bit = "8 mm"
bushing = "16 mm"
clearance = 0.1
[plate]
width = {width}
height = {height}
thickness = 6
material = "mdf"
[cuts.only]
length = 30
[make]
for = ["laser"]
"""


class Sheeted(NamedTuple):
    """What laying and writing came to."""

    plates: int
    sheets: int
    #: seconds of one core
    laying: float
    writing: float


def main() -> int:
    """Print what both take; 1 where laying takes more than its part."""
    with tempfile.TemporaryDirectory() as place:
        done = measured(Path(place))
    print(
        f"{done.plates} plates on {done.sheets} sheets: laid in {done.laying:.2f} s, written in {done.writing:.2f} s "
        "of one core"
    )
    print(f"laying / writing {done.laying / done.writing:.2f} (limit {LIMIT})")
    return int(done.laying / done.writing > LIMIT)


def measured(place: Path, sizes: int = SIZES) -> Sheeted:
    """Lay and write plates of so many sizes, COPIES of each, in a folder that holds nothing else."""
    for i in range(sizes):
        job = HEAD.format(width=90 + 37 * i % 110, height=80 + 53 * i % 90)
        (place / f"plate-{i:02}.toml").write_text(job, encoding="utf-8")
    batch = Batch.of([place])
    done = list(batch.checked())
    stems = [one.report.job.stem for one in done if one.report]
    groups = groups_of(done, dict.fromkeys(stems, COPIES))
    choice, profiles = choice_of(stocks=["600x400"]), profiles_for(place / "job.toml")
    processes: dict[Machine, Found[Process]] = {"laser": process_of("laser", groups, {place: profiles})}
    layouts, laying = _timed(lambda: [lay(group, choice, processes["laser"]) for group in groups])
    made = Sheets("sheets", choice, tuple(layouts), ())
    _, writing = _timed(lambda: write(made, place / "out", profiles, processes))
    return Sheeted(sum(len(sheet.plates) for sheet in made.sheets), len(made.sheets), laying, writing)


def _timed(work: Callable[[], Any]) -> tuple[Any, float]:
    start = time.process_time()
    result = work()
    return result, time.process_time() - start


if __name__ == "__main__":
    raise SystemExit(main())
