"""What `calibrate --undo` needs: a list beside the tools file of what each correction changed, the last at its end.

For each changed file it has the whole text before and after, and the hash of the text after. In a file that was changed
since only the keys of the correction get back what they held, so that what was changed since stays; a key that was
changed since itself is left as it is.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from jigtemplates.errors import InputError
from jigtemplates.parameters.toml_text import parse_toml, shown_name
from jigtemplates.tools_command import bytes_of

#: Put behind the tools file's name.
ENDING = ".undo"
#: Corrections that can be taken back (chosen: more than a person remembers).
MOST = 20
#: Larger lists are not ours (chosen: twenty files of a profile's largest size, before and after).
LARGEST_BYTES = 80_000_000
_ABOUT = "what jigtemplates calibrate changed, for calibrate --undo"


@dataclass(frozen=True, slots=True)
class Step:
    """One correction, as it can be taken back."""

    #: what was corrected, as a person would call it
    what: str
    #: the day of the measurement
    on: str
    #: what each file held before; None where there was none
    before: Mapping[Path, str | None]
    #: SHA-256 of what each file held afterwards
    after: Mapping[Path, str]
    #: what each file held afterwards; a list of an earlier version has it not
    texts: Mapping[Path, str] = field(default_factory=dict)


def list_path(tools: Path) -> Path:
    """Where the list of a tools file is."""
    return tools.with_name(tools.name + ENDING)


def with_step(tools: Path, what: str, on: str, texts: Mapping[Path, str]) -> bytes:
    """The list with one more correction, which is about to change files to these texts.

    Where these are the texts of the last one, a killed run had begun it: then it ends that one.
    """
    before = {path: None if (held := bytes_of(path)) is None else held.decode("utf-8") for path in texts}
    after = {path: _sha256(text.encode()) for path, text in texts.items()}
    listed = _carried_out(steps(tools))
    ends_last = bool(listed) and _absolute(listed[-1].after) == _absolute(after)
    return _written(listed if ends_last else [*listed, Step(what, on, before, after, texts)][-MOST:], tools)


def _absolute(files: Mapping[Path, str]) -> dict[str, str]:
    return {os.path.abspath(path): held for path, held in files.items()}


def _carried_out(held: list[Step]) -> list[Step]:
    """Without a last one that a killed run had listed and not begun, or taken back and left in the list."""
    return held[:-1] if held and all(_as_before(path, text) for path, text in held[-1].before.items()) else held


def _as_before(path: Path, text: str | None) -> bool:
    """Whether a file is as it was before a correction."""
    return not os.path.lexists(path) if text is None else bytes_of(path) == text.encode()


def steps(tools: Path) -> list[Step]:
    """The corrections that can be taken back, the last at the end; InputError where the list is damaged."""
    path = list_path(tools)
    if not os.path.lexists(path):
        return []
    damaged = InputError(
        f"{shown_name(str(path))}: is damaged, or none of ours (delete it; of what was measured before, the sizes "
        "stand in the profiles, under was)"
    )
    raw = bytes_of(path) or b""
    if len(raw) > LARGEST_BYTES:
        raise damaged
    try:
        data = json.loads(raw.decode("utf-8"))
        if data["about"] != _ABOUT:
            raise damaged
        return [_step(one, tools.parent) for one in data["corrections"]]
    except (InputError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise damaged from None


def _step(data: Any, folder: Path) -> Step:
    before: dict[Path, str | None] = {}
    after: dict[Path, str] = {}
    texts: dict[Path, str] = {}
    for file in data["files"]:
        path = folder / str(file["path"])
        if b"\0" in os.fsencode(path):
            raise ValueError(path)
        before[path] = None if file["before"] is None else _text(file["before"], path)
        after[path] = str(file["after_sha256"])
        if "after" in file:
            texts[path] = _text(file["after"], path)
    return Step(shown_name(str(data["what"])), shown_name(str(data["on"])), before, after, texts)


def _text(held: Any, path: Path) -> str:
    """What a file held; InputError for what no correction has read, lest somebody's list writes anything anywhere."""
    text = str(held)
    if text.strip():
        parse_toml(text.encode(), str(path))
    return text


def without_last(tools: Path, left: list[Step]) -> dict[Path, bytes | None]:
    """What each file is to hold once the last of these corrections is taken back, the list too; None: nothing.

    A file may be as before already: a run was killed between two files. Of one that was changed since only what the
    correction changed is taken back; InputError names everything of that which was changed since itself.
    """
    last, faults = left[-1], list[str]()
    files: dict[Path, bytes | None] = {}
    for path, text in last.before.items():
        try:
            as_it_was = None if text is None else text.encode()
            files[path] = _taken_back(path, last, tools) if _is_changed(path, last) else as_it_was
        except InputError as error:
            faults.extend(error.lines)
    if faults:
        raise InputError(faults)
    rest = left[:-1]
    return {**files, list_path(tools): _written(rest, tools) if rest else None}


def _is_changed(path: Path, last: Step) -> bool:
    """Whether a file holds neither what the correction made of it nor what it held before."""
    held = bytes_of(path)
    return (held is None or _sha256(held) != last.after[path]) and not _as_before(path, last.before[path])


def _taken_back(path: Path, last: Step, tools: Path) -> bytes:
    """A file that was changed since, without the correction."""
    held = bytes_of(path)
    if held is None or path not in last.texts:
        raise InputError(
            f"{near(path)}: was changed since that correction and is left as it is (what it held before stands in "
            f"{near(list_path(tools))}, under before)"
        )
    from jigtemplates.calibrate.taken_out import taken_out

    parse_toml(held, near(path))
    return taken_out(held.decode("utf-8"), last.before[path], last.texts[path], Path(near(path)), near(path)).encode()


def near(path: Path) -> str:
    """A path as a person in this folder would write it."""
    below = Path(os.path.realpath(path)).is_relative_to(Path.cwd())
    return shown_name(Path(os.path.relpath(path)).as_posix() if below else str(path))


def _written(all_steps: list[Step], tools: Path) -> bytes:
    listed = [_listed(step, tools.parent) for step in all_steps]
    text = json.dumps({"about": _ABOUT, "corrections": listed}, indent=1, ensure_ascii=False) + "\n"
    return text.encode("utf-8", "backslashreplace")  # bytes of a name that are no UTF-8 stand there as JSON's \\udcff


def _listed(step: Step, folder: Path) -> dict[str, Any]:
    files = [
        {
            "path": Path(os.path.relpath(path, folder)).as_posix(),
            "before": text,
            **({"after": step.texts[path]} if path in step.texts else {}),
            "after_sha256": step.after[path],
        }
        for path, text in step.before.items()
    ]
    return {"what": step.what, "on": step.on, "files": files}


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
