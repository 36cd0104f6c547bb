"""Many jobs: both cores against one, and how little a run without changes costs.

    python tests/benchmarks/many_jobs.py [--jobs 300] [--rounds 3]

Every figure is of a program of its own, imports included, as a person would run it. `make` of a folder of jobs is
timed with one process and with one for each core, in turn, and the bytes are compared; then `regenerate --bit`
of the same folder, where nothing changes. Machines are noisy: the ratios mean something, of the least times, and
only while nothing else runs. The processor's time is given too: on a busy machine it still says what can be gained.
"""

import argparse
import hashlib
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]

#: What issue 3 asks for: both cores at least this much faster than one process.
LEAST_GAIN = 1.6
#: … and a run without changes at most this part of making.
MOST_UNCHANGED = 0.05

JOB = """\
title = "Bench rail {number}"
units = "mm"

[cut]
shape = "slot"
width = 10
length = {length}
depth = 28

[tools]
bit = "3/8 in"
bushing = "1/2 in"
clearance = 0.1

[plate]
width = 240
height = 140
thickness = 6
material = "mdf"
screws = {{ pattern = "corners", size = "M5", inset = 10 }}

[make]
for = ["laser", "cnc", "paper"]
"""

#: `make` of the folder jobs into argv[1] with argv[2] processes.
MAKE = """
import gc, sys
from pathlib import Path
from jigtemplates.cli import FEW_COLLECTIONS
if __name__ == "__main__":
    gc.set_threshold(FEW_COLLECTIONS, 10, 10)
    from jigtemplates.batch import Batch
    done = list(Batch.of([Path("jobs")]).made(Path(sys.argv[1]), processes=int(sys.argv[2])))
    assert all(one.report and not one.report.stopped for one in done)
"""


def main() -> int:
    """Run, print, and fail where a ratio is not what issue 3 asks for."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--jobs", type=int, default=300)
    options.add_argument("--rounds", type=int, default=3)
    args = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        return _run(Path(folder), args.jobs, args.rounds)


def _run(folder: Path, jobs: int, rounds: int) -> int:
    for part in ("jigtemplates", "profiles"):  # as it is now, lest somebody change it while it runs
        shutil.copytree(ROOT / part, folder / "program" / part)
    (folder / "jobs").mkdir()
    for number in range(jobs):
        text = JOB.format(number=number, length=40 + number / 10)
        (folder / "jobs" / f"rail-{number:04}.toml").write_text(text, encoding="utf-8")
    (folder / "make.py").write_text(MAKE, encoding="utf-8")
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    one, all_cores, same = list[Time](), list[Time](), list[Time]()
    for _ in range(rounds):
        one.append(_timed(folder, "make.py", "one", "1"))
        all_cores.append(_timed(folder, "make.py", "all", str(cores)))
        assert _bytes(folder / "one") == _bytes(folder / "all"), "not the same bytes"
        same.append(_timed(folder, "-m", "jigtemplates", "regenerate", "jobs", "--bit", "3/8 in", "--out", "all"))
        for made in ("one", "all"):
            shutil.rmtree(folder / made)
    return _print(jobs, cores, one, all_cores, same)


class Time(NamedTuple):
    """How long a program took, s."""

    #: by the clock
    wall: float
    #: of all processors together
    processor: float


def _timed(folder: Path, *command: str) -> Time:
    env = {**os.environ, "PYTHONPATH": str(folder / "program")}
    start, before = time.perf_counter(), os.times()
    subprocess.run([sys.executable, *command], cwd=folder, env=env, check=True, stdout=subprocess.DEVNULL)
    after = os.times()
    spent = after.children_user - before.children_user + after.children_system - before.children_system
    return Time(time.perf_counter() - start, spent)


def _bytes(folder: Path) -> str:
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        digest.update(path.relative_to(folder).as_posix().encode() + (path.read_bytes() if path.is_file() else b""))
    return digest.hexdigest()


def _print(jobs: int, cores: int, one: Sequence[Time], all_cores: Sequence[Time], same: Sequence[Time]) -> int:
    for name, times in (("one process", one), (f"{cores} processes", all_cores), ("regenerate, unchanged", same)):
        wall, spent = [t.wall for t in times], min(t.processor for t in times)
        print(
            f"{name:<22} {min(wall):7.2f} s least {statistics.median(wall):7.2f} s middle {spent:7.2f} s of processors"
        )
    gain, part = min(one).wall / min(all_cores).wall, min(same).wall / min(all_cores).wall
    possible = cores * min(t.processor for t in one) / min(t.processor for t in all_cores)
    print(f"{jobs} jobs, gain of {cores} cores: {gain:.2f} (at least {LEAST_GAIN}); {possible:.2f} with all cores free")
    of_one = f"{min(same).wall / min(one).wall:.1%} of one process"
    print(f"unchanged, of making: {part:.1%} (at most {MOST_UNCHANGED:.0%}); {of_one}")
    return int(gain < LEAST_GAIN or part > MOST_UNCHANGED)


if __name__ == "__main__":
    sys.exit(main())
