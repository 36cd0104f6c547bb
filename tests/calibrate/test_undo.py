"""`calibrate --undo`: byte for byte, one after another, and never over what was changed since."""

import json
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

BIT = ("calibrate", "bit", "my 3/8", "--measured", "9.48 mm")
BUSHING = ("calibrate", "bushing", "my 1/2", "--measured", "12.66 mm")
KERF = ("calibrate", "kerf", "--gap", "1.9 mm", "--cuts", "10")


@pytest.mark.parametrize("odd", ["", "windows", "bom", "no end"])
def test_restores_byte_for_byte(call: Call, tools: Path, start: str, odd: str) -> None:
    """Whatever line ends, mark of byte order or missing end the file had."""
    text = {"windows": start.replace("\n", "\r\n"), "no end": start.rstrip("\n")}.get(odd, start)
    before = (b"\xef\xbb\xbf" if odd == "bom" else b"") + text.encode()
    tools.write_bytes(before)
    for command in (BIT, BUSHING, KERF):
        assert call(*command).status == 0
        assert tools.read_bytes() != before
        assert call("calibrate", "--undo").status == 0
        assert tools.read_bytes() == before
    assert sorted(path.name for path in tools.parent.iterdir()) == ["tools.toml"]


def test_line_ends_stay(call: Call, tools: Path, start: str) -> None:
    """A file of Windows' line ends gets no other ones."""
    tools.write_bytes(start.replace("\n", "\r\n").encode())
    for command in (BIT, KERF):
        call(*command)
    assert b"\n" not in tools.read_bytes().replace(b"\r\n", b"")


def test_one_after_another(call: Call, tools: Path) -> None:
    """The last first, and it says how many are left."""
    states = [tools.read_bytes()]
    for command in (BIT, BUSHING, KERF):
        call(*command)
        states.append(tools.read_bytes())
    said = call("calibrate", "--undo").out
    assert said.startswith("taken back: kerf of the laser, measured on 2026-11-25: profiles/tools.toml as before;")
    assert said.endswith("; 2 more can be taken back\n")
    assert tools.read_bytes() == states[2]
    assert "2 more" not in call("calibrate", "--undo").out
    assert tools.read_bytes() == states[1]
    call("calibrate", "--undo")
    assert tools.read_bytes() == states[0]
    assert call("calibrate", "--undo").err == "profiles/tools.toml: no correction to take back\n"


def test_file_that_was_not_there(call: Call, rail: Path, here: Path) -> None:
    """It is gone again, with the folder that was made for it."""
    call(*KERF)
    call("calibrate", "--undo")
    assert sorted(path.name for path in here.iterdir()) == ["rail.toml"]


def test_folder_with_more_in_it_stays(call: Call, tools: Path) -> None:
    """Only an empty folder is taken away."""
    tools.rename(tools.with_name("others.toml"))
    call(*KERF)
    call("calibrate", "--undo")
    assert [path.name for path in tools.parent.iterdir()] == ["others.toml"]


def test_job_too(call: Call, rail: Path, here: Path) -> None:
    """A job that got a tool's name gets its bare size back."""
    before = rail.read_bytes()
    call("calibrate", "bushing", "1/2 in", "--measured", "12.66 mm", "--job", "rail.toml")
    assert rail.read_bytes() != before
    said = call("calibrate", "--undo")
    assert said.out == (
        'taken back: bushing "my 1/2 in bushing", measured on 2026-11-25: profiles/tools.toml, rail.toml as before\n'
    )
    assert rail.read_bytes() == before


def test_a_tool_added_since_stays(call: Call, tools: Path, start: str) -> None:
    """Only what the corrections changed is as before; the tool that was added since, and every comment, stays."""
    for command in (BIT, BUSHING, KERF):
        call(*command)
    assert call("tools", "add", "bits", "my 1/2", "diameter=1/2 in").status == 0
    said = call("calibrate", "--undo")
    assert (said.status, said.out) == (
        0,
        "taken back: kerf of the laser, measured on 2026-11-25: profiles/tools.toml as before but for what was "
        "changed since, which stays; 2 more can be taken back\n",
    )
    assert "kerfs" not in tools.read_text(encoding="utf-8")
    for _ in range(2):
        assert call("calibrate", "--undo").status == 0
    assert tools.read_text(encoding="utf-8") == start + '\n[bits."my 1/2"]\ndiameter = "1/2 in"\n'
    assert sorted(path.name for path in tools.parent.iterdir()) == ["tools.toml"]


