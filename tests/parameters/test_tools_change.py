"""Some keys of a tool changed or taken out: everything else in the file stays byte for byte."""

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.parameters.tools_change import change_entry

OLD = """\
# What hangs over the bench.   Trailing spaces stay:\x20\x20
units = "mm"  # all of them

[bits."old 8"]   # bought second-hand
diameter = 7.98  # caliper
shank    = 8

# --- collars ---
[bushings]
"my 12" = { diameter = 11.97, bore = 10 }  # brass
spare.diameter = 17
[bushings.brass]
diameter = { nominal = "1/2 in", measured = "12.68 mm", measured_on = 2026-05-01 }
bore = 10.3
[bushings.brass.nut]  # found in a box
diameter = 30
height = 5
# the end
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Somebody's tools file."""
    path = tmp_path / "tools.toml"
    path.write_bytes(OLD.encode())
    return path


def refused(path: Path, kind: str, name: str, values: Mapping[str, str], *taken_out: str) -> tuple[str, ...]:
    """The lines with which a change is refused, without the folder of the file."""
    with pytest.raises(InputError) as caught:
        change_entry(path, kind, name, values, taken_out)
    return tuple(line.replace(f"{path.parent}/", "") for line in caught.value.lines)


@pytest.mark.parametrize(
    ("kind", "name", "values", "old", "new"),
    [
        ("bits", "old 8", {"shank": "1/4 in"}, "shank    = 8\n", 'shank    = "1/4 in"\n'),
        ("bits", "old 8", {"diameter": "8 mm"}, "diameter = 7.98  #", 'diameter = "8 mm"  #'),
        ("bits", "old 8", {"plunging": "true"}, "shank    = 8\n", "shank    = 8\nplunging = true\n"),
        (
            "bits", "old 8", {"diameter.measured": "7.95 mm"},
            "diameter = 7.98  #", 'diameter = { nominal = 7.98, measured = "7.95 mm" }  #',
        ),
        ("bushings", "my 12", {"bore": "10.2 mm"}, "bore = 10 }", 'bore = "10.2 mm" }'),
        ("bushings", "my 12", {"stem": "5 mm"}, "bore = 10 }", 'bore = 10, stem = "5 mm" }'),
        (
            "bushings", "spare", {"stem": "5 mm"},
            "spare.diameter = 17\n", 'spare.diameter = 17\nspare.stem = "5 mm"\n',
        ),
        ("bushings", "brass", {"stem": "5 mm"}, "bore = 10.3\n", 'bore = 10.3\nstem = "5 mm"\n'),
        ("bushings", "brass", {"nut.height": "6 mm"}, "height = 5\n", 'height = "6 mm"\n'),
        ("bushings", "brass", {"diameter.within": "0.01 mm"}, "-05-01 }", '-05-01, within = "0.01 mm" }'),
        (
            "bushings", "spare", {"nut.diameter": "1 in", "nut.height": "5 mm"},
            "spare.diameter = 17\n", 'spare.diameter = 17\nspare.nut = { diameter = "1 in", height = "5 mm" }\n',
        ),
    ],
)  # fmt: skip
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_the_key_alone_changes(
    file: Path, kind: str, name: str, values: dict[str, str], old: str, new: str, ends: str
) -> None:
    """However the entry is written, and with the line ends of either system; nothing is written yet."""
    before = OLD.replace("\n", ends)
    file.write_bytes(before.encode())
    assert before.count(old.replace("\n", ends)) == 1
    assert change_entry(file, kind, name, values) == before.replace(old.replace("\n", ends), new.replace("\n", ends))
    assert file.read_bytes() == before.encode()


@pytest.mark.parametrize(
    ("kind", "name", "key", "gone", "left"),
    [
        ("bits", "old 8", "shank", "shank    = 8\n", ""),
        ("bushings", "my 12", "bore", "diameter = 11.97, bore = 10 }", "diameter = 11.97 }"),
        ("bushings", "brass", "nut", "[bushings.brass.nut]  # found in a box\ndiameter = 30\nheight = 5\n", ""),
        ("bushings", "brass", "diameter.measured_on", ", measured_on = 2026-05-01 }", " }"),
    ],
)
def test_a_key_is_taken_out(file: Path, kind: str, name: str, key: str, gone: str, left: str) -> None:
    """Its own lines, or its part of a { } table, go."""
    assert OLD.count(gone) == 1
    assert change_entry(file, kind, name, {}, [key]) == OLD.replace(gone, left)


