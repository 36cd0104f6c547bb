"""Jobs in inches are answered in inches: a sentence of each check, and nothing in millimetres alone anywhere."""

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.facts import facts, short_facts
from jigtemplates.label_words import label_facts
from jigtemplates.parameters.load import job_from_text, load_jobs
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.processes.setup_band import key_figures
from jigtemplates.processes.setup_notes import fence_facts, set_facts, short_findings, tenon_facts
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on
from jigtemplates.terminal import report_lines

SAMPLES = Path(__file__).parents[2] / "samples"

#: The job that the cases change.
JOB: dict[str, dict[str, Any]] = {
    "cut": {"shape": "slot", "width": "1/2", "length": 2, "depth": "1/2"},
    "tools": {"bit": "3/8", "bushing": {"diameter": "5/8", "bore": "17/32", "stem": "3/16"}, "clearance": 0.004},
    "plate": {"width": 6, "height": 5, "thickness": "1/4"},
    "make": {"for": ["cnc"]},
}

#: A router and a holder in inches.
OWN = """
units = "in"
[routers."mine"]
base = { shape = "round", diameter = 6 }
base_hole = "1-1/2"
travel = 2
collet_to_base = "2-3/4"
collets = ["1/4 in", "1/2 in"]
nut_diameter = 1
[holders."frame"]
width = 6
height = 5
play = "1/64"
depth = "1/4"
ledge = "1/2"
window = { width = 5, height = 4 }
frame = 1
corner_radius = "1/4"
stand_off = 1
ledge_thickness = "3/4"
screws = { pattern = "corners", size = "#8", inset = "1/4" }
[bushings."owned"]
diameter = { nominal = "3/4", measured = "19 mm" }
"""

CASES = tomllib.loads((Path(__file__).parent / "in_inches.toml").read_text(encoding="utf-8"))["case"]


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Profiles:
    """Profiles with the router and the holder."""
    folder = tmp_path_factory.mktemp("own")
    (folder / "own.toml").write_text(OWN, encoding="utf-8")
    return Profiles([folder])


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + " }"
    return "[" + ", ".join(map(_toml, value)) + "]" if isinstance(value, list) else json.dumps(value)


def _report(changed: dict[str, Any], own: Profiles, *, head: str = 'units = "in"') -> Report:
    lines = ['title = "Slat"', head]
    for name in {**JOB, **changed}:
        held, given = JOB.get(name, {}), changed.get(name, {})
        keys = {**({} if "shape" in given else held), **given}
        lines += [f"[{name}]", *(f"{key} = {_toml(value)}" for key, value in keys.items() if value != "")]
    return report_on(job_from_text("\n".join(lines), name="slat", profiles=own))


@pytest.mark.parametrize("case", CASES, ids=[f"{number}-{case['code']}" for number, case in enumerate(CASES, 1)])
def test_a_finding_in_inches(own: Profiles, case: dict[str, Any]) -> None:
    """Inches first, and the millimetres in brackets."""
    found = [one for one in _report(case["changed"], own).findings if one.code == case["code"]]
    assert found[0].message == case["says"]
    assert _bare(case["says"]) == []


def test_a_cut_in_inches_is_enough(own: Profiles) -> None:
    """Without units a cut that is written in inches is answered like one of a job in inches; one in mm is not."""
    written: dict[str, Any] = {
        "cut": {"width": "1/2 in", "length": "2 in", "depth": "1/2 in"},
        "tools": {"bit": "3/8 in", "bushing": "5/8 in", "clearance": "0.004 in"},
        "plate": {"width": "6 in", "height": "5 in", "thickness": "1/4 in"},
    }
    said = {one.code: one.message for one in _report(written, own, head="").findings}
    assert said["stem-unknown"].startswith("the stem's length is not known: it must be shorter than 1/4 in = 6.35 mm ")
    written["cut"]["width"] = "12.7 mm"
    said = {one.code: one.message for one in _report(written, own, head="").findings}
    assert said["stem-unknown"].startswith("the stem's length is not known: it must be shorter than 6.35 mm ")


def test_the_label_of_an_outline_in_inches() -> None:
    """The sizes of what is drawn stand on the plate in inches where the job is in them: 3 x 4 x 3/16 in."""
    (bracket, *_) = load_jobs(SAMPLES / "shelf-bracket.toml")
    assert "outline 3 x 4 x 3/16 in" in label_facts(bracket)


