"""Everything that the searches of this folder found, by name, in the smallest form that showed it."""

import hashlib
import json
import math
import os
import shutil
import sys

import pytest
from arena import Arena
from drawings import dxfs
from promises import SAMPLES, outline_is_read

from jigtemplates.errors import InputError
from jigtemplates.imports import drawn
from jigtemplates.imports.outline_file import outline_of
from jigtemplates.lengths import LengthError, both_text, mm_text, parse_length


def test_a_length_of_more_digits_than_decimal_arithmetic_keeps() -> None:
    """A number of 36 digits is shown like any other; rounding it failed for want of digits."""
    assert mm_text(parse_length("2" * 36 + " mm").mm) == "222222222222222230000000000000000000 mm"
    assert both_text(1e30).startswith("1000000000000000000000000000000 mm = ")


@pytest.mark.parametrize("text", ["1" * 38, "0." + "1" * 36, "0" * 35 + "½ in"])
def test_a_length_that_gets_too_long_when_it_is_tidied(text: str) -> None:
    """Unit and written-out fraction count: else a file would be written that could not be read again."""
    with pytest.raises(LengthError, match=r"longer than 40 characters; write a number and a unit, such as 9\.5 mm"):
        parse_length(text, unit="mm")


def test_a_kind_of_entity_that_speaks_to_the_terminal() -> None:
    """Control characters in an entity's kind or handle are written out, and either is shortened."""
    data = dxfs()[0].replace(b"LINE", b"LI\x1b[2J" + b"N" * 500, 1)
    with pytest.raises(InputError, match=r'a\.dxf: LI\\x1b\[2JN{30,40}… .{1,5} on layer "0": is a LI'):
        outline_of(data, "a.dxf")
    outline_is_read(data, "a.dxf")


@pytest.mark.parametrize("select", [None, "recess"])
def test_a_drawing_of_specks(select: str | None) -> None:
    """A line of no length is no outline, and no index out of range either: what and where it is, is said."""
    data = b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nrecess\n10\n5\n20\n5\n11\n5\n21\n5\n0\nENDSEC\n0\nEOF\n"
    with pytest.raises(InputError, match=r"^a\.dxf: LINE .* at \(5, 5\) mm: nothing drawn is larger than 0\.01 mm"):
        outline_of(data, "a.dxf", unit="mm", select=select)


def test_a_gap_of_hundreds_of_digits() -> None:
    """An arc of radius 1e308 mm that is not closed is told of in a line that can be read."""
    numbers = {10: 0, 20: 0, 40: "1e308", 50: 0, 51: 90}
    arc = "".join(f"{code}\n{value}\n" for code, value in numbers.items())
    data = f"0\nSECTION\n2\nENTITIES\n0\nARC\n8\n0\n{arc}0\nENDSEC\n0\nEOF\n".encode()
    said = r"is not closed \(gap of (1\.41421e\+308|inf) mm between \(1e\+308, 0\) and \([^ ]+, 1e\+308\); close it"
    with pytest.raises(InputError, match=said):
        outline_of(data, "a.dxf", unit="mm")
    outline_is_read(data, "a.dxf", "mm")


def test_a_drawing_without_any_header() -> None:
    """It says no unit and must be asked for one; the library behind the reader takes it for metres."""
    data = b"0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n10\n5\n20\n5\n40\n4\n0\nENDSEC\n0\nEOF\n"
    with pytest.raises(InputError, match=r'^a\.dxf: does not say its unit \(write units = "mm" or units = "in"\)$'):
        outline_of(data, "a.dxf")
    assert outline_of(data, "a.dxf", unit="in").rings[0].bounds.width == pytest.approx(8 * 25.4, abs=1e-9)


def _undo_list(path: str, before: str, after: str) -> str:
    """A list of corrections that somebody else wrote."""
    file = {"path": path, "before": before, "after_sha256": hashlib.sha256(after.encode()).hexdigest()}
    about = "what jigtemplates calibrate changed, for calibrate --undo"
    return json.dumps({"about": about, "corrections": [{"what": "a\x1b[2Jb", "on": "today", "files": [file]}]})


@pytest.mark.parametrize(
    ("path", "before", "line"),
    [
        ("../new.toml", "a = 1", "new.toml: was changed since that correction and is left as it is"),
        ("../rc", "rm -rf ~\n", "tools.toml.undo: is damaged, or none of ours"),
        ("../new.toml", "\ud800", "tools.toml.undo: is damaged, or none of ours"),
        ("\0.toml", "a = 1", "tools.toml.undo: is damaged, or none of ours"),
    ],
)
def test_a_list_of_corrections_that_came_with_a_folder(arena: Arena, path: str, before: str, line: str) -> None:
    """`calibrate --undo` makes no file that is not there, and writes nothing that is no TOML."""
    (arena.here / "profiles").mkdir()
    (arena.here / "profiles" / "tools.toml").write_text("", encoding="utf-8")
    (arena.here / "profiles" / "tools.toml.undo").write_text(_undo_list(path, before, ""), encoding="utf-8")
    said = arena.call(["calibrate", "--undo"], into=["profiles/tools.toml"])
    assert line in said.err
    assert sorted(p.name for p in arena.here.rglob("*")) == ["profiles", "tools.toml", "tools.toml.undo"]


