"""Changes the text of a job or profile file and leaves everything else in it as the person wrote it.

Comments, order, blank lines and spelling stay. tomlkit does the rewriting; what it gives back is read by
the standard reader, and refused unless it differs in what was asked for alone.
"""

import re
import tomllib
from collections import Counter
from typing import Any

from jigtemplates.errors import InputError
from jigtemplates.parameters.toml_lines import comments_in, locator
from jigtemplates.parameters.toml_text import parse_toml

_BOM = "\ufeff"
#: A line end that is not that of Windows.
_LONE = re.compile(r"(?<!\r)\n")


def set_tools(text: str, *, bit: str | None = None, bushing: str | None = None, name: str = "job") -> str:
    """The text of a job with other tools: `tools.bit` and `tools.bushing` as a diameter or a name; None keeps one.

    Of a tool that was a table of its own the table goes, and its comments stay below the new key. `name` stands
    for the file in the lines of an InputError, which says what is no TOML or cannot be rewritten.
    """
    wanted = {key: value for key, value in (("bit", bit), ("bushing", bushing)) if value is not None}
    data = parse_toml(text, name).data
    held = data.get("tools", {})
    if not isinstance(held, dict):
        raise InputError(f"{name}: tools: does not fit here (write a table of keys)")
    changed = {key: value for key, value in wanted.items() if held.get(key) != value}
    if not changed:
        return text
    bom = _BOM if text.startswith(_BOM) else ""
    written = bom + _rewritten(text.removeprefix(_BOM), changed, name)
    if _data(written.removeprefix(bom)) != {**data, "tools": {**held, **changed}}:
        raise _by_hand(name)
    return written


def set_value(text: str, keys: tuple[str, ...], value: Any, *, name: str) -> str:
    """The text of a TOML file with another value at a key, whose table is there; comments stay.

    Tables in the value are written in { }. `name` stands for the file in the lines of an InputError, which says what is
    no TOML or cannot be rewritten.
    """
    wanted = _with(parse_toml(text, name).data, keys, value)
    bom = _BOM if text.startswith(_BOM) else ""
    by_hand = InputError(f"{name}: {'.'.join(keys)}: cannot be rewritten as it stands (change it there by hand)")
    try:
        written = bom + _with_value(text.removeprefix(_BOM), keys, value)
    except Exception:  # tomlkit fails in ways of its own on what the standard reader takes
        raise by_hand from None
    if _data(written.removeprefix(bom)) != wanted:
        raise by_hand
    return written


def _with(data: dict[str, Any], keys: tuple[str, ...], value: Any) -> dict[str, Any]:
    first, *rest = keys
    return {**data, first: _with(data[first], tuple(rest), value) if rest else value}


def _with_value(text: str, keys: tuple[str, ...], value: Any) -> str:
    import tomlkit

    from jigtemplates.parameters.tools_file import inline

    windows = "\r\n" in text and not _LONE.search(text)
    document: Any = tomlkit.parse(text)
    table = document
    for key in keys[:-1]:
        table = table[key]
    _set(table, keys[-1], inline(value))
    made = _with_comments(document.as_string(), comments_in(text), keys)
    return _LONE.sub("\r\n", made) if windows else made


def _by_hand(name: str) -> InputError:
    return InputError(f"{name}: tools: cannot be rewritten as it stands (change bit and bushing there by hand)")


def _data(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None


def _rewritten(text: str, tools: dict[str, str], name: str) -> str:
    import tomlkit

    windows = "\r\n" in text and not _LONE.search(text)
    try:
        for key, value in tools.items():
            document = tomlkit.parse(text)
            if "tools" not in document:
                document["tools"] = tomlkit.table()
            _set(document["tools"], key, value)
            text = _with_comments(document.as_string(), comments_in(text), ("tools", key))
    except Exception:  # tomlkit fails in ways of its own on what the standard reader takes
        raise _by_hand(name) from None
    return _LONE.sub("\r\n", text) if windows else text


def _set(table: Any, key: str, value: Any) -> None:
    """Put a value in the place of whatever stood there."""
    from tomlkit.items import Table

    old = table.get(key)
    table[key] = value
    if isinstance(old, Table):
        table[key].trivia.trail = "\n" + _tail(old)


def _tail(table: Any) -> str:
    """What stands below a table's last key: blank lines, and comments that belong to what follows."""
    from tomlkit.items import Table

    body = table.value.body
    last = max((at for at, (key, _) in enumerate(body) if key is not None), default=-1)
    below = "".join(item.as_string() for _, item in body[last + 1 :])
    return (_tail(body[last][1]) if last >= 0 and isinstance(body[last][1], Table) else "") + below


def _with_comments(text: str, comments: list[str], key: tuple[str, ...]) -> str:
    """The text with those of the comments that are no longer in it on lines of their own, below a key."""
    left = Counter(comments) - Counter(comments_in(text))
    lost = [comment for comment in comments if left[comment] > 0 and not left.subtract([comment])]
    lines = text.splitlines(keepends=True)
    below = locator(text)(key)
    assert below is not None  # the key has just been written
    lines[below:below] = [f"{comment}\n" for comment in lost]
    return "".join(lines)