def test_a_tool_added_to_a_file_of_the_correction_stays(call: Call, rail: Path, here: Path) -> None:
    """The tools file that the correction began stays, with the tool added since."""
    call(*KERF)
    call("tools", "add", "bits", "my 1/2", "diameter=1/2 in")
    assert call("calibrate", "--undo").status == 0
    text = (here / "profiles" / "tools.toml").read_text(encoding="utf-8")
    assert "processes" not in text
    assert text.endswith('units = "mm"\n\n[bits."my 1/2"]\ndiameter = "1/2 in"\n')


def test_a_job_changed_since_keeps_its_change(call: Call, rail: Path, here: Path) -> None:
    """A job that got a tool's name gets its bare size back, though its depth was changed since."""
    before = rail.read_text(encoding="utf-8")
    call("calibrate", "bushing", "1/2 in", "--measured", "12.66 mm", "--job", "rail.toml")
    rail.write_text(rail.read_text(encoding="utf-8").replace("= 28", "= 26"), encoding="utf-8")
    said = call("calibrate", "--undo").out
    assert said.endswith(
        "profiles/tools.toml as before; rail.toml as before but for what was changed since, which stays\n"
    )
    assert rail.read_text(encoding="utf-8") == before.replace("= 28", "= 26")


def test_what_it_changed_was_changed_since(call: Call, tools: Path) -> None:
    """Measured anew by hand: nothing is taken back, and the line is what to type; typed, it can be taken back."""
    call(*BIT)
    call("tools", "change", "bits", "my 3/8", "diameter.measured=9.40 mm", "--without", "diameter.measured_on")
    after = tools.read_bytes()
    said = call("calibrate", "--undo")
    command = 'jigtemplates tools change bits "my 3/8" diameter="3/8 in"'
    assert (said.status, said.faults) == (
        2,
        [
            "profiles/tools.toml: bits.my 3/8.diameter: was changed since that correction and is left as it is (for "
            f"what it held before: {command})"
        ],
    )
    assert tools.read_bytes() == after
    assert call(*shlex.split(command)[1:]).status == 0
    assert call("calibrate", "--undo").status == 0
    assert sorted(path.name for path in tools.parent.iterdir()) == ["tools.toml"]


def test_an_earlier_measurement_is_typed_as_a_table(call: Call, tools: Path) -> None:
    """What a bit held before a second correction stands in the line as a table that the command takes."""
    call(*BIT)
    call("calibrate", "bit", "my 3/8", "--measured", "9.46 mm")
    call("tools", "change", "bits", "my 3/8", "diameter=9.3 mm")
    said = call("calibrate", "--undo").err
    command = said.rstrip().removesuffix(")").partition("before: ")[2]
    assert command.startswith('jigtemplates tools change bits "my 3/8" diameter=\'{')
    assert call(*shlex.split(command)[1:]).status == 0
    assert call("calibrate", "--undo").status == 0


@pytest.mark.parametrize(
    ("put", "line"),
    [
        ("", "(before, it was not there: delete it by hand)"),
        ("[processes.laser]\nkerfs = []\n", "(for what it held before, write there kerfs = [])"),
    ],
)
def test_a_kerf_changed_since(call: Call, tools: Path, put: str, line: str) -> None:
    """Kerfs are no tools: the line says what to write, or what to delete."""
    tools.write_text(tools.read_text(encoding="utf-8") + put, encoding="utf-8")
    call(*KERF)
    tools.write_text(tools.read_text(encoding="utf-8").replace("0.19 mm", "0.21 mm"), encoding="utf-8")
    said = call("calibrate", "--undo")
    assert said.status == 2
    assert said.err.startswith("profiles/tools.toml: processes.laser")
    assert said.err.endswith(f"was changed since that correction and is left as it is {line}\n")


