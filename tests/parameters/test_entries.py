"""What an entry may say, and the sentence for each thing it may not."""

from typing import Any

import pytest
from pydantic import ValidationError

from jigtemplates.parameters.entries import (
    Bit,
    Bushing,
    Entry,
    Holder,
    Paper,
    Process,
    Router,
    Screw,
    ScrewPattern,
    Sheet,
)
from jigtemplates.parameters.faults import fault_lines

BIT = {"name": "my bit", "diameter": "3/8 in"}
BUSHING = {"name": "my bushing", "diameter": "1/2 in"}
SHEET = {"name": "cork", "thickness": [3, 6], "laser": False, "min_wall": 6}
SCREW = {"name": "M5", "diameter": 5, "clearance": {"fine": 5.3, "medium": 5.5, "coarse": 5.8}}
PEN = {"layer": "cut", "colour": "#000000", "stroke": 0.1}
PROCESS = {"name": "laser", "roles": {"cut_outside": PEN, "cut_inside": PEN}}
PAPER = {"name": "a4", "width": 210, "height": 297, "margin": 10, "foot": 15, "overlap": 12}
HOLDER = {"name": "frame", "width": 140, "height": 100, "play": 0.3}
ROUTER = {"name": "mine", "base": {"shape": "round", "diameter": 150}}
CORNERS = {"pattern": "corners", "size": "M5", "inset": 10}
RING = {"pattern": "ring", "size": "M5", "count": 6, "diameter": 80}
POINTS = {"pattern": "points", "size": "M5", "points": [[10, 10], [10, "1 in"]]}


def read(model: type[Any], table: dict[str, Any], **changes: Any) -> Any:
    return model.model_validate(table | changes, context={"unit": "mm"})


def faults(model: type[Any], table: dict[str, Any], **changes: Any) -> tuple[str, ...]:
    """The lines a person sees for a table with faults, in a file in which nothing has a line."""
    with pytest.raises(ValidationError) as caught:
        read(model, table, **changes)
    return fault_lines(caught.value, model, name="f", locate=lambda _: None)


def test_a_bit_needs_only_its_diameter() -> None:
    """What is not known of a bit stays unknown instead of getting a default."""
    bit = read(Bit, {"diameter": 6})
    assert (bit.diameter.mm, bit.diameter.text) == (6.0, "6 mm")
    assert {bit.name, bit.shank, bit.cutting_length, bit.overall_length, bit.kind, bit.plunging} == {None}


def test_a_bushing_needs_only_its_diameter() -> None:
    """What is not known of a bushing stays unknown instead of getting a default."""
    bushing = read(Bushing, {"diameter": "30 mm"})
    assert bushing.diameter.mm == 30.0
    assert {bushing.bore, bushing.stem, bushing.note} == {None}


def test_a_router_needs_only_its_base() -> None:
    """What is not known of a router stays unknown; it takes no collet that was not named."""
    router = read(Router, ROUTER)
    assert (router.base.diameter.mm, router.collets) == (150, ())
    assert {router.base_hole, router.travel, router.collet_to_base, router.nut_diameter, router.note} == {None}


def test_a_hole_may_be_nearly_as_wide_as_the_base() -> None:
    """A hole smaller than the smaller side of the base is believed."""
    assert read(Router, ROUTER, base_hole="149.9 mm", collets=[8, "1/4 in"]).base_hole.mm == 149.9


def test_a_nut_stands_with_its_bushing() -> None:
    """A nut as narrow as the bore is believed; narrower is not."""
    bushing = read(Bushing, BUSHING, bore=10, nut={"diameter": 10, "height": "1/4 in"})
    assert (bushing.nut.diameter.mm, bushing.nut.height.mm) == (10, 6.35)


def test_a_full_bit_is_read() -> None:
    """Every key of a bit arrives under its own name."""
    more = {
        "shank": "1/2 in",
        "cutting_length": 25,
        "overall_length": 70,
        "kind": "up-spiral",
        "plunging": True,
    }
    bit = read(Bit, BIT, **more, note="sharpened twice")
    assert [bit.shank.mm, bit.cutting_length.mm, bit.overall_length.mm] == [12.7, 25, 70]
    assert (bit.kind, bit.plunging, bit.note) == ("up-spiral", True, "sharpened twice")


