"""A cut of the job's fit gauge: which takes the tenon, or what one measures, becomes a correction or another width.

The plan's pair, 9.525 mm in 12.7: an opening of 12.975 mm is engraved 9.80. A cut that takes a tenon of 9.9 mm as it
should is 0.1 mm wider than that, 10 mm.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]


@pytest.fixture
def gauge(call: Call, shop: Path) -> Callable[..., Any]:
    """gauge("9.8 mm", "9.9 mm"): what is said of the cut so engraved that takes a tenon so thick."""

    def said(engraved: str, tenon: str, *more: str) -> Any:
        return call("calibrate", "cut", "rail.toml", "--gauge", "--engraved", engraved, "--tenon", tenon, *more)

    return said


@pytest.fixture
def told(gauge: Callable[..., Any]) -> Callable[..., dict[str, Any]]:
    """The same as data, and nothing written."""

    def said(engraved: str, tenon: str, *more: str) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(gauge(engraved, tenon, *more, "--json", "--look").out)
        return found

    return said


def kerf_is_known(call: Call) -> None:
    """0.2 mm in the job's sheet, whatever was measured before."""
    call("calibrate", "kerf", "--gap", "2 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm", "--sure")


def test_cuts_wider_than_engraved(call: Call, gauge: Callable[..., Any]) -> None:
    """The cut engraved 9.8 mm takes a tenon of 9.9: it is 10 mm wide, so a kerf of 0.2 mm was not allowed for."""
    call("gauge", "fit", "rail.toml", "--for", "laser", "--from", "9.7 mm", "--to", "10.2 mm")
    said = gauge("9.8 mm", "9.9 mm")
    assert said.status == 0
    assert said.out.splitlines() == [
        "Fit gauge of rail.toml",
        "  gauge     the cut engraved 9.8 mm; opening 12.975 mm, made by laser",
        "  expected  a cut 9.8 mm wide with bit, bushing and kerf as they are known",
        "  measured  it takes a tenon of 9.9 mm, so with 0.1 mm fit it is 10 mm wide, 0.2 mm too wide",
        "What most likely is off:",
        "  - kerf, 87 %: the beam would have to remove 0.2 mm, not none allowed for",
        "  - bit, 4 %: it would have to cut 9.725 mm, not the 9.525 mm it is sold as",
        "  - bushing, 4 %: it would have to be 12.5 mm, not the 12.7 mm it is sold as",
        "  - bushing off centre, 4 %: off the bit's axis while the router turned: centre the base, or do not",
        "    turn it",
        "What to write in the job:",
        '  - with nothing corrected: write width = "9.8 mm" under [cut] in rail.toml and make the template as',
        "    the gauge was made; one of the two, not both",
        "Correction of the kerf of the laser in mdf, 6 mm:",
        "  until now  none allowed for",
        "  from now   0.2 mm ± 0.045 mm, the full width in mdf, 6 mm",
        "What it changes in the jobs of this folder and those just below it:",
        "  rail.toml: the laser draws the opening 12.975 x 52.975 mm instead of 13.175 x 53.175 mm",
        "Written to profiles/tools.toml, dated 2026-11-25. To take it back: jigtemplates calibrate --undo",
    ]


def test_then_it_is_expected(call: Call, gauge: Callable[..., Any]) -> None:
    """The same reading again corrects nothing twice: the gauge's record says how its openings were drawn."""
    call("gauge", "fit", "rail.toml", "--for", "laser", "--from", "9.7 mm", "--to", "10.2 mm")
    gauge("9.8 mm", "9.9 mm")
    said = gauge("9.8 mm", "9.9 mm")
    assert said.status == 0
    assert "  expected  a cut 10 mm wide with bit, bushing and kerf as they are known" in said.out.splitlines()
    assert "No correction: the cut is as expected, as far as 0.045 mm can be told" in said.out
    assert "What to write in the job" not in said.out


