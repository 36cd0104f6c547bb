"""Starter jobs: they work as they stand, every commented key works too, and nothing is overwritten."""

import json
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from jigtemplates.commands import new
from jigtemplates.errors import InputError, OutputError
from jigtemplates.manifest import plain
from jigtemplates.parameters.load import job_from_text, jobs_from_text
from jigtemplates.parameters.schema import shipped_schema
from jigtemplates.profiles import Profiles
from jigtemplates.report import report_on
from jigtemplates.starter import SHAPES, starter_text
from jigtemplates.starter_file import new_job_path, typed, write_starter

Call = Callable[..., Any]

#: Every shape that a job may have, in the order of the documentation.
ALL = ("slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge")
EVERY = [(shape, units) for shape in ALL for units in ("mm", "in")]
#: A key that waits behind a # in the text.
WAITING = re.compile(r"# ([a-z_]+) = ")


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_a_starter_can_be_made_as_it_stands(shape: str, units: str) -> None:
    """Every shape in both units: no stop and no warning, in the shape and units that were asked for."""
    job = job_from_text(starter_text(shape, units, "a.toml"), profiles=Profiles())
    assert job.cut.shape == shape
    assert [f.message for f in report_on(job).findings if f.level.value != "note"] == []
    assert tomllib.loads(starter_text(shape, units, "a.toml"))["units"] == units


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_an_editor_accepts_a_starter(shape: str, units: str) -> None:
    """The schema has no objection to it, by an independent validator, but has one as soon as its shape is another."""
    validator = jsonschema.Draft202012Validator(json.loads(shipped_schema()))
    job = tomllib.loads(starter_text(shape, units, "a.toml"))
    assert validator.is_valid(job)
    job["cut"]["shape"] = "round" if shape != "round" else "slot"
    assert not validator.is_valid(job)


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_every_waiting_key_of_a_starter_works(shape: str, units: str) -> None:
    """Each key behind a # can be used by taking the # away: the job is read, and is not stopped."""
    lines = starter_text(shape, units, "a.toml").splitlines()
    inside = {at for block in waiting_tables(lines).values() for at in block}
    waiting = [(at, found[1]) for at, line in enumerate(lines) if at not in inside and (found := WAITING.match(line))]
    assert {key for _, key in waiting} == {
        "notes", "x", "y", "bit", "bushing", "pass_depth", "router", "holder", "corner_radius", "stand_off", "wall",
        "label", "rebate", "turn", "screws", "papers", "kerf", "dxf", "print", "printed_bar", "mirrored", "repeat",
        "pair",
    }  # fmt: skip
    for at, key in waiting:
        instead = {"holder": ("holder", "width", "height", "screws")}.get(key, (key,))
        assert_works(with_lines(lines, {at}, instead), shape, key)


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_every_waiting_table_of_a_starter_works(shape: str, units: str) -> None:
    """A table behind # works whole, and without each key that it does not need."""
    lines = starter_text(shape, units, "a.toml").splitlines()
    tables = waiting_tables(lines)
    mortise = shape in ("slot", "round", "rectangle")
    optional = [*(["tenon"] if mortise else []), *(["inlay"] if shape != "hinge" else [])]
    assert list(tables) == ["cuts.shallow", "work", *optional, "fit"]
    for name, block in tables.items():
        keys = {at: lines[at].split()[1] for at in block[1:]}
        assert_works(with_lines(lines, set(block)), shape, name)
        for at, key in keys.items():
            if key not in ("thickness", "height", "joints", "plug_bushing", "plug_bit"):
                assert_works(with_lines(lines, set(block) - {at}), shape, f"{name} without {key}")


def waiting_tables(lines: list[str]) -> dict[str, list[int]]:
    """The numbers of the lines of each table behind #, by its name; a blank line ends it."""
    tables: dict[str, list[int]] = {}
    for at, line in enumerate(lines):
        found = re.match(r"# \[([a-z.]+)\]", line)
        if found:
            tables[found[1]] = [n for n in range(at, at + 12) if all(lines[at : n + 1])]
    return tables


def with_lines(lines: list[str], used: set[int], instead: tuple[str, ...] = ()) -> str:
    """The text with those lines used, and the [plate] or other keys that they replace left out."""
    table = next((line for line in reversed(lines[: min(used, default=0)]) if line.startswith("[")), "")
    kept, here = [], ""
    for at, line in enumerate(lines):
        here = line if line.startswith("[") else here
        if at in used:
            kept.append(line.removeprefix("# "))
        elif not (here == table and line.split(" ")[0] in instead):
            kept.append(line)
    return "\n".join(kept)


