"""A new tool in a person's file: what is there stays, and nothing faulty gets in."""

import os
import tomllib
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.lengths import Measured
from jigtemplates.parameters.entries import Bushing, RoundBase, Router
from jigtemplates.parameters.tools_file import TOOLS_FILE, add_entry, as_typed, tools_path
from jigtemplates.parameters.typed_pairs import read_pairs, table_of, unit_of
from jigtemplates.profile_files import entries_of, read_files
from jigtemplates.profiles import profiles_for

OLD = """\
# What hangs over the bench.   Trailing spaces stay:\x20\x20
units = "mm"  # all of them

[bits."old 8"]   # bought second-hand
diameter = 7.98  # measured
shank    = 8

# --- collars ---
[bushings]
"my 12" = { diameter = 11.97, bore = 10 }  # brass
"""

START = """\
# My own tools. Measure where you can: diameter = { nominal = "1/2 in", measured = "12.68 mm" }
# All of them: jigtemplates tools        Another one: jigtemplates tools add --help

units = "mm"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Somebody's tools file."""
    path = tmp_path / "tools.toml"
    path.write_bytes(OLD.encode())
    return path


def lines(path: Path, kind: str = "bits", name: str = "mine", **values: str) -> tuple[str, ...]:
    """The lines with which an entry is refused, without the folder of the file."""
    with pytest.raises(InputError) as caught:
        add_entry(path, kind, name, {key.replace("__", "."): value for key, value in values.items()})
    return tuple(line.replace(str(path.parent) + os.sep, "") for line in caught.value.lines)


def test_a_new_file_is_begun(tmp_path: Path) -> None:
    """A file that is not there gets a few words, a unit and the entry; it is not written yet."""
    path = tmp_path / "new" / "tools.toml"
    text = add_entry(path, "bits", "my 3/8", {"diameter": "3/8 in", "shank": "1/4 in"})
    assert (
        text
        == START.replace("12.68 mm", "0.499 in").replace('"mm"', '"in"')
        + '\n[bits."my 3/8"]\ndiameter = "3/8 in"\nshank = "1/4 in"\n'
    )
    assert not path.parent.exists()


def test_an_empty_file_is_begun_too(tmp_path: Path) -> None:
    """A file of no bytes is as good as none."""
    (tmp_path / "tools.toml").touch()
    assert add_entry(tmp_path / "tools.toml", "bits", "b", {"diameter": "3 mm"}).startswith(START)


def test_what_is_there_stays_byte_for_byte(file: Path) -> None:
    """The new text begins with all of the old, comments, spaces and order; the entry stands below it."""
    assert add_entry(file, "bits", "new", {"diameter": "9.51 mm", "plunging": "true"}) == (
        OLD + '\n[bits.new]\ndiameter = "9.51 mm"\nplunging = true\n'
    )
    assert file.read_bytes() == OLD.encode()


def test_one_after_another(file: Path) -> None:
    """Two entries, the second into the first one's text: all three kinds of thing read back as they were typed."""
    file.write_text(
        add_entry(file, "bushings", "brass", {"diameter.nominal": "1/2 in", "diameter.measured": "12.68 mm"})
    )
    file.write_text(
        add_entry(
            file, "routers", "mine", {"base.shape": "round", "base.diameter": "150 mm", "collets": "8 mm, 1/4 in"}
        )
    )
    profiles = profiles_for(tools=file)
    brass, router = profiles.find("bushings", "brass").entry, profiles.find("routers", "mine").entry
    assert isinstance(brass, Bushing)
    assert isinstance(brass.diameter, Measured)
    assert (brass.diameter.mm, brass.diameter.nominal.text) == (12.68, "1/2 in")
    assert isinstance(router, Router)
    assert isinstance(router.base, RoundBase)
    assert [collet.text for collet in router.collets] == ["8 mm", "1/4 in"]
    assert profiles.find("bushings", "my 12").entry.diameter.text == "11.97 mm"
    assert file.read_text().startswith(OLD)


def test_parts_of_a_key_stand_in_braces(file: Path) -> None:
    """Keys with a point become one table in { }, in the order they were typed."""
    text = add_entry(file, "bushings", "b", {"diameter": "17 mm", "nut.diameter": "30 mm", "nut.height": "6 mm"})
    assert text.endswith('\n[bushings.b]\ndiameter = "17 mm"\nnut = { diameter = "30 mm", height = "6 mm" }\n')


