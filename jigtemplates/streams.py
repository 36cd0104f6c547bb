"""The standard streams: whether somebody is looking, whether in colour, and what to do when they are gone."""

import os
import sys
from contextlib import suppress
from typing import TextIO


def is_terminal(stream: TextIO | None) -> bool:
    """Whether somebody is looking at the stream; a program started without a stream has None in its place."""
    return stream is not None and stream.isatty()


def wanted_colour() -> bool | None:
    """False where the person wants no colour; None: colour on a terminal and nowhere else.

    The open convention of no-color.org: the variable NO_COLOR is there and not empty.
    """
    return False if os.environ.get("NO_COLOR") else None


def never_fail_on_characters() -> None:
    """Let a terminal that has no × show ? for it instead of stopping the program."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def silence() -> None:
    """Send what is still to be said nowhere: the reader has gone (`| head`), or the disk behind it is full.

    What stands in the buffers would otherwise fail a second time when the program ends.
    """
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, OSError, ValueError):
            os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
