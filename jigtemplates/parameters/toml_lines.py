"""Where the keys of a TOML file stand.

The standard library reads TOML but forgets the lines. This scanner runs over text that was already read
without fault, so it only has to find the [tables] and the keys, stepping over values, strings and comments.
A key inside a { } table or a list is at the line of the key that holds it.
"""

import re
import tomllib
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

Path = tuple[str | int, ...]
Locate = Callable[[Sequence[str | int]], int | None]

_KEY = r"""(?:[A-Za-z0-9_-]+|"(?:\\.|[^"\\\n])*"|'[^'\n]*')"""
_PART = re.compile(_KEY)
_DOTTED = rf"{_KEY}(?:[ \t]*\.[ \t]*{_KEY})*"
_TABLE = re.compile(rf"\[(?P<many>\[)?[ \t]*(?P<keys>{_DOTTED})[ \t]*\]")
_ASSIGNMENT = re.compile(rf"(?P<keys>{_DOTTED})[ \t]*=")
#: One piece of a value: a string of any kind, a comment, a bracket, a line end, or a run of the rest.
_PIECE = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}' + r"|'''.*?'{3,5}" + r'|"(?:\\.|[^"\\\n])*"' + r"|'[^'\n]*'|#[^\n]*|[\[\]{}\n]"
    r"""|[^"'#\[\]{}\n]+""",
    re.DOTALL,
)
#: A comment, or a string of any kind, in which a # begins none.
_COMMENT = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}' + r"|'''.*?'{3,5}" + r'|"(?:\\.|[^"\\\n])*"' + r"|'[^'\n]*'|(?P<comment>#[^\r\n]*)",
    re.DOTALL,
)
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")


def locator(text: str) -> Locate:
    """A function from a key's path to its 1-based line; its nearest holder's when it has none of its own."""
    lines = _key_lines(text)

    def locate(path: Sequence[str | int]) -> int | None:
        for end in range(len(path), 0, -1):
            line = lines.get(tuple(path[:end]))
            if line is not None:
                return line
        return None

    return locate


def comments_in(text: str) -> list[str]:
    """Every comment, from its # to the end of its line, in the order of the text."""
    return [found["comment"] for found in _COMMENT.finditer(text) if found["comment"] is not None]


class Statement(NamedTuple):
    """A [table] or a key with its value, in the text of a file."""

    #: the path of the table or key
    path: Path
    #: how many parts of the path come from the [table] it stands in; 0 for a [table]
    within: int
    #: where it begins; behind the end of its last line, comment included, without the line end
    start: int
    end: int


def statements(text: str) -> Iterator[Statement]:
    """Every [table] and every key of a text that is TOML, in its order; not the keys inside a { } table."""
    counts: dict[Path, int] = {}
    table: Path = ()
    at = 0
    while (at := _end(_BLANK, text, at)) < len(text):
        header = _TABLE.match(text, at)
        found = header or _ASSIGNMENT.match(text, at)
        if found is None:  # cannot be in valid TOML; the keys found so far still help
            break
        end = _value_end(text, found.end())
        if header:
            table = _resolved((), _names(header["keys"]), counts, new=bool(header["many"]))
            yield Statement(table, 0, at, end)
        else:
            yield Statement(table + _names(found["keys"]), len(table), at, end)
        at = end


def value_span(text: str, statement: Statement) -> tuple[int, int] | None:
    """Where the value of a key begins and ends, without what stands round it; None for a [table]."""
    found = _ASSIGNMENT.match(text, statement.start)
    if found is None:
        return None
    at, depth = found.end(), 0
    while at < statement.end and (piece := _PIECE.match(text, at, statement.end)) is not None:
        if piece[0].startswith("#") and depth <= 0:
            break
        depth += (piece[0] in "[{") - (piece[0] in "]}") if len(piece[0]) == 1 else 0
        at = piece.end()
    value = text[found.end() : at]
    start = found.end() + len(value) - len(value.lstrip())
    return start, start + len(value.strip())


def _key_lines(text: str) -> dict[Path, int]:
    lines: dict[Path, int] = {}
    line, seen = 1, 0
    for found in statements(text):
        line, seen = line + text.count("\n", seen, found.start), found.start
        _note(lines, found.path, line, since=found.within)
    return lines


def _note(lines: dict[Path, int], path: Path, line: int, *, since: int = 0) -> None:
    """Remember a key and the tables its dots imply."""
    for end in range(since + 1, len(path) + 1):
        lines.setdefault(path[:end], line)


def _resolved(base: Path, names: Path, counts: dict[Path, int], *, new: bool) -> Path:
    """The path of a table header, with the number of the element in each [[list of tables]] on the way."""
    for position, name in enumerate(names, 1):
        base = (*base, name)
        if new and position == len(names):
            counts[base] = counts.get(base, -1) + 1
        if base in counts:
            base = (*base, counts[base])
    return base


def _names(keys: str) -> Path:
    return tuple(_name(part) for part in _PART.findall(keys))


def _name(key: str) -> str:
    if key[0] not in "\"'":
        return key
    read: dict[str, Any] = tomllib.loads(f"x = {key}")
    return str(read["x"])


def _value_end(text: str, at: int) -> int:
    """The end of the line on which a value ends; brackets and multi-line strings may hold line ends."""
    depth = 0
    while (piece := _PIECE.match(text, at)) is not None:
        found = piece[0]
        if found == "\n" and depth <= 0:
            break
        depth += (found in "[{") - (found in "]}") if len(found) == 1 else 0
        at = piece.end()
    return at


def _end(pattern: re.Pattern[str], text: str, at: int) -> int:
    match = pattern.match(text, at)
    return match.end() if match else at
