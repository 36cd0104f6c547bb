"""Each fault in a job has its one line: where, what, what to write instead."""

# ruff: noqa: E501 - a line that people see is kept whole, so that it can be searched for

from collections.abc import Callable

import pytest

Faults = Callable[..., tuple[str, ...]]


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        # keys of the whole file
        ('title = "Bench rail, 10 x 50"', "", "rail: title: is missing (what the template is called on its label and sheets)"),
        ('"Bench rail, 10 x 50"', "3", 'rail:1: title: 3 is not text (put it in quotes, such as "Bench rail")'),
        ('"Bench rail, 10 x 50"', '"  "', "rail:1: title: it is empty (write some text, or leave the key out)"),
        ('"Bench rail, 10 x 50"', f'"{"x" * 81}"', f'rail:1: title: "{"x" * 39}…" has 81 characters (at most 80)'),
        ('"Bench rail, 10 x 50"', '"a\\u0000b"', 'rail:1: title: "a\\x00b" has control characters (write plain text)'),
        ('"Bench rail, 10 x 50"', '"a\\nb"', 'rail:1: title: "a\\nb" has control characters (write plain text)'),
        ('units = "mm"', 'units = "cm"', 'rail:2: units: "cm" is not known here (known: "mm", "in")'),
        ('units = "mm"', 'units = "MM"', 'rail:2: units: "MM" is not known here (did you mean "mm"?)'),
        ('units = "mm"', 'unit = "mm"\nunits = "mm"', 'rail:2: unknown key "unit" (did you mean "units"?)'),
        ("[make]", "[mak]", 'rail:19: unknown key "mak" (did you mean "make"?)'),
        ("[make]", "[output]", 'rail:19: unknown key "output" (known: "title", "units", "notes", "cut", "tools", "plate", "work", "tenon", "inlay", "fit", "make")'),
        ("[make]", "'<text>' = 1\n[make]", 'rail:19: plate: unknown key "<text>" (known: "holder", "width", "height", "thickness", "corner_radius", "material", "stand_off", "screws", "label", "wall", "rebate" …)'),
        ("[make]", "[[make]]", "rail:19: make: a list does not fit here (write a table of keys)"),
        ('units = "mm"', 'units = "mm"\nnotes = 3', 'rail:3: notes: 3 is not text (put it in quotes, such as "Bench rail")'),
        # cut
        ('"slot"', '"slott"', 'rail:4: cut.shape: "slott" is not known here (did you mean "slot"?)'),
        ('"slot"', '"heart"', 'rail:4: cut.shape: "heart" is not known here (known: "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")'),
        ('"slot"', "3", 'rail:4: cut.shape: 3 is not known here (known: "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")'),
        ('shape  = "slot"', "", 'rail:3: cut.shape: is missing (one of "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline")'),
        ("width  = 10", "", "rail:3: cut.width: is missing (width across the slot)"),
        ("width  = 10", "width = -10", "rail:5: cut.width: -10 is not a size (write a length greater than 0)"),
        ("width  = 10", "width = 0", "rail:5: cut.width: 0 is not a size (write a length greater than 0)"),
        ("width  = 10", "width = inf", "rail:5: cut.width: inf is not a length (a length is a finite number of a sensible size)"),
        ("width  = 10", "width = 1979-05-27", "rail:5: cut.width: 1979-05-27 is not a length (write a number, or text such as 9.5 mm or 3/8 in)"),
        ("width  = 10", 'width = "12,7 mm"', 'rail:5: cut.width: "12,7 mm" is not a length (write 12.7 mm)'),
        ("depth  = 28", "depth = 28000", "rail:7: cut.depth: 28000 is too large (at most 10000 mm; is the unit right?)"),
        ('"50 mm"', '"5 mm"', 'rail:6: cut.length: "5 mm" is less than the width "10 mm" (swap them and turn the slot by angle = 90, or use shape = "round")'),
        ("angle  = 0", "corner_radius = 3", 'rail:8: cut.corner_radius: is for "rectangle", "polygon", "butterfly" and "hinge", not for "slot"'),
        ("angle  = 0", "diameter = 3", 'rail:8: cut.diameter: is for "round", not for "slot"'),
        ("angle  = 0", "dept = 3", 'rail:8: cut: unknown key "dept" (did you mean "depth"?)'),
        ("angle  = 0", 'angle = "30"', 'rail:8: cut.angle: "30" is not an angle (write a number of degrees without quotes, such as 30)'),
        ("angle  = 0", "angle = true", "rail:8: cut.angle: true is not an angle (write a number of degrees without quotes, such as 30)"),
        ("angle  = 0", "angle = nan", "rail:8: cut.angle: nan is not an angle from -360 to 360 degrees"),
        ("angle  = 0", "angle = 361", "rail:8: cut.angle: 361 is not an angle from -360 to 360 degrees"),
        ("angle  = 0", "x = true", "rail:8: cut.x: true is not a length (write a number, or text such as 9.5 mm or 3/8 in)"),
        # tools
        ('"3/8 in"', '"3/8"', 'rail:10: tools.bit: "3/8" is not a length (a fraction needs its unit where bare numbers are mm; write 3/8 in or 3/8 mm)'),
        ('"3/8 in"', '"12,7 mm"', 'rail:10: tools.bit: "12,7 mm" is not a length (write 12.7 mm)'),
        ('"3/8 in"', '"-3 mm"', 'rail:10: tools.bit: "-3 mm" is not a size (write a length greater than 0)'),
        ('"3/8 in"', '""', 'rail:10: tools.bit: "" is not a length (it is empty; write a number and a unit, such as 9.5 mm or 3/8 in)'),
        ('"3/8 in"', "true", "rail:10: tools.bit: true is not a length (write a number, or text such as 9.5 mm or 3/8 in)"),
        ('"3/8 in"', "[3]", "rail:10: tools.bit: a list is not a length (write a number, or text such as 9.5 mm or 3/8 in)"),
        ('"3/8 in"', '"my spirall"', 'rail:10: tools.bit: "my spirall" is neither a length nor a bit in the profiles (did you mean "my spiral"?)'),
        ('"1/2 in"', '"sevente"', 'rail:11: tools.bushing: "sevente" is neither a length nor a guide bushing in the profiles (did you mean "seventeen"?)'),
        ('"3/8 in"', "{ shank = 8 }", "rail:10: tools.bit.diameter: is missing (diameter of the cutter, measured where possible)"),
        ('"3/8 in"', "{ diameter = 3, '<table>' = 8 }", 'rail:10: tools.bit: unknown key "<table>" (known: "name", "diameter", "shank", "cutting_length", "overall_length", "kind", "plunging", "note", "nominal", "measured" …)'),
        ('"3/8 in"', "{ diameter = 3, shnk = 8 }", 'rail:10: tools.bit: unknown key "shnk" (did you mean "shank"?)'),
        ('"3/8 in"', '{ diameter = 3, kind = "spiral" }', 'rail:10: tools.bit.kind: "spiral" is not known here (did you mean "up-spiral"?)'),
        ('"3/8 in"', "{ diameter = 3, plunging = 1 }", "rail:10: tools.bit.plunging: 1 does not fit here (write true or false, without quotes)"),
        ('"1/2 in"', '{ diameter = "x" }', 'rail:11: tools.bushing.diameter: "x" is not a length (the number is missing; write a number and a unit, such as 9.5 mm or 3/8 in)'),
        ('bit       = "3/8 in"', "", "rail:9: tools.bit: is missing (the router bit: its diameter, its name in the profiles, or a table)"),
        ('"0.1 mm"', "-0.1", "rail:12: tools.clearance: -0.1 is less than nothing (write 0 or more)"),
        # plate
        ("width = 140", "", 'rail:13: plate.width: is missing (the width of the plate, or holder = "NAME" instead)'),
        ("height = 140", "", 'rail:13: plate.height: is missing (the height of the plate, or holder = "NAME" instead)'),
        ("width = 140", 'holder = "fram"', 'rail:14: plate.holder: "fram" is no holder in the profiles (did you mean "frame"?)'),
        ("width = 140", 'holder = "bad screws"', 'rail:14: plate.holder: the profile of screw "plain" has no head (add it there, or use another hole)'),
        ("thickness = 6", "", "rail:13: plate.thickness: is missing (thickness of the plate)"),
        ("thickness = 6", "thickness = 6\ncorner_radius = 80", 'rail:17: plate.corner_radius: "80 mm" is more than half the smaller side, "140 mm" (write less)'),
        ('"mdf"', '"mfd"', 'rail:17: plate.material: "mfd" is no sheet material in the profiles (did you mean "mdf"?)'),
        ('"mdf"', "3", 'rail:17: plate.material: 3 is not text (put it in quotes, such as "Bench rail")'),
        ('"M5"', '"M55"', 'rail:18: plate.screws.size: "M55" is no screw in the profiles (did you mean "M5"?)'),
        ('"M5"', '"plain", hole = "tapped"', 'rail:18: plate.screws.hole: the profile of screw "plain" has no tapping (add it there, or use another hole)'),
        ('"M5"', '"plain", hole = "countersunk"', 'rail:18: plate.screws.hole: the profile of screw "plain" has no head (add it there, or use another hole)'),
        ('"M5"', '"M5", hole = "counter"', 'rail:18: plate.screws.hole: "counter" is not known here (did you mean "countersunk"?)'),
        ('"M5"', '"M5", fit = "loose"', 'rail:18: plate.screws.fit: "loose" is not known here (known: "fine", "medium", "coarse")'),
        ('"corners"', '"corner"', 'rail:18: plate.screws.pattern: "corner" is not known here (did you mean "corners"?)'),
        ("thickness = 6", 'thickness = 6\nlabel = "yes"', 'rail:17: plate.label: "yes" does not fit here (write true or false, without quotes)'),
        # make
        ('["laser", "cnc", "paper"]', "[]", "rail:20: make.for: the list is empty (write at least one, or leave the key out)"),
        ('["laser", "cnc", "paper"]', '"laser"', 'rail:20: make.for: "laser" does not fit here (write a list: ["laser"])'),
        ('["laser", "cnc", "paper"]', '["laser", "laser"]', 'rail:20: make.for: "laser" stands there twice (keep one)'),
        ('["laser", "cnc", "paper"]', '["lazer"]', 'rail:20: make.for[0]: "lazer" is not known here (did you mean "laser"?)'),
        ("[make]", "[make]\nkerf = 3", 'rail:20: make.kerf: "3 mm" is too much for a laser (at most 2 mm)'),
        ("[make]", "[make]\nkerf = -1", "rail:20: make.kerf: -1 is less than nothing (write 0 or more)"),
        ("[make]", '[make]\npapers = ["a44"]', 'rail:20: make.papers: "a44" is no paper in the profiles (did you mean "a4"?)'),
        ("[make]", '[make]\npapers = ["a4", "a4"]', 'rail:20: make.papers: "a4" stands there twice (keep one)'),
        ("[make]", '[make]\ndxf = { version = "R14" }', 'rail:20: make.dxf.version: "R14" is not known here (did you mean "R12"?)'),
        ("[make]", '[make]\ndxf = { arcs = "lines" }', 'rail:20: make.dxf.arcs: "lines" is not known here (known: "bulges", "pieces", "facets")'),
        ("[make]", "[make]\ndxf = { chord = 2 }", 'rail:20: make.dxf.chord: "2 mm" is too much for a template (at most 1 mm)'),
        ("[make]", "[make]\ndxf = true", "rail:20: make.dxf: true does not fit here (write a table of keys)"),
        ("[make]", "[make]\nprinted_bar = { across = 100 }", "rail:20: make.printed_bar.up: is missing (measured length of the vertical 100 mm bar)"),
        (
            "[make]",
            "[make]\nprinted_bar = { across = 97, up = 100 }",
            'rail:20: make.printed_bar.across: "97 mm" is too far from 100 mm to be a printer\'s error '
            "(97.1 to 103.0 mm; print again at 100 %, without fitting to the page)",
        ),
        ("[make]", "[make]\nmirrored = 1", "rail:20: make.mirrored: 1 does not fit here (write true or false, without quotes)"),
    ],
)  # fmt: skip
def test_one_fault(faults: Faults, old: str, new: str, line: str) -> None:
    """A single fault gives a single line, at the line of the key, without the validator's jargon."""
    assert faults((old, new)) == (line,)


