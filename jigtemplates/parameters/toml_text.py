"""Reads a TOML file: its data, and where each key stands; every way it can be unreadable is one line."""

import os
import re
import tomllib
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple

from jigtemplates.errors import InputError, did_you_mean, printable, quoted
from jigtemplates.ordinary import NotOrdinaryError, read_start
from jigtemplates.parameters.toml_lines import Locate, locator, statements
from jigtemplates.parameters.toml_slips import slip_in

#: Largest file read, bytes (chosen: a thousand times an ordinary job).
LARGEST_BYTES = 1_000_000
#: No more entries of a folder are looked at for a file of that name (chosen: a moment's work).
MOST_FOLDERS = 500
#: More parts than this in one dotted key is no job (chosen); the standard reader is quadratic in them.
DEEPEST_KEY = 100
#: Python refuses to print whole numbers of more digits (sys.int_info), but TOML can say them as 0xfff…
_UNPRINTABLE = 10**4300
_ENDLESS = "a number has far too many digits"

_DEEP_KEY = re.compile(rf"(?<![\w\"'-])(?:[\w\"'-]++[ \t]*+\.[ \t]*+){{{DEEPEST_KEY}}}")
_PLACE = re.compile(r" \(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|end of document)\)$")
#: The standard reader's sentences and ours; the first that the message starts with is used.
_PLAIN: Mapping[str, str] = {
    "Invalid value": 'the value cannot be read (text stands in quotes: "3/8 in")',
    "Expected newline or end of document": 'something follows the value (text stands in quotes: "3/8 in")',
    "Unclosed inline table": 'a { } table is not closed, or a value in it lacks its quotes (text: "3/8 in")',
    "Unclosed array": 'a [ ] list is not closed, or a value in it lacks its quotes (text: "3/8 in")',
    "Expected '=' after a key": "a key is followed by = and its value, such as width = 10",
    "Invalid statement": "a line is a [table], or a key, = and its value, such as width = 10",
    "Expected ']' at the end of a table": "the name of a table lacks its closing ]",
    "Expected ']]' at the end of an array": "the name of a table lacks its closing ]]",
    "Cannot overwrite a value": "the key stands here a second time (keep one)",
    "Duplicate inline table key": "the key stands here a second time (keep one)",
    "Cannot declare": "the table stands here a second time (keep one)",
    "Cannot mutate immutable": "the table is already given in { } (add the key there)",
    'Expected "\'"': "a text lacks its closing quotes",
    "Unterminated string": "a text lacks its closing quotes",
    "Illegal character": "there is a control character (retype the line)",
    "Found invalid character": "there is a control character (retype the line)",
    "Unescaped '\\' in a string": "a backslash stands in the text (write it twice, or use / )",
    "Invalid hex value": "a backslash stands in the text (write it twice, or use / )",
    "Invalid initial character for a key part": "the name of a key or table is missing or needs quotes",
}


class TomlText(NamedTuple):
    """What a TOML file says and where."""

    #: the file's tables and values
    data: dict[str, Any]
    #: the 1-based line of a key, given its path; None when it is not in the file
    locate: Locate


def read_toml(path: Path, *, largest: int = LARGEST_BYTES) -> TomlText:
    """Read a TOML file of at most `largest` bytes; InputError names the file and what is wrong with it."""
    name = str(path)
    try:
        if path.is_dir():
            raise InputError(f"{shown_name(name)}: this is a folder (give the name of a file in it)")
        raw = read_start(path, largest + 1)
    except NotOrdinaryError:
        raise InputError(f"{shown_name(name)}: this is not an ordinary file") from None
    except FileNotFoundError:
        raise InputError(f"{shown_name(name)}: {_not_there(path)}") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not valid"
        raise InputError(f"{shown_name(name)}: cannot be read ({reason})") from None
    return parse_toml(raw, name, largest=largest)


def _not_there(path: Path) -> str:
    """What of a path is missing, and a near name in its folder: another folder, or a *.toml file."""
    if not path.parent.is_dir():
        return f"there is no such file (the folder {shown_name(str(path.parent))} is not there)"
    what = "there is no such file" if path.suffix else "there is no such file or folder"
    below = _below(path)
    if below is not None:
        return f"{what} (did you mean {quoted(str(below))}?)"
    near = did_you_mean(path.stem, _names_in(path.parent))
    if not near.startswith("did you mean"):
        return what
    meant = _names_in(path.parent)[near.partition('"')[2].rpartition('"')[0]]
    return f"{what} (did you mean {quoted(str(path.parent / meant))}?)"


