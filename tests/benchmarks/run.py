"""What `make` costs beside a bare script that writes the same by hand: the ratios, measured in one run.

    python tests/benchmarks/run.py [ROUNDS]        measure
    python tests/benchmarks/run.py --refresh       take the bare script's literals anew from the program

cold: a fresh process for each, `python -m jigtemplates make` against `python bare.py`.
warm: in one process, load_job + report_on + write against bare's writes, each into a fresh folder; the plate is
a little larger each time, so that nothing kept from the round before can be used again as it is.
The two take turns, so that whatever else the machine does meets both, and the processor's time is taken, not the
clock's. Shown are the least and the middle of the rounds, and the ratio of each.

First it makes sure that the comparison is fair: the same libraries imported, the same things drawn.
"""

import statistics
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(ROOT), str(HERE)]  # this checkout, whatever is installed

import bare  # noqa: E402
import dump  # noqa: E402
import fair  # noqa: E402
import measure  # noqa: E402

from jigtemplates import load_job, report_on, write  # noqa: E402

JOB = HERE / "rail.toml"
#: What the ratios should be at most, and seconds for `--help` (issue 2).
MOST = {"cold": 1.25, "warm": 1.5}
HELP_SECONDS = 0.15

Times = list[float]


def main() -> int:
    """Measure and print; 0 where every ratio is as low as it should be, 1 where not, 2 where it would not be fair."""
    if "--refresh" in sys.argv:
        dump.write()
        return 0
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    faults = fair.faults(JOB)
    if faults:
        print(*faults, sep="\n", file=sys.stderr)
        return 2
    with TemporaryDirectory() as folder:
        out = Path(folder)
        results = {"cold": in_turn(rounds, cold_make(out), cold_bare(out)), "warm": warm(rounds * 2, out)}
        answers = timed_rounds(rounds, lambda: run_python(out, "-m", "jigtemplates", "--help"))
    good = [report(name, *times, MOST[name]) for name, times in results.items()]
    good.append(min(answers) <= HELP_SECONDS)
    print(f"--help  {_ms(answers)}  (at most {HELP_SECONDS * 1000:.0f} ms)")
    return 0 if all(good) else 1


def cold_make(out: Path) -> Callable[[], float]:
    """A fresh process that makes the job."""
    return lambda: run_python(out, "-m", "jigtemplates", "make", str(JOB), "--out", fresh(out))


def cold_bare(out: Path) -> Callable[[], float]:
    """A fresh process that runs the bare script."""
    return lambda: run_python(out, str(HERE / "bare.py"), fresh(out))


def warm(rounds: int, out: Path) -> tuple[Times, Times]:
    """Both in this process, after one round that is not counted."""
    jobs = iter([grown(out, number) for number in range(rounds + 1)])

    def make() -> float:
        job, folder = next(jobs), Path(fresh(out))
        return measure.processor(lambda: write(report_on(load_job(job)), folder))

    def by_hand() -> float:
        folder = Path(fresh(out))
        return measure.processor(lambda: bare.write_all(contours, folder))

    contours = bare.read_contours()
    bare.register_fonts()
    return in_turn(rounds, make, by_hand)


def grown(out: Path, number: int) -> Path:
    """The job with a plate that is some hundredths of a millimetre larger, as a file of its own."""
    path = out / f"rail-{number}.toml"
    path.write_text(JOB.read_text(encoding="utf-8").replace("= 140", f"= {140 + number / 100}"), encoding="utf-8")
    return path


def in_turn(rounds: int, first: Callable[[], float], second: Callable[[], float]) -> tuple[Times, Times]:
    """Seconds of both, one after the other, without the first round."""
    pairs = [(first(), second()) for _ in range(rounds + 1)][1:]
    return [pair[0] for pair in pairs], [pair[1] for pair in pairs]


def timed_rounds(rounds: int, call: Callable[[], float]) -> Times:
    """Seconds of every round but the first."""
    return [call() for _ in range(rounds + 1)][1:]


def run_python(out: Path, *arguments: str) -> float:
    """Seconds that a fresh Python takes for it."""
    return measure.python(out, *arguments).processor


def fresh(out: Path, count: list[int] = [0]) -> str:  # noqa: B006  # one counter for the whole run
    """A folder that is not there yet."""
    count[0] += 1
    return str(out / f"{count[0]:04}")


def report(name: str, ours: Times, theirs: Times, most: float) -> bool:
    """Print both and their ratios; True where the ratio of the least is no more than it may be."""
    least, middle = min(ours) / min(theirs), statistics.median(ours) / statistics.median(theirs)
    print(f"{name}    make  {_ms(ours)}")
    print(f"        bare  {_ms(theirs)}")
    print(f"        ratio {least:6.2f}        {middle:6.2f}           (at most {most})")
    return least <= most


def _ms(times: Times) -> str:
    return f"{min(times) * 1000:6.0f} ms least {statistics.median(times) * 1000:6.0f} ms middle"


if __name__ == "__main__":
    sys.exit(main())
