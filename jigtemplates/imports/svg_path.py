"""SVG path data as runs of lines, arcs and curves in mm.

svgelements reads the commands; because it passes over what it does not understand, the grammar is checked
first (SVG 1.1, section 8.3.9), and arcs are computed from their own numbers to the last digit.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from jigtemplates.errors import quoted
from jigtemplates.geometry.outline import Arc, Line, Point
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.curves import arc_by_radii, bezier, ellipse
from jigtemplates.imports.drawn import Effort, Part, Run
from jigtemplates.imports.fit import Smooth
from jigtemplates.imports.svg_straights import straights
from jigtemplates.imports.svg_units import NUMBER
from jigtemplates.imports.trouble import refuse

_COUNT = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_COMMAND = re.compile("([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
_NUMBER = re.compile(NUMBER)
_BETWEEN = re.compile(r"[\s,]*")
_ONE, _FLAG = rf"[\s,]*({NUMBER})", r"[\s,]*([01])"
_ARC = re.compile(3 * _ONE + 2 * _FLAG + 2 * _ONE)
ANEW = "(draw the path anew)"
#: Numbers beyond this are no place (chosen: no overflow follows in any sum of squares).
LARGEST = 1e12
#: Most pieces of a path that are read one by one (chosen: more than the outline of 200 000 points, in seconds).
MOST_STEPS = 250_000
#: Most arcs of a path (chosen: they are read and laid in some seconds; no corner of a cut has thousands).
MOST_ARCS = 30_000


@dataclass(frozen=True, slots=True)
class _Radii:
    rx: float
    ry: float
    degrees: float
    large: bool
    positive: bool


def path_runs(text: str, place: Affine, chord: float) -> Iterator[Run]:
    """The runs of path data, its numbers taken through place; OutlineError where the data is not valid.

    A run that goes on after a Z without a new M begins where that one did.
    """
    many = straights(text, place)
    if many is not None:
        yield many
        return
    from svgelements import Path

    arcs = iter(_checked(text))
    parts: list[Part] = []
    effort = Effort()
    try:
        steps = list(Path(text))
    except (ValueError, TypeError, AttributeError, IndexError):  # its own grammar is not quite the standard's
        refuse(f"path data {quoted(text.strip())} cannot be read {ANEW}")
    for step in steps:
        kind = type(step).__name__
        if kind == "Move" and parts:
            yield Run(tuple(parts), False)
            parts = []
        elif kind != "Move":
            more = list(_parts(step, kind, arcs, place, chord))
            effort.spend(more)
            parts.extend(more)
        if kind == "Close":
            yield Run(tuple(parts), True)
            parts = []
    if parts:
        yield Run(tuple(parts), False)


def _parts(step: Any, kind: str, arcs: Iterator[_Radii], place: Affine, chord: float) -> Iterator[Part]:
    start, end = _point(step.start), _point(step.end)
    if kind == "Arc":
        yield from arc_parts(start, end, next(arcs), place, chord)
    elif kind in ("Line", "Close"):
        yield from straight(place.at(*start), place.at(*end))
    else:
        inner = [step.control] if kind == "QuadraticBezier" else [step.control1, step.control2]
        yield bezier([place.at(*p) for p in (start, *map(_point, inner), end)], chord)


def straight(start: Point, end: Point) -> Iterator[Part]:
    """A line, or nothing where it has no length."""
    if start != end:
        yield Line(start, end)


def arc_parts(start: Point, end: Point, arc: _Radii, place: Affine, chord: float) -> Iterator[Part]:
    """An elliptic arc; its ends are the very places of its neighbours."""
    found = arc_by_radii(start, end, arc.rx, arc.ry, arc.degrees, large=arc.large, positive=arc.positive)
    first, last = place.at(*start), place.at(*end)
    if found is None:
        yield from straight(first, last)
        return
    center, u, v, angle, sweep = found
    parts = ellipse(place.at(*center), place.turned(*u), place.turned(*v), angle, sweep, chord)
    if len(parts) == 1 and isinstance(parts[0], Arc):
        yield parts[0]._replace(start=first, end=last)
        return
    for part, at, p in ((parts[0], 0, first), (parts[-1], -1, last)):
        assert isinstance(part, Smooth)
        part.places[at] = p
    yield from parts


def _point(p: Any) -> Point:
    return Point(float(p.x), float(p.y))


def _checked(text: str) -> list[_Radii]:
    """The radii of every arc; OutlineError where a command or number is not one."""
    found = _COMMAND.search(text)
    if found is None or text[: found.start()].strip() or found[1] not in "Mm":
        refuse(f"path data begins {quoted(text.strip())}, not with M and a place (draw the path anew)")
    arcs: list[_Radii] = []
    steps = 0
    for command in _COMMAND.finditer(text):
        letter, rest = command.groups()
        if letter in "Aa":
            arcs.extend(_arcs(rest))
        elif more := _steps(rest, _COUNT[letter.upper()]):
            steps += more
        else:
            refuse(f"path data has {quoted(letter + rest.rstrip())}, which cannot be read (draw the path anew)")
        if len(arcs) > MOST_ARCS:
            refuse(f"path data has more than {MOST_ARCS} arcs (draw it simpler)")
        if steps + len(arcs) > MOST_STEPS:
            refuse(f"path data has more than {MOST_STEPS} pieces {ANEW}")
    return arcs


def _steps(rest: str, count: int) -> int:
    """How often the numbers that a command takes are there; 0 where there is anything else."""
    numbers = _NUMBER.findall(rest)
    if _BETWEEN.fullmatch(_NUMBER.sub(" ", rest)) is None or any(abs(float(n)) >= LARGEST for n in numbers):
        return 0
    if not count:
        return int(not numbers)
    return len(numbers) // count if len(numbers) % count == 0 else 0


def _arcs(rest: str) -> Iterator[_Radii]:
    at = 0
    rest = rest.rstrip(" \t\r\n\f,")
    while at < len(rest) or at == 0:
        found = _ARC.match(rest, at)
        if found is None or any(abs(float(n)) >= LARGEST for n in found.groups()):
            refuse(f"path data has {quoted('A' + rest)}, which cannot be read (draw the path anew)")
        rx, ry, degrees, large, positive, _, _ = found.groups()
        yield _Radii(float(rx), float(ry), float(degrees), large == "1", positive == "1")
        at = found.end()