def test_all_at_once(faults: Faults) -> None:
    """All the faults of a file come together, in the order of its lines."""
    assert faults(("width  = 10", 'widht = "10,5"'), ('"3/8 in"', '"12,7 mm"'), ('"mdf"', '"mfd"')) == (
        "rail:3: cut.width: is missing (width across the slot)",
        'rail:5: cut: unknown key "widht" (did you mean "width"?)',
        'rail:10: tools.bit: "12,7 mm" is not a length (write 12.7 mm)',
        'rail:17: plate.material: "mfd" is no sheet material in the profiles (did you mean "mdf"?)',
    )


def test_keys_of_another_shape(faults: Faults) -> None:
    """When the shape changes, each key that no longer belongs is named with the shapes it is for."""
    assert faults(('"slot"', '"round"')) == (
        "rail:3: cut.diameter: is missing (diameter of the circle)",
        'rail:5: cut.width: is for "slot", "rectangle", "ellipse", "butterfly", "hand-hold", "arc-slot" and "hinge", not for "round"',
        'rail:6: cut.length: is for "slot", "rectangle", "ellipse", "butterfly", "hand-hold" and "hinge", not for "round"',
    )


@pytest.mark.parametrize(
    ("radius", "line"),
    [
        ("5.01", ('rail:8: cut.corner_radius: "5.01 mm" is more than half the smaller side, "10 mm" (write less)',)),
        ("-1", ("rail:8: cut.corner_radius: -1 is less than nothing (write 0 or more)",)),
    ],
)
def test_corner_radius(faults: Faults, radius: str, line: tuple[str, ...]) -> None:
    """A rectangle's corner radius is from 0 to half its smaller side."""
    assert faults(('"slot"', '"rectangle"'), ("angle  = 0", f"corner_radius = {radius}")) == line


