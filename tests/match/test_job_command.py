"""The command `match` of a job file: what is asked, what is printed, statuses, JSON, one line for a fault."""

import json
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.match import made
from jigtemplates.match.job_command import in_quotes

TOOLS = """\
units = "mm"
[bits."six"]
diameter = 6
shank = 6
cutting_length = 30
[bits."ten"]
diameter = 10
shank = 8
cutting_length = 32
[bushings."fourteen"]
diameter = 14
bore = 12
stem = 5
[bushings."seventeen"]
diameter = 17
bore = 14
stem = 5
"""
JOB = """\
title = "Rail"
units = "mm"
[cut]
shape = "slot"
width = 12
length = 60
depth = 20
[tools]
bit = "six"
bushing = "fourteen"
clearance = 0.1
[plate]
width = 160
height = 120
thickness = 6
material = "mdf"
"""
FAMILY = "[cuts.front]\nlength = 50\n[cuts.back]\nlength = 60\n"
OWN = "Your own 2 bits and 2 bushings; --shipped adds those that come with the program"


@pytest.fixture
def folder(here: Path) -> Path:
    """A job named job.toml, with the person's tools beside it."""
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    (here / "job.toml").write_text(JOB, encoding="utf-8")
    return here


def write(folder: Path, old: str, new: str, name: str = "job.toml") -> None:
    """The job with a part of it exchanged."""
    assert old in JOB
    (folder / name).write_text(JOB.replace(old, new), encoding="utf-8")


def test_the_pairs_of_a_job_are_a_table_with_its_own_marked(call: Any, folder: Path) -> None:
    """The widest bit first (12 - 10 = 2 mm side play), openings 12 + 17 - 10 and so on, and how to take the best."""
    said = call("match", "job.toml")
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines() == [
        OWN,
        '4 of 4 pairs can make "Rail" (slot, 12 mm wide, 60 mm long, 20 mm deep), best first',
        "     bit  bushing    opening     cut made    passes",
        "  1  ten  seventeen  19 x 67 mm  12 x 60 mm  4",
        "     2 mm side play: go round the edge to make the width; its cutting edges (32 mm) reach the depth;",
        "     4 mm between bit and bore: ample room for chips",
        "  2  ten  fourteen   16 x 64 mm  12 x 60 mm  4",
        "     2 mm side play: go round the edge to make the width; its cutting edges (32 mm) reach the depth;",
        "     2 mm between bit and bore: enough for the chips",
        "  3  six  fourteen   20 x 68 mm  12 x 60 mm  7       now in the job",
        "     6 mm side play: go round the edge to make the width; its cutting edges (30 mm) reach the depth;",
        "     6 mm between bit and bore: ample room for chips",
        "  4  six  seventeen  23 x 71 mm  12 x 60 mm  7",
        "     6 mm side play: go round the edge to make the width; its cutting edges (30 mm) reach the depth;",
        "     8 mm between bit and bore: ample room for chips",
        "  All of these: the stem (5 mm) suits the plate",
        "To make it with the first: jigtemplates make job.toml --bit ten --bushing seventeen",
        'To keep it: bit = "ten" and bushing = "seventeen" in [tools] of the job',
    ]


def test_the_command_that_is_told_works(call: Any, folder: Path) -> None:
    """The options at the end make the template with the best pair: an opening of 19 x 67 mm."""
    assert "--bit ten --bushing seventeen" in call("match", "job.toml").out
    made_so = call("make", "job.toml", "--bit", "ten", "--bushing", "seventeen", "--json")
    opening = json.loads(made_so.out)["opening"]
    assert (made_so.status, opening["width"], opening["length"]) == (0, 19.0, 67.0)


def test_files_and_folders_of_tools_are_told_along(call: Any, folder: Path) -> None:
    """--tools and --profiles stand in the command at the end, a name with spaces between quotes."""
    (folder / "my tools.toml").write_text(TOOLS.replace('"ten"', '"my 10"'), encoding="utf-8")
    said = call("match", "job.toml", "--tools", "my tools.toml", "--profiles", "profiles")
    command = 'make job.toml --bit "my 10" --bushing seventeen --tools "my tools.toml" --profiles profiles'
    assert f"To make it with the first: jigtemplates {command}" in said.out
    assert "Your own" not in said.out


