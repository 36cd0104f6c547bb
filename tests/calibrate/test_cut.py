"""From a wrong test cut to a right template: what most likely is off, what is corrected, and what helps at once."""

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]


@pytest.fixture
def wrong(call: Call, shop: Path) -> Callable[..., Any]:
    """wrong("10.08 mm", "50.1 mm"): what is said of such a test cut; without a length None."""

    def said(width: str, length: str | None = None, *more: str) -> Any:
        along = () if length is None else ("--measured-length", length)
        return call("calibrate", "cut", "rail.toml", "--measured-width", width, *along, *more)

    return said


@pytest.fixture
def told(wrong: Callable[..., Any]) -> Callable[..., dict[str, Any]]:
    """The same as data, and nothing written."""

    def said(width: str, length: str | None = None, *more: str) -> dict[str, Any]:
        told: dict[str, Any] = json.loads(wrong(width, length, *more, "--json", "--look").out)
        return told

    return said


def parts(told: dict[str, Any]) -> list[tuple[str, float]]:
    """The causes and their shares."""
    return [(cause["part"], cause["share"]) for cause in told["causes"]]


def known(call: Call) -> None:
    """The bushing is measured, and so is the kerf."""
    call("calibrate", "bushing", "my 1/2", "--measured", "12.7 mm")
    call("calibrate", "kerf", "--gap", "2 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm")


class TestShown:
    """The whole of what is said."""

    def test_too_narrow(self, call: Call, wrong: Callable[..., Any], tools: Path) -> None:
        """Template, expectation, reading, causes, what helps at once, the correction and the new opening."""
        known(call)
        call("make", "rail.toml", "--for", "laser")
        said = wrong("9.9 mm", "49.9 mm")
        assert said.status == 0
        assert said.out.splitlines() == [
            "Test cut of rail.toml",
            "  template  opening 13.175 x 53.175 mm, made by laser, kerf 0.2 mm allowed for",
            "  expected  a cut of 10 x 50 mm with bit, bushing and kerf as they are known",
            "  measured  width 9.9 mm, 0.1 mm too narrow; length 49.9 mm, 0.1 mm too short",
            "What most likely is off:",
            "  - bit, 65 %: it would have to cut 9.425 mm, not the 9.525 mm it is sold as",
            "  - opening, 32 %: it would have to be 0.1 mm narrower than it was drawn",
            "  - bushing, 3 %: it would have to be 12.8 mm, not the 12.7 mm it measured",
            "With the template that is there:",
            "  - a tenon 9.8 mm thick fits the cut already made (its width less 0.1 mm fit), and 49.8 mm wide",
            "  - take 0.05 mm off the guiding edge, all round, with fine sandpaper on a flat block, and try",
            "    again: tape would only make the cut narrower still",
            'Correction of the bit "my 3/8":',
            "  until now  3/8 in, not measured",
            "  from now   9.425 mm ± 0.02 mm, sold as 3/8 in",
            "What it changes in the jobs of this folder and those just below it:",
            "  rail.toml: opening 13.275 x 53.275 mm instead of 13.175 x 53.175 mm",
            "Written to profiles/tools.toml, dated 2026-11-25. To take it back: jigtemplates calibrate --undo",
        ]
        assert tomllib.loads(tools.read_text(encoding="utf-8"))["bits"]["my 3/8"]["diameter"]["measured"] == "9.425 mm"

    def test_then_it_is_expected(self, call: Call, wrong: Callable[..., Any]) -> None:
        """The same cut again says nothing new: it is what that template cuts by what is known now."""
        known(call)
        call("make", "rail.toml", "--for", "laser")
        wrong("9.9 mm", "49.9 mm")
        said = wrong("9.9 mm", "49.9 mm")
        assert said.status == 0
        assert "  expected  a cut of 9.9 x 49.9 mm with bit, bushing and kerf as they are known" in said.out
        assert "No correction: the cut is as expected, as far as 0.02 mm can be told" in said.out

    def test_uneven(self, wrong: Callable[..., Any], tools: Path, start: str) -> None:
        """What changes the length alone is no size of a tool: nothing is written, status 1."""
        said = wrong("10 mm", "49.8 mm")
        assert said.status == 1
        assert " ".join(" ".join(said.out.splitlines()[-4:]).split()).endswith(
            "No correction: width and length are off by different amounts, so it is no size of bit, bushing or kerf "
            "that is wrong: the length is 0.2 mm less than the width lets expect. Too short: chips in the end of the "
            "opening, or the router not run to its very end. Look, rout another test cut and measure it again"
        )
        assert tools.read_text(encoding="utf-8") == start

    def test_inches(self, call: Call, shop: Path) -> None:
        """A job in inches is told in inches first."""
        text = shop.read_text(encoding="utf-8")
        for old, new in (
            ('"mm" ', '"in" '), ("width  = 10", "width = 0.5"), ('"50 mm"', "2"), ("depth  = 28", "depth = 1"),
            ("= 140", "= 5.5"), ("= 6\n", "= 0.25\n"),
        ):  # fmt: skip
            text = text.replace(old, new)
        shop.write_text(text.replace("inset = 10", "inset = 0.5"), encoding="utf-8")
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "0.496 in", "--look")
        assert "a cut of 1/2 in x 2 in (12.7 mm x 50.8 mm) with bit" in " ".join(said.out.split())
        assert "width 0.496 in (12.598 mm), 0.004 in (0.102 mm) too narrow" in said.out
        assert "  from now   0.371 in ± 0.0008 in, sold as 3/8 in" in said.out.splitlines()


