"""Bad input of every kind: one line for each fault, status 2, nothing written, never a traceback."""

import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.append(str(Path(__file__).parent / "proof"))  # for the one list of what no input may bring about

from ours import blames_itself

Call = Callable[..., Any]

#: Every key of a job with a value that is right.
KEYS = {
    ("title",): '"Bench rail"',
    ("units",): '"mm"',
    ("cut", "shape"): '"rectangle"',
    ("cut", "width"): "30",
    ("cut", "length"): '"50 mm"',
    ("cut", "corner_radius"): "6",
    ("cut", "depth"): "28",
    ("cut", "angle"): "0",
    ("cut", "x"): "70",
    ("cut", "y"): "70",
    ("cut", "diameter"): None,  # of another shape
    ("tools", "bit"): '"3/8 in"',
    ("tools", "bushing"): '"5/8 in"',
    ("tools", "clearance"): '"0.1 mm"',
    ("tools", "pass_depth"): "4",
    ("plate", "holder"): None,
    ("plate", "width"): "140",
    ("plate", "height"): "140",
    ("plate", "thickness"): "6",
    ("plate", "corner_radius"): "4",
    ("plate", "material"): '"mdf"',
    ("plate", "stand_off"): "0",
    ("plate", "screws"): '{ pattern = "corners", size = "M5", inset = 10 }',
    ("plate", "label"): "true",
    ("plate", "wall"): "5",
    ("make", "for"): '["cnc"]',
    ("make", "papers"): '["a4"]',
    ("make", "kerf"): "0.2",
    ("make", "dxf"): '{ version = "R12" }',
    ("make", "printed_bar"): '{ across = "99.5 mm", up = "100.2 mm" }',
    ("make", "mirrored"): "false",
}


def job_text(**changed: str) -> str:
    """The job with keys changed: job_text(cut_width="12")."""
    lines, table = [], None
    for path, right in KEYS.items():
        if len(path) == 2 and path[0] != table:
            table = path[0]
            lines.append(f"[{table}]")
        value = changed.get("_".join(path), right)
        if value is not None:
            lines.append(f"{path[-1]} = {value}")
    return "\n".join(lines) + "\n"


def listing(folder: Path) -> list[str]:
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*"))


def refused(call: Call, here: Path, *args: str, lines: int = 1) -> str:
    """The line (or lines) with which a call is refused; nothing may be written by it."""
    before = listing(here)
    said = call(*args)
    assert (said.status, said.out) == (2, ""), said
    assert len(said.faults) == lines, said.err
    assert not blames_itself(said.err)
    assert listing(here) == before
    return str(said.err).rstrip("\n")


NESTED = {
    "lists": "a = " + "[" * 20_000,
    "closed lists": "a = " + "[" * 20_000 + "]" * 20_000,
    "tables": "a = " + "{a = " * 5_000,
    "closed tables": "a = " + "{a = " * 5_000 + "1" + "}" * 5_000,
    "a dotted key": ".".join("a" * 20_000) + " = 1",
    "a dotted table": "[" + ".".join("a" * 20_000) + "]",
    "a list of screws": '[plate]\nscrews = { pattern = "points", points = ' + "[" * 3_000 + "]" * 3_000 + " }",
}


@pytest.mark.parametrize("text", NESTED.values(), ids=NESTED)
def test_deep_nesting(call: Call, here: Path, text: str) -> None:
    """Thousands of lists or tables within each other are refused in one line."""
    (here / "a.toml").write_text(text, encoding="utf-8")
    assert refused(call, here, "make", "a.toml").startswith("a.toml:")


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"", "a.toml: the file is empty"),
        (b" \n\n", "a.toml: the file is empty"),
        (b"\xef\xbb\xbf", "a.toml: the file is empty"),
        (b'title = "caf\xe9"\n', "a.toml:1: not UTF-8 text (save the file as UTF-8)"),
        ('title = "x"\n'.encode("utf-16"), "a.toml:1: not UTF-8 text (save the file as UTF-8)"),
        (b'title = "x"\nunits = "m\0m"\n', "a.toml:2: column 11: there is a control character (retype the line)"),
        (b"#" * 2_000_000, "a.toml: larger than 1000 kB, which is no file of this program"),
        (b"\0" * 1000, "a.toml:1: column 1: "),
        (b"width = 1" + b"0" * 5000, "a.toml: a number has far too many digits"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "a.toml:1: not UTF-8 text (save the file as UTF-8)"),
        (b"[cut\n", "a.toml:1: column 5: the name of a table lacks its closing ]"),
        (b"title = Bench rail\n", 'a.toml:1: Bench rail cannot be read (write "Bench rail" in quotes)'),
    ],
)
def test_files_that_are_no_job(call: Call, here: Path, data: bytes, line: str) -> None:
    """Empty, huge, binary or otherwise unreadable: one line that says where and what."""
    (here / "a.toml").write_bytes(data)
    assert refused(call, here, "make", "a.toml").startswith(line)