def test_cuts_narrower_than_engraved(call: Call, told: Callable[..., dict[str, Any]]) -> None:
    """Engraved 10.1 it takes a tenon of 9.9, so 10 mm come out of it: the bit cuts 9.425 mm."""
    kerf_is_known(call)
    said = told("10.1 mm", "9.9 mm", "--correct", "bit")
    assert (said["off"]["width"], said["now"]) == (pytest.approx(-0.1), pytest.approx(9.425))


def test_another_tenon(gauge: Callable[..., Any]) -> None:
    """A tenon of 10.2 mm, where 9.9 go into 10: with the correction the job asks for 10.3, without it for 10.1."""
    said = " ".join(gauge("10.1 mm", "10.2 mm", "--look").out.split())
    assert 'once that is corrected: write width = "10.3 mm" under [cut] in rail.toml, which this tenon wants' in said
    assert 'with nothing corrected: write width = "10.1 mm" under [cut]' in said


def test_as_engraved(told: Callable[..., dict[str, Any]]) -> None:
    """Engraved 10.1 it takes a tenon of 10 mm: nothing is off, and the job asks for the wrong width."""
    said = told("10.1 mm", "10 mm")
    assert (said["kind"], said["advice"]) == (
        "right",
        [
            "cuts come out as they are engraved, and this tenon wants another width: write width = "
            '"10.1 mm" under [cut] in rail.toml'
        ],
    )


def test_the_jobs_own_fit(shop: Path, told: Callable[..., dict[str, Any]]) -> None:
    """[tenon] fit = 0.2 mm: a tenon of 9.8 mm says the same as one of 9.9 with the usual 0.1."""
    assert told("9.8 mm", "9.9 mm")["off"]["width"] == pytest.approx(0.2)
    shop.write_text(shop.read_text(encoding="utf-8") + '[tenon]\njoints = 1\nfit = "0.2 mm"\n', encoding="utf-8")
    assert told("9.8 mm", "9.8 mm")["off"]["width"] == pytest.approx(0.2)


def test_how_well_a_tenon_tells(told: Callable[..., dict[str, Any]]) -> None:
    """Half of a step of 0.05 mm and the caliper's 0.02: 0.045 is no error; with --within a smaller one is."""
    assert told("9.96 mm", "9.9 mm")["kind"] == "right"
    assert told("9.95 mm", "9.9 mm")["kind"] == "all round"
    assert told("9.96 mm", "9.9 mm", "--within", "0.03 mm")["kind"] == "all round"


def test_a_measured_cut(call: Call, shop: Path) -> None:
    """Without a tenon the cut itself is measured, the one engraved with the width wanted or another."""
    kerf_is_known(call)
    cut = ("calibrate", "cut", "rail.toml", "--gauge", "--look", "--measured-width")
    lines = call(*cut, "10.05 mm").out.splitlines()
    assert lines[1:3] == [
        "  gauge     the cut engraved 10 mm, the width wanted; opening 13.175 mm, made by laser, kerf 0.2 mm",
        "            allowed for, taken from the job (no record of the gauge is there)",
    ]
    assert "  measured  width 10.05 mm, 0.05 mm too wide" in lines
    said = call(*cut, "9.9 mm", "--engraved", "9.9 mm").out
    assert "  measured  width 9.9 mm, as expected" in said.splitlines()
    said = " ".join(call(*cut, "9.95 mm", "--engraved", "9.9 mm").out.split())
    assert 'with nothing corrected: write width = "9.95 mm" under [cut]' in said


def test_a_rectangle_wider_than_long(call: Call, shop: Path) -> None:
    """The gauge tries its narrow side, 12 mm, which is its length."""
    text = shop.read_text(encoding="utf-8").replace('"slot" ', '"rectangle"').replace("width  = 10", "width = 50")
    text = text.replace('length = "50 mm"', "length = 12\ncorner_radius = 5")
    shop.write_text(text.replace('"my 3/8"', '"1/4 in"'), encoding="utf-8")
    said = " ".join(
        call("calibrate", "cut", "rail.toml", "--gauge", "--measured-width", "12.2 mm", "--made-by", "cnc").out.split()
    )
    assert "width 12.2 mm, 0.2 mm too wide" in said
    assert 'with nothing corrected: write length = "11.8 mm" under [cut]' in said