def test_a_holders_size_limits_the_plates_corners(faults: Faults) -> None:
    """Without a size of its own, the plate's corners are held against the holder's recess less the play."""
    changes = (
        ("width = 140\nheight = 140", 'holder = "frame"'),
        ("thickness = 6", "thickness = 6\ncorner_radius = 50"),
    )
    assert faults(*changes) == (
        'rail:16: plate.corner_radius: "50 mm" is more than half the smaller side, "99.5 mm" (write less)',
    )


def test_without_units_every_bare_number_is_refused(faults: Faults) -> None:
    """Without units, each bare number has a line with both ways to write it."""
    lines = faults(('units = "mm"', ""))
    assert [line.split(": ")[1] for line in lines] == [
        "cut.width", "cut.depth", "plate.width", "plate.height", "plate.thickness", "plate.screws.inset",
    ]  # fmt: skip
    assert lines[0] == (
        'rail:5: cut.width: 10 is not a length (the unit is missing; write 10 mm or 10 in, or set units = "mm" or "in")'
    )


def test_a_wrong_unit_is_one_fault(faults: Faults) -> None:
    """A wrong `units` is named once, not once more for every bare number."""
    assert faults(('units = "mm"', "units = 3")) == ('rail:2: units: 3 is not known here (known: "mm", "in")',)


