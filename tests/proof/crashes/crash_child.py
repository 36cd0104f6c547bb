"""Runs commands of the program, each in a fork of this process, and lets something happen to them.

Started with the program's folder on its path. Reads lines of requests that are to run together, as JSON, and answers
each line with a line. A request:

    {"args": [...], "said": "where its output goes", "cwd": "...", "watch": "...", "uid": null,
     "fault": null | {"kind": "copies", "into": "..."}         a copy of the watched folder before every call
                   | {"kind": "error", "at": n, "errno": "ENOSPC", "lasting": true}
                   | {"kind": "interrupt", "at": n}            Ctrl-C at the n-th call
                   | {"kind": "removal", "at": n, "folder": "..."}    somebody deletes it
                   | {"kind": "signal", "name": "SIGKILL", "after": seconds}}

A call is one that changes files below the watched folder, and the middle of every write. A kill leaves what stands
there at that moment, so a copy before every call is every kill there can be.
"""

import builtins
import codecs
import errno
import importlib
import io
import json
import os
import pkgutil
import shutil
import signal
import subprocess
import sys
import threading
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

#: No command takes longer than this, seconds (chosen: a hundred times what they take on a busy machine).
LONGEST = 120

#: What a full disk still does: it gives room back, and names are changed where they are.
FREEING = ("replace", "rename", "unlink", "remove", "rmdir", "chmod", "utime")


