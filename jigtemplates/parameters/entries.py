"""What a profile may hold: one model for each kind of entry.

An entry says one thing about one tool, material or machine. A size that is not known is left out,
so that a check can say "not known" instead of working with a guess.
"""

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import ZERO, Angle, Flag, Gap, Name, Note, Size, Strict, own_fault
from jigtemplates.parameters.limits import at_least, smaller_than
from jigtemplates.parameters.measured import Diameter, MeasuredSize
from jigtemplates.parameters.process_entries import Paper, Process, RolePen, Roles
from jigtemplates.parameters.router_entries import RectangleBase, RoundBase, Router
from jigtemplates.parameters.screw_pattern import ScrewPattern

__all__ = [
    "Bit",
    "Bushing",
    "Clearance",
    "Entry",
    "Holder",
    "Kerf",
    "Nut",
    "Paper",
    "Process",
    "RectangleBase",
    "RolePen",
    "Roles",
    "RoundBase",
    "Router",
    "Screw",
    "ScrewPattern",
    "Sheet",
    "Window",
]

#: Whole angles of countersunk heads, degrees: standards use 82 to 100, the limits are chosen.
FLATTEST, STEEPEST = 120, 60

#: Widest bit, mm (chosen: the published speeds end at 3-1/2 in, and no hand-held router turns a wider one safely).
WIDEST_BIT = 100


class Bit(Strict):
    """A router bit."""

    name: Name | None = Field(None, description="What the bit is called on labels and sheets.")
    diameter: Diameter = Field(description="Diameter of the cutter, measured where possible.")
    shank: MeasuredSize | None = Field(None, description="Diameter of the shank.")
    cutting_length: MeasuredSize | None = Field(None, description="Length of the cutting edges along the axis.")
    overall_length: MeasuredSize | None = Field(None, description="Length of the whole bit, shank included.")
    kind: Literal["straight", "up-spiral", "down-spiral", "compression"] | None = Field(
        None, description="How the cutting edges run."
    )
    plunging: Flag | None = Field(None, description="Whether it cuts across its end and so can plunge.")
    note: Note | None = Field(None, description="Anything worth remembering about it.")

    @field_validator("diameter")
    @classmethod
    def _is_no_wider_than_a_bit(cls, diameter: Length) -> Length:
        if diameter.mm > WIDEST_BIT:
            raise own_fault(f"{quoted(diameter.text)} is too wide for a router bit (at most {WIDEST_BIT} mm)")
        return diameter

    @field_validator("overall_length")
    @classmethod
    def _holds_its_edges(cls, length: Length | None, info: ValidationInfo) -> Length | None:
        at_least(length, info, "cutting_length", "cutting length")
        return length


class Nut(Strict):
    """The nut that fixes a guide bushing in the base, inside the router."""

    diameter: MeasuredSize = Field(description="Outside diameter of the nut.")
    height: MeasuredSize = Field(description="How far the nut rises above the face of the base.")


class Bushing(Strict):
    """A guide bushing."""

    name: Name | None = Field(None, description="What the bushing is called on labels and sheets.")
    diameter: Diameter = Field(description="Outside diameter of the stem, which follows the template.")
    bore: MeasuredSize | None = Field(None, description="Inside diameter, through which the bit passes.")
    stem: MeasuredSize | None = Field(None, description="How far the stem projects below the router's base.")
    nut: Nut | None = Field(None, description="The nut that fixes it, inside the router.")
    note: Note | None = Field(None, description="Anything worth remembering about it.")

    @field_validator("bore")
    @classmethod
    def _fits_inside(cls, bore: Length | None, info: ValidationInfo) -> Length | None:
        smaller_than(bore, info, "diameter", "outside diameter")
        return bore

    @field_validator("nut")
    @classmethod
    def _goes_round_the_bore(cls, nut: Nut | None, info: ValidationInfo) -> Nut | None:
        if nut is not None:
            at_least(nut.diameter, info, "bore", "bore")
        return nut


