"""A size that is not known: what to write, and where, once it is measured."""

from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.profiles import Profiles, profiles_for

Said = Callable[..., list[tuple[str, str, str]]]

OWN = '[bits."my 3/8"]\ndiameter = "3/8 in"\n[bushings.brass]\ndiameter = "17 mm"\n'


def test_of_a_tool_in_the_tools_file(said: Said, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The command that enters it, ready to be typed, for each of the sizes that a check asks for."""
    monkeypatch.chdir(tmp_path)
    Path("profiles").mkdir()
    Path("profiles/tools.toml").write_text(OWN)
    tools = {"bit": "my 3/8", "bushing": "brass"}
    asked = {
        "reach-unknown": 'type jigtemplates tools change bits "my 3/8" cutting_length="…"',
        "stem-unknown": 'type jigtemplates tools change bushings brass stem="…"',
        "bore-unknown": 'type jigtemplates tools change bushings brass bore="…"',
    }
    for code, end in asked.items():
        ((_, _, sentence),) = said(code, profiles=profiles_for(None), tools=tools)
        assert sentence.endswith(f", or {end}")


def test_of_a_tool_in_another_file(said: Said, tmp_path: Path) -> None:
    """The name of the file, without its folders: they belong to one machine."""
    (tmp_path / "drawer.toml").write_text(OWN)
    ((_, _, sentence),) = said("reach-unknown", profiles=Profiles([tmp_path]), tools={"bit": "my 3/8"})
    assert sentence.endswith(', or write cutting_length = … at "my 3/8" in drawer.toml')


def test_of_a_bare_size_and_a_shipped_tool(said: Said) -> None:
    """A table in the job."""
    for bit in ("3/8 in", "straight 10 mm"):
        ((_, _, sentence),) = said("reach-unknown", tools={"bit": bit})
        assert sentence.endswith(", or give it as bit = { diameter = …, shank = …, cutting_length = … }")
