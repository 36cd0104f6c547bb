"""Jobs whose cut was drawn: template, routing, findings, mirror, facts, manifest."""

import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.cli import run
from jigtemplates.facts import cut_wanted
from jigtemplates.parameters.load import load_job
from jigtemplates.report import Report, report_on

PAGE = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
REST = 'clearance = 0.1\n[plate]\nwidth = 200\nheight = 160\nthickness = 6\n[make]\nfor = ["laser"]\n'
Drawn = Callable[..., Report]


def write(folder: Path, body: str, *, bit: float = 10, bushing: float = 16, more: str = "", make: str = "") -> Path:
    """A job in a folder, beside its drawing."""
    (folder / "d.svg").write_text(f"{PAGE}{body}</svg>")
    cut = f'[cut]\nshape = "outline"\nfile = "d.svg"\ndepth = 8\n{more}\n'
    tools = f'[tools]\nbit = "{bit} mm"\nbushing = "{bushing} mm"\n'
    (folder / "tray.toml").write_text(f'title = "Tray"\nunits = "mm"\n{cut}{tools}{REST}{make}')
    return folder / "tray.toml"


@pytest.fixture
def drawn(tmp_path: Path) -> Drawn:
    """The report on a job with that drawing."""
    return lambda body, **how: report_on(load_job(write(tmp_path, body, **how)))


def codes(report: Report) -> set[str]:
    return {finding.code for finding in report.findings}


def test_a_drawn_rectangle_is_a_rectangle(drawn: Drawn) -> None:
    """60 by 30 with corners of 8: the opening is 3 larger all round, its corners 11, and routes to what was drawn."""
    report = drawn('<rect width="60" height="30" rx="8"/>')
    size, cut = report.template.opening_size, report.predicted
    assert size is not None
    assert cut is not None
    assert (size.width, size.length, size.corner_radius) == pytest.approx((36, 66, 11))
    assert (cut.width, cut.length, cut.max_deviation) == pytest.approx((30, 60, 0), abs=1e-5)


def test_a_sharp_corner_is_left_standing(drawn: Drawn) -> None:
    """In the corners of a drawn square 4 (1 - pi / 4) r² stays: 21.46 mm² for a bit of 10."""
    report = drawn('<rect width="60" height="60"/>')
    assert report.predicted is not None
    assert report.predicted.unreachable_area == pytest.approx((4 - math.pi) * 25, abs=1e-3)
    (finding,) = [f for f in report.findings if f.code == "corner-tighter-than-bit"]
    assert finding.where == "cut.file"
    assert "inside corners of the drawn outline round, radius 5 mm, up to 2.07 mm short" in finding.message


def test_a_bit_that_fits_nowhere_stops(drawn: Drawn) -> None:
    """A drawing nowhere wider than 8 stops a bit of 10; a drawing as wide as the bit does not."""
    report = drawn('<rect width="60" height="8"/>')
    assert "bit-wider-than-cut" in codes(report)
    assert report.template.opening == ()
    assert not drawn('<rect width="60" height="10" rx="5"/>').stopped


def test_a_drawn_cut_is_never_widened(drawn: Drawn) -> None:
    """A slot as wide as the bit gives the bushing no clearance, and says so: the drawing stays what it is."""
    report = drawn('<rect width="60" height="10" rx="5"/>')
    assert not report.template.widened
    assert "no-running-clearance" in codes(report)


def test_an_island_is_a_loose_piece(drawn: Drawn) -> None:
    """What stands in the middle of an opening is not held by the plate."""
    report = drawn('<circle cx="90" cy="60" r="50"/><circle cx="90" cy="60" r="12"/>')
    assert len(report.template.opening[0].holes) == 1
    (finding,) = [f for f in report.findings if f.code == "loose-piece"]
    assert finding.message == (
        "the opening cuts a piece free from the middle of the plate: fasten it to the work in its place "
        "(double-sided tape, against the datum), or draw what stands inside as a cut of its own"
    )
    assert report.predicted is not None
    assert report.predicted.unreachable_area == pytest.approx(0, abs=1e-6)