def assert_works(text: str, shape: str, what: str) -> None:
    """One job, or several, of that shape, and none stopped."""
    for job in jobs_from_text(text, profiles=Profiles()):
        assert job.cut.shape == shape
        found = report_on(job)
        assert not found.stopped, (what, [f.message for f in found.findings if f.level.value == "stop"])


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_a_starter_names_every_key(shape: str, units: str) -> None:
    """Every key of every table of a job stands in the text, but for those of other shapes."""
    text = starter_text(shape, units, "a.toml")
    schema = json.loads(shipped_schema())["$defs"]
    tables = ["ToolsTable", "PlateTable", "ScrewsTable", "WorkTable", "MakeTable", "PrintTable", "FitTable"]
    tables += ["TenonTable"] if shape in ("slot", "round", "rectangle") else []
    tables += ["InlayTable"] if shape != "hinge" else []
    for table in tables:
        for key in schema[table]["properties"]:
            assert re.search(rf"\b{key}\b", text), (table, key)


#: What is taken without a key where that is no value, in the words of its comment.
IN_WORDS = {
    "x": "the plate's middle", "y": "the plate's middle", "wall": "the sheet's", "turn": "it is not",
    "mate_depth": "the same depth", "strip": "as long as it takes", "from_face": "half the thickness",
    "plug_bit": "the bit of [tools]", "plug_thickness": "as deep as the cut", "tenon": "[tenon]'s",
    "printed_bar": "100 mm each", "rebate": "it is not", "pair": "this plate alone",
}  # fmt: skip
#: Keys without which there is nothing, or that stand for another one.
WITHOUT = ("notes", "bit", "bushing", "router", "holder", "screws", "depth", "height", "length", "from_end")
ELSE = re.compile(r"# (?P<key>[a-z_]+) = (?P<value>.*?)  +#.*\belse (?P<otherwise>[^;]+)")


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("shape", ["slot", "rectangle", "hinge"])  # all that differ in their waiting keys
def test_a_waiting_key_says_what_counts_without_it(shape: str, units: str) -> None:
    """Behind "else": the job with that value is the job without the key. Few keys have words for it, or nothing."""
    lines = starter_text(shape, units, "a.toml").splitlines()
    tables, seen = waiting_tables(lines), set()
    for at, line in enumerate(lines):
        waiting = WAITING.match(line)
        if waiting is None or waiting[1] in WITHOUT:
            continue
        block = next((block for block in tables.values() if at in block), [])
        if at in block[:2] and line.split()[1] in ("thickness", "joints", "plug_bushing"):
            continue  # what the table cannot be without
        found = ELSE.match(line)
        assert found, line
        key, otherwise = found["key"], found["otherwise"]
        seen.add(key)
        if key in ("kerf", "pass_depth") and not block:
            words = {"kerf": "the profile's", "pass_depth": "half the bit's diameter, "}
            assert otherwise.startswith(words[key])
        elif IN_WORDS.get(key) != otherwise:
            used = {*block} - {at}
            changed = with_value(lines, at, with_defaults(found["value"], otherwise))
            plainer = with_value(lines, at, found["value"].replace(", direction = 90", ""))  # of a repeat only that
            without = with_lines(plainer, used | {at}) if key == "repeat" else with_lines(lines, used)
            assert resolved_from(with_lines(changed, used | {at})) == resolved_from(without), line
    tenon = {"fit", "glue_room", "mate_depth", "edge", "kerf", "waste", "strip"}
    assert {
        "mirrored",
        "stand_off",
        "rebate",
        "label",
        "papers",
        "dxf",
        "print",
        "turned",
        "off_centre",
        "too_loose",
    } <= seen
    assert tenon <= seen or shape not in ("slot", "round", "rectangle")


def with_value(lines: list[str], at: int, value: str) -> list[str]:
    """The lines with another value of the key that waits in one of them."""
    return [*lines[:at], f"{lines[at].partition('=')[0]}= {value}", *lines[at + 1 :]]


def with_defaults(value: str, otherwise: str) -> str:
    """The value with what counts without the key, or in an inline table without each of its keys."""
    if not value.startswith("{"):
        return as_toml(otherwise)
    if "count" in value:  # of a repeat its direction alone may be left out
        return re.sub("direction = 90", f"direction = {as_toml(otherwise)}", value)
    given = iter(otherwise.split(", "))
    return re.sub(r"(?<== )[^,}]+(?=[,} ])", lambda _: as_toml(next(given)), value)