class TestCauses:
    """Which part of the set is blamed."""

    def test_kerf_that_is_not_known(self, told: Callable[..., dict[str, Any]]) -> None:
        """A laser's opening without an allowance is a kerf wider, and that is the likeliest by far."""
        said = told("10.2 mm", "50.2 mm")
        assert parts(said)[0] == ("kerf", pytest.approx(0.871, abs=0.001))
        assert (said["what"], said["now"]) == ("kerf of the laser in mdf, 6 mm", pytest.approx(0.2))

    def test_kerf_does_not_make_it_narrow(self, told: Callable[..., dict[str, Any]]) -> None:
        """A cut too narrow is no kerf that was forgotten."""
        assert [part for part, _ in parts(told("9.9 mm", "49.9 mm"))] == ["bit", "opening", "bushing"]

    def test_measured_tools_are_trusted(self, call: Call, told: Callable[..., dict[str, Any]]) -> None:
        """What was measured well is hardly to blame."""
        known(call)
        call("calibrate", "bit", "my 3/8", "--measured", "9.525 mm", "--within", "0.01 mm")
        said = told("10.06 mm", "50.06 mm")
        assert said["what"] == "kerf of the laser in mdf, 6 mm"
        assert said["now"] == pytest.approx(0.26)
        assert dict(parts(said))["bit"] < 0.02

    def test_template_of_another_kerf(self, call: Call, told: Callable[..., dict[str, Any]]) -> None:
        """A template made before the kerf was known is taken for the wider one it is."""
        call("make", "rail.toml", "--for", "laser")
        known(call)
        assert told("10.2 mm", "50.2 mm")["kind"] == "right"
        assert told("10.2 mm", "50.2 mm")["template"] == {
            "width": 13.175, "length": 53.175, "kerf": 0.0, "from_manifest": True,
        }  # fmt: skip

    def test_made_by(self, told: Callable[..., dict[str, Any]]) -> None:
        """A CNC router has no kerf but a cutter, which its own program knows."""
        said = told("10.1 mm", None, "--made-by", "cnc")
        assert parts(said) == [("opening", 0.4), ("bit", 0.2), ("bushing", 0.2), ("centre", 0.2)]
        assert said["nothing"] == (
            "the opening came out 0.1 mm too wide: correct the size of the cutter in the CNC router's own program by "
            "that, or say what to correct instead: --correct bit or bushing"
        )

    def test_made_by_hand(self, told: Callable[..., dict[str, Any]]) -> None:
        """A pattern sawn by hand is the likeliest to be off, and no profile holds that."""
        said = told("10.1 mm", None, "--made-by", "paper")
        assert parts(said)[0] == ("opening", pytest.approx(0.96, abs=0.001))
        assert said["nothing"] == (
            "the likeliest cause, opening, is no size that a profile holds: look at it and rout another test cut, or "
            "say what to correct instead: --correct bit, bushing or kerf"
        )

    def test_bit_is_hardly_over_its_size(self, call: Call, told: Callable[..., dict[str, Any]]) -> None:
        """What was not measured is rather under the size it is sold as: too narrow it is the bit, too wide the kerf."""
        known(call)
        assert parts(told("9.9 mm", "49.9 mm"))[0] == ("bit", pytest.approx(0.649, abs=0.001))
        assert parts(told("10.1 mm", "50.1 mm"))[0] == ("kerf", pytest.approx(0.482, abs=0.001))

    def test_kerf_that_no_laser_has_is_not_named(self, call: Call, told: Callable[..., dict[str, Any]]) -> None:
        """None allowed for and 0.055 mm too wide: such a kerf would be questioned, so it is not called likely."""
        call("calibrate", "bushing", "my 1/2", "--measured", "12.7 mm")
        said = told("10.055 mm", "50.055 mm")
        assert "kerf" not in dict(parts(said))
        assert parts(told("10.15 mm", "50.15 mm"))[0][0] == "kerf"

    def test_causes_that_are_as_likely(self, call: Call, wrong: Callable[..., Any]) -> None:
        """That one cut does not tell them apart is said, with which of them is corrected."""
        known(call)
        said = " ".join(wrong("10.1 mm", "50.1 mm").out.split())
        assert "this cut does not tell kerf, bit and centre apart" not in said
        assert "this cut does not tell kerf and bit apart. Corrected is the kerf" in said

    def test_kerf_asked_for_is_questioned_as_a_cut(self, wrong: Callable[..., Any]) -> None:
        """No gap was measured, so none is asked after."""
        said = " ".join(wrong("10.055 mm", "50.055 mm", "--correct", "kerf").out.split())
        assert "0.055 mm is beyond what a laser removes from such mdf, 0.102 mm to 0.406 mm: was the test cut" in said
        assert "gap" not in said

    def test_router_that_is_not_turned(self, shop: Path, told: Callable[..., dict[str, Any]]) -> None:
        """A bushing off centre then only shifts the cut."""
        shop.write_text(shop.read_text(encoding="utf-8") + "[fit]\nturned = false\n", encoding="utf-8")
        assert "centre" not in dict(parts(told("10.1 mm")))

    def test_trapped(self, shop: Path, told: Callable[..., dict[str, Any]]) -> None:
        """One pass in an opening as wide as the bushing: a narrow cut was made against one side."""
        shop.write_text(shop.read_text(encoding="utf-8").replace("width  = 10", "width  = 9.6"), encoding="utf-8")
        said = told("9.53 mm")
        assert said["causes"][0]["text"] == (
            "the bushing was held against one side of the opening: push it against both"
        )
        assert said["nothing"].startswith("the likeliest cause, one side, is no size")

    @pytest.mark.parametrize(("part", "now"), [("bit", 9.605), ("bushing", 12.62), ("kerf", 0.08)])
    def test_correct(self, told: Callable[..., dict[str, Any]], part: str, now: float) -> None:
        """What is named is corrected: a wider cut is a wider bit, a thinner bushing or a wider kerf."""
        assert told("10.08 mm", "50.08 mm", "--correct", part)["now"] == pytest.approx(now)

    def test_correct_what_is_uneven(self, told: Callable[..., dict[str, Any]]) -> None:
        """The mean of both is taken where the person insists."""
        assert told("10 mm", "50.1 mm", "--correct", "bit")["now"] == pytest.approx(9.575)

    def test_paper_of_the_wrong_size(self, told: Callable[..., dict[str, Any]]) -> None:
        """An error that grows with the length is a print of the wrong size."""
        said = told("10 mm", "50.4 mm", "--made-by", "paper")
        assert said["nothing"].endswith(
            "A print of the wrong size would do that (+1.00 %): measure the bars of the pattern and enter them "
            "(jigtemplates calibrate printer)"
        )

    def test_too_long(self, told: Callable[..., dict[str, Any]]) -> None:
        """The other way round has other reasons."""
        assert "Too long: a dent or a burnt corner in the end of the opening" in told("10 mm", "50.3 mm")["nothing"]

    def test_hinge(self, call: Call, shop: Path) -> None:
        """A gain has one edge across: a bit 0.1 mm too wide makes it 0.05 mm wider, and 0.1 mm longer."""
        text = shop.read_text(encoding="utf-8").replace('"slot" ', '"hinge"').replace("width  = 10", "width = 20")
        shop.write_text(text.replace("depth  = 28", "depth = 3"), encoding="utf-8")
        width, length = "20.05 mm", "50.1 mm"
        said = call(
            "calibrate", "cut", "rail.toml", "--measured-width", width, "--measured-length", length, "--json", "--look"
        )
        told = json.loads(said.out)
        assert told["off"] == {"width": pytest.approx(0.1), "length": pytest.approx(0.1)}

    def test_arc_slot(self, call: Call, shop: Path) -> None:
        """It is measured across and along its centre line, not by its upright box: 60 π / 2 + 12 mm long."""
        text = shop.read_text(encoding="utf-8").replace('"slot" ', '"arc-slot"').replace("width  = 10", "width = 12")
        text = text.replace('length = "50 mm"', "radius = 60\nspan = 90").replace("depth  = 28", "depth = 3")
        shop.write_text(text, encoding="utf-8")
        sizes = ("--measured-width", "12.1 mm", "--measured-length", "106.348 mm", "--look")
        out = call("calibrate", "cut", "rail.toml", *sizes).out
        assert "opening 15.175 x 109.423 mm" in out
        assert "a cut of 12 x 106.248 mm" in out
        assert "width 12.1 mm, 0.1 mm too wide; length 106.348 mm, 0.1 mm too long" in out
        assert "one layer of tape 0.05 mm thick on the guiding edge, all round: the cut comes out as" in out

    def test_hinge_in_words(self, call: Call, shop: Path) -> None:
        """What is told of a gain is what was measured, from the edge of the work, and tape counts once across."""
        text = shop.read_text(encoding="utf-8").replace('"slot" ', '"hinge"').replace("width  = 10", "width = 20")
        shop.write_text(text.replace("depth  = 28", "depth = 3"), encoding="utf-8")
        sizes = ("--measured-width", "20.1 mm", "--measured-length", "50.2 mm")
        out = call("calibrate", "cut", "rail.toml", *sizes, "--look").out
        assert "width 20.1 mm, 0.1 mm too wide; length 50.2 mm, 0.2 mm too long" in out
        advice = json.loads(call("calibrate", "cut", "rail.toml", *sizes, "--json", "--look").out)["advice"]
        assert (
            "2 layers of tape 0.05 mm thick on the guiding edge, all round: the cut comes out as asked (measure your "
            "tape: --tape)"
        ) in advice
        narrow = ("--measured-width", "19.9 mm", "--measured-length", "49.8 mm")
        advice = json.loads(call("calibrate", "cut", "rail.toml", *narrow, "--json", "--look").out)["advice"]
        assert any(line.startswith("take 0.1 mm off the guiding edge, all round") for line in advice)
        nothing = call("calibrate", "cut", "rail.toml", "--measured-width", "20.6 mm", "--look").out
        assert "the width is 0.6 mm more than expected" in " ".join(nothing.split())

    def test_hinge_with_another_pair(self, call: Call, shop: Path, tools: Path) -> None:
        """A bushing 0.2 mm wider moves the back of the gain by 0.1 mm."""
        text = shop.read_text(encoding="utf-8").replace('"slot" ', '"hinge"').replace("width  = 10", "width = 20")
        shop.write_text(text.replace("depth  = 28", "depth = 3"), encoding="utf-8")
        wide = '\n[bushings."wide"]\ndiameter = "12.9 mm"\nbore = "11.2 mm"\nstem = 5\n'
        tools.write_text(tools.read_text(encoding="utf-8") + wide, encoding="utf-8")
        sizes = (
            "--measured-width",
            "20.1 mm",
            "--measured-length",
            "50.2 mm",
            "--correct",
            "kerf",
            "--made-by",
            "laser",
        )
        advice = json.loads(call("calibrate", "cut", "rail.toml", *sizes, "--json", "--look").out)["advice"]
        assert '"my 3/8" in "wide": the same template then cuts 20 mm wide' in advice


