"""The whole table of the contributor guide, in one run: what the program costs beside bare scripts that do the same.

    python tests/benchmarks/table.py [--jobs 1000] [--rounds 3]

What each row measures stands in run.py (cold, warm, --help), many_jobs.py and long_outlines.py. Where the two are not
the same things, it measures nothing (fair.py). Seconds are of the processor, but where it says "by the clock".
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE)]  # this checkout, whatever is installed

import fair  # noqa: E402
import long_outlines  # noqa: E402
import many_jobs  # noqa: E402
import measure  # noqa: E402
import run  # noqa: E402

#: Points of a drawn outline, and the two between which its growth is told.
POINTS = (1_000, 10_000, 100_000, 200_000)
GROWTH = (10_000, 200_000)

Row = tuple[str, str, str, str, str]


def main() -> int:
    """Print the table; 2 where it would not be fair."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--jobs", type=int, default=1000)
    options.add_argument("--rounds", type=int, default=3)
    args = options.parse_args()
    faults = fair.faults(run.JOB)
    if faults:
        print(*faults, sep="\n", file=sys.stderr)
        return 2
    print("| what | program | bare script | ratio | at most |\n|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for rows in (
            one_template(place, args.rounds),
            many(place, args.jobs, args.rounds),
            outlines(place, args.rounds),
        ):
            for row in rows:
                print(f"| {' | '.join(row)} |", flush=True)
    return 0


def row(name: str, ours: float, theirs: float, unit: str, most: str) -> Row:
    """Two figures and their ratio."""
    digits = 0 if unit in ("ms", "MB") else 2
    return name, f"{ours:.{digits}f} {unit}", f"{theirs:.{digits}f} {unit}", f"{ours / theirs:.2f}", most


def one_template(place: Path, rounds: int) -> Iterator[Row]:
    """Cold, with its memory; warm; --help."""
    made = []
    for _ in range(rounds * 3):
        ours = measure.python(place, "-m", "jigtemplates", "make", str(run.JOB), "--out", run.fresh(place))
        made.append((ours, measure.python(place, str(HERE / "bare.py"), run.fresh(place))))
    ours, theirs = (measure.least([pair[i] for pair in made]) for i in (0, 1))
    yield row("one template, cold", ours.processor * 1000, theirs.processor * 1000, "ms", str(run.MOST["cold"]))
    yield row("its memory", ours.peak, theirs.peak, "MB", "")
    warm, bare = run.warm(rounds * 10, place)
    yield row("one template, warm", min(warm) * 1000, min(bare) * 1000, "ms", str(run.MOST["warm"]))
    helps = measure.least([measure.python(place, "-m", "jigtemplates", "--help") for _ in range(rounds * 2)])
    yield "--help", f"{helps.processor * 1000:.0f} ms", "", "", f"{run.HELP_SECONDS * 1000:.0f} ms"


def many(place: Path, jobs: int, rounds: int) -> Iterator[Row]:
    """A folder of jobs."""
    folder = place / "many"
    folder.mkdir()
    best = {name: measure.least(costs) for name, costs in many_jobs.measured(folder, jobs, rounds).items()}
    bare, one, every, again = (best[name] for name in ("bare", "one", "all", "again"))
    cores = many_jobs.cores()
    yield row(f"{jobs} templates, one process", one.processor, bare.processor, "s", "")
    yield row(f"{jobs} templates, {cores} processes, by the clock", every.wall, bare.wall, "s", "0.50")
    free = f"{1 / many_jobs.possible(bare, every):.2f}"
    yield f"… were all {cores} cores free", f"{every.processor / cores:.2f} s", f"{bare.processor:.2f} s", free, "0.50"
    yield row("their memory, largest process", every.peak, bare.peak, "MB", "")
    # a run without changes is measured against making, not against the bare script
    yield row("the same again, unchanged, beside making them", again.processor, every.processor, "s", "")
    same = best["regenerate"].processor
    yield row("regenerate, unchanged, beside making them", same, one.processor, "s", f"{many_jobs.MOST_UNCHANGED}")


def outlines(place: Path, rounds: int) -> Iterator[Row]:
    """A drawn outline of many points, and the power of their number that the time grows with."""
    times: dict[int, tuple[float, float]] = {}
    for count in POINTS:
        path = long_outlines.drawing(place, "dxf", count, 0.0)
        pairs = [(long_outlines.seconds(long_outlines.ours, path), long_outlines.seconds(long_outlines.bare, path))
                 for _ in range(rounds)]  # fmt: skip
        times[count] = min(a for a, _ in pairs), min(b for _, b in pairs)
        most = str(long_outlines.MOST_RATIO) if count == 100_000 else ""
        yield row(f"outline of {count:,} points", *times[count], "s", most)
    ours, theirs = (long_outlines.exponent({n: t[i] for n, t in times.items()}, *GROWTH) for i in (0, 1))
    yield f"growth, {GROWTH[0]:,} to {GROWTH[1]:,}", f"n^{ours:.2f}", f"n^{theirs:.2f}", "", ""
    memory = [long_outlines.grown(who, path) for who in ("ours", "bare")]
    yield row(f"memory for {POINTS[-1]:,} points, beyond the imports", memory[0], memory[1], "MB", "")


if __name__ == "__main__":
    sys.exit(main())
