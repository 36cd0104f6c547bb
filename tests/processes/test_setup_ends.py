"""The two places of the bushing that tell most, on paths of few segments and of very many."""

from types import SimpleNamespace
from typing import Any

import pytest

from jigtemplates.geometry.outline import Outline, Region
from jigtemplates.geometry.shapes import ellipse, rectangle, round_hole, slot
from jigtemplates.processes.setup_ends import far_apart


def on_path(rim: Outline) -> Any:
    """A report whose bushing goes round there."""
    return SimpleNamespace(predicted=SimpleNamespace(path=(Region(rim),)))


@pytest.mark.parametrize("many", [10**9, 0])
def test_the_ends_of_a_path(many: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A slot's ends, a rectangle's opposite corners, an ellipse's tips; a round's left and right."""
    monkeypatch.setattr("jigtemplates.processes.setup_ends.LONG", many)
    assert far_apart(on_path(slot(50, 12))) == ((-25, 0), (25, 0))
    assert far_apart(on_path(rectangle(40, 20))) == ((-20, -10), (20, 10))
    assert far_apart(on_path(ellipse(80, 50))) == ((-40, 0), (40, 0))
    assert far_apart(on_path(round_hole(30))) == ((-15, 0), (15, 0))