def test_entries_refuse_to_be_changed() -> None:
    """An entry is one value for the whole run: assigning to it is an error."""
    with pytest.raises(ValidationError, match="frozen"):
        read(Bit, BIT).diameter = None


@pytest.mark.parametrize(
    ("model", "table", "changes", "line"),
    [
        (Bit, {}, {}, "f: diameter: is missing (diameter of the cutter, measured where possible)"),
        (Bit, BIT, {"diameter": 0}, "f: diameter: 0 is not a size (write a length greater than 0)"),
        (Bit, BIT, {"shanc": 6}, 'f: unknown key "shanc" (did you mean "shank"?)'),
        (
            Bit,
            BIT,
            {"kind": "up spiral"},
            'f: kind: "up spiral" is not known here (did you mean "up-spiral"?)',
        ),
        (
            Bit,
            BIT,
            {"plunging": "yes"},
            'f: plunging: "yes" does not fit here (write true or false, without quotes)',
        ),
        (
            Bit,
            BIT,
            {"cutting_length": 30, "overall_length": 25},
            'f: overall_length: "25 mm" is smaller than the cutting length, "30 mm" (measure again)',
        ),
        (
            Bushing,
            BUSHING,
            {"bore": "1/2 in"},
            'f: bore: "1/2 in" is not smaller than the outside diameter, "1/2 in" (measure again)',
        ),
        (
            Bushing,
            BUSHING,
            {"bore": "10 mm", "nut": {"diameter": "9 mm", "height": 5}},
            'f: nut: "9 mm" is smaller than the bore, "10 mm" (measure again)',
        ),
        (
            Bushing,
            BUSHING,
            {"nut": {"diameter": "30 mm"}},
            "f: nut.height: is missing (how far the nut rises above the face of the base)",
        ),
        (
            Router,
            ROUTER,
            {"base": {"diameter": 150}},
            'f: base.shape: is missing (one of "round", "rectangle")',
        ),
        (
            Router,
            ROUTER,
            {"base": {"shape": "round", "width": 150, "diameter": 150}},
            'f: base.width: is for "rectangle", not for "round"',
        ),
        (
            Router,
            ROUTER,
            {"base": {"shape": "square", "width": 150}},
            'f: base.shape: "square" is not known here (known: "round", "rectangle")',
        ),
        (
            Router,
            ROUTER,
            {"base_hole": 150},
            'f: base_hole: "150 mm" is not smaller than the base, "150 mm" (measure again)',
        ),
        (
            Router,
            {"name": "r", "base": {"shape": "rectangle", "width": 160, "depth": 140}},
            {"base_hole": 141},
            'f: base_hole: "141 mm" is not smaller than the base, "140 mm" (measure again)',
        ),
        (Router, ROUTER, {"collets": [6.35, "1/4 in"]}, 'f: collets: "1/4 in" stands there twice (keep one)'),
        (Router, ROUTER, {"collets": 8}, "f: collets: 8 does not fit here (write a list: [8])"),
        (
            Sheet,
            SHEET,
            {"thickness": []},
            "f: thickness: the list is empty (write at least one, or leave the key out)",
        ),
        (
            Sheet,
            SHEET,
            {"kerf": {"laser": [{"thickness": 3, "width": -1}]}},
            "f: kerf.laser[0].width: -1 is not a size (write a length greater than 0)",
        ),
        (
            Screw,
            SCREW,
            {"clearance": {"fine": 5.3, "medium": 5.2, "coarse": 5.1}},
            'f: clearance.medium: "5.2 mm" is smaller than the fine hole, "5.3 mm" (measure again)',
        ),
        (
            Screw,
            SCREW,
            {"clearance": {"fine": 5.3, "medium": 5.5, "coarse": 5.4}},
            'f: clearance.coarse: "5.4 mm" is smaller than the medium hole, "5.5 mm" (measure again)',
        ),
        (
            Screw,
            SCREW,
            {"diameter": 6},
            'f: clearance: "5.3 mm" is smaller than the screw\'s diameter, "6 mm" (measure again)',
        ),
        (
            Screw,
            SCREW,
            {"tapping": 5},
            'f: tapping: "5 mm" is not smaller than the screw\'s diameter, "5 mm" (measure again)',
        ),
        (
            Screw,
            SCREW,
            {"head": 4},
            'f: head: "4 mm" is smaller than the screw\'s diameter, "5 mm" (measure again)',
        ),
        (
            Screw,
            SCREW,
            {"head_angle": 45},
            "f: head_angle: 45 is not the angle of a countersink (write 60 to 120; usual: 82, 90)",
        ),
        (
            Process,
            PROCESS,
            {"roles": {}},
            "f: roles: cut_outside and cut_inside are missing (give at least cut_outside and cut_inside)",
        ),
        (
            Process,
            PROCESS,
            {"roles": {"cut_outside": PEN, "drill": PEN}},
            "f: roles: cut_inside is missing (give at least cut_outside and cut_inside)",
        ),
        (
            Process,
            PROCESS,
            {"roles": {"cut_inside": PEN}},
            "f: roles: cut_outside is missing (give at least cut_outside and cut_inside)",
        ),
        (
            Process,
            PROCESS,
            {"roles": {"cut_inner": PEN}},
            'f: roles: unknown key "cut_inner" (did you mean "cut_inside"?)',
        ),
        (
            Process,
            PROCESS,
            {"dxf_version": "R14"},
            'f: dxf_version: "R14" is not known here (did you mean "R12"?)',
        ),
        (
            Process,
            PROCESS,
            {"roles": {"cut_outside": PEN | {"stroke": 3}}},
            'f: roles.cut_outside.stroke: "3 mm" is out of range (write 0 to 2 mm)',
        ),
        (
            Paper,
            PAPER,
            {"margin": 5},
            'f: margin: "5 mm" is out of range (write at least 10 mm)',
        ),
        (Paper, PAPER, {"foot": 14}, 'f: foot: "14 mm" is out of range (write at least 15 mm)'),
        (
            Paper,
            PAPER,
            {"overlap": 16},
            'f: overlap: "16 mm" is out of range (write 10 to 15 mm)',
        ),
        (
            Paper,
            PAPER,
            {"width": 139},
            'f: width: "139 mm" leaves less than 120 mm to print on (use a larger paper)',
        ),
        (
            Paper,
            PAPER,
            {"height": 144},
            'f: height: "144 mm" leaves less than 120 mm to print on (use a larger paper)',
        ),
        (
            Holder,
            HOLDER,
            {"play": 140},
            'f: play: "140 mm" is not smaller than the recess\'s width, "140 mm" (measure again)',
        ),
        (
            Holder,
            HOLDER,
            {"play": 100},
            'f: play: "100 mm" is not smaller than the recess\'s height, "100 mm" (measure again)',
        ),
        (
            Holder,
            HOLDER,
            {"ledge": 20, "window": {"width": 101, "height": 60}},
            'f: window: width "101 mm" and the ledges exceed the recess, "140 mm" (measure again)',
        ),
        (
            Holder,
            HOLDER,
            {"window": {"width": 140, "height": 101}},
            'f: window: height "101 mm" and the ledges exceed the recess, "100 mm" (measure again)',
        ),
    ],
)
def test_each_fault_has_one_clear_line(
    model: type[Entry], table: dict[str, Any], changes: dict[str, Any], line: str
) -> None:
    """A value that cannot be right gets exactly one line: the key, what is wrong, what to do."""
    assert faults(model, table, **changes) == (line,)


