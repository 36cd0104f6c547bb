"""One job file with several sizes: what they share, what each has of its own, and whose fault is whose."""

# ruff: noqa: E501 - a line that people see is kept whole, so that it can be searched for

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.family import MOST_MEMBERS, stems_in
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text, jobs_from_text, load_job, load_jobs
from jigtemplates.profiles import Profiles

FAMILY = """\
title = "Chair rail"
units = "mm"
[cut]
shape = "slot"
depth = 20
length = 40
[cuts.small]
width = 8
[cuts.big_one-2]
width = 12
length = "60 mm"
title = "The big one"
[tools]
bit = "1/4 in"
bushing = "1/2 in"
[plate]
width = 140
height = 140
thickness = 6
"""

SHARED = '[cut]\nshape = "slot"\ndepth = 20\nlength = 40\n'
NO_SIZE = "0 is not a size (write a length greater than 0)"
NO_NAME = "cannot name a size (letters, digits, - and _; 1 to 40)"


def read(*changes: tuple[str, str], text: str = FAMILY, **options: Any) -> tuple[Job, ...]:
    """The family with pieces of its text replaced; each piece must be there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return jobs_from_text(text, name="rail", profiles=Profiles(), **options)


def lines(*changes: tuple[str, str], **options: Any) -> tuple[str, ...]:
    """The lines with which the changed family is refused."""
    with pytest.raises(InputError) as caught:
        read(*changes, **options)
    return caught.value.lines


def test_each_size_is_a_job() -> None:
    """Sizes in the file's order, each with its own name for files, its title and the shared keys."""
    small, big = read()
    assert [(j.stem, j.file_stem, j.member) for j in (small, big)] == [
        ("rail-small", "rail", "small"),
        ("rail-big_one-2", "rail", "big_one-2"),
    ]
    assert (small.title, big.title) == ("Chair rail, small", "The big one")
    assert [(j.cut.width, j.cut.length, j.cut.depth) for j in (small, big)] == [(8, 40, 20), (12, 60, 20)]
    assert small.tools == big.tools
    assert small.plate == big.plate


def test_no_shared_cut_is_needed() -> None:
    """Without [cut] every size says all of its own."""
    whole = ("width = 8", 'shape = "round"\ndiameter = 30\ndepth = 5')
    other = ('width = 12\nlength = "60 mm"', 'shape = "slot"\nwidth = 8\nlength = 30\ndepth = 9')
    first, second = read((SHARED, ""), whole, other)
    assert (first.cut.shape, first.cut.width, second.cut.depth) == ("round", 30, 9)


def test_a_job_without_sizes_is_one() -> None:
    """`jobs_from_text` always works: one job, with no member's name, and the file's stem for both."""
    (one,) = read(
        ("[cuts.small]\n", ""), ('[cuts.big_one-2]\nwidth = 12\nlength = "60 mm"\ntitle = "The big one"\n', "")
    )
    assert (one.stem, one.file_stem, one.member, one.title) == ("rail", "rail", None, "Chair rail")


def test_options_go_for_every_size() -> None:
    """Bit and targets given from outside are those of all."""
    jobs = read(bit="6 mm", targets=["cnc"])
    assert {j.tools.bit.diameter.mm for j in jobs} == {6}
    assert {j.make.targets for j in jobs} == {("cnc",)}


def test_a_fault_of_an_option_is_said_once() -> None:
    """A bit that cannot be read is one line, not one for each size."""
    assert lines(bit="6,5 mm") == ('--bit: "6,5 mm" is not a length (write 6.5 mm)',)


def test_from_a_file(tmp_path: Path) -> None:
    """A file is read the same way, and all its jobs know it."""
    path = tmp_path / "rail.toml"
    path.write_text(FAMILY, encoding="utf-8")
    assert [(j.stem, j.source) for j in load_jobs(path, profiles=Profiles())] == [
        ("rail-small", path),
        ("rail-big_one-2", path),
    ]


