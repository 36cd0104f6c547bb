"""Does the same work on many things with several processes; results come in the order of the things.

Processes are started afresh ("spawn") on every system, so that what works on one works on all; the work
and its results are pickled. Little work is done right here: a process first has to import everything.
"""

import gc
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Any, TypeVar

from jigtemplates.interrupts import interrupt

Item = TypeVar("Item")
Result = TypeVar("Result")

#: Fewer jobs are made by one process. Measured: a process begins with 0.7 s of imports, a job takes 0.1 s; with two
#: cores fourteen jobs take as long either way, twenty gain.
LEAST_JOBS = 20


def processes_for(jobs: int) -> int:
    """How many processes to make so many jobs with: one for each core we may use, or one for few jobs."""
    return 1 if jobs < LEAST_JOBS else usable_cores()


def usable_cores() -> int:
    """Cores this process may run on, where the system tells; else all there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def in_order(
    work: Callable[[Item], Result],
    items: Sequence[Item],
    *,
    processes: int,
    broken: Callable[[Item], Result],
) -> Iterator[Result]:
    """work(item) for each item, in their order; with several processes it is done ahead of being asked for.

    Where a process ends suddenly (out of memory, killed) the items without a result are done one by one;
    the result of the one that ends its process again is broken(item). An interruption lets every process end
    the item it is at, and goes on.
    """
    pool = None if min(processes, len(items)) < 2 else _pool(work, min(processes, len(items)))
    if pool is None:
        yield from map(work, items)
        return
    with _terminable(), pool, _cancelled(pool):
        with _uninterrupted():  # the processes start here, and inherit it: only we hear Ctrl-C
            futures = [_submitted(pool, item) for item in items]
        for item, future in zip(items, futures, strict=True):
            try:
                yield future.result()
            except BrokenProcessPool:
                yield _alone(work, item, broken)


def _pool(work: Callable[..., Any], processes: int) -> ProcessPoolExecutor | None:
    """None where the system has no means of running processes together."""
    from multiprocessing import get_context

    try:
        return ProcessPoolExecutor(
            processes, mp_context=get_context("spawn"), initializer=_begin, initargs=(work, gc.get_threshold())
        )
    except (ImportError, NotImplementedError, OSError):
        return None


def _submitted(pool: ProcessPoolExecutor, item: Any) -> "Future[Any]":
    try:
        return pool.submit(_do, item)
    except BrokenProcessPool as error:  # already, while we are still handing out
        future: Future[Any] = Future()
        future.set_exception(error)
        return future


@contextmanager
def _cancelled(pool: ProcessPoolExecutor) -> Iterator[None]:
    """What has not begun when we are left is not begun."""
    try:
        yield
    finally:
        pool.shutdown(cancel_futures=True)


def _alone(work: Callable[[Item], Result], item: Item, broken: Callable[[Item], Result]) -> Result:
    """The item in a process of its own, so that it is known which item ends its process."""
    pool = _pool(work, 1)
    if pool is None:
        return broken(item)
    with pool, _cancelled(pool):
        with _uninterrupted():
            future = _submitted(pool, item)
        try:
            result: Result = future.result()
        except BrokenProcessPool:
            return broken(item)
        return result


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """No Ctrl-C meanwhile; only the main thread may say so."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _terminable() -> Iterator[None]:
    """SIGTERM is as Ctrl-C meanwhile: ended at once we would leave the system's means of sharing work lying about."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


_work: Callable[[Any], Any]


def _begin(work: Callable[[Any], Any], threshold: tuple[int, int, int]) -> None:
    """What a new process does first."""
    global _work
    _work = work
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(*threshold)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Ends this process as soon as the one that started it has gone, however that came about."""
    from multiprocessing import parent_process

    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _do(item: Any) -> Any:
    return _work(item)
