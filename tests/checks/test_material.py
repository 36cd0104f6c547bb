"""The plate's material, the laser's kerf, countersinks a laser cannot sink."""

from collections.abc import Callable

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

LASER, CNC = {"for": ["laser"]}, {"for": ["cnc", "paper"]}


@pytest.mark.parametrize("material", ["pvc", "polycarbonate", "phenolic", "printed"])
def test_never_laser(said: Said, material: str) -> None:
    """A material that must not be lasered is a stop for a laser and none for other machines."""
    assert said("never-laser", plate={"material": material}, make=LASER) == [
        (
            "stop",
            "plate.material",
            f"{material} must not go into a laser: take another material, or leave laser out of make.for",
        )
    ]
    assert said("never-laser", plate={"material": material}, make=CNC) == []
    assert said("never-laser", plate={"material": "acrylic"}, make=LASER) == []


def test_unknown_material(said: Said) -> None:
    """A laser file for no stated material is a note; without a laser none."""
    assert said("material-unknown", plate={"material": None}, make=LASER) == [
        (
            "note",
            "plate.material",
            "the laser file is made without knowing the material: never put PVC, vinyl or unknown plastic in a laser",
        )
    ]
    assert said("material-unknown", plate={"material": None}, make=CNC) == []


def test_thick_for_a_laser(said: Said) -> None:
    """More than 1/4 in is a note for a laser, and nothing where the sheet must not go into one anyway."""
    assert said("thick-for-laser", plate={"thickness": 9}, make=LASER) == [
        (
            "note",
            "plate.thickness",
            "most shop lasers cut sheet cleanly to about 6 mm, and this is 9 mm: ask first whether yours does, and see "
            "that the bushing slides at both faces, for a thick edge comes out sloping; else rout or saw the plate",
        )
    ]
    for plate in ({"thickness": "1/4 in"}, {"thickness": 6.6}, {"thickness": 10, "material": "pvc"}):
        assert said("thick-for-laser", plate=plate, make=LASER) == []
    assert said("thick-for-laser", plate={"thickness": 9}, make=CNC) == []
    assert len(said("thick-for-laser", plate={"thickness": 6.7, "material": "plywood"}, make=LASER)) == 1


def test_kerf_not_set(said: Said) -> None:
    """No kerf for a laser is a note, with the typical one where the sheet has one: MDF 1/4 in, 0.008 in."""
    assert said("kerf-not-set") == [
        (
            "note",
            "make.kerf",
            "the laser file carries no kerf allowance, so the opening comes out one kerf wider (typical for this "
            "sheet: 0.2 mm): cut a test piece, measure, and set make.kerf to the full width of the kerf unless your "
            "laser's program does it",
        )
    ]
    ((_, _, thin),) = said("kerf-not-set", plate={"thickness": 3})
    assert "(typical for this sheet: 0.15 mm)" in thin  # 0.006 in
    for material in (None, "hardboard"):
        ((_, _, sentence),) = said("kerf-not-set", plate={"material": material})
        assert "one kerf wider: cut a test piece" in sentence
    assert said("kerf-not-set", make={"kerf": 0.2}) == []
    assert said("kerf-not-set", make=CNC) == []


def test_kerf_implausible(said: Said) -> None:
    """More than 0.45 mm (laser cutting table, read) is a warning."""
    assert said("kerf-implausible", make={"kerf": 0.451}) == [
        (
            "warning",
            "make.kerf",
            "a kerf of 0.451 mm is wider than a laser's usual 0.08 to 0.45 mm: give the full width that the beam "
            "removes, measured over many cuts",
        )
    ]
    assert said("kerf-implausible", make={"kerf": 0.45}) == []
    assert said("kerf-implausible", make={"kerf": 0.46, **CNC}) == []


def test_kerf_too_wide(said: Said) -> None:
    """A kerf that leaves nothing of the screw holes is a stop: no hole may vanish without a word."""
    screws = {"pattern": "corners", "size": "#4", "inset": 10, "hole": "tapped"}  # pilot 5/64 in = 1.984 mm
    assert said("kerf-too-wide", plate={"screws": screws}, make={"kerf": 1.9}) == [
        (
            "stop",
            "make.kerf",
            "a kerf of 1.9 mm leaves nothing of the holes of 1.98 mm: give the full width that the beam removes, "
            "measured over many cuts",
        )
    ]
    assert said("kerf-too-wide", plate={"screws": screws}, make={"kerf": 1.88}) == []
    assert said("kerf-too-wide", plate={"screws": None}, make={"kerf": 2}) == []


def test_countersinks_by_hand(said: Said) -> None:
    """A laser file leaves the countersinks out, and says so with their diameter."""
    plate = {"screws": {"pattern": "corners", "size": "M5", "inset": 12, "hole": "countersunk"}}
    assert said("countersink-by-hand", plate=plate) == [
        (
            "note",
            "plate.screws",
            "a laser cannot sink the countersinks, so its file has the through holes only: sink them by hand to "
            "11.2 mm across",
        )
    ]
    assert said("countersink-by-hand", plate=plate, make=CNC) == []
    assert said("countersink-by-hand") == []


def test_unusual_thickness(said: Said) -> None:
    """A thickness nobody sells is a note with those that are sold; a sold one, in mm or inch, is none."""
    ((level, key, sentence),) = said("unusual-thickness", plate={"thickness": 7})
    assert (level, key) == ("note", "plate.thickness")
    assert sentence == (
        "mdf is usually sold in 3 mm, 6 mm, 9 mm, 12 mm, 18 mm, 1/8 in, 1/4 in, 3/8 in, 1/2 in, 3/4 in: 7 mm is fine "
        "if it was measured; plunge setting and stem depend on it"
    )
    assert said("unusual-thickness", plate={"thickness": "1/4 in"}) == []
    assert said("unusual-thickness", plate={"thickness": 6.009}) == []
    assert len(said("unusual-thickness", plate={"thickness": 6.02})) == 1
    assert said("unusual-thickness", plate={"thickness": 7, "material": None}) == []
