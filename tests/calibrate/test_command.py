"""`jigtemplates calibrate`: what is shown, what is written, and that the next make works with it."""

import json
import tomllib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.starter import starter_text

Call = Callable[..., Any]

KERF = ("calibrate", "kerf", "--gap", "1.9 mm", "--cuts", "10", "--material", "mdf", "--thickness", "6 mm")
BUSHING = ("calibrate", "bushing", "my 1/2", "--opening", "12.70 mm")


def found(call: Call, job: str = "rail.toml") -> dict[str, Any]:
    """What `check --json` says of a job."""
    report: dict[str, Any] = json.loads(call("check", job, "--json").out)
    return report


def in_force(call: Call, job: str = "rail.toml") -> list[tuple[str, str]]:
    """Key and sentence of each correction in force."""
    findings = found(call, job)["findings"]
    return [(one["where"], one["message"]) for one in findings if one["code"] == "correction-in-force"]


class TestKerf:
    """The gap over many cuts."""

    def test_is_shown_with_what_it_changes(self, call: Call, shop: Path) -> None:
        """Measured, until now, from now; then the jobs of this folder, and how to take it back."""
        said = call(*KERF)
        assert (said.status, said.err) == (0, "")
        assert said.out.splitlines() == [
            "Kerf of the laser",
            "  measured   1.9 mm over 10 cuts",
            "  until now  none allowed for",
            "  from now   0.19 mm ± 0.005 mm, the full width in mdf, 6 mm",
            "What it changes in the jobs of this folder and those just below it:",
            "  rail.toml: the laser draws the opening 12.985 x 52.985 mm instead of 13.175 x 53.175 mm",
            "Written to profiles/tools.toml, dated 2026-11-25. To take it back: jigtemplates calibrate --undo",
        ]

    def test_is_written_below_what_is_there(self, call: Call, tools: Path, start: str) -> None:
        """Every line of the file stays; the kerf stands below with its sheet and its day."""
        call(*KERF, "--on", "2026-11-20")
        text = tools.read_text(encoding="utf-8")
        assert text.startswith(start)
        assert tomllib.loads(text)["processes"]["laser"] == {
            "kerfs": [
                {"sheet": "mdf", "thickness": "6 mm", "width": "0.19 mm", "measured_on": date(2026, 11, 20),
                 "within": "0.005 mm"},
            ],
        }  # fmt: skip

    def test_next_make_uses_it(self, call: Call, shop: Path, here: Path) -> None:
        """Drawn 0.19 mm narrower; the day stands in the manifest, and no age in any file."""
        call(*KERF)
        call("make", "rail.toml", "--for", "laser")
        folder = here / "templates" / "rail"
        assert (folder / "rail_laser_kerf0.19_mm.dxf").is_file()
        manifest = (folder / "rail.json").read_text(encoding="utf-8")
        assert json.loads(manifest)["job"]["make"]["kerf"] == 0.19
        assert "measured on 2026-11-25" in manifest
        assert "today" not in manifest

    def test_pens_stay_as_they_are_shipped(self, call: Call, tools: Path) -> None:
        """The person's entry says the kerf alone; layers and colours come from the shipped one."""
        before = json.loads(call("profiles", "processes", "laser", "--json").out)[0]
        call(*KERF)
        after = json.loads(call("profiles", "processes", "laser", "--json").out)[0]
        assert (after["roles"], after["dxf_version"]) == (before["roles"], before["dxf_version"])
        assert after["origin"] == "profiles/tools.toml"

    def test_is_listed_with_the_tools(self, call: Call, tools: Path) -> None:
        """What the entry leaves to the shipped one is not called unknown."""
        call(*KERF)
        listed = call("tools").out.partition("processes\n")[2]
        assert "sheet mdf thickness 6 mm width 0.19 mm within 0.005 mm measured_on 2026-11-25" in listed
        assert "not known" not in listed

    def test_second_one_keeps_the_first(self, call: Call, tools: Path) -> None:
        """The old width stands beside the new one, the sheet of another thickness apart."""
        call(*KERF, "--on", "2026-01-10")
        call("calibrate", "kerf", "--gap", "1.5 mm", "--cuts", "10", "--material", "mdf", "--thickness", "3 mm")
        said = call(*(word.replace("1.9 mm", "2.1 mm") for word in KERF))
        assert "  until now  0.19 mm in mdf, 6 mm, measured on 2026-01-10" in said.out.splitlines()
        thin, thick = tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["laser"]["kerfs"]
        assert (thin["width"], thin["thickness"]) == ("0.15 mm", "3 mm")
        assert thick["width"] == "0.21 mm"
        assert thick["was"] == [{"width": "0.19 mm", "measured_on": date(2026, 1, 10), "within": "0.005 mm"}]

    def test_job_with_a_kerf_of_its_own(self, call: Call, shop: Path) -> None:
        """What stands in the job comes first, and that is said."""
        shop.write_text(shop.read_text(encoding="utf-8") + "kerf = 0.15\n", encoding="utf-8")
        assert "rail.toml: not reached: make.kerf = 0.15 mm stands in the job and comes first" in call(*KERF).out
        shop.write_text(starter_text("slot", "in", "rail.toml") + "kerf = 0.006\n", encoding="utf-8")
        said = "rail.toml: not reached: make.kerf = 0.006 in (0.152 mm) stands in the job and comes first"
        assert said in " ".join(call(*KERF).out.split())

    def test_beyond_the_sheets_range(self, call: Call, tools: Path, start: str) -> None:
        """It is questioned, status 1, and nothing is written; with --sure it is."""
        wrong = [word.replace("1.9 mm", "9 mm") for word in KERF]
        said = call(*wrong)
        assert said.status == 1
        assert (
            "  is that right?  0.9 mm is beyond what a laser removes from such mdf, 0.102 mm to 0.406 mm:" in said.out
        )
        assert said.out.endswith("Nothing was written: measure again, or add --sure where it is right.\n")
        assert tools.read_text(encoding="utf-8") == start
        assert call(*wrong, "--sure").status == 0
        assert 'width = "0.9 mm"' in tools.read_text(encoding="utf-8")

    def test_nothing_is_left_of_a_questioned_one(self, call: Call, rail: Path, here: Path) -> None:
        """No folder of profiles is made for it."""
        call(*(word.replace("1.9 mm", "9 mm") for word in KERF))
        assert sorted(path.name for path in here.iterdir()) == ["rail.toml"]

    def test_of_any_sheet(self, call: Call, shop: Path) -> None:
        """Without a sheet it counts for every one that has none of its own."""
        call("calibrate", "kerf", "--gap", "2 mm", "--cuts", "10")
        assert in_force(call) == [("make.kerf", "the laser's kerf is 0.2 mm, measured on 2026-11-25, today")]
        call(*KERF)
        assert in_force(call) == [
            ("make.kerf", "the laser's kerf is 0.19 mm in mdf, 6 mm, measured on 2026-11-25, today")
        ]

    def test_in_inches(self, call: Call, tools: Path) -> None:
        """Typed in inches, kept in inches."""
        said = call("calibrate", "kerf", "--gap", "0.075 in", "--cuts", "10", "--material", "mdf")
        assert "  from now   0.0075 in ± 0.0002 in, the full width in mdf" in said.out.splitlines()
        assert (
            tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["laser"]["kerfs"][0]["width"] == "0.0075 in"
        )

    def test_own_process_with_pens(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """A process of the person's own keeps its kerf of any sheet; what is measured in this one comes first."""
        pens = "".join(
            f'{role} = {{ layer = "{role}", colour = "#112233", stroke = 0.1 }}\n'
            for role in ("cut_outside", "cut_inside")
        )
        own = f"{start}\n[processes.laser]\nkerf = 0.3 # guessed\n[processes.laser.roles]\n{pens}"
        tools.write_text(own, encoding="utf-8")
        said = call(*KERF)
        assert "  until now  0.3 mm in any sheet" in said.out.splitlines()
        laser = tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["laser"]
        assert (laser["kerf"], laser["kerfs"][0]["width"], len(laser["roles"])) == (0.3, "0.19 mm", 2)
        assert "# guessed" in tools.read_text(encoding="utf-8")

    def test_in_another_file(self, call: Call, shop: Path, tools: Path, here: Path) -> None:
        """What was measured in other sheets comes along, and its history."""
        call(*KERF, "--on", "2026-01-10")
        call("calibrate", "kerf", "--gap", "1.5 mm", "--cuts", "10", "--material", "mdf", "--thickness", "3 mm")
        call(*(word.replace("1.9 mm", "2.1 mm") for word in KERF), "--file", "shop.toml")
        thin, thick = tomllib.loads((here / "shop.toml").read_text(encoding="utf-8"))["processes"]["laser"]["kerfs"]
        assert (thin["width"], thin["measured_on"]) == ("0.15 mm", date(2026, 11, 25))
        assert (thick["width"], thick["was"][0]["width"]) == ("0.21 mm", "0.19 mm")

    def test_history_in_another_file(self, call: Call, tools: Path, here: Path) -> None:
        """Of a sheet that is not measured anew the whole history is copied."""
        call(*KERF, "--on", "2026-01-10")
        call(*(word.replace("1.9 mm", "2.1 mm") for word in KERF))
        call("calibrate", "kerf", "--gap", "2 mm", "--cuts", "10", "--file", "shop.toml")
        held = tomllib.loads((here / "shop.toml").read_text(encoding="utf-8"))["processes"]["laser"]["kerfs"][0]
        assert held["was"] == [{"width": "0.19 mm", "measured_on": date(2026, 1, 10), "within": "0.005 mm"}]

    def test_file_in_inches(self, call: Call, tools: Path, start: str) -> None:
        """Bare numbers of a file are in its own unit: 0.25 is the same sheet as 1/4 in."""
        kerfs = '[processes.laser]\nkerfs = [{ sheet = "mdf", thickness = 0.25, width = 0.008 }]\n'
        tools.write_text(f'units = "in"\n{kerfs}', encoding="utf-8")
        call("calibrate", "kerf", "--gap", "0.075 in", "--cuts", "10", "--material", "mdf", "--thickness", "1/4 in")
        (kerf,) = tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["laser"]["kerfs"]
        assert (kerf["width"], kerf["was"]) == ("0.0075 in", [{"width": 0.008}])


class TestTool:
    """A bit or bushing, by gauge or caliper."""

    def test_bushing_by_gauge(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """Between the narrowest opening it slides in and the next; comments and all other keys stay."""
        said = call(*BUSHING)
        assert said.out.splitlines() == [
            'Bushing "my 1/2"',
            "  measured   slides in an opening of 12.70 mm and not in one of 12.65 mm",
            "  until now  1/2 in, not measured",
            "  from now   12.675 mm ± 0.025 mm, sold as 1/2 in",
            "What it changes in the jobs of this folder and those just below it:",
            "  rail.toml: opening 13.15 x 53.15 mm instead of 13.175 x 53.175 mm",
            "Written to profiles/tools.toml, dated 2026-11-25. To take it back: jigtemplates calibrate --undo",
        ]
        new = 'diameter = { nominal = "1/2 in", measured = "12.675 mm", measured_on = 2026-11-25, within = "0.025 mm" }'
        head, middle, tail = start.partition('[bushings."my 1/2"]\ndiameter = "1/2 in"')
        assert tools.read_text(encoding="utf-8") == head + middle.replace('diameter = "1/2 in"', new) + tail

    def test_next_make_uses_it(self, call: Call, shop: Path, here: Path) -> None:
        """The opening is as much smaller, and the manifest says which size was used and when it was measured."""
        call(*BUSHING)
        call("make", "rail.toml", "--for", "cnc")
        manifest = json.loads((here / "templates" / "rail" / "rail.json").read_text(encoding="utf-8"))
        assert manifest["results"]["opening"]["width"] == 13.15
        diameter = manifest["job"]["tools"]["bushing"]["diameter"]
        assert (diameter["mm"], diameter["used"], diameter["measured_on"]) == (12.675, "measured", "2026-11-25")
        assert in_force(call)[0] == (
            "tools.bushing", "computed with 12.675 mm, sold as 1/2 in, measured on 2026-11-25, today"
        )  # fmt: skip

    def test_step(self, call: Call, tools: Path) -> None:
        """Coarser steps tell less."""
        said = call("calibrate", "bushing", "my 1/2", "--opening", "0.500 in", "--step", "0.004 in")
        assert "  from now   0.498 in ± 0.002 in, sold as 1/2 in" in said.out.splitlines()

    def test_bit_by_caliper(self, call: Call, shop: Path, tools: Path) -> None:
        """Good to 0.02 mm unless it is said; the comment beside the old value stays beside the new one."""
        said = call("calibrate", "bit", "my 3/8", "--measured", "9.48 mm")
        assert "  from now   9.48 mm ± 0.02 mm, sold as 3/8 in" in said.out.splitlines()
        assert 'within = "0.02 mm" }  # up-spiral, bought in May' in tools.read_text(encoding="utf-8")
        assert found(call)["opening"]["width"] == 13.22

    def test_earlier_measurement_is_kept(self, call: Call, tools: Path) -> None:
        """Each is put first in the list of what was."""
        for size, day in (("9.50 mm", "2024-03-01"), ("9.47 mm", "2025-06-01"), ("9.45 mm", "2026-11-25")):
            call("calibrate", "bit", "my 3/8", "--measured", size, "--on", day, "--within", "0.01 mm")
        diameter = tomllib.loads(tools.read_text(encoding="utf-8"))["bits"]["my 3/8"]["diameter"]
        assert (diameter["nominal"], diameter["measured"]) == ("3/8 in", "9.45 mm")
        assert diameter["was"] == [
            {"measured": "9.47 mm", "measured_on": date(2025, 6, 1), "within": "0.01 mm"},
            {"measured": "9.5 mm", "measured_on": date(2024, 3, 1), "within": "0.01 mm"},
        ]

    def test_older_day(self, call: Call, tools: Path) -> None:
        """An older measurement does not take a newer one's place without being asked."""
        call("calibrate", "bit", "my 3/8", "--measured", "9.5 mm")
        said = call("calibrate", "bit", "my 3/8", "--measured", "9.5 mm", "--on", "2026-01-01")
        assert said.status == 1
        assert "the correction in force was measured later, on 2026-11-25" in said.out

    def test_shipped_one_becomes_an_own_one(self, call: Call, rail: Path, here: Path) -> None:
        """A shipped bushing gets an entry of the same name with all that is known of it."""
        call("calibrate", "bushing", "bushing 1/2 in", "--measured", "12.66 mm")
        held = tomllib.loads((here / "profiles" / "tools.toml").read_text(encoding="utf-8"))
        assert held["bushings"]["bushing 1/2 in"] == {
            "diameter": {
                "nominal": "1/2 in", "measured": "12.66 mm", "measured_on": date(2026, 11, 25), "within": "0.02 mm",
            },
            "bore": "13/32 in",
            "note": "two-piece style",
        }  # fmt: skip

    def test_bare_size(self, call: Call, rail: Path, here: Path) -> None:
        """Without an own one of that size a new entry is begun; a job with the bare size gets its name when asked."""
        said = call("calibrate", "bushing", "1/2 in", "--measured", "12.66 mm")
        words = " ".join(said.out.split())
        assert 'tools.bushing is the bare size 1/2 in: write bushing = "my 1/2 in bushing" there, or add --job' in words
        assert call("calibrate", "bushing", "1/2 in", "--measured", "12.66 mm", "--job", "rail.toml").status == 0
        text = rail.read_text(encoding="utf-8")
        assert 'bushing   = "my 1/2 in bushing"' in text
        assert "# a diameter, a name from the profiles" in text
        assert found(call)["opening"]["width"] == 13.135

    def test_bare_size_of_the_only_own_one(self, call: Call, tools: Path) -> None:
        """A size stands for the one own tool that is sold as it."""
        call("calibrate", "bushing", "0.5 in", "--measured", "12.66 mm")
        assert list(tomllib.loads(tools.read_text(encoding="utf-8"))["bushings"]) == ["my 1/2"]

    def test_job_of_another_tool(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """A job that names its tool already is not touched."""
        said = call(*BUSHING, "--job", "rail.toml")
        assert (said.status, said.err) == (
            2, 'rail.toml: tools.bushing: is not the bare size 1/2 in, it is "my 1/2" (leave --job out)\n'
        )  # fmt: skip
        assert tools.read_text(encoding="utf-8") == start

    def test_in_another_file(self, call: Call, shop: Path, tools: Path, here: Path) -> None:
        """With --file the whole entry goes there, the diameter's history with it."""
        call("calibrate", "bit", "my 3/8", "--measured", "9.5 mm", "--on", "2026-01-01")
        said = call("calibrate", "bit", "my 3/8", "--measured", "9.48 mm", "--file", "shop")
        assert 'To take it back: jigtemplates calibrate --undo --file "shop.toml"' in " ".join(said.out.split())
        assert said.out.endswith('A job sees it with: --tools "shop.toml"\n')
        held = tomllib.loads((here / "shop.toml").read_text(encoding="utf-8"))["bits"]["my 3/8"]
        assert held["shank"] == "3/8 in"
        assert held["diameter"]["was"] == [{"measured": "9.5 mm", "measured_on": date(2026, 1, 1), "within": "0.02 mm"}]
        assert call("calibrate", "--undo", "--file", "shop").status == 0
        assert not (here / "shop.toml").exists()

    def test_impossible_job(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """A bit that turns out wider than a job's cut is said before anything is written."""
        shop.write_text(shop.read_text(encoding="utf-8").replace("width  = 10", "width  = 9.6"), encoding="utf-8")
        said = call("calibrate", "bit", "my 3/8", "--measured", "9.65 mm")
        assert said.status == 1
        assert "  impossible then: rail.toml: tools.bit: the bit (9.65 mm) is wider than the cut (9.6 mm):" in said.out
        assert tools.read_text(encoding="utf-8") == start
        assert call("calibrate", "bit", "my 3/8", "--measured", "9.65 mm", "--sure").status == 0
        assert call("check", "rail.toml").status == 1

    def test_look(self, call: Call, shop: Path, tools: Path, start: str) -> None:
        """Nothing is written."""
        said = call(*BUSHING, "--look")
        assert said.status == 0
        assert said.out.endswith("Nothing was written (--look); without it profiles/tools.toml is changed.\n")
        assert tools.read_text(encoding="utf-8") == start

    def test_json(self, call: Call, shop: Path) -> None:
        """The same as numbers, in mm."""
        told = json.loads(call(*BUSHING, "--json").out)
        assert told == {
            "what": 'bushing "my 1/2"',
            "measured_on": "2026-11-25",
            "tool": "my 1/2",
            "nominal": 12.7,
            "before": None,
            "now": 12.675,
            "within": 0.025,
            "advice": [],
            "questions": [],
            "jobs": [
                {
                    "job": "rail.toml",
                    "changes": "opening 13.15 x 53.15 mm instead of 13.175 x 53.175 mm",
                    "missed": "",
                    "impossible": [],
                }
            ],
            "nothing": "",
            "files": ["profiles/tools.toml"],
            "doubted": False,
            "written": True,
        }

    def test_what_contradicts_an_earlier_measurement_is_questioned(self, call: Call, tools: Path) -> None:
        """A bushing good to 0.025 mm that then measures 0.225 mm less: many times both doubts, so questioned."""
        assert call(*BUSHING).status == 0
        said = call("calibrate", "bushing", "my 1/2", "--measured", "12.45 mm", "--within", "0.01 mm")
        words = " ".join((said.out + said.err).split())
        assert said.status == 1
        assert "contradicts that by" in words
        assert "times what both readings may be off; was one of them a slip, or is the cause another one?" in words

    def test_jobs_elsewhere(self, call: Call, tools: Path, here: Path) -> None:
        """--jobs names the folder that is looked at; what is no job is passed over, what cannot be read named."""
        (here / "jobs").mkdir()
        (here / "jobs" / "bad.toml").write_text("[cut]\n", encoding="utf-8")
        (here / "jobs" / "torn.toml").write_text("[cut\n", encoding="utf-8")
        (here / "jobs" / "none.toml").write_text("a = 1\n", encoding="utf-8")
        said = " ".join(call(*BUSHING, "--jobs", "jobs").out.split())
        assert "cannot be read, so it was not looked at: jigtemplates check jobs/bad.toml says why" in said
        (here / "jobs" / "bad.toml").unlink()
        assert 'No job of "jobs" is changed by it;' in call(*BUSHING, "--jobs", "jobs").out

    def test_round(self, call: Call, shop: Path) -> None:
        """A round is told by one figure."""
        text = shop.read_text(encoding="utf-8").replace('"slot" ', '"round"').replace('length = "50 mm"', "#")
        shop.write_text(text.replace("width  = 10", "diameter = 30"), encoding="utf-8")
        assert "  rail.toml: opening 33.15 mm instead of 33.175 mm" in call(*BUSHING).out.splitlines()

    def test_family(self, call: Call, shop: Path) -> None:
        """Each size of a file is told."""
        text = shop.read_text(encoding="utf-8").replace('length = "50 mm"', "# length").replace("[cut]", "[cut]")
        shop.write_text(f'{text}\n[cuts.short]\nlength = "40 mm"\n[cuts.long]\nlength = "60 mm"\n', encoding="utf-8")
        out = call(*BUSHING).out
        assert "  rail.toml: short: opening 13.15 x 43.15 mm instead of 13.175 x 43.175 mm" in out
        assert "  rail.toml: long: opening 13.15 x 63.15 mm instead of 13.175 x 63.175 mm" in out


class TestPrinter:
    """Two bars of a page."""

    BARS = ("calibrate", "printer", "--across", "99.2 mm", "--up", "99.6 mm")

    def test_is_written_and_used(self, call: Call, shop: Path, tools: Path, here: Path) -> None:
        """Patterns are printed larger by the inverse of what the bars lost; the day stands in the manifest."""
        said = call(*self.BARS, "--diagonal", "140.6 mm")
        assert said.out.splitlines() == [
            "Size of printed patterns",
            "  measured   99.2 mm across and 99.6 mm up, for bars of 100 mm",
            "  until now  as they are",
            "  from now   printed at 100.81 % across and 100.4 % up",
            "  corner     90.02°",
            "What it changes in the jobs of this folder and those just below it:",
            "  rail.toml: patterns are printed at 100.81 % across and 100.4 % up",
            "Written to profiles/tools.toml, dated 2026-11-25. To take it back: jigtemplates calibrate --undo",
        ]
        assert tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["paper"] == {
            "printed_bar": {"measured_on": date(2026, 11, 25), "across": "99.2 mm", "up": "99.6 mm"}
        }
        call("make", "rail.toml", "--for", "paper")
        manifest = json.loads((here / "templates" / "rail" / "rail.json").read_text(encoding="utf-8"))
        assert manifest["job"]["make"]["correction"] == pytest.approx([100 / 99.2, 100 / 99.6])
        assert in_force(call) == [
            (
                "make.printed_bar",
                "the printer's bars of 100 mm are 99.2 mm across and 99.6 mm up, measured on 2026-11-25, today",
            )
        ]

    def test_corrected_page(self, call: Call, tools: Path) -> None:
        """A page that was printed with the correction corrects the correction; which page it was must be said."""
        call(*self.BARS)
        again = ("calibrate", "printer", "--across", "100.5 mm", "--up", "100 mm")
        said = call(*again)
        assert (said.status, said.err) == (
            2,
            "printer: a correction is in force already (give --corrected where the page says that it is corrected, and "
            "--uncorrected where it was printed as it is)\n",
        )
        said = call(*again, "--corrected")
        assert "  until now  printed at 100.81 % across and 100.4 % up" in said.out.splitlines()
        bar = tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["paper"]["printed_bar"]
        assert (bar["across"], bar["up"]) == ("99.696 mm", "99.6 mm")
        assert bar["was"] == [{"measured_on": date(2026, 11, 25), "across": "99.2 mm", "up": "99.6 mm"}]

    def test_uncorrected_page(self, call: Call, tools: Path) -> None:
        """The gauge's page is printed as it is: what it measured takes the place of what was."""
        call(*self.BARS)
        said = call("calibrate", "printer", "--across", "99.5 mm", "--up", "99.5 mm", "--uncorrected")
        assert "  measured   99.5 mm across and 99.5 mm up, for bars of 100 mm, on an uncorrected page" in said.out
        bar = tomllib.loads(tools.read_text(encoding="utf-8"))["processes"]["paper"]["printed_bar"]
        assert (bar["across"], bar["up"]) == ("99.5 mm", "99.5 mm")

    def test_bars_of_4_in(self, call: Call, tools: Path, start: str) -> None:
        """Bars of 4 in that measure so need --bar; without it they are asked about, and nothing is written."""
        bars = ("calibrate", "printer", "--across", "4 in", "--up", "4 in")
        said = call(*bars)
        assert said.status == 1
        assert 'is that right? both are as long as a bar of 4 in: was that one measured (add --bar "4 in")' in " ".join(
            said.out.split()
        )
        assert tools.read_text(encoding="utf-8") == start
        said = call(*bars, "--bar", "4 in")
        assert "  measured   4 in across and 4 in up, for bars of 4 in" in said.out.splitlines()

    def test_bars_of_another_length(self, call: Call, tools: Path) -> None:
        """A copier that made 15-3/4 in of a rule of 16 in (sundial mailing list, July 1999, read): 98.44 %."""
        said = call("calibrate", "printer", "--across", "15-3/4 in", "--up", "15-3/4 in", "--bar", "16 in")
        assert "  from now   printed at 101.59 % across and 101.59 % up" in said.out.splitlines()

    def test_same_again(self, call: Call, shop: Path) -> None:
        """What changes no size of a job is not told of it."""
        call(*self.BARS)
        assert "No job of this folder and those just below it" in call(*self.BARS, "--uncorrected").out

    def test_in_another_file(self, call: Call, tools: Path, here: Path) -> None:
        """The earlier measurement comes along."""
        call(*self.BARS)
        said = call(
            "calibrate", "printer", "--across", "99 mm", "--up", "99 mm", "--uncorrected", "--file", "shop.toml"
        )
        assert said.status == 0
        bar = tomllib.loads((here / "shop.toml").read_text(encoding="utf-8"))["processes"]["paper"]["printed_bar"]
        assert bar["was"] == [{"measured_on": date(2026, 11, 25), "across": "99.2 mm", "up": "99.6 mm"}]

    def test_job_with_bars_of_its_own(self, call: Call, shop: Path) -> None:
        """They come first, and that is said."""
        own = 'printed_bar = { across = "99 mm", up = "99 mm" }\n'
        shop.write_text(shop.read_text(encoding="utf-8") + own, encoding="utf-8")
        said = call(*self.BARS)
        assert "  rail.toml: not reached: make.printed_bar stands in the job and comes first" in said.out.splitlines()

    def test_askew(self, call: Call, tools: Path) -> None:
        """A leaning corner is questioned."""
        said = call(*self.BARS, "--diagonal", "142 mm")
        assert said.status == 1
        assert "is that right?  the diagonal says that the corner between the bars is 1.2° from a right" in said.out

    def test_beyond_a_printers_error(self, call: Call, tools: Path) -> None:
        """More than 3 % is no error of a printer; both bars are named at once."""
        said = call("calibrate", "printer", "--across", "96 mm", "--up", "104 mm")
        assert (said.status, said.faults) == (
            2,
            [
                f'{option}: "{bar} mm" for a bar of 100 mm is too far off to be a printer\'s error (up to 3 %; '
                "print again at 100 %, without fitting to the page)"
                for option, bar in (("--across", 96), ("--up", 104))
            ],
        )


class TestFaults:
    """What is refused, in one line each."""

    @pytest.mark.parametrize(
        ("args", "line"),
        [
            (
                ("kerf",),
                '--gap and --cuts are missing (such as: jigtemplates calibrate kerf --gap "1.9 mm" --cuts 10 '
                '--material mdf --thickness "6 mm")',
            ),
            (
                ("kerf", "--gap", "1.9 mm", "--cuts", "ten"),
                '--cuts: "ten" is not a number of cuts (write a whole number from 1 to 100)',
            ),
            (
                ("kerf", "--gap", "19 mm", "--cuts", "1"),
                '--gap: "19 mm" over 1 cut is 19 mm each, too much for a laser (at most 2 mm; is the unit right?)',
            ),
            (
                ("kerf", "--gap", "3/4 in", "--cuts", "1"),
                '--gap: "3/4 in" over 1 cut is 3/4 in (19.05 mm) each, too much for a laser (at most 0.079 in = 2 mm; '
                "is the unit right?)",
            ),
            (
                ("bushing", "my 1/2", "--opening", "0.5 in", "--step", "1/8 in"),
                '--step: "1/8 in" is too much for a step (at most 0.039 in = 1 mm)',
            ),
            (
                ("bushing", "my 1/2", "--measured", "9/16 in"),
                '--measured: the bushing "my 1/2" would be 9/16 in (14.288 mm), more than 0.039 in (1 mm) from 1/2 in, '
                "what it is sold as (is it another tool, or the unit wrong?)",
            ),
            (
                ("bit", "my 3/8", "--measured", "0.374 in", "--within", "1/8 in"),
                '--within: "1/8 in" is too much for a measurement (at most 0.039 in = 1 mm)',
            ),
            (
                ("kerf", "--gap", "1,9 mm", "--cuts", "10"),
                '--gap: "1,9 mm" is not a length (write 1.9 mm)',
            ),
            (
                ("kerf", "--gap", "1.9 mm", "--cuts", "10", "--material", "mdv"),
                '--material: "mdv" is not among the sheets (did you mean "mdf"? To list them: '
                "jigtemplates profiles sheets)",
            ),
            (
                ("bushing", "my 1/2"),
                "calibrate bushing: give one of the two: --opening, the narrowest it slides in, or --measured, by "
                "caliper",
            ),
            (
                ("bushing", "my 1/2", "--measured", "12.6 mm", "--step", "0.05 mm"),
                "--step: belongs to --opening (leave it out)",
            ),
            (
                ("bushing", "my 1/2", "--opening", "12.6 mm", "--within", "0.05 mm"),
                "--within: belongs to --measured; an opening is good to half a step (leave it out)",
            ),
            (
                ("bushing", "my 1/2", "--opening", "12.6 mm", "--step", "2 mm"),
                '--step: "2 mm" is too much for a step (at most 1 mm)',
            ),
            (
                ("bushing", "my 1/2", "--measured", "11.6 mm"),
                '--measured: the bushing "my 1/2" would be 11.6 mm, more than 1 mm from 1/2 in, what it is sold as (is '
                "it another tool, or the unit wrong?)",
            ),
            (
                ("bit", "my 3/8"),
                '--measured is missing (such as: jigtemplates calibrate bit "my 3/8" --measured "9.48 mm")',
            ),
            (
                ("bit", "my 3/8", "--measured", "9.5 mm", "--within", "2 mm"),
                '--within: "2 mm" is too much for a measurement (at most 1 mm)',
            ),
            (
                ("bit", "my 3/9", "--measured", "9.5 mm"),
                'bit: "my 3/9" is neither a length nor a bit in the profiles (did you mean "my 3/8"?)',
            ),
            (
                ("bit", "9,5 mm", "--measured", "9.5 mm"),
                'bit: "9,5 mm" is not a length (write 9.5 mm)',
            ),
            (
                ("bit", "0 mm", "--measured", "9.5 mm"),
                'bit: "0 mm" is not a length (write a length greater than 0)',
            ),
            (
                ("printer", "--across", "99 mm"),
                '--up is missing (such as: jigtemplates calibrate printer --across "99.2 mm" --up "99.6 mm")',
            ),
            (
                ("--undo", "bit", "my 3/8"),
                "--undo: takes the last correction back, alone (leave bit out)",
            ),
            (("--undo",), "profiles/tools.toml: no correction to take back"),
            (("--file", "x.toml"), "--file: belongs behind the subcommand, or to --undo"),
            (
                ("bit", "my 3/8", "--measured", "9.5 mm", "--on", "yesterday"),
                '--on: "yesterday" is not a date (write year-month-day: 2026-11-25)',
            ),
        ],
    )  # fmt: skip
    def test_line(self, call: Call, tools: Path, args: tuple[str, ...], line: str, start: str) -> None:
        """Status 2, one line, nothing written."""
        said = call("calibrate", *args)
        assert (said.status, said.err) == (2, line + "\n")
        assert tools.read_text(encoding="utf-8") == start

    def test_several_of_one_size(self, call: Call, tools: Path, start: str) -> None:
        """A size that two own tools are sold as does not say which."""
        tools.write_text(f'{start}\n[bits.other]\ndiameter = "0.375 in"\n', encoding="utf-8")
        said = call("calibrate", "bit", "3/8 in", "--measured", "9.5 mm")
        assert said.err == 'bit: 2 of yours are sold as 3/8 in (say which: "my 3/8", "other")\n'

    def test_entry_that_cannot_be_rewritten(self, call: Call, tools: Path) -> None:
        """A file that tomlkit cannot change without changing more is left to the person."""
        tools.write_text(
            '[bits]\n"my 3/8".shank = "3/8 in"\n[bushings.a]\ndiameter = 12\n[bits.b]\ndiameter = 3\n', encoding="utf-8"
        )
        before = tools.read_bytes()
        said = call("calibrate", "bit", "b", "--measured", "3.1 mm")
        assert said.status in (0, 2)
        if said.status == 2:
            assert tools.read_bytes() == before

    def test_no_subcommand(self, call: Call) -> None:
        """The help is shown."""
        said = call("calibrate")
        assert said.status == 0
        assert "jigtemplates calibrate --undo" in said.out
