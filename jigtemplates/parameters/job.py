"""The resolved job: what the rest of the program works with.

Every length here is in mm and every name has become what the profiles say of it. A `Length` is kept
where a person wants to see again what was written.
"""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from jigtemplates.lengths import Length, Measured, Unit, sold_as
from jigtemplates.parameters.entries import Holder, Nut, Paper, Router, Screw, Sheet
from jigtemplates.parameters.forms import Form
from jigtemplates.parameters.make_tables import Target

Shape = Literal[
    "slot", "round", "rectangle", "ellipse", "polygon", "butterfly", "hand-hold", "arc-slot", "hinge", "outline"
]
Pattern = Literal["corners", "edges", "ring", "points"]
Hole = Literal["clearance", "countersunk", "tapped"]
Fit = Literal["fine", "medium", "coarse"]


@dataclass(frozen=True, slots=True)
class Repeat:
    """The same cut several times, laid out as the cut lies before it is turned, about the middle of the group."""

    #: in a row, or on the ring
    count: int
    #: from one to the next in a row; None on a ring
    pitch: Length | None = None
    #: of the row, degrees counter-clockwise from the cut's length
    direction: float = 0.0
    rows: int = 1
    #: from one row to the next, to the left of the row's direction; None without several
    row_pitch: Length | None = None
    #: diameter of the circle their middles lie on; None in a row
    ring: Length | None = None
    #: where on the ring the first one is, degrees counter-clockwise
    start_angle: float = 0.0
    #: whether each one on the ring is turned by its step
    turned: bool = True

    @property
    def total(self) -> int:
        """How many cuts there are in all."""
        return self.count * self.rows


@dataclass(frozen=True, slots=True)
class Cut:
    """The recess wanted in the work, seen from above, before it is turned: length along x, width along y."""

    shape: Shape
    #: extent across (along y before turning), mm; of a round, its diameter; of a polygon, the size across it; of
    #: a butterfly key or hand-hold, at the ends; of an arc slot, across the slot; of a hinge gain, from the edge
    width: float
    #: extent along x before turning, ends included, mm; of a round, its diameter; of a polygon, the size across
    #: it; of an arc slot, along its centre line
    length: float
    #: radius of the corners, mm: half the width where the ends are round, else what is wanted (of different ones
    #: the least; of an ellipse that at the ends of its longer axis)
    corner_radius: float
    #: depth in the work, mm
    depth: float
    #: turn in the plate, degrees counter-clockwise
    angle: float
    #: middle of the cut, or of the group of repeated ones, from the plate's left edge, mm
    x: float
    #: the same from the plate's lower edge, mm
    y: float
    #: the width (or diameter, or size across) as it was written
    width_written: Length
    #: the length (or diameter, size across, or radius of an arc slot) as it was written
    length_written: Length
    #: the depth as it was written
    depth_written: Length
    #: what the shape has besides; None for a slot, round, ellipse, or rectangle with equal corners
    form: Form | None = None
    #: the same cut several times; None for one
    repeat: Repeat | None = None
    #: whether it is the mirror image of what its keys say, left for right, before it is turned
    mirrored: bool = False
    #: "inside": a recess. "outside": the piece that stays, cut out round a pattern
    side: Literal["inside", "outside"] = "inside"


@dataclass(frozen=True, slots=True)
class Owned:
    """A tool of the person's own that is sold as the bare size a job gives; the job is not computed with it."""

    #: its name in the profiles
    name: str
    #: a `lengths.Measured` where it was measured
    diameter: Length
    #: the keys besides that are known of it: "shank", "cutting_length"
    known: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bit:
    """A router bit; what is not known is None."""

    #: its name in the profiles or in the job; None when only a diameter was given
    name: str | None
    #: diameter of the cut it makes; a `lengths.Measured` where it was measured
    diameter: Length
    #: diameter of the shank, mm
    shank: float | None
    #: length of the cutting edges along the axis, mm
    cutting_length: float | None
    #: length of the whole bit, mm
    overall_length: float | None
    #: "straight", "up-spiral", "down-spiral" or "compression"
    kind: str | None
    #: whether it cuts across its end
    plunging: bool | None
    #: what the profile or the job notes about it
    note: str | None
    #: where it was read: "job", "shipped" or a profile file
    origin: str
    #: True when the job gave a bare diameter
    typed: bool
    #: the person's own bits that are sold as that bare diameter
    owned: tuple[Owned, ...] = field(default=(), compare=False, metadata={"manifest": False})

    @property
    def label(self) -> str:
        """What to call it: its name, or its diameter as it is sold and was written."""
        return self.name or sold_as(self.diameter).text


