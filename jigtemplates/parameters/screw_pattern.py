"""How a plate is screwed down: the table a job and a holder share."""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.lengths import Length
from jigtemplates.parameters.fields import Angle, Coordinate, Count, Name, Size, Strict, own_fault

#: Holes in one ring, and points in one list (chosen: more than any plate can use).
MOST_HOLES = 64

#: What each pattern needs besides a size, and what it may have besides.
_NEEDS: dict[str, tuple[str, ...]] = {
    "corners": ("inset",),
    "edges": ("inset",),
    "ring": ("count", "diameter"),
    "points": ("points",),
}
_MAY_HAVE: dict[str, tuple[str, ...]] = {"ring": ("start_angle",)}

Centre = tuple[Length, Length]


def _pair(value: Any) -> Any:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise own_fault(f"{quoted(value)} is not a point (write it as [x, y], such as [10, 20])")
    return value


Spot = Annotated[tuple[Coordinate, Coordinate], BeforeValidator(_pair)]


class ScrewPattern(Strict):
    """Where the plate is screwed down, and with what.

    corners: one hole at each corner, `inset` from both edges. edges: one hole in the middle of each
    edge, `inset` from it. ring: `count` holes on a circle of `diameter` about the plate's middle,
    the first at `start_angle` counter-clockwise from the right. points: a hole at each of `points`,
    measured from the plate's lower-left corner, x right and y up.
    """

    pattern: Literal["corners", "edges", "ring", "points"] = Field(description="How the holes are laid out.")
    size: Name = Field(description="Name of the screw, such as M5.")
    hole: Literal["clearance", "countersunk", "tapped"] = Field("clearance", description="Kind of hole.")
    fit: Literal["fine", "medium", "coarse"] = Field("medium", description="How freely the screw passes.")
    inset: Size | None = Field(None, validate_default=True, description="From the plate's edge to the hole's centre.")
    count: Count | None = Field(None, validate_default=True, description="Number of holes in a ring.")
    diameter: Size | None = Field(None, validate_default=True, description="Diameter of the ring of holes.")
    start_angle: Angle | None = Field(
        None, description="Direction of a ring's first hole, degrees counter-clockwise; 0 if left out."
    )
    points: tuple[Spot, ...] | None = Field(
        None, validate_default=True, description="Centres as [x, y] from the plate's lower-left corner."
    )

    @field_validator("inset", "count", "diameter", "start_angle", "points")
    @classmethod
    def _belongs_to_the_pattern(cls, value: Any, info: ValidationInfo) -> Any:
        pattern, key = info.data.get("pattern"), str(info.field_name)
        if pattern is None:
            return value
        needed = key in _NEEDS[pattern]
        if value is None and needed:
            raise own_fault(f"is missing (the pattern {quoted(pattern)} needs it)")
        if value is not None and not needed and key not in _MAY_HAVE.get(pattern, ()):
            raise own_fault(f"the pattern {quoted(pattern)} has no {key} (leave it out)")
        return value

    @field_validator("count")
    @classmethod
    def _makes_a_ring(cls, count: int | None) -> int | None:
        if count is not None and not 2 <= count <= MOST_HOLES:
            raise own_fault(f"{quoted(count)} is not a number of holes for a ring (write 2 to {MOST_HOLES})")
        return count

    @field_validator("points")
    @classmethod
    def _are_places_apart(cls, points: tuple[Centre, ...] | None) -> tuple[Centre, ...] | None:
        if points is None:
            return points
        if not 1 <= len(points) <= MOST_HOLES:
            raise own_fault(f"has {len(points)} points (write 1 to {MOST_HOLES}, each as [x, y])")
        seen = set()
        for x, y in points:
            if (x.exact, y.exact) in seen:
                raise own_fault(f"the point [{x}, {y}] stands there twice (keep one)")
            seen.add((x.exact, y.exact))
        return points
