"""A TOML file that cannot be read has one line that says why."""

import os
import re
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.parameters.toml_text import parse_toml, read_toml

QUOTES = '(text stands in quotes: "3/8 in")'
UNQUOTED = 'or a value in it lacks its quotes (text: "3/8 in")'
CONTROL = "there is a control character (retype the line)"
BACKSLASH = "a backslash stands in the text (write it twice, or use / )"
KEY_NAME = "the name of a key or table is missing or needs quotes"
STATEMENT = "a line is a [table], or a key, = and its value, such as width = 10"


@pytest.mark.parametrize(
    ("text", "line", "sentence"),
    [
        ("a = 1\nwidth = 3 of them", 2, f"something follows the value {QUOTES}"),
        ("a = 1\nb =", 2, f"the value cannot be read {QUOTES}"),
        ("a = {b = 3 x}", 1, f"a {{ }} table is not closed, {UNQUOTED}"),
        ("a = [3 x]", 1, f"a [ ] list is not closed, {UNQUOTED}"),
        ("a = [1\n", 1, f"a [ ] list is not closed, {UNQUOTED}"),
        ("width 10", 1, "a key is followed by = and its value, such as width = 10"),
        ("= 3", 1, STATEMENT),
        ("a = 1\na = 2\n", 2, "a stands here a second time (the first is in line 1; keep one)"),
        (
            "[cut]\nwidth = 8\ndepth = 3\n\nwidth = 9",
            5,
            "cut.width stands here a second time (the first is in line 2; keep one)",
        ),
        ("a = {b = 1, b = 2}", 1, "b stands twice in the { } (keep one)"),
        ("[a]\n[a]\nb = 1", 2, "a stands here a second time (the first is in line 1; keep one)"),
        ("a.b = 1\n[a]\nc = 2", 2, "the table stands here a second time (keep one)"),
        ("a = [1]\n[[a]]\n", 2, "the table is already given in { } (add the key there)"),
        ("a = 'x", 1, "a text lacks its closing quotes"),
        ('a = """x', 1, "a text lacks its closing quotes"),
        ("a = 'x\n'", 1, CONTROL),
        ('a = "\x00"', 1, CONTROL),
        ("a = 1 # \x01", 1, CONTROL),
        ('a = "C:\\jigs"', 1, BACKSLASH),
        ('a = "\\u12"', 1, BACKSLASH),
        ("[]", 1, KEY_NAME),
        ("a.é = 1", 1, KEY_NAME),
        ("[[a]", 1, "the name of a table lacks its closing ]]"),
        ('a = "\\ud800"', 1, "not valid TOML: Escaped character is not a Unicode scalar value"),
        ("[a", 1, "the name of a table lacks its closing ]"),
    ],
)
def test_syntax(text: str, line: int, sentence: str) -> None:
    """Each way of writing TOML wrongly has its line, in words for people who do not know TOML."""
    with pytest.raises(InputError) as caught:
        parse_toml(text, "rail.toml")
    (found,) = caught.value.lines
    # the column is the standard reader's and may differ by one from version to version
    assert re.sub(r"^(rail\.toml:[0-9]+:) column [0-9]+:", r"\1", found) == f"rail.toml:{line}: {sentence}"


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("width = 10,5", "10,5 cannot be read (write 10.5)"),
        ("width = 10,5  # of the cut", "10,5 cannot be read (write 10.5)"),
        ("width = 1,000", "1,000 cannot be read (a comma is not read; write 1000 or 1.000)"),
        ("width = 10,5 mm", '10,5 mm cannot be read (write "10.5 mm" in quotes)'),
        ("width = 10 mm", '10 mm cannot be read (write "10 mm" in quotes)'),
        ("width = 10mm\r", '10mm cannot be read (write "10 mm" in quotes)'),
        ("width = -1.5 in", '-1.5 in cannot be read (write "-1.5 in" in quotes)'),
        ("width = 1 cm", '1 cm cannot be read (write "10 mm" in quotes)'),
        ("width = 3/8", '3/8 cannot be read (write "3/8 in" in quotes)'),
        ("width = 1-1/2", '1-1/2 cannot be read (write "1-1/2 in" in quotes)'),
        ("width = 3 / 8 in", '3 / 8 in cannot be read (write "3/8 in" in quotes)'),
        ('width = 3/8"', '3/8" cannot be read (write "3/8 in" in quotes)'),
        ('width = 10 mm"', '10 mm" cannot be read (write "10 mm" in quotes)'),
        ("bushing = { diameter = 5/8 in, bore = 13 }", '5/8 in cannot be read (write "5/8 in" in quotes)'),
        ("bushing = { bore = 13,5, stem = 4 }", "13,5 cannot be read (write 13.5)"),
        ("points = [[10, 20 mm]]", '20 mm cannot be read (write "20 mm" in quotes)'),
        ("width = .375", ".375 cannot be read (write 0.375)"),
        ("width = -.5  # in", "-.5 cannot be read (write -0.5)"),
        ("width = 5.", "5. cannot be read (write 5)"),
        ("width = 007", "007 cannot be read (write 7)"),
        ("points = [[.5, 20]]", ".5 cannot be read (write 0.5)"),
        ("material = MDF", 'MDF cannot be read (write "mdf" in quotes)'),
        ("shape = slot  # round ends", 'slot cannot be read (write "slot" in quotes)'),
        ("title = Gate rail", 'Gate rail cannot be read (write "Gate rail" in quotes)'),
        ("plate = { width = 140, material = Birch Ply }", 'Birch Ply cannot be read (write "birch ply" in quotes)'),
        ("for = [Laser, cnc]", 'Laser cannot be read (write "laser" in quotes)'),
        ("rebate = True", "True cannot be read (write true)"),
        ("tenon = { kerf = 3, turned = no }", "no cannot be read (write false)"),
        ("shape = “slot”", 'curly quotes cannot be read (write straight ones: "slot")'),
        ("title = “Anna’s rail”", 'curly quotes cannot be read (write straight ones: "Anna’s rail")'),
        ('bit = "3/8 in”', 'curly quotes cannot be read (write straight ones: "3/8 in")'),
        ("bit = ‘3/8 in’", 'curly quotes cannot be read (write straight ones: "3/8 in")'),
        ("width = 3/8”", '3/8" cannot be read (write "3/8 in" in quotes)'),
        ('bit = "3/8 in', 'the text is not closed: a " is missing on this line'),
        ('bit = "3/8 in  # my "best" one', 'the text is not closed: a " is missing on this line'),
        ('title = My box"', 'the text is not closed: a " is missing on this line'),
    ],
)
def test_slips_are_recognised(line: str, sentence: str) -> None:
    """What people write that is no TOML is met with what to write, whatever stands above and below."""
    with pytest.raises(InputError) as caught:
        parse_toml(f"a = 1\n{line}\nb = 2\n", "rail.toml")
    assert caught.value.lines == (f"rail.toml:2: {sentence}",)