def test_the_reader_of_one_job_refuses_a_family(tmp_path: Path) -> None:
    """`load_job` and `job_from_text` have one line that names the reader to use."""
    path = tmp_path / "rail.toml"
    path.write_text(FAMILY, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_job(path, profiles=Profiles())
    assert caught.value.lines == (f"{path}:7: cuts: holds several sizes (read them with load_jobs)",)
    with pytest.raises(InputError, match=r"^job:7: cuts: holds several sizes"):
        job_from_text(FAMILY, profiles=Profiles())


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("width = 8", 'width = "8,5"', 'rail:8: cuts.small.width: "8,5" is not a length (write 8.5)'),
        ("depth = 20", "depth = 0", f"rail:5: cut.depth: {NO_SIZE}"),
        ("width = 8", "width = 8\ndepth = 0", f"rail:9: cuts.small.depth: {NO_SIZE}"),
        (
            "length = 40",
            "length = 7",
            'rail:7: cuts.small.length: "7 mm" is less than the width "8 mm" (swap them and turn the slot by '
            'angle = 90, or use shape = "round")',
        ),
        ("width = 8", "widht = 8", None),
        ('shape = "slot"\n', "", 'rail:3: cut.shape: is missing (one of "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")'),
        ("depth = 20\n", "", "rail:3: cut.depth: is missing (depth of the cut in the work)"),
        ("width = 12\n", "", "rail:9: cuts.big_one-2.width: is missing (width across the slot)"),
        (SHARED, "cut = 3\n", "rail:3: cut: 3 does not fit here (write a table of keys)"),
        ("thickness = 6", "thickness = 0", f"rail:19: plate.thickness: {NO_SIZE}"),
        ('"Chair rail"', '" "', "rail:1: title: it is empty (write some text, or leave the key out)"),
        ('title = "Chair rail"\n', "", "rail: title: is missing (what the template is called on its label and sheets)"),
        (
            '"Chair rail"',
            '"' + "x" * 76 + '"',
            f'rail:7: cuts.small.title: "{"x" * 39}…" has 83 characters (at most 80)',
        ),
        ('"The big one"', "3", 'rail:12: cuts.big_one-2.title: 3 is not text (put it in quotes, such as "Bench rail")'),
        ("[cuts.small]", '[cuts."a b"]', f'rail:7: cuts.a b: "a b" {NO_NAME}'),
        (
            "[cuts.small]",
            f"[cuts.{'a' * 41}]",
            f'rail:7: cuts.{"a" * 39}…: "{"a" * 39}…" {NO_NAME}',
        ),
        (
            "[cuts.small]",
            "[cuts.Big_one-2]",
            'rail:9: cuts.big_one-2: differs only in capitals from "Big_one-2" (rename one)',
        ),
        (
            "[cuts.small]\nwidth = 8",
            "[cuts]\nsmall = 8",
            "rail:8: cuts.small: 8 does not fit here (write a table for each size, [cuts.NAME])",
        ),
    ],
)  # fmt: skip
def test_a_fault_names_its_size_or_what_is_shared(old: str, new: str, line: str | None) -> None:
    """One line each: at the size that is wrong, or once at what all share."""
    if line is None:
        assert lines((old, new)) == (
            "rail:7: cuts.small.width: is missing (width across the slot)",
            'rail:8: cuts.small: unknown key "widht" (did you mean "width"?)',
        )
    else:
        assert lines((old, new)) == (line,)


def test_without_a_shared_cut_what_is_missing_is_missing_in_each_size() -> None:
    """Where there is no [cut], no line can speak of one."""
    assert lines((SHARED, "")) == (
        'rail:3: cuts.small.shape: is missing (one of "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")',
        'rail:5: cuts.big_one-2.shape: is missing (one of "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")',
    )


@pytest.mark.parametrize(
    ("cuts", "line"),
    [
        ("cuts = 3", "rail:3: cuts: 3 does not fit here (write a table for each size, [cuts.NAME])"),
        ("[[cuts]]\nwidth = 3", "rail:3: cuts: a list does not fit here (write a table for each size, [cuts.NAME])"),
        ("[cuts]", "rail:3: cuts: holds 0 sizes (write a table for each size, [cuts.NAME]; 1 to 200)"),
        (
            "[cuts]\n" + "\n".join(f"a{n} = {{}}" for n in range(MOST_MEMBERS + 1)),
            "rail:3: cuts: holds 201 sizes (write a table for each size, [cuts.NAME]; 1 to 200)",
        ),
    ],
)
def test_a_table_of_sizes_that_is_none(cuts: str, line: str) -> None:
    """What stands at `cuts` must be tables, and not too many."""
    rest = "[tools]\nbit = 3\nbushing = 8\n[plate]\nwidth = 90\nheight = 90\nthickness = 6\n"
    assert lines(text=f'title = "t"\nunits = "mm"\n{cuts}\n{rest}') == (line,)


