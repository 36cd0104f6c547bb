"""The page of a second template: the first laid over what the second cuts."""

from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from jigtemplates.cli import run

JOB = """
title = "Round tray"
units = "mm"
[cut]
shape = "round"
diameter = 100
depth = 6
[tools]
bit = "1/8 in"
bushing = { diameter = "5/8 in", bore = "1/2 in", stem = "5 mm" }
[plate]
width = 200
height = 200
thickness = 6
"""


@pytest.fixture
def tray(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A round cut with a 1/8 in bit in a 5/8 in bushing, in the folder one is in."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tray.toml").write_text(JOB, encoding="utf-8")
    return tmp_path


def words(path: Path) -> str:
    document = pypdfium2.PdfDocument(path.read_bytes())
    try:
        return " ".join(document[0].get_textpage().get_text_bounded().split())
    finally:
        document.close()


def test_a_second_template_that_fits_is_drawn_edge_on_edge(tray: Path) -> None:
    """(3/8, 1/8) round the first goes with (5/8, 1/8) in the second (trade table, read): they coincide."""
    assert run(["inlay", "tray.toml", "--first", "1/8 in", "3/8 in", "--picture", "second.pdf"]) == 0
    said = words(tray / "second.pdf")
    assert "Round tray" in said
    assert "The first laid over what the second cuts" in said
    assert "they coincide all round, no overlap" in said


def test_one_that_misses_is_drawn_as_well(tray: Path) -> None:
    """(1/2, 1/8) round the first: 5/8 against 1/2, a miss of 1/16 in a side; status 1, and the page says it."""
    assert run(["inlay", "tray.toml", "--first", "1/8 in", "1/2 in", "--picture", "second.pdf"]) == 1
    assert "they miss by 1.588 mm a side" in words(tray / "second.pdf")


@pytest.mark.parametrize(
    ("args", "line"),
    [
        (
            ["tray.toml", "--picture", "a.pdf"],
            "--picture: is of one job and its second template (give JOB and --first BIT BUSHING as well)",
        ),
        (
            ["tray.toml", "--first", "1/8 in", "3/8 in", "--picture", "a.svg"],
            '--picture: "a.svg" is no PDF file (end its name in .pdf)',
        ),
    ],
)
def test_pictures_that_cannot_be(tray: Path, capsys: Any, args: list[str], line: str) -> None:
    """One line each, and nothing is written."""
    assert run(["inlay", *args]) == 2
    assert capsys.readouterr().err.strip() == line
    assert sorted(path.name for path in tray.iterdir()) == ["tray.toml"]


def test_a_second_template_that_cuts_nothing(tray: Path, capsys: Any) -> None:
    """A first so small that the second's bushing does not go into it leaves nothing to draw: one line."""
    (tray / "tray.toml").write_text(JOB.replace("diameter = 100", "diameter = 4"), encoding="utf-8")
    status = run(["inlay", "tray.toml", "--first", "1/8 in", "1/4 in", "--picture", "second.pdf"])
    assert status == 2
    assert capsys.readouterr().err.strip() == (
        "--picture: the second template cuts nothing, so there is nothing to draw"
    )
