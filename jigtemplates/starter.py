"""A job file to begin with: every key explained, in millimetres or inches, and it works as it stands."""

import os
from pathlib import Path

from jigtemplates.errors import InputError, OutputError

#: Sizes for each unit system: width, length, diameter, radius, depth, clearance, plate, thickness, inset,
#: screw. The metric bushing's bore is invented for the example and says so in the file.
_SIZES = {
    "mm": {
        "width": "10", "length": "50", "diameter": "40", "radius": "6", "depth": "28", "clearance": "0.1",
        "plate": "140", "thickness": "6", "inset": "10", "screw": "M5",
    },
    "in": {
        "width": '"3/8 in"', "length": '"2 in"', "diameter": '"1-1/2 in"', "radius": '"1/4 in"', "depth": '"1-1/8 in"',
        "clearance": "0.004", "plate": '"5-1/2 in"', "thickness": '"1/4 in"', "inset": '"3/8 in"', "screw": "1/4 in",
    },
}  # fmt: skip

_TEXT = """\
# A job for jigtemplates: the cut you want, the tools you own, the plate, and what to make.
# Lengths: "9.5 mm", "3/8 in", "1-1/2 in", "2 1/2 in", "0.5 in". A bare number is read in `units`.
# See what comes out:   jigtemplates check {name}
# Make the files:       jigtemplates make {name}

title = "{title}"        # engraved on the plate and printed on the pattern
units = "{units}"                      # how a bare number is read: "mm" or "in"

[cut]                             # what you want in the work
{cut}
depth = {depth}                        # in the work, without the plate
angle = 0                         # degrees counter-clockwise in the plate
# x = 70                          # middle of the cut from the plate's lower-left corner; left out:
# y = 70                          #   the middle of the plate

[tools]                           # bit and bushing belong together; measure them if you can
bit = "3/8 in"                    # a diameter, a name (see: jigtemplates profiles bits), or a table
bushing = "{bushing}"                # outside diameter, a name (jigtemplates profiles bushings), or a table:
# bushing = {{ diameter = "{bushing}", bore = "13/32 in", stem = "5.5 mm" }}
clearance = {clearance}                   # what the bushing has to slide in where the opening is as wide as it
# pass_depth = "3 mm"             # deepest single pass; left out: half the bit, 5 mm at most

[plate]
width = {plate}
height = {plate}
thickness = {thickness}                     # measure it: the plunge depth depends on it
material = "mdf"                  # jigtemplates profiles sheets
# corner_radius = "5 mm"
# stand_off = "2 mm"              # gap between the plate's underside and the work
screws = {{ pattern = "corners", size = "{screw}", inset = {inset} }}
                                  # pattern: "corners", "edges", "ring" or "points"
                                  # hole = "clearance", "countersunk" or "tapped"

[make]
for = ["laser", "cnc", "paper"]
# kerf = "0.15 mm"                # full width the laser's beam removes; measure yours first
# dxf = {{ version = "R2000", units = "mm" }}
# printed_bar = {{ across = "99.6 mm", up = "100.1 mm" }}   # what the 100 mm bars measured on your printer
"""

_CUTS = {
    "slot": """\
shape = "slot"                    # round ends; also "round", "rectangle"
width = {width}
length = {length}                       # overall, ends included""",
    "round": """\
shape = "round"                   # also "slot", "rectangle"
diameter = {diameter}""",
    "rectangle": """\
shape = "rectangle"               # also "slot", "round"
width = {width_wide}
length = {length}
corner_radius = {radius}                 # a bit leaves at least its own radius""",
}

_TITLES = {"slot": "My first mortise", "round": "My first recess", "rectangle": "My first inlay"}

#: A rectangle that the bit can go round in, by unit.
_WIDE = {"mm": "30", "in": '"1-1/4 in"'}


def starter_text(shape: str, units: str, name: str) -> str:
    """A commented job file for a shape ("slot", "round", "rectangle") in "mm" or "in"; name is its file's."""
    sizes = {**_SIZES[units], "width_wide": _WIDE[units]}
    bushing = "1/2 in" if shape == "slot" else "5/8 in"
    cut = _CUTS[shape].format(**sizes)
    return _TEXT.format(name=name, title=_TITLES[shape], units=units, cut=cut, bushing=bushing, **sizes)


def write_starter(path: Path, text: str) -> Path:
    """Write the text to a new file, never over another.

    Raises InputError where the file is there already and OutputError where it cannot be written.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise InputError(f"{path}: is there already and is not overwritten (give another name)") from None
    except (OSError, ValueError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise OutputError(f"{path}: cannot be written ({reason})") from None
    return path