@pytest.mark.parametrize(
    "value",
    ["nan", "inf", "-inf", "true", "1979-05-27", "07:32:00", "1979-05-27T07:32:00Z", "[]", "{}", '""', "-1",
     '"1e400 mm"', "1e308", '"1/0 in"', '"0x10 mm"', '"\\u0000"', '"' + "9" * 3000 + ' mm"',
     "1" + "0" * 400, '"../../x"', '"10 + 2 mm"', '"9,5 mm"', "[[[[]]]]"],
)  # fmt: skip
@pytest.mark.parametrize("key", ["cut_width", "cut_depth", "tools_bit", "plate_thickness", "make_kerf"])
def test_what_is_no_length(call: Call, here: Path, key: str, value: str) -> None:
    """NaN, dates, booleans, huge numbers, expressions where a length belongs: refused, every line about that key."""
    (here / "a.toml").write_text(job_text(**{key: value}), encoding="utf-8")
    said = call("make", "a.toml", "--for", "cnc")
    name = key.replace("_", ".")
    assert (said.status, said.out) == (2, "")
    assert [line for line in said.faults if f": {name}" in line] == said.faults
    assert listing(here) == ["a.toml"]


@pytest.mark.parametrize("title", ["../../x", "/etc", "C:\\\\x", "~", "..", "$(id)", "%s{0}", "<b>&amp;"])
def test_a_title_is_never_a_path(call: Call, here: Path, title: str) -> None:
    """Whatever a title looks like, the files are named after the job's file, in the folder of --out."""
    (here / "a.toml").write_text(job_text(title=f'"{title}"'), encoding="utf-8")
    assert call("make", "a.toml", "--out", "out").status == 0
    names = ("a.json", "a_cnc.svg", "a_cnc_mm.dxf", "a_setup.pdf")
    assert listing(here) == ["a.toml", "out", "out/a", *(f"out/a/{name}" for name in names)]


@pytest.mark.parametrize("title", ["\\u001b[31mred", "a\\nb", "\\u0000", "\\u202e", "", "   ", "x" * 81])
def test_titles_that_are_refused(call: Call, here: Path, title: str) -> None:
    """Control characters, nothing, or more than fits a label: one line without any of them in it."""
    (here / "a.toml").write_text(job_text(title=f'"{title}"'), encoding="utf-8")
    line = refused(call, here, "make", "a.toml")
    assert line.startswith("a.toml:1: title: ")
    assert line.isprintable()


def test_characters_that_cannot_be_lettered_or_printed(call: Call, here: Path) -> None:
    """A title in another script is never dropped silently: a stop for the label, a fault for the paper."""
    text = job_text(title='"日本"', make_for='["cnc", "paper"]')
    (here / "a.toml").write_text(text, encoding="utf-8")
    said = call("make", "a.toml")
    assert (said.status, said.err) == (1, "")
    assert '  stop     title: "日本" cannot be engraved: there is no single-line letter for' in said.out
    (here / "a.toml").write_text(text.replace("label = true", "label = false"), encoding="utf-8")
    assert "the pattern's font cannot print" in refused(call, here, "make", "a.toml")
    assert call("make", "a.toml", "--for", "cnc").status == 0


@pytest.mark.parametrize("name", ["CON.toml", "nul.toml", "com1.x.toml", "LPT9.toml", "x" * 120 + ".toml", "a?.toml",
                                  "a\tb.toml", "a\nb.toml", " .toml", "a..toml", "\u202ea.toml"])  # fmt: skip
def test_job_names_that_no_file_should_have(call: Call, here: Path, name: str) -> None:
    """A name some system reserves, cannot hold or would shorten: one line, before anything is made."""
    (here / name).write_text(job_text(), encoding="utf-8")
    line = refused(call, here, "make", name)
    assert "cannot name the files made from this job" in line
    assert line.isprintable()


