"""The command `inlay`: two pairs, bushings for a bit, jobs; statuses, JSON, and one line for a fault."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]

TOOLS = """\
units = "mm"
[bits."five"]
diameter = 5
[bits."three"]
diameter = 3
[bushings."big"]
diameter = 20
bore = 16
[bushings."small"]
diameter = 10
bore = 8
[bushings."middle"]
diameter = 12
bore = 10
"""

JOB = """\
title = "Star in the lid"
units = "mm"
[cut]
shape = "rectangle"
width = 40
length = 70
corner_radius = 3
depth = 4
[tools]
bit = { diameter = 5, shank = 6, cutting_length = 20 }
bushing = { diameter = 20, bore = 16, stem = 5 }
clearance = 0.1
[plate]
width = 160
height = 120
thickness = 6
[inlay]
plug_bushing = { diameter = 10, bore = 8, stem = 5 }
glue_line = 0
plug_thickness = 5
"""


@pytest.fixture
def tools(here: Path) -> str:
    (here / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return "tools.toml"


@pytest.fixture
def job(here: Path) -> str:
    (here / "lid.toml").write_text(JOB, encoding="utf-8")
    return "lid.toml"


def write(here: Path, old: str, new: str) -> str:
    """A job of its own with a line changed."""
    (here / "other.toml").write_text(JOB.replace(old, new), encoding="utf-8")
    return "other.toml"


def test_two_pairs_that_fit(call: Call, tools: str) -> None:
    """Status 0: both edges, the verdict and the radii; no tools are proposed."""
    said = call("inlay", "--recess", "five", "big", "--plug", "5 mm", "10 mm", "--tools", tools)
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines() == [
        "Recess: bit five, bushing big, its edge 7.5 mm inside the opening's",
        "Plug: bit 5 mm, bushing 10 mm, its edge 7.5 mm inside the opening's",
        "They fit: the plug is as large as the recess.",
        "Smallest radius both can follow: 2.5 mm where the inlay points out, 7.5 mm where it points in.",
        "Stems were not judged: give the template's thickness with --plate.",
    ]


def test_two_pairs_that_miss(call: Call, tools: str) -> None:
    """Status 1: by how much, what would fit, and which of one's tools do."""
    said = call("inlay", "--recess", "5 mm", "20 mm", "--plug", "5 mm", "12 mm", "--tools", tools)
    assert (said.status, said.err) == (1, "")
    assert said.out.splitlines() == [
        "Recess: bit 5 mm, bushing 20 mm, its edge 7.5 mm inside the opening's",
        "Plug: bit 5 mm, bushing 12 mm, its edge 8.5 mm inside the opening's",
        "They miss by 1 mm a side: the plug leaves a gap of 1 mm a side where none is wanted.",
        "  one of these would make them fit: the plug's bushing 10 mm, or the plug's bit 3 mm, or the",
        "    recess's bushing 22 mm",
        "  or a sleeve (or tape) 1 mm thick round the recess's bushing, and the opening made for that size",
        "Smallest radius both can follow: 2.5 mm where the inlay points out, 7.5 mm where it points in.",
        "Tools that make them fit:",
        "  plug: its bit in small",
        "  plug: three in its bushing",
        "Stems were not judged: give the template's thickness with --plate.",
    ]


def test_a_glue_line(call: Call, tools: str) -> None:
    """With 0.2 mm wanted a plug of the recess's size is tight; a bushing of 10.4 mm fits and says the gap."""
    pairs = ("inlay", "--recess", "5 mm", "20 mm", "--glue-line", "0.2 mm", "--tools", tools, "--plug", "5 mm")
    tight, fits = call(*pairs, "10 mm"), call(*pairs, "10.4 mm")
    assert (tight.status, fits.status) == (1, 0)
    assert "They miss by 0.2 mm a side: the plug leaves no gap where 0.2 mm is wanted." in tight.out
    assert "  or a sleeve (or tape) 0.2 mm thick round the plug's bushing\n" in tight.out
    assert "No tools make them fit; the nearest:\n" not in tight.out
    assert "No tools come nearer while the bit for the recess stays.\n" in tight.out
    assert "They fit: the plug leaves a gap of 0.2 mm a side.\n" in fits.out