def test_a_value_may_be_written_as_toml(file: Path) -> None:
    """Text that begins with [ or { is read as a list or a table."""
    holder = {"width": "100 mm", "height": "190 mm", "play": "0.3 mm", "screws.pattern": "points", "screws.size": "8"}
    text = add_entry(
        file,
        "holders",
        "h",
        {
            **holder,
            "screws.points": "[['10 mm', '20 mm'], ['1 in', '5 mm']]",
            "window": "{ width = '50 mm', height = '4 in' }",
        },
    )
    assert tomllib.loads(text)["holders"]["h"] == {
        "width": "100 mm", "height": "190 mm", "play": "0.3 mm", "window": {"width": "50 mm", "height": "4 in"},
        "screws": {"pattern": "points", "size": "8", "points": [["10 mm", "20 mm"], ["1 in", "5 mm"]]},
    }  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "held"),
    [("9.5", 9.5), ("9", 9), ("-1", -1), (".5", ".5"), ("007", "007"), ("3/8 in", "3/8 in"), ("9" * 30, "9" * 30)],
)
def test_numbers_are_written_as_numbers(typed: str, held: object) -> None:
    """A number of TOML's is written bare, anything else in quotes, as it was typed."""
    assert table_of("bits", {"diameter": typed}, "tools add") == {"diameter": held}


@pytest.mark.parametrize("note", ["12", "true", "[old", "½ × ø"])
def test_a_note_is_text_whatever_it_looks_like(file: Path, note: str) -> None:
    """A note that looks like a number, a yes or a list is a note."""
    text = add_entry(file, "bits", "b", {"diameter": "3 mm", "note": note})
    assert tomllib.loads(text)["bits"]["b"]["note"] == note


@pytest.mark.parametrize("units", ['units = "in"', 'units = "mm"', "# none"])
def test_a_length_without_its_unit_is_refused(tmp_path: Path, units: str) -> None:
    """Whatever the file says of its own numbers: one line names every such key, and both ways to write them."""
    path = tmp_path / "t.toml"
    path.write_text(f"{units}\n")
    assert lines(path, kind="bushings", diameter="1/2 in", bore="0.406", stem="0.219") == (
        'tools add: bore=0.406, stem=0.219: lengths need their unit (write bore="0.406 in" stem="0.219 in", or '
        'bore="0.406 mm" stem="0.219 mm")',
    )
    assert lines(path, diameter="9.5") == (
        'tools add: diameter=9.5: a length needs its unit (write diameter="9.5 in", or diameter="9.5 mm")',
    )


def test_a_fraction_is_of_an_inch(file: Path) -> None:
    """No millimetres are offered for it, whatever the others get; other faults have lines of their own."""
    assert lines(file, diameter="3/8") == (
        'tools add: diameter=3/8: a length needs its unit (write diameter="3/8 in")',
    )
    assert lines(file, diameter="3/8", shank="8", shanc="3") == (
        'tools add: diameter=3/8, shank=8: lengths need their unit (write diameter="3/8 in" shank="8 in", or '
        'diameter="3/8 in" shank="8 mm")',
        'tools add: bits.mine: unknown key "shanc" (did you mean "shank"?)',
    )


def test_numbers_in_a_list_or_table_need_their_unit_too(file: Path) -> None:
    """Each is named with its place in what was typed, since that is not one KEY=VALUE."""
    values = {"base.shape": "round", "base.diameter": "150", "collets": "8, 1/4 in"}
    with pytest.raises(InputError) as caught:
        add_entry(file, "routers", "mine", values)
    assert caught.value.lines == (
        'tools add: base.diameter=150: a length needs its unit (write base.diameter="150 in", or '
        'base.diameter="150 mm")',
        "tools add: routers.mine.collets[0]: 8 is not a length (the unit is missing; write 8 mm or 8 in)",
    )
    assert lines(file, kind="bushings", diameter="17 mm", nut="{ diameter = 30, height = '5 mm' }") == (
        "tools add: bushings.mine.nut.diameter: 30 is not a length (the unit is missing; write 30 mm or 30 in)",
    )


