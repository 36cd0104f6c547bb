"""The `repeat` key of a cut: the same cut several times in one template, in rows or on a ring."""

from typing import Any

from pydantic import Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.parameters.fields import Angle, Count, CutSize, Flag, Strict, own_fault

#: Most cuts of one repeat, rows and all (chosen: more than one template can be followed through with care).
MOST_REPEATS = 100

#: Which keys stand only beside which; a repeat is a row (pitch) or a ring.
_ONLY_WITH = {"direction": "pitch", "rows": "pitch", "row_pitch": "pitch", "start_angle": "ring", "turned": "ring"}


class RepeatTable(Strict):
    """The same cut several times: in a row, in several rows, or on a ring.

    All of it is laid out as the cut lies before it is turned by `angle`, about the place that x and y give: they are
    the middle of the whole group.
    """

    count: Count = Field(description="How many: in the row, or on the ring.")
    pitch: CutSize | None = Field(default=None, description="From the middle of one cut to that of the next in a row.")
    ring: CutSize | None = Field(
        default=None, validate_default=True, description="Diameter of the circle their middles lie on."
    )
    direction: Angle | None = Field(
        default=None,
        description="Of the row, degrees counter-clockwise from the cut's length: 0 end to end, 90 side by side; 0 if "
        "left out.",
    )
    rows: Count | None = Field(default=None, description="How many such rows, one beside the other; 1 if left out.")
    row_pitch: CutSize | None = Field(default=None, validate_default=True, description="From one row to the next.")
    start_angle: Angle | None = Field(
        default=None, description="Where on the ring the first one is, degrees counter-clockwise; 0 if left out."
    )
    turned: Flag | None = Field(
        default=None, description="Whether each one on the ring is turned by its step; true if left out."
    )

    @field_validator("count", "rows")
    @classmethod
    def _is_a_number_of_cuts(cls, count: int | None, info: ValidationInfo) -> int | None:
        least = 2 if info.field_name == "count" else 1
        if count is not None and not least <= count <= MOST_REPEATS:
            raise own_fault(f"{quoted(count)} is not a number of cuts to repeat (write {least} to {MOST_REPEATS})")
        if info.field_name == "rows" and count is not None and count * info.data.get("count", 1) > MOST_REPEATS:
            raise own_fault(f"{quoted(count)} rows make more than {MOST_REPEATS} cuts (write fewer)")
        return count

    @field_validator("ring")
    @classmethod
    def _is_row_or_ring(cls, ring: Any, info: ValidationInfo) -> Any:
        if "pitch" not in info.data:  # which is faulty, and says so
            return ring
        if ring is None and info.data["pitch"] is None:
            raise own_fault("is missing (the diameter of a ring, or pitch for a row)")
        if ring is not None and info.data["pitch"] is not None:
            raise own_fault("stands beside pitch (keep one of the two: ring, or pitch for a row)")
        return ring

    @field_validator("direction", "rows", "row_pitch", "start_angle", "turned")
    @classmethod
    def _belongs_to_it(cls, value: Any, info: ValidationInfo) -> Any:
        kind = _ONLY_WITH[str(info.field_name)]
        other = "ring" if kind == "pitch" else "pitch"
        if value is not None and info.data.get(other) is not None:
            raise own_fault(f"does not go with {other} (leave it out)")
        if info.field_name == "row_pitch" and info.data.get("rows", 1) is not None:
            several = (info.data.get("rows") or 1) > 1
            if several and value is None and info.data.get("pitch") is not None:
                raise own_fault("is missing (from one row to the next)")
        return value
