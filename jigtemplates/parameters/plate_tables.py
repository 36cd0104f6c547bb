"""The [plate] table: the blank the opening is in, its screws, and the holder that takes it."""

from typing import Annotated, Any

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length, mm_text
from jigtemplates.parameters.cut_tables import radius_within
from jigtemplates.parameters.entries import Holder
from jigtemplates.parameters.fields import Angle, Flag, Gap, Size, Strict, no_less_than, own_fault
from jigtemplates.parameters.lookup import entry, named
from jigtemplates.parameters.measured import MeasuredSize
from jigtemplates.parameters.screw_pattern import ScrewPattern


def is_outside(info: ValidationInfo) -> bool:
    """Whether the job's cut goes round the outside of the work, so that the plate is the pattern."""
    return bool((info.context or {}).get("outside"))


def _not_outside(value: object, advice: str) -> None:
    """Refuse a value that outside work has no place for."""
    if value is not None:
        raise own_fault(f'does not go with cut.side = "outside" ({advice})')


class ScrewsTable(ScrewPattern):
    """Screws named in a job: the size must be in the profiles, with the hole that is asked for."""

    @field_validator("size")
    @classmethod
    def _is_known(cls, size: str, info: ValidationInfo) -> str:
        entry("screws", size, info)
        return size

    @field_validator("hole")
    @classmethod
    def _has_that_hole(cls, hole: str, info: ValidationInfo) -> str:
        if "size" in info.data:
            _require_hole(info.data["size"], hole, info)
        return hole


def _require_hole(size: str, hole: str, info: ValidationInfo) -> None:
    """Refuse a countersunk or tapped hole for a screw whose profile does not state it."""
    screw = entry("screws", size, info).entry
    key = {"countersunk": "head", "tapped": "tapping"}.get(hole)
    if key is not None and getattr(screw, key) is None:
        raise own_fault(f"the profile of screw {quoted(size)} has no {key} (add it there, or use another hole)")


#: A side of a plate (chosen: no opening has room in a smaller one). The thickness may be a foil's.
PlateSide = Annotated[Size, no_less_than("1")]


class PlateTable(Strict):
    """The plate. A holder brings size, stand-off and screws; keys that stand here win over it."""

    holder: Annotated[Any, *named("holders")] | None = Field(
        default=None, description="Name of the holder the plate must fit."
    )
    width: PlateSide | None = Field(default=None, validate_default=True, description="Size of the plate along x.")
    height: PlateSide | None = Field(default=None, validate_default=True, description="Size of the plate along y.")
    thickness: Annotated[MeasuredSize, no_less_than("0.1")] = Field(description="Thickness of the plate.")
    corner_radius: Gap | None = Field(
        default=None, description="Radius of the plate's own corners; else that of the holder's recess, or 0."
    )
    material: Annotated[Any, *named("sheets")] | None = Field(
        default=None, description="Name of the sheet material, such as mdf."
    )
    stand_off: Gap | None = Field(
        default=None,
        description="Gap between the plate's underside and the work; else the holder's, or 0.",
    )
    screws: ScrewsTable | None = Field(default=None, description="How the plate is screwed down.")
    label: Flag = Field(default=True, description="Whether a label is engraved.")
    wall: Size | None = Field(default=None, description="Smallest wall you accept between opening, holes and edge.")
    rebate: Flag | None = Field(
        default=None,
        description="Whether a plate thicker than the holder's recess is rebated round its underside to lie flush.",
    )
    turn: Angle | None = Field(
        default=None, description="Steps in degrees in which the plate may be put back turned, such as 90."
    )

    @field_validator("holder")
    @classmethod
    def _holds_a_plate(cls, holder: Any, info: ValidationInfo) -> Any:
        if is_outside(info):
            _not_outside(holder, "leave it out: a pattern lies on the work")
        return holder

    @field_validator("holder")
    @classmethod
    def _holds_with_known_screws(cls, holder: Any, info: ValidationInfo) -> Any:
        screws = holder.entry.screws
        if screws is not None:
            _require_hole(screws.size, screws.hole, info)
        return holder

    @field_validator("width", "height")
    @classmethod
    def _is_given_or_held(cls, size: Length | None, info: ValidationInfo) -> Length | None:
        if is_outside(info):
            _not_outside(size, "leave it out: a pattern has the size of the work less the offset")
            return None
        side_is_known = (info.context or {}).get("outside", False) is not None
        if size is None and side_is_known and "holder" in info.data and info.data["holder"] is None:
            raise own_fault(f'is missing (the {info.field_name} of the plate, or holder = "NAME" instead)')
        return size

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_plate(cls, radius: Length | None, info: ValidationInfo) -> Length | None:
        if is_outside(info):
            _not_outside(radius, "leave it out: a pattern has the corners of the work")
        if radius is None or is_outside(info):
            return None
        holder = _holder(info)
        return radius_within(radius, *(plate_side(info.data.get(s), holder, s) for s in ("width", "height")))

    @field_validator("rebate")
    @classmethod
    def _can_be_rebated(cls, rebate: bool | None, info: ValidationInfo) -> bool | None:
        if rebate and "holder" in info.data and "thickness" in info.data:
            from jigtemplates.rebate import refuse_rebate

            given = info.data.get("stand_off")
            refuse_rebate(_holder(info), info.data["thickness"], is_stand_off_given=given is not None)
        return rebate

    @field_validator("turn")
    @classmethod
    def _comes_round(cls, turn: float | None, info: ValidationInfo) -> float | None:
        if is_outside(info):
            _not_outside(turn, "leave it out: a pattern lies on the work")
        if turn is not None and not comes_round(turn):
            raise own_fault(
                f"{turn:g} is not a step that comes round (write 180, 90, or 360 by the number of places, 2 to "
                f"{MOST_PLACES}; no minus)"
            )
        return turn


#: Places a plate can be turned to (chosen: more than the holes of any ring), and how nearly a step in decimals must
#: come round after a whole turn, in steps (chosen: 51.43 degrees for a seventh do).
MOST_PLACES, NEARLY = 64, 0.001


def comes_round(turn: float) -> bool:
    """Whether a step in degrees goes into a whole turn a whole number of times, at least twice."""
    return turn > 0 and 2 <= round(360 / turn) <= MOST_PLACES and abs(360 / turn - round(360 / turn)) <= NEARLY


def _holder(info: ValidationInfo) -> Holder | None:
    found = info.data.get("holder")
    return None if found is None else found.entry


def plate_corner(own: Length | None, holder: Holder | None, width: Length, height: Length) -> float:
    """Radius of the plate's corners, mm: its own, or that of the holder's recess (at most half a side), or 0."""
    if own is not None:
        return own.mm
    if holder is None or holder.corner_radius is None:
        return 0.0
    return min(holder.corner_radius.mm, width.mm / 2, height.mm / 2)


def plate_side(own: Length | None, holder: Holder | None, side: str) -> Length | None:
    """A side of the plate, "width" or "height": its own, or the holder's recess less the play."""
    if own is not None or holder is None:
        return own
    exact = getattr(holder, side).exact - holder.play.exact
    return Length(exact, mm_text(float(exact), 4))