@pytest.mark.parametrize(
    ("layer", "fault"),
    [
        ("cut inside", '"cut inside"'),
        ("1cut", '"1cut"'),
        ("", '""'),
        ("a" * 32, f'"{"a" * 32}"'),
        ("Öffnung", '"Öffnung"'),
        (7, "7"),
    ],
)
def test_a_layer_name_is_one_every_reader_takes(layer: object, fault: str) -> None:
    """Layer names are ASCII, start with a letter, have no spaces and at most 31 characters."""
    words = "is not a layer name (a letter, then letters, digits, _ or -; at most 31 characters)"
    roles = {"cut_outside": PEN | {"layer": layer}}
    assert faults(Process, PROCESS, roles=roles) == (f"f: roles.cut_outside.layer: {fault} {words}",)


def test_a_layer_name_may_have_31_characters() -> None:
    """The longest name DXF R12 takes is taken."""
    process = read(Process, PROCESS, roles={"cut_outside": PEN | {"layer": "a" * 31}, "cut_inside": PEN})
    assert process.roles.cut_outside.layer == "a" * 31


@pytest.mark.parametrize("colour", ["red", "#FFF", "#00000g", "000000", "#0000000"])
def test_a_colour_is_written_with_six_hexadecimal_digits(colour: str) -> None:
    """Colour names, short forms and letters past f are refused with an example."""
    roles = {"cut_outside": PEN | {"colour": colour}}
    line = f'f: roles.cut_outside.colour: "{colour}" is not a colour (write it as #rrggbb, such as #0072B2)'
    assert faults(Process, PROCESS, roles=roles) == (line,)


