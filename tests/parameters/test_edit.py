"""Other tools in a job's text, and everything else as the person wrote it."""

import tomllib
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.parameters.edit import set_tools, set_value

JOB = """\
# Rail of the bench.
title = "Rail"   # on the label

[tools]  # what is in the drawer
# the sharp one
bit       = "3/8 in"     # measured in May
bushing = '1/2 in'

clearance = 0.10  # "slides"

[plate]
width = 140 # not "bit = 3"
"""


def test_a_tool_is_changed_and_nothing_else() -> None:
    """Only the value changes: comments, order, spacing, quotes elsewhere and blank lines stay byte for byte."""
    assert set_tools(JOB, bit="6 mm") == JOB.replace('"3/8 in"', '"6 mm"')
    both = JOB.replace('"3/8 in"', '"my 1/4"').replace("'1/2 in'", '"big one"')
    assert set_tools(JOB, bit="my 1/4", bushing="big one") == both


def test_nothing_wanted_is_nothing_changed() -> None:
    """Without a tool, or with those it has, the text is the same, however oddly it is written."""
    assert set_tools(JOB) == JOB
    assert set_tools(JOB, bit="3/8 in", bushing="1/2 in") == JOB


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (
            '[tools]\nbit = { diameter = "3/8 in", shank = 8 }  # worn\nbushing = 12\n',
            '[tools]\nbit = "6 mm"  # worn\nbushing = 12\n',
        ),
        (
            '[tools]\nbushing = 12  # b\n\n# the bit\n[tools.bit]  # head\ndiameter = "3/8 in"  # measured\n'
            "# free\nshank = 8\n\n# the plate\n[plate]\nwidth = 3\n",
            '[tools]\nbushing = 12  # b\n\n# the bit\nbit = "6 mm"\n# head\n# measured\n# free\n'
            "\n# the plate\n[plate]\nwidth = 3\n",
        ),
        (
            '[tools.bit]\ndiameter = "3/8 in"  # same\n[tools.bushing]\ndiameter = 12  # same\n\n[plate]\nwidth = 3\n',
            '[tools]\nbit = "6 mm"\n# same\n[tools.bushing]\ndiameter = 12  # same\n\n[plate]\nwidth = 3\n',
        ),
        (
            "[tools.bushing]\ndiameter = 12\n[cut]\nwidth = 3\n[tools.bit]\ndiameter = 3  # k\n[plate]\nx = 3\n",
            '[tools]\nbit = "6 mm"\n# k\n\n[tools.bushing]\ndiameter = 12\n[cut]\nwidth = 3\n[plate]\nx = 3\n',
        ),
        (
            "[tools]\nbit.diameter = 3  # a\nbit.shank = 4  # b\nbushing = 12\n[plate]\nx = 3\n",
            '[tools]\nbushing = 12\nbit = "6 mm"\n# a\n# b\n[plate]\nx = 3\n',
        ),
        ("tools.bit = 3  # a\ntools.bushing = 12\n[plate]\n", 'tools.bit = "6 mm"  # a\ntools.bushing = 12\n[plate]\n'),
        ("tools = { bit = 3, bushing = 12 } # a\n", 'tools = { bit = "6 mm", bushing = 12 } # a\n'),
        ("[tools.bit]\n[plate]\nx = 3\n", '[tools]\nbit = "6 mm"\n[plate]\nx = 3\n'),
        ("[tools]\nbushing = 12\n\n[plate]\nx = 3\n", '[tools]\nbushing = 12\nbit = "6 mm"\n\n[plate]\nx = 3\n'),
        ("[plate]\nx = 3  # a\n", '[plate]\nx = 3  # a\n\n[tools]\nbit = "6 mm"\n'),
        ('[tools]\nbit = """\n# no comment"""  # a', '[tools]\nbit = "6 mm"  # a'),
    ],
)  # fmt: skip
def test_however_the_tool_was_written(old: str, new: str) -> None:
    """A table becomes a plain value with the table's comments below it; what follows stays where it was."""
    assert set_tools(old, bit="6 mm") == new


def test_line_ends_of_windows_stay() -> None:
    """A file with CRLF gets no other line end, in new lines neither."""
    old = "[tools]\r\nbushing = 12\r\n[tools.bit] # a\r\ndiameter = 3 # b\r\n\r\n[plate]\r\nx = 3\r\n"
    new = '[tools]\r\nbushing = 12\r\nbit = "6 mm"\r\n# a\r\n# b\r\n\r\n[plate]\r\nx = 3\r\n'
    assert set_tools(old, bit="6 mm") == new


def test_a_byte_order_mark_stays() -> None:
    """The mark that some editors put first is kept."""
    assert set_tools("\ufeff" + JOB, bit="6 mm") == "\ufeff" + JOB.replace('"3/8 in"', '"6 mm"')


def test_quotes_in_a_name() -> None:
    """A name with a quote in it is written so that it reads as itself."""
    made = set_tools(JOB, bit='my 3/8" \\ ½')
    assert tomllib.loads(made)["tools"]["bit"] == 'my 3/8" \\ ½'


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("tools = 3\n", "rail.toml: tools: does not fit here (write a table of keys)"),
        ("[tools]\nbit = \n", "rail.toml:2: column 7: the value cannot be read (text stands in quotes: \"3/8 in\")"),
        ("", "rail.toml: the file is empty"),
    ],
)  # fmt: skip
def test_what_cannot_be_a_job_is_one_line(text: str, line: str) -> None:
    """A text that is no TOML, or has no table of tools, is refused as the reader of jobs refuses it."""
    with pytest.raises(InputError) as caught:
        set_tools(text, bit="6 mm", name="rail.toml")
    assert caught.value.lines == (line,)


