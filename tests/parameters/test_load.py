"""Reading a job from a file or from text, and never anything but a job or its lines."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text, load_job
from jigtemplates.profiles import Profiles

TEXT = """\
title = "Pull recess"
units = "mm"
notes = "two of them"
[cut]
shape = "round"
diameter = 35
depth = 13
x = 40
[tools]
bit = "10 mm"
bushing = { diameter = 30, bore = 22, stem = 4 }
[plate]
width = 120
height = 90
thickness = 6
screws = { pattern = "ring", size = "#8", count = 3, diameter = 70 }
[make]
for = ["paper"]
papers = ["a4"]
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A good job in a folder of its own."""
    path = tmp_path / "pull.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def test_file_and_text_agree(file: Path) -> None:
    """A file and its text give the same job but for where it came from."""
    from_file = load_job(file, profiles=Profiles())
    from_text = job_from_text(TEXT, name="pull", profiles=Profiles())
    assert (from_file.stem, from_file.source, from_text.source) == ("pull", file, None)
    assert (from_file.cut, from_file.tools, from_file.plate) == (from_text.cut, from_text.tools, from_text.plate)
    assert from_file.make == from_text.make
    assert from_file.notes == "two of them"
    assert job_from_text(TEXT.encode(), name="pull", profiles=Profiles()) == from_text


def test_path_as_text(file: Path) -> None:
    """A path may be plain text."""
    assert load_job(str(file), profiles=Profiles()).source == file


def test_profiles_beside_the_job(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without profiles given, those in the folder beside the job are seen, and the shipped ones."""
    monkeypatch.setattr("jigtemplates.profiles.user_folder", lambda: file.parent / "nobody")
    (file.parent / "profiles").mkdir()
    (file.parent / "profiles" / "own.toml").write_text('[bits."my bit"]\ndiameter = "9.9 mm"\n')
    assert load_job(file, bit="my bit").tools.bit.diameter.text == "9.9 mm"
    assert load_job(file, bushing="bushing 1/2 in").tools.bushing.origin == "shipped"