class Calls:
    """Counts what changes files below a folder, and does to it what was asked for."""

    def __init__(self, watch: str, fault: dict[str, Any] | None) -> None:
        """Nothing happens before `installed`."""
        self.watch, self.fault = os.path.realpath(watch), fault or {}
        self.names: list[str] = []
        self.lock = threading.RLock()

    def reached(self, name: str) -> None:
        """A call is about to be made."""
        with self.lock:
            self.names.append(name)
            kind, number = self.fault.get("kind"), len(self.names)
            if kind == "copies":
                shutil.copytree(self.watch, f"{self.fault['into']}/{number:04d}", symlinks=True)
            elif kind == "interrupt" and number == self.fault["at"]:
                raise KeyboardInterrupt
            elif kind == "removal" and number == self.fault["at"]:
                subprocess.run(["rm", "-rf", self.fault["folder"]], check=True)
            elif kind == "error":
                self._error(name, number)

    def _error(self, name: str, number: int) -> None:
        at, code = self.fault["at"], getattr(errno, self.fault["errno"])
        later = number > at and self.fault["lasting"] and not (code == errno.ENOSPC and name in FREEING)
        if number == at or later:
            raise OSError(code, os.strerror(code))

    def concerns(self, path: Any) -> bool:
        """Whether a path is below the watched folder."""
        return isinstance(path, str | os.PathLike) and os.path.realpath(os.path.dirname(path) or ".").startswith(
            self.watch
        )

    def installed(self) -> None:
        """Every such call of this process comes here first."""
        for name in (*FREEING, "mkdir", "link", "symlink", "truncate"):
            setattr(os, name, self._wrapped(name, getattr(os, name)))
        real_sync, real_os_open, real_open = os.fsync, os.open, io.open

        def fsync(file: Any) -> None:
            self.reached("fsync")
            real_sync(file)

        def os_open(path: Any, flags: int, *args: Any, **kwargs: Any) -> int:
            if flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT) and self.concerns(path):
                self.reached("open")
            return real_os_open(path, flags, *args, **kwargs)

        def opened(path: Any, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
            if not set(mode) & set("wxa+") or not self.concerns(path):
                return real_open(path, mode, *args, **kwargs)
            self.reached("open")
            return Halved(real_open(path, mode, *args, **kwargs), self)

        os.fsync, os.open = fsync, os_open  # type: ignore[assignment]
        io.open = builtins.open = opened  # type: ignore[assignment]

    def _wrapped(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(path: Any, *args: Any, **kwargs: Any) -> Any:
            if self.concerns(path):
                self.reached(name)
            return real(path, *args, **kwargs)

        return call


class Halved:
    """A file that is written in two halves, with a call between them; all else is the file's."""

    def __init__(self, file: Any, calls: Calls) -> None:
        """The file is open."""
        self._file, self._calls = file, calls

    def write(self, data: Any) -> int:
        """First one half, on the disk, then the other."""
        half = len(data) // 2
        self._calls.reached("write")
        self._file.write(data[:half])
        self._file.flush()
        self._calls.reached("half")
        self._file.write(data[half:])
        self._file.flush()
        return len(data)

    def __enter__(self) -> "Halved":
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


def main() -> None:
    """Answer requests until there are none."""
    from jigtemplates.cli import run
    from jigtemplates.manifest import code_hash

    _import_all()
    code_hash()  # kept: the same in every fork
    for line in sys.stdin:
        print(json.dumps(_played(json.loads(line), run)), flush=True)


def _import_all() -> None:
    import jigtemplates
    from jigtemplates.ezdxf_import import import_ezdxf

    import_ezdxf()
    for found in pkgutil.walk_packages(jigtemplates.__path__, "jigtemplates."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    for name in ("utf-8-sig", "cp1252", "latin-1", "unicode_escape", "raw_unicode_escape"):
        codecs.lookup(name)  # somebody else may not read where they are
    import reportlab.pdfgen.canvas  # noqa: F401
    import shapely  # noqa: F401
    import tomlkit  # noqa: F401


def _played(requests: list[dict[str, Any]], run: Callable[..., int]) -> list[dict[str, Any]]:
    """Fork for each, run, and say how each ended, what it said and which calls it made."""
    began, processes = time.monotonic(), []
    for request in requests:
        for ending in (".out", ".err", ".calls"):
            Path(request["said"]).with_suffix(ending).unlink(missing_ok=True)
        process = os.fork()
        if not process:
            _child(request, run, Path(request["said"]))
        processes.append(process)
    return [_ended(request, process, began) for request, process in zip(requests, processes, strict=True)]


def _ended(request: dict[str, Any], process: int, began: float) -> dict[str, Any]:
    fault, said = request["fault"] or {}, Path(request["said"])
    if fault.get("kind") == "signal":
        time.sleep(fault["after"])
        os.kill(process, getattr(signal, fault["name"]))
    _, ended = os.waitpid(process, 0)
    calls = said.with_suffix(".calls")
    return {
        "status": os.waitstatus_to_exitcode(ended),
        "seconds": time.monotonic() - began,
        "out": _read(said.with_suffix(".out")),
        "err": _read(said.with_suffix(".err")),
        "calls": json.loads(_read(calls) or "[]"),
    }


def _read(path: Path) -> str:
    """Nothing of a process that was killed before it opened the file."""
    return path.read_text() if path.exists() else ""


def _child(request: dict[str, Any], run: Callable[..., int], said: Path) -> None:
    """Never returns; one that hangs is ended by the system after LONGEST seconds, so that its test fails."""
    status = 99
    signal.alarm(LONGEST)
    try:
        for number, ending in ((1, ".out"), (2, ".err")):
            file = os.open(said.with_suffix(ending), os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
            os.dup2(file, number)
        kept = os.open(said.with_suffix(".calls"), os.O_WRONLY | os.O_CREAT)
        os.chdir(request["cwd"])
        if request["uid"]:
            os.setgroups([])
            os.setgid(request["uid"])
            os.setuid(request["uid"])
        calls = Calls(request["watch"], request["fault"])
        if (request["fault"] or {}).get("kind") != "signal":
            calls.installed()
        status = run(request["args"])
        sys.stdout.flush()
        sys.stderr.flush()
        os.write(kept, json.dumps(calls.names).encode())
    except BaseException:  # what run lets out is a fault of the program: seen by the test as status 99
        traceback.print_exc()
        sys.stderr.flush()
    finally:
        os._exit(status)


if __name__ == "__main__":
    main()
