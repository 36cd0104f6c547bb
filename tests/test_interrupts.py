"""Ctrl-C stops the program with its own line and status, whatever a library makes of it."""

import os
import signal
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pydantic_core import SchemaError, SchemaSerializer

from jigtemplates import interrupts
from jigtemplates.errors import unforeseen

Call = Callable[..., Any]


def interrupted() -> None:
    """A library that was interrupted says so in an error of its own."""
    try:
        os.kill(os.getpid(), signal.SIGINT)
    except KeyboardInterrupt:
        raise SchemaError("Error building serializer: KeyboardInterrupt: ") from None


@pytest.mark.parametrize("where", ["jigtemplates.batch.report_on", "jigtemplates.batch.Batch.of"])
def test_an_interruption_that_a_library_hides(
    call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    """While a job is made, where every other fault is that job's alone, and before."""
    monkeypatch.setattr(where, lambda *_args, **_more: interrupted())
    assert call("make", "rail.toml") == (130, "", "stopped; no file is half-written\n")
    assert [path.name for path in rail.parent.iterdir()] == ["rail.toml"]


def test_a_fault_after_an_interruption_before(call: Call, rail: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another call begins anew: its own fault is said."""
    monkeypatch.setattr("jigtemplates.batch.report_on", lambda *_: interrupted())
    assert call("make", "rail.toml").status == 130
    monkeypatch.setattr("jigtemplates.batch.report_on", lambda *_: 1 // 0)
    said = call("make", "rail.toml")
    assert said.status == 2
    assert "a fault in jigtemplates itself: ZeroDivisionError" in said.err


def test_the_handler_before_is_there_again() -> None:
    """Only the call listens."""
    before = signal.getsignal(signal.SIGINT)
    with interrupts.listening():
        assert signal.getsignal(signal.SIGINT) is interrupts.interrupt
    assert signal.getsignal(signal.SIGINT) is before


def test_ignored_stays_ignored() -> None:
    """A program in the background is not to hear Ctrl-C."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        with interrupts.listening():
            assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)


def test_in_a_thread() -> None:
    """Only the main thread may set a handler; another goes without."""
    done: list[str] = []

    def listen() -> None:
        with interrupts.listening():
            done.append(unforeseen(ValueError("x")))

    thread = threading.Thread(target=listen)
    thread.start()
    thread.join()
    assert done == ["a fault in jigtemplates itself: ValueError: x (please report it)"]


def test_what_pydantic_makes_of_it() -> None:
    """The reason for all this: asked to stop by what it calls, its core raises an error (seen with pydantic 2)."""

    class Interrupting:
        def __repr__(self) -> str:
            raise KeyboardInterrupt

        __hash__ = __repr__  # type: ignore[assignment]

    with pytest.raises(SchemaError, match="KeyboardInterrupt"):
        SchemaSerializer({"type": "literal", "expected": [Interrupting()]})