def test_the_record_decides(call: Call, told: Callable[..., dict[str, Any]]) -> None:
    """A gauge made with a kerf that was found to be larger since: its openings come out that much wider."""
    sheet = ("--material", "mdf", "--thickness", "6 mm", "--sure")
    call("calibrate", "kerf", "--gap", "1 mm", "--cuts", "10", *sheet)
    call("gauge", "fit", "rail.toml", "--for", "laser")
    kerf_is_known(call)
    said = told("9.9 mm", "9.9 mm")
    assert said["template"] == {"engraved": 9.9, "width": 13.075, "kerf": 0.1, "from_manifest": True}
    assert said["off"]["width"] == pytest.approx(0.0, abs=1e-9)


def test_gauges_elsewhere(call: Call, told: Callable[..., dict[str, Any]]) -> None:
    """--out names the folder of the gauges."""
    call("gauge", "fit", "rail.toml", "--for", "laser", "--out", "shed")
    assert told("9.9 mm", "9.9 mm")["template"]["from_manifest"] is False
    assert told("9.9 mm", "9.9 mm", "--out", "shed")["template"]["from_manifest"] is True


def test_what_was_typed_is_named(gauge: Callable[..., Any]) -> None:
    """A tenon that makes the bit impossible is questioned by its own option."""
    (line,) = gauge("9.8 mm", "11.5 mm", "--correct", "bit").faults
    assert line.startswith('--tenon: the bit "my 3/8" would be 11.325 mm, more than 1 mm from 3/8 in')


def test_a_gauge_made_by_another_machine(shop: Path, told: Callable[..., dict[str, Any]]) -> None:
    """Of a job for paper and cnc it is the cnc's; a job for paper alone has a gauge with --for laser."""
    text = shop.read_text(encoding="utf-8")
    shop.write_text(text.replace('["laser", "cnc", "paper"]', '["paper", "cnc"]'), encoding="utf-8")
    assert "kerf" not in [cause["part"] for cause in told("9.8 mm", "9.9 mm")["causes"]]
    shop.write_text(text.replace('["laser", "cnc", "paper"]', '["paper"]'), encoding="utf-8")
    assert told("9.8 mm", "9.9 mm", "--made-by", "laser")["causes"][0]["part"] == "kerf"


def test_far_off(told: Callable[..., dict[str, Any]]) -> None:
    """A slip is questioned, and nothing is advised."""
    said = told("9.8 mm", "12 mm")
    assert (said["kind"], said["advice"]) == ("implausible", [])


