"""The commands that change a tools file: read, change and write it while nobody else does."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from jigtemplates.errors import OutputError
from jigtemplates.ordinary import LARGEST_FILE, read_start
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.writers.alone import alone
from jigtemplates.writers.files import write_all

#: How often a file that others change meanwhile is read again (chosen).
ATTEMPTS = 5


def change_tools(path: Path, changed: Callable[[Path], str]) -> None:
    """Write the text that `changed` makes of the file; of a link the file it leads to.

    Raises what `changed` raises, before anything is made, and OutputError where the file cannot be written or does
    not stay still.
    """
    place = Path(os.path.realpath(path)) if os.path.islink(path) else path
    changed(path)  # a fault leaves no folder behind
    with sole_use(path, place.parent):
        for _ in range(ATTEMPTS):
            before = bytes_of(path)
            text = changed(path)
            if bytes_of(path) == before:
                write_all({place: text.encode()})
                return
    raise OutputError(f"{shown_name(str(path))}: was changed meanwhile and is left as it is (run this again)")


@contextmanager
def sole_use(path: Path, folder: Path) -> Iterator[None]:
    """Keep other runs from changing files of the folder, which is made; path is named where that takes too long.

    The folder is gone again where it was made for nothing.
    """
    with _folder(folder), alone(folder, lambda: _made(folder), lambda: shown_name(str(path))):
        yield


def bytes_of(path: Path) -> bytes | None:
    """What an ordinary file holds; None where it is not there, or cannot be read."""
    try:
        return read_start(path, LARGEST_FILE)
    except OSError:  # not there yet; what is wrong otherwise is said where it is read or written
        return None


@contextmanager
def _folder(folder: Path) -> Iterator[None]:
    """Let no folder stay that was made for nothing."""
    missing = [place for place in (folder, *folder.parents) if not os.path.lexists(place)]
    try:
        yield
    except BaseException:
        for place in missing:
            with suppress(OSError):
                place.rmdir()
        raise


def _made(folder: Path) -> None:
    with suppress(OSError):  # said by who writes into it
        folder.mkdir(parents=True, exist_ok=True)
