"""Ctrl-C is heard even where a library makes a fault of its own out of it.

Pydantic's core, asked to stop while it builds a model, raises an error that only quotes the interruption.
"""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

_heard = False


@contextmanager
def listening() -> Iterator[None]:
    """Meanwhile `heard` tells whether Ctrl-C was pressed.

    Only the main thread can listen, and where Ctrl-C is to be ignored (in the background) it stays so.
    """
    global _heard
    _heard = False
    before = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or before is not signal.default_int_handler:
        yield
        return
    signal.signal(signal.SIGINT, interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def interrupt(_number: int = signal.SIGINT, _frame: FrameType | None = None) -> None:
    """What a signal does that asks us to stop: KeyboardInterrupt, wherever we are."""
    global _heard
    _heard = True
    raise KeyboardInterrupt


def heard() -> bool:
    """Whether we were asked to stop."""
    return _heard
