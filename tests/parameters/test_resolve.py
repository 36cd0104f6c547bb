"""What a right job becomes: lengths in mm, names looked up, gaps filled and said."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles

Read = Callable[..., Job]
SCREWS = 'screws = { pattern = "corners", size = "M5", inset = 10 }'
PLATE = "width = 140\nheight = 140"


def texts(made: Job) -> tuple[str, ...]:
    """What the job takes for granted, as sentences."""
    return tuple(one.text for one in made.assumptions)


def test_the_plans_job(job: Read) -> None:
    """The job of the plan becomes millimetres, with what was written kept beside them."""
    made = job()
    assert (made.title, made.stem, made.source, made.units, made.notes) == (
        "Bench rail, 10 x 50", "rail", None, "mm", None,
    )  # fmt: skip
    cut = made.cut
    assert (cut.shape, cut.width, cut.length, cut.corner_radius, cut.depth) == ("slot", 10, 50, 5, 28)
    assert (cut.angle, cut.x, cut.y) == (0, 70, 70)
    assert (cut.width_written.text, cut.length_written.text, cut.depth_written.text) == ("10 mm", "50 mm", "28 mm")
    assert made.tools.bit.diameter.exact == Fraction("9.525")  # 3/8 in, NBS Circular 572
    assert made.tools.bushing.diameter.exact == Fraction("12.7")
    assert (made.tools.clearance, made.tools.pass_depth) == (0.1, None)
    plate = made.plate
    assert (plate.width, plate.height, plate.thickness, plate.corner_radius) == (140, 140, 6, 0)
    assert (plate.stand_off, plate.wall, plate.label, plate.holder) == (0, None, True, None)
    assert plate.material is not None
    assert plate.material.name == "mdf"
    assert made.make.targets == ("laser", "cnc", "paper")


def test_what_is_not_said_is_assumed_aloud(job: Read) -> None:
    """A running clearance that is not given is 0.1 mm, and the job says so."""
    made = job(('clearance = "0.1 mm"', ""))
    assert made.tools.clearance == 0.1
    assert "running clearance 0.1 mm assumed (tools.clearance is not set)" in texts(made)
    assert not any("clearance" in one for one in texts(job()))


def test_round(job: Read) -> None:
    """A round cut is as wide as long, and its corner radius is half of that."""
    cut = job(('"slot"', '"round"'), ("width  = 10", 'diameter = "1-1/2 in"'), ('length = "50 mm"', "")).cut
    assert (cut.shape, cut.width, cut.length, cut.corner_radius) == ("round", 38.1, 38.1, 19.05)
    assert cut.width_written.text == "1-1/2 in"


def test_rectangle(job: Read) -> None:
    """A rectangle has the corner radius that was asked for, none by default."""
    assert job(('"slot"', '"rectangle"')).cut.corner_radius == 0
    cut = job(('"slot"', '"rectangle"'), ("angle  = 0", "angle = -30\ncorner_radius = 5\nx = 40\ny = -2")).cut
    assert (cut.width, cut.length, cut.corner_radius) == (10, 50, 5)
    assert (cut.angle, cut.x, cut.y) == (-30, 40, -2)


def test_a_rectangle_may_be_wider_than_long(job: Read) -> None:
    """Only a slot must be at least as long as wide."""
    cut = job(('"slot"', '"rectangle"'), ('"50 mm"', "5")).cut
    assert (cut.width, cut.length) == (10, 5)


def test_inch_job(job: Read) -> None:
    """In a job in inches every bare number, fraction or not, is in inches."""
    made = job(('units = "mm"', 'units = "in"'), ("width  = 10", 'width = "3/8"'), ('"50 mm"', "2.5"), ("= 28", "= 1"))
    assert (made.cut.width, made.cut.length, made.cut.depth) == (9.525, 63.5, 25.4)
    assert made.cut.width_written.text == "3/8 in"
    assert made.plate.width == 140 * 25.4


def test_bare_diameters(job: Read) -> None:
    """A bare diameter is known as typed, and labelled as it was written."""
    tools = job(('"3/8 in"', '"9.5mm"'), ('"1/2 in"', "30")).tools
    assert (tools.bit.typed, tools.bit.name, tools.bit.label, tools.bit.origin) == (True, None, "9.5 mm", "job")
    assert (tools.bit.shank, tools.bit.cutting_length, tools.bit.kind, tools.bit.plunging) == (None,) * 4
    assert (tools.bushing.typed, tools.bushing.label, tools.bushing.origin) == (True, "30 mm", "job")


def test_named_tools(job: Read) -> None:
    """A named tool brings what its profile says, and from where."""
    tools = job(('"3/8 in"', '"my spiral"'), ('"1/2 in"', '"seventeen"')).tools
    bit = tools.bit
    assert (bit.label, bit.typed, bit.diameter.text, bit.shank) == ("my spiral", False, "9.51 mm", 12.7)
    assert (bit.cutting_length, bit.overall_length, bit.kind) == (32, 76, "up-spiral")
    assert (bit.plunging, bit.note) == (True, "measured")
    assert bit.origin.endswith("own.toml")
    bushing = tools.bushing
    assert (bushing.label, bushing.diameter.mm, bushing.bore, bushing.stem) == ("seventeen", 17, 14, 5)
    assert (bushing.typed, bushing.assumed, bushing.assumed_from) == (False, (), None)
    assert bushing.origin.endswith("own.toml")


def test_shipped_tools_say_so(job: Read) -> None:
    """A tool that came with the program has that origin."""
    assert job(('"1/2 in"', '"bushing 1/2 in"')).tools.bushing.origin == "shipped"


def test_tables_of_tools(job: Read) -> None:
    """A table is taken as it stands; its name, if it has one, is its label."""
    bit = '{ name = "old faithful", diameter = 9.4, shank = 8 }'
    tools = job(('"3/8 in"', bit), ('"1/2 in"', "{ diameter = 30, bore = 22 }")).tools
    assert (tools.bit.label, tools.bit.typed, tools.bit.diameter.mm, tools.bit.shank) == ("old faithful", False, 9.4, 8)
    assert (tools.bushing.label, tools.bushing.typed, tools.bushing.bore, tools.bushing.stem) == (
        "30 mm",
        False,
        22,
        None,
    )


def test_bore_and_stem_from_an_equal_diameter(job: Read) -> None:
    """Bore and stem of a bare diameter come from the profile of exactly that diameter, and are said."""
    made = job(('"1/2 in"', "17"))
    bushing = made.tools.bushing
    assert (bushing.bore, bushing.stem, bushing.typed) == (14, 5, True)
    assert (bushing.assumed, bushing.assumed_from) == (("bore", "stem"), "seventeen")
    assert texts(made) == ('bore and stem of the bushing taken from "seventeen", which has the same diameter',)


def test_nothing_from_a_nearly_equal_diameter(job: Read) -> None:
    """A diameter that is not exactly equal takes nothing."""
    bushing = job(('"1/2 in"', "17.001")).tools.bushing
    assert (bushing.bore, bushing.stem, bushing.assumed, bushing.assumed_from) == (None, None, (), None)


def test_profiles_that_disagree(job: Read) -> None:
    """Of profiles of one diameter, only what all that state it agree on is taken."""
    made = job(('"1/2 in"', "13"))
    assert (made.tools.bushing.bore, made.tools.bushing.stem) == (10, None)
    assert made.tools.bushing.assumed == ("bore",)
    assert texts(made) == ('bore of the bushing taken from "thirteen a", which has the same diameter',)


def test_what_a_table_says_wins(job: Read) -> None:
    """A table's own bore stays; only what it leaves out is taken."""
    bushing = job(('"1/2 in"', "{ diameter = 17, bore = 13 }")).tools.bushing
    assert (bushing.bore, bushing.stem, bushing.assumed) == (13, 5, ("stem",))


