"""A job file to begin with: every key explained, in millimetres or inches, and it works as it stands."""

import re
from collections.abc import Mapping

from jigtemplates.starter_file import typed

#: Sizes for each unit system, chosen: an ordinary mortise, recess and plate. Nothing in them draws a stop or a
#: warning; the depth is that of a mortise for a slot, of a leaf for a hinge, and of an inlay for the others.
_SIZES: Mapping[str, Mapping[str, str]] = {
    "mm": {
        "width": "10", "length": "50", "wide": "30", "diameter": "40", "radius": "6", "long": "76", "waist": "18",
        "hand": "100", "rise": "6", "bend": "60", "leaf": "76", "back": "25", "leaf_thick": "2.5",
        "slot_depth": "28", "recess_depth": "8", "clearance": "0.1", "pass_depth": "3", "pitch": "60", "middle": "70",
        "stem": "5", "plate": "140", "thickness": "6", "corner": "5", "stand_off": "2", "screw": "M5",
        "inset": "10", "kerf": "0.2",
        "shallow": "2", "wall": "8", "ring": "115", "stock": "120", "narrow": "45",
        "deep": "70", "board": "600", "face": "20", "end": "100", "mate": "20", "saw": "2.5", "waste": "15",
        "off": "0.05", "tight": "0.02", "loose": "0.15", "tenon_thick": "10", "tenon_is": "9.9", "tenon_within": "0.05",
        "inlay_thick": "10", "deepest": "5 mm", "fit_else": "0.1 mm", "saw_else": "3 mm", "waste_else": "20 mm",
        "off_else": "0.05 mm", "tight_else": "0.02 mm", "loose_else": "0.15 mm",
    },
    "in": {
        "width": '"3/8 in"', "length": '"2 in"', "wide": '"1-1/4 in"', "diameter": '"1-1/2 in"', "radius": '"1/4 in"',
        "long": '"3 in"', "waist": '"3/4 in"', "hand": '"3-3/4 in"', "rise": '"1/4 in"', "bend": '"2-1/2 in"',
        "leaf": '"3 in"', "back": '"1 in"', "leaf_thick": '"3/32 in"',
        "slot_depth": '"1-1/8 in"', "recess_depth": '"5/16 in"', "clearance": "0.004", "pass_depth": '"1/8 in"',
        "pitch": '"2-3/8 in"',
        "middle": '"2-3/4 in"', "stem": '"3/16 in"', "plate": '"5-1/2 in"', "thickness": '"1/4 in"',
        "corner": '"1/4 in"', "stand_off": '"1/16 in"', "screw": "1/4 in", "inset": '"1/2 in"', "kerf": "0.008",
        "shallow": '"1/16 in"', "wall": '"5/16 in"', "ring": '"4-1/2 in"', "stock": '"4-3/4 in"',
        "narrow": '"1-3/4 in"', "deep": '"2-3/4 in"', "board": '"24 in"', "face": '"3/4 in"', "end": '"4 in"',
        "mate": '"3/4 in"', "saw": '"1/8 in"', "waste": '"5/8 in"',
        "off": "0.002", "tight": "0.001", "loose": "0.006", "tenon_thick": '"3/8 in"', "tenon_is": "0.371",
        "tenon_within": "0.002", "inlay_thick": '"3/8 in"',
        "deepest": "0.197 in (5 mm)", "fit_else": "0.004 in (0.1 mm)", "saw_else": "0.118 in (3 mm)",
        "waste_else": "0.787 in (20 mm)", "off_else": "0.002 in (0.05 mm)", "tight_else": "0.001 in (0.02 mm)",
        "loose_else": "0.006 in (0.15 mm)",
    },
}  # fmt: skip