def test_faulty_profiles_are_faults(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A faulty profile beside the job is named in its own line."""
    monkeypatch.setattr("jigtemplates.profiles.user_folder", lambda: file.parent / "nobody")
    (file.parent / "profiles").mkdir()
    own = file.parent / "profiles" / "own.toml"
    own.write_text('[bits."my bit"]\ndiameter = "9,9 mm"\n')
    with pytest.raises(InputError) as caught:
        load_job(file, bit="my bit")
    assert caught.value.lines == (f'{own}:2: bits.my bit.diameter: "9,9 mm" is not a length (write 9.9 mm)',)


def test_options_of_every_type(file: Path) -> None:
    """A tool may be given as text, a number or a Length; targets as any sequence."""
    length = parse_length("3/8 in")
    job = load_job(file, profiles=Profiles(), bit=length, bushing=17.5, targets=("laser", "cnc"))
    assert (job.tools.bit.diameter, job.tools.bushing.diameter.mm) == (length, 17.5)
    assert job.make.targets == ("laser", "cnc")


@pytest.mark.parametrize("name", ["CON", "rail.", "a" * 101, ""])
def test_names_that_cannot_name_files(name: str) -> None:
    """A job's name that could not be a file's is refused before anything is read."""
    with pytest.raises(InputError, match=r'^job: ".*" cannot name the files made from this job \(.+\)$'):
        job_from_text(TEXT, name=name)


def test_file_whose_name_cannot_name_files(file: Path) -> None:
    """The same for a file, named as it was given."""
    bad = file.with_name("nul.toml")
    bad.write_text(TEXT)
    with pytest.raises(InputError) as caught:
        load_job(bad)
    assert caught.value.lines == (
        f'{bad}: "nul" cannot name the files made from this job (Windows keeps this name for a device; rename the job)',
    )


def test_the_files_name_starts_each_line(file: Path) -> None:
    """Every line about a file starts with the path as it was given."""
    file.write_text(TEXT.replace("35", "0").replace("13", "-1"))
    with pytest.raises(InputError) as caught:
        load_job(file)
    assert caught.value.lines == (
        f"{file}:6: cut.diameter: 0 is not a size (write a length greater than 0)",
        f"{file}:7: cut.depth: -1 is not a size (write a length greater than 0)",
    )


def test_missing_file(tmp_path: Path) -> None:
    """A file that is not there is one line."""
    with pytest.raises(InputError) as caught:
        load_job(tmp_path / "rail.toml")
    assert caught.value.lines == (f"{tmp_path / 'rail.toml'}: there is no such file",)


LITERALS = st.one_of(
    st.sampled_from([
        "1", "-1", "0", "1e400", "nan", "-inf", "0x" + "f" * 5000, "true", "[]", "[[]]", "[[1, 2]]", "[[1, 'x'], 3]",
        "{}", "{ diameter = 1 }", "{ shape = 'slot' }", "{ '<text>' = 1 }", "'<table>'", "1979-05-27", "07:32:00", "''",
        "'12,7 mm'", "'\U0001f600'", '"\\u0000"', "'corners'", "'ring'", "'slot'", "'round'", "'a4'",
        "'" + "9" * 39 + "m'",
    ]),
    st.integers(-(10**6), 10**6).map(str),
    st.text("0123456789./-, mincRx½", max_size=12).map(lambda text: f"'{text}'"),
)  # fmt: skip
KEYS = st.sampled_from([
    "title", "units", "notes", "cut", "tools", "plate", "make", "shape", "width", "length", "diameter", "depth",
    "angle", "x", "bit", "bushing", "clearance", "screws", "holder", "for", "kerf", "dxf", "papers", "printed_bar",
    "pattern", "'<text>'",
])  # fmt: skip


@st.composite
def spoiled(draw: st.DrawFn) -> str:
    """A job with lines dropped, values replaced and keys added, nearly always still TOML."""
    lines = [line for line in TEXT.splitlines() if line.startswith("[") or draw(st.integers(0, 9))]
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        key = lines[at].partition("=")[0].strip() if "=" in lines[at] and draw(st.booleans()) else draw(KEYS)
        lines[at : at + draw(st.integers(0, 1))] = [f"{key} = {draw(LITERALS)}"]
    return "\n".join(lines)


def outcome(read: Callable[[], Job]) -> tuple[str, ...]:
    """The lines of an InputError, or none when a job was read; any other exception is the test's failure."""
    try:
        read()
    except InputError as error:
        assert error.lines  # noqa: PT017 - an error without a line would look like success
        return error.lines
    return ()


@settings(max_examples=300, deadline=None)
@given(spoiled())
@example(TEXT)
@example(TEXT.replace('"round"', "0x" + "f" * 5000))
@example(TEXT.replace('"mm"', "0x" + "f" * 5000, 1))
@example(TEXT.replace("[cut]", "[cut]\nshape.a = 1").replace('shape = "round"', ""))
def test_any_job_is_read_or_refused_in_lines(text: str) -> None:
    """However a job is spoiled, there is a job or printable lines of modest length, never a traceback."""
    for line in outcome(lambda: job_from_text(text, name="rail", profiles=Profiles())):
        assert line.isprintable()
        assert len(line) < 400


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.text(max_size=60), st.binary(max_size=60)))
def test_any_text_is_read_or_refused_in_lines(text: str | bytes) -> None:
    """No text or bytes whatever are read as a job by accident, nor raise anything but an InputError."""
    assert outcome(lambda: job_from_text(text, profiles=Profiles()))


@settings(max_examples=150, deadline=None)
@given(
    st.one_of(st.text(max_size=20), st.integers(), st.floats()),
    st.one_of(st.none(), st.lists(st.text(max_size=8), max_size=3)),
    st.text(max_size=12),
)
def test_any_option_is_read_or_refused_in_lines(tool: str | float, targets: list[str] | None, name: str) -> None:
    """No option and no name raise anything but an InputError."""
    for line in outcome(lambda: job_from_text(TEXT, name=name, profiles=Profiles(), bit=tool, targets=targets)):
        assert line.isprintable()
