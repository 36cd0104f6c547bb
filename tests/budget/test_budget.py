"""From a job to its budget: what is known and what is taken, JSON, and the words of `check`."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.budget import Budget
from jigtemplates.budget.words import advice, budget_facts, percent
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

ReportWith = Callable[..., Report]
Call = Callable[..., Any]
BIT = {"diameter": {"nominal": "3/8 in", "measured": 9.5, "within": 0.02}}
BUSHING = {"diameter": {"nominal": "1/2 in", "measured": 12.7}}


def budget(report: Report) -> Budget:
    """The budget, which there is."""
    assert report.budget is not None
    return report.budget


def known(report: Report) -> dict[str, tuple[float, str, bool]]:
    """Limit, words and whether it was taken, of each error of the first process's first size."""
    band = budget(report).processes[0].bands[0]
    return {share.name: (round(share.up, 6), share.known, share.is_taken) for share in band.shares}


def test_what_was_never_measured_is_taken_and_said(report_with: ReportWith) -> None:
    """Nominal tools, a shipped process and an unset [fit]: each has its band, and the words say that it was taken."""
    assert known(report_with(make={"for": ["cnc"]})) == {
        "bit": (0.1, "not measured: ± 0.1 mm taken", True),
        "bushing": (0.05, "not measured: ± 0.05 mm taken", True),
        "opening": (0.1, "± 0.05 mm at each edge", False),
        "bushing off centre": (0.1, "not known: 0.05 mm taken, router turned", True),
    }


def test_what_was_measured_counts(report_with: ReportWith) -> None:
    """A band that was given; a measurement whose band was not is taken to be a calliper's."""
    report = report_with(
        tools={"bit": BIT, "bushing": BUSHING}, fit={"off_centre": 0.2, "turned": False}, make={"for": ["paper"]}
    )
    assert known(report) == {
        "bit": (0.02, "measured 9.5 mm ± 0.02 mm", False),
        "bushing": (0.02, "measured 12.7 mm: ± 0.02 mm taken", True),
        "opening": (0.6, "± 0.3 mm at each edge", False),
        "bushing off centre": (0.0, "at most 0.2 mm, router held in one direction", False),
    }


def test_a_process_of_ones_own(report_with: ReportWith, tmp_path: Path) -> None:
    """The profile's `within` counts; where a whole process leaves it out, 0.1 mm is taken."""
    roles = 'roles.cut_outside = { layer = "a", colour = "#000000", stroke = 0.1 }\n'
    roles += 'roles.cut_inside = { layer = "b", colour = "#000000", stroke = 0.1 }\n'
    text = f'units = "mm"\n[processes.cnc]\nwithin = 0.02\n{roles}[processes.laser]\n{roles}'
    (tmp_path / "a.toml").write_text(text, encoding="utf-8")
    report = report_with(profiles=Profiles([tmp_path]), make={"for": ["cnc", "laser"]})
    edges = [one.bands[0].shares[2].known for one in budget(report).processes]
    assert edges == ["± 0.02 mm at each edge", "± 0.1 mm at each edge taken"]


def test_a_measured_kerf(report_with: ReportWith) -> None:
    """The kerf's own doubt counts for the laser alone."""
    kerf = {"nominal": 0.2, "measured": 0.18, "within": 0.03}
    report = report_with(make={"for": ["laser", "cnc"], "kerf": kerf})
    names = [[share.name for share in one.bands[0].shares] for one in budget(report).processes]
    assert names == [
        ["bit", "bushing", "opening", "kerf", "bushing off centre"],
        ["bit", "bushing", "opening", "bushing off centre"],
    ]
    share = budget(report).processes[0].bands[0].shares[3]
    assert (share.known, share.up) == ("measured 0.18 mm ± 0.03 mm", 0.03)


def test_a_planned_tenon(report_with: ReportWith) -> None:
    """Without a tenon that is there, that of [tenon] is judged: mortise less fit, ± 0.05 mm taken."""
    tenon = budget(report_with(tenon={"joints": 4, "fit": 0.1})).tenon
    assert tenon is not None
    assert tenon.thickness == pytest.approx(9.9)
    assert (tenon.doubt.within, tenon.doubt.known) == (0.05, "planned: ± 0.05 mm taken")


def test_the_tenon_that_is_there(report_with: ReportWith) -> None:
    """It comes before the planned one; not measured, ± 0.05 mm is taken."""
    report = report_with(tenon={"joints": 4}, fit={"tenon": "9.8 mm"})
    tenon = budget(report).tenon
    assert tenon is not None
    assert (tenon.thickness, tenon.doubt.known) == (9.8, "not measured: ± 0.05 mm taken")