def test_unknown_screw_with_a_hole(faults: Faults) -> None:
    """A screw that is not known is one fault, whatever hole is asked for."""
    assert faults(('"M5"', '"M55", hole = "tapped"')) == (
        'rail:18: plate.screws.size: "M55" is no screw in the profiles (did you mean "M5"?)',
    )


def test_missing_tables(faults: Faults) -> None:
    """A table that is not there at all has no line number, only the file."""
    assert faults(("[plate]", "[plat]")) == (
        "rail: plate: is missing (the blank the opening is made in)",
        'rail:13: unknown key "plat" (did you mean "plate"?)',
    )


def test_dotted_and_nested_tables_have_their_own_lines(faults: Faults) -> None:
    """A table written out has the line of the key itself, not of the table."""
    lines = faults(
        ('screws = { pattern = "corners", size = "M5", inset = 10 }', '[plate.screws]\npattern = "corners"\nsize = "M55"\ninset = 10'),
        ('bit       = "3/8 in"', "bit.diameter = 3\nbit.shank = -1"),
    )  # fmt: skip
    assert lines == (
        "rail:11: tools.bit.shank: -1 is not a size (write a length greater than 0)",
        'rail:21: plate.screws.size: "M55" is no screw in the profiles (did you mean "M5"?)',
    )