def test_several_at_once(file: Path) -> None:
    """A new key, another size and one taken out in one call, behind the invisible mark of Windows too."""
    file.write_bytes(b"\xef\xbb\xbf" + OLD.encode())
    made = change_entry(file, "bits", "old 8", {"kind": "straight", "diameter": "8 mm"}, ["shank"])
    assert made == "\ufeff" + OLD.replace(
        "diameter = 7.98  # caliper\nshank    = 8\n", 'diameter = "8 mm"  # caliper\nkind = "straight"\n'
    )


def test_what_is_so_already_stays_as_it_is_written(file: Path) -> None:
    """The same text, quotes and spaces included."""
    assert change_entry(file, "bushings", "brass", {"diameter.measured": "12.68 mm"}) == OLD


def test_a_length_without_its_unit_is_refused(file: Path) -> None:
    """As for a new tool, whatever bare numbers the entry has already, and beside other faults."""
    assert refused(file, "bits", "old 8", {"shank": "6", "cutting_length": "1.25", "kind": "strait"}) == (
        'tools change: shank=6, cutting_length=1.25: lengths need their unit (write shank="6 in" '
        'cutting_length="1.25 in", or shank="6 mm" cutting_length="1.25 mm")',
        'tools change: bits.old 8.kind: "strait" is not known here (did you mean "straight"?)',
    )


@pytest.mark.parametrize(
    ("kind", "name", "values", "taken_out", "expected"),
    [
        ("bit", "old 8", {"shank": "3 mm"}, (), 'tools change: "bit" is not a kind of tool (did you mean "bits"?)'),
        (
            "bits", "old 9", {"shank": "3 mm"}, (),
            'tools.toml: bits: "old 9" is not in this file (did you mean "old 8"?)',
        ),
        (
            "bits", "old 8", {}, (),
            'tools change: nothing to change is given (such as shank="1/4 in", or --without shank)',
        ),
        (
            "bits", "old 8", {"shank": "3 mm"}, ("shank",),
            "tools change: shank: is given and taken out (one or the other)",
        ),
        (
            "bits", "old 8", {}, ("shanc",),
            'tools change: --without shanc: is not in the entry (did you mean "shank"?)',
        ),
        (
            "bits", "old 8", {}, ("shank.nominal",),
            'tools change: --without shank.nominal: is not in the entry (known: "diameter", "shank")',
        ),
        (
            "bits", "old 8", {"diameter": "3,4 mm"}, (),
            'tools change: bits.old 8.diameter: "3,4 mm" is not a length (write 3.4 mm)',
        ),
        (
            "bits", "old 8", {}, ("diameter",),
            "tools change: bits.old 8.diameter: is missing (diameter of the cutter, measured where possible)",
        ),
        (
            "bits", "old 8", {"kind": "straight", "kind.x": "3 mm"}, (),
            "tools change: kind.x: is given as a whole and by its parts (give one or the other)",
        ),
        (
            "bushings", "my 12", {"bore.x": "3 mm"}, (),
            'tools change: bushings.my 12.bore: unknown key "x" (known: "nominal", "measured", "within", '
            '"measured_on", "was")',
        ),
        (
            "bits", "old 8", {"shank": "[3"}, (),
            'tools change: shank: "[3" cannot be read (a list is [10, 20], a table { key = 10 })',
        ),
        (
            "bushings", "my 12", {"diameter": "8 mm", "diameter.measured": "8 mm"}, (),
            "tools change: diameter.measured: is given as a whole and by its parts (give one or the other)",
        ),
        (
            "bushings", "brass", {"diameter.measured": "12.6 mm"}, (),
            "tools change: diameter.measured: the day of the earlier one, 2026-05-01, stands beside it: give "
            "diameter.measured_on too, or --without diameter.measured_on (jigtemplates calibrate bushing enters both)",
        ),
    ],
)  # fmt: skip
def test_what_will_not_do_is_one_line(
    file: Path, kind: str, name: str, values: dict[str, str], taken_out: tuple[str, ...], expected: str
) -> None:
    """Each says what to write instead, and the file stays."""
    assert refused(file, kind, name, values, *taken_out) == (expected,)
    assert file.read_bytes() == OLD.encode()