class TestRemedies:
    """What helps without a new template."""

    def test_sandpaper(self, told: Callable[..., dict[str, Any]]) -> None:
        """Too narrow by a little is filed; tape would be wrong. By more nothing is said."""
        assert (
            "take 0.05 mm off the guiding edge, all round, with fine sandpaper on a flat block, and try again: "
            "tape would only make the cut narrower still"
        ) in told("9.9 mm")["advice"]
        assert not any("sandpaper" in line for line in told("9.6 mm", None, "--correct", "bit")["advice"])

    def test_near_enough(self, told: Callable[..., dict[str, Any]]) -> None:
        """Half of a tenon's fit needs nothing."""
        assert "leave it: the cut is within 0.05 mm of the 10 mm asked for" in told("10.04 mm")["advice"]

    @pytest.mark.parametrize(
        ("width", "tape", "line"),
        [
            ("10.2 mm", "0.05 mm", "2 layers of tape 0.05 mm thick ... as asked"),
            ("10.2 mm", "0.13 mm", "one layer of tape 0.13 mm thick ... 0.06 mm narrow"),
            ("10.23 mm", "0.1 mm", "one layer of tape 0.1 mm thick ... 0.03 mm wide"),
        ],
    )  # fmt: skip
    def test_tape(self, told: Callable[..., dict[str, Any]], width: str, tape: str, line: str) -> None:
        """Two layers at a time, one at each side; the nearest number of them."""
        line = line.replace("...", "on the guiding edge, all round: the cut comes out")
        assert f"{line} (measure your tape: --tape)" in told(width, None, "--tape", tape)["advice"]

    def test_no_tape(self, shop: Path, told: Callable[..., dict[str, Any]]) -> None:
        """Not where it would take more than four layers, none, or where the bushing would bind."""
        assert not any("tape" in line for line in told("10.6 mm", None, "--correct", "bit")["advice"])
        assert not any("tape" in line for line in told("10.06 mm", None, "--tape", "0.2 mm")["advice"])
        shop.write_text(shop.read_text(encoding="utf-8").replace("width  = 10", "width  = 9.6"), encoding="utf-8")
        assert not any("tape" in line for line in told("9.78 mm")["advice"])

    def test_tenon(self, shop: Path, told: Callable[..., dict[str, Any]]) -> None:
        """As thick as the cut less the job's own fit; none for what is no mortise."""
        shop.write_text(shop.read_text(encoding="utf-8") + '[tenon]\njoints = 1\nfit = "0.2 mm"\n', encoding="utf-8")
        assert told("10.2 mm", "50.2 mm")["advice"][-2] == (
            "a tenon 10 mm thick fits the cut already made (its width less 0.2 mm fit), and 50 mm wide"
        )
        text = shop.read_text(encoding="utf-8").partition("[tenon]")[0].replace('"slot"', '"ellipse"')
        shop.write_text(text, encoding="utf-8")
        assert not any("tenon" in line for line in told("10.2 mm", "50.2 mm")["advice"])

    def test_another_pair(self, call: Call, told: Callable[..., dict[str, Any]]) -> None:
        """Own pairs that come nearer in the same opening; a bore that is not known, or too tight, is not trusted."""
        for name, size in (("bit a", "9.4 mm"), ("bit b", "9.2 mm")):
            call("tools", "add", "bits", name, f"diameter={size}")
        call("tools", "add", "bushings", "no bore", "diameter=12.7 mm")
        call("tools", "add", "bushings", "tight", "diameter=12.7 mm", "bore=9.6 mm")
        said = told("10.2 mm", "50.2 mm", "--correct", "bushing")
        assert [line for line in said["advice"] if line.startswith('"')] == [
            '"bit a" in "my 1/2": the same template then cuts 10.075 mm wide',
        ]
        said = told("10.3 mm", "50.3 mm", "--correct", "bit", "--sure")
        assert [line for line in said["advice"] if line.startswith('"')] == [
            '"bit a" in "my 1/2": the same template then cuts 9.875 mm wide',
        ]


