"""What is said of a profile file that cannot be read or has faults in it."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.profiles import Profiles, profiles_for

Write = Callable[[str, str], Path]

BIT = '[bits."{0}"]\ndiameter = "{1}"\n'


pytestmark = pytest.mark.usefixtures("own_configuration")


def lines(tmp_path: Path, kind: str = "bits") -> list[str]:
    """The error lines of the profiles beside a job in the test's folder, without the folder's own path."""
    with pytest.raises(InputError) as caught:
        profiles_for(tmp_path / "job.toml").entries(kind)
    return [line.replace(str(tmp_path / "profiles") + os.sep, "") for line in caught.value.lines]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            "[bits.b]\ndiameter = 3\n",
            "diameter: 3 is not a length (the unit is missing; write 3 mm or 3 in, ",
        ),
        ('[bits.b]\ndiameter = "3,5 mm"\n', 'diameter: "3,5 mm" is not a length (write 3.5 mm)'),
        ('[bits.b]\nshank = "6 mm"\ndiameter = "0 mm"\n', "diameter: "),
    ],
)
def test_a_fault_names_file_line_entry_and_key(write: Write, tmp_path: Path, text: str, line: str) -> None:
    """`tools.toml:2: bits.b.diameter:` starts the line about a wrong value."""
    write("profiles/tools.toml", text)
    (found,) = lines(tmp_path)
    number = text.split("diameter")[0].count("\n") + 1
    assert found.startswith(f"tools.toml:{number}: bits.b.{line}")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("bits = 3\n", 'a.toml:1: bits: 3 does not fit here (write a table for each entry, [bits."NAME"])'),
        (
            "[[bits]]\ndiameter = 3\n",
            'a.toml:1: bits: a list does not fit here (write a table for each entry, [bits."NAME"])',
        ),
        ("[bits]\nb = 3\n", "a.toml:2: bits.b: 3 does not fit here (write a table of keys)"),
        ("[bit.b]\n", 'a.toml:1: unknown key "bit" (did you mean "bits"?)'),
        ('unit = "mm"\n', 'a.toml:1: unknown key "unit" (did you mean "units"?)'),
        ('\nunits = "cm"\n', 'a.toml:2: units: "cm" is not known here (write "mm" or "in")'),
        ("units = []\n", 'a.toml:1: units: a list is not known here (write "mm" or "in")'),
        (
            '[bits.b]\nname = "b"\ndiameter = "3 mm"\n',
            'a.toml:1: bits.b: unknown key "name" (the entry is called what its table is called; leave it out)',
        ),
        (
            BIT.format("b ", "3 mm"),
            "a.toml:1: bits.b : the name begins or ends with a space (leave it out)",
        ),
        (
            BIT.format("3/8 in", "3 mm"),
            'a.toml:1: bits.3/8 in: a job takes this name for a bare diameter (call it "my 3/8 in", say)',
        ),
        (
            BIT.format("6", "6 mm"),
            'a.toml:1: bits.6: a job takes this name for a bare diameter (call it "my 6", say)',
        ),
        (
            '[bits."a\\u0007b"]\ndiameter = "3 mm"\n',
            'a.toml:1: bits.a\\x07b.name: "a\\x07b" has control characters (write plain text)',
        ),
        (
            '[bits.""]\ndiameter = "3 mm"\n',
            "a.toml:1: bits..name: it is empty (write some text, or leave the key out)",
        ),
        ("[bits.b]\ndiameter = [\n", "a.toml:2: "),
        ("", "a.toml: the file is empty"),
    ],
)
def test_each_fault_of_a_file_has_one_line(write: Write, tmp_path: Path, text: str, expected: str) -> None:
    """What is wrong outside an entry's own keys gets one line too, with what to write instead."""
    write("profiles/a.toml", text)
    (found,) = lines(tmp_path)
    assert found.startswith(expected)
    assert found == expected or expected.endswith(": ")


def test_a_paper_name_leads_nowhere(write: Write, tmp_path: Path) -> None:
    """It stands in file names as it is: with a separator in it a page would land outside the job's folder."""
    size = "width = 210\nheight = 297\nmargin = 10\nfoot = 15\noverlap = 10\n"
    write("profiles/a.toml", f'units = "mm"\n[papers."a/../../b"]\n{size}[papers.own]\n{size}')
    assert lines(tmp_path, "papers") == [
        "a.toml:2: papers.a/../../b: the name has the character / and becomes a part of file names (use letters, "
        "digits, - and _)"
    ]