def test_a_name_with_an_inch_mark_can_be_copied(call: Any, folder: Path) -> None:
    """As the shell takes it in the command, as TOML has it in the line to keep, which a job then reads."""
    tools = TOOLS.replace('"ten"', '"my 3/8\\" down"').replace("diameter = 10", "diameter = 9.5")
    (folder / "profiles" / "tools.toml").write_text(tools, encoding="utf-8")
    out = call("match", "job.toml").out
    assert "make job.toml --bit 'my 3/8\" down' --bushing seventeen\n" in out
    assert 'To keep it: bit = "my 3/8\\" down" and bushing = "seventeen" in [tools] of the job\n' in out
    write(folder, 'bit = "six"\nbushing = "fourteen"', 'bit = "my 3/8\\" down"\nbushing = "seventeen"')
    assert call("match", "job.toml").out.splitlines()[-1] == "The job has the best of these already."


def test_nothing_is_to_be_done_where_the_job_has_the_best(call: Any, folder: Path) -> None:
    """Its own pair is marked and no command follows."""
    write(folder, 'bit = "six"\nbushing = "fourteen"', 'bit = "ten"\nbushing = "seventeen"')
    last = call("match", "job.toml").out.splitlines()
    assert last[3] == "  1  ten  seventeen  19 x 67 mm  12 x 60 mm  4       now in the job"
    assert last[-1] == "The job has the best of these already."


def test_a_pair_that_only_the_job_knows_is_looked_at_too(call: Any, folder: Path) -> None:
    """Bare diameters in the job are a fifth pair, and where all is equal the job's own comes first."""
    write(folder, 'bit = "six"\nbushing = "fourteen"', 'bit = "8 mm"\nbushing = { diameter = 14, bore = 12, stem = 5 }')
    said = call("match", "job.toml")
    assert "5 of 5 pairs" in said.out
    assert "  3  8 mm  14 mm      18 x 66 mm  12 x 60 mm  5       now in the job" in said.out
    same = "bit = { diameter = 10, shank = 8, cutting_length = 32 }\nbushing = { diameter = 17, bore = 14, stem = 5 }"
    write(folder, 'bit = "six"\nbushing = "fourteen"', same)
    assert call("match", "job.toml").out.splitlines()[-1] == "The job has the best of these already."


def test_json_is_a_list_of_the_possible(call: Any, folder: Path) -> None:
    """Keys and numbers of the first, in mm; of a slot the bit reaches all."""
    said = call("match", "job.toml", "--json")
    assert (said.status, said.err) == (0, "")
    pairs = json.loads(said.out)
    assert [(one["bit"], one["bushing"], one["in_job"]) for one in pairs] == [
        ("ten", "seventeen", False),
        ("ten", "fourteen", False),
        ("six", "fourteen", True),
        ("six", "seventeen", False),
    ]
    assert pairs[0] == {
        "bit": "ten",
        "bushing": "seventeen",
        "possible": True,
        "opening": {"width": 19.0, "length": 67.0, "corner_radius": 9.5},
        "predicted_cut": {"width": 12.0, "length": 60.0, "max_deviation": 0.0, "unreachable_area": 0.0},
        "side_play": 2.0,
        "trapped": False,
        "passes": 4,
        "reasons": [
            "2 mm side play: go round the edge to make the width",
            "its cutting edges (32 mm) reach the depth",
            "4 mm between bit and bore: ample room for chips",
            "the stem (5 mm) suits the plate",
        ],
        "in_job": False,
    }


def test_what_cannot_be_is_told_with_all(call: Any, folder: Path) -> None:
    """A bit wider than the cut is counted; --all says why, in JSON with nulls for what was not made."""
    write(folder, "width = 12", "width = 8")
    said = call("match", "job.toml")
    assert (said.status, "  2 pairs cannot (--all says why)" in said.out) == (0, True)
    every = call("match", "job.toml", "--all").out
    assert (
        "Not possible:\n  ten in seventeen and 1 other\n      the bit (10 mm) is wider than the cut (8 mm)\n" in every
    )
    last = json.loads(call("match", "job.toml", "--all", "--json").out)[-1]
    keys = ("bit", "possible", "opening", "predicted_cut", "side_play", "trapped", "passes")
    assert [last[key] for key in keys] == ["ten", False, None, None, None, False, 4]