class TestWhere:
    """Which file is corrected."""

    def test_bare_sizes(self, call: Call, rail: Path, here: Path) -> None:
        """A job's bare size becomes an own tool, which the job then names; --undo takes both back."""
        before = rail.read_bytes()
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm")
        assert "Written to profiles/tools.toml, rail.toml, dated 2026-11-25." in said.out
        assert 'bit       = "my 3/8 in bit"  ' in rail.read_text(encoding="utf-8")
        held = tomllib.loads((here / "profiles" / "tools.toml").read_text(encoding="utf-8"))
        assert held["bits"]["my 3/8 in bit"]["diameter"]["measured"] == "9.425 mm"
        assert json.loads(call("check", "rail.toml", "--json").out)["opening"]["width"] == 13.275
        call("calibrate", "--undo")
        assert rail.read_bytes() == before

    def test_table_in_the_job(self, call: Call, rail: Path) -> None:
        """A tool that the job itself describes is corrected there, its other keys and the comments as they are."""
        own = 'bit = { diameter = "3/8 in", shank = "1/4 in" } # mine'
        text = rail.read_text(encoding="utf-8").replace('bit       = "3/8 in"  ', f"{own}  ")
        rail.write_text(text, encoding="utf-8")
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm", "--correct", "bit")
        assert "Written to rail.toml, dated 2026-11-25." in said.out
        assert "  rail.toml: opening 13.275 x 53.275 mm instead of 13.175 x 53.175 mm" in said.out.splitlines()
        assert "not reached" not in said.out
        bit = tomllib.loads(rail.read_text(encoding="utf-8"))["tools"]["bit"]
        assert (bit["diameter"]["nominal"], bit["diameter"]["measured"], bit["shank"]) == (
            "3/8 in",
            "9.425 mm",
            "1/4 in",
        )
        assert "# mine" in rail.read_text(encoding="utf-8")
        call("calibrate", "--undo")
        assert rail.read_text(encoding="utf-8") == text

    def test_table_in_the_job_that_cannot_be(self, call: Call, rail: Path) -> None:
        """A bushing that would be thinner than its bore is refused, with --sure too."""
        own = 'bushing = { diameter = "1/2 in", bore = "12.4 mm" }'
        rail.write_text(rail.read_text(encoding="utf-8").replace('bushing   = "1/2 in"', own), encoding="utf-8")
        before = rail.read_bytes()
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "10.3 mm", "--correct", "bushing", "--sure")
        assert (said.status, said.err) == (
            2,
            'rail.toml: tools.bushing: "12.4 mm" is not smaller than the outside diameter, "12.4 mm" (measure again)\n',
        )
        assert rail.read_bytes() == before

    def test_family(self, call: Call, shop: Path) -> None:
        """Of a file of several sizes the one that was cut is named."""
        text = shop.read_text(encoding="utf-8").replace('length = "50 mm"', "# length")
        shop.write_text(f'{text}\n[cuts.short]\nlength = "40 mm"\n[cuts.long]\nlength = "60 mm"\n', encoding="utf-8")
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm", "--size", "short", "--look")
        assert "  expected  a cut of 10 x 40 mm" in said.out

    def test_job_elsewhere(self, call: Call, shop: Path, here: Path) -> None:
        """The jobs that are looked at are those beside it."""
        (here / "jobs").mkdir()
        shop.rename(here / "jobs" / "rail.toml")
        said = call("calibrate", "cut", "jobs/rail.toml", "--measured-width", "9.9 mm", "--look")
        assert "  jobs/rail.toml: opening 13.275 x 53.275 mm instead of 13.175 x 53.175 mm" in said.out.splitlines()


