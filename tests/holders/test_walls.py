"""What is said of a holder's parts before they are made; each sentence, and where it is not said."""

from collections.abc import Callable
from typing import Any

import pytest

from jigtemplates.holders.parts import Parts
from jigtemplates.holders.walls import findings_on

ALL = ("laser", "cnc", "paper")

Found = Callable[..., list[tuple[str, str, str]]]


@pytest.fixture
def said(parts: Callable[..., Parts]) -> Found:
    """said("code", targets, kerf, play="0.5"): level, key and sentence of each finding with that code."""

    def found(code: str, targets: tuple[str, ...] = ALL, kerf: float = 0.2, **keys: Any) -> list[tuple[str, str, str]]:
        every = findings_on(parts(**keys), targets, kerf)
        return [(f.level.value, f.where, f.message) for f in every if f.code == code]

    return found


def screws(inset: float, pattern: str = "corners") -> str:
    """Countersunk M5 screws as TOML."""
    return f'{{ pattern = "{pattern}", size = "M5", hole = "countersunk", inset = {inset} }}'


def test_a_sound_holder(parts: Callable[..., Parts]) -> None:
    """Of the ordinary holder nothing is said that stops or warns."""
    assert {f.level.value for f in findings_on(parts(), ALL, 0.2)} == {"note"}
    assert findings_on(parts(), ("paper",), 0.0) == ()


def test_holes_off_the_part(said: Found) -> None:
    """A hole over the recess, or over the edge, is a stop for each part it spoils."""
    found = said("bore-off-part", joining=screws(40))
    assert found[0] == (
        "stop",
        "joining",
        "hole 1 of the upper frame at (40 mm, 40 mm), countersunk for M5, does not lie outside the recess",
    )
    assert len(found) == 4
    assert said("bore-off-part", joining=screws(5))[0][2].endswith("countersunk for M5, does not lie on the part")
    assert said("bore-off-part", screws=screws(25))[0][2] == (
        "hole 1 of the ledge frame at (55.15 mm, 55.15 mm), for the thread of M5, does not lie outside the window"
    )


def test_thin_walls(said: Found) -> None:
    """Less than 5 mm to an edge is a warning, said once for all holes that are as near; 5 mm and more is none."""
    assert said("thin-wall") == []
    # 30.15 + 16 = 46.15 mm from the edge; the window begins at 52 mm, and half of 4.2 mm is 2.1 mm
    assert said("thin-wall", screws=screws(16, "edges")) == [
        (
            "warning",
            "frame",
            "holes 1, 2, 3 and 4 of the ledge frame are only 3.75 mm from the window, where 5 mm is sensible: move the "
            "screws",
        ),
        (
            "warning",
            "frame",
            "holes 1, 2, 3 and 4 of the frame in one piece are only 3.75 mm from the window, where 5 mm is sensible: "
            "move the screws",
        ),
    ]
    assert "from its outside, where" in said("thin-wall", joining=screws(10))[0][2]
    single = '{ pattern = "points", size = "M5", points = [[16, 70]] }'
    assert said("thin-wall", screws=single)[0][2].startswith(
        "hole 1 of the ledge frame is only 3.75 mm from the window"
    )


def test_thin_walls_in_inches(said: Found) -> None:
    """A holder in inches is spoken of in inches first."""
    inches = {"width": '"6 in"', "height": '"6 in"', "window": None, "joining": None}
    (first, *_) = said("thin-wall", screws=screws(16, "edges"), **inches)
    assert "where 0.197 in (5 mm) is sensible" in first[2]


def test_holes_too_near_each_other(said: Found) -> None:
    """Holes that overlap are a stop, holes with less than 5 mm between them a warning."""
    near = '{ pattern = "points", size = "M5", points = [[11, 70], [11, 73]] }'
    assert said("bores-overlap", screws=near)[0] == (
        "stop", "screws", "hole 1 and hole 2 of the ledge frame overlap",
    )  # fmt: skip
    apart = '{ pattern = "points", size = "M5", points = [[11, 70], [11, 77.2]] }'
    assert said("bores-overlap", screws=apart) == []
    assert said("thin-wall", screws=apart)[0][2] == (
        "only 3 mm between hole 1 and hole 2 of the ledge frame, where 5 mm is sensible: move the screws"
    )


def test_a_ledge_no_wider_than_the_play(said: Found) -> None:
    """The plate would drop through."""
    keys = {"ledge": "2", "window": None, "screws": None}
    assert said("no-ledge", play="2", **keys) == [
        (
            "stop",
            "ledge",
            "the ledge (2 mm) is no wider than the play (2 mm), so the plate drops through: make the window smaller",
        )
    ]
    assert said("no-ledge", play="1.9", **keys) == []


def test_what_is_not_there(said: Found) -> None:
    """A holder without screws, and one without screws between its layers, are notes."""
    assert said("no-plate-screws", screws=None) == [
        ("note", "screws", "the holder has no screws, so the ledge gets no holes for the plate's")
    ]
    assert said("layers-glued", joining=None) == [
        ("note", "joining", "the holder has no joining screws: glue the layers, their edges flush")
    ]
    assert (said("no-plate-screws"), said("layers-glued")) == ([], [])


