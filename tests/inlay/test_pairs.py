"""Which bushings fit for given bits, and which of one's tools would make two pairs fit."""

from fractions import Fraction

import pytest

from jigtemplates.inlay import Fit, Pair, pairs
from jigtemplates.inlay.pairs import candidates, changes, passes
from jigtemplates.inlay.text import change_text
from jigtemplates.lengths import Length
from jigtemplates.parameters.entries import Bit, Bushing


def length(mm: float | str) -> Length:
    return Length(Fraction(str(mm)), f"{mm} mm")


def bushing(mm: float, bore: float | None = None) -> Bushing:
    held = {"diameter": length(mm), "bore": None if bore is None else length(bore)}
    return Bushing.model_validate(held)


def bit(mm: float) -> Bit:
    return Bit.model_validate({"diameter": length(mm)})


METRIC = [bushing(size, size - 2) for size in (10, 12, 14, 16, 20, 24, 27, 30)]


def names(found: object) -> list[tuple[float, float]]:
    return [(one.recess.diameter.mm, one.plug.diameter.mm) for one in found]  # type: ignore[attr-defined]


def test_those_that_fit_come_first() -> None:
    """With a 5 mm bit the recess's bushing is 10 mm wider: the smallest pair first."""
    found = candidates(5, 5, METRIC)
    fitting = [one for one in found if one.fit.fits]
    assert names(fitting) == [(20.0, 10.0), (24.0, 14.0), (30.0, 20.0)]
    assert list(found[:3]) == fitting


def test_near_misses_by_how_much() -> None:
    """Then what misses least; of equal misses the loose before the tight; nothing that misses by more than 1 mm."""
    found = [one for one in candidates(5, 5, METRIC) if not one.fit.fits]
    assert [(*pair, one.fit.miss) for pair, one in zip(names(found), found, strict=True)] == [
        (27.0, 16.0, -0.5),
        (20.0, 12.0, 1.0),
        (24.0, 16.0, 1.0),
        (24.0, 12.0, -1.0),
    ]


def test_a_glue_line_takes_other_bushings() -> None:
    """A line of 0.5 mm wants the recess's bushing 9 mm wider: 27 and 18 are not there, 20 and 11 neither."""
    assert [one for one in candidates(5, 5, METRIC, glue_line=0.5) if one.fit.fits] == []
    fitting = [one for one in candidates(5, 5, [*METRIC, bushing(11, 9)], glue_line=0.5) if one.fit.fits]
    assert names(fitting) == [(20.0, 11.0)]


def test_another_bit_for_the_plug() -> None:
    """Recess 5 mm, plug 3 mm: 8 mm wider."""
    fitting = [one for one in candidates(5, 3, METRIC) if one.fit.fits]
    assert names(fitting) == [(20.0, 12.0), (24.0, 16.0)]


def test_bits_must_pass() -> None:
    """A bore no wider than the bit is no pair; one not known is, where the bushing keeps a wall of 1/16 in."""
    assert not passes(8, bushing(10, 8))
    assert passes(7.9, bushing(10, 8))
    assert passes(8.4, bushing(10))
    assert not passes(8.5, bushing(10))
    assert candidates(5, 5, [bushing(20, 4.9), bushing(10, 8)]) == ()


def test_one_for_each_diameter() -> None:
    """Of two bushings of 10 mm the one with the wider known bore stands for both."""
    (found,) = candidates(5, 5, [bushing(20, 16), bushing(10), bushing(10, 7), bushing(10, 8)])
    assert found.plug.bore == length(8)


def test_room_for_chips() -> None:
    """A bore that is not known and one that leaves less than 1/16 in are remarked on, and the latter come later."""
    found = candidates(5, 5, [bushing(24, 20), bushing(20), bushing(14, 10), bushing(10, 6)])
    assert names(found) == [(24.0, 14.0), (20.0, 10.0)]
    assert found[0].remarks == ("", "")
    assert found[1].remarks == (
        "the bushing's bore is not known: measure it",
        "1 mm between bit and bore, less than 1/16 in: chips pack, take shallow passes",
    )


def test_json_names_the_bushings() -> None:
    """The numbers of the fit, each bushing's name, and the remarks with whose they are."""
    (found,) = candidates(5, 5, [bushing(20), bushing(10, 8)])
    numbers = found.as_json("second", "first")
    assert numbers["second"] == {"bit": 5, "bushing": 20.0, "name": "20 mm"}
    assert numbers["first"] == {"bit": 5, "bushing": 10.0, "name": "10 mm"}
    assert numbers["remarks"] == ["second: the bushing's bore is not known: measure it"]


@pytest.fixture
def misfit() -> Fit:
    """1.5 mm too loose a side."""
    return Fit(Pair(5, 20), Pair(6, 12))


def test_changes(misfit: Fit) -> None:
    """One tool before two, the template as it is before a new one; what a smaller change makes needless is left out."""
    found = changes(misfit, [bit(3), bit(5), bit(6)], METRIC)
    assert [change_text(one) for one in found] == [
        "plug: 3 mm in its bushing",
        "plug: 5 mm in 10 mm",
        "recess: 27 mm, and the opening made for that size; plug: its bit in 16 mm",
        "recess: 24 mm, and the opening made for that size; plug: 5 mm in 14 mm",
        "recess: 30 mm, and the opening made for that size; plug: 5 mm in 20 mm",
    ]
    assert all(one.fit.fits for one in found)


def test_changes_that_only_come_nearer(misfit: Fit) -> None:
    """Where nothing fits, what comes nearest and still goes in; never a plug that is too large."""
    found = changes(misfit, [bit(3.2), bit(2.8)], [])
    assert [(change_text(one), one.fit.gap) for one in found] == [("plug: 3.2 mm in its bushing", 0.1)]


def test_a_bore_that_the_recess_s_bit_does_not_pass(misfit: Fit) -> None:
    """A bushing of the right size is no help where the recess's bit, 5 mm, does not pass its bore of 5 mm."""
    assert [change_text(one) for one in changes(misfit, [], [bushing(23, 6)])] == [
        "recess: 23 mm, and the opening made for that size"
    ]
    assert changes(misfit, [], [bushing(23, 5)]) == ()


def test_nothing_to_change(misfit: Fit) -> None:
    """Two pairs that fit need nothing; without tools there is nothing to say."""
    assert changes(Fit(Pair(5, 20), Pair(5, 10)), [bit(3)], METRIC) == ()
    assert changes(misfit, [], []) == ()


def test_of_very_many_tools_two_change_at_a_time(misfit: Fit, monkeypatch: pytest.MonkeyPatch) -> None:
    """All three would be as many tries as bits times bushings times bushings; two are found as before."""
    before = {one.count for one in changes(misfit, [bit(3), bit(5), bit(6)], METRIC)}
    monkeypatch.setattr(pairs, "MOST_TRIED", 0)
    after = {one.count for one in changes(misfit, [bit(3), bit(5), bit(6)], METRIC)}
    assert 3 not in after
    assert after == before - {3} != set()