def _svg(body: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">{body}</svg>'.encode()


@pytest.mark.parametrize(
    ("body", "sentence"),
    [
        ('<polygon points="' + "0,0 9,9 9,0 " * 90_000 + '"/>', "polygon number 1: has more than 250000 segments"),
        (
            '<polygon points="' + "0,0 1,1 1,0 " * 7_000 + '"/>',
            r"polygon number 1: crosses or touches itself at \(0, 0\)",
        ),
        ('<path d="M0 0' + "C1e6 0-1e6 9 9 9" * 200 + '"/>', "path number 1: has curves beyond measure"),
        ('<path d="M0 0' + "c1 0 3 2 3 3" * 10_001 + '"/>', "path number 1: has curves beyond measure"),
        ('<path d="M0 0' + "h1v1" * 125_001 + '"/>', "path number 1: path data has more than 250000 pieces"),
        (
            '<path d="M0 0' + "a9 9 0 0 1 1e-3 1e-3" * 30_001 + 'L0 5Z"/>',
            "path number 1: path data has more than 30000 a",
        ),
    ],
)
def test_drawings_that_took_minutes(body: str, sentence: str) -> None:
    """Half a million corners over each other, and curves by the thousand, are refused before they cost anything."""
    with pytest.raises(InputError, match=sentence):
        outline_of(_svg(body), "a.svg")


def test_curves_are_counted_over_the_whole_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Many shapes of a few curves each are no way round the limit."""
    monkeypatch.setattr(drawn, "MOST_CURVES", 10)
    with pytest.raises(InputError, match=r"ellipse number 3: has curves beyond measure \(at most 10, of"):
        outline_of(_svg('<ellipse rx="4" ry="2"/>' * 3), "a.svg")


def test_a_call_that_speaks_to_the_terminal(arena: Arena) -> None:
    """What click repeats of a call is written out and shortened."""
    said = arena.call(["new", "a.toml", "\x1b[2J"])
    assert said.err == "Got unexpected extra argument (\\x1b[2J) (see: jigtemplates new --help)\n"
    assert arena.call(["check", "--" + "x" * 5000]).err.endswith("xxxxx… (see: jigtemplates check --help)\n")


@pytest.mark.parametrize(("stem", "shown"), [(0, "0"), ("a\x1b[2J", r"a\x1b[2J")])
def test_a_record_of_sheets_that_came_with_a_folder(arena: Arena, stem: object, shown: str) -> None:
    """A job's name in it may be no text, or speak to the terminal: one line, and the sheets are left alone."""
    shutil.copy(SAMPLES / "gate-bench-rail.toml", arena.here / "job.toml")
    (arena.here / "sheets" / "job").mkdir(parents=True)
    record = arena.here / "sheets" / "job" / "job_sheets.json"
    record.write_text(json.dumps({"jobs": [{"stem": stem}]}), encoding="utf-8")
    said = arena.call(["sheet", "job.toml", "--stock", "600x400"])
    assert f"sheets/job: holds the sheets of other jobs ({shown}), which would be replaced" in said.err


def test_a_link_to_itself_beside_a_job_that_is_not_there(arena: Arena) -> None:
    """It is passed over in the search for a name that is near."""
    (arena.here / "loop").symlink_to("loop")
    assert arena.call(["check", "lop"]).err == "lop: there is no such file or folder\n"


def test_a_drawer_in_a_folder_that_is_not_there(arena: Arena) -> None:
    """What is missing is the folder to read, not one to write into."""
    said = "no/such: there is no such folder (give the folder that make wrote into)\n"
    assert arena.call(["drawer", "no/such"]).err == said


def _fan(lines: int) -> bytes:
    """Lines from one place to as many on a circle, which stay apart."""
    ends = ((20 * math.cos(i * math.tau / lines), 20 * math.sin(i * math.tau / lines)) for i in range(lines))
    body = "".join(f"0\nLINE\n8\n0\n10\n0\n20\n0\n11\n{x:.6f}\n21\n{y:.6f}\n" for x, y in ends)
    return f"0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n".encode()


def test_lines_that_all_begin_at_one_place(arena: Arena) -> None:
    """6,000 of them wanted 36 million pairs of ends and 5 GB; such a drawing has no one way round anyway."""
    (arena.here / "fan.dxf").write_bytes(_fan(6_000))
    said = arena.call(["new", "a.toml", "--outline", "fan.dxf", "--drawing-units", "mm"])
    assert said.err.startswith("fan.dxf: ")
    assert "ends meet at (0, 0), so it has no one way round" in said.err


@pytest.mark.parametrize("corners", [1_000, 20_000])
def test_a_star_of_a_thousand_needles(arena: Arena, corners: int) -> None:
    """Its edge is longer than that of any cut: it took 2.2 GB, or no end, to find where a bit gets between them."""
    around = ((4.4 if i % 2 else 0.6, i * math.tau / corners) for i in range(corners))
    points = " ".join(f"{4.5 + r * math.cos(a):.6f},{4.5 + r * math.sin(a):.6f}" for r, a in around)
    page = _svg(f'<polygon points="{points}"/>').replace(b'"9mm"', b'"290mm"')
    (arena.here / "star.svg").write_bytes(page)
    said = arena.call(["new", "a.toml", "--outline", "star.svg"])
    assert "star.svg: polygon number 1: the outline's edge is " in said.err
    assert " m long (at most 40 m; draw it simpler, with fewer points or turns)" in said.err


@pytest.mark.parametrize(
    "args",
    [
        ("match", "--width", "10 mm", "--length", "50 mm"),
        ("match", "a.toml"),
        ("inlay", "--bit", "3 mm"),
        ("inlay", "--recess", "b0", "g0", "--plug", "b0", "g1"),
    ],
)
def test_a_tools_file_of_thousands(arena: Arena, args: tuple[str, ...]) -> None:
    """Every pair of 3,000 bits and 3,000 bushings is nine million, which nobody can look through."""
    entries = (f"[bits.b{i}]\ndiameter={1 + i / 1000}\n[bushings.g{i}]\ndiameter={5 + i / 1000}\n" for i in range(3000))
    (arena.here / "many.toml").write_text('units="mm"\n' + "".join(entries), encoding="utf-8")
    shutil.copy(SAMPLES / "gate-bench-rail.toml", arena.here / "a.toml")
    said = arena.call([*args, "--tools", "many.toml"])
    assert "many.toml: 3000 bits are too many to compare (at most 500; " in said.err
    assert "many.toml: 3000 bushings are too many to compare (at most 500; " in said.err


def test_a_rise_of_nothing(arena: Arena) -> None:
    """An arch of 0.1 nm came out of the DXF file elsewhere than it went in, which was called the program's fault."""
    cut = '[cut]\nshape = "hand-hold"\nwidth = 30\nlength = 300\nrise = 0.0000001\ndepth = 10\n'
    (arena.here / "a.toml").write_text('title = "x"\nunits = "mm"\n' + cut + _TOOLS, encoding="utf-8")
    said = arena.call(["make", "a.toml"])
    assert said.err.startswith('a.toml:7: cut.rise: "0.0000001 mm" is too small a rise (write at least 0.01 mm, or 0')


_TOOLS = '[tools]\nbit = "6 mm"\nbushing = "12 mm"\n[plate]\nwidth = 400\nheight = 200\nthickness = 6\n'


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes by name")
@pytest.mark.parametrize("args", ["bit 8mm --measured 7.95mm", "printer --across 99.2mm --up 99.6mm"])
def test_a_pipe_in_place_of_the_tools_file(arena: Arena, args: str) -> None:
    """It is told of, not waited for: nobody may ever write into it."""
    os.mkfifo(arena.here / "pipe.toml")
    said = arena.call(["calibrate", *args.split(), "--file", "pipe.toml"])
    assert (said.status, said.err) == (2, "pipe.toml: this is not an ordinary file\n")


def test_templates_in_a_folder_whose_name_is_too_long(arena: Arena) -> None:
    """A template's record cannot be there: the job is asked what it makes, as in a folder that is not there."""
    shutil.copy(SAMPLES / "gate-bench-rail.toml", arena.here / "job.toml")
    said = arena.call(["regenerate", ".", "--bit", "6 mm", "--out", "x" * 300])
    assert (said.status, said.err) == (0, "")


@pytest.mark.skipif(sys.platform != "linux", reason="a name can hold any bytes only there")
def test_a_tools_file_whose_name_is_no_text(arena: Arena) -> None:
    """Its correction is listed and taken back like that of any other."""
    tools = arena.here / "\udcff.toml"
    tools.write_text('[bits.b]\ndiameter = "8 mm"\n', encoding="utf-8")
    said = arena.call(["calibrate", "bit", "b", "--measured", "7.96mm", "--file", tools.name], into=["."])
    assert (said.status, "measured" in tools.read_text(encoding="utf-8")) == (0, True)
    said = arena.call(["calibrate", "--undo", "--file", tools.name], into=["."])
    assert (said.status, tools.read_text(encoding="utf-8")) == (0, '[bits.b]\ndiameter = "8 mm"\n')