def test_the_nearest_of_ones_tools(call: Call, tools: str) -> None:
    """Where none of them fits, what leaves the least beyond the glue line, and how much that is."""
    said = call(
        "inlay", "--recess", "5 mm", "20 mm", "--plug", "6 mm", "12 mm", "--tools", tools, "--glue-line", "0.1mm"
    )
    assert said.out.splitlines()[-4:-1] == [
        "No tools make them fit; the nearest:",
        "  plug: three in its bushing: the plug leaves no gap",
        "  plug: five in small: the plug leaves no gap",
    ]


def test_the_nearest_with_a_gap(call: Call, here: Path) -> None:
    """A plug's bit of 3.1 mm leaves 0.05 mm where 0.1 is wanted; what misses by a millimetre is not named beside it."""
    (here / "tools.toml").write_text(TOOLS.replace("diameter = 3\n", "diameter = 3.1\n"), encoding="utf-8")
    said = call(
        "inlay", "--recess", "5 mm", "20 mm", "--plug", "7 mm", "12 mm", "--tools", "tools.toml", "--glue-line", "0.1mm"
    )
    assert said.out.splitlines()[-4:-1] == [
        "No tools make them fit; the nearest:",
        "  plug: three in its bushing: the plug leaves a gap of 0.05 mm a side",
        "  plug: five in small: the plug leaves no gap",
    ]


def test_inches_in_inches_out(call: Call, tools: str) -> None:
    """Sizes typed in inches are answered in inches, mm behind them; one in mm among them makes it all mm."""
    inch = call("inlay", "--recess", "1/8 in", "3/4 in", "--plug", "1/8 in", "7/16 in", "--tools", tools)
    mixed = call("inlay", "--recess", "1/8 in", "3/4 in", "--plug", "3.175 mm", "7/16 in", "--tools", tools)
    assert "They miss by 1/32 in (0.794 mm) a side: the plug is larger than the recess by 1/32 in (0.794" in inch.out
    assert "They miss by 0.794 mm a side: the plug is larger than the recess by 0.794 mm a side.\n" in mixed.out


def test_named_inch_tools_answer_in_inches(call: Call) -> None:
    """A name from the profiles counts as the size it is sold as."""
    said = call("inlay", "--recess", "straight 1/8 in", "bushing 5/8 in", "--plug", "1/8 in", "bushing 3/8 in")
    assert "bushing bushing 5/8 in, its edge 1/4 in (6.35 mm) inside the opening's" in said.out
    assert said.status == 0


def test_json_of_two_pairs(call: Call, tools: str) -> None:
    """One object in mm; the status says whether they fit."""
    said = call("inlay", "--recess", "5 mm", "20 mm", "--plug", "5 mm", "12 mm", "--tools", tools, "--json")
    numbers = json.loads(said.out)
    assert (said.status, numbers["gap"], numbers["verdict"], numbers["plug"]) == (
        1, 1.0, "loose", {"bit": 5.0, "bushing": 12.0},
    )  # fmt: skip


def test_bushings_for_a_bit(call: Call, tools: str) -> None:
    """The rule with its number, the pair that fits, and the near miss with its sleeve; status 0."""
    said = call("inlay", "--bit", "five", "--tools", tools)
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines() == [
        "Bit five.",
        "Bushing - bit of the recess = bushing + bit of the plug: the recess's bushing must be 10 mm wider",
        "  than the plug's.",
        "1 pair of bushings fits:",
        "  recess  plug   gap a side  offset  r out   r in",
        "  big     small  0           7.5 mm  2.5 mm  7.5 mm",
        "  offset: from the edge of the inlay to the opening's; out, in: its tightest corners",
        "Near misses; a sleeve (or tape) as thick as the miss round one bushing makes them fit; round the",
        "  recess's, and the opening made for that size:",
        "  recess  plug    too    by, a side  sleeve round",
        "  big     middle  loose  1 mm        recess",
        "Stems were not judged: give the template's thickness with --plate.",
    ]


STEMS = """\
units = "in"
[bits."eighth"]
diameter = "1/8 in"
[bushings."large"]
diameter = "5/8 in"
bore = "1/2 in"
stem = "9/16 in"
[bushings."also large"]
diameter = "5/8 in"
bore = "15/32 in"
stem = "3/16 in"
[bushings."small"]
diameter = "3/8 in"
bore = "9/32 in"
[bushings."larger"]
diameter = "3/4 in"
bore = "5/8 in"
stem = "9/16 in"
[bushings."middle"]
diameter = "1/2 in"
bore = "3/8 in"
stem = "3/16 in"
"""