def test_no_tenon(report_with: ReportWith) -> None:
    """Without any, and where the fit leaves nothing of it, no fit is judged."""
    assert budget(report_with()).tenon is None
    thick = budget(report_with(tenon={"joints": 4, "fit": 12}))
    assert (thick.tenon, thick.processes[0].fit) == (None, None)


def test_limits_may_be_changed(report_with: ReportWith) -> None:
    """A fit that presses by up to 0.1 mm: what was too tight is good then."""
    tenon = {"nominal": 10, "measured": 10, "within": 0.01}
    as_usual = budget(report_with(fit={"tenon": tenon})).processes[0].fit
    pressed = budget(report_with(fit={"tenon": tenon, "too_tight": -0.1, "too_loose": 0})).processes[0].fit
    assert as_usual is not None
    assert pressed is not None
    assert as_usual.too_tight > 0.5
    # about its middle the spread is alike: half of all tenons have no clearance
    assert pressed.too_loose == pytest.approx(0.5, abs=1e-6)
    for fit in (as_usual, pressed):
        assert fit.too_tight + fit.good + fit.too_loose == pytest.approx(1.0)


def test_as_json(report_with: ReportWith) -> None:
    """Every figure of the table, lengths in mm, chances from 0 to 1."""
    data = report_with(
        tools={"bit": BIT, "bushing": BUSHING}, fit={"tenon": "9.9 mm", "off_centre": 0}, make={"for": ["cnc"]}
    ).as_json()["budget"]
    assert data["coverage"] == 0.95
    assert data["tenon"] == {
        "thickness": 9.9, "within": 0.05, "known": "not measured: ± 0.05 mm taken",
        "too_tight_below": 0.02, "too_loose_above": 0.15,
    }  # fmt: skip
    (cnc,) = data["processes"]
    width, length = cnc["sizes"]
    assert (cnc["process"], width["name"], length["name"]) == ("cnc", "width", "length")
    assert (width["predicted"], width["trapped"], width["worst"]) == (10.0, False, [9.86, 10.14])
    assert (width["matters_most"], width["bushing_may_not_enter"]) == ("opening", 0.0)
    # √((0.02² + 0.02² + 0.1²) / 3)
    assert width["standard_uncertainty"] == 0.06
    assert width["errors"][0] == {
        "name": "bit", "known": "measured 9.5 mm ± 0.02 mm", "taken": False, "down": 0.02, "up": 0.02, "share": 0.037,
    }  # fmt: skip
    assert sum(cnc["fit"][key] for key in ("too_tight", "good", "too_loose")) == pytest.approx(1.0, abs=2e-4)
    assert cnc["fit"]["clearance_worst"] == [-0.09, 0.29]


def test_the_facts_of_check(report_with: ReportWith) -> None:
    """A line each for what the cut may be, the worst, what matters most, what was taken; each process its own."""
    facts = budget_facts(budget(report_with()))
    assert facts == (
        ("cut may be", "width 10.00 ± 0.20 mm, length 50.00 ± 0.20 mm in 95 % of cuts (laser, CNC)"),
        ("", "width 10.00 ± 0.61 mm, length 50.00 ± 0.61 mm (by hand)"),
        ("at worst", "width 10.00 ± 0.35 mm (laser, CNC), 10.00 ± 0.85 mm (by hand)"),
        ("most from", "the bit, the opening and the bushing off centre (31 % each)"),
        (
            "taken",
            "bit not measured: ± 0.1 mm taken; bushing not measured: ± 0.05 mm taken; bushing off centre not known: "
            "0.05 mm taken, router turned",
        ),
    )


def test_the_facts_of_a_tenon(report_with: ReportWith) -> None:
    """What it is and how it fits, for each process; with everything known nothing was taken.

    The opening's ± 0.1 mm about a clearance of 0.1 mm decides: a tenth of it is below 0.02, a quarter above 0.15.
    """
    bushing = {"diameter": {"nominal": "1/2 in", "measured": 12.7, "within": 0.01}}
    report = report_with(
        tools={"bit": BIT, "bushing": bushing},
        fit={"off_centre": 0, "turned": False, "tenon": {"nominal": 10, "measured": 9.9, "within": 0.01}},
        make={"for": ["cnc"]},
    )
    facts = dict(budget_facts(budget(report)))
    assert "taken" not in facts
    assert facts["most from"] == "the opening (95 %)"
    assert facts["tenon"] == "10 mm nominal, measured 9.9 mm ± 0.01 mm"
    assert facts["it is"] == "too tight 10 %, good 65 %, too loose 25 % (CNC)"