_TEXT = """\
# A job for jigtemplates: the cut you want, the tools you own, the plate, and what to make.
# Lengths: "9.5 mm", "3/8 in", "1-1/2 in", "2 1/2 in", "0.5 in". A bare number is read in `units`.
# Behind # stand examples; "else": what counts without. To use one take the # away, and a key it replaces out.
# See what comes out:   jigtemplates check {name}
# Make the files:       jigtemplates make {name}

title = {title}  # engraved on the plate and printed on the pattern
units = "{units}"  # how a bare number is read: "mm" or "in"
# notes = "for the oak rails"  # to read again on the set-up sheet

[cut]  # what you want in the work
{cut}
depth = {depth}  # in the work, without the plate
angle = 0  # degrees counter-clockwise in the plate
# x = {middle}  # middle of the cut from the plate's left edge; else the plate's middle
# y = {middle_y}  # the same from its lower edge; else the plate's middle
# mirrored = true  # this cut left for right; else false; cuts that differ: [[cut]] each
{repeat}#   also rows, row_pitch; or ring, start_angle, turned. A pattern followed outside: side = "outside"
# [cuts.shallow]  # several sizes in one file: each such table is a job of its own
# depth = {shallow}  # what it does not say is taken from [cut]

[tools]  # bit and bushing belong together; measure them if you can
{proposed}bit = {bit}  # a diameter, a name (jigtemplates profiles bits), or a table:
# bit = {{ diameter = {bit_is}, shank = "1/4 in", cutting_length = "1-1/4 in", overall_length = "2-1/2 in" }}
bushing = {bushing}  # outside diameter, a name (jigtemplates profiles bushings), or a table:
# bushing = {{ diameter = {{ nominal = {bushing_is}, measured = {measured} }}, bore = {bore}, stem = {stem} }}
clearance = {clearance}  # room for the bushing to slide, where the opening is just as wide
# pass_depth = {pass_depth}  # deepest single pass; else half the bit's diameter, {deepest} at most
# router = "generic mid-size plunge"  # to check reach and support: jigtemplates profiles routers

[plate]
width = {plate}
height = {plate_height}
thickness = {thickness}  # measure it: the plunge setting depends on it
material = "mdf"  # see: jigtemplates profiles sheets
{holder}# corner_radius = {corner}  # of the plate itself; else 0
# stand_off = {stand_off}  # gap between the plate's underside and the work; else 0
# wall = {wall}  # smallest wall you accept between opening, holes and edge; else the sheet's
# label = false  # whether a label is engraved; else true
# rebate = false  # true: rebated to lie flush in a holder's shallower recess; else it is not
# turn = {turn}  # steps in degrees in which the plate may be put back turned; else it is not
screws = {{ pattern = "corners", size = "{screw}", inset = {inset} }}
#   pattern: "corners", "edges", "ring" (and start_angle) or "points" (points = [[20, 30], [120, 30]])
#   hole: "countersunk" or "tapped", else "clearance"; fit: "fine" or "coarse", else "medium"
{ring_screws}
# [work]  # the stock, for fence, stops and proportions
# thickness = {stock}  # across the cut's width
# height = {deep}  # in the direction of the cut's depth (a rail's or a door's width)
# length = {board}  # along the cut
{from_face}{tenon}{inlay}
# [fit]  # for the budget of errors on the set-up sheet
# off_centre = {off}  # how far the bushing may sit off the bit's axis; else {off_else}
# turned = false  # the router's handle stays in one direction while a cut is made; else true
{tenon_there}# too_tight = {tight}  # a tenon with less clearance is; else {tight_else}
# too_loose = {loose}  # a tenon with more clearance is; else {loose_else}

[make]
for = ["laser", "cnc", "paper"]  # and "print": a mesh for a 3D printer
# papers = ["a4"]  # see: jigtemplates profiles papers; else ["a4", "letter"]
# kerf = {kerf}  # full width the laser's beam removes; measure yours; else the profile's
# dxf = {{ version = "R12", units = "{units}", arcs = "pieces" }}  # else "R2000", "mm", "bulges"; also "facets"
# print = {{ label = "none" }}  # else "sunk"; and allowance, opening_allowance, label_depth, chord, formats
# printed_bar = {{ across = "99.6 mm", up = "100.1 mm" }}  # what its bars measure; else 100 mm each
# mirrored = true  # everything mirrored on purpose; else false
# pair = "left"  # the mirror image too, and this plate for that hand; else this plate alone
"""

