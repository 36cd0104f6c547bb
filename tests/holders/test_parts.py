"""The parts a holder's numbers give: sizes, holes on both sides of a screw, and what is asked for."""

import re
from collections.abc import Callable

import pytest

from jigtemplates.errors import InputError
from jigtemplates.holders import ledges_of, recess_of, window_of
from jigtemplates.holders.box import Box
from jigtemplates.holders.parts import Part, Parts, parts_of, plate_that_fits
from jigtemplates.profiles import Profiles

MakeParts = Callable[..., Parts]


def bores(part: Part) -> list[tuple[float, float, float, float | None, str]]:
    """Place, diameters and use of each hole."""
    return [(b.hole.center.x, b.hole.center.y, b.hole.diameter, b.hole.head, b.use) for b in part.bores]


def test_sizes_of_the_parts(parts: MakeParts) -> None:
    """Outside is recess and frame, 160 + 2 x 30; the upper frame is as thick as the recess is deep."""
    made = parts()
    assert [part.key for part in made] == ["upper", "ledge", "single"]
    assert [part.quantity for part in made] == [1, 1, 1]
    assert {part.outside for part in made} == {Box(220, 220)}
    assert (made.upper.thickness, made.ledge.thickness, made.single.thickness) == (6, 9, 15)
    assert (made.upper.through, made.upper.pocket) == (Box(160, 160, 5), None)
    assert (made.ledge.through, made.ledge.pocket) == (Box(116, 116, 5), None)
    assert (made.single.through, made.single.pocket, made.single.pocket_depth) == (
        Box(116, 116, 5),
        Box(160, 160, 5),
        6,
    )
    assert made.plate == Box(159.7, 159.7, 5)


def test_window_and_ledge(with_holder: Callable[..., Profiles]) -> None:
    """The window as given, with corners of its own or the recess's, or what the ledge leaves; else it is not known."""

    def read(**keys: str | None) -> tuple[Box | None, tuple[float, float] | None]:
        holder = with_holder(**keys).find("holders", "frame").entry
        return window_of(holder), ledges_of(holder)

    assert read() == (Box(116, 116, 5), (22, 22))
    assert read(window="{ width = 100, height = 110, corner_radius = 2 }") == (Box(100, 110, 2), (30, 25))
    assert read(window="{ width = 6, height = 110 }") == (Box(6, 110, 3), (77, 25))  # at most half its sides
    assert read(window=None) == (Box(116, 116, 5), (22, 22))
    assert read(window=None, ledge=None) == (None, None)
    assert read(window=None, ledge="80") == (None, None)
    assert read(corner_radius=None) == (Box(116, 116, 0), (22, 22))


def test_an_unknown_radius_is_drawn_square(with_holder: Callable[..., Profiles]) -> None:
    """A recess whose corners are not known is taken as square."""
    assert recess_of(with_holder(corner_radius=None).find("holders", "frame").entry) == Box(160, 160, 0)


def test_a_round_holder(parts: MakeParts) -> None:
    """Recess, window, outside and plate are round."""
    made = parts(corner_radius="80", joining=None, screws=None)
    assert [box.is_round for box in (made.upper.outside, made.upper.through, made.ledge.through, made.plate)] == [
        True
    ] * 4
    assert made.plate == Box(159.7, 159.7, 159.7 / 2)


def test_smallest_inside_radius(parts: MakeParts) -> None:
    """The tightest corner a cutter has to reach; 0 where it is square."""
    assert [part.smallest_inside_radius for part in parts()] == [5, 5, 5]
    tighter = parts(window="{ width = 100, height = 100, corner_radius = 3 }")
    assert [part.smallest_inside_radius for part in tighter] == [5, 3, 3]
    assert parts(corner_radius="0", window=None).upper.smallest_inside_radius == 0


def test_a_screw_that_passes_the_plate_finds_a_thread(parts: MakeParts) -> None:
    """Countersunk M5 in plate and upper frame (5.5 mm, head 11.2): M5 threads below (4.2 mm, ISO 2306)."""
    made = parts()
    assert bores(made.upper)[0] == (12, 12, 5.5, 11.2, "countersunk for M5")
    assert bores(made.ledge)[4] == (12, 12, 4.2, None, "for the thread of M5")
    assert bores(made.ledge)[0][:2] == pytest.approx((42.15, 42.15))
    assert bores(made.ledge)[0][2:] == (4.2, None, "for the thread of M5")
    assert len(made.single.bores) == 4