def test_a_name_too_long_for_files() -> None:
    """The file's name and the size's together must still name files."""
    with pytest.raises(InputError) as caught:
        jobs_from_text(FAMILY, name="r" * 95, profiles=Profiles())
    assert caught.value.lines == (
        f'{"r" * 95}: "{"r" * 39}…" cannot name the files made from this job (it has 101 characters; at most 100)',
    )


@pytest.mark.parametrize(
    ("text", "stems"),
    [
        (FAMILY, ("rail-small", "rail-big_one-2")),
        ("title = 3\n# no cuts here\n", ("rail",)),
        ("cuts = 3\n", ("rail",)),
        ("cuts = [\n", ("rail",)),
    ],
)
def test_the_stems_are_seen_without_checking(tmp_path: Path, text: str, stems: tuple[str, ...]) -> None:
    """The names of the folders a file will fill; a file that cannot be read has its own."""
    (tmp_path / "rail.toml").write_text(text, encoding="utf-8")
    assert stems_in(tmp_path / "rail.toml") == stems


def test_the_stems_of_what_is_no_file(tmp_path: Path) -> None:
    """A missing file, a folder, a file that is no text: their own names, and no error."""
    (tmp_path / "b.toml").write_bytes(b"cuts\xff")
    assert [stems_in(tmp_path / name) for name in ("a.toml", ".", "b.toml")] == [("a",), (tmp_path.name,), ("b",)]


Call = Callable[..., Any]


def test_a_family_file_makes_all_its_sizes(call: Call, here: Path) -> None:
    """`make` fills a folder for each size, named after file and size, and says a line of each."""
    (here / "rail.toml").write_text(FAMILY, encoding="utf-8")
    said = call("make", "rail.toml", "--for", "cnc")
    assert (said.status, said.err) == (0, "")
    assert sorted(p.name for p in (here / "templates").iterdir()) == ["rail-big_one-2", "rail-small"]
    assert (here / "templates" / "rail-small" / "rail-small_cnc_mm.dxf").is_file()
    assert [line for line in said.out.splitlines() if "files in" in line] == [
        "Chair rail, small: 4 files in templates/rail-small",
        "The big one: 4 files in templates/rail-big_one-2",
    ]


def test_check_shows_all_sizes(call: Call, here: Path) -> None:
    """`check --json` of a family is a list in its order."""
    (here / "rail.toml").write_text(FAMILY, encoding="utf-8")
    assert call("check", "rail.toml", "--json").out.count('"title"') == 2


def test_a_fault_in_one_size_makes_none(call: Call, here: Path) -> None:
    """A faulty size is named on stderr, status 2, and no size of that file is made; other files are."""
    (here / "rail.toml").write_text(FAMILY.replace("width = 8", "width = -8"), encoding="utf-8")
    (here / "good.toml").write_text(FAMILY, encoding="utf-8")
    said = call("make", ".", "--for", "cnc")
    assert (said.status, said.faults) == (
        2,
        ["rail.toml:8: cuts.small.width: -8 is not a size (write a length greater than 0)"],
    )
    assert sorted(p.name for p in (here / "templates").iterdir()) == ["good-big_one-2", "good-small"]


def test_a_size_may_not_share_a_folder_with_another_job(call: Call, here: Path) -> None:
    """A file named like a size of another: one line, and nothing is made."""
    (here / "rail.toml").write_text(FAMILY, encoding="utf-8")
    (here / "rail-SMALL.toml").write_text(FAMILY.replace("[cuts.small]\n", "").partition("[cuts")[0], encoding="utf-8")
    said = call("make", "rail.toml", "rail-SMALL.toml")
    assert (said.status, said.err) == (
        2,
        'rail-SMALL.toml: would write into the same folder "rail-SMALL" as rail.toml (rename one of them)\n',
    )
    assert not (here / "templates").exists()


def test_a_stop_in_one_size_leaves_the_others(call: Call, here: Path) -> None:
    """A size the bit does not fit is stopped, status 1; the other is made."""
    (here / "rail.toml").write_text(FAMILY.replace("width = 8", "width = 5"), encoding="utf-8")
    said = call("make", "rail.toml", "--for", "cnc")
    assert said.status == 1
    assert sorted(p.name for p in (here / "templates").iterdir()) == ["rail-big_one-2"]