class TestFaults:
    """What is refused, in one line each."""

    @pytest.mark.parametrize(
        ("args", "line"),
        [
            (
                ("--engraved", "9.8 mm", "--measured-width", "10 mm"),
                "--engraved: belongs to a cut of the fit gauge (add --gauge, or leave it out)",
            ),
            (
                ("--tenon", "9.8 mm"),
                "--tenon: belongs to a cut of the fit gauge (add --gauge, or leave it out)",
            ),
            (
                ("--gauge", "--tenon", "9.8 mm"),
                "--engraved is missing: the value engraved at the cut that takes the tenon",
            ),
            (
                ("--gauge", "--engraved", "9.8 mm", "--tenon", "9.8 mm", "--measured-width", "10 mm"),
                "--tenon: stands in for --measured-width (leave one of the two out)",
            ),
            (
                ("--gauge", "--engraved", "9.8 mm", "--tenon", "9.8 mm", "--measured-length", "20 mm"),
                "--measured-length: a gauge's cuts are shorter than the job's (leave it out)",
            ),
            (
                ("--gauge", "--engraved", "9.8 mm"),
                "--measured-width is missing (such as: jigtemplates calibrate cut rail.toml --measured-width "
                '"10.05 mm")',
            ),
        ],
    )
    def test_line(self, call: Call, shop: Path, args: tuple[str, ...], line: str) -> None:
        """Status 2 and one line."""
        said = call("calibrate", "cut", "rail.toml", *args)
        assert (said.status, said.err) == (2, line + "\n")

    def test_no_such_cut(self, call: Call, gauge: Callable[..., Any]) -> None:
        """A value that stands at no cut is most likely misread."""
        call("gauge", "fit", "rail.toml", "--for", "laser", "--from", "9.7 mm", "--to", "10.2 mm")
        assert gauge("9.82 mm", "9.9 mm").err == (
            '--engraved: no cut of the gauge is engraved "9.82 mm" (the row is 9.70 to 10.20 mm; the nearest is 9.80)\n'
        )

    def test_the_width_wanted_is_none_of_them(self, call: Call, shop: Path) -> None:
        """Then the cut that was measured must be named."""
        call("gauge", "fit", "rail.toml", "--for", "laser", "--from", "9.73 mm", "--to", "9.98 mm")
        said = call("calibrate", "cut", "rail.toml", "--gauge", "--measured-width", "10 mm")
        assert said.err == (
            "--gauge: no cut of the gauge is engraved with the width that the template makes, 10 mm (the row is 9.73 "
            "to 9.98 mm; say which cut was measured: --engraved)\n"
        )

    def test_a_shape_without_a_gauge(self, shop: Path, gauge: Callable[..., Any]) -> None:
        """An ellipse has no fit gauge, and so no cut of one."""
        shop.write_text(shop.read_text(encoding="utf-8").replace('"slot"', '"ellipse"'), encoding="utf-8")
        assert gauge("9.8 mm", "9.9 mm").err.startswith("rail.toml: cut.shape: a fit gauge tries a width")

    def test_a_later_cut(self, shop: Path, gauge: Callable[..., Any]) -> None:
        """The gauge is for the first of several."""
        text = shop.read_text(encoding="utf-8").replace("[cut]", "[[cut]]\nx = 45")
        other = '[[cut]]\nx = 105\nshape = "round"\ndiameter = 30\ndepth = 10\n\n[tools]'
        shop.write_text(text.replace("[tools]", other), encoding="utf-8")
        assert gauge("9.8 mm", "9.9 mm", "--cut", "2").err == (
            "--cut: the fit gauge is for the width of the first cut (leave out --cut or --gauge)\n"
        )
        assert gauge("9.8 mm", "9.9 mm", "--cut", "1", "--look").err == ""

    @pytest.mark.parametrize(
        ("targets", "args", "line"),
        [
            ('["paper"]', (), "--made-by: the job is made for neither (say what made the gauge: laser or cnc)"),
            (
                '["laser", "paper"]',
                ("--made-by", "paper"),
                '--made-by: a gauge is not made by "paper" (say what made the gauge: laser or cnc)',
            ),
        ],
    )
    def test_made_by(
        self, shop: Path, gauge: Callable[..., Any], targets: str, args: tuple[str, ...], line: str
    ) -> None:
        """A gauge is never a print or a paper pattern."""
        text = shop.read_text(encoding="utf-8").replace('["laser", "cnc", "paper"]', targets)
        shop.write_text(text, encoding="utf-8")
        said = gauge("9.8 mm", "9.9 mm", *args)
        assert (said.status, said.err) == (2, line + "\n")

    def test_a_damaged_record(self, call: Call, here: Path, told: Callable[..., dict[str, Any]]) -> None:
        """It is passed over for what the job gives, and that is said."""
        call("gauge", "fit", "rail.toml", "--for", "laser")
        path = here / "gauges" / "gauge-fit-rail" / "gauge-fit-rail_gauge.json"
        path.write_text(path.read_text(encoding="utf-8").replace("9.9", "9.8"), encoding="utf-8")
        assert told("9.9 mm", "9.9 mm")["template"]["from_manifest"] is False
