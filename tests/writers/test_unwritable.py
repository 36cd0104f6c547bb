"""A file that cannot be written has one line that says what to do."""

import errno
from pathlib import Path

import pytest

from jigtemplates.writers import unwritable
from jigtemplates.writers.unwritable import UnfitError, line_about

GONE = FileNotFoundError(errno.ENOENT, "No such file or directory", "/long/" + "x" * 300)


def test_reasons() -> None:
    """The system's number in words of ours; one without, in the system's; a reason of ours as it is."""
    path = Path("out/rail.svg")
    start = f"{path}: cannot be written: "
    assert line_about(path, OSError(errno.ENOSPC, "x")) == (
        f"{start}the disk is full (make room or choose another place)"
    )
    assert line_about(path, OSError(errno.EIO, "Input/output error")) == f"{start}Input/output error"
    assert line_about(path, UnfitError("it is a folder")) == f"{start}it is a folder"
    assert line_about(path, GONE) == f"{start}its folder is gone (was it deleted meanwhile? run this again)"


def test_a_path_too_long_for_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows calls it not there; the length of the name that was tried is said."""
    monkeypatch.setattr(unwritable, "POSIX", False)
    assert line_about(Path("rail.svg"), GONE) == (
        "rail.svg: cannot be written: the whole path has 306 characters and Windows takes 259, unless it is told to "
        "take long ones (choose a shorter folder)"
    )
    short = FileNotFoundError(errno.ENOENT, "No such file or directory", "/rail.svg")
    assert line_about(Path("rail.svg"), short).endswith("its folder is gone (was it deleted meanwhile? run this again)")


def test_what_was_replaced_before() -> None:
    """It is named, in one line whatever its name holds."""
    lost = [Path("a.dxf"), Path("b\n.dxf")]
    line = line_about(Path("c.dxf"), OSError(errno.EROFS, "x"), lost)
    assert line.endswith("the disk is read-only (choose another place); already replaced: a.dxf, b\\n.dxf")