@pytest.mark.parametrize("other", [{"colour": "#0072B2"}, {"layer": "CUT"}])
def test_roles_on_one_layer_agree(other: dict[str, str]) -> None:
    """Two roles may share a layer only in one spelling and one colour: a DXF layer has one of each."""
    roles = {"cut_outside": PEN, "cut_inside": PEN, "drill": PEN | other}
    layer = other.get("layer", "cut")
    line = f'f: roles: cut_outside and drill share the layer "{layer}" (write it alike, in one colour)'
    assert faults(Process, PROCESS, roles=roles) == (line,)


def test_roles_may_share_a_layer() -> None:
    """A shop that cuts by layer may put inner and outer contours on one."""
    process = read(Process, PROCESS, roles={"cut_outside": PEN, "cut_inside": PEN | {"stroke": 0.3}})
    assert [pen.layer for pen in process.roles.drawn().values()] == ["cut", "cut"]


def test_a_role_left_out_is_not_drawn() -> None:
    """drawn() has exactly the roles of the profile, in a fixed order whatever the file's."""
    process = read(Process, PROCESS, roles={"reference": PEN | {"layer": "r"}, "cut_inside": PEN, "cut_outside": PEN})
    assert list(process.roles.drawn()) == ["cut_outside", "cut_inside", "reference"]


def test_a_process_has_no_kerf_until_one_is_measured() -> None:
    """Kerf is 0 and the DXF version R2000 unless the profile says otherwise."""
    process = read(Process, PROCESS)
    assert (process.kerf.mm, process.dxf_version) == (0, "R2000")


def test_a_holder_has_no_stand_off_unless_it_says_so() -> None:
    """Size and play are required of a holder; the rest is unknown, and the stand-off is 0."""
    holder = read(Holder, HOLDER)
    assert holder.stand_off.mm == 0
    assert {holder.depth, holder.ledge, holder.window, holder.screws} == {None}


def test_a_window_may_be_the_recess_less_its_ledges() -> None:
    """A window exactly as wide as what the ledges leave is accepted."""
    holder = read(Holder, HOLDER, ledge=20, window={"width": 100, "height": 60})
    assert (holder.window.width.mm, holder.window.height.mm) == (100, 60)


def test_the_smallest_papers_are_accepted() -> None:
    """120 mm left to print on is enough for the bars, in both directions."""
    paper = read(Paper, PAPER, width=140, height=145)
    assert (paper.width.mm, paper.height.mm) == (140, 145)


def test_corners_need_an_inset_and_pass_at_a_medium_fit() -> None:
    """A corner pattern is read with a plain clearance hole, medium fit, unless it says otherwise."""
    pattern = read(ScrewPattern, CORNERS)
    assert (pattern.inset.mm, pattern.hole, pattern.fit) == (10, "clearance", "medium")
    assert {pattern.count, pattern.diameter, pattern.start_angle, pattern.points} == {None}


def test_a_ring_has_a_count_a_diameter_and_perhaps_a_start() -> None:
    """A ring is read with the direction of its first hole."""
    pattern = read(ScrewPattern, RING, start_angle=45, hole="countersunk", fit="fine")
    assert (pattern.count, pattern.diameter.mm, pattern.start_angle) == (6, 80, 45)
    assert (pattern.hole, pattern.fit) == ("countersunk", "fine")


