"""A tool taken out of a person's file: its lines go, all others stay."""

import tomllib
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.toml_text import read_toml
from jigtemplates.parameters.tools_file import add_entry
from jigtemplates.parameters.tools_remove import remove_entry

HEAD = '# My drawer\nunits = "mm"  # all of them\n'
EIGHT = '[bits."old 8"]   # second-hand\n# measured in May\ndiameter = 7.98\nshank    = 8\n'
COLLARS = '# --- collars ---\n[bushings]\n"my 12" = { diameter = 11.97, bore = 10 }  # brass\nspare.diameter = 17\n'
OLD = f"{HEAD}\n{EIGHT}\n{COLLARS}"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Somebody's tools file."""
    path = tmp_path / "tools.toml"
    path.write_bytes(OLD.encode())
    return path


def refused(path: Path, kind: str, name: str) -> str:
    """The line with which a removal is refused, without the folder of the file."""
    with pytest.raises(InputError) as caught:
        remove_entry(path, kind, name)
    (line,) = caught.value.lines
    return line.replace(f"{path.parent}/", "")


@pytest.mark.parametrize(
    ("kind", "name", "left"),
    [
        ("bits", "old 8", f"{HEAD}\n{COLLARS}"),
        ("bushings", "my 12", OLD.replace('"my 12" = { diameter = 11.97, bore = 10 }  # brass\n', "")),
        ("bushings", "spare", OLD.replace("spare.diameter = 17\n", "")),
    ],
)
def test_the_lines_of_an_entry_go(file: Path, kind: str, name: str, left: str) -> None:
    """A table with its comments, a key with a { } table, dotted keys; the comment above the next table stays."""
    assert remove_entry(file, kind, name) == left
    assert file.read_bytes() == OLD.encode()


def test_the_end_of_the_file_stays(file: Path) -> None:
    """Blank lines at the end stay, unless the entry was the last thing there."""
    file.write_text(OLD + "\n\n", encoding="utf-8")
    assert remove_entry(file, "bits", "old 8") == f"{HEAD}\n{COLLARS}\n\n"
    file.write_text(f"{HEAD}\n{COLLARS}\n{EIGHT}\n\n", encoding="utf-8")
    assert remove_entry(file, "bits", "old 8") == f"{HEAD}\n{COLLARS}"


def test_line_ends_and_mark_stay(file: Path) -> None:
    """A file from Windows, with its invisible mark, keeps both."""
    file.write_bytes(b"\xef\xbb\xbf" + OLD.replace("\n", "\r\n").encode())
    assert remove_entry(file, "bits", "old 8") == "\ufeff" + f"{HEAD}\n{COLLARS}".replace("\n", "\r\n")


def test_scattered_parts_all_go(file: Path) -> None:
    """Parts of the entry in tables of their own, with other entries between, go wherever they stand."""
    between = "[bits.b]\ndiameter = 3\n"
    file.write_text(f"[bits.a]\nshank = 8\n\n{between}\n[bits.a.diameter]\nnominal = 3\n# last\n", encoding="utf-8")
    assert remove_entry(file, "bits", "a") == f"{between}\n# last\n"


def test_an_entry_inside_braces(file: Path) -> None:
    """A kind written as one { } table loses the key alone."""
    file.write_text("bits = { a = { diameter = 3 }, b = { diameter = 4 } }  # two\n", encoding="utf-8")
    made = remove_entry(file, "bits", "a")
    assert tomllib.loads(made) == {"bits": {"b": {"diameter": 4}}}
    assert made.endswith("# two\n")


def test_a_list_over_many_lines_goes_whole(file: Path) -> None:
    """A value that goes on over several lines is taken out to its end."""
    file.write_text("[routers.r]\ncollets = [\n  8,  # [\n  6,\n]\n[bits.b]\ndiameter = 3\n", encoding="utf-8")
    assert remove_entry(file, "routers", "r") == "[bits.b]\ndiameter = 3\n"


def test_the_last_entry_leaves_a_file_that_can_be_read(file: Path) -> None:
    """A file of one entry and nothing else becomes a new tools file, to which one can add."""
    file.write_text("[bits.a]\ndiameter = 3\n", encoding="utf-8")
    file.write_text(remove_entry(file, "bits", "a"), encoding="utf-8")
    assert tomllib.loads(file.read_text(encoding="utf-8")) == {"units": "mm"}
    assert "[bits.b]" in add_entry(file, "bits", "b", {"diameter": "3 mm"})


def test_a_faulty_entry_can_be_taken_out(file: Path) -> None:
    """What no job can read is no reason to keep it."""
    file.write_text(f"{OLD}[bits.bad]\ndiameter = -1\n", encoding="utf-8")
    assert remove_entry(file, "bits", "bad") == OLD


def test_what_is_not_there_is_refused(file: Path) -> None:
    """An unknown kind, name or file is one line with the nearest that is there."""
    assert refused(file, "bit", "old 8") == 'tools remove: "bit" is not a kind of tool (did you mean "bits"?)'
    assert refused(file, "bits", "old 9") == 'tools.toml: bits: "old 9" is not in this file (did you mean "old 8"?)'
    assert refused(file, "holders", "x") == 'tools.toml: holders: "x" is not in this file (there are none)'
    file.write_text("bits = 3\n", encoding="utf-8")
    assert refused(file, "bits", "x") == 'tools.toml: bits: "x" is not in this file (there are none)'
    file.unlink()
    assert refused(file, "bits", "x") == "tools.toml: there is no such file"


def test_what_cannot_be_taken_out_alone(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where neither way leaves exactly the rest, the file is left to the person (both failures are feigned)."""
    for written in ("not = TOML = 3", None):
        monkeypatch.setattr("jigtemplates.parameters.tools_remove._without_lines", lambda *_, made=written: made)
        monkeypatch.setattr("tomlkit.parse", lambda _: {})
        assert refused(file, "bits", "old 8") == (
            "tools.toml: bits.old 8: cannot be taken out as it stands (delete it by hand)"
        )


def test_changed_while_it_is_read(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another run takes a tool out meanwhile: this one is taken out of what is there then."""

    def read(path: Path) -> object:
        found = read_toml(path)
        path.write_bytes(OLD.replace("spare.diameter = 17\n", "").encode())
        return found

    monkeypatch.setattr("jigtemplates.parameters.tools_remove.read_toml", read)
    assert remove_entry(file, "bits", "old 8") == f"{HEAD}\n{COLLARS}".replace("spare.diameter = 17\n", "")