def test_stems_too_long_for_the_template(call: Call, here: Path) -> None:
    """A stem of 9/16 in with a plate of 1/4 in: another bushing of that size stands in, else the pair is left out."""
    (here / "tools.toml").write_text(STEMS, encoding="utf-8")
    ask = ("inlay", "--bit", "eighth", "--tools", "tools.toml")
    without = call(*ask).out
    assert "  large   small   0 " in without
    assert "  larger  middle  0 " in without
    said = call(*ask, "--plate", "1/4 in")
    lines = said.out.splitlines()
    assert (said.status, lines[3]) == (0, "1 pair of bushings fits:")
    assert " ".join(lines[5].split()) == "also large small 0 1/4 in 1/16 in 1/4 in plug: stem not known"
    end = " ".join(said.out.split()).partition("Left out, ")[2]
    assert end == (
        "since their stems are no shorter than template and stand-off are thick (1/4 in = 6.35 mm): "
        "large (9/16 in = 14.29 mm), larger (9/16 in = 14.29 mm)."
    )
    (only,) = [one for one in json.loads(call(*ask, "--plate", "1/4 in", "--json").out) if one["fits"]]
    assert (only["recess"]["name"], only["remarks"]) == ("also large", ["plug: stem not known"])


def test_a_thick_template_or_a_stand_off_has_room_for_a_stem(call: Call, here: Path) -> None:
    """9/16 in goes into 3/4 in, and into 1/4 in that lies 3/8 in above the work; of a short one that is said."""
    (here / "tools.toml").write_text(STEMS, encoding="utf-8")
    ask = ("inlay", "--bit", "eighth", "--tools", "tools.toml", "--plate")
    for size in (("3/4 in",), ("1/4 in", "--stand-off", "3/8 in")):
        said = call(*ask, *size).out
        assert "2 pairs of bushings fit:" in said
        assert "Left out" not in said
        assert "judged" not in said
    (here / "tools.toml").write_text(STEMS.replace("3/16 in", "1/32 in"), encoding="utf-8")
    assert "plug: stem very short" in call(*ask, "3/4 in").out


def test_many_that_are_left_out_are_counted(call: Call, here: Path) -> None:
    """Six are named; where none is left that fits the status is 1."""
    text = 'units = "mm"\n[bits."five"]\ndiameter = 5\n'
    text += "".join(f'[bushings."n{mm}"]\ndiameter = {mm}\nbore = {mm - 1.5}\nstem = 14\n' for mm in range(8, 24))
    (here / "many.toml").write_text(text, encoding="utf-8")
    said = call("inlay", "--bit", "five", "--tools", "many.toml", "--plate", "6 mm")
    words = " ".join(said.out.split())
    assert (said.status, "No two bushings fit" in words) == (1, True)
    assert "(6 mm): n8 (14 mm), n9 (14 mm), n10 (14 mm), n11 (14 mm), n12 (14 mm), n13 (14 mm) and 10 more." in words


def test_nothing_is_promised_where_nothing_is_left(call: Call, here: Path) -> None:
    """Where stems and bores leave no two bushings that come near, each is named with why, and no list is announced."""
    text = 'units = "mm"\n[bits."six"]\ndiameter = 6\n'
    for name, wide, bore, stem in (("a", 20, 16, 14), ("b", 30, 26, 14), ("c", 9, 5, 3), ("d", 12, 9, 3)):
        text += f'[bushings."{name}"]\ndiameter = {wide}\nbore = {bore}\nstem = {stem}\n'
    (here / "few.toml").write_text(text, encoding="utf-8")
    said = call("inlay", "--bit", "six", "--tools", "few.toml", "--plate", "6 mm")
    lines = said.out.splitlines()
    assert said.status == 1
    assert "No two bushings fit or come within 1 mm a side of it." in lines
    assert lines[-3:] == [
        "Left out, since their stems are no shorter than template and stand-off are thick (6 mm): a (14 mm),",
        "  b (14 mm).",
        "Left out, since the bit does not pass through them: c.",
    ]
    assert "nearest" not in said.out
    without = call("inlay", "--bit", "six", "--tools", "few.toml")
    assert without.out.splitlines()[-2:] == [
        "Left out, since the bit does not pass through them: c.",
        "Stems were not judged: give the template's thickness with --plate.",
    ]