@dataclass(frozen=True, slots=True)
class Bushing:
    """A guide bushing; what is not known is None."""

    #: its name in the profiles or in the job; None when only a diameter was given
    name: str | None
    #: outside diameter of the stem; a `lengths.Measured` where it was measured
    diameter: Length
    #: inside diameter, through which the bit passes, mm
    bore: float | None
    #: how far the stem projects below the router's base, mm
    stem: float | None
    #: the nut that fixes it, inside the router
    nut: Nut | None
    #: what the profile or the job notes about it
    note: str | None
    #: where it was read: "job", "shipped" or a profile file
    origin: str
    #: True when the job gave a bare diameter
    typed: bool
    #: the fields ("bore", "stem") taken from profiles of exactly the same diameter
    assumed: tuple[str, ...] = ()
    #: the name of the profile they were taken from
    assumed_from: str | None = None
    #: the person's own bushings that are sold as that bare diameter
    owned: tuple[Owned, ...] = field(default=(), compare=False, metadata={"manifest": False})

    @property
    def label(self) -> str:
        """What to call it: its name, or its diameter as it is sold and was written."""
        return self.name or sold_as(self.diameter).text


@dataclass(frozen=True, slots=True)
class Tools:
    """The set that belongs together."""

    bit: Bit
    bushing: Bushing
    #: running clearance: width of an opening in which the bushing just slides, less its diameter, mm
    clearance: float
    #: deepest single pass the person wants to take, mm; None when it was not said
    pass_depth: float | None
    #: what the profiles say of the router; None when none was named
    router: Router | None


@dataclass(frozen=True, slots=True)
class Screws:
    """The plate's screws: which, how many, where."""

    pattern: Pattern
    #: what the profiles say of it
    screw: Screw
    hole: Hole
    #: how freely the screw passes a clearance hole
    fit: Fit
    #: from the plate's edges to a hole's centre, mm; corners and edges only
    inset: float | None
    #: ring: number of holes; else None (corners and edges have one each)
    count: int | None
    #: ring: diameter of the circle of holes about the plate's middle, mm
    diameter: float | None
    #: ring: where the first hole is, degrees counter-clockwise from the right
    start_angle: float
    #: points: centres from the plate's lower-left corner, mm
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Plate:
    """The blank the opening is in; its lower-left corner is at (0, 0)."""

    #: along x, mm
    width: float
    #: along y, mm
    height: float
    #: mm
    thickness: float
    #: of the plate's own corners, mm
    corner_radius: float
    #: gap between the plate's underside and the work, mm; 0: it lies on the work
    stand_off: float
    material: Sheet | None
    #: smallest wall the person accepts between opening, holes and edge, mm; None when it was not said
    wall: float | None
    #: whether a label is engraved
    label: bool
    holder: Holder | None
    screws: Screws | None
    #: whether its underside is rebated to the depth of the holder's recess; None where nothing was said
    rebate: bool | None = None
    #: steps in which it may be put back turned, degrees; None where it may not
    turn: float | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """The stock the cut goes into."""

    #: across the cut's width, mm
    thickness: float
    #: in the direction of the cut's depth, mm; None when it was not said
    height: float | None
    #: along the cut, mm; None when it was not said
    length: float | None
    #: from the reference face to the middle of the cut, mm
    from_face: float
    #: from the stock's end to the middle of the cut, mm; None when it was not said
    from_end: float | None


@dataclass(frozen=True, slots=True)
class TenonChoice:
    """Loose tenons for the cut, and the strips they are sawn from."""

    #: tenons in all: one for each joint, or for each mortise of a joint whose cut is repeated
    joints: int
    #: width of the mortise less thickness of the tenon, mm
    fit: float
    #: depth of a mortise less what the tenon reaches into it, mm
    glue_room: float
    #: depth of the other mortise, mm
    mate_depth: float
    edge: Literal["round", "square"]
    #: what the saw removes at each cut, mm
    kerf: float
    #: lost at each end of a strip, mm
    waste: float
    #: longest strip, mm; None when it was not said
    strip: float | None
    #: the key that says so: "tenon", or "cut.tenon" in the table of its cut
    key: str = field(default="tenon", compare=False, metadata={"manifest": False})


@dataclass(frozen=True, slots=True)
class InlayChoice:
    """The plug that fills the cut, made with the same template."""

    bit: Bit
    bushing: Bushing
    #: gap wanted between recess and plug, a side
    glue_line: Length
    #: of the stock the plug is made of, mm
    thickness: float


@dataclass(frozen=True, slots=True)
class DxfChoice:
    """How DXF files are written."""

    version: Literal["R2000", "R12"]
    #: unit of the coordinates
    unit: Unit
    #: arcs as bulges of a polyline, as separate lines and arcs, or as straight facets
    arcs: Literal["bulges", "pieces", "facets"]
    #: how far a facet may be from its arc, mm
    chord: float


