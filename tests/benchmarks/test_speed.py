"""The same figures by pytest-benchmark, the program and the bare script in one group: "(1.00)" is the quicker one.

    .venv/bin/python -m pytest tests/benchmarks/test_speed.py -m slow --benchmark-columns=min,median,rounds

Not among the checks that run each time: on a machine that does other things the figures jump. What is asserted is
only what no noise can break.
"""

import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("pytest_benchmark")
sys.path[:0] = [str(Path(__file__).resolve().parents[i]) for i in (2, 0)]  # this checkout, whatever is installed

import bare  # noqa: E402
import long_outlines  # noqa: E402
import many_jobs  # noqa: E402
import measure  # noqa: E402
import run  # noqa: E402

from jigtemplates import load_job, report_on, write  # noqa: E402

pytestmark = pytest.mark.slow
WAYS = ("make", "bare")
JOBS = 40


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.benchmark(group="one template, cold", timer=time.perf_counter)
def test_cold(benchmark: Any, tmp_path: Path, way: str) -> None:
    """A fresh process writes the example's files."""
    calls: dict[str, Callable[[], object]] = {"make": run.cold_make(tmp_path), "bare": run.cold_bare(tmp_path)}
    benchmark.pedantic(calls[way], rounds=5)
    assert len(list(tmp_path.rglob("*.pdf"))) == 5 * 3


@pytest.fixture
def jobs(tmp_path: Path) -> Iterator[Path]:
    """Jobs of which each is a little larger than the one before."""
    return iter([run.grown(tmp_path, number) for number in range(100)])


@pytest.mark.benchmark(group="one template, warm", timer=time.process_time)
def test_warm_make(benchmark: Any, tmp_path: Path, jobs: Iterator[Path]) -> None:
    """A process that has made others makes one more."""
    report = benchmark.pedantic(
        lambda: write(report_on(load_job(next(jobs))), Path(run.fresh(tmp_path))), rounds=30, warmup_rounds=3
    )
    assert len(report.files) == 8


@pytest.mark.benchmark(group="one template, warm", timer=time.process_time)
def test_warm_bare(benchmark: Any, tmp_path: Path) -> None:
    """The bare script writes its files once more."""
    contours = bare.read_contours()
    bare.register_fonts()
    benchmark.pedantic(lambda: bare.write_all(contours, Path(run.fresh(tmp_path))), rounds=30, warmup_rounds=3)
    assert len(list(tmp_path.rglob("*.pdf"))) == 33 * 3


@pytest.mark.parametrize("way", ["bare", "one", "all", "again", "regenerate"])
@pytest.mark.benchmark(group=f"{JOBS} templates", timer=time.perf_counter)
def test_many(benchmark: Any, tmp_path: Path, way: str) -> None:
    """A folder of jobs, by one process, by all cores, and again where nothing has changed."""
    many_jobs.prepare(tmp_path, JOBS)
    if way in ("again", "regenerate"):
        many_jobs.timed(tmp_path, "all", JOBS)
    cost = benchmark.pedantic(lambda: many_jobs.timed(tmp_path, way, JOBS), rounds=1)
    benchmark.extra_info["MB"] = round(cost.peak)
    assert len(list(tmp_path.rglob("rail*_setup.pdf"))) == JOBS


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("count", [1_000, 10_000, 200_000])
@pytest.mark.benchmark(timer=time.process_time)
def test_outline(benchmark: Any, tmp_path: Path, count: int, way: str) -> None:
    """A drawn outline of many points is read, offset, routed and written."""
    path = long_outlines.drawing(tmp_path, "dxf", count, 0.0)
    call = {"make": long_outlines.ours, "bare": long_outlines.bare}[way]
    benchmark.group = f"outline of {count:,} points"
    benchmark.pedantic(lambda: call(path, tmp_path), rounds=1)
    assert len(list(tmp_path.glob("*_cnc.svg"))) == 1


def test_memory(tmp_path: Path) -> None:
    """One template takes no more than half as much memory again as the bare script does."""
    made = measure.python(tmp_path, "-m", "jigtemplates", "make", str(run.JOB), "--out", "made")
    by_hand = measure.python(tmp_path, str(run.HERE / "bare.py"), "bare")
    assert made.peak < 1.5 * by_hand.peak