def test_a_job_whose_own_pair_cannot_be_hears_why_at_once(call: Any, folder: Path) -> None:
    """The job's pair is told with its reason even where the others are only counted."""
    write(folder, "width = 12", "width = 8")
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace('bit = "six"', 'bit = "ten"'), encoding="utf-8")
    out = call("match", "job.toml").out
    assert (
        "  2 pairs cannot (--all says why)\n  ten in fourteen (now in the job)\n      the bit (10 mm) is wider" in out
    )
    assert out.count("is wider than the cut") == 1
    assert "  ten in fourteen (now in the job)\n" in call("match", "job.toml", "--all").out


def test_status_is_1_where_no_pair_can(call: Any, folder: Path) -> None:
    """A cut narrower than both bits: every pair with why, nothing to take; JSON is an empty list."""
    write(folder, "width = 12", "width = 5")
    said = call("match", "job.toml")
    assert (said.status, said.err) == (1, "")
    assert said.out.splitlines()[1:4] == [
        '0 of 4 pairs can make "Rail" (slot, 5 mm wide, 60 mm long, 20 mm deep)',
        "Not possible:",
        "  six in fourteen (now in the job)",
    ]
    assert "To make it" not in said.out
    empty = call("match", "job.toml", "--json")
    assert (empty.status, json.loads(empty.out), empty.err) == (1, [], "")


def test_what_stops_every_pair_is_said_once(call: Any, folder: Path) -> None:
    """An opening off the plate is no matter of bit and bushing; another stop of a pair is left beside it."""
    write(folder, "depth = 20", "depth = 20\nx = 5")
    said = call("match", "job.toml")
    assert said.status == 1
    assert said.out.splitlines()[-1] == (
        "With every pair: the opening does not lie on the plate: move it, or make the plate larger"
    )
    assert said.out.count("does not lie on the plate") == 1
    assert "nothing but what stops every pair" in said.out


def test_sizes_of_a_family_are_asked_by_name(call: Any, folder: Path) -> None:
    """--size picks one: 50 mm long, and the opening is 50 + 17 - 10."""
    (folder / "job.toml").write_text(JOB.replace("length = 60\n", "") + FAMILY, encoding="utf-8")
    out = call("match", "job.toml", "--size", "front").out
    assert "(slot, 12 mm wide, 50 mm long, 20 mm deep)" in out
    assert "19 x 57 mm" in out


@pytest.mark.parametrize(
    ("options", "line"),
    [
        ([], 'give a job file, or a cut: --width "10 mm" and what else is known of it (see match --help)'),
        (
            ["--length", "10 mm"],
            'give a job file, or a cut: --width "10 mm" and what else is known of it (see match --help)',
        ),
        (
            ["--width", "10 mm", "--size", "front"],
            "--size: belongs to a job file of several sizes (name the file, or leave it out)",
        ),
        (["job.toml", "--depth", "9 mm"], "--depth: job.toml says it itself (leave it out)"),
        (
            ["job.toml", "--width", "1 mm", "--length", "1 mm", "--depth", "1 mm", "--corner-radius", "1 mm",
             "--plate", "1 mm", "--stand-off", "1 mm", "--clearance", "1 mm"],
            "--width, --length, --depth, --corner-radius, --plate, --stand-off, --clearance: job.toml says them itself "
            "(leave them out)",
        ),
        (["job.toml", "--size", "front"], "--size: job.toml holds one size only (leave it out)"),
        (["family.toml"], '--size: family.toml holds several sizes (say which: "front", "back")'),
        (["family.toml", "--size", "frnt"], '--size: "frnt" is not in family.toml (did you mean "front"?)'),
        (["none.toml"], "none.toml: there is no such file"),
        ([""], "JOB is empty (name a file)"),
        (
            ["job.toml", "--tools", "none.toml"],
            "none.toml: there is no such file (to begin one: jigtemplates tools add --help)",
        ),
    ],
)  # fmt: skip
def test_one_line_says_what_to_write(call: Any, folder: Path, options: list[str], line: str) -> None:
    """Status 2 and nothing on stdout."""
    (folder / "family.toml").write_text(JOB.replace("length = 60\n", "") + FAMILY, encoding="utf-8")
    said = call("match", *options)
    assert (said.status, said.out, said.faults) == (2, "", [line])


def test_the_faults_of_a_job_are_those_of_check(call: Any, folder: Path) -> None:
    """File, line, key, and what to write."""
    write(folder, "width = 12", "width = 0")
    said = call("match", "job.toml")
    assert (said.status, said.err) == (2, call("check", "job.toml").err)
    assert said.faults[0].startswith("job.toml:5: cut.width:")