#: What goes with the plate and the tools of every cut but a drawn one.
_USUAL: Mapping[str, str] = {
    "proposed": "",
    "turn": "90",
    "bit": '"3/8 in"',
    "bit_is": '"3/8 in"',
    "bushing": '"5/8 in"',
    "bushing_is": '"5/8 in"',
    "measured": '"15.84 mm"',
    "bore": '"17/32 in"',
}

#: Lines that a drawn cut goes without, or has on certain plates only.
REPEAT = (
    "# repeat = {{ count = 2, pitch = {pitch}, direction = 90 }}  # the same cut several times; direction: else 0\n"
)
HOLDER = '# holder = "bench-frame-140"  # gives width, height and screws instead: jigtemplates profiles holders\n'
RING = '# screws = {{ pattern = "ring", size = "{screw}", fit = "fine", count = 6, diameter = {ring} }}\n'

#: For a cut within the work, and for one that is open to its edge, which lies where that is.
_FROM_FACE = """\
# from_face = {face}  # from the reference face to the middle of the cut; else half the thickness
# from_end = {end}  # from the stock's end to the middle of the cut
"""
_FROM_END = "# from_end = {end}  # from the stock's end to the cut's middle (a gain needs no from_face)\n"

#: Only for a cut that is a mortise.
_TENON = """
# [tenon]  # loose tenons, and the strips they are sawn from
# joints = 4  # one tenon each
# fit = {clearance}  # how much thinner than the mortise is wide; else {fit_else}
# glue_room = {stand_off}  # how much deeper each mortise is than the tenon reaches; else 1/16 in
# mate_depth = {mate}  # of the other mortise; else the same depth
# edge = "{edge}"  # "round" or "square"; else "{edge_else}"
# kerf = {saw}  # what the saw removes at each cut; else {saw_else}
# waste = {waste}  # lost at each end of a strip; else {waste_else}
# strip = {board}  # longest strip you can saw; else as long as it takes
"""

#: Only for a cut that is closed all round.
_INLAY = """
# [inlay]  # a plug that fills the cut; which tools fit: jigtemplates inlay --help
# plug_bushing = "3/8 in"  # fits with bit 1/8 in and bushing 5/8 in for the cut
# plug_bit = "1/8 in"  # else the bit of [tools]
# glue_line = {off}  # gap wanted between recess and plug, a side; else 0
# plug_thickness = {inlay_thick}  # of the stock for the plug; else as deep as the cut
"""

#: The same, of the tenon there is.
_TENON_THERE = """\
# tenon = {{ nominal = {tenon_thick}, measured = {tenon_is}, within = {tenon_within} }}  # its thickness; else [tenon]'s
"""

_CUTS = {
    "slot": """\
shape = "slot"  # round ends; all shapes: jigtemplates new --help
width = {width}
length = {length}  # overall, ends included""",
    "round": """\
shape = "round"  # all shapes: jigtemplates new --help
diameter = {diameter}""",
    "rectangle": """\
shape = "rectangle"  # all shapes: jigtemplates new --help
width = {wide}
length = {length}
corner_radius = {radius}  # a bit leaves at least its own radius; or four, corner_radii = [..]""",
    "ellipse": """\
shape = "ellipse"  # arcs within 0.005 mm of the true one
width = {wide}
length = {length}""",
    "polygon": """\
shape = "polygon"  # regular, a side at the bottom
sides = 6
across = {wide}  # over the flats: the circle that touches every side
corner_radius = {radius}  # a bit leaves at least its own radius""",
    "butterfly": """\
shape = "butterfly"  # a key that holds two boards together
width = {wide}  # at both ends
length = {long}  # across the joint of the boards
waist = {waist}  # in the middle
corner_radius = {radius}  # of the four corners; a bit leaves at least its own radius""",
    "hand-hold": """\
shape = "hand-hold"  # a slot to put a hand through
width = {wide}  # at both round ends
length = {hand}  # overall, ends included
rise = {rise}  # how much further the upper side reaches in the middle""",
    "arc-slot": """\
shape = "arc-slot"  # round ends; its arc's centre is straight below the middle
width = {width}  # across the slot
radius = {bend}  # of the slot's centre line
span = 60  # degrees between the centres of its ends""",
    "hinge": """\
shape = "hinge"  # open to the edge of the work, which lies below it
width = {back}  # from the edge of the work to the back of the gain
length = {leaf}  # of the leaf, along the edge
corner_radius = {radius}  # of the leaf; 0: square, and chiselled""",
}