def as_toml(text: str) -> str:
    """A length with its unit as a text, by its millimetres where those stand beside; else as it is."""
    beside = re.fullmatch(r"[-0-9./]+ in \(([0-9.]+ mm)\)", text)
    length = beside[1] if beside else text
    return f'"{length}"' if re.fullmatch(r"[-0-9./]+ (mm|in)", length) else length


def resolved_from(text: str) -> Any:
    """The resolved jobs, but for the words and for what says which keys were left out."""
    told = ("text", "assumptions", "measured", "taken")

    def bare(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: bare(item) for key, item in value.items() if key not in told}
        return [bare(item) for item in value] if isinstance(value, list) else value

    return [bare(plain(job)) for job in jobs_from_text(text, profiles=Profiles())]


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_the_comments_of_a_starter_stand_in_one_column(shape: str, units: str) -> None:
    """Behind a value the comment begins in column 34, or two spaces on where the value is longer."""
    lines = starter_text(shape, units, "a.toml").splitlines()
    assert len(lines) <= 90
    for line in lines:
        found = re.fullmatch(r"((?:# )?[a-z_]+ = .*\S|(?:# )?\[[a-z.]+\])( +)(#.*)", line)
        if found:
            code, gap, _ = found.groups()
            assert len(code + gap) == max(34, len(code) + 2), line
        assert len(line) <= 110
        assert line.isascii()


def test_every_shape_has_a_starter(call: Call) -> None:
    """What a job may have, what there are texts for and what `new` offers are the same; its help names them."""
    assert SHAPES == new.SHAPES == ALL
    assert f"[{'|'.join(ALL)}]" in "".join(call("new", "--help").out.split())


def test_a_starter_names_the_commands_for_it() -> None:
    """The file says how to check and make it, with its name in quotes where it has a space."""
    assert "# Make the files:       jigtemplates make rail.toml\n" in starter_text("slot", "mm", "rail.toml")
    assert 'jigtemplates check "my rail.toml"\n' in starter_text("slot", "mm", "my rail.toml")
    assert (typed("a.toml"), typed(Path("a b.toml"))) == ("a.toml", '"a b.toml"')


@pytest.mark.parametrize(("shape", "units"), EVERY)
def test_new_writes_a_job_that_check_accepts(call: Call, here: Path, shape: str, units: str) -> None:
    """`new` asks nothing in a pipe, writes one file, says what to do next, and `check` of it is status 0."""
    said = call("new", "first.toml", "--shape", shape, "--units", units)
    assert said == (0, "wrote first.toml: change it, then: jigtemplates check first.toml\n", "")
    assert [p.name for p in here.iterdir()] == ["first.toml"]
    assert b"\r" not in (here / "first.toml").read_bytes()
    checked = call("check", "first.toml")
    assert (checked.status, checked.err) == (0, "")
    assert "  warning" not in checked.out


def test_new_without_a_shape_asks_nothing_in_a_pipe(shell: Call, here: Path) -> None:
    """With neither name nor shape, and nobody to ask: slot.toml, in mm."""
    said = shell("new")
    assert said == (0, "wrote slot.toml: change it, then: jigtemplates check slot.toml\n", "")
    written = tomllib.loads((here / "slot.toml").read_text(encoding="utf-8"))
    assert (written["cut"]["shape"], written["units"]) == ("slot", "mm")