def test_stems_of_two_pairs(call: Call, here: Path) -> None:
    """Pairs that fit with a stem that does not are status 1; a bare size has no known stem; a short one is said."""
    (here / "tools.toml").write_text(STEMS, encoding="utf-8")
    own = ("--tools", "tools.toml")
    pairs = ("inlay", "--recess", "1/8 in", "large", "--plug", "1/8 in", "3/8 in", *own)
    assert call(*pairs).out.splitlines()[-1] == "Stems were not judged: give the template's thickness with --plate."
    said = call(*pairs, "--plate", "1/4 in")
    words = " ".join(said.out.split())
    assert said.status == 1
    assert "Recess: the stem (9/16 in = 14.29 mm) reaches the work: plate and stand-off are 1/4 in (6.35 mm)." in words
    assert words.endswith("Plug: the stem's length is not known: it must be under 1/4 in (6.35 mm).")
    found = json.loads(call(*pairs, "--plate", "1/4 in", "--json").out)
    assert [text.partition(":")[0] for text in found["remarks"]] == ["recess", "plug"]
    good = ("inlay", "--recess", "1/8 in", "larger", "--plug", "1/8 in", "middle", *own, "--plate", "3/4 in", "--json")
    said = call(*good)
    assert (said.status, json.loads(said.out)["remarks"]) == (0, [])


def test_what_a_job_is_told_has_stems_that_suit(call: Call, here: Path) -> None:
    """Of two bushings that would make a job's plug fit the one whose stem reaches through the plate is not named."""
    job = write(here, "plug_bushing = { diameter = 10", "plug_bushing = { diameter = 12")
    for stem, shown in (("14 mm", False), ("5 mm", True)):
        text = TOOLS.replace("diameter = 10\nbore = 8\n", f'diameter = 10\nbore = 8\nstem = "{stem}"\n')
        (here / "tools.toml").write_text(text, encoding="utf-8")
        assert ("in small" in call("inlay", job, "--tools", "tools.toml").out) == shown


def test_another_bit_for_the_plug(call: Call, tools: str) -> None:
    """Then the rule names both bits, and another pair fits."""
    said = call("inlay", "--bit", "5 mm", "--plug-bit", "3 mm", "--tools", tools, "--json")
    (fit, *_) = json.loads(said.out)
    assert (said.status, fit["recess"]["name"], fit["plug"]["name"], fit["fits"]) == (0, "big", "middle", True)
    shown = call("inlay", "--bit", "5 mm", "--plug-bit", "3 mm", "--tools", tools).out
    assert shown.startswith("Bit 5 mm for the recess and 3 mm for the plug.\n")


def test_no_two_fit(call: Call, tools: str) -> None:
    """Status 1 and the nearest; with a glue line the rule is less twice of it."""
    said = call("inlay", "--bit", "5 mm", "--glue-line", "0.1 mm", "--tools", tools)
    assert said.status == 1
    lines = said.out.splitlines()
    assert lines[0] == "Bit 5 mm, glue line 0.1 mm a side."
    assert "less twice the glue line: the" in lines[1]
    assert "No two bushings fit, so see the nearest." in lines
    assert "  big     small   tight  0.1 mm      plug" in lines


def test_many_pairs_are_cut_short(call: Call, here: Path) -> None:
    """Ten that fit and five near misses, and how many more there are; --all shows every one."""
    sizes = [(f"n{i}", 8 + 0.5 * i) for i in range(40)]
    text = 'units = "mm"\n[bits."five"]\ndiameter = 5\n'
    text += "".join(f'[bushings."{name}"]\ndiameter = {mm}\nbore = {mm - 1.7:.1f}\n' for name, mm in sizes)
    (here / "many.toml").write_text(text, encoding="utf-8")
    few = call("inlay", "--bit", "5 mm", "--tools", "many.toml").out.splitlines()
    every = call("inlay", "--bit", "5 mm", "--tools", "many.toml", "--all").out.splitlines()
    assert "20 pairs of bushings fit:" in few
    assert "  … and 10 more (--all shows them)" in few
    assert not any("more (--all" in line for line in every)
    assert len(every) > len(few) + 40