@pytest.mark.parametrize(
    "line",
    [
        "width = 5 = 6",
        "width = 5 apples",
        'a = "3 mm" b',
        "a = [1 2]",
        "a = 3 x 4 mm",
        "a = true 1",
        "a = 'x' true",
        "a = { b = true, c = nan, d = 1 2 }",
    ],
)
def test_other_slips_keep_the_readers_word(line: str) -> None:
    """What does not look like a length is not guessed at: the column and the general sentence stay."""
    with pytest.raises(InputError) as caught:
        parse_toml(line, "rail.toml")
    assert caught.value.lines[0].startswith("rail.toml:1: column ")


def test_a_very_long_line_is_not_searched() -> None:
    """What nobody types keeps the reader's word, and costs no time."""
    with pytest.raises(InputError) as caught:
        parse_toml("a = " + "b" * 900_000, "rail.toml")
    assert caught.value.lines == (f"rail.toml:1: column 5: the value cannot be read {QUOTES}",)


def test_column() -> None:
    """A fault inside a line is found by its column."""
    with pytest.raises(InputError) as caught:
        parse_toml("a = ~foo", "rail.toml")
    assert caught.value.lines == (f"rail.toml:1: column 5: the value cannot be read {QUOTES}",)


@pytest.mark.parametrize(
    ("source", "line"),
    [
        ("", "rail.toml: the file is empty"),
        (b" \n\t\n", "rail.toml: the file is empty"),
        (b"\xef\xbb\xbf", "rail.toml: the file is empty"),
        (b"a = 1\nb = '\xff'", "rail.toml:2: not UTF-8 text (save the file as UTF-8)"),
        ("a = 1".encode("utf-16"), "rail.toml:1: not UTF-8 text (save the file as UTF-8)"),
        ("a" * 1_000_001, "rail.toml: larger than 1000 kB, which is no file of this program"),
        ("a = " + "[" * 5000, "rail.toml: tables or lists are nested too deeply"),
        ("a = " + "{b=" * 5000, "rail.toml: tables or lists are nested too deeply"),
        (".".join("a" * 300_000) + " = 1", "rail.toml: tables or lists are nested too deeply"),
        ("x = {" + " . ".join(["'a'"] * 101) + " = 1}", "rail.toml: tables or lists are nested too deeply"),
        ("[" + ".".join("a" * 101) + "]", "rail.toml: tables or lists are nested too deeply"),
        ("a = [{b = 0x" + "f" * 5000 + "}]", "rail.toml: a number has far too many digits"),
        ("a = " + "9" * 5000, "rail.toml: a number has far too many digits"),
    ],
)
def test_unreadable(source: str | bytes, line: str) -> None:
    """Empty, foreign, huge and deeply nested files are refused in one line."""
    with pytest.raises(InputError) as caught:
        parse_toml(source, "rail.toml")
    assert caught.value.lines == (line,)


