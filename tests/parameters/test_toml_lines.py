"""Where the keys of a TOML file stand."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.parameters.toml_lines import locator, statements, value_span

TEXT = '''# a comment with key = 1
title = "x [cut] = 1"
a.b = 3
notes = """
[cut]
width = 3
""" # more
[cut]  # comment
"wi dth" = 3
'le.ngth' = 4
"tab\\tkey" = 5
points = [
  [1, 2], # ]
  {a = 1},
]
inline = { x = 1, y = "}" }
literal = \'\'\'
depth = 1
it's\'\'\'
after = 1
[ plate . screws ]
size = 1
[[list]]
a = 1
[[list]]
a = 1
[list.sub]
b=1
[[list.deep]]
c = 1
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("a",), 3),
        (("a", "b"), 3),
        (("notes",), 4),
        (("cut",), 8),
        (("cut", "wi dth"), 9),
        (("cut", "le.ngth"), 10),
        (("cut", "tab\tkey"), 11),
        (("cut", "points"), 12),
        (("cut", "points", 1, "a"), 12),
        (("cut", "inline", "y"), 16),
        (("cut", "literal"), 17),
        (("cut", "after"), 20),
        (("plate",), 21),
        (("plate", "screws"), 21),
        (("plate", "screws", "size"), 22),
        (("list", 0), 23),
        (("list", 0, "a"), 24),
        (("list", 1, "a"), 26),
        (("list", 1, "sub", "b"), 28),
        (("list", 1, "deep", 0, "c"), 30),
    ],
)
def test_lines(path: tuple[str | int, ...], line: int) -> None:
    """Every kind of key is found on its own line, and what is inside a value on the value's."""
    tomllib.loads(TEXT)  # the text itself is right
    assert locator(TEXT)(path) == line


def test_keys_that_are_not_there() -> None:
    """A missing key is at the table that would hold it; without one there is no line."""
    locate = locator(TEXT)
    assert locate(("cut", "width")) == 8
    assert locate(("nowhere",)) is None
    assert locate(()) is None


def test_windows_line_ends() -> None:
    """Lines are counted the same with two-character line ends."""
    assert locator("a = 1\r\n\r\n[b]\r\nc = 2\r\n")(("b", "c")) == 4


def test_text_that_is_no_toml() -> None:
    """A scanner of faulty text keeps what it found so far."""
    locate = locator("a = 1\n%% what\nb = 2")
    assert (locate(("a",)), locate(("b",))) == (1, None)


keys = st.from_regex(r"[A-Za-z0-9_-]{1,6}", fullmatch=True)
values = st.sampled_from(["1", '"x = 1"', "[1,\n 2]", '"""\n[t]\nk = 1\n"""', "{ a = 1 }", "'#'", "true # c = 1"])


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[tuple[str, ...], int]]:
    """A TOML text built line by line, with the line of every key put into it."""
    lines: list[str] = []
    places: dict[tuple[str, ...], int] = {}
    for table in draw(st.lists(keys, max_size=4, unique=True)):
        lines += [f"[{table}]"]
        places[(table,)] = len(lines)
        for key in draw(st.lists(keys, max_size=4, unique=True)):
            places[(table, key)] = len(lines) + 1
            lines += f"{key} = {draw(values)}".split("\n") + [""] * draw(st.integers(0, 2))
    return "\n".join(lines), places


def _paths(data: dict[str, Any]) -> Iterator[tuple[str, ...]]:
    for table, held in data.items():
        yield (table,)
        yield from ((table, key) for key in held)


@settings(max_examples=100, deadline=None)
@given(documents())
def test_every_key_the_reader_finds_has_its_line(made: tuple[str, dict[tuple[str, ...], int]]) -> None:
    """For each key that the standard library reads, the scanner gives the line it was written on."""
    text, places = made
    locate = locator(text)
    assert {path: locate(path) for path in _paths(tomllib.loads(text))} == places


def test_where_a_value_is() -> None:
    """Without spaces, comment and the line's end; a list over several lines is one value; a table has none."""
    text = "[a]  # b = 1\nx =  [1, # 2\n 3]  # four\ny = '#5' #6\n  \"z\".q = { r = 7 }\n"
    spans = [value_span(text, one) for one in statements(text)]
    assert spans[0] is None
    assert [text[slice(*span)] for span in spans[1:] if span] == ["[1, # 2\n 3]", "'#5'", "{ r = 7 }"]
