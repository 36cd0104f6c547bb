"""Which kerf and which bars count for a job, and processes that only change what a shipped one says."""

from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.corrections import kerf_in
from jigtemplates.parameters.entries import Process
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles

Folder = Callable[..., Profiles]

KERFS = """\
[processes.laser]
kerf = "0.3 mm"
kerfs = [
  { width = "0.25 mm" },
  { sheet = "mdf", width = "0.2 mm" },
  { sheet = "mdf", thickness = "6 mm", width = "0.19 mm", measured_on = 2026-11-25 },
  { sheet = "mdf", thickness = "3 mm", width = "0.14 mm" },
  { thickness = "9 mm", width = "0.22 mm" },
]
"""
PEN = '{ layer = "a", colour = "#112233", stroke = "0.1 mm" }'


@pytest.fixture
def profiles(tmp_path: Path) -> Folder:
    """profiles(near, far): a folder for each text, the nearest first."""

    def write(*texts: str) -> Profiles:
        folders = []
        for number, text in enumerate(texts):
            folder = tmp_path / str(number)
            folder.mkdir()
            (folder / "tools.toml").write_text(text, encoding="utf-8")
            folders.append(folder)
        return Profiles(folders)

    return write


def laser(profiles: Profiles) -> Process:
    """The laser's profile."""
    return profiles.find("processes", "laser").entry


@pytest.mark.parametrize(
    ("sheet", "thickness", "width"),
    [
        ("mdf", 6.0, "0.19 mm"),
        ("mdf", 5.6, "0.19 mm"),  # a sheet sold as 6 mm
        ("mdf", 3.2, "0.14 mm"),
        ("mdf", 12.0, "0.2 mm"),  # no thickness of it was measured, but the sheet was
        ("acrylic", 9.4, "0.22 mm"),
        ("acrylic", 5.0, "0.25 mm"),
        (None, 6.0, "0.25 mm"),
    ],
)
def test_kerf_of_a_sheet(profiles: Folder, sheet: str | None, thickness: float, width: str) -> None:
    """The sheet's own first, then the nearest thickness, then what was measured in any."""
    found = kerf_in(laser(profiles(KERFS)), sheet, thickness)
    assert found is not None
    assert found.width.text == width


def test_kerf_of_no_such_sheet(profiles: Folder) -> None:
    """A kerf of one sheet says nothing of another."""
    only = '[processes.laser]\nkerfs = [{ sheet = "mdf", thickness = "6 mm", width = "0.19 mm" }]\n'
    assert kerf_in(laser(profiles(only)), "acrylic", 6.0) is None
    assert kerf_in(laser(profiles()), "mdf", 6.0) is None


@pytest.mark.parametrize(
    ("keys", "kerf"),
    [({}, 0.19), ({"kerf": "0.1 mm"}, 0.1), ({"kerf": 0}, 0.0)],
)
def test_what_the_job_says_comes_first(
    profiles: Folder, job_with: Callable[..., Job], keys: dict[str, object], kerf: float
) -> None:
    """Then the sheet's; a kerf measured on a known day is a correction, one of the job is none."""
    job = job_with(profiles=profiles(KERFS), make=keys)
    assert job.make.kerf == kerf
    assert [one.where for one in job.corrections] == ([] if keys else ["make.kerf"])


def test_kerf_of_another_sheet_leaves_the_processes_own(profiles: Folder, job_with: Callable[..., Job]) -> None:
    """Where nothing was measured in the plate's sheet, the kerf of the process counts and is said as assumed."""
    own = '[processes.laser]\nkerf = 0.3\nkerfs = [{ sheet = "acrylic", width = 0.2 }]\n'
    job = job_with(profiles=profiles('units = "mm"\n' + own))
    assert job.make.kerf == 0.3
    assert "make.kerf" in [one.where for one in job.assumptions]