def _below(path: Path) -> Path | None:
    """The only file of that name in a folder beside it; None where there is none, or more than one."""
    try:
        with os.scandir(path.parent) as found:
            entries = islice(found, MOST_FOLDERS)
            folders = [entry.name for entry in entries if os.path.isdir(entry.path)]
    except OSError:
        return None
    there = [path.parent / name / path.name for name in folders]
    held = [one for one in there if os.path.isfile(one)]
    return held[0] if len(held) == 1 else None


def _names_in(folder: Path) -> dict[str, str]:
    """The folders and *.toml files of a folder by their names without an ending; nothing where it cannot be listed."""
    try:
        with os.scandir(folder) as found:
            entries = sorted(found, key=lambda entry: entry.name)
    except OSError:
        return {}
    return {  # not the entries' own is_dir, which fails at a link to itself
        Path(e.name).stem: e.name for e in entries if e.name.lower().endswith(".toml") or os.path.isdir(e.path)
    }


def parse_toml(source: str | bytes, name: str, *, largest: int = LARGEST_BYTES) -> TomlText:
    """Read TOML from text or bytes; `name` stands for the file in the lines of an InputError."""
    name = shown_name(name)
    if len(source) > largest:
        raise InputError(f"{name}: larger than {largest // 1000} kB, which is no file of this program")
    text = _decoded(source, name)
    if not text.strip():
        raise InputError(f"{name}: the file is empty")
    data = _data(text, name)
    return TomlText(data, locator(text))


def shown_name(name: str) -> str:
    """A file's name as it stands at the start of a line, whatever characters are in it."""
    return printable(name)


def _decoded(source: str | bytes, name: str) -> str:
    if isinstance(source, str):
        return source.removeprefix("\ufeff")
    try:
        return source.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = source[: error.start].count(b"\n") + 1
        raise InputError(f"{name}:{line}: not UTF-8 text (save the file as UTF-8)") from None


def _data(text: str, name: str) -> dict[str, Any]:
    too_deep = InputError(f"{name}: tables or lists are nested too deeply")
    if _DEEP_KEY.search(text):
        raise too_deep
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(_syntax_line(str(error), text, name)) from None
    except RecursionError:
        raise too_deep from None
    except ValueError:  # a whole number of more than 4300 digits, the only other complaint of the reader
        raise InputError(f"{name}: {_ENDLESS}") from None
    if any(isinstance(value, int) and abs(value) >= _UNPRINTABLE for value in _values(data)):
        raise InputError(f"{name}: {_ENDLESS}")
    return data


def _values(data: dict[str, Any]) -> Iterator[object]:
    """Every single value in tables and lists, however deep."""
    waiting: list[Any] = [data]
    while waiting:
        held = waiting.pop()
        if isinstance(held, dict):
            waiting.extend(held.values())
        elif isinstance(held, list):
            waiting.extend(held)
        else:
            yield held


def _syntax_line(message: str, text: str, name: str) -> str:
    place = _PLACE.search(message)
    plain = _again(_PLACE.sub("", message), text, place) or _plain(_PLACE.sub("", message))
    if place is None or place["line"] is None:
        return f"{name}:{text.rstrip().count(chr(10)) + 1}: {plain}"
    slip = slip_in(text.split("\n")[int(place["line"]) - 1].rstrip("\r"))
    if slip is not None:
        return f"{name}:{place['line']}: {shown_name(slip)}"
    return f"{name}:{place['line']}: column {place['column']}: {plain}"


def _again(message: str, text: str, place: re.Match[str] | None) -> str | None:
    """Which key or table stands twice, and where it stands first; None for any other fault."""
    inline = re.fullmatch(r"Duplicate inline table key '(?P<key>.*)'", message)
    if inline is not None:
        return f"{shown_name(inline['key'])} stands twice in the {{ }} (keep one)"
    if not message.startswith(("Cannot overwrite a value", "Cannot declare")):
        return None
    last = int(place["line"]) if place is not None and place["line"] else None
    first: dict[tuple[str | int, ...], int] = {}
    line, seen = 1, 0
    for one in statements(text):
        line, seen = line + text.count("\n", seen, one.start), one.start
        if last is not None and line > last:
            break
        if one.path in first:
            named = ".".join(quoted(part)[1:-1] for part in one.path if isinstance(part, str))
            return f"{named} stands here a second time (the first is in line {first[one.path]}; keep one)"
        first[one.path] = line
    return None


def _plain(message: str) -> str:
    found = (plain for start, plain in _PLAIN.items() if message.startswith(start))
    return next(found, f"not valid TOML: {shown_name(message)}")
