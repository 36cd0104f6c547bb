"""The [make.print] table: what it may say, what it means without it, and the line for every fault."""

from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Job, PrintChoice
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles

JobWith = Callable[..., Job]


def test_what_is_taken_without_it(job_with: JobWith) -> None:
    """Holes 0.2 wider by the profile, openings as drawn, chords of 0.01, letters sunk by 0.6, both kinds of file."""
    choice = job_with(make={"for": ["print"]}).make.printing
    assert choice == PrintChoice(0.2, 0.0, 0.01, "sunk", 0.6, ("3mf", "stl"))


def test_what_it_says(job_with: JobWith) -> None:
    """Every key, in the job's unit."""
    keys = {
        "allowance": 0.3, "opening_allowance": "0.004 in", "chord": 0.05, "label": "raised", "label_depth": 1,
        "formats": ["stl"],
    }  # fmt: skip
    choice = job_with(make={"for": ["print"], "print": keys}).make.printing
    assert choice == PrintChoice(0.3, pytest.approx(0.1016), 0.05, "raised", 1.0, ("stl",))  # type: ignore[arg-type]


def test_without_a_printer(job_with: JobWith) -> None:
    """A job that is not printed has no choice, whatever its table says."""
    assert job_with(make={"print": {"allowance": 0.3}}).make.printing is None


def test_a_profile_of_ones_own(job_with: JobWith, tmp_path: Path) -> None:
    """Allowances measured once, in a person's own profile, serve every job."""
    pen = '{ layer = "all", colour = "#000000", stroke = "0.5 mm" }'
    (tmp_path / "mine.toml").write_text(
        f'[processes.print]\nallowance = "0.25 mm"\nopening_allowance = "0.12 mm"\n'
        f"roles = {{ cut_outside = {pen}, cut_inside = {pen} }}\n",
        encoding="utf-8",
    )
    job = job_with(make={"for": ["print"]}, profiles=Profiles([tmp_path]))
    assert job.make.printing is not None
    assert (job.make.printing.allowance, job.make.printing.opening_allowance) == (0.25, 0.12)
    assert [a.text for a in job.assumptions if a.where.startswith("make.print")] == [
        'screw holes are printed 0.25 mm wider, taken from the process profile "print"',
        'openings are printed 0.12 mm wider, taken from the process profile "print"',
    ]


def test_a_profile_without_allowances(job_with: JobWith, tmp_path: Path) -> None:
    """A person's own profile that says nothing of allowances makes everything as drawn."""
    pen = '{ layer = "all", colour = "#000000", stroke = "0.5 mm" }'
    own = f"[processes.print]\nroles = {{ cut_outside = {pen}, cut_inside = {pen} }}\n"
    (tmp_path / "mine.toml").write_text(own, encoding="utf-8")
    choice = job_with(make={"for": ["print"]}, profiles=Profiles([tmp_path])).make.printing
    assert choice is not None
    assert (choice.allowance, choice.opening_allowance) == (0, 0)


def test_r12_is_not_asked_of_a_printer(job_with: JobWith) -> None:
    """The version of DXF comes from the machines that are given one."""
    assert job_with(make={"for": ["print"]}).make.dxf.version == "R2000"


TEXT = """\
title = "Rail"
units = "mm"
[cut]
shape = "round"
diameter = 30
depth = 5
[tools]
bit = 6
bushing = 12
[plate]
width = 100
height = 100
thickness = 6
[make]
for = ["print"]
print = {{ {keys} }}
"""


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        ("allowance = 2.5", 'make.print.allowance: "2.5 mm" is too much for a printer (at most 2 mm)'),
        ("opening_allowance = 3", 'make.print.opening_allowance: "3 mm" is too much for a printer (at most 2 mm)'),
        ("allowance = -0.1", "make.print.allowance: -0.1 is less than nothing (write 0 or more)"),
        ("chord = 1.5", 'make.print.chord: "1.5 mm" is too much for a template (at most 1 mm)'),
        (
            "chord = 0.0001",
            'make.print.chord: "0.0001 mm" is too small (write at least 0.001 mm; is the unit right?)',
        ),
        ("label_depth = 4", 'make.print.label_depth: "4 mm" is too much for letters (at most 3 mm)'),
        (
            "label_depth = 0.05",
            'make.print.label_depth: "0.05 mm" is too small (write at least 0.1 mm; is the unit right?)',
        ),
        ('label = "sunken"', 'make.print.label: "sunken" is not known here (did you mean "sunk"?)'),
        ('formats = ["3mf", "3mf"]', 'make.print.formats: "3mf" stands there twice (keep one)'),
        ('formats = ["obj"]', 'make.print.formats[0]: "obj" is not known here (known: "3mf", "stl")'),
        ("formats = []", "make.print.formats: the list is empty (write at least one, or leave the key out)"),
        ("depth = 1", 'make.print: unknown key "depth" (did you mean "label_depth"?)'),
    ],
)
def test_faults(keys: str, line: str) -> None:
    """Each fault is one line with its key, what is wrong and what to write."""
    with pytest.raises(InputError) as refused:
        job_from_text(TEXT.format(keys=keys), name="rail", profiles=Profiles())
    assert refused.value.lines == (f"rail:16: {line}",)
