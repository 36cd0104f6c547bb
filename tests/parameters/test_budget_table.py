"""The [fit] table: what may be written, and the line for what may not."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.job import Edge, FitChoice, Job
from jigtemplates.profiles import Profiles

Read = Callable[..., Job]
Faults = Callable[..., tuple[str, ...]]
JobWith = Callable[..., Job]


def fit(*lines: str) -> tuple[str, str]:
    """The change that adds a [fit] table to the good job."""
    return ("[make]", "\n".join(["[fit]", *lines, "[make]"]))


def test_nothing_said(job_with: JobWith) -> None:
    """A centring cone's 0.05 mm, a router that may be turned, 0.02 to 0.15 mm of clearance; both guesses are marked."""
    made = job_with(make={"for": ["laser", "paper"]}).fit
    assert made == FitChoice(
        off_centre=0.05,
        turned=True,
        limits=(0.02, 0.15),
        tenon=None,
        edges=(Edge("laser", 0.05), Edge("paper", 0.3)),
        kerf_within=None,
        taken=("off_centre", "turned"),
    )


def test_everything_said(job_with: JobWith) -> None:
    """Each key counts, and nothing is marked as taken; 0 is a value like any other."""
    made = job_with(
        fit={"off_centre": 0, "turned": False, "too_tight": -0.05, "too_loose": 0, "tenon": "10 mm"},
        make={"for": ["print"]},
    ).fit
    assert (made.off_centre, made.turned, made.limits, made.taken) == (0.0, False, (-0.05, 0.0), ())
    assert made.tenon is not None
    assert (made.tenon.mm, made.edges) == (10.0, (Edge("print", 0.1),))


def test_a_bare_number_is_in_the_jobs_unit(job: Read) -> None:
    """As any length of a job."""
    sizes = [(old, f'{old.rpartition("= ")[0]}= "{old.rpartition("= ")[2]} mm"') for old in SIZES]
    inches = fit("off_centre = 0.002", "too_tight = 0.001", "too_loose = 0.005")
    screws = ("inset = 10 }", 'inset = "10 mm" }')
    made = job(inches, screws, ('units = "mm"', 'units = "in"'), *sizes).fit
    assert made.off_centre == pytest.approx(0.0508)
    assert made.limits == pytest.approx((0.0254, 0.127))


SIZES = ("width  = 10", "depth  = 28", "width = 140", "height = 140", "thickness = 6")


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        (["off_centre = -0.1"], "fit.off_centre: -0.1 is less than nothing (write 0 or more)"),
        (["off_centre = 3"], 'fit.off_centre: "3 mm" is out of range (write 0 to 2 mm)'),
        (['turned = "no"'], 'fit.turned: "no" does not fit here (write true or false, without quotes)'),
        (["too_tight = -3"], 'fit.too_tight: "-3 mm" is out of range (write -2 to 2 mm)'),
        (["too_loose = 2.1"], 'fit.too_loose: "2.1 mm" is out of range (write -2 to 2 mm)'),
        (
            ["too_tight = 0.1", "too_loose = 0.1"],
            'fit.too_loose: "0.1 mm" is not more than too_tight, "0.1 mm" (a fit between the two is good)',
        ),
        (
            ["too_loose = 0.01"],
            'fit.too_loose: "0.01 mm" is not more than too_tight, "0.02 mm" (a fit between the two is good)',
        ),
        (
            ["too_tight = 0.2"],
            'fit.too_loose: "0.15 mm" is not more than too_tight, "0.2 mm" (a fit between the two is good)',
        ),
        (["tenon = 0"], "fit.tenon: 0 is not a size (write a length greater than 0)"),
        (
            ["tenon = { nominal = 10, measured = 11.2 }"],
            'fit.tenon.measured: "11.2 mm" is more than 1 mm from the nominal size, "10 mm" (measure again, or correct '
            "the nominal size)",
        ),
        (["loose = 1"], 'fit: unknown key "loose" (did you mean "too_loose"?)'),
    ],
)
def test_each_fault_has_one_line(faults: Faults, lines: list[str], fault: str) -> None:
    """Where, what is wrong, what to write instead."""
    (line,) = faults(fit(*lines))
    assert line.partition(": ")[2] == fault
    assert line.startswith("rail:")


def test_a_tenon_wants_a_mortise(job_with: JobWith) -> None:
    """Thickness of a tenon for a hinge is refused; the rest of [fit] is not."""
    hinge: dict[str, Any] = {"shape": "hinge", "width": 25, "length": 76, "corner_radius": 5, "depth": 2}
    assert job_with(cut=hinge, fit={"off_centre": 0.1}).fit.off_centre == 0.1
    with pytest.raises(
        InputError, match=r"fit: a tenon is for a mortise .*, not for \"hinge\" \(leave fit.tenon out\)"
    ):
        job_with(cut=hinge, fit={"tenon": 10})


def test_how_well_a_process_makes_an_edge(job_with: JobWith) -> None:
    """Shipped: laser and CNC 0.05 mm, print 0.1, by hand 0.3."""
    edges = job_with(make={"for": ["laser", "cnc", "print", "paper"]}).fit.edges
    assert [(edge.target, edge.within) for edge in edges] == [
        ("laser", 0.05), ("cnc", 0.05), ("print", 0.1), ("paper", 0.3),
    ]  # fmt: skip


def test_an_edge_that_guides_nothing(tmp_path: Path) -> None:
    """A process whose edges are 3 mm off is refused, with the place."""
    (tmp_path / "a.toml").write_text('[processes.cnc]\nwithin = "3 mm"\n', encoding="utf-8")
    with pytest.raises(InputError) as caught:
        Profiles([tmp_path]).find("processes", "cnc")
    (line,) = caught.value.lines
    assert line.endswith('a.toml:2: processes.cnc.within: "3 mm" is out of range (write 0 to 2 mm)')
