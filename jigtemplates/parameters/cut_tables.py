"""The [cut] table: one model for each shape, so that a key of another shape is noticed."""

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.geometry.shapes import ends_apart, largest_key_radius
from jigtemplates.lengths import Length, mm_text
from jigtemplates.parameters.cut_base import CutBase, MortiseBase
from jigtemplates.parameters.fields import ZERO, Count, CutDepth, CutSize, Gap, Span, own_fault
from jigtemplates.parameters.outline_table import OutlineTable

#: Most sides of a polygon (chosen: with more of them it is a circle to the eye, and to a bit).
MOST_SIDES = 24
#: Most that an ellipse's longer axis is of its shorter one (chosen: no bit follows the ends of a slimmer one).
MOST_SLENDER = 100
#: Least rise of a hand-hold, mm (chosen: nobody sees or feels less, and a file's digits still tell the arch from a
#: line on the longest).
LEAST_RISE = Fraction(1, 100)


def no_shorter(length: Length, width: Length | None, what: str, otherwise: str = "") -> Length:
    """Refuse a length below the width, of what is turned instead; an unknown width is passed over."""
    if width is not None and length.exact < width.exact:
        raise own_fault(
            f"{quoted(length.text)} is less than the width {quoted(width.text)} "
            f"(swap them and turn the {what} by angle = 90{otherwise})"
        )
    return length


class SlotTable(MortiseBase):
    """A slot: straight sides and round ends."""

    shape: Literal["slot"] = Field(description="A slot with round ends.")
    width: CutSize = Field(description="Width across the slot.")
    length: CutSize = Field(description="Overall length of the slot, both round ends included.")

    @field_validator("length")
    @classmethod
    def _at_least_as_long_as_wide(cls, length: Length, info: ValidationInfo) -> Length:
        return no_shorter(length, info.data.get("width"), "slot", ', or use shape = "round"')


class RoundTable(MortiseBase):
    """A round hole or recess."""

    shape: Literal["round"] = Field(description="A circle.")
    diameter: CutSize = Field(description="Diameter of the circle.")


class RectangleTable(MortiseBase):
    """A rectangle with round corners."""

    shape: Literal["rectangle"] = Field(description="A rectangle.")
    width: CutSize = Field(description="Extent across, along y before turning.")
    length: CutSize = Field(description="Extent along x before turning.")
    corner_radius: Gap = Field(default=ZERO, description="Radius of the corners wanted in the work.")
    corner_radii: tuple[Gap, ...] | None = Field(
        default=None,
        description="Four radii in place of one: lower left, lower right, upper right, upper left.",
    )

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_sides(cls, radius: Length, info: ValidationInfo) -> Length:
        return radius_within(radius, info.data.get("width"), info.data.get("length"))

    @field_validator("corner_radii")
    @classmethod
    def _fit_their_sides(cls, radii: tuple[Length, ...] | None, info: ValidationInfo) -> tuple[Length, ...] | None:
        if radii is None:
            return None
        if len(radii) != 4:
            raise own_fault(f"has {len(radii)} radii (write four, from the lower left corner counter-clockwise)")
        if info.data.get("corner_radius", ZERO).exact:
            raise own_fault("stands beside corner_radius (keep one of the two)")
        for i, (one, other) in enumerate(zip(radii, (*radii[1:], radii[0]), strict=True)):
            side = info.data.get("width" if i % 2 else "length")
            if side is not None and one.exact + other.exact > side.exact:
                raise own_fault(
                    f"{quoted(one.text)} and {quoted(other.text)} are together more than the side between them, "
                    f"{quoted(side.text)} (write less)"
                )
        return radii


def radius_within(radius: Length, *sides: Length | None) -> Length:
    """Refuse a corner radius of more than half the smaller side; unknown sides are passed over."""
    known = [side for side in sides if side is not None]
    smallest = min(known, key=lambda side: side.exact, default=None)
    if smallest is not None and 2 * radius.exact > smallest.exact:
        raise own_fault(
            f"{quoted(radius.text)} is more than half the smaller side, {quoted(smallest.text)} (write less)"
        )
    return radius


class EllipseTable(CutBase):
    """An ellipse, made of arcs within 0.005 mm of the true one."""

    shape: Literal["ellipse"] = Field(description="An ellipse.")
    width: CutSize = Field(description="Its axis across, along y before turning.")
    length: CutSize = Field(description="Its axis along x before turning.")

    @field_validator("length")
    @classmethod
    def _is_round_enough(cls, length: Length, info: ValidationInfo) -> Length:
        width = info.data.get("width")
        if width is not None and max(length.exact / width.exact, width.exact / length.exact) > MOST_SLENDER:
            raise own_fault(
                f"{quoted(length.text)} and the width {quoted(width.text)} make too slender an ellipse (one at most "
                f'{MOST_SLENDER} times the other, or use shape = "slot")'
            )
        return length


class PolygonTable(CutBase):
    """A regular polygon, one side at the bottom before it is turned."""

    shape: Literal["polygon"] = Field(description="A regular polygon.")
    sides: Count = Field(description="Number of its sides.")
    across: CutSize = Field(description="Size over the flats: the diameter of the circle that touches every side.")
    corner_radius: Gap = Field(default=ZERO, description="Radius of the corners wanted in the work.")

    @field_validator("sides")
    @classmethod
    def _is_a_polygon(cls, sides: int) -> int:
        if not 3 <= sides <= MOST_SIDES:
            raise own_fault(f"{quoted(sides)} is not a number of sides (write 3 to {MOST_SIDES})")
        return sides

    @field_validator("corner_radius")
    @classmethod
    def _leaves_sides(cls, radius: Length, info: ValidationInfo) -> Length:
        across = info.data.get("across")
        if across is not None and 2 * radius.exact > across.exact:
            raise own_fault(
                f"{quoted(radius.text)} is more than half of across, {quoted(across.text)} (write less, or use "
                'shape = "round")'
            )
        return radius