def test_room_for_chips_is_said_in_the_table(call: Call, here: Path) -> None:
    """What is true of both bushings once, else with whose it is."""
    text = TOOLS.replace("bore = 16\n", "").replace("bore = 8\n", "")
    (here / "tools.toml").write_text(text, encoding="utf-8")
    assert (
        "7.5 mm  both: the bushing's bore is not known\n" in call("inlay", "--bit", "5 mm", "--tools", "tools.toml").out
    )
    (here / "tools.toml").write_text(TOOLS.replace("bore = 16\n", ""), encoding="utf-8")
    assert "7.5 mm  recess: the bushing's bore is not" in call("inlay", "--bit", "5 mm", "--tools", "tools.toml").out


def test_own_tools_are_said(call: Call, here: Path, tools: str) -> None:
    """Who has tools of their own is told that only those were looked at."""
    (here / "profiles").mkdir()
    (here / tools).rename(here / "profiles" / "tools.toml")
    said = call("inlay", "--bit", "5 mm")
    assert said.out.startswith("Your own 2 bits and 3 bushings; --shipped adds those that come with the program\n")


def test_a_second_template(call: Call, tools: str) -> None:
    """The trade table's (3/8, 1/8) with (3/4, 1/4) fits; with (5/8, 1/4) the second's cut is larger."""
    fits = call("inlay", "--first", "1/8 in", "3/8 in", "--second", "1/4 in", "3/4 in", "--tools", tools)
    assert fits.status == 0
    assert " ".join(fits.out.split()) == (
        "Inside the second template: bit 1/4 in, bushing 3/4 in, the cut's edge 1/4 in (6.35 mm) inside its opening's "
        "Round the first template: bit 1/8 in, bushing 3/8 in, the groove's far edge 1/4 in (6.35 mm) outside it "
        "They fit: the cut of the second is as large as the first. "
        "Smallest radius both can follow: 1/8 in (3.175 mm) where the first template points out, 1/4 in (6.35 mm) "
        "where it points in. Stems were not judged: give the template's thickness with --plate."
    )
    misses = call("inlay", "--first", "1/8 in", "3/8 in", "--second", "1/4 in", "5/8 in", "--tools", tools)
    assert misses.status == 1
    said = " ".join(misses.out.split())
    assert "the cut of the second is larger than the first by 1/16 in (1.588 mm) a side where none is wanted." in said
    assert "or a sleeve (or tape) 1/16 in (1.588 mm) thick round the second's bushing Smallest radius" in said


def test_a_second_template_that_is_too_small(call: Call, tools: str) -> None:
    """The other way round it is smaller, and the sleeve goes round the first's bushing."""
    said = call("inlay", "--first", "3 mm", "10 mm", "--second", "5 mm", "20 mm", "--tools", tools)
    assert "the cut of the second is smaller than the first by 1 mm a side.\n" in said.out
    assert "round the first's bushing\n" in said.out


def test_bushings_for_a_second_template(call: Call, tools: str) -> None:
    """--second-template asks the same of one's bushings, and speaks of first and second."""
    said = call("inlay", "--second-template", "--bit", "5 mm", "--first-bit", "3 mm", "--tools", tools)
    assert said.status == 0
    lines = said.out.splitlines()
    assert lines[0] == "Bit 5 mm for the second and 3 mm for the first."
    assert "  second  first   gap a side  offset  r out   r in" in lines
    assert "  big     middle  0           7.5 mm  2.5 mm  7.5 mm" in lines