def test_a_turn_stands_on_the_label(own: Profiles) -> None:
    """A plate that may be put back turned says by how much; another says nothing of it."""
    frame = {"plate": {"holder": "frame", "width": "", "height": "", "turn": 180}}
    assert label_facts(_report(frame, own).job)[-2:] == ("turn 180", "this side up")
    assert not [fact for fact in label_facts(_report({}, own).job) if "turn" in fact]


# Nothing in millimetres alone ------------------------------------------------------------------------------------

#: Millimetres beside inches: "1 in (25.4 mm)", "1 in = 25.4 mm", "0.002 to 0.006 in (0.05 to 0.15 mm)", what a sheet is
#: sold in; and a metric tool, which keeps the size it is sold by: "12 mm = 0.472 in", "9.5 mm looks like 3/8 in".
_BESIDE = re.compile(
    r"in(?: \(| = | or |, which is )[-\d., x]+(?: mm)?(?: to [\d.]+)? mm"
    r"|[\d.]+ mm(?: = [\d./-]+ in|, about | looks like )"
)


def _bare(text: str) -> list[str]:
    """Every length in mm that no inches stand before."""
    return re.findall(r"[\d.]+ mm\b", _BESIDE.sub("", text))


@pytest.mark.parametrize(
    ("text", "bare"),
    [
        ("only 3 mm of the stem", ["3 mm"]),
        ("plate (6 mm), cut 3/4 in", ["6 mm"]),
        ("1/2 in = 12.7 mm and 3 mm", ["3 mm"]),
        ("0.442 x 1.688 in, about 7/16 x 1-11/16 in (11.214 x 42.863 mm)", []),
        ("1/16 to 1/8 in (1.59 mm to 3.18 mm)", []),
    ],
)
def test_bare_millimetres_are_found(text: str, bare: list[str]) -> None:
    """The search of these tests finds what it is to find."""
    assert _bare(text) == bare


INCH_SAMPLES = ["mantel-inlay", "porch-door-hinge", "shelf-bracket", "window-seat-slat"]


def test_no_sample_in_inches_is_left_out() -> None:
    """The samples whose job says so are the ones that are looked at here."""
    assert sorted(p.stem for p in SAMPLES.glob("*.toml") if 'units = "in"' in p.read_text("utf-8")) == INCH_SAMPLES


@pytest.fixture(scope="module", params=INCH_SAMPLES)
def sample(request: pytest.FixtureRequest) -> Report:
    """A sample in inches, reported on."""
    (job, *_) = load_jobs(SAMPLES / f"{request.param}.toml")
    return report_on(job)


def test_no_answer_in_millimetres_alone(sample: Report) -> None:
    """Findings, facts, and all that `check` prints."""
    said = [one.message for one in sample.findings]
    said += [value for _, value in (*facts(sample), *short_facts(sample))]
    said += [" ".join(" ".join(report_lines(sample)).split())]
    assert [bare for text in said for bare in _bare(text)] == []
    assert any("mm" in text for text in said)  # they are still there


def test_no_setting_in_millimetres_alone(sample: Report) -> None:
    """The words of the set-up sheet."""
    said = [value for _, value in (*set_facts(sample), *fence_facts(sample), *tenon_facts(sample))]
    said += short_findings(sample)
    assert [bare for text in said for bare in _bare(text)] == []


def test_no_figure_in_millimetres(sample: Report) -> None:
    """The key figures are in inches; their millimetres stand below."""
    for figure in key_figures(sample)[:3]:
        assert figure.figure.endswith(" in")
        assert re.match(r"[\d.]+ mm", figure.below)


def test_no_dimension_in_millimetres_alone(sample: Report) -> None:
    """On the drawings of the set-up sheet millimetres stand beside inches, or come right after them."""
    found = list(_drawn(sample))
    assert len(found) > 10
    for before, text in found:
        assert _bare(text) == [] or (re.fullmatch(r"[\d.]+ mm", text) and before.endswith(" in")), (before, text)


def _drawn(report: Report) -> Iterator[tuple[str, str]]:
    """Each text of the drawings of the first page, and the one before it."""
    for window in lay_out_setup(report).pattern.pages[0].windows:
        strings = [text.string for text in window.texts]
        yield from zip(["", *strings], strings, strict=False)