def rewritten(_: str, tools: dict[str, str], name: str) -> str:
    return 'title = "Rail"\n[tools]\nbit = "6 mm"\n'


@pytest.mark.parametrize("broken", [rewritten, lambda *_: "[[["])
def test_a_rewriting_that_says_something_else_is_refused(monkeypatch: pytest.MonkeyPatch, broken: Any) -> None:
    """What the library gives back is read again; where more than the tools differs, the person is asked to do it."""
    monkeypatch.setattr("jigtemplates.parameters.edit._rewritten", broken)
    with pytest.raises(InputError) as caught:
        set_tools(JOB, bit="6 mm")
    assert caught.value.lines == (
        "job: tools: cannot be rewritten as it stands (change bit and bushing there by hand)",
    )


def test_a_fault_of_the_library_is_the_same_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """A library that fails on the text is a line and no traceback."""

    def fails(_: str) -> None:
        raise AttributeError("of its own")

    monkeypatch.setattr("tomlkit.parse", fails)
    with pytest.raises(InputError, match=r"cannot be rewritten as it stands"):
        set_tools(JOB, bit="6 mm")


LINES = st.sampled_from([
    "", "# free", '[plate]', "[tools]", "[tools.bit]", "[tools.bushing]", "[cuts.a]", "bit = 3", 'bit = "3 mm" # b',
    "bit.diameter = 3 # d", "bushing = { diameter = 3 } # e", "x = [ # in\n 3, # more\n]", "y = '# no'",
    "tools.bit = 4", "tools = { bit = 3 }", "[tools.bit.nut]", "z = 1979-05-27", '"a # key" = 3 # c',
])  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    lines=st.lists(LINES, min_size=1, max_size=9),
    tools=st.sampled_from([{"bit": "6 mm"}, {"bit": "a", "bushing": "b"}]),
)
@example(lines=["[tools.bit]", "# free", "[tools.bit.nut]", "x = [ # in\n 3, # more\n]"], tools={"bit": "a"})
def test_it_says_the_same_but_for_the_tools_or_is_refused(lines: list[str], tools: dict[str, str]) -> None:
    """Law: the new text reads as the old with other tools, and has every comment; or there is an InputError."""
    text = "\n".join(lines) + "\n"
    try:
        old = tomllib.loads(text)
        made = set_tools(text, **tools)
    except (tomllib.TOMLDecodeError, InputError):
        return
    assert tomllib.loads(made) == {**old, "tools": {**old.get("tools", {}), **tools}}
    for comment in ("# free", "# b", "# d", "# e", "# in", "# more", "# c"):
        assert made.count(comment) == text.count(comment)


ENTRY = """\
# tools
[bits.a]
diameter = "3/8 in" # mine
[bits.b.diameter]
# by caliper
nominal = "1/2 in" # sold
measured = "12.6 mm"

# below
[bushings]
c = { diameter = 12, bore = 9 } # turned
"""


@pytest.mark.parametrize(
    ("keys", "old", "new"),
    [
        (("bits", "a", "diameter"), 'diameter = "3/8 in" # mine', 'diameter = { x = [1, { y = "z" }] } # mine'),
        (("bushings", "c", "diameter"), "{ diameter = 12,", '{ diameter = { x = [1, { y = "z" }] },'),
        (("bushings", "c", "stem"), "bore = 9 }", 'bore = 9 , stem = { x = [1, { y = "z" }] }}'),
    ],
)
def test_one_value_is_set(keys: tuple[str, ...], old: str, new: str) -> None:
    """Only the value changes, or the key is added; every comment stays where it is."""
    made = set_value(ENTRY, keys, {"x": [1, {"y": "z"}]}, name="f")
    assert made.replace(" ", "") == ENTRY.replace(old, new).replace(" ", "")
    assert set_value("\ufeff" + ENTRY, keys, {"x": [1, {"y": "z"}]}, name="f") == "\ufeff" + made


def test_table_gives_way_to_a_value() -> None:
    """Of a table of its own the comments stay, below the new key."""
    made = set_value(ENTRY, ("bits", "b", "diameter"), "12 mm", name="f")
    data = tomllib.loads(made)
    assert data["bits"]["b"] == {"diameter": "12 mm"}
    assert [line for line in ENTRY.splitlines() if line.startswith("#")] == [
        line for line in made.splitlines() if line in ("# tools", "# by caliper", "# below")
    ]
    assert "# sold" in made


@pytest.mark.parametrize("written", [None, "a = 1\n[bits.a]\ndiameter = 2\n"])
def test_value_that_cannot_be_set(monkeypatch: pytest.MonkeyPatch, written: str | None) -> None:
    """A file that tomlkit stumbles over, or would change more in, is left to the person."""

    def stumbles(*_: object) -> str:
        if written is None:
            raise KeyError("of tomlkit's own")
        return written

    monkeypatch.setattr("jigtemplates.parameters.edit._with_value", stumbles)
    with pytest.raises(InputError) as caught:
        set_value(ENTRY, ("bits", "a", "diameter"), 2, name="f")
    assert caught.value.lines == ("f: bits.a.diameter: cannot be rewritten as it stands (change it there by hand)",)
