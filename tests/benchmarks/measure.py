"""What a program of its own costs: by the clock, of the processors, and of memory at most.

The processors' time is what a figure of one process is taken from: on a machine that does other things as well it
hardly changes, while the clock runs on. Only what several processes gain is by the clock.
"""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]


class Cost(NamedTuple):
    """Of one run."""

    #: by the clock, s
    wall: float
    #: of all processors together, s
    processor: float
    #: of the largest of its processes, MB
    peak: float


def python(folder: Path, *arguments: str, program: Path = ROOT) -> Cost:
    """A fresh Python in a folder, with the program as it is there; CalledProcessError where it fails."""
    command = [sys.executable, *arguments]
    environment = os.environ | {"PYTHONPATH": str(program)}
    start = time.perf_counter()
    child = subprocess.Popen(command, cwd=folder, env=environment, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(child.pid, 0)
    wall = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise subprocess.CalledProcessError(child.returncode, command)
    return Cost(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def processor(call: Callable[[], object]) -> float:
    """Seconds of the processor that a call takes in this process."""
    start = time.process_time()
    call()
    return time.process_time() - start


def least(costs: Sequence[Cost]) -> Cost:
    """The least of each: what is more was somebody else's."""
    return Cost(*(min(column) for column in zip(*costs, strict=True)))