@pytest.mark.parametrize(
    ("options", "line"),
    [
        ({"bit": "12,7"}, '--bit: "12,7" is not a length (write 12.7)'),
        ({"bit": "3/8"}, '--bit: "3/8" is not a length (a fraction needs its unit where bare numbers are mm; write 3/8 in or 3/8 mm)'),
        ({"bushing": "sevente"}, '--bushing: "sevente" is neither a length nor a guide bushing in the profiles (did you mean "seventeen"?)'),
        ({"bushing": 0}, "--bushing: 0 is not a size (write a length greater than 0)"),
        ({"targets": ["lasr"]}, '--for: "lasr" is not known here (did you mean "laser"?)'),
        ({"targets": []}, "--for: the list is empty (write at least one, or leave the key out)"),
        ({"targets": "laser"}, '--for: "laser" does not fit here (write a list: ["laser"])'),
        ({"targets": ("cnc", "cnc")}, '--for: "cnc" stands there twice (keep one)'),
    ],
)  # fmt: skip
def test_options(faults: Faults, options: dict[str, object], line: str) -> None:
    """A fault in what the command line gives names the option, not the file."""
    assert faults(**options) == (line,)


def test_an_option_hides_no_fault_of_the_file(faults: Faults) -> None:
    """An option stands in for a key, and the rest of the table is still checked."""
    assert faults(("[tools]", "[tools]\nbitt = 3"), bit="12 mm") == (
        'rail:10: tools: unknown key "bitt" (did you mean "bit"?)',
    )


def test_an_option_does_not_mend_a_table_that_is_none(faults: Faults) -> None:
    """Where [tools] is not a table, the option has nowhere to go and the file's fault is named."""
    assert faults(("[tools]", "[[tools]]"), bit="12 mm") == (
        "rail:9: tools: a list does not fit here (write a table of keys)",
    )


def test_an_option_makes_the_table(faults: Faults) -> None:
    """Without a [tools] table the option brings one, and what it lacks is named."""
    assert faults(("[tools]", "[cut.tools]"), bit="12 mm") == (
        "rail: tools.bushing: is missing (the guide bushing: its outside diameter, its name in the profiles, "
        "or a table)",
        'rail:9: cut: unknown key "tools" (known: "side", "depth", "angle", "x", "y", "repeat", "mirrored", '
        '"tenon", "shape", "width", "length")',
    )