FAULTS: list[tuple[tuple[str, ...], list[str]]] = [
    (
        (),
        ["--bit: is missing (give a bit, or --recess and --plug with a bit and a bushing each, or a job)"],
    ),
    (("--recess", "5 mm", "20 mm"), ["--plug: is missing (give its bit and its bushing)"]),
    (("--second", "5 mm", "20 mm"), ["--first: is missing (give its bit and its bushing)"]),
    (
        ("--recess", "5 mm", "20 mm", "--plug", "5 mm", "10 mm", "--bit", "5 mm"),
        ["--bit: not with --recess and --plug, which have bits of their own (leave it out)"],
    ),
    (
        ("--bit", "5 mm", "--plug-bit", "5 mm", "--second-template"),
        ["--plug-bit: not in the same question as a second template (leave one of them out)"],
    ),
    (
        ("--recess", "20 mm", "5 mm", "--plug", "5 mm", "10 mm"),
        ["--recess: the bit, 20 mm, is not smaller than its bushing, 5 mm (the bit comes first)"],
    ),
    (
        ("--recess", "5 mm", "20 mm", "--plug", "8 mm", "small"),
        ["--plug: the bit, 8 mm, does not pass the bore of the bushing, small"],
    ),
    (
        ("--bit", "5 mm", "--glue-line", "3 mm"),
        ['--glue-line: "3 mm" is too much for a glue line (at most 2 mm a side)'],
    ),
    (("--bit", "5 mm", "--glue-line=-1 mm"), ['--glue-line: "-1 mm" is not a size (write 0 or more)']),
    (
        ("--recess", "5", "20 mm", "--plug", "5 mm", "ten"),
        [
            '--recess: "5" is not a length (the unit is missing; write 5 mm or 5 in)',
            '--plug: "ten" is neither a length nor a guide bushing in the profiles (known: ',
        ],
    ),
    (
        ("lid.toml", "--bit", "5 mm", "--plug", "5 mm", "10 mm"),
        [
            "--bit: not with a job, whose tools stand in its [tools] and [inlay] (leave one of them out)",
            "--plug: not with a job, whose tools stand in its [tools] and [inlay] (leave one of them out)",
        ],
    ),
    (
        ("lid.toml", "--plate", "6 mm", "--stand-off", "1 mm"),
        [
            "--plate: not with a job, which says that in its [plate] (leave it out)",
            "--stand-off: not with a job, which says that in its [plate] (leave it out)",
        ],
    ),
    (
        ("--bit", "5 mm", "--stand-off", "1 mm"),
        ["--stand-off: says nothing of a stem without the template's thickness (add --plate)"],
    ),
    (("--bit", "5 mm", "--plate", "0 mm"), ['--plate: "0 mm" is not a size (write a length greater than 0)']),
    (
        ("lid.toml", "--second-template"),
        [
            "--second-template: a job needs the pair that runs round its first template "
            '(add --first BIT BUSHING, such as "1/8 in" "3/8 in")'
        ],
    ),
    (("lid.toml", "--first", "9 mm", "5 mm"), ["--first: the bit, 9 mm, is not smaller than its bushing, 5 mm"]),
]


@pytest.mark.parametrize(("args", "lines"), FAULTS)
def test_faults(call: Call, tools: str, job: str, args: tuple[str, ...], lines: list[str]) -> None:
    """One line for each, status 2, nothing on stdout."""
    said = call("inlay", *args, "--tools", tools)
    assert (said.status, said.out) == (2, "")
    assert len(said.faults) == len(lines)
    assert all(fault.startswith(line) for fault, line in zip(said.faults, lines, strict=True)), said.faults


def test_a_job(call: Call, job: str, tools: str) -> None:
    """Recess and plug with their plunge settings, both sizes, what laying over says; the cautions."""
    said = call("inlay", job, "--tools", tools)
    assert (said.status, said.err) == (0, "")
    assert said.out.splitlines()[:10] == [
        "Star in the lid",
        "  recess        bit 5 mm, about 13/64 in (0.197 in), bushing 20 mm, about 25/32 in (0.787 in)",
        "  plunge        10 mm, cut 4 mm deep",
        "  plug          bit 5 mm, about 13/64 in (0.197 in), bushing 10 mm, about 25/64 in (0.394 in)",
        "  plunge        11.4 mm, stock 5 mm and 0.4 mm into the board below",
        "  pairs         they fit: the plug is as large as the recess",
        "  recess made   40 x 70 mm",
        "  plug made     40 x 70 mm",
        "  laid over     they coincide all round, no overlap",
        "  least radius  2.5 mm where the inlay points out, 7.5 mm where it points in",
    ]
    assert "Before you rout the plug:\n  - Stick the inlay stock flat on a waste board" in said.out


def test_a_job_that_is_stopped(call: Call, here: Path, tools: str) -> None:
    """Status 1; the finding stands there, and which tools would fit."""
    said = call("inlay", write(here, "diameter = 10, bore = 8", "diameter = 9, bore = 7"), "--tools", tools)
    assert said.status == 1
    assert "  stop     inlay.plug_bushing: recess and plug do not fit" in said.out
    assert "  laid over     the plug reaches up to 0.5 mm beyond the recess (" in said.out
    assert "Tools that make them fit:\n  plug: its bit in small\n" in said.out
    assert "Before you rout the plug" not in said.out