def test_a_named_bushing_takes_nothing(job: Read) -> None:
    """A bushing chosen by name is exactly what its profile says, gaps included."""
    bushing = job(('"1/2 in"', '"thirteen c"')).tools.bushing
    assert (bushing.bore, bushing.stem, bushing.assumed) == (None, None, ())


def test_options_stand_in_for_keys(job: Read) -> None:
    """Bit, bushing and targets given from outside replace the file's; a bare number is in its units."""
    made = job(bit="1/4 in", bushing=17, targets=["cnc"])
    assert (made.tools.bit.diameter.mm, made.tools.bushing.diameter.mm) == (6.35, 17)
    assert made.make.targets == ("cnc",)


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ('pattern = "corners", size = "M5", inset = 10', ("corners", "clearance", "medium", 10, None, None, 0, ())),
        (
            'pattern = "edges", size = "M5", inset = 9, hole = "tapped"',
            ("edges", "tapped", "medium", 9, None, None, 0, ()),
        ),
        (
            'pattern = "ring", size = "M5", count = 6, diameter = 100, start_angle = 30, fit = "fine"',
            ("ring", "clearance", "fine", None, 6, 100, 30, ()),
        ),
        (
            'pattern = "points", size = "M5", hole = "countersunk", points = [[10, 20], ["1 in", 5]]',
            ("points", "countersunk", "medium", None, None, None, 0, ((10, 20), (25.4, 5))),
        ),
    ],
)
def test_screws(job: Read, table: str, expected: tuple[object, ...]) -> None:
    """Each pattern keeps what it needs in mm, and the screw's own sizes come with it."""
    screws = job((SCREWS, f"screws = {{ {table} }}")).plate.screws
    assert screws is not None
    assert expected == (
        screws.pattern, screws.hole, screws.fit, screws.inset, screws.count, screws.diameter, screws.start_angle,
        screws.points,
    )  # fmt: skip
    assert screws.screw.clearance.medium.mm == 5.5  # ISO 273, M5 medium (references.md, quoted)


def test_plate_without_screws(job: Read) -> None:
    """A plate need not be screwed down, nor be of a known material."""
    plate = job((SCREWS, ""), ('material = "mdf"', "corner_radius = 5\nstand_off = 2\nwall = 8\nlabel = false")).plate
    assert (plate.screws, plate.material) == (None, None)
    assert (plate.corner_radius, plate.stand_off, plate.wall, plate.label) == (5, 2, 8, False)