@pytest.mark.parametrize(
    "name", ["my rail.toml", "Zapfen für Tür.toml", "日本.toml", "-dash.toml", "a.b.c.toml", "job"]
)
def test_job_names_that_are_unusual(call: Call, here: Path, name: str) -> None:
    """Spaces, other scripts, dashes and points are no hindrance; the files carry the name."""
    (here / name).write_text(job_text(), encoding="utf-8")
    stem = Path(name).stem
    assert call("make", "--", name).status == 0
    assert (here / "templates" / stem / f"{stem}_cnc_mm.dxf").is_file()


def test_a_name_too_long_for_any_disk(call: Call, here: Path) -> None:
    """A path the system itself refuses: one line."""
    assert "cannot be read" in refused(call, here, "check", "y" * 5000 + ".toml")


def test_a_folder_called_like_a_job(call: Call, here: Path) -> None:
    """A folder x.toml is a folder of jobs, here without one; inside another it is passed over."""
    (here / "x.toml").mkdir()
    assert refused(call, here, "make", "x.toml") == ("x.toml: no job file in this folder (a job's name ends in .toml)")
    assert refused(call, here, "make", ".").startswith(".: no job file in this folder")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_named_pipe_does_not_hang(call: Call, here: Path) -> None:
    """A pipe, a device or a link to itself is no ordinary file: refused, alone, in a folder and as a profile."""
    os.mkfifo(here / "pipe.toml")
    assert refused(call, here, "make", "pipe.toml") == "pipe.toml: this is not an ordinary file"
    assert refused(call, here, "make", ".") == "pipe.toml: this is not an ordinary file"
    assert refused(call, here, "check", "/dev/zero") == "/dev/zero: this is not an ordinary file"
    (here / "loop.toml").symlink_to("loop.toml")
    assert refused(call, here, "check", "loop.toml").startswith("loop.toml: cannot be read (")
    (here / "pipes").mkdir()
    os.mkfifo(here / "pipes" / "bits.toml")
    assert refused(call, here, "profiles", "bits", "--profiles", "pipes") == (
        "pipes/bits.toml: this is not an ordinary file"
    )


@pytest.mark.parametrize("error", [PermissionError(13, "Permission denied"), OSError(5, "Input/output error")])
def test_a_disk_that_fails(call: Call, here: Path, monkeypatch: pytest.MonkeyPatch, error: OSError) -> None:
    """A folder that may not be written, or a disk that breaks: one line, nothing half-written."""
    (here / "a.toml").write_text(job_text(), encoding="utf-8")

    def failing(*_: object, **__: object) -> None:
        raise error

    with monkeypatch.context() as patch:
        patch.setattr(Path, "mkdir", failing)
        line = refused(call, here, "make", "a.toml")
    assert line.startswith("templates/a/a_cnc_mm.dxf: cannot be written: ")
    assert call("make", "a.toml").status == 0
    before = {p: p.read_bytes() for p in here.rglob("*") if p.is_file()}
    with monkeypatch.context() as patch:
        patch.setattr("jigtemplates.writers.files.os.replace", failing)
        refused(call, here, "make", "a.toml", "--bit", "8 mm")
    assert {p: p.read_bytes() for p in here.rglob("*") if p.is_file()} == before


BROKEN = {
    "own/bits.toml: the file is empty": b"",
    "own/bits.toml:1: not UTF-8 text": b"\xff",
    'own/bits.toml:1: unknown key "bitz" (did you mean "bits"?)': b"[bitz]",
    "own/bits.toml:1: bits: ": b"bits = 3",
    "own/bits.toml:1: bits.x: ": b"bits.x = 3",
    "own/bits.toml: tables or lists are nested too deeply": b"a = " + b"[" * 20_000,
}


@pytest.mark.parametrize(("line", "data"), BROKEN.items())
def test_a_broken_profile_file(call: Call, here: Path, line: str, data: bytes) -> None:
    """A folder of profiles with a broken file: its line, status 2, whichever command meets it."""
    (here / "own").mkdir()
    (here / "own" / "bits.toml").write_bytes(data)
    (here / "a.toml").write_text(job_text(tools_bit='"x"'), encoding="utf-8")
    assert refused(call, here, "profiles", "bits", "--profiles", "own").startswith(line)
    said = call("make", "a.toml", "--profiles", "own")
    assert said.status == 2
    assert any(line in fault for fault in said.faults)
    assert not (here / "templates").exists()