def test_a_file_that_is_gone(call: Call, tools: Path) -> None:
    """Deleted since: the line says where what it held still stands."""
    call(*BIT)
    tools.unlink()
    assert "profiles/tools.toml: was changed since that correction" in call("calibrate", "--undo").err


def test_changed_since(call: Call, tools: Path) -> None:
    """By a list of an earlier version, without the text after it, a file that was changed since is left as it is."""
    before = tools.read_text(encoding="utf-8")
    call(*BIT)
    tools.write_text(tools.read_text(encoding="utf-8") + "# by hand\n", encoding="utf-8")
    after, held = tools.read_bytes(), tools.with_name("tools.toml.undo")
    data = json.loads(held.read_text(encoding="utf-8"))
    del data["corrections"][0]["files"][0]["after"]
    held.write_text(json.dumps(data), encoding="utf-8")
    said = call("calibrate", "--undo")
    assert (said.status, said.faults) == (
        2,
        [
            "profiles/tools.toml: was changed since that correction and is left as it is (what it held before stands "
            "in profiles/tools.toml.undo, under before)"
        ],
    )
    assert tools.read_bytes() == after
    (correction,) = json.loads(tools.with_name("tools.toml.undo").read_text(encoding="utf-8"))["corrections"]
    assert correction["files"][0]["before"] == before


@pytest.mark.parametrize("raw", [b"{", b"[]", b'{"about": "x"}', b"\xff", b'{"about": 1, "corrections": []}', b""])
def test_damaged_list(call: Call, tools: Path, raw: bytes) -> None:
    """A list that is none of ours is not worked with, nor written over."""
    place = tools.with_name("tools.toml.undo")
    place.write_bytes(raw)
    for command in (("calibrate", "--undo"), BIT):
        said = call(*command)
        assert said.status == 2
        assert said.err.endswith(
            "tools.toml.undo: is damaged, or none of ours (delete it; of what was measured before, the sizes stand in "
            "the profiles, under was)\n"
        )
    assert place.read_bytes() == raw


def test_huge_list(call: Call, tools: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list of a size that ours never have is none of ours."""
    call(*BIT)
    monkeypatch.setattr("jigtemplates.calibrate.undo.LARGEST_BYTES", 10)
    assert "is damaged, or none of ours" in call("calibrate", "--undo").err


def test_only_the_last_twenty(call: Call, tools: Path) -> None:
    """Older ones are forgotten."""
    for number in range(22):
        call("calibrate", "bit", "my 3/8", "--measured", f"9.4{number:02} mm")
    held = json.loads(tools.with_name("tools.toml.undo").read_text(encoding="utf-8"))
    assert len(held["corrections"]) == 20


def test_linked_file(call: Call, tools: Path, here: Path) -> None:
    """Where the tools file is a link, the file it leads to is changed and restored, and the link stays."""
    (here / "real").mkdir()
    real = here / "real" / "mine.toml"
    tools.rename(real)
    tools.symlink_to(real)
    before = real.read_bytes()
    call(*BIT)
    assert tools.is_symlink()
    assert real.read_bytes() != before
    call("calibrate", "--undo")
    assert tools.is_symlink()
    assert real.read_bytes() == before


def test_changed_meanwhile(call: Call, tools: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that another writes between the look and the writing is left as it is."""
    from jigtemplates.calibrate import command

    told = command._effects

    def late(*args: Any) -> Any:
        tools.write_text("# other\n" + tools.read_text(encoding="utf-8"), encoding="utf-8")
        return told(*args)

    monkeypatch.setattr(command, "_effects", late)
    said = call(*BIT)
    assert (said.status, said.err) == (2, "profiles/tools.toml: was changed meanwhile (run this again)\n")
    assert tools.read_text(encoding="utf-8").startswith("# other\n# mine")