def test_points_are_pairs_in_any_unit() -> None:
    """Explicit points keep x and y apart, and each may have its own unit."""
    pattern = read(ScrewPattern, POINTS)
    assert [(x.mm, y.mm) for x, y in pattern.points] == [(10, 10), (10, 25.4)]


@pytest.mark.parametrize(
    ("table", "lines"),
    [
        ({"pattern": "corners", "size": "M5"}, ('f: inset: is missing (the pattern "corners" needs it)',)),
        ({"pattern": "edges", "size": "M5"}, ('f: inset: is missing (the pattern "edges" needs it)',)),
        (
            {"pattern": "ring", "size": "M5"},
            (
                'f: count: is missing (the pattern "ring" needs it)',
                'f: diameter: is missing (the pattern "ring" needs it)',
            ),
        ),
        ({"pattern": "points", "size": "M5"}, ('f: points: is missing (the pattern "points" needs it)',)),
        (
            CORNERS | {"count": 4, "start_angle": 0, "points": [[1, 1]]},
            (
                'f: count: the pattern "corners" has no count (leave it out)',
                'f: start_angle: the pattern "corners" has no start_angle (leave it out)',
                'f: points: the pattern "corners" has no points (leave it out)',
            ),
        ),
        (RING | {"inset": 5}, ('f: inset: the pattern "ring" has no inset (leave it out)',)),
        (POINTS | {"diameter": 5}, ('f: diameter: the pattern "points" has no diameter (leave it out)',)),
        (
            {"pattern": "corner", "size": "M5"},
            ('f: pattern: "corner" is not known here (did you mean "corners"?)',),
        ),
        (RING | {"count": 1}, ("f: count: 1 is not a number of holes for a ring (write 2 to 64)",)),
        (RING | {"count": 65}, ("f: count: 65 is not a number of holes for a ring (write 2 to 64)",)),
        (
            RING | {"count": "6"},
            ('f: count: "6" does not fit here (write a whole number, without quotes)',),
        ),
        (POINTS | {"points": []}, ("f: points: has 0 points (write 1 to 64, each as [x, y])",)),
        (
            POINTS | {"points": [[n, 0] for n in range(65)]},
            ("f: points: has 65 points (write 1 to 64, each as [x, y])",),
        ),
        (
            POINTS | {"points": [[25.4, 5], ["1 in", 5]]},
            ("f: points: the point [1 in, 5 mm] stands there twice (keep one)",),
        ),
        (
            POINTS | {"points": [[10]]},
            ("f: points[0]: a list is not a point (write it as [x, y], such as [10, 20])",),
        ),
        (
            POINTS | {"points": [7]},
            ("f: points[0]: 7 is not a point (write it as [x, y], such as [10, 20])",),
        ),
        (
            POINTS | {"points": [[10, "7 cm"]]},
            ('f: points[0][1]: "7 cm" is not a length (write 70 mm)',),
        ),
        (
            {"pattern": "corners", "inset": 5},
            ("f: size: is missing (name of the screw, such as M5)",),
        ),
    ],
)
def test_each_pattern_says_what_it_needs_and_what_it_has_not(table: dict[str, Any], lines: tuple[str, ...]) -> None:
    """A screw pattern with keys too few, too many or wrong gets a line for each, at its key."""
    assert faults(ScrewPattern, table) == lines


def test_all_faults_of_an_entry_come_at_once() -> None:
    """Three faults in one screw are three lines, in one go."""
    assert faults(Screw, SCREW, head=4, tapping="4,2 mm", hed=1) == (
        'f: tapping: "4,2 mm" is not a length (write 4.2 mm)',
        'f: head: "4 mm" is smaller than the screw\'s diameter, "5 mm" (measure again)',
        'f: unknown key "hed" (did you mean "head"?)',
    )


def test_a_bit_wider_than_any() -> None:
    """A bit of 400 mm is a slip, said in one line; one of 100 mm is read."""
    assert faults(Bit, BIT, diameter="400 mm")[0].endswith(
        'diameter: "400 mm" is too wide for a router bit (at most 100 mm)'
    )
    assert read(Bit, BIT, diameter=100).diameter.mm == 100