class Kerf(Strict):
    """What a process typically removes from a sheet of one thickness."""

    thickness: Size = Field(description="Thickness of the sheet.")
    width: Size = Field(description="Full width removed; typical, never applied by itself.")


class Sheet(Strict):
    """A sheet material for plates."""

    name: Name = Field(description="What a job calls the material.")
    thickness: Annotated[tuple[Size, ...], Field(min_length=1)] = Field(
        description="Thicknesses it is usually sold in, as they are called."
    )
    laser: Flag = Field(description="Whether it may go into a laser at all.")
    grain: Flag = Field(False, description="Whether it has a grain: its plates are then not turned on a sheet.")
    kerf: dict[Name, tuple[Kerf, ...]] = Field(
        default_factory=dict, description="Typical kerf by the name of the process, for information only."
    )
    min_wall: Size = Field(description="Smallest sensible wall between an opening, a hole and the edge.")
    cautions: tuple[Note, ...] = Field((), description="Short sentences for the set-up sheet.")
    note: Note | None = Field(None, description="Anything worth remembering about it.")


class Clearance(Strict):
    """Diameters of the holes a screw passes through."""

    fine: Size = Field(description="Close fit.")
    medium: Size = Field(description="Normal fit.")
    coarse: Size = Field(description="Loose fit.")

    @field_validator("medium")
    @classmethod
    def _wider_than_fine(cls, hole: Length, info: ValidationInfo) -> Length:
        at_least(hole, info, "fine", "fine hole")
        return hole

    @field_validator("coarse")
    @classmethod
    def _wider_than_medium(cls, hole: Length, info: ValidationInfo) -> Length:
        at_least(hole, info, "medium", "medium hole")
        return hole


class Screw(Strict):
    """A screw and the holes it needs."""

    name: Name = Field(description="What a job calls the screw.")
    standard: Name | None = Field(None, description="Where its sizes come from, and its thread.")
    diameter: Size = Field(description="Diameter of the thread, or of a wood screw's body.")
    clearance: Clearance = Field(description="Holes it passes through.")
    tapping: Size | None = Field(None, description="Drill for tapping its thread, or pilot hole in wood.")
    head: Size | None = Field(None, description="Diameter of the countersunk head at its sharp edge.")
    head_angle: Angle | None = Field(None, description="Whole angle of the countersunk head, degrees.")
    note: Note | None = Field(None, description="Anything worth remembering about it.")

    @field_validator("clearance")
    @classmethod
    def _passes_through(cls, clearance: Clearance, info: ValidationInfo) -> Clearance:
        at_least(clearance.fine, info, "diameter", "screw's diameter")
        return clearance

    @field_validator("tapping")
    @classmethod
    def _bites(cls, hole: Length | None, info: ValidationInfo) -> Length | None:
        smaller_than(hole, info, "diameter", "screw's diameter")
        return hole

    @field_validator("head")
    @classmethod
    def _does_not_fall_through(cls, head: Length | None, info: ValidationInfo) -> Length | None:
        at_least(head, info, "diameter", "screw's diameter")
        return head

    @field_validator("head_angle")
    @classmethod
    def _is_a_cone(cls, angle: float | None) -> float | None:
        if angle is not None and not STEEPEST <= angle <= FLATTEST:
            raise own_fault(f"{angle:g} is not the angle of a countersink (write 60 to 120; usual: 82, 90)")
        return angle


class Window(Strict):
    """A rectangular hole in a holder."""

    width: Size = Field(description="Along x.")
    height: Size = Field(description="Along y.")
    corner_radius: Gap | None = Field(None, description="Radius of its corners; else that of the recess.")

    @field_validator("corner_radius")
    @classmethod
    def _fits_its_sides(cls, radius: Length | None, info: ValidationInfo) -> Length | None:
        _within_half(radius, info, "window")
        return radius


