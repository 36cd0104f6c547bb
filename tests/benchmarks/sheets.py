"""How long 200 plates take to be laid, beside drawing, writing and reading back their sheets.

    .venv/bin/python tests/benchmarks/sheets.py

Only the ratio means something on a noisy machine; the seconds of one core are shown for the rest.
"""

import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

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


def main() -> int:
    """Print what both take; 1 where laying takes more than its part."""
    with tempfile.TemporaryDirectory() as place:
        return _measured(Path(place))


def _measured(place: Path) -> int:
    for i in range(SIZES):
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
    count = sum(len(sheet.plates) for sheet in made.sheets)
    print(
        f"{count} plates on {len(made.sheets)} sheets: laid in {laying:.2f} s, written in {writing:.2f} s of one core"
    )
    print(f"laying / writing {laying / writing:.2f} (limit {LIMIT})")
    return int(laying / writing > LIMIT)


def _timed(work: Callable[[], Any]) -> tuple[Any, float]:
    start = time.process_time()
    result = work()
    return result, time.process_time() - start


if __name__ == "__main__":
    raise SystemExit(main())
