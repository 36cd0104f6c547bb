"""The whole table of the contributor guide, in one run: what the program costs beside bare scripts that do the same.

    python tests/benchmarks/table.py [--jobs 1000] [--rounds 3] [--points 200000] [--plates 200]

What each row measures stands in run.py (cold, warm, --help), many_jobs.py, long_outlines.py and sheets.py. Where the
two are not the same things, it measures nothing (fair.py). Seconds are of the processor, but where it says "by the
clock". A row that has no bare script beside it says in its name, and in brackets, what it is measured against.
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
import sheets  # noqa: E402

#: Points of a drawn outline: in a DXF file (those of 50,000 for the doubling alone), and in an SVG file.
POINTS = {"dxf": (1_000, 10_000, 50_000, 100_000, 200_000), "svg": (50_000, 100_000, 200_000)}
#: Least and most between which the growth is told, and twice the points.
GROWTH, DOUBLING = (10_000, 200_000), ((50_000, 100_000), (100_000, 200_000))

Row = tuple[str, str, str, str, str]


def main() -> int:
    """Print the table; 2 where it would not be fair."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--jobs", type=int, default=1000)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--points", type=int, default=200_000, help="most points of a drawn outline")
    options.add_argument("--plates", type=int, default=sheets.SIZES * sheets.COPIES, help="laid on sheets")
    args = options.parse_args()
    faults = fair.faults(run.JOB)
    if faults:
        print(*faults, sep="\n", file=sys.stderr)
        return 2
    print("| what | program | bare script, or (what it is beside) | ratio | at most |\n|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for rows in (
            one_template(place, args.rounds),
            many(place, args.jobs, args.rounds),
            outlines(place, args.rounds, args.points),
            laid(place, args.plates),
        ):
            for row in rows:
                print(f"| {' | '.join(row)} |", flush=True)
    return 0


def row(name: str, ours: float, theirs: float, unit: str, most: str) -> Row:
    """Two figures and their ratio."""
    digits = 0 if unit in ("ms", "MB") else 2
    return name, f"{ours:.{digits}f} {unit}", f"{theirs:.{digits}f} {unit}", f"{ours / theirs:.2f}", most


def beside(name: str, ours: float, other: float, what: str, most: str) -> Row:
    """Seconds of the program's own, and of something else that it does."""
    return name, f"{ours:.2f} s", f"({what}: {other:.2f} s)", f"{ours / other:.2f}", most


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
    yield "--help", f"{helps.processor * 1000:.0f} ms", "(its limit)", "", f"{run.HELP_SECONDS * 1000:.0f} ms"


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
    yield beside("the same again, unchanged", again.processor, every.processor, "making them, all cores", "")
    same, most = best["regenerate"].processor, f"{many_jobs.MOST_UNCHANGED}"
    yield beside("regenerate, unchanged", same, one.processor, "making them, one process", most)


def outlines(place: Path, rounds: int, points: int) -> Iterator[Row]:
    """A drawn outline of many points, and how the time grows with their number."""
    for ending, counts in POINTS.items():
        times: dict[int, tuple[float, float]] = {}
        for count in (one for one in counts if one <= points):
            times[count] = timed(long_outlines.drawing(place, ending, count, 0.0), rounds)
            most = str(long_outlines.MOST_RATIO) if count == 100_000 else ""
            yield row(f"outline of {count:,} points, {ending.upper()}", *times[count], "s", most)
        yield from grown(ending.upper(), times)
    path = long_outlines.drawing(place, "dxf", points, 0.0)
    memory = [long_outlines.grown(who, path) for who in ("ours", "bare")]
    yield row(f"memory for {points:,} points, beyond the imports", memory[0], memory[1], "MB", "")


def timed(path: Path, rounds: int) -> tuple[float, float]:
    """Least seconds of the program and of the bare script, in turns."""
    pairs = [
        (long_outlines.seconds(long_outlines.ours, path), long_outlines.seconds(long_outlines.bare, path))
        for _ in range(rounds)
    ]
    return min(a for a, _ in pairs), min(b for _, b in pairs)


def grown(kind: str, times: dict[int, tuple[float, float]]) -> Iterator[Row]:
    """Twice the points, and the power of their number that the time goes with, where they were measured."""
    most = str(long_outlines.MOST_DOUBLING)
    for low, high in DOUBLING:
        if {low, high} <= times.keys():
            ours, theirs = (f"{times[high][i] / times[low][i]:.2f} times" for i in (0, 1))
            yield f"twice the points, {low:,} to {high:,}, {kind}", ours, theirs, "", most
    if set(GROWTH) <= times.keys():
        ours, theirs = (f"n^{long_outlines.exponent({n: t[i] for n, t in times.items()}, *GROWTH):.2f}" for i in (0, 1))
        yield f"growth, {GROWTH[0]:,} to {GROWTH[1]:,}, {kind}", ours, theirs, "", ""


def laid(place: Path, plates: int) -> Iterator[Row]:
    """Plates laid on sheets."""
    folder = place / "laid"
    folder.mkdir()
    done = sheets.measured(folder, max(1, plates // sheets.COPIES))
    name = f"{done.plates} plates laid on {done.sheets} sheets"
    yield beside(name, done.laying, done.writing, "writing the sheets", str(sheets.LIMIT))


if __name__ == "__main__":
    sys.exit(main())
