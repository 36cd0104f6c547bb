"""Deliberate faults: each is put into the program alone, and some test must then fail.

    python tests/proof/faults.py            # the table: each fault, and the first test that sees it

The suite itself injects one where JIGTEMPLATES_FAULT names it (`tests/conftest.py`).
"""

import os
import re
import subprocess
import sys
from collections.abc import Callable, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

TESTS = Path(__file__).parents[1]
#: What is run against each fault, the quickest first.
AGAINST = ("published", "test_template.py", "test_outside.py", "test_several_cuts.py", "proof/test_file_to_cut.py")
#: Of these what takes no more than seconds: it must pass on the program as it is, or its failing would say nothing.
BASELINE = AGAINST[:-1]
#: What is run against a fault of paper alone, which nothing else draws.
AGAINST_PAPER = ("proof/test_paper_to_cut.py",)


def offset_doubled() -> None:
    """The opening is grown by a whole bushing instead of half of one."""
    from jigtemplates import opening
    from jigtemplates.geometry.offset import grow, shrink

    opening.opening_for = lambda cut, bit, bushing: grow(shrink(cut, bit / 2), bushing)  # type: ignore[assignment]


def bit_and_bushing_swapped() -> None:
    """The opening is made for the bit in the place of the bushing."""
    from jigtemplates import opening
    from jigtemplates.geometry.offset import grow, shrink

    opening.opening_for = lambda cut, bit, bushing: grow(shrink(cut, bushing / 2), bit / 2)  # type: ignore[assignment]


def kerf_on_the_wrong_side() -> None:
    """The laser's path runs half a kerf outside openings and inside the plate."""
    _drawn_with(lambda draw, template, kerf: draw(template, -kerf))


def whole_kerf_taken() -> None:
    """The path is moved by the whole kerf instead of half of it."""
    _drawn_with(lambda draw, template, kerf: draw(template, 2 * kerf))


def _drawn_with(change: Callable[[Any, Any, float], Any]) -> None:
    from jigtemplates import making
    from jigtemplates.processes import machine

    draw = machine._drawing

    def laser(template: Any, kerf: float = 0.0) -> Any:
        return change(draw, template, kerf)

    machine.laser_drawing = laser  # type: ignore[assignment]
    making.laser_drawing = laser  # type: ignore[assignment]


def y_mirrored() -> None:
    """Every drawing for a machine is upside down."""
    from dataclasses import replace

    from jigtemplates.drawing import Item, Stroke
    from jigtemplates.geometry.outline import Outline, Point
    from jigtemplates.processes import machine

    drawn = machine.drawing_of

    def turned(shape: Any, height: float) -> Any:
        if isinstance(shape, Outline):
            return shape.mirrored().rotated(180.0).moved(0.0, height)
        return Stroke(tuple(Point(p.x, height - p.y) for p in shape.points))

    def flipped(items: Any, width: float, height: float) -> Any:
        drawing = drawn(items, width, height)
        return replace(drawing, items=tuple(Item(i.role, turned(i.shape, height)) for i in drawing.items))

    machine.drawing_of = flipped  # type: ignore[assignment]


def inch_as_mm() -> None:
    """An inch is read as a millimetre."""
    _inch(Fraction(1))


def inch_of_25_mm() -> None:
    """An inch is taken for 25 mm."""
    _inch(Fraction(25))


def _inch(mm: Fraction) -> None:
    from jigtemplates import lengths

    lengths.MM_PER_INCH = mm


def bulge_sign() -> None:
    """Arcs in DXF bend to the other side."""
    from jigtemplates.geometry.outline import BulgeVertex, Outline

    right = Outline.bulge_vertices
    Outline.bulge_vertices = lambda self: [BulgeVertex(v.x, v.y, -v.bulge) for v in right(self)]  # type: ignore[method-assign]


def angle_clockwise() -> None:
    """A cut is turned clockwise."""
    from jigtemplates import placing

    right = placing.turn
    placing.turn = lambda outline, degrees, middle: right(outline, -degrees, middle)  # type: ignore[assignment]


def clearance_forgotten() -> None:
    """A cut as wide as the bit leaves the bushing no room."""
    from jigtemplates import opening

    opening.least_side = lambda job: 0.0  # type: ignore[assignment]


def unit_of_dxf() -> None:
    """A DXF file in millimetres says that it is in inches."""
    from jigtemplates.writers import dxf, dxf_meaning

    swapped = {"mm": (1, 0), "in": (4, 1)}
    dxf.UNIT_CODES = swapped
    dxf_meaning.UNIT_CODES = swapped