@dataclass(frozen=True, slots=True)
class PrintChoice:
    """How a printed template is made."""

    #: how much wider than drawn screw holes are made, mm
    allowance: float
    #: how much wider than drawn openings are made, mm
    opening_allowance: float
    #: how far a facet may be from its arc, mm
    chord: float
    label: Literal["sunk", "raised", "none"]
    #: depth of sunk letters and marks, height of raised letters, mm
    label_depth: float
    formats: tuple[Literal["3mf", "stl"], ...]


@dataclass(frozen=True, slots=True)
class Make:
    """What to make."""

    targets: tuple[Target, ...]
    #: full width the laser's beam removes, mm
    kerf: float
    dxf: DxfChoice
    papers: tuple[Paper, ...]
    #: factors (across, up) that undo one printer's error; (1, 1) when nothing was measured
    correction: tuple[float, float]
    #: what the 100 mm bars measured (across, up), as written; None when nothing was measured
    printed_bar: tuple[Length, Length] | None
    #: None where nothing is printed in 3D
    printing: PrintChoice | None
    #: whether everything is mirrored on purpose
    mirrored: bool
    #: the hand that the plate is for where it is not mirrored; its mirror image is made too. None: no pair
    pair: Literal["left", "right"] | None = None

    @property
    def hand(self) -> str | None:
        """The hand that the plate is for, "left" or "right"; None without a pair."""
        if self.pair is None or not self.mirrored:
            return self.pair
        return "left" if self.pair == "right" else "right"


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value that was not given but taken from elsewhere."""

    #: the key that would say it, "tools.clearance"; the table where several keys would
    where: str
    #: what was taken, as a sentence without its stop
    text: str


@dataclass(frozen=True, slots=True)
class Edge:
    """How well a process makes the edge of an opening."""

    #: the process, as make.for names it
    target: Target
    #: how far the edge may lie from where it is drawn, either way, mm; None where its profile does not say
    within: float | None


@dataclass(frozen=True, slots=True)
class FitChoice:
    """What the budget of errors is computed with, and which fit of a tenon is good."""

    #: how far the bushing may sit off the bit's axis, mm
    off_centre: float = 0.05
    #: whether the router may be turned while a cut is made
    turned: bool = True
    #: clearance, mm, below which a tenon is too tight and above which it is too loose
    limits: tuple[float, float] = (0.02, 0.15)
    #: thickness of the tenon there is; None: that of the tenons the job asks for
    tenon: Length | None = None
    #: of each process the template is made with
    edges: tuple[Edge, ...] = ()
    #: how far the kerf may be from the one that was measured, either way, mm; None where none was
    kerf_within: float | None = None
    #: the keys of [fit] that were not set
    taken: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Correction:
    """A dated measurement that the job is computed with."""

    #: the key of the job it concerns: "tools.bit", "tools.bushing", "make.kerf", "make.printed_bar"
    where: str
    #: what is in force, as a sentence without its stop
    text: str
    #: the day it was measured, "2026-11-25"
    on: str


@dataclass(frozen=True, slots=True)
class MeasuredUse:
    """A measured size that the job is computed with."""

    #: its key: "tools.bushing.bore", "plate.thickness"; of what a profile says, at the key that names it
    where: str
    size: Measured


@dataclass(frozen=True, slots=True)
class Job:
    """One template to make."""

    title: str
    #: the folder and start of every file made: the job file's name without its ending, and -NAME in a family
    stem: str
    #: name of the job file without its ending
    file_stem: str
    #: name of the size in a file that holds several; None in any other
    member: str | None
    #: the job file; None when the job came as text
    source: Path | None
    #: unit of bare numbers in the job; None when it names none
    units: Unit | None
    notes: str | None
    #: the cut; of several in one template the first
    cut: Cut
    tools: Tools
    plate: Plate
    work: Work | None
    #: for the first cut
    tenon: TenonChoice | None
    make: Make
    #: the values that were not given but taken from elsewhere
    assumptions: tuple[Assumption, ...]
    #: the other cuts of the same template, in the order of the file
    more_cuts: tuple[Cut, ...] = ()
    #: the tenons of each of those, None for a cut without; nothing at all where none of them has any
    more_tenons: tuple[TenonChoice | None, ...] = ()
    #: the dated measurements it is computed with
    corrections: tuple[Correction, ...] = ()
    #: the sizes that were measured
    measured: tuple[MeasuredUse, ...] = ()
    #: what is known of errors and fit
    fit: FitChoice = FitChoice()
    #: the plug that fills the cuts; None where they are no inlay
    inlay: InlayChoice | None = None

    def measured_at(self, where: str) -> Measured | None:
        """The measured size at a key; None where that was not measured."""
        return next((use.size for use in self.measured if use.where == where), None)

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """Every cut that differs from the others: in shape, size, place or angle."""
        return (self.cut, *self.more_cuts)