def test_a_new_file_has_the_units_of_what_was_typed_first(tmp_path: Path) -> None:
    """An inch shop begins a file in inches; a note is no length; `units` decides where it is given."""
    path = tmp_path / "t.toml"
    inch, metric = (
        {"note": "8 mm shank", "kind": "straight", "diameter": "3/8 in", "shank": "8 mm"},
        {"diameter": "8 mm"},
    )
    assert 'units = "in"\n\n[bits.b]' in add_entry(path, "bits", "b", inch)
    assert 'measured = "0.499 in" }' in add_entry(path, "bits", "b", inch)
    assert 'units = "mm"\n\n[bits.b]' in add_entry(path, "bits", "b", metric)
    assert 'units = "in"\n\n[bits.b]' in add_entry(path, "bits", "b", metric, "in")
    assert unit_of(["straight", '0.406"']) == "in"
    assert unit_of(["straight", "12 inch"]) is None


def test_units_of_a_file_that_is_there_stay(file: Path) -> None:
    """`units` is for a file that is begun: another one's are never changed, the same may be said again."""
    with pytest.raises(InputError) as caught:
        add_entry(file, "bits", "b", {"diameter": "3 mm"}, "in")
    assert str(caught.value) == f"--units: {file} is there already and stays as it is (leave --units out)"
    assert add_entry(file, "bits", "b", {"diameter": "3/8 in"}, "mm") == OLD + '\n[bits.b]\ndiameter = "3/8 in"\n'


@pytest.mark.parametrize(
    ("old", "added"),
    [
        ("# only words", '# only words\n\n[bits.b]\ndiameter = "3 mm"\n'),
        ('bits.a.diameter = "2 mm" # a\n', 'bits.a.diameter = "2 mm" # a\n\n[bits.b]\ndiameter = "3 mm"\n'),
        (
            '\ufeff[bits.a] # a\r\ndiameter = "2 mm"\r\n',
            '\ufeff[bits.a] # a\r\ndiameter = "2 mm"\r\n\r\n[bits.b]\r\ndiameter = "3 mm"\r\n',
        ),
        (
            'bits = { a = { diameter = "2 mm" } } # a\n[bushings]\n',
            'bits = { a = { diameter = "2 mm" }, b = { diameter = "3 mm" }} # a\n[bushings]\n',
        ),
    ],
)
def test_however_the_file_is_written(tmp_path: Path, old: str, added: str) -> None:
    """No last line end, a mark in front, line ends of Windows, or all bits in one { }: each is kept."""
    path = tmp_path / "t.toml"
    path.write_bytes(old.encode())
    assert add_entry(path, "bits", "b", {"diameter": "3 mm"}) == added


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ({}, ("tools add: bits.mine.diameter: is missing (diameter of the cutter, measured where possible)",)),
        ({"diameter": "9,5"}, ('tools add: bits.mine.diameter: "9,5" is not a length (write 9.5)',)),
        (
            {"diameter": "3 mm", "shanc": "3"},
            ('tools add: bits.mine: unknown key "shanc" (did you mean "shank"?)',),
        ),
        (
            {"diameter": "3 mm", "kind": "strait"},
            ('tools add: bits.mine.kind: "strait" is not known here (did you mean "straight"?)',),
        ),
        (
            {"diameter": "3 mm", "plunging": "yes"},
            ('tools add: bits.mine.plunging: "yes" does not fit here (write true or false, without quotes)',),
        ),
        (
            {"diameter": "3 mm", "diameter.nominal": "3 mm"},
            ("tools add: diameter.nominal: is given as a whole and by its parts (give one or the other)",),
        ),
        (
            {"diameter.nominal": "3 mm", "diameter": "3 mm"},
            ("tools add: diameter: is given as a whole and by its parts (give one or the other)",),
        ),
        (
            {"diameter": "{ nominal = 3", "shank": "[3\n4"},
            (
                'tools add: diameter: "{ nominal = 3" cannot be read (a list is [10, 20], a table { key = 10 })',
                'tools add: shank: "[3\\n4" cannot be read (a list is [10, 20], a table { key = 10 })',
            ),
        ),
        (
            {"diameter": "[3]\nx = 3"},
            ('tools add: diameter: "[3]\\nx = 3" cannot be read (a list is [10, 20], a table { key = 10 })',),
        ),
        ({"a.b.c.d": "3"}, ("tools add: a.b.c.d: no key of a tool has so many parts (at most 3)",)),
        (
            {"diameter.nominal": "3 mm", "shank": "0 mm"},
            ('tools add: bits.mine.shank: "0 mm" is not a size (write a length greater than 0)',),
        ),
        ({"diameter.nominal.x": "3"}, None),
    ],
)  # fmt: skip
def test_a_faulty_value_is_named(file: Path, values: Mapping[str, str], expected: tuple[str, ...] | None) -> None:
    """Each fault is one line that begins with the command, since the entry stands in no file yet."""
    with pytest.raises(InputError) as caught:
        add_entry(file, "bits", "mine", values)
    assert expected is None or caught.value.lines == expected
    assert all(line.startswith("tools add: ") for line in caught.value.lines)
    assert file.read_bytes() == OLD.encode()


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("3/8 in", 'tools add: bits.3/8 in: a job takes this name for a bare diameter (call it "my 3/8 in", say)'),
        (" a", "tools add: bits. a: the name begins or ends with a space (leave it out)"),
        ("", 'tools add: the name is empty (such as: tools add bits "my own" ...)'),
        ("a\x07", 'tools add: bits.a\\x07.name: "a\\x07" has control characters (write plain text)'),
    ],
)
def test_a_name_that_will_not_do(file: Path, name: str, line: str) -> None:
    """A name that a job could not use is refused with what to write instead."""
    assert lines(file, name=name, diameter="3 mm") == (line,)