#: Every shape there is a starter for.
SHAPES = tuple(_CUTS)

_TITLES = {
    "slot": "My first mortise",
    "round": "My first recess",
    "rectangle": "My first inlay",
    "ellipse": "My first oval",
    "polygon": "My first hexagon",
    "butterfly": "My first key",
    "hand-hold": "My first hand-hold",
    "arc-slot": "My first curved slot",
    "hinge": "My first hinge",
}

#: Which of the sizes the depth is, where it is not that of a recess.
_DEPTHS = {"slot": "slot_depth", "hinge": "leaf_thick"}

#: Which of the sizes the stock's thickness is, where the cut is narrow enough for a rail.
_STOCKS = {"slot": "narrow"}
#: The shapes that a loose tenon fits.
_MORTISES = ("slot", "round", "rectangle")

#: Column in which the comments begin, where the line before is not longer.
_COLUMN = 34
_COMMENTED = re.compile(r"(?P<code>.*\S)  (?P<comment>#.*)")


def starter_text(shape: str, units: str, name: str, pair: Mapping[str, str] | None = None) -> str:
    """A commented job file for one of SHAPES, in "mm" or "in"; name is its file's, pair what its tools are filled with.

    Without a pair a common bit and bushing stand in it.
    """
    sizes = {**sizes_in(units), **(pair or {})}
    sizes["stock"] = sizes[_STOCKS.get(shape, "stock")]
    sizes["depth"] = sizes[_DEPTHS.get(shape, "recess_depth")]
    sizes["cut"] = _CUTS[shape].format(**sizes)
    sizes["edge"], sizes["edge_else"] = ("round", "square") if shape == "rectangle" else ("square", "round")
    sizes["title"] = f'"{_TITLES[shape]}"'
    return filled(sizes, units, name, is_mortise=shape in _MORTISES, is_closed=shape != "hinge")


def sizes_in(units: str) -> dict[str, str]:
    """What the text of an ordinary job is filled with, but for `title`, `cut` and `depth`; more may be changed."""
    sizes = {**_SIZES[units], **_USUAL}
    more = {"repeat": REPEAT, "ring_screws": RING, "holder": HOLDER}
    sizes |= {key: line.format(**sizes) for key, line in more.items()}
    return sizes | {"middle_y": sizes["middle"], "plate_height": sizes["plate"]}


def filled(sizes: Mapping[str, str], units: str, name: str, *, is_mortise: bool, is_closed: bool) -> str:
    """The text of a job, its comments in one column; name is its file's."""
    parts = {
        "tenon": _TENON.format(**sizes) if is_mortise else "",
        "inlay": _INLAY.format(**sizes) if is_closed else "",
        "from_face": (_FROM_FACE if is_closed else _FROM_END).format(**sizes),
        "tenon_there": _TENON_THERE.format(**sizes) if is_mortise else "",
    }
    text = _TEXT.format(name=typed(name), units=units, **sizes, **parts)
    return "".join(_aligned(line) + "\n" for line in text.splitlines())


def _aligned(line: str) -> str:
    found = _COMMENTED.fullmatch(line)
    return f"{found['code']:<{_COLUMN - 2}}  {found['comment']}" if found else line
