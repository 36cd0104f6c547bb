"""The test's side of `crash_child`: a request goes out, an answer comes back."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import jigtemplates


class Ended(NamedTuple):
    """How a command ended."""

    #: exit status; of a signal its number, negative
    status: int
    seconds: float
    out: str
    err: str
    #: the names of its calls that change files
    calls: list[str]


def copied_program(into: Path) -> Path:
    """The package and its profiles in a folder of their own: nobody edits them while the tests run."""
    package = Path(jigtemplates.__file__).parent
    no_caches = shutil.ignore_patterns("__pycache__", ".*_cache")
    shutil.copytree(package, into / "jigtemplates", ignore=no_caches)
    if (package.parent / "profiles").is_dir():
        shutil.copytree(package.parent / "profiles", into / "profiles")
    return into


def environment(program: Path) -> dict[str, str]:
    """That of a person without any profiles, who runs the copied program."""
    settings = {"PYTHONPATH": str(program), "XDG_CONFIG_HOME": str(program / "no-config"), "COLUMNS": "120"}
    return {**os.environ, **settings}


class Server:
    """Commands of the program, each run in a fork of one process that has imported everything."""

    def __init__(self, program: Path) -> None:
        """Started at the first request."""
        self.program = program
        self._process: subprocess.Popen[str] | None = None

    def __enter__(self) -> "Server":
        return self

    def __exit__(self, *_: object) -> None:
        if self._process is not None:
            assert self._process.stdin is not None
            self._process.stdin.close()
            self._process.wait(30)
            assert self._process.stdout is not None
            self._process.stdout.close()

    def run(
        self,
        cwd: Path,
        args: Sequence[str],
        *,
        watch: Path | None = None,
        fault: dict[str, Any] | None = None,
        uid: int | None = None,
    ) -> Ended:
        """One command in a folder; faults concern what it does below `watch`, which is that folder by default."""
        return self._answers([self._request(cwd, args, 0, watch=str(watch or cwd), fault=fault, uid=uid)])[0]

    def together(self, cwd: Path, *commands: Sequence[str]) -> list[Ended]:
        """Several commands in a folder, all at once."""
        return self._answers([self._request(cwd, args, number) for number, args in enumerate(commands)])

    def _request(self, cwd: Path, args: Sequence[str], number: int, **more: Any) -> dict[str, Any]:
        said = str(self.program / f"said{number}")
        return {
            "args": list(args),
            "cwd": str(cwd),
            "said": said,
            "watch": str(cwd),
            "fault": None,
            "uid": None,
            **more,
        }

    def _answers(self, requests: list[dict[str, Any]]) -> list[Ended]:
        process = self._process = self._process or self._begun()
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.write(json.dumps(requests) + "\n")
        process.stdin.flush()
        answer = process.stdout.readline()
        assert answer, "the process that runs the commands has ended: its reason stands above"
        return [Ended(**one) for one in json.loads(answer)]

    def _begun(self) -> subprocess.Popen[str]:
        child = Path(__file__).with_name("crash_child.py")
        return subprocess.Popen(
            [sys.executable, "-W", "ignore", str(child)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment(self.program),
        )  # fmt: skip