def test_no_laser_no_correction(profiles: Folder, job_with: Callable[..., Job]) -> None:
    """A job that no laser makes is not computed with a kerf."""
    assert job_with(profiles=profiles(KERFS), make={"for": ["cnc"]}).corrections == ()


def test_bars_of_the_printer(profiles: Folder, job_with: Callable[..., Job]) -> None:
    """Those of the profile, where the job prints and has none of its own."""
    own = '[processes.paper]\nprinted_bar = { across = "99 mm", up = "101 mm", measured_on = 2026-11-25 }\n'
    seen = profiles(own)
    job = job_with(profiles=seen)
    assert job.make.correction == (100 / 99, 100 / 101)
    assert [(one.where, one.text, one.on) for one in job.corrections] == [
        ("make.printed_bar", "the printer's bars of 100 mm are 99 mm across and 101 mm up", "2026-11-25")
    ]
    its_own = job_with(profiles=seen, make={"printed_bar": {"across": "100 mm", "up": "99.5 mm"}})
    assert its_own.make.correction == (1.0, 100 / 99.5)
    assert its_own.corrections == ()
    assert job_with(profiles=seen, make={"for": ["laser"]}).make.correction == (1.0, 1.0)


def test_bars_too_far_off(profiles: Folder) -> None:
    """The same limits as in a job."""
    with pytest.raises(InputError) as caught:
        laser(profiles('[processes.paper]\nprinted_bar = { across = "95 mm", up = "100 mm" }\n'))
    (line,) = caught.value.lines
    assert line.endswith(
        'processes.paper.printed_bar.across: "95 mm" is too far from 100 mm to be a printer\'s error (97.1 to '
        "103.0 mm; print again at 100 %, without fitting to the page)"
    )


def test_process_that_says_a_part(profiles: Folder) -> None:
    """Without roles all that it leaves out is taken from the next one of its name, here the shipped one."""
    own, shipped = laser(profiles(KERFS)), laser(Profiles())
    assert own.roles == shipped.roles
    assert (own.kerf.text, own.dxf_version) == ("0.3 mm", "R2000")


def test_process_over_process_over_shipped(profiles: Folder) -> None:
    """Each takes what it leaves out from the next one; one that has roles is whole and takes nothing."""
    roles = f"roles = {{ cut_outside = {PEN}, cut_inside = {PEN} }}\n"
    far = f'[processes.laser]\ndxf_version = "R12"\n{roles}'
    found = laser(profiles("[processes.laser]\nkerf = '0.1 mm'\n", "[processes.laser]\nkerf = '0.2 mm'\n", far))
    assert (found.kerf.text, found.dxf_version, list(found.roles.drawn())) == (
        "0.1 mm", "R12", ["cut_outside", "cut_inside"]
    )  # fmt: skip


def test_part_of_nothing(profiles: Folder) -> None:
    """A process of another name must say what is drawn."""
    with pytest.raises(InputError) as caught:
        laser(profiles("[processes.plotter]\nkerf = '0.1 mm'\n"))
    (line,) = caught.value.lines
    assert line.partition("tools.toml: ")[2] == (
        "processes.plotter: roles is missing (write what is drawn, or call it as one that is shipped: laser, cnc, "
        "paper, print)"
    )


@pytest.mark.parametrize(
    ("first", "second", "what"),
    [
        ('sheet = "mdf", thickness = "1/4 in", ', 'sheet = "mdf", thickness = "6.35 mm", ', "mdf, 6.35 mm"),
        ("", "", "any sheet"),
    ],
)
def test_sheet_twice(profiles: Folder, first: str, second: str, what: str) -> None:
    """One kerf for one sheet; 1/4 in and 6.35 mm are one thickness."""
    with pytest.raises(InputError) as caught:
        laser(profiles(f'[processes.laser]\nkerfs = [{{ {first}width = "0.2 mm" }}, {{ {second}width = "0.1 mm" }}]\n'))
    assert caught.value.lines[0].endswith(f"processes.laser.kerfs: {what} stands there twice (keep one)")