def test_a_byte_order_mark_is_no_fault() -> None:
    """Some editors put an invisible mark in front; the file is read all the same."""
    assert parse_toml(b"\xef\xbb\xbfa = 1\r\n", "rail.toml").data == {"a": 1}
    assert parse_toml("\ufeffa = 1", "rail.toml").data == {"a": 1}


def test_long_words_are_not_deep_keys() -> None:
    """A sentence with many points is text, and a long word costs no time."""
    assert parse_toml(f'a = "{"." * 500}"\nb = "{"x" * 400_000}"', "rail.toml").data["a"] == "." * 500


def test_file(tmp_path: Path) -> None:
    """A file is read with its lines, and its name starts each line about it."""
    path = tmp_path / "rail.toml"
    path.write_text('units = "mm"\n[cut]\nwidth = 10\n', encoding="utf-8")
    text = read_toml(path)
    assert text.data == {"units": "mm", "cut": {"width": 10}}
    assert text.locate(("cut", "width")) == 3
    path.write_text("a = ~b", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_toml(path)
    assert caught.value.lines[0].startswith(f"{path}:1: column 5: ")


def test_missing_file(tmp_path: Path) -> None:
    """A file that is not there has its line."""
    with pytest.raises(InputError) as caught:
        read_toml(tmp_path / "rail.toml")
    assert caught.value.lines == (f"{tmp_path / 'rail.toml'}: there is no such file",)


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        ("rial.toml", 'rial.toml: there is no such file (did you mean "rail.toml"?)'),
        ("rail", 'rail: there is no such file or folder (did you mean "rail.toml"?)'),
        ("jobz", 'jobz: there is no such file or folder (did you mean "jobs"?)'),
        ("jobs/Lid.tml", 'jobs/Lid.tml: there is no such file (did you mean "jobs/lid.toml"?)'),
        ("lid.toml", 'lid.toml: there is no such file (did you mean "jobs/lid.toml"?)'),
        ("box.toml", "box.toml: there is no such file"),  # in two folders: neither is named
        ("nowhere", "nowhere: there is no such file or folder"),
        ("none/rail.toml", "none/rail.toml: there is no such file (the folder none is not there)"),
    ],
)
def test_a_near_name_is_suggested(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, asked: str, line: str) -> None:
    """What is missing, file or folder, and the nearest folder or job in the same place."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "jobs").mkdir()
    (tmp_path / "older").mkdir()
    for name in ("rail.toml", "rial.txt", "jobs/lid.toml", "jobs/box.toml", "older/box.toml"):
        (tmp_path / name).touch()
    with pytest.raises(InputError) as caught:
        read_toml(Path(asked))
    assert caught.value.lines == (line,)


def test_a_folder_that_cannot_be_listed_suggests_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A refusal to list the folder (feigned: the tests may run as root) is no second fault."""

    def refuse(_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("os.scandir", refuse)
    with pytest.raises(InputError) as caught:
        read_toml(tmp_path / "rail.toml")
    assert caught.value.lines == (f"{tmp_path / 'rail.toml'}: there is no such file",)


def test_folder(tmp_path: Path) -> None:
    """A folder is not a file."""
    with pytest.raises(InputError) as caught:
        read_toml(tmp_path)
    assert caught.value.lines == (f"{tmp_path}: this is a folder (give the name of a file in it)",)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs a named pipe")
def test_no_ordinary_file(tmp_path: Path) -> None:
    """A pipe is refused instead of being waited for."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(InputError) as caught:
        read_toml(tmp_path / "pipe")
    assert caught.value.lines == (f"{tmp_path / 'pipe'}: this is not an ordinary file",)


def test_names_no_system_takes() -> None:
    """A name with a zero byte, or far too long, is refused without echoing it raw."""
    with pytest.raises(InputError) as caught:
        read_toml(Path("a\x00b"))
    assert caught.value.lines == ("a\\x00b: cannot be read (the name is not valid)",)
    with pytest.raises(InputError, match=r": cannot be read \(.+\)$"):
        read_toml(Path("x" * 5000))


@pytest.mark.skipif(sys.platform == "win32", reason="rights work otherwise there")
def test_unreadable_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that may not be read says so (the refusal is feigned: the tests may run as root)."""
    path = tmp_path / "rail.toml"
    path.write_text("a = 1")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(InputError) as caught:
        read_toml(path)
    assert caught.value.lines == (f"{path}: cannot be read (Permission denied)",)


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.text(max_size=80), st.binary(max_size=80), st.text("ab.=[]{}\"'#\n\\ 1,-", max_size=40)))
def test_anything_is_read_or_refused_in_one_line(source: str | bytes) -> None:
    """No text or bytes whatever raise anything but an InputError of one printable line."""
    lines: tuple[str, ...] = ("read",)
    try:
        parse_toml(source, "rail.toml")
    except InputError as error:
        lines = error.lines
    assert len(lines) == 1
    assert lines[0].isprintable()