def test_holder(job: Read) -> None:
    """A holder brings the plate's size less the play, the stand-off and the screws."""
    made = job((PLATE, 'holder = "frame"'), (SCREWS, ""))
    plate = made.plate
    assert (plate.width, plate.height, plate.stand_off) == (149.5, 99.5, 12)
    assert plate.screws is not None
    assert (plate.screws.pattern, plate.screws.screw.name, plate.screws.inset) == ("edges", "M4", 9)
    assert plate.holder is not None
    assert plate.holder.name == "frame"
    assert (made.cut.x, made.cut.y) == (74.75, 49.75)


def test_holder_without_screws(job: Read) -> None:
    """A holder that names no screws brings none, and no gap under the plate."""
    plate = job((PLATE, 'holder = "bare"'), (SCREWS, "")).plate
    assert (plate.width, plate.height, plate.stand_off, plate.screws) == (90, 80, 0, None)


def test_keys_win_over_the_holder(job: Read) -> None:
    """What the job says of the plate wins over its holder, 0 included."""
    plate = job((PLATE, 'holder = "frame"\nwidth = 120\nstand_off = 0')).plate
    assert (plate.width, plate.height, plate.stand_off) == (120, 99.5, 0)
    assert plate.screws is not None
    assert (plate.screws.pattern, plate.screws.screw.name) == ("corners", "M5")


def test_make_by_default(job: Read) -> None:
    """Without [make], everything is made, with no kerf, as plainly as possible."""
    make = job(('[make]\nfor = ["laser", "cnc", "paper"]', "")).make
    assert (make.targets, make.kerf, make.mirrored) == (("laser", "cnc", "paper"), 0, False)
    assert (make.dxf.version, make.dxf.unit, make.dxf.arcs, make.dxf.chord) == ("R2000", "mm", "bulges", 0.01)
    assert [paper.name for paper in make.papers] == ["a4", "letter"]
    assert (make.correction, make.printed_bar) == ((1, 1), None)


def test_make_as_asked(job: Read) -> None:
    """What is asked of the files is passed on in mm."""
    make = job((
        "[make]",
        '[make]\nkerf = "0.2 mm"\npapers = ["a3"]\nmirrored = true\nprinted_bar = { across = 99.6, up = "100.1 mm" }\n'
        'dxf = { version = "R12", units = "in", arcs = "facets", chord = "0.05 mm" }',
    )).make  # fmt: skip
    assert (make.kerf, make.mirrored, [paper.name for paper in make.papers]) == (0.2, True, ["a3"])
    assert (make.dxf.version, make.dxf.unit, make.dxf.arcs, make.dxf.chord) == ("R12", "in", "facets", 0.05)
    assert make.correction == pytest.approx((1.004016, 0.999001), abs=1e-6)  # 100/99.6, 100/100.1
    assert make.printed_bar is not None
    assert [bar.text for bar in make.printed_bar] == ["99.6 mm", "100.1 mm"]


@pytest.mark.parametrize("bar", ["97.1", "102.9"])
def test_a_printers_error_is_corrected(job: Read, bar: str) -> None:
    """Bars from 97.1 to 102.9 mm are taken for a printer's error."""
    make = job(("[make]", f"[make]\nprinted_bar = {{ across = {bar}, up = 100 }}")).make
    assert make.correction == pytest.approx((100 / float(bar), 1))


def test_a_process_of_ones_own(tmp_path: Path) -> None:
    """Kerf and DXF version of one's own process profile count where the job is silent, and are said."""
    pen = '{ layer = "cut", colour = "#000000", stroke = "0.1 mm" }'
    (tmp_path / "p.toml").write_text(
        f'[processes.laser]\nkerf = "0.15 mm"\ndxf_version = "R12"\n'
        f"roles = {{ cut_outside = {pen}, cut_inside = {pen} }}\n"
    )
    text = (
        'title = "t"\n[cut]\nshape = "round"\ndiameter = "30 mm"\ndepth = "5 mm"\n[tools]\nbit = "6 mm"\n'
        'bushing = "30 mm"\nclearance = "0.1 mm"\n[plate]\nwidth = "90 mm"\nheight = "90 mm"\nthickness = "6 mm"\n'
    )
    made = job_from_text(text, profiles=Profiles([tmp_path]))
    assert (made.make.kerf, made.make.dxf.version) == (0.15, "R12")
    assert texts(made) == ('kerf 0.15 mm taken from the process profile "laser"',)
    plain = job_from_text(text + "[make]\nkerf = '0 mm'\ndxf.version = 'R2000'", profiles=Profiles([tmp_path]))
    assert (plain.make.kerf, plain.make.dxf.version, texts(plain)) == (0, "R2000", ())
    cnc = job_from_text(text, profiles=Profiles([tmp_path]), targets=["cnc", "paper"])
    assert (cnc.make.dxf.version, texts(cnc)) == ("R2000", ())
