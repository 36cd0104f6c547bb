"""One key of a TOML text set or taken out where it stands; every other character stays.

The text has been read without fault. What comes back is to be read again and compared with what was wanted, since a
text can hold a key in ways that are not looked for here.
"""

import re
from collections.abc import Callable
from typing import Any

from jigtemplates.parameters.toml_lines import Statement, statements, value_span
from jigtemplates.parameters.tools_file import inline

Keys = tuple[str, ...]

_BOM = "\ufeff"


def with_value(text: str, keys: Keys, value: Any) -> str | None:
    """The text with a value at a key: in the place of another, inside a { } table, or on a line below its siblings.

    None where there is no such place.
    """
    bom = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(bom)
    holder = _holder(body, keys)
    if holder is None:
        made = _on_a_line(body, keys, value)
    elif holder.path == keys:
        made = _replaced(body, holder, lambda _: _written(value))
    else:
        made = _replaced(body, holder, lambda table: _set_inside(table, keys[len(holder.path) :], value))
    return None if made is None else bom + made


def without_value(text: str, keys: Keys) -> str | None:
    """The text without a key that stands inside a { } table; None where it does not."""
    bom = _BOM if text.startswith(_BOM) else ""
    body = text.removeprefix(bom)
    holder = _holder(body, keys)
    if holder is None or holder.path == keys:
        return None
    return bom + _replaced(body, holder, lambda table: _cut_inside(table, keys[len(holder.path) :]))


def _holder(text: str, keys: Keys) -> Statement | None:
    """The key that has the value, or the { } table in which it is or may be put."""
    found = [one for one in statements(text) if value_span(text, one) and one.path == keys[: len(one.path)]]
    return max(found, key=lambda one: len(one.path), default=None)


def _replaced(text: str, statement: Statement, change: Callable[[str], str]) -> str:
    span = value_span(text, statement)
    assert span is not None  # it is no [table]
    start, end = span
    return text[:start] + change(text[start:end]) + text[end:]


def _set_inside(table: str, keys: Keys, value: Any) -> str:
    """The text of a { } table with a value in it."""
    import tomlkit

    document: Any = tomlkit.parse(f"x = {table}")
    held = document["x"]
    for key in keys[:-1]:
        held = held[key]
    if len(keys) == 1 and keys[0] not in held:  # tomlkit puts a comma behind the space
        inner = table[1:-1].rstrip().removesuffix(",")
        return f"{{{inner}{',' if inner.strip() else ''} {_key(keys)} = {_written(value)} }}"
    held[keys[-1]] = inline(value)
    return _closed_as(table, str(document.as_string())[4:])


def _cut_inside(table: str, keys: Keys) -> str:
    import tomlkit

    document: Any = tomlkit.parse(f"x = {table}")
    held = document["x"]
    for key in keys[:-1]:
        held = held[key]
    del held[keys[-1]]
    return _closed_as(table, str(document.as_string())[4:])


def _closed_as(table: str, made: str) -> str:
    """The text of a { } table with the space before its } that it had."""
    return re.sub(r"[ ,]*}$", " }", made) if table.endswith(" }") else made


def _on_a_line(text: str, keys: Keys, value: Any) -> str | None:
    """The text with a new key below the last one of its [table], or below its dotted siblings."""
    table = keys[:-1]
    own = [one for one in statements(text) if one.path[: len(table)] == table and _is_near(one, table)]
    if not own:
        return None
    last = own[-1]
    within = last.within or len(table)
    above = text[: last.end].rstrip("\r")
    line_end = "\r\n" if text[len(above) :].startswith("\r\n") else "\n"
    return f"{above}{line_end}{_key(keys[within:])} = {_written(value)}{text[len(above) :]}"


def _is_near(one: Statement, table: Keys) -> bool:
    """Whether it is the [table], or a key that stands in it or in one round it."""
    return one.path == table if one.within == 0 else one.within <= len(table)


def _key(keys: Keys) -> str:
    import tomlkit

    return ".".join(tomlkit.key(key).as_string() for key in keys)


def _written(value: Any) -> str:
    import tomlkit

    held = inline(value)
    text: str = (held if hasattr(held, "as_string") else tomlkit.item(held)).as_string()
    return text