def test_a_neck_is_a_lift(drawn: Drawn) -> None:
    """Two rooms with a neck of 6 between them: the bit of 10 is lifted out between, and the neck stays."""
    report = drawn('<path d="M0 0 H40 V17 H60 V0 H100 V40 H60 V23 H40 V40 H0 Z"/>')
    (finding,) = [f for f in report.findings if f.code == "lift-between-parts"]
    assert finding.message.startswith("the bushing does not pass between 2 parts of the cut: ")


def test_mirrored(drawn: Drawn) -> None:
    """A mirrored template of a lopsided drawing has its arm on the other side."""
    hook = '<path d="M0 0 H20 V60 H60 V80 H0 Z"/>'
    centres = []
    for make in ("", "mirrored = true\n"):
        (region,) = drawn(hook, make=make).template.opening
        xs = [x for x, _ in region.outer.flattened(0.1) if _ > 80]
        centres.append((min(xs) + max(xs)) / 2)
    assert sum(centres) == pytest.approx(200, abs=0.2)
    assert centres[0] < 90


def test_what_is_said_of_it(tmp_path: Path) -> None:
    """The cut wanted names the drawing, what was selected and the scale."""
    path = write(tmp_path, '<rect id="a" width="60" height="30"/>', more='select = "a"\nscale = 0.5\nangle = 30')
    assert cut_wanted(load_job(path)) == (
        "outline from d.svg (a), 0.5 times as large, 15 mm wide (up the drawing), 30 mm long (across it), 8 mm deep, "
        "turned 30°"
    )


def test_the_manifest_has_the_drawings_hash(tmp_path: Path) -> None:
    """The manifest names the drawing by its hash, without its geometry or any folder; a changed drawing changes it."""
    hashes = []
    for width in (60, 61):
        path = write(tmp_path, f'<rect width="{width}" height="30"/>')
        assert run(["make", str(path), "--out", str(tmp_path / "out")]) == 0
        text = (tmp_path / "out" / "tray" / "tray.json").read_text()
        manifest = json.loads(text)
        form = manifest["job"]["cut"]["form"]
        assert form["file"] == "d.svg"
        assert "region" not in form
        assert str(tmp_path) not in text
        hashes.append((form["sha256"], manifest["job"]["sha256"]))
    assert hashes[0][0] != hashes[1][0]
    assert hashes[0][1] != hashes[1][1]


def test_a_tongue_that_the_bushing_cannot_go_round_stops(drawn: Drawn) -> None:
    """A tongue of wood 4 mm wide and 40 long, bit 10 in bushing 16: the bushing rounds what is narrower than 6 mm away.

    It would be routed off with nothing more than corners said; now it stops, with how far, how much and where.
    """
    report = drawn('<path d="M 0 0 H 80 V 34 H 40 V 38 H 80 V 72 H 0 Z"/>')
    (finding,) = [f for f in report.findings if f.code == "wood-cut-away"]
    assert (finding.level.value, finding.where) == ("stop", "cut.file")
    assert finding.message.startswith("a part that is to stay standing is cut away, up to ")
    assert "it is narrower than the bushing can go round (6 mm)" in finding.message


def test_an_island_that_the_bushing_cannot_go_round_stops(drawn: Drawn) -> None:
    """A round island of 4 mm in a square of 80 is routed away by a bit of 10 in a bushing of 16: a stop."""
    ring = "M 0 0 H 80 V 80 H 0 Z M 38 40 A 2 2 0 1 0 42 40 A 2 2 0 1 0 38 40 Z"
    report = drawn(f'<path fill-rule="evenodd" d="{ring}"/>')
    (finding,) = [f for f in report.findings if f.code == "wood-cut-away"]
    assert "(12.57 mm² in all)" in finding.message  # pi 2²


def test_points_of_wood_that_are_rounded_off_are_a_warning(drawn: Drawn) -> None:
    """An L has a corner of wood that points into the cut: rounded to the offset of 3 mm it loses 3 (sqrt 2 - 1)."""
    report = drawn('<path d="M 0 0 H 80 V 30 H 30 V 80 H 0 Z"/>')
    (finding,) = [f for f in report.findings if f.code == "corner-rounded-off"]
    assert finding.level.value == "warning"
    assert "are rounded off, up to 1.24 mm (1.93 mm² in all)" in finding.message  # (1 - pi / 4) 3²
    assert not report.stopped