def test_a_new_reading_with_its_day(file: Path) -> None:
    """The earlier day is replaced, or taken out, together with the reading."""
    reading = '{ nominal = "1/2 in", measured = "12.6 mm", measured_on = "2026-06-01" }'
    values = {"diameter.measured": "12.6 mm", "diameter.measured_on": "2026-06-01"}
    held = '{ nominal = "1/2 in", measured = "12.68 mm", measured_on = 2026-05-01 }'
    assert change_entry(file, "bushings", "brass", values) == OLD.replace(held, reading)
    undated = '{ nominal = "1/2 in", measured = "12.6 mm" }'
    made = change_entry(file, "bushings", "brass", {"diameter.measured": "12.6 mm"}, ["diameter.measured_on"])
    assert made == OLD.replace(held, undated)


def test_an_entry_in_another_file_of_the_profiles(tmp_path: Path) -> None:
    """The line names the option that leads there."""
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "tools.toml").write_text('[bits.a]\ndiameter = "3 mm"\n')
    (folder / "more.toml").write_text('[bits.b]\ndiameter = "3 mm"\n')
    assert refused(folder / "tools.toml", "bits", "b", {"shank": "3 mm"}) == (
        f'tools.toml: bits: "b" is not in this file (it is in another: add --file {folder}/more.toml)'.replace(
            f"{folder}/", ""
        ),
    )


def test_a_faulty_file_is_not_changed(file: Path) -> None:
    """A fault anywhere in the file has its line, and an entry that is no table too."""
    file.write_text(OLD + '[routers.r]\ntravel = "3,4 mm"\n', encoding="utf-8")
    assert refused(file, "bits", "old 8", {"shank": "3 mm"})[0].startswith("tools.toml:19: routers.r.base: is missing")
    file.write_text("[bits]\na = 3\n")
    assert refused(file, "bits", "a", {"diameter": "3 mm"}) == (
        "tools.toml:2: bits.a: 3 does not fit here (write a table of keys)",
    )


def test_where_the_writer_gives_up(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of the library that writes TOML leaves one line, and the file as it is."""

    def fails(_: str) -> None:
        raise AttributeError("of its own")

    monkeypatch.setattr("tomlkit.parse", fails)
    assert refused(file, "bushings", "brass", {"diameter.measured": "12.6 mm"}, "diameter.measured_on") == (
        "tools.toml: bushings.brass.diameter.measured_on: cannot be taken out as it stands (delete it by hand)",
    )
    assert refused(file, "bushings", "my 12", {"bore": "10.1 mm"}) == (
        "tools.toml: bushings.my 12: cannot be changed as it stands (edit it)",
    )


@settings(max_examples=60, deadline=None)
@given(
    entry=st.sampled_from([("bits", "old 8"), ("bushings", "my 12"), ("bushings", "spare"), ("bushings", "brass")]),
    values=st.dictionaries(
        st.sampled_from(["diameter", "bore", "note", "nut.diameter", "nut.height", "diameter.measured", "shank", "x"]),
        st.sampled_from(["16.5 mm", "5/8 in", "9", "ü 'x' \"y\"", "[1]", "{ nominal = '12 mm' }", "", "12.1 mm"]),
        max_size=3,
    ),
    gone=st.lists(st.sampled_from(["bore", "nut", "nut.height", "diameter.measured_on", "shank", "x"]), max_size=2),
)  # fmt: skip
def test_never_anything_but_the_entry_or_lines(
    tmp_path_factory: pytest.TempPathFactory, entry: tuple[str, str], values: dict[str, str], gone: list[str]
) -> None:
    """Law: whatever is typed, every line of the file that is not the entry's stays in its order; else lines."""
    path = tmp_path_factory.mktemp("law") / "tools.toml"
    path.write_bytes(OLD.encode())
    made, said = OLD, tuple[str, ...]()
    try:
        made = change_entry(path, *entry, values, gone)
    except InputError as error:
        said = error.lines
    assert all("\n" not in line for line in said)
    own = {"old 8": slice(3, 6), "my 12": slice(9, 10), "spare": slice(10, 11), "brass": slice(11, 17)}[entry[1]]
    old = OLD.splitlines()
    others = [*old[: own.start], *old[own.stop :]]
    kept = iter(made.splitlines())
    assert all(line in kept for line in others)