def test_no_thread_in_the_ledge(parts: Callable[..., Parts], with_holder: Callable[..., Any]) -> None:
    """A screw whose tapping drill is not known is a warning, with an insert it is none."""
    from jigtemplates.holders.parts import parts_of
    from jigtemplates.profiles import Profiles

    def found(**keys: str) -> list[str]:
        folder = with_holder(screws='{ pattern = "corners", size = "odd", inset = 12 }', **keys).folders[0]
        text = 'units = "mm"\n[screws.odd]\ndiameter = 5\nclearance = { fine = 5.2, medium = 5.6, coarse = 6 }\n'
        (folder / "screws.toml").write_text(text, encoding="utf-8")
        profiles = Profiles([folder])
        made = parts_of(profiles.find("holders", "frame").entry, profiles)
        return [f.message for f in findings_on(made, ALL, 0.2) if f.code == "no-thread"]

    assert found() == [
        "no tapping drill is known of odd, so the ledge gets clearance holes for nuts below it: give insert, or "
        "tapping in the screw's profile"
    ]
    assert found(insert="7") == []


def test_a_holder_in_inches(said: Found) -> None:
    """One that is written in inches is answered in them: 9 mm is 0.354 in."""
    inches = {"width": '"6-1/4 in"', "height": '"6-1/4 in"', "window": '{ width = "4-1/2 in", height = "4-1/2 in" }'}
    assert said("needs-feet", stand_off='"1/2 in"', **inches)[0][2] == (
        "the stand-off (1/2 in = 12.7 mm) is more than the ledge is thick: the frame stands 0.146 in (3.7 mm) off the "
        "work, on feet or fences that are no part of these files"
    )
    assert said("work-in-window", stand_off="0", **inches)[0][2].startswith(
        "the stand-off (0 in = 0 mm) is less than the ledge is thick (0.354 in = 9 mm), so the work must come 0.354 in "
        "(9 mm) up into the window: "
    )
    assert said("bore-off-part", joining=screws(38.1), **inches)[0][2].startswith(
        "hole 1 of the upper frame at (1-1/2 in, 1-1/2 in), countersunk for M5, "
    )
    inches |= {"ledge": '"1/16 in"', "window": None, "screws": None}
    assert said("no-ledge", play='"1/16 in"', **inches)[0][2].startswith(
        "the ledge (1/16 in = 1.59 mm) is no wider than the play (1/16 in = 1.59 mm), so the plate drops through: "
    )


@pytest.mark.parametrize(
    ("stand_off", "code", "sentence"),
    [
        (
            "0",
            "work-in-window",
            "the stand-off (0 mm) is less than the ledge is thick (9 mm), so the work must come 9 mm up into the "
            "window: if the frame lies on the work, correct stand_off in its profile",
        ),
        (
            "12",
            "needs-feet",
            "the stand-off (12 mm) is more than the ledge is thick: the frame stands 3 mm off the work, on feet or "
            "fences that are no part of these files",
        ),
    ],
)
def test_stand_off_and_ledge(said: Found, stand_off: str, code: str, sentence: str) -> None:
    """A stand-off that differs from the ledge's thickness says something of the work; as thick, nothing."""
    assert said(code, stand_off=stand_off) == [("note", "stand_off", sentence)]
    assert said(code) == []


def test_square_corners_on_a_cnc_router(said: Found) -> None:
    """A cutter cannot make a square inside corner; a laser can."""
    sentence = (
        "the recess has square corners, which a cutter leaves round: chisel them out, or give corner_radius, at least "
        "the cutter's radius; new plates then get it too"
    )
    assert said("square-corners", corner_radius="0") == [("warning", "corner_radius", sentence)]
    assert said("square-corners", ("laser",), corner_radius="0") == []
    assert said("square-corners") == []


def test_what_a_laser_cannot(said: Found, parts: Callable[..., Parts]) -> None:
    """The frame in one piece, countersinks, and an unmeasured kerf are notes where a laser is asked for."""
    assert said("laser-in-layers") == [
        ("note", "--for", "a laser cuts the layers; the frame in one piece needs a CNC or hand router")
    ]
    assert said("countersink-by-hand") == [
        ("note", "joining", "a laser cannot sink the countersinks: sink them by hand")
    ]
    assert said("countersink-by-hand", joining=None) == []
    assert said("kerf-not-set", kerf=0.0) == [
        (
            "note",
            "--kerf",
            "the laser files carry no kerf allowance, so recess and window come out one kerf wider: measure it, and "
            'give --kerf, or the process profile "laser", the full width',
        )
    ]
    assert said("kerf-not-set") == []
    (told,) = (f.message for f in findings_on(parts(), ALL, 0.0, measured="--material mdf") if f.code == "kerf-not-set")
    assert told == (
        "the laser files carry no kerf allowance, so recess and window come out one kerf wider: a measured one is in "
        "your profile, so say what the frame is made of (--material mdf)"
    )
    for code in ("laser-in-layers", "countersink-by-hand", "kerf-not-set"):
        assert said(code, ("cnc", "paper"), 0.0) == []