def test_a_process_of_ones_own_that_is_broken(call: Call, here: Path) -> None:
    """A profile that only the writers need is read before anything is written: its faults, and no file."""
    (here / "profiles").mkdir()
    (here / "profiles" / "own.toml").write_text('[processes.cnc]\nkerf = "wide"\n', encoding="utf-8")
    (here / "a.toml").write_text(job_text(), encoding="utf-8")
    said = call("make", "a.toml")
    assert (said.status, said.out) == (2, "")
    assert any(line.startswith("profiles/own.toml:2: processes.cnc.kerf: ") for line in said.faults)
    assert not (here / "templates").exists()


def _toml(value: Any) -> str:
    """A made-up value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, str):
        escaped = "".join(c if c.isalnum() or c in " ./-" else f"\\U{ord(c):08x}" for c in value)
        return f'"{escaped}"'
    return repr(value)


WORDS = st.sampled_from(
    ["slot", "round", "rectangle", "mm", "in", "mdf", "M5", "corners", "edges", "ring", "points", "1/4 in", "0 mm",
     "3/8 in", "-5 mm", "1000 mm", "a4", "R12", "laser", "paper", "bench-frame-140", "12.7 mm", "0.001 mm", ""]
)  # fmt: skip
NAMES = st.sampled_from(
    ["pattern", "size", "inset", "count", "diameter", "points", "bore", "stem", "shank", "version", "units", "arcs",
     "across", "up", "frob"]
)  # fmt: skip
SCALARS = (
    st.booleans()
    | st.integers(-(10**6), 10**6)
    | st.integers(1, 60)
    | st.floats(-1e4, 1e4)
    | st.floats()
    | WORDS
    | st.text(st.characters(codec="utf-8"), max_size=20)
)
#: What a person might write: more of these jobs get as far as a template.
LIKELY = (
    st.integers(1, 60)
    | st.floats(0.1, 200).map(lambda number: round(number, 3))
    | st.sampled_from(["1/4 in", "3/8 in", "1/2 in", "12.7 mm", "17 mm", "1-1/2 in", "mdf", "slot", "in", "M6"])
    | st.fixed_dictionaries({"diameter": st.integers(1, 40)}, optional={"bore": st.integers(1, 40)})
    | st.fixed_dictionaries(
        {"pattern": st.just("ring"), "size": st.just("M4"), "count": st.integers(2, 9), "diameter": st.integers(1, 200)}
    )
)
VALUES = LIKELY | st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=4), max_leaves=6
)


@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from(["_".join(path) for path in KEYS]), VALUES, min_size=1, max_size=4))
def test_any_value_of_any_key(call: Call, here: Path, changed: dict[str, Any]) -> None:
    """Whatever stands behind a key: status 0, 1 or 2, lines one could print, and no file outside the folder."""
    with tempfile.TemporaryDirectory(dir=here) as folder:
        job = Path(folder, "job.toml")
        job.write_text(job_text(**{key: _toml(value) for key, value in changed.items()}), encoding="utf-8")
        said = call("make", str(job), "--for", "cnc", "--out", f"{folder}/out")
        assert said.status in (0, 1, 2)
        assert not blames_itself(said.err)
        assert all(line.isprintable() and line for line in said.faults)
        assert bool(said.faults) == (said.status == 2)
        assert ("out" in os.listdir(folder)) == (said.status == 0)
        assert listing(here) == sorted(
            {Path(folder).name, *(f"{Path(folder).name}/{n}" for n in listing(Path(folder)))}
        )


@settings(deadline=None, max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes_as_a_job(call: Call, here: Path, data: bytes) -> None:
    """Any bytes at all: status 2, at least one printable line, nothing written."""
    (here / "a.toml").write_bytes(data)
    said = call("make", "a.toml")
    assert (said.status, said.out) == (2, "")
    assert said.faults
    assert all(line.isprintable() for line in said.faults)
    assert not blames_itself(said.err)
    assert listing(here) == ["a.toml"]


@settings(deadline=None, max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(["check", "make", "new", "profiles", "--json", "--for", "laser", "--out", "--bit", "-",
                                 "--", "a.toml", "", "\x1b[1m", "bits", "--version", "-h", "--shape", "é"]),
                max_size=5))  # fmt: skip
def test_any_words_as_a_call(call: Call, here: Path, words: list[str]) -> None:
    """Any words in any order: status 0, 1 or 2 and printable lines on stderr."""
    for path in here.iterdir():
        if path.is_file():
            path.unlink()
    said = call(*words)
    assert said.status in (0, 1, 2)
    assert not blames_itself(said.err)
    assert all(line.isprintable() for line in said.faults)