def test_new_asks_for_the_shape_where_somebody_is_looking(
    call: Call, here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a terminal the answer is the shape; a name that will not do is refused before anything is asked."""
    monkeypatch.setattr("jigtemplates.commands.new.is_terminal", lambda _: True)
    monkeypatch.setattr("click.prompt", lambda *_, **__: "round")
    assert call("new").out.startswith("wrote round.toml")
    monkeypatch.setattr("click.prompt", lambda *_, **__: pytest.fail("asked"))
    assert call("new", "con").status == 2
    assert call("new", "other", "--shape", "slot").status == 0


def test_new_to_the_screen_writes_no_file(call: Call, here: Path) -> None:
    """`new -` prints the job alone, so that it can be redirected."""
    said = call("new", "-", "--shape", "round")
    assert (said.status, said.err, list(here.iterdir())) == (0, "", [])
    assert tomllib.loads(said.out)["cut"]["shape"] == "round"


def test_new_never_overwrites(call: Call, here: Path) -> None:
    """A file that is there stays byte for byte: status 2 and one line."""
    (here / "mine.toml").write_text("mine", encoding="utf-8")
    said = call("new", "mine")
    assert said == (2, "", "mine.toml: is there already and is not overwritten (give another name)\n")
    assert (here / "mine.toml").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("asked", "named"),
    [("rail", "rail.toml"), ("rail.toml", "rail.toml"), ("RAIL.TOML", "RAIL.TOML"), ("v1.2", "v1.2.toml")],
)
def test_the_new_file_ends_in_toml(here: Path, asked: str, named: str) -> None:
    """The ending is added where it is missing, so that a folder of jobs has it."""
    assert new_job_path(Path("sub", asked)) == Path("sub", named)


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        (".", ".: this is a folder (give the name of a file in it)"),
        ("", "PATH is empty (name a file)"),
        ("/", "/: this is a folder (give the name of a file in it)"),
        (".toml", 'the new job: ".toml" cannot name the files made from this job (it begins with a dot, which hides'),
        ("con", 'the new job: "con" cannot name the files made from this job (Windows keeps this name for a device'),
        ("a:b", 'the new job: "a:b" cannot name the files made from this job (it has the character :'),
        ("a\nb", 'the new job: "a\\nb" cannot name the files made from this job (it has the character'),
        ("x" * 101, f'the new job: "{"x" * 39}…" cannot name the files made from this job (it has 101 characters'),
    ],
)
def test_a_name_that_no_job_may_have_is_refused(call: Call, here: Path, asked: str, line: str) -> None:
    """`new` does not write what `check` would refuse: status 2, one line, nothing written."""
    said = call("new", asked)
    assert (said.status, said.out, len(said.faults), list(here.iterdir())) == (2, "", 1, [])
    assert said.err.startswith(line)


def test_a_place_that_cannot_be_written(here: Path) -> None:
    """A folder that is missing, or a name no system takes: OutputError with the reason."""
    with pytest.raises(OutputError, match=r"^none/a\.toml: the folder none is not there \(make it first\)$"):
        write_starter(Path("none/a.toml"), "")
    with pytest.raises(OutputError, match=r"^a\\x00\.toml: cannot be written: the name holds a character"):
        write_starter(Path("a\0.toml"), "")
    with pytest.raises(InputError, match="is there already"):
        write_starter(Path(), "")


def test_the_schema_is_written_for_an_editor(here: Path, call: Call) -> None:
    """`new --schema FILE` writes the very schema that is shipped, and never over a file that is there."""
    done = call("new", "--schema", "job.schema.json")
    assert (done.status, done.out) == (0, "wrote job.schema.json\n")
    assert json.loads((here / "job.schema.json").read_text(encoding="utf-8"))["title"] == "A job of jigtemplates"
    again = call("new", "--schema", "job.schema.json")
    assert again.status == 2
    assert again.err == "job.schema.json: is there already and is not overwritten (give another name)\n"
    assert [path.name for path in here.iterdir()] == ["job.schema.json"]


@pytest.mark.parametrize("args", [("first.toml", "--shape", "slot"), ("--schema", "job.schema.json")])
def test_a_full_disk_leaves_no_half_a_file(
    call: Call, here: Path, monkeypatch: pytest.MonkeyPatch, args: tuple[str, ...]
) -> None:
    """`new` and `new --schema` on a full disk: status 2, one line, and nothing in the folder."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("jigtemplates.writers.new_file.os.fsync", full)
    said = call("new", *args)
    name = next(arg for arg in args if "." in arg)
    assert said == (2, "", f"{name}: cannot be written: the disk is full (make room or choose another place)\n")
    assert list(here.iterdir()) == []


def test_a_name_that_begins_with_a_hyphen(call: Call, here: Path) -> None:
    """`new ./-x` says ./-x.toml, on the screen and in the file, for the commands to take it as a name."""
    said = call("new", "./-x", "--shape", "slot")
    assert said == (0, "wrote ./-x.toml: change it, then: jigtemplates check ./-x.toml\n", "")
    assert "jigtemplates make ./-x.toml\n" in (here / "-x.toml").read_text(encoding="utf-8")
    assert call("check", "./-x.toml").status == 0
    assert typed("-a b.toml") == '"./-a b.toml"'