def test_many_pairs_are_cut_short_and_it_is_said(call: Any, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Past the most that are made, and with enough that can be, the rest is counted; --all makes them too."""
    monkeypatch.setattr(made, "MOST_MADE", 2)
    monkeypatch.setattr(made, "SHOWN_PAIRS", 2)
    left = "1 pair of other diameters, likely to come after these, not looked at (--all does)"
    said = call("match", "job.toml")
    assert "3 of 3 pairs looked at can make" not in said.out
    assert said.out.splitlines()[1].startswith('2 of 2 pairs looked at can make "Rail"')
    assert left.replace("1 pair", "2 pairs") in said.out.splitlines()
    assert "now in the job" in said.out
    brief = call("match", "job.toml", "--json")
    assert (len(json.loads(brief.out)), brief.faults) == (2, [left.replace("1 pair", "2 pairs")])
    every = call("match", "job.toml", "--all")
    assert every.out.splitlines()[1].startswith("4 of 4 pairs can make")
    assert "not looked at" not in every.out


def test_the_job_s_pair_is_shown_past_the_tenth(call: Any, folder: Path) -> None:
    """Six bits in two bushings: the pair of the job stands at its place, the last, and one is left to --all."""
    more = "".join(f'[bits."b{n}"]\ndiameter = {n}\nshank = 6\ncutting_length = 30\n' for n in (7, 8, 9, 11))
    (folder / "profiles" / "more.toml").write_text('units = "mm"\n' + more, encoding="utf-8")
    write(folder, 'bushing = "fourteen"', 'bushing = "seventeen"')
    lines = call("match", "job.toml").out.splitlines()
    assert "  12  six  seventeen  23 x 71 mm  12 x 60 mm  7       now in the job" in lines
    assert "  … and 1 more (--all shows them)" in lines


def test_a_job_in_inches_is_answered_in_inches_first(call: Any, here: Path) -> None:
    """Head, sizes and reasons: 1/2 + 5/8 - 1/4 is 7/8 in, and 1/4 in of side play is 6.35 mm."""
    text = (
        'title = "Slat"\nunits = "in"\n[cut]\nshape = "rectangle"\nwidth = "1/2"\nlength = 2\ncorner_radius = 0\n'
        'depth = "1/2"\n[tools]\nbit = { diameter = "1/4", shank = "1/4", cutting_length = 1 }\n'
        'bushing = { diameter = "5/8", bore = "1/2", stem = "3/16" }\nclearance = 0.004\n'
        '[plate]\nwidth = 6\nheight = 6\nthickness = "1/4"\n'
    )
    (here / "slat.toml").write_text(text, encoding="utf-8")
    (here / "tools.toml").write_text(TOOLS, encoding="utf-8")
    out = " ".join(call("match", "slat.toml", "--tools", "tools.toml").out.split())
    assert '5 of 5 pairs can make "Slat" (rectangle, 1/2 in wide, 2 in long, 1/2 in deep), best first' in out
    assert "1/4 in 5/8 in 7/8 x 2-3/8 in 1/2 x 2 in 4 now in the job" in out
    # a corner keeps (1 - pi / 4) r^2 of wood: 0.0134 sq in in all four for r = 1/8 in
    assert "the edge of the cut is up to 0.052 in (1.32 mm) off, 0.013 sq in = 8.65 mm² left standing" in out
    assert "1/4 in (6.35 mm) side play: go round the edge to make the width" in out


def test_shipped_tools_are_added(call: Any, folder: Path) -> None:
    """--shipped: hundreds of pairs, the first still one of the widest bits that go in (12 mm, trapped)."""
    said = call("match", "job.toml", "--shipped")
    assert said.status == 0
    assert "Your own" not in said.out
    assert said.out.splitlines()[2].split()[:4] == ["1", "straight", "12", "mm"]
    assert "of other diameters, likely to come after these, not looked at (--all does)" in said.out


@pytest.mark.parametrize(
    ("word", "shown"),
    [
        ("ten", "ten"),
        ("my 10", '"my 10"'),
        ("", "''"),
        ('my 3/8"', "'my 3/8\"'"),
        ("a $b", "'a $b'"),
        ("a\\b c", "'a\\b c'"),
        ("Fräser 8", '"Fräser 8"'),
    ],
)
def test_words_of_a_command_are_quoted_where_they_must_be(word: str, shown: str) -> None:
    """Double quotes, which every shell takes, where nothing inside them has a meaning there."""
    assert in_quotes(word) == shown
