"""The outline that a drawing program's file holds, as one exact area in mm about the middle of its box."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from jigtemplates.errors import InputError, did_you_mean, printable, quoted
from jigtemplates.geometry.outline import Outline, Region
from jigtemplates.imports.chains import Chain, chains
from jigtemplates.imports.contours import NO_OUTLINE, region_of
from jigtemplates.imports.drawn import Drawn
from jigtemplates.imports.trouble import OutlineError, number_text, place_text, refuse
from jigtemplates.lengths import Unit
from jigtemplates.ordinary import NotOrdinaryError, read_start

#: Largest file read, bytes (chosen: an outline of 100 000 points is a quarter of that at most).
LARGEST_BYTES = 20_000_000
#: Ends no further apart than this are one place, mm (chosen: a fifth of what a laser's beam wanders, and more
#: than the rounding of a file with two decimals).
JOIN = 0.01
#: How far an arc may be from the curve it stands for, mm (chosen: half the tolerance of joints).
CHORD = 0.005
#: Factors beyond which a scale is surely a mistake (chosen: inches taken for metres are 39.4).
SMALLEST_SCALE, LARGEST_SCALE = 1e-3, 1e3


def read_outline(
    path: Path,
    *,
    select: str | None = None,
    scale: float = 1.0,
    unit: Unit | None = None,
    angle: float = 0.0,
    join: float = JOIN,
    chord: float = CHORD,
) -> Region:
    """The area drawn in a DXF or SVG file: lines and exact arcs, outer ring counter-clockwise, holes clockwise.

    `select` names a layer or group, else the id or handle of one contour; without it everything visible counts.
    `unit` is that of a file which does not say its own. The outline is made larger by `scale`, turned by `angle`
    (degrees counter-clockwise) and moved so that the middle of its box is the origin. Ends no further apart than
    `join` are one place; a curve that is no arc is given by arcs within `chord` of it (both mm, before and after
    scale). InputError has one line for each fault; places in it are in mm as the drawing program shows them.
    """
    return outline_of(
        outline_bytes(path), path.name, select=select, scale=scale, unit=unit, angle=angle, join=join, chord=chord
    )


def outline_of(
    data: bytes,
    name: str,
    *,
    select: str | None = None,
    scale: float = 1.0,
    unit: Unit | None = None,
    angle: float = 0.0,
    join: float = JOIN,
    chord: float = CHORD,
) -> Region:
    """As `read_outline`, from a file's bytes; the ending of the name says what they are."""
    try:
        if not SMALLEST_SCALE <= scale <= LARGEST_SCALE:
            refuse(f"scale {scale:g} is not from {SMALLEST_SCALE:g} to {LARGEST_SCALE:g} (set the drawing's unit)")
        is_svg = _is_svg(name)
        with np.errstate(all="ignore"):  # numbers that are none are refused where they come from
            pieces = _pieces(data, is_svg, unit, chord / scale)
        region = region_of(_selected(pieces, select, join), scale)
    except OutlineError as trouble:
        raise InputError(f"{printable(name)}: {sentence}" for sentence in trouble.sentences) from None
    return _placed(region, is_svg, scale, angle)


def unit_said(data: bytes, name: str) -> str | None:
    """What a drawing that can be read says of its unit: "mm", "inches", "px"; None where it says nothing."""
    if not _is_svg(name):
        from jigtemplates.imports.dxf_file import said_unit

        return said_unit(data)
    from jigtemplates.imports.svg_units import said_unit as of_page
    from jigtemplates.imports.svg_xml import read_xml

    return {"in": "inches"}.get(unit := of_page(read_xml(data).root) or "", unit) or None


def outline_bytes(path: Path) -> bytes:
    """A file's bytes; InputError where it cannot be read or is larger than any outline."""
    name = printable(path.name)
    try:
        data = read_start(path, LARGEST_BYTES + 1)
    except NotOrdinaryError:
        raise InputError(f"{name}: this is not an ordinary file (give the name of a DXF or SVG drawing)") from None
    except FileNotFoundError:
        raise InputError(f"{name}: there is no such file beside the job") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not valid"
        raise InputError(f"{name}: cannot be read ({reason})") from None
    if len(data) > LARGEST_BYTES:
        most = f"{LARGEST_BYTES // 1_000_000} MB"
        raise InputError(f"{name}: is larger than {most} (keep only the outline in the drawing)")
    return data


def _is_svg(name: str) -> bool:
    ending = Path(name).suffix.lower()
    if ending not in (".svg", ".dxf"):
        refuse("is neither .dxf nor .svg by its name (save the drawing as one of them)")
    return ending == ".svg"


def _pieces(data: bytes, is_svg: bool, unit: Unit | None, chord: float) -> Sequence[Drawn]:
    if not data.strip():
        refuse("the file is empty")
    if is_svg:
        from jigtemplates.imports.svg_file import read_svg

        return read_svg(data, unit=unit, chord=chord)
    from jigtemplates.imports.dxf_file import read_dxf

    return read_dxf(data, unit=unit, chord=chord)


def _selected(pieces: Sequence[Drawn], select: str | None, join: float) -> Sequence[Chain]:
    """The chains that are meant; a layer's or group's name comes before an id or handle of the same name."""
    if not pieces:
        refuse(NO_OUTLINE)
    if select is None:
        found = chains(pieces, join)
        return found or refuse(_specks(pieces, join))
    wanted = select.casefold()
    in_group = [p for p in pieces if wanted in (g.casefold() for g in p.groups)]
    found = chains(in_group or pieces, join)
    if not in_group:
        found = [c for c in found if wanted in (i.casefold() for i in c.idents)]
    if not found and not in_group:
        known = dict.fromkeys(n for p in pieces for n in (*p.groups, *([p.ident] if p.ident else [])))
        refuse(f"nothing in it is called {quoted(select)} ({did_you_mean(select, known)})")
    return found or refuse(_specks(in_group or pieces, join))


def _specks(pieces: Sequence[Drawn], join: float) -> str:
    """What is wrong with a drawing of which nothing is longer than what is joined."""
    first = pieces[0]
    start = f" at {place_text(first.segments[0].start)} mm" if first.segments else ""
    size = f"nothing drawn is larger than {number_text(join)} mm"
    return f"{first.name}{start}: {size} (draw it larger; is the unit right?)"


def _placed(region: Region, is_svg: bool, scale: float, angle: float) -> Region:
    """Turned up the right way, scaled, turned, and moved to the origin."""

    def shaped(ring: Outline) -> Outline:
        if is_svg:  # y runs down there
            ring = ring.mirrored().rotated(180.0)
        return ring.scaled(scale).rotated(angle)

    rings = [shaped(ring) for ring in region.rings]
    x, y = rings[0].bounds.center
    outer, *holes = (ring.moved(-x, -y) for ring in rings)
    return Region(outer, tuple(holes))