def test_a_screw_that_bites_in_the_plate_passes_the_ledge(parts: MakeParts) -> None:
    """Tapped M5 in plate and upper frame: 5.5 mm to pass below (ISO 273, medium); plain clearance the other way."""
    tapped = '{ pattern = "corners", size = "M5", hole = "tapped", inset = 12 }'
    made = parts(screws=tapped, joining=tapped, insert="7")
    assert bores(made.upper)[0][2:] == (4.2, None, "for the thread of M5")
    assert [bore[2:] for bore in bores(made.ledge)] == [(5.5, None, "clearance for M5")] * 8
    plain = parts(joining='{ pattern = "corners", size = "M5", inset = 12 }')
    assert bores(plain.upper)[0][2:] == (5.5, None, "clearance for M5")


def test_threaded_inserts(parts: MakeParts) -> None:
    """With an insert the plate's screws get its hole; those that join the layers stay threads."""
    made = parts(insert='"7 mm"')
    assert [bore[2:] for bore in bores(made.ledge)] == [
        *[(7, None, "threaded insert for M5")] * 4,
        *[(4.2, None, "for the thread of M5")] * 4,
    ]


def test_a_screw_without_a_tapping_drill(parts: MakeParts, with_holder: Callable[..., Profiles], tmp_path: str) -> None:
    """Where the profile knows no tapping drill the ledge gets clearance holes, for nuts."""
    profiles = with_holder(screws='{ pattern = "corners", size = "odd", inset = 12 }', joining=None)
    text = 'units = "mm"\n[screws.odd]\ndiameter = 5\nclearance = { fine = 5.2, medium = 5.6, coarse = 6 }\n'
    (profiles.folders[0] / "screws.toml").write_text(text, encoding="utf-8")
    profiles = Profiles(profiles.folders)
    made = parts_of(profiles.find("holders", "frame").entry, profiles)
    assert bores(made.ledge)[0][2:] == (5.6, None, "clearance for odd")


@pytest.mark.parametrize(("hole", "lacks"), [("countersunk", "head"), ("tapped", "tapping")])
def test_a_hole_that_the_screw_does_not_have(with_holder: Callable[..., Profiles], hole: str, lacks: str) -> None:
    """A countersunk or tapped hole for a screw whose profile does not say it is refused."""
    profiles = with_holder(joining=f'{{ pattern = "corners", size = "odd", hole = "{hole}", inset = 12 }}')
    text = 'units = "mm"\n[screws.odd]\ndiameter = 5\nclearance = { fine = 5.2, medium = 5.6, coarse = 6 }\n'
    (profiles.folders[0] / "screws.toml").write_text(text, encoding="utf-8")
    profiles = Profiles(profiles.folders)
    with pytest.raises(InputError) as caught:
        parts_of(profiles.find("holders", "frame").entry, profiles)
    assert caught.value.lines == (
        f'holder "frame": joining.hole: the profile of screw "odd" has no {lacks} (add it there, or use another hole)',
    )


def test_an_unknown_screw(with_holder: Callable[..., Profiles]) -> None:
    """A screw that no profile knows is refused where it stands."""
    profiles = with_holder(joining='{ pattern = "corners", size = "M55", inset = 12 }')
    with pytest.raises(InputError) as caught:
        parts_of(profiles.find("holders", "frame").entry, profiles)
    assert caught.value.lines[0].startswith('holder "frame": joining.size: "M55" is not among the screws')


def test_all_that_is_missing_is_asked_for_at_once(with_holder: Callable[..., Profiles]) -> None:
    """A line for each size, what it is, and where to write it."""
    gone = dict.fromkeys(("depth", "corner_radius", "window", "ledge", "ledge_thickness", "frame"))
    profiles = with_holder(**gone)
    with pytest.raises(InputError) as caught:
        parts_of(profiles.find("holders", "frame").entry, profiles)
    change = "add it: jigtemplates tools change holders frame"
    assert [re.sub(" --file .*", "", line) for line in caught.value.lines] == [
        'holder "frame": depth is missing (depth of the recess, which is the thickness of the upper frame; '
        f'{change} depth="SIZE"',
        "holder \"frame\": corner_radius is missing (radius of the recess's corners: at least the cutter's, or 0 for "
        f'square ones; {change} corner_radius="SIZE"',
        'holder "frame": window is missing (width of the ledge, or the size of the window as window.width and '
        f'window.height; {change} ledge="SIZE"',
        'holder "frame": ledge_thickness is missing (thickness of the ledge frame, or of what stays under the pocket; '
        f'{change} ledge_thickness="SIZE"',
        f'holder "frame": frame is missing (width of the frame round the recess; {change} frame="SIZE"',
    ]


def test_the_plate_that_fits_is_the_plate_a_job_gets(
    with_holder: Callable[..., Profiles], held: Callable[..., object]
) -> None:
    """Recess less play, for the parts as for the jobs: 159.7 mm, corners 5 mm."""
    box = plate_that_fits(with_holder().find("holders", "frame").entry)
    assert box == Box(159.7, 159.7, 5)
    plate = held().job.plate  # type: ignore[attr-defined]
    assert (plate.width, plate.height, plate.corner_radius) == (159.7, 159.7, 5)