def test_a_job_with_a_glue_line(call: Call, here: Path) -> None:
    """The gap all round and the area that is left for the glue: (2 (34 + 64) + 6 pi) 0.1 - pi 0.01."""
    text = JOB.replace("diameter = 10,", "diameter = 10.2,").replace("glue_line = 0", "glue_line = 0.1")
    (here / "line.toml").write_text(text, encoding="utf-8")
    out = " ".join(call("inlay", "line.toml").out.split())
    assert "they differ by 0.1 mm all round, no overlap; 21.45 mm² left open" in out
    assert "plug made 39.8 x 69.8 mm" in out


def test_a_job_in_inches(call: Call, here: Path) -> None:
    """Sizes in inches first, and what a glue line leaves: (2 (1.5 + 2.5) + 0.5 pi) 0.01 - 0.0001 pi sq in."""
    text = """\
title = "Inch inlay"
units = "in"
[cut]
shape = "rectangle"
width = 2
length = 3
corner_radius = "1/4"
depth = "1/8"
[tools]
bit = "1/8"
bushing = "5/8"
[plate]
width = 7
height = 6
thickness = "1/4"
[inlay]
plug_bushing = "3/8"
"""
    (here / "inch.toml").write_text(text, encoding="utf-8")
    out = call("inlay", "inch.toml").out
    assert "  recess made   2 x 3 in (50.8 x 76.2 mm)\n" in out
    assert "  plunge        3/8 in (9.525 mm), cut 1/8 in (3.175 mm) deep\n" in out
    glued = text.replace('plug_bushing = "3/8"', "plug_bushing = 0.395\nglue_line = 0.01")
    (here / "inch.toml").write_text(glued, encoding="utf-8")
    out = " ".join(call("inlay", "inch.toml").out.split())
    assert "they differ by 0.010 in (0.254 mm) all round, no overlap; 0.095 sq in = 61.54 mm² left open" in out


def test_a_plug_of_nothing(call: Call, here: Path) -> None:
    """Where nothing stays standing, that is said instead of sizes."""
    text = JOB.replace("width = 40", "width = 6").replace("corner_radius = 3\n", "corner_radius = 2.5\n")
    text = text.replace("{ diameter = 10, bore = 8, stem = 5 }", "17\nplug_bit = 8")
    (here / "none.toml").write_text(text, encoding="utf-8")
    said = call("inlay", "none.toml")
    assert said.status == 1
    assert "  plug made    none\n" in said.out
    assert "laid over" not in said.out


def test_json_of_jobs(call: Call, job: str, here: Path, tools: str) -> None:
    """One object for one job, a list for several; the findings on the inlay and the tools that would fit with them."""
    one = json.loads(call("inlay", job, "--json", "--tools", tools).out)
    assert (one["title"], one["fits"], one["plunge_depth"]) == ("Star in the lid", True, {"recess": 10.0, "plug": 11.4})
    assert one["laid_over"]["largest_gap"] == 0.0
    other = write(here, "diameter = 10, bore = 8", "diameter = 9, bore = 7")
    several = call("inlay", job, other, "--json", "--tools", tools)
    assert several.status == 1
    first, second = json.loads(several.out)
    assert (first["changes"], second["changes"][0]) == ([], "plug: its bit in small")
    assert next(one["code"] for one in second["findings"]) == "plug-too-large"


def test_a_job_without_an_inlay(call: Call, job: str, here: Path) -> None:
    """Status 2 and a line that says what to write; the other jobs are answered."""
    other = write(here, JOB[JOB.index("[inlay]") :], "")
    said = call("inlay", job, other)
    assert said.status == 2
    assert said.faults == [
        'other.toml: has no [inlay] (write [inlay] and plug_bushing = "10 mm" below [tools], or such as it is)'
    ]
    assert said.out.startswith("Star in the lid\n")
    assert call("inlay", other, "--json").out == ""


def test_a_faulty_job(call: Call, here: Path) -> None:
    """Its faults are lines, as of every command."""
    said = call("inlay", write(here, "depth = 4", "depth = 0"))
    assert (said.status, said.out) == (2, "")
    assert said.faults == ["other.toml:8: cut.depth: 0 is not a size (write a length greater than 0)"]


