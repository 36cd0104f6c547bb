"""A fixed day, and a workshop: the plan's job with named tools and a tools file."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

TOOLS = """\
# mine, all of them
units = "mm"

[bits."my 3/8"]
diameter = "3/8 in"  # up-spiral, bought in May
shank = "3/8 in"

[bushings."my 1/2"]
diameter = "1/2 in"
bore = "11.2 mm"     # drilled out
stem = 5
"""


@pytest.fixture(autouse=True)
def day(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """It is 2026-11-25; day("2028-01-01") makes it another day."""

    def set_to(day: str) -> None:
        monkeypatch.setattr("jigtemplates.calibrate.clock.today", lambda: date.fromisoformat(day))
        monkeypatch.setattr("jigtemplates.calibrate.age.today", lambda: date.fromisoformat(day))

    set_to("2026-11-25")
    return set_to


@pytest.fixture
def start() -> str:
    """What the tools file says at first."""
    return TOOLS


@pytest.fixture
def tools(here: Path) -> Path:
    """The person's tools file."""
    (here / "profiles").mkdir()
    (here / "profiles" / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return here / "profiles" / "tools.toml"


@pytest.fixture
def shop(rail: Path, tools: Path) -> Path:
    """The plan's job with the tools by their names."""
    text = rail.read_text(encoding="utf-8").replace('= "3/8 in"', '= "my 3/8"').replace('= "1/2 in"', '= "my 1/2"')
    rail.write_text(text, encoding="utf-8")
    return rail