def test_an_unknown_kind(file: Path) -> None:
    """Only tools are added; a kind that is none gets the nearest that is one."""
    assert lines(file, kind="bit") == ('tools add: "bit" is not a kind of tool (did you mean "bits"?)',)
    assert lines(file, kind="papers") == (
        'tools add: "papers" is not a kind of tool (known: "bits", "bushings", "routers", "holders")',
    )


def test_an_entry_that_is_there_is_refused(file: Path) -> None:
    """The line says where it stands; nothing of a person's is replaced."""
    assert lines(file, name="old 8", diameter="8 mm") == (
        "tools.toml:4: bits.old 8: is there already (use another name, or change it: jigtemplates tools change "
        'bits "old 8" KEY=VALUE --file tools.toml)',
    )
    assert lines(file, kind="bushings", name="my 12", diameter="8 mm") == (
        "tools.toml:10: bushings.my 12: is there already (use another name, or change it: jigtemplates tools change "
        'bushings "my 12" KEY=VALUE --file tools.toml)',
    )
    assert '[bushings."old 8"]' in add_entry(file, "bushings", "old 8", {"diameter": "8 mm"})  # another kind


def test_words_as_they_are_typed() -> None:
    """Quotes only where a command line needs them, single ones round an inch mark."""
    assert [as_typed(word) for word in ("a.b/c-d:e", "my 8", 'my 3/8"', "$x", "")] == [
        "a.b/c-d:e", '"my 8"', "'my 3/8\"'", '"$x"', '""',
    ]  # fmt: skip


def test_an_entry_in_another_file_of_the_profiles(tmp_path: Path) -> None:
    """In a folder named profiles, where one name in two files is a fault, the other file is named."""
    (tmp_path / "profiles").mkdir()
    (tmp_path / "profiles" / "broken.toml").write_text("[[")
    (tmp_path / "profiles" / "more.toml").write_text('[bits.mine]\ndiameter = "3 mm"\n')
    path = tmp_path / "profiles" / "tools.toml"
    assert lines(path, diameter="3 mm") == (
        "more.toml:1: bits.mine: is there already (use another name, or change it: jigtemplates tools change bits mine "
        "KEY=VALUE --file more.toml)",
    )
    (tmp_path / "profiles").rename(tmp_path / "jobs")
    assert add_entry(tmp_path / "jobs" / "tools.toml", "bits", "mine", {"diameter": "3 mm"})


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('[bits.a]\ndiameter = "3,4 mm"\n', 'tools.toml:2: bits.a.diameter: "3,4 mm" is not a length (write 3.4 mm)'),
        (
            "[holders.h]\nheight = '3 mm'\nplay = '0 mm'\nwidth = 3\n",
            "tools.toml:4: holders.h.width: 3 is not a length (the unit is missing; ",
        ),
        ("bits = 3\n", 'tools.toml:1: bits: 3 does not fit here (write a table for each entry, [bits."NAME"])'),
        ("[bit.a]\n", 'tools.toml:1: unknown key "bit" (did you mean "bits"?)'),
        ("[bits\n", "tools.toml:1: column 6: the name of a table lacks its closing ]"),
        ("  \n", "tools.toml: the file is empty"),
    ],
)
def test_a_faulty_file_is_not_added_to(tmp_path: Path, text: str, line: str) -> None:
    """A file with faults of its own, of any kind, is named with file, line and entry."""
    path = tmp_path / "tools.toml"
    path.write_text(text)
    assert lines(path, diameter="3 mm")[0].startswith(line)


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """A folder in the file's place is one line."""
    assert lines(tmp_path / ".", diameter="3 mm")[0].endswith("this is a folder (give the name of a file in it)")