class ButterflyTable(CutBase):
    """A butterfly key, which holds two boards together."""

    shape: Literal["butterfly"] = Field(description="A butterfly key.")
    width: CutSize = Field(description="Width at both ends.")
    length: CutSize = Field(description="Overall length, across the joint of the boards.")
    waist: CutSize = Field(description="Width in the middle, less than at the ends.")
    corner_radius: Gap = Field(default=ZERO, description="Radius of the four corners at the ends.")

    @field_validator("waist")
    @classmethod
    def _is_narrower(cls, waist: Length, info: ValidationInfo) -> Length:
        width = info.data.get("width")
        if width is not None and waist.exact >= width.exact:
            raise own_fault(
                f"{quoted(waist.text)} is not less than the width {quoted(width.text)} (write less, or use "
                'shape = "rectangle")'
            )
        return waist

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_ends(cls, radius: Length, info: ValidationInfo) -> Length:
        sizes = [info.data.get(key) for key in ("length", "width", "waist")]
        if None not in sizes:
            most = largest_key_radius(*(size.mm for size in sizes if size is not None))
            if radius.mm > most:
                raise own_fault(f"{quoted(radius.text)} is too round for the key's ends (at most {_at_most(most)})")
        return radius


class HandHoldTable(CutBase):
    """A hand-hold: a slot, its upper side arched where the fingers lie."""

    shape: Literal["hand-hold"] = Field(description="A slot to put a hand through.")
    width: CutSize = Field(description="Width at both round ends.")
    length: CutSize = Field(description="Overall length, both round ends included.")
    rise: Gap = Field(default=ZERO, description="How much further the upper side reaches in the middle; 0: a slot.")

    @field_validator("length")
    @classmethod
    def _at_least_as_long_as_wide(cls, length: Length, info: ValidationInfo) -> Length:
        return no_shorter(length, info.data.get("width"), "hand-hold")

    @field_validator("rise")
    @classmethod
    def _is_an_arch(cls, rise: Length, info: ValidationInfo) -> Length:
        if 0 < rise.exact < LEAST_RISE:
            least = f"at least {mm_text(float(LEAST_RISE))}, or 0 for a slot"
            raise own_fault(f"{quoted(rise.text)} is too small a rise (write {least})")
        length, width = info.data.get("length"), info.data.get("width")
        if length is not None and width is not None and 2 * rise.exact > length.exact - width.exact:
            most = mm_text(float(length.exact - width.exact) / 2, 3)
            raise own_fault(f"{quoted(rise.text)} is more than half of length less width, {most} (write less)")
        return rise


class ArcSlotTable(CutBase):
    """A slot bent along an arc, its middle up; the centre of the arc is straight below before it is turned."""

    shape: Literal["arc-slot"] = Field(description="A slot along an arc, with round ends.")
    radius: CutSize = Field(description="Radius of the slot's centre line.")
    span: Span = Field(description="Angle between the centres of its round ends, degrees.")
    width: CutSize = Field(description="Width across the slot.")

    @field_validator("width")
    @classmethod
    def _leaves_wood(cls, width: Length, info: ValidationInfo) -> Length:
        radius, span = info.data.get("radius"), info.data.get("span")
        if radius is not None and width.exact >= 2 * radius.exact:
            raise own_fault(
                f"{quoted(width.text)} is not less than twice the radius {quoted(radius.text)} (write less)"
            )
        if radius is not None and span is not None and ends_apart(radius.mm, span, width.mm) <= 0:
            raise own_fault(f"{quoted(width.text)} makes the ends meet (write less, or a smaller span)")
        return width


class HingeTable(CutBase):
    """A gain for a hinge's leaf, open to the edge of the work, which lies below it before it is turned."""

    shape: Literal["hinge"] = Field(description="A gain for a hinge's leaf, open to the edge of the work.")
    width: CutSize = Field(description="From the edge of the work to the back of the gain.")
    length: CutSize = Field(description="Length of the leaf, along the edge of the work.")
    corner_radius: Gap = Field(default=ZERO, description="Radius of the leaf's two corners; 0: square.")
    depth: CutDepth = Field(description="Depth of the gain: the thickness of the leaf.")

    @field_validator("side")
    @classmethod
    def _is_cut_from_inside(cls, side: str) -> str:
        if side == "outside":
            raise own_fault('a hinge gain is open to the edge of the work (use shape = "rectangle" for a pattern)')
        return side

    @field_validator("corner_radius")
    @classmethod
    def _fits_the_leaf(cls, radius: Length, info: ValidationInfo) -> Length:
        length, width = info.data.get("length"), info.data.get("width")
        if width is not None and radius.exact > width.exact:
            raise own_fault(f"{quoted(radius.text)} is more than the width {quoted(width.text)} (write less)")
        if length is not None and 2 * radius.exact > length.exact:
            raise own_fault(f"{quoted(radius.text)} is more than half the length {quoted(length.text)} (write less)")
        return radius


def _at_most(mm: float) -> str:
    """A limit rounded down, so that what is written is allowed."""
    return mm_text(int(mm * 100) / 100)


AnyCut = (
    SlotTable
    | RoundTable
    | RectangleTable
    | EllipseTable
    | PolygonTable
    | ButterflyTable
    | HandHoldTable
    | ArcSlotTable
    | HingeTable
    | OutlineTable
)

CutTable = Annotated[AnyCut, Field(discriminator="shape")]