def test_the_second_template_of_a_job(call: Call, job: str, tools: str) -> None:
    """A first of the cut's own shape, led round with 5 in 10 mm: the job's 5 in 20 mm repeat it; 3 in 10 do not.

    The first's corners are 3 mm, those of the cut, 1 mm smaller a side, 2.5 mm by its bit: 1 + 0.5 (√2 - 1) away.
    """
    fits = call("inlay", job, "--first", "5 mm", "10 mm", "--tools", tools)
    assert fits.status == 0
    out = " ".join(fits.out.split())
    assert "first a template of the cut's own shape, led round with bit 5 mm, bushing 10 mm second bit 5 mm" in out
    assert "they coincide all round, no overlap" in out
    misses = call("inlay", job, "--first", "3 mm", "10 mm", "--tools", tools)
    assert misses.status == 1
    assert "the first reaches up to 1.207 mm beyond the cut of the second (213.64 mm²)" in " ".join(misses.out.split())
    numbers = json.loads(call("inlay", job, "--first", "3 mm", "10 mm", "--tools", tools, "--json").out)
    assert (numbers["gap"], numbers["laid_over"]["smallest_gap"], numbers["findings"]) == (-1.0, -1.207107, [])


def test_check_and_make_speak_of_it(call: Call, job: str) -> None:
    """Two rows among the facts, and the sheet among the files, with the size of its page."""
    checked = call("check", job).out
    assert (
        "  plug        bit 5 mm, about 13/64 in (0.197 in), bushing 10 mm, about 25/64 in (0.394 in); plunge\n"
        in checked
    )
    assert "  inlay       they fit: the plug is as large as the recess\n" in checked
    assert "  - Plug: stick its stock down all over, for it comes loose at the last pass;" in checked
    made = call("make", job, "--for", "cnc").out
    assert "    lid_inlay.pdf   page 210 x 297 mm = 8.268 x 11.693 in\n" in made


def test_names_that_say_what_they_are(call: Call, here: Path) -> None:
    """ "bushing 5/8 in" is not called a bushing twice."""
    text = JOB.replace("bushing = { diameter = 20, bore = 16, stem = 5 }", 'bushing = "bushing 5/8 in"')
    (here / "named.toml").write_text(text, encoding="utf-8")
    assert ", bushing 5/8 in (5/8 in = 15.875 mm)" in call("inlay", "named.toml").out


def test_tools_beside_the_job(call: Call, here: Path) -> None:
    """The tools that are proposed are those the job sees: in a folder of its own, with its own profiles."""
    (here / "shop" / "profiles").mkdir(parents=True)
    (here / "shop" / "profiles" / "own.toml").write_text(TOOLS, encoding="utf-8")
    text = JOB.replace("diameter = 10, bore = 8", "diameter = 9, bore = 7")
    (here / "shop" / "lid.toml").write_text(text, encoding="utf-8")
    assert "Tools that make them fit:\n  plug: its bit in small\n" in call("inlay", "shop/lid.toml").out


def test_shipped_tools_are_added(call: Call, here: Path) -> None:
    """With --shipped a bit that comes with the program is proposed beside one's own."""
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    pairs = ("inlay", "--recess", "5 mm", "20 mm", "--plug", "5 mm", "9 mm")
    assert "straight 6 mm" not in call(*pairs).out
    assert "  plug: straight 6 mm in its bushing\n" in call(*pairs, "--shipped").out


def test_outside_work_has_no_second_template(call: Call, here: Path) -> None:
    """A pattern that is followed round its outside is refused with --first, and has no [inlay]."""
    text = JOB[: JOB.index("[inlay]")].replace("depth = 4", 'depth = 4\nside = "outside"')
    text = text.replace("width = 160\nheight = 120\n", "")
    (here / "pattern.toml").write_text(text, encoding="utf-8")
    said = call("inlay", "pattern.toml", "--first", "5 mm", "10 mm")
    assert (said.status, said.out) == (2, "")
    assert said.faults == [
        "pattern.toml: --first: its bushing runs round the outside, not inside a second template (leave --first out)"
    ]
    assert call("inlay", "pattern.toml").faults[0].startswith("pattern.toml: has no [inlay] (")


def test_a_bit_that_does_not_go_in(call: Call, here: Path) -> None:
    """What stops the job is said here too, and there is nothing to lay over."""
    said = call(
        "inlay", write(here, "width = 40\nlength = 70\ncorner_radius = 3", "width = 4\nlength = 70\ncorner_radius = 1")
    )
    assert said.status == 1
    assert "  stop     tools.bit: the bit (5 mm) is wider than the cut (4 mm)" in said.out
    assert "made" not in said.out.split("stop")[0]
    numbers = json.loads(call("inlay", "other.toml", "--json").out)
    assert (numbers["laid_over"], numbers["findings"][0]["code"]) == (None, "bit-wider-than-cut")
