"""What is said of a holder's parts: facts for terminal and paper, and the object that `--json` prints."""

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from jigtemplates.facts import size_text
from jigtemplates.holders.box import Box
from jigtemplates.holders.parts import Bore, Part, Parts
from jigtemplates.holders.walls import own_text
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.parameters.entries import Holder
from jigtemplates.report import DECIMALS

if TYPE_CHECKING:
    from jigtemplates.holders.making import HolderReport

Facts = tuple[tuple[str, str], ...]


def part_facts(part: Part, parts: Parts) -> Facts:
    """Label and value of all that is needed to make a part."""
    holder = parts.holder
    hollow = [("recess", part.through)] if part.key == "upper" else [("window", part.through)]
    if part.pocket is not None:
        hollow.insert(0, (f"pocket, {own_text(part.pocket_depth, holder)} deep", part.pocket))
    return (
        ("make", f"{part.quantity}, {own_text(part.thickness, holder)} thick"),
        ("outside", _box_text(part.outside, holder)),
        *((label, _box_text(box, holder)) for label, box in hollow),
        *(("holes", words) for words in _bores(part, holder)),
        ("plate that fits", _box_text(parts.plate, holder)),
    )


def _box_text(box: Box, holder: Holder) -> str:
    if box.is_round:
        return f"dia {own_text(box.width, holder)}"
    corners = f", corners r {own_text(box.radius, holder)}" if box.radius else ", square corners"
    if holder.width.is_inch:
        inches = f"{inch_short(box.width).removesuffix(' in')} x {inch_short(box.height)}"
        return f"{inches} ({mm_text(box.width).removesuffix(' mm')} x {mm_text(box.height)}){corners}"
    return f"{size_text(box.width, box.height)}{corners}"


def _bores(part: Part, holder: Holder) -> Iterator[str]:
    """Holes of one kind in one line: "4 x 5.5 mm, countersunk for M5 to 11.2 mm"."""
    for (diameter, head, use), count in Counter((b.hole.diameter, b.hole.head, b.use) for b in part.bores).items():
        sunk = f" to {own_text(head, holder)}" if head else ""
        yield f"{count} x {own_text(diameter, holder)}, {use}{sunk}"


def as_json(report: "HolderReport") -> dict[str, Any]:
    """Lengths in mm as numbers; bores from a part's lower-left corner."""
    return {
        "holder": report.holder.name,
        "plate": {**_box(report.parts.plate), "thickness": _round(report.parts.upper.thickness)},
        "parts": [_part(part) for part in report.parts],
        "findings": [
            {"level": one.level.value, "code": one.code, "where": one.where, "message": one.message}
            for one in report.findings
        ],
        "files": [file.path for file in report.files],
    }


def _part(part: Part) -> dict[str, Any]:
    return {
        "part": part.key,
        "name": part.name,
        "quantity": part.quantity,
        "thickness": _round(part.thickness),
        "outside": _box(part.outside),
        "through": _box(part.through),
        "pocket": None if part.pocket is None else {**_box(part.pocket), "depth": _round(part.pocket_depth)},
        "smallest_inside_radius": _round(part.smallest_inside_radius),
        "bores": [_bore(bore) for bore in part.bores],
    }


def _box(box: Box) -> dict[str, float]:
    return {"width": _round(box.width), "height": _round(box.height), "corner_radius": _round(box.radius)}


def _bore(bore: Bore) -> dict[str, Any]:
    hole = bore.hole
    return {
        "x": _round(hole.center.x),
        "y": _round(hole.center.y),
        "diameter": _round(hole.diameter),
        "head": None if hole.head is None else _round(hole.head),
        "use": bore.use,
    }


def _round(number: float) -> float:
    return round(number, DECIMALS) + 0.0