class Holder(Strict):
    """The part of a jig that takes the plate.

    A recess whose corner radius is half its sides is round, and so are its plates.
    """

    name: Name = Field(description="What a job calls the holder.")
    width: MeasuredSize = Field(description="Width of the recess for the plate.")
    height: MeasuredSize = Field(description="Height of the recess for the plate, seen from above.")
    corner_radius: Gap | None = Field(
        None, description="Radius of the recess's corners, which its plates get too; 0: square."
    )
    play: Gap = Field(
        description="How much smaller than the recess the plate is made, in all: half of it on each side."
    )
    depth: MeasuredSize | None = Field(
        None, description="Depth of the recess: thickness of the upper frame where it is made of layers."
    )
    ledge: MeasuredSize | None = Field(None, description="Width of the rebate the plate rests on.")
    window: Window | None = Field(None, description="The hole under the plate.")
    ledge_thickness: MeasuredSize | None = Field(
        None, description="Thickness of the ledge: of the ledge frame, or of what is left under the pocket."
    )
    frame: MeasuredSize | None = Field(
        None, description="Width of the frame round the recess; it helps to carry the router where it is flush."
    )
    stand_off: Gap = Field(ZERO, description="Gap between the underside of a plate on the ledge and the work.")
    screws: ScrewPattern | None = Field(None, description="How the plate is screwed down.")
    insert: Size | None = Field(
        None, description="Hole in the ledge for a threaded insert; else the plate's screws are tapped into it."
    )
    joining: ScrewPattern | None = Field(
        None, description="How the layers are screwed together, measured from the frame's outer edges; else glued."
    )
    note: Note | None = Field(None, description="Anything worth remembering about it.")

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_sides(cls, radius: Length | None, info: ValidationInfo) -> Length | None:
        _within_half(radius, info, "recess")
        return radius

    @field_validator("play")
    @classmethod
    def _leaves_a_plate(cls, play: Length, info: ValidationInfo) -> Length:
        smaller_than(play, info, "width", "recess's width")
        smaller_than(play, info, "height", "recess's height")
        return play

    @field_validator("window")
    @classmethod
    def _fits_the_recess(cls, window: Window | None, info: ValidationInfo) -> Window | None:
        if window is not None:
            _between_ledges(window.width, info, "width")
            _between_ledges(window.height, info, "height")
            _within_the_corners(window, info)
        return window


def _within_half(radius: Length | None, info: ValidationInfo, words: str) -> None:
    sides = [info.data[side] for side in ("width", "height") if side in info.data]
    if radius is not None and any(2 * radius.exact > side.exact for side in sides):
        raise own_fault(f'"{radius}" is more than half a side of the {words} (write at most half its shorter side)')


def _within_the_corners(window: Window, info: ValidationInfo) -> None:
    """Refuse a window whose corners reach out of a recess with rounder ones."""
    width, height, radius = (info.data.get(key) for key in ("width", "height", "corner_radius"))
    if width is None or height is None or radius is None or window.corner_radius is None:
        return
    from jigtemplates.holders.box import Box

    if not Box(width.mm, height.mm, radius.mm).holds(Box(window.width.mm, window.height.mm, window.corner_radius.mm)):
        raise own_fault(
            f'its corners (corner_radius "{window.corner_radius}") reach out of the recess, whose corners are rounder '
            f'("{radius}"): make the window smaller or its corners rounder'
        )


def _between_ledges(opening: Length, info: ValidationInfo, side: str) -> None:
    recess, ledge = info.data.get(side), info.data.get("ledge") or ZERO
    if recess is not None and opening.exact + 2 * ledge.exact > recess.exact:
        raise own_fault(f'{side} "{opening}" and the ledges exceed the recess, "{recess}" (measure again)')


Entry = Bit | Bushing | Sheet | Screw | Process | Paper | Holder | Router
