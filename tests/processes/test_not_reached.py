"""The corners that the bit does not reach, in the plan of a set-up sheet."""

from collections.abc import Callable

from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.setup_draw import BRASS, VERMILLION
from jigtemplates.processes.setup_plan import plan
from jigtemplates.report import Report


def test_the_edge_asked_for_lies_over_the_bushings(report_with: Callable[..., Report]) -> None:
    """A bushing may stand on such a corner: the edge that was asked for is drawn once more over it, unfilled."""
    cut = {"shape": "rectangle", "width": 20, "length": 40, "depth": 5}
    inks = plan(report_with(cut=cut), Bounds(0, 0, 90, 120), 0.5, inches=False).inks
    bushings = [i for i, ink in enumerate(inks) if ink.fill == BRASS]
    edges = [i for i, ink in enumerate(inks) if ink.colour == VERMILLION and not ink.fill]
    assert edges
    assert max(bushings[:2]) < min(edges)


def test_a_cut_that_is_reached_all_round_has_no_such_edge(report_with: Callable[..., Report]) -> None:
    """A slot has none."""
    inks = plan(report_with(), Bounds(0, 0, 90, 120), 0.5, inches=False).inks
    assert not [ink for ink in inks if ink.colour == VERMILLION and not ink.fill]