class TestFaults:
    """What is refused."""

    @pytest.mark.parametrize(
        ("args", "line"),
        [
            (
                (),
                "--measured-width is missing (such as: jigtemplates calibrate cut rail.toml --measured-width "
                '"10.05 mm")',
            ),
            (
                ("--measured-width", "10.1 mm", "--size", "short"),
                "--size: rail.toml holds one size only (leave it out)",
            ),
            (
                ("--measured-width", "10.1 mm", "--made-by", "lasser"),
                '--made-by: the job is not made for "lasser" (did you mean "laser"?)',
            ),
            (
                ("--measured-width", "10.1 mm", "--made-by", "cnc", "--correct", "kerf"),
                "--correct: the template was made by cnc, which has no kerf (write bit or bushing)",
            ),
            (
                ("--measured-width", "9.9 mm", "--correct", "kerf"),
                "--correct: the kerf would be -0.1 mm, which is none (write bit or bushing)",
            ),
            (
                ("--measured-width", "0.390 in", "--correct", "kerf"),
                "--correct: the kerf would be -0.004 in (-0.094 mm), which is none (write bit or bushing)",
            ),
            (
                ("--measured-width", "1/2 in", "--correct", "bit"),
                '--measured-width: the bit "my 3/8" would be 0.481 in (12.225 mm), more than 0.039 in (1 mm) from '
                "3/8 in, what it is sold as (is it another tool, or the unit wrong?)",
            ),
            (
                ("--measured-width", "13 mm", "--correct", "bit"),
                '--measured-width: the bit "my 3/8" would be 12.525 mm, more than 1 mm from 3/8 in, what it is sold as '
                "(is it another tool, or the unit wrong?)",
            ),
        ],
    )  # fmt: skip
    def test_line(self, call: Call, shop: Path, args: tuple[str, ...], line: str) -> None:
        """Status 2 and one line."""
        said = call("calibrate", "cut", "rail.toml", *args)
        assert (said.status, said.err) == (2, line + "\n")

    def test_sizes_of_a_family(self, call: Call, shop: Path) -> None:
        """Which one must be said, and rightly."""
        text = shop.read_text(encoding="utf-8").replace('length = "50 mm"', "# length")
        shop.write_text(f'{text}\n[cuts.short]\nlength = "40 mm"\n[cuts.long]\nlength = "60 mm"\n', encoding="utf-8")
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm")
        assert said.err == '--size: rail.toml holds several sizes (say which: "short", "long")\n'
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm", "--size", "shot")
        assert said.err == '--size: "shot" is not in rail.toml (did you mean "short"?)\n'

    def test_job_without_a_cut(self, call: Call, shop: Path) -> None:
        """Where the bit does not fit there is nothing to measure."""
        shop.write_text(shop.read_text(encoding="utf-8").replace("width  = 10", "width  = 9"), encoding="utf-8")
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.9 mm")
        assert said.err == (
            "rail.toml: the job makes no cut that could be measured (jigtemplates check rail.toml says why)\n"
        )

    def test_questioned(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """A cut so far off that no tool explains it is questioned first."""
        said = call("calibrate", "cut", "rail.toml", "--measured-width", "9.6 mm")
        assert said.status == 1
        assert "is that right?  9.125 mm is 0.4 mm from 3/8 in, the size it is sold as" in said.out
        assert tools.read_text(encoding="utf-8") == start


class TestGauge:
    """A cut of the fit gauge, which is made with what is known now and not with what the old template was."""

    def test_manifest_is_passed_over(self, call: Call, shop: Path, told: Callable[..., dict[str, Any]]) -> None:
        """A template from before the kerf was known says nothing of a gauge that was made after."""
        call("make", "rail.toml", "--for", "laser")
        known(call)
        assert told("10 mm")["off"]["width"] == pytest.approx(-0.2)
        said = told("10.05 mm", None, "--gauge")
        assert (said["off"]["width"], said["template"]["from_manifest"]) == (pytest.approx(0.05), False)
        out = call("calibrate", "cut", "rail.toml", "--measured-width", "10.05 mm", "--gauge", "--look").out
        assert "  gauge     the cut engraved 10 mm, the width wanted; opening 13.175 mm, made by laser" in out

    def test_length(self, wrong: Callable[..., Any]) -> None:
        """The gauge's cuts are short."""
        said = wrong("10 mm", "20 mm", "--gauge")
        assert said.err == "--measured-length: a gauge's cuts are shorter than the job's (leave it out)\n"


def test_printed_template(shop: Path, told: Callable[..., dict[str, Any]]) -> None:
    """What a printer's openings are off by belongs to its profile, and is said with the figure."""
    text = shop.read_text(encoding="utf-8").replace('["laser", "cnc", "paper"]', '["print"]')
    shop.write_text(text, encoding="utf-8")
    assert told("9.8 mm", "49.8 mm")["nothing"] == (
        "printed openings come out at a size of their own: set opening_allowance of the process print to 0.2 mm (in "
        "[processes.print] of your tools file), or say what to correct instead: --correct bit or bushing"
    )


class TestSlips:
    """A reading that nothing but a slip explains is questioned before anything is blamed."""

    def test_inches_of_another_cut(self, wrong: Callable[..., Any], tools: Path, start: str) -> None:
        """5 mm too wide and as long as expected: the width is asked about, and not the length explained."""
        said = wrong("15 mm", "50 mm")
        out = " ".join(said.out.split())
        assert said.status == 1
        assert (
            "No correction: the width is 5 mm more than expected, more than a bit, bushing or kerf is off: is that "
            "right? Is the number or its unit a slip, was another cut measured, or another bit, bushing or template "
            "used? Measure again; where it is right, say what to correct: --correct bit, bushing or kerf"
        ) in out
        assert "Too short" not in out
        assert "tenon" not in out
        assert tools.read_text(encoding="utf-8") == start

    def test_both(self, told: Callable[..., dict[str, Any]]) -> None:
        """Width and length are named where both are far off; nothing is blamed."""
        said = told("8.9 mm", "48.8 mm")
        assert (said["kind"], said["causes"], said["advice"]) == ("implausible", [], [])
        assert said["nothing"].startswith(
            "the width is 1.1 mm less than expected and the length is 1.2 mm less than expected, more than a bit"
        )

    def test_just_not(self, told: Callable[..., dict[str, Any]]) -> None:
        """1 mm, as far as any tool may be from its size, is not yet a slip."""
        assert told("11 mm")["kind"] == "all round"
        assert told("11.01 mm")["kind"] == "implausible"

    def test_paper(self, told: Callable[..., dict[str, Any]]) -> None:
        """A print may be 3 % too long: 52.4 mm is explained, 52.6 questioned; by a laser 51.1 is."""
        by_paper = ("--made-by", "paper")
        assert told("10 mm", "52.4 mm", *by_paper)["kind"] == "uneven"
        assert told("10 mm", "52.6 mm", *by_paper)["kind"] == "implausible"
        assert told("10 mm", "51.1 mm")["nothing"].startswith("the length is 1.1 mm more than expected")

    def test_a_kerf_that_is_none(self, wrong: Callable[..., Any]) -> None:
        """Insisted on, a kerf of 3 mm is refused in one line."""
        said = wrong("13 mm", None, "--correct", "kerf")
        assert (said.status, said.err) == (
            2,
            "--correct: the kerf would be 3 mm, too much for a laser (at most 2 mm; measure again, or write bit or "
            "bushing)\n",
        )
        said = wrong("1/2 in", None, "--correct", "kerf")
        assert said.err == (
            "--correct: the kerf would be 0.106 in (2.7 mm), too much for a laser (at most 0.079 in = 2 mm; measure "
            "again, or write bit or bushing)\n"
        )


class TestSeveralCuts:
    """A template of several cuts."""

    @pytest.fixture
    def two(self, shop: Path) -> Path:
        """The plan's slot, and a round of 30 mm."""
        text = shop.read_text(encoding="utf-8").replace("[cut]", "[[cut]]\nx = 45")
        other = '[[cut]]\nx = 105\nshape = "round"\ndiameter = 30\ndepth = 10\n\n[tools]'
        shop.write_text(text.replace("[tools]", other), encoding="utf-8")
        return shop

    def test_the_second(self, two: Path, wrong: Callable[..., Any], told: Callable[..., dict[str, Any]]) -> None:
        """--cut 2 takes the round, and says so; its opening of 33.175 mm is what is told."""
        lines = wrong("30.1 mm", None, "--cut", "2", "--look").out.splitlines()
        assert lines[1].split(maxsplit=1) == ["cut", "2 of 2: round dia 30 x 10 mm (another one: --cut N)"]
        assert "  template  opening 33.175 mm, made by laser" in lines[2]
        assert "  measured  width 30.1 mm, 0.1 mm too wide" in lines
        assert told("30.1 mm", None, "--cut", "2")["cut"] == 2

    def test_the_first_is_taken_and_said(self, two: Path, wrong: Callable[..., Any]) -> None:
        """Without --cut it is the first."""
        lines = wrong("10.1 mm", None, "--look").out.splitlines()
        assert lines[1].startswith("  cut       1 of 2: slot 10 x 50 x 28 mm")

    def test_from_the_manifest(self, call: Call, two: Path, told: Callable[..., dict[str, Any]]) -> None:
        """The opening of that cut as it was made, and not as the job has it since."""
        call("make", "rail.toml", "--for", "laser")
        two.write_text(two.read_text(encoding="utf-8").replace("diameter = 30", "diameter = 31"), encoding="utf-8")
        said = told("30.1 mm", None, "--cut", "2")
        assert said["template"] == {"width": 33.175, "length": 33.175, "kerf": 0.0, "from_manifest": True}

    def test_manifest_of_fewer(self, call: Call, two: Path, told: Callable[..., dict[str, Any]]) -> None:
        """A manifest from before the second cut tells nothing of it."""
        text = two.read_text(encoding="utf-8")
        first, _, rest = text.partition("[[cut]]\nx = 105")
        two.write_text(first + rest[rest.index("[tools]") :], encoding="utf-8")
        call("make", "rail.toml", "--for", "laser")
        two.write_text(text, encoding="utf-8")
        assert told("30.1 mm", None, "--cut", "2")["template"]["from_manifest"] is False

    @pytest.mark.parametrize("typed", ["3", "0", "", "two", "²"])
    def test_no_such_cut(self, two: Path, wrong: Callable[..., Any], typed: str) -> None:
        """One line, which says how many there are."""
        said = wrong("10.1 mm", None, "--cut", typed)
        line = f'--cut: "{typed}" is no cut of rail.toml (it has 2 cuts: write 1 to 2)\n'
        assert (said.status, said.err) == (2, line)

    def test_only_one(self, shop: Path, wrong: Callable[..., Any]) -> None:
        """Of one cut there is no second; 1 is right, if needless."""
        said = wrong("10.1 mm", None, "--cut", "2")
        assert said.err == '--cut: "2" is no cut of rail.toml (it has one cut only: leave it out)\n'
        assert "  cut " not in wrong("10.1 mm", None, "--cut", "1", "--look").out