def test_a_job_in_inches(report_with: ReportWith, call: Call, here: Path) -> None:
    """Bands, and what was taken, are told in inches."""
    (here / "inch.toml").write_text(
        'title = "Gain"\nunits = "in"\n[cut]\nshape = "slot"\nwidth = "1/2 in"\nlength = 2\ndepth = "1/2 in"\n'
        '[tools]\nbit = "3/8 in"\nbushing = "5/8 in"\n[plate]\nwidth = 6\nheight = 6\nthickness = "1/4 in"\n'
        '[make]\nfor = ["cnc"]\n',
        encoding="utf-8",
    )
    said = " ".join(call("check", "inch.toml").out.split())
    assert "width 0.500 ± 0.008 in, length 2.000 ± 0.008 in in 95 % of cuts (CNC)" in said
    assert "bit not measured: ± 0.0039 in taken" in said


def test_only_check_tells_it(call: Call, rail: Path) -> None:
    """`make` of a single job leaves it to the set-up sheet."""
    assert "cut may be" in call("check", "rail.toml").out
    assert "cut may be" not in call("make", "rail.toml").out


def test_each_of_several_cuts(call: Call, rail: Path) -> None:
    """The sizes of each cut carry its number; what they come from is said once, and JSON has the budget of each."""
    text = rail.read_text(encoding="utf-8").replace("[cut]", "[[cut]]").replace("[tools]", MORE + "[tools]")
    rail.write_text(text, encoding="utf-8")
    out = " ".join(call("check", "rail.toml").out.split())
    assert "cut may be 1 width 10.00 ± 0.20 mm" in out
    assert "cut may be 2 diameter 20.00 ± 0.20 mm" in out
    assert "at worst 2 diameter 20.00 ± 0.35 mm" in out
    assert out.count("most from") == 1
    data = json.loads(call("check", "rail.toml", "--json").out)
    assert [cut["budget"]["processes"][0]["sizes"][0]["name"] for cut in data["cuts"]] == ["width", "diameter"]


MORE = '[[cut]]\nshape = "round"\ndiameter = 20\ndepth = 10\nx = 20\ny = 70\n\n'


@pytest.mark.parametrize(
    ("chance", "text"),
    [(0.0, "0 %"), (0.001, "under 1 %"), (0.005, "1 %"), (0.444, "44 %"), (0.9951, "over 99 %"), (1.0, "100 %")],
)
def test_percent(chance: float, text: str) -> None:
    """Whole percent, rounded half up; what is not certain is never 0 or 100."""
    assert percent(chance) == text


def said(report: Report) -> list[str]:
    """The advice, by its first words."""
    return [" ".join(words.split()[:3]) for words in advice(budget(report))]


def test_advice(report_with: ReportWith) -> None:
    """On what matters most, for any process; on the router's handle in any case where it may be turned."""
    assert said(report_with(make={"for": ["paper"]})) == ["Try the process", "Keep the router's", "The bushing may"]
    tools: dict[str, Any] = {"bit": BIT, "bushing": "13 mm"}
    assert said(report_with(cut={"width": 12}, tools=tools, make={"for": ["cnc"]}, fit={"turned": False})) == [
        "Try the process"
    ]


def test_advice_on_each_error(report_with: ReportWith, tmp_path: Path) -> None:
    """Whatever matters most has its advice."""
    (tmp_path / "a.toml").write_text('[processes.laser]\nwithin = "0 mm"\n', encoding="utf-8")
    fine = Profiles([tmp_path])
    exact = {"diameter": {"nominal": "3/8 in", "measured": 9.5, "within": 0}}
    sure = {"diameter": {"nominal": "1/2 in", "measured": 12.7, "within": 0}}
    laser, still = {"for": ["laser"]}, {"off_centre": 0}
    kerf = {"nominal": 0.2, "measured": 0.2, "within": 0.05}
    jobs = [
        report_with(tools={"bushing": sure}, profiles=fine, make=laser, fit=still),
        report_with(tools={"bit": exact}, profiles=fine, make=laser, fit=still),
        report_with(tools={"bit": exact, "bushing": sure}, profiles=fine, make={**laser, "kerf": kerf}, fit=still),
        report_with(cut={"width": 9.5}, tools={"bit": exact, "bushing": sure}, profiles=fine, make=laser, fit=still),
        report_with(tools={"bit": exact, "bushing": sure}, profiles=fine, make=laser),
    ]
    assert [said(report)[0] for report in jobs] == [
        "Measure the bit", "Measure the bushing,", "Measure the kerf", "Give the opening", "Keep the router's",
    ]  # fmt: skip
    nothing = report_with(tools={"bit": exact, "bushing": sure}, profiles=fine, make=laser, fit=still)
    assert said(nothing) == []
    assert dict(budget_facts(budget(nothing)))["most from"] == "nothing"
