"""The same work on many things by several processes: order, few things, a process that ends, an interruption."""

import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import Any

import pytest

from jigtemplates import parallel
from jigtemplates.parallel import LEAST_JOBS, in_order, processes_for

ROOT = Path(__file__).parents[1]


def ended(item: str) -> str:
    return f"{item} ended its process"


def test_results_come_in_order() -> None:
    """However long each takes, the results are in the order of the things."""
    sums = ["__import__('time').sleep(0.3) or 0", "1", "2", "3", "4"]
    assert list(in_order(eval, sums, processes=2, broken=ended)) == [0, 1, 2, 3, 4]


def test_they_are_other_processes() -> None:
    """With two processes none of the work is done in this one."""
    ours = os.getpid()
    found = set(in_order(eval, ["__import__('os').getpid()"] * 6, processes=2, broken=ended))
    assert found
    assert ours not in found


@pytest.mark.parametrize(
    ("items", "processes"), [(["__import__('os').getpid()"] * 3, 1), (["__import__('os').getpid()"], 4)]
)
def test_little_is_done_here(items: list[str], processes: int) -> None:
    """One process, or one thing: no process is started, and each thing is done when it is asked for."""
    assert set(in_order(eval, items, processes=processes, broken=ended)) == {os.getpid()}


def test_few_jobs_start_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Below the threshold one process; from there on as many as there are cores."""
    monkeypatch.setattr(parallel, "usable_cores", lambda: 7)
    assert [processes_for(LEAST_JOBS - 1), processes_for(LEAST_JOBS)] == [1, 7]


def test_cores_we_may_use(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the system lets this process use, else all cores, else one."""
    monkeypatch.setattr(parallel.os, "sched_getaffinity", lambda _: {0, 3}, raising=False)
    assert parallel.usable_cores() == 2
    monkeypatch.delattr(parallel.os, "sched_getaffinity")
    for count, cores in ((5, 5), (None, 1)):
        monkeypatch.setattr(parallel.os, "cpu_count", lambda count=count: count)
        assert parallel.usable_cores() == cores


def test_the_one_that_ends_its_process_is_named() -> None:
    """A process that dies takes no other thing's result with it, and it is said which thing it was."""
    dies = "__import__('os')._exit(3)"
    found = list(in_order(eval, ["1", "2", dies, "4", "5", "6"], processes=2, broken=ended))
    assert found == [1, 2, f"{dies} ended its process", 4, 5, 6]


def test_an_error_is_the_callers() -> None:
    """What the work raises comes out where its result would."""
    results = in_order(eval, ["1", "1/0", "3"], processes=2, broken=ended)
    assert next(results) == 1
    with pytest.raises(ZeroDivisionError):
        next(results)


def test_a_system_without_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where they cannot be had the work is done here."""

    def none(*_: object, **__: object) -> None:
        raise ImportError("This platform lacks a functioning sem_open implementation")

    monkeypatch.setattr(parallel, "ProcessPoolExecutor", none)
    assert list(in_order(eval, ["1", "__import__('os').getpid()"], processes=2, broken=ended)) == [1, os.getpid()]
    assert parallel._alone(eval, "1", ended) == "1 ended its process"


def test_from_another_thread() -> None:
    """It works where signals cannot be set."""
    found: list[Any] = []
    thread = threading.Thread(target=lambda: found.extend(in_order(eval, ["1", "2"], processes=2, broken=ended)))
    thread.start()
    thread.join()
    assert found == [1, 2]


PROGRAM = """
import sys, time
from jigtemplates.parallel import in_order
if __name__ == "__main__":
    line = "open('{0}.begun', 'w').close() or __import__('time').sleep(0.5) or open('{0}.done', 'w').close()"
    items = [line.format(i) for i in range(40)]
    try:
        for _ in in_order(eval, items, processes=2, broken=str):
            print("one", flush=True)
    except KeyboardInterrupt:
        print("stopped", flush=True)
"""


def started(folder: Path) -> "subprocess.Popen[str]":
    (folder / "program.py").write_text(PROGRAM, encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    running = subprocess.Popen(
        [sys.executable, "program.py"], cwd=folder, env=env, text=True, start_new_session=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert running.stdout is not None
    assert running.stdout.readline() == "one\n"
    return running


@pytest.mark.skipif(os.name != "posix", reason="needs signals to a group of processes")
def test_an_interruption_lets_what_has_begun_end(tmp_path: Path) -> None:
    """Ctrl-C, which every process of the group hears: what was begun is finished, no more is begun, all is quiet."""
    running = started(tmp_path)
    os.killpg(running.pid, signal.SIGINT)
    out, err = running.communicate(timeout=30)
    assert (out.splitlines()[-1], err, running.returncode) == ("stopped", "", 0)
    begun, done = (sorted(p.stem for p in tmp_path.glob(f"*.{what}")) for what in ("begun", "done"))
    assert begun == done
    assert len(done) < 20


@pytest.mark.skipif(os.name != "posix", reason="needs signals to a process")
def test_a_termination_is_quiet(tmp_path: Path) -> None:
    """SIGTERM, which only the program hears: as Ctrl-C, without a word of Python's own."""
    running = started(tmp_path)
    os.kill(running.pid, signal.SIGTERM)
    out, err = running.communicate(timeout=30)
    assert (out.splitlines()[-1], err, running.returncode) == ("stopped", "", 0)


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="looks for processes in /proc")
def test_processes_end_with_the_one_that_started_them(tmp_path: Path) -> None:
    """A program that is killed leaves no process behind."""
    running = started(tmp_path)
    children = Path(f"/proc/{running.pid}/task/{running.pid}/children").read_text().split()
    assert len(children) >= 2
    running.kill()
    running.communicate(timeout=30)
    deadline = time.monotonic() + 20
    while any(map(is_running, children)) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not any(map(is_running, children))


def is_running(process: str) -> bool:
    """Whether it is there and not only waiting to be forgotten."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_a_pool_that_breaks_while_work_is_handed_out() -> None:
    """What could not be handed out any more is as broken as what was."""

    class Broken:
        def submit(self, *_: Any) -> None:
            raise BrokenProcessPool("a process ended")

    future = parallel._submitted(Broken(), "1")  # type: ignore[arg-type]
    assert isinstance(future.exception(), BrokenProcessPool)