def test_a_file_that_nothing_can_be_added_to(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the new text would not say what it should, the person is asked to write it."""
    monkeypatch.setattr("jigtemplates.parameters.tools_file._says", lambda text, data: False)
    assert lines(file, diameter="3 mm") == (
        "tools.toml: bits: cannot be added to as it stands (write the entry by hand)",
    )


def test_a_library_that_fails_is_not_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of the rewriting library is the same line."""
    path = tmp_path / "tools.toml"
    path.write_text('bits = { a = { diameter = "2 mm" } }\n')

    def fails(_: str) -> None:
        raise AttributeError("of its own")

    monkeypatch.setattr("tomlkit.parse", fails)
    assert lines(path, diameter="3 mm") == (
        "tools.toml: bits: cannot be added to as it stands (write the entry by hand)",
    )


def test_where_the_file_is(tmp_path: Path) -> None:
    """The default is beside the jobs of this folder; a folder stands for tools.toml in it; a name gets its ending."""
    (tmp_path / "mine").touch()
    assert tools_path() == TOOLS_FILE == Path("profiles/tools.toml")
    assert tools_path(tmp_path) == tmp_path / "tools.toml"
    assert tools_path(tmp_path / "mine") == tmp_path / "mine"
    assert tools_path(Path("drawer")) == Path("drawer.toml")
    assert tools_path(Path("drawer.TOML")) == Path("drawer.TOML")


def test_pairs() -> None:
    """KEY=VALUE is split at the first =, spaces beside it do not count, and a value may have more."""
    assert read_pairs(["diameter = 3/8 in", "note=a=b", "shank="], "tools add") == {
        "diameter": "3/8 in",
        "note": "a=b",
        "shank": "",
    }


def test_faulty_pairs_are_all_named() -> None:
    """What is no pair, and what is given twice, has one line each."""
    with pytest.raises(InputError) as caught:
        read_pairs(["diameter", "=3", "a..b=3", "shank=3", "shank=4"], "tools add")
    assert caught.value.lines == (
        'tools add: "diameter" is not KEY=VALUE (such as diameter="3/8 in")',
        'tools add: "=3" is not KEY=VALUE (such as diameter="3/8 in")',
        'tools add: "a..b=3" is not KEY=VALUE (such as diameter="3/8 in")',
        "tools add: shank: stands there twice (keep one)",
    )


@settings(max_examples=60, deadline=None)
@given(
    name=st.text(min_size=1, max_size=12),
    values=st.dictionaries(
        st.sampled_from(["diameter", "shank", "note", "kind", "nut.diameter", "x", "diameter.nominal", ""]),
        st.text(max_size=10) | st.sampled_from(["3 mm", "9.5", "straight", "[1]", "{a=1}", '"', "'''", "\\"]),
        max_size=4,
    ),
)
def test_never_anything_but_a_longer_file_or_lines(
    tmp_path_factory: pytest.TempPathFactory, name: str, values: dict[str, str]
) -> None:
    """Law: any name and values give a text that begins with the old one and reads back, or lines."""
    path = tmp_path_factory.mktemp("law") / "tools.toml"
    path.write_bytes(OLD.encode())
    try:
        text = add_entry(path, "bits", name, values)
    except InputError as error:
        text, said = "", error.lines
    else:
        said = ()
    assert all("\n" not in line for line in said)
    assert bool(text) != bool(said)
    if said:
        return
    assert text.startswith(OLD)
    path.write_bytes(text.encode())
    assert [found.name for found in entries_of(read_files([path]), "bits")] == ["old 8", name]
