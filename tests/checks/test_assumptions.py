"""What was taken from elsewhere is said, with the key that would say it."""

from collections.abc import Callable
from pathlib import Path

from jigtemplates.profiles import Profiles

Said = Callable[..., list[tuple[str, str, str]]]


def test_nothing_assumed(said: Said) -> None:
    """A job that says everything assumes nothing."""
    assert said("assumed", tools={"bushing": 17}) == []


def test_clearance_assumed(said: Said) -> None:
    """No running clearance: 0.1 mm, and a note says so."""
    assert said("assumed", tools={"bushing": 17, "clearance": None}) == [
        ("note", "tools.clearance", "running clearance 0.1 mm assumed (tools.clearance is not set)")
    ]


def test_bore_assumed(said: Said) -> None:
    """A bore taken from a profile of the same diameter names the profile."""
    assert said("assumed") == [
        ("note", "tools.bushing", 'bore of the bushing taken from "bushing 1/2 in", which has the same diameter')
    ]


def test_kerf_assumed(said: Said, tmp_path: Path) -> None:
    """A kerf from the process profile is said under make.kerf."""
    shipped = (Path(__file__).parents[2] / "profiles" / "processes.toml").read_text(encoding="utf-8")
    (tmp_path / "mine.toml").write_text(shipped.replace("kerf = 0\n", "kerf = 0.15\n", 1), encoding="utf-8")
    found = said("assumed", profiles=Profiles([tmp_path]), tools={"bushing": 17})
    assert found == [("note", "make.kerf", 'kerf 0.15 mm taken from the process profile "laser"')]


def test_work_and_tenon_assumed(said: Said) -> None:
    """What [work] and [tenon] leave open is said under their own keys, several sizes of one table under the table."""
    found = said(
        "assumed",
        tools={"bushing": 17},
        work={"thickness": 45, "height": 90},
        tenon={"joints": 4},
    )
    assert [(where, message.split(" (")[0]) for _, where, message in found] == [
        ("work.from_face", "the cut is taken to be in the middle of the stock's thickness"),
        ("tenon", "for the tenons, fit 0.1 mm, glue_room 1/16 in, kerf 3 mm, waste 20 mm assumed"),
        ("tenon.mate_depth", "the other mortise is taken to be as deep as this one"),
    ]