def pattern_offset_outwards() -> None:
    """The pattern for outside work is larger than the work instead of smaller."""
    from jigtemplates import outside, template
    from jigtemplates.geometry.offset import grow

    wrong = lambda work, bit, bushing: grow(work, (bushing - bit) / 2)  # noqa: E731
    outside.pattern_for = wrong  # type: ignore[assignment]
    template.pattern_for = wrong  # type: ignore[assignment]


def opening_on_paper_mirrored() -> None:
    """The opening of a paper pattern is drawn left for right, all else as it is."""
    from dataclasses import replace

    from jigtemplates import making
    from jigtemplates.drawing import Item, Role
    from jigtemplates.processes import pattern

    drawn = pattern.paper_drawing

    def mirrored(template: Any, predicted: Any) -> Any:
        drawing = drawn(template, predicted)
        items = (
            Item(i.role, i.shape.mirrored().moved(drawing.width, 0.0)) if i.role is Role.CUT_INSIDE else i  # type: ignore[union-attr]
            for i in drawing.items
        )
        return replace(drawing, items=tuple(items))

    pattern.paper_drawing = mirrored
    making.paper_drawing = mirrored


def paper_scaled() -> None:
    """Pages are printed 0.3 % too large."""
    from jigtemplates.processes import paper

    right = paper.lay_out
    paper.lay_out = lambda *given, **named: right(*given, **{**named, "correction": (1.003, 1.003)})  # type: ignore[assignment]


#: Where each fault is seen first: another place means that something else is wrong, or that a test was lost.
SEEN_BY = {
    "offset-doubled": "tests/published/",
    "bit-and-bushing-swapped": "tests/published/",
    "kerf-on-the-wrong-side": "tests/published/test_laser.py",
    "whole-kerf-taken": "tests/published/test_laser.py",
    "y-mirrored": "tests/proof/test_file_to_cut.py",
    "inch-as-mm": "tests/",
    "inch-of-25-mm": "tests/published/",
    "bulge-sign": "tests/published/test_arcs.py",
    "angle-clockwise": "tests/test_template.py",
    "clearance-forgotten": "tests/published/test_tenons.py",
    "unit-of-dxf": "tests/published/test_units.py",
    "pattern-offset-outwards": "tests/",
    "opening-on-paper-mirrored": "tests/proof/test_paper_to_cut.py",
    "paper-scaled": "tests/proof/test_paper_to_cut.py",
}

FAULTS: dict[str, Callable[[], None]] = {
    function.__name__.replace("_", "-"): function
    for function in (
        offset_doubled,
        bit_and_bushing_swapped,
        kerf_on_the_wrong_side,
        whole_kerf_taken,
        y_mirrored,
        inch_as_mm,
        inch_of_25_mm,
        bulge_sign,
        angle_clockwise,
        clearance_forgotten,
        unit_of_dxf,
        pattern_offset_outwards,
        opening_on_paper_mirrored,
        paper_scaled,
    )
}


def inject(name: str) -> None:
    """Put the fault of that name into the program, for as long as it runs."""
    FAULTS[name]()


def caught_by(name: str, against: Sequence[str] | None = None) -> str | None:
    """The first test that fails with a fault in the program; None where none does."""
    if against is None:
        against = AGAINST_PAPER if "paper" in name else AGAINST
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-x",
        "-q",
        "-p",
        "no:cacheprovider",
        *(str(TESTS / one) for one in against),
    ]
    environment = {**os.environ, "JIGTEMPLATES_FAULT": name}
    done = subprocess.run(
        command, capture_output=True, encoding="utf-8", check=False, env=environment, cwd=TESTS.parent
    )
    found = re.search(r"^(?:FAILED|ERROR) (.+?)(?: - .*)?$", done.stdout, re.MULTILINE)
    if done.returncode in (1, 2) and found:  # 2: a module of tests could not even be read
        return found[1]
    if done.returncode == 0:
        return None
    raise RuntimeError(f"pytest ended with {done.returncode}:\n{done.stdout[-2000:]}{done.stderr[-2000:]}")


def main() -> None:
    """Print the table."""
    width = max(map(len, FAULTS))
    for name in FAULTS:
        print(f"{name:<{width}}  {caught_by(name) or 'NOT CAUGHT'}", flush=True)


if __name__ == "__main__":
    main()