def test_a_screw_may_be_named_like_a_length() -> None:
    """Screws are always given by name, so "1/4 in" is a good name for one."""
    assert Profiles().find("screws", "1/4 in").entry.diameter.mm == 6.35


def test_all_faults_come_at_once_in_the_order_of_the_files(write: Write, tmp_path: Path) -> None:
    """Two files with faults outside and inside entries are reported together, line by line."""
    write("profiles/a.toml", 'units = "cm"\n[bits.b]\ndiameter = -1\nshanc = 3\n')
    write("profiles/b.toml", "[bits.c]\n")
    write("profiles/c.toml", "")
    assert [line.split(": ")[:2] for line in lines(tmp_path)] == [
        ["a.toml:1", "units"],
        ["c.toml", "the file is empty"],
        ["a.toml:3", "bits.b.diameter"],
        ["a.toml:4", "bits.b"],
        ["b.toml:1", "bits.c.diameter"],
    ]


def test_a_faulty_name_does_not_hide_the_faults_below_it(write: Write, tmp_path: Path) -> None:
    """An entry whose name cannot stay has its keys looked at all the same."""
    write("profiles/a.toml", BIT.format("3/8 in", "9,5 mm"))
    assert [line.split(": ")[:2] for line in lines(tmp_path)] == [
        ["a.toml:1", "bits.3/8 in"],
        ["a.toml:2", "bits.3/8 in.diameter"],
    ]


def test_a_faulty_unit_causes_no_fault_at_each_number(write: Write, tmp_path: Path) -> None:
    """A unit that is not known is one line, however many numbers stand below it."""
    write("profiles/a.toml", 'units = "cm"\n[bits.b]\ndiameter = 1\nshank = 6\n')
    assert lines(tmp_path) == ['a.toml:1: units: "cm" is not known here (write "mm" or "in")']


def test_one_name_in_two_files_of_a_folder_is_refused(write: Write, tmp_path: Path) -> None:
    """Which of two files wins would be a matter of their names, so neither does."""
    write("profiles/a.toml", BIT.format("mine", "1 mm"))
    write("profiles/b.toml", "# old\n" + BIT.format("mine", "2 mm"))
    first = tmp_path / "profiles" / "a.toml"
    with pytest.raises(InputError) as caught:
        profiles_for(tmp_path / "job.toml").find("bits", "mine")
    second = tmp_path / "profiles" / "b.toml"
    assert caught.value.lines == (f"{second}:2: bits.mine: stands in {first}:1 too (keep one)",)


def test_one_name_twice_in_a_file_is_refused(write: Write, tmp_path: Path) -> None:
    """TOML itself refuses a table that is there twice; the line says so in plain words."""
    write("profiles/a.toml", BIT.format("mine", "1 mm") * 2)
    (found,) = lines(tmp_path)
    assert found.startswith("a.toml:3: ")
    assert found.endswith("bits.mine stands here a second time (the first is in line 1; keep one)")


def test_a_folder_that_cannot_be_listed_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder without permission to read it is named, with the system's reason."""
    (tmp_path / "profiles").mkdir()

    def refused(folder: Path) -> list[str]:
        raise PermissionError(13, "Permission denied", str(folder))

    profiles = profiles_for(tmp_path / "job.toml")
    monkeypatch.setattr("jigtemplates.profile_files.os.listdir", refused)
    with pytest.raises(InputError) as caught:
        profiles.entries("bits")
    assert caught.value.lines == (f"{tmp_path / 'profiles'}: cannot be read (Permission denied)",)


@pytest.mark.parametrize("data", [b"\xff\xfe[bits.b]", b'[bits."\x00"]', b"x = " + b"[" * 5000])
def test_what_is_no_text_or_no_toml_never_ends_in_a_traceback(write: Write, tmp_path: Path, data: bytes) -> None:
    """Other encodings, control characters and deep nesting are one line that names the file."""
    write("profiles/a.toml", "").write_bytes(data)
    (found,) = lines(tmp_path)
    assert found.startswith("a.toml:")
