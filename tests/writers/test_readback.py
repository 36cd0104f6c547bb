"""A file that is not what was meant is refused, whatever happened to it, with one clear line."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import pytest

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.errors import OutputError
from jigtemplates.geometry.outline import Arc, Line, Outline, Point
from jigtemplates.writers.dxf import write_dxf
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.readback import check_dxf, check_svg
from jigtemplates.writers.svg import write_svg

Pens = Mapping[Role, Pen]
DXF = "DXF file read back: "
SVG = "SVG file read back: "
END = " (a fault of this program: the file was not written)"

BRANCHES = [
    (version, unit, arcs)
    for version in ("R2000", "R12")
    for unit in ("mm", "in")
    for arcs in ("bulges", "pieces", "facets")
]


def dxf_fault(data: bytes, drawing: Drawing, pens: Pens, **style: Any) -> str:
    """The one line with which a DXF file is refused, without what all have in common."""
    with pytest.raises(ReadBackError) as caught:
        check_dxf(data, drawing, pens, **style)
    return _bare(caught.value, DXF)


def svg_fault(data: bytes, drawing: Drawing, pens: Pens) -> str:
    """The one line with which an SVG file is refused, without what all have in common."""
    with pytest.raises(ReadBackError) as caught:
        check_svg(data, drawing, pens)
    return _bare(caught.value, SVG)


def _bare(error: OutputError, start: str) -> str:
    (line,) = error.lines
    assert line.startswith(start)
    assert line.endswith(END)
    return line.removeprefix(start).removesuffix(END)


def mapped(drawing: Drawing, change: Callable[[Outline], Outline]) -> Drawing:
    """The drawing with every contour changed."""
    items = [i if isinstance(i.shape, Stroke) else Item(i.role, change(i.shape)) for i in drawing.items]
    return replace(drawing, items=tuple(items))


def edited(data: bytes, old: str, new: str, count: int = 1) -> bytes:
    """The file with a piece of text exchanged that must occur in it."""
    assert old.encode() in data
    return data.replace(old.encode(), new.encode(), count)


def entity(data: bytes, layer: str) -> str:
    """The text of a layer's entity in the ENTITIES section."""
    text = data.decode().split("ENTITIES\n")[1]
    (found,) = [e for e in text.split("  0\n") if f"\n  8\n{layer}\n" in e]
    return found


@pytest.mark.parametrize(("version", "unit", "arcs"), BRANCHES)
def test_good_dxf_passes(drawing: Drawing, pens: Pens, version: Any, unit: Any, arcs: Any) -> None:
    """What the writer makes passes, in every branch, and does not pass as any other branch."""
    data = write_dxf(drawing, pens, version=version, unit=unit, arcs=arcs)
    check_dxf(data, drawing, pens, version=version, unit=unit, arcs=arcs)
    others = [b for b in BRANCHES if b != (version, unit, arcs)]
    for other in others:
        dxf_fault(data, drawing, pens, version=other[0], unit=other[1], arcs=other[2])


def test_good_svg_passes(drawing: Drawing, pens: Pens) -> None:
    """What the writer makes passes, title and all."""
    data = write_svg(drawing, pens, title="A & B")
    check_svg(data, drawing, pens)
    assert svg_fault(edited(data, 'width="100mm"', 'width="101mm"'), drawing, pens)


def test_layer_that_comes_back_passes(drawing: Drawing, pens: Pens) -> None:
    """A layer that is used again after others is understood in both formats."""
    shared = {**pens, Role.MARK: pens[Role.CUT_OUTSIDE]}
    check_dxf(write_dxf(drawing, shared), drawing, shared)
    check_svg(write_svg(drawing, shared, title=""), drawing, shared)
    assert dxf_fault(write_dxf(drawing, pens), drawing, shared)


@pytest.mark.parametrize(("version", "unit", "arcs"), BRANCHES)
def test_mirrored_dxf(drawing: Drawing, pens: Pens, version: Any, unit: Any, arcs: Any) -> None:
    """A mirror image within the same plate is refused in every branch, though its size is right."""
    mirror = mapped(drawing, lambda o: o.mirrored().moved(100, 0))
    style = {"version": version, "unit": unit, "arcs": arcs}
    line = dxf_fault(write_dxf(mirror, pens, **style), drawing, pens, **style)
    assert line.startswith('layer "DRILL": ')


def test_plate_mirrored_alone(drawing: Drawing, pens: Pens) -> None:
    """A plate mirrored in its own box has the same box, area and length, and is refused all the same."""
    plate, *rest = drawing.items
    assert isinstance(plate.shape, Outline)
    turned = Item(plate.role, plate.shape.mirrored().moved(100, 0))
    line = dxf_fault(write_dxf(replace(drawing, items=(turned, *rest)), pens), drawing, pens)
    assert re.fullmatch(
        r'layer "CUT_OUTSIDE": line 1 has a segment 2 from .* and should run from \(100, 0\) to \(100, 60\)',
        line,
    )


def test_mirrored_svg(drawing: Drawing, pens: Pens) -> None:
    """An SVG turned upside down is refused."""
    upside = mapped(drawing, lambda o: o.mirrored().rotated(180).moved(0, 60))
    line = svg_fault(write_svg(upside, pens, title=""), drawing, pens)
    assert line == (
        'layer "DRILL": line 1 is a circle of radius 2.5 mm about (20, 45) '
        "and should be one of radius 2.5 mm about (20, 15)"
    )


def test_scaled_dxf(drawing: Drawing, pens: Pens) -> None:
    """A drawing a thousandth too large is refused by its extents."""
    large = Drawing(mapped(drawing, lambda o: o.scaled(1.001)).items[:3], drawing.width * 1.001, drawing.height * 1.001)
    meant = replace(drawing, items=drawing.items[:3])
    line = dxf_fault(write_dxf(large, pens), meant, pens)
    assert line == "$EXTMAX is at (100.1, 60.06) and should be at (100, 60)"


def test_scaled_contour(drawing: Drawing, pens: Pens) -> None:
    """One opening too large within a plate of the right size is refused by its box."""
    plate, opening, *rest = drawing.items
    assert isinstance(opening.shape, Outline)
    larger = Item(opening.role, opening.shape.moved(-75, -25).scaled(1.01).moved(75, 25))
    line = dxf_fault(write_dxf(replace(drawing, items=(plate, larger, *rest)), pens), drawing, pens)
    assert line == (
        'layer "CUT_INSIDE": line 1 lies within (64.9, 14.9) to (85.1, 35.1) and should lie within (65, 15) to (85, 35)'
    )


def test_scaled_svg(drawing: Drawing, pens: Pens) -> None:
    """A viewBox that would scale the picture is refused."""
    data = edited(write_svg(drawing, pens, title=""), 'viewBox="0 0 100 60"', 'viewBox="0 0 96 60"')
    assert svg_fault(data, drawing, pens) == 'viewBox "0 0 96 60" does not make one unit 1 mm'


def test_svg_of_another_height(drawing: Drawing, pens: Pens) -> None:
    """A picture of another size than the drawing is refused."""
    data = edited(write_svg(drawing, pens, title=""), 'height="60mm"', 'height="61mm"')
    data = edited(data, '"0 0 100 60"', '"0 0 100 61"')
    assert svg_fault(data, drawing, pens) == "height is 61 mm and should be 60 mm"


@pytest.mark.parametrize(("old", "new"), [(" 70\n1\n", " 70\n0\n"), ("90\n8\n 70\n1", "90\n8\n 70\n0")])
def test_opened_dxf(drawing: Drawing, pens: Pens, old: str, new: str) -> None:
    """A contour whose closed flag is lost is refused."""
    data = write_dxf(drawing, pens)
    plate = entity(data, "CUT_OUTSIDE")
    damaged = edited(data, plate, plate.replace(old, new))
    assert dxf_fault(damaged, drawing, pens) == 'layer "CUT_OUTSIDE": line 1 is open and should be closed'


def test_opened_r12(drawing: Drawing, pens: Pens) -> None:
    """The same in R12, where the flag stands on the POLYLINE."""
    data = write_dxf(drawing, pens, version="R12")
    text = data.decode()
    start = text.rindex("POLYLINE")
    damaged = (text[:start] + text[start:].replace(" 70\n1\n", " 70\n0\n", 1)).encode()
    line = dxf_fault(damaged, drawing, pens, version="R12")
    assert line == 'layer "CUT_OUTSIDE": line 1 is open and should be closed'


def test_closed_stroke(drawing: Drawing, pens: Pens) -> None:
    """A stroke that became a closed contour is refused."""
    data = write_dxf(drawing, pens)
    label = entity(data, "ENGRAVE")
    line = dxf_fault(edited(data, label, label.replace(" 70\n0\n", " 70\n1\n")), drawing, pens)
    assert line == 'layer "ENGRAVE": line 1 is closed and should be open'


def test_opened_svg(drawing: Drawing, pens: Pens) -> None:
    """A path that lost its Z is refused."""
    data = edited(write_svg(drawing, pens, title=""), " 0 60 Z", " 0 60 L 50 60")
    assert svg_fault(data, drawing, pens) == 'layer "CUT_OUTSIDE": line 1 is open and should be closed'


def test_pieces_that_do_not_meet(drawing: Drawing, pens: Pens) -> None:
    """A piece that starts beside the end of the one before leaves the contour open."""
    data = write_dxf(drawing, pens, arcs="pieces")
    damaged = edited(data, " 10\n60.0\n 20\n60.0\n", " 10\n60.0\n 20\n59.9\n")
    line = dxf_fault(damaged, drawing, pens, arcs="pieces")
    assert line == 'layer "CUT_OUTSIDE": line 1 is open and should be closed'


@pytest.mark.parametrize("layer", ["MARK", "ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE"])
def test_doubled_dxf(drawing: Drawing, pens: Pens, layer: str) -> None:
    """Whatever is drawn twice is refused, before it is counted."""
    data = write_dxf(drawing, pens)
    one = entity(data, layer)
    damaged = edited(data, one, f"{one}  0\n{one}")
    assert dxf_fault(damaged, drawing, pens) == f'layer "{layer}": a line is drawn twice'


def test_doubled_backwards(drawing: Drawing, pens: Pens) -> None:
    """A contour drawn a second time the other way round is drawn twice."""
    plate = drawing.items[0]
    assert isinstance(plate.shape, Outline)
    twice = replace(drawing, items=(*drawing.items, Item(plate.role, plate.shape.reversed())))
    line = dxf_fault(write_dxf(twice, pens), twice, pens)
    assert line == 'layer "CUT_OUTSIDE": a line is drawn twice'


def test_doubled_svg(drawing: Drawing, pens: Pens) -> None:
    """The same circle twice in a group is refused."""
    circle = '<circle cx="20" cy="45" r="2.5" />'
    data = edited(write_svg(drawing, pens, title=""), circle, circle + circle)
    assert svg_fault(data, drawing, pens) == 'layer "DRILL": a line is drawn twice'


def test_bulge_flipped(drawing: Drawing, pens: Pens) -> None:
    """A notch that became a bump is refused by the plate's box."""
    data = edited(write_dxf(drawing, pens), " 42\n-1.0\n", " 42\n1.0\n")
    assert dxf_fault(data, drawing, pens) == (
        'layer "CUT_OUTSIDE": line 1 lies within (0, 0) to (100, 70) and should lie within (0, 0) to (100, 60)'
    )


def test_flag_flipped(drawing: Drawing, pens: Pens) -> None:
    """An SVG arc that bends the other way within the box is refused by the plate's area."""
    data = edited(write_svg(drawing, pens, title=""), "30 30 0 0 0 0 30", "30 30 0 0 1 0 30")
    line = svg_fault(data, drawing, pens)
    # the corner loses its bow and its mirror image, 2 x 900 (pi/2 - 1) / 2
    assert line == ('layer "CUT_OUTSIDE": line 1 has an area of 5136.06202 mm² and should have 5649.778714 mm²')


def test_hole_turned_round(drawing: Drawing, pens: Pens) -> None:
    """A hole that runs counter-clockwise has the wrong sign and is refused."""
    plate, opening, *rest = drawing.items
    assert isinstance(opening.shape, Outline)
    turned = Item(opening.role, opening.shape.reversed())
    line = dxf_fault(write_dxf(replace(drawing, items=(plate, turned, *rest)), pens), drawing, pens)
    assert line == ('layer "CUT_INSIDE": line 1 has an area of 285.619449 mm² and should have -285.619449 mm²')


def test_length_alone(pens: Pens) -> None:
    """A contour of the right box and area but another length is refused: one notch became two."""
    one = Outline.polygon([(0, 0), (30, 0), (30, 10), (20, 10), (15, 8), (10, 10), (0, 10)])
    two = Outline.polygon(
        [(0, 0), (30, 0), (30, 10), (25, 10), (22.5, 8), (20, 10), (10, 10), (7.5, 8), (5, 10), (0, 10)]
    )
    meant, got = (Drawing((Item(Role.CUT_OUTSIDE, o),), 30, 10) for o in (one, two))
    # 70 + 2 sqrt(29) and 70 + 4 sqrt(10.25)
    line = dxf_fault(write_dxf(got, pens), meant, pens)
    assert line == 'layer "CUT_OUTSIDE": line 1 is 82.806248 mm long and should be 80.77033 mm'


def test_missing_layer(drawing: Drawing, pens: Pens) -> None:
    """A layer that is drawn on but not in the layer table is refused."""
    data = write_dxf(drawing, pens)
    damaged = edited(data, "  2\nDRILL\n", "  2\nHOLES\n")
    assert dxf_fault(damaged, drawing, pens) == 'an unexpected layer "HOLES"'
    without = {r: p for r, p in pens.items() if r != Role.DRILL}
    assert dxf_fault(write_dxf(drawing, without), drawing, pens) == 'layer "DRILL" is missing'


def test_empty_layer(drawing: Drawing, pens: Pens) -> None:
    """A layer on which nothing is drawn though something should be is refused."""
    data = write_dxf(drawing, pens)
    damaged = edited(data, f"  0\n{entity(data, 'DRILL')}", "")
    assert dxf_fault(damaged, drawing, pens) == 'layer "DRILL": 0 lines are drawn and should be 1'


def test_line_on_a_layer_of_its_own(drawing: Drawing, pens: Pens) -> None:
    """A line on the layer that every file has, where nothing should be, is refused."""
    data = write_dxf(drawing, pens)
    extra = "LINE\n  5\nFFF\n  8\n0\n 10\n1.0\n 20\n1.0\n 30\n0.0\n 11\n2.0\n 21\n1.0\n 31\n0.0\n"
    mark = entity(data, "MARK")
    damaged = edited(data, mark, f"{mark}  0\n{extra}")
    assert dxf_fault(damaged, drawing, pens) == 'layer "0": 1 lines are drawn and should be 0'


def test_layer_of_another_colour(drawing: Drawing, pens: Pens) -> None:
    """A layer in another colour than its pen's is refused."""
    data = edited(write_dxf(drawing, pens), " 62\n122\n", " 62\n1\n")
    assert dxf_fault(data, drawing, pens) == 'layer "DRILL" has colour 1 and should have 122'


def test_layers_out_of_order(drawing: Drawing, pens: Pens) -> None:
    """Right lines on right layers in the wrong order of work are refused."""
    swapped = {Role.MARK: Role.DRILL, Role.DRILL: Role.MARK}
    items = [Item(swapped.get(i.role, i.role), i.shape) for i in drawing.items]
    crossed = {**pens, Role.MARK: pens[Role.DRILL], Role.DRILL: pens[Role.MARK]}
    data = write_dxf(replace(drawing, items=tuple(items)), crossed)
    assert dxf_fault(data, drawing, pens) == 'layer "DRILL" is drawn where "MARK" should be'


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1", "$INSUNITS is 1 and should be 4"),
        ("$MEASUREMENT\n 70\n1", "$MEASUREMENT\n 70\n0", "$MEASUREMENT is 0 and should be 1"),
        ("$INSUNITS", "$INSUNIT", "$INSUNITS is missing and should be 4"),
        ("$ACADVER\n  1\nAC1015", "$ACADVER\n  1\nAC1032", "$ACADVER is AC1032 and should be AC1015"),
        ("$EXTMIN\n 10\n0.0", "$EXTMIN\n 10\n1e+20", "$EXTMIN is at (1e+20, 0) and should be at (0, 0)"),
        ("$LIMMAX\n 10\n100.0", "$LIMMAX\n 10\n420.0", "$LIMMAX is at (420, 60) and should be at (100, 60)"),
        ("$LIMMIN\n 10\n0.0", "$LIMMIN\n 10\nx", "$LIMMIN is x 0.0 and should be a place"),
        ("$LIMMIN\n", "$LIMMOX\n", "$LIMMIN is missing and should be a place"),
    ],
)
def test_header(drawing: Drawing, pens: Pens, old: str, new: str, said: str) -> None:
    """A wrong unit, version, box or limit in the header is refused."""
    assert dxf_fault(edited(write_dxf(drawing, pens), old, new), drawing, pens) == said


def test_unit_in_r12(drawing: Drawing, pens: Pens) -> None:
    """R12 with a unit in its header is not R12."""
    data = edited(write_dxf(drawing, pens, version="R12"), "$PLIMMIN", "$INSUNITS")
    line = dxf_fault(data, drawing, pens, version="R12")
    assert line == "$INSUNITS is 0.0 0.0 and should be missing"


def test_first_corner_repeated(drawing: Drawing, pens: Pens) -> None:
    """A closed contour whose last corner is its first again is refused."""
    data = write_dxf(drawing, pens)
    plate = entity(data, "CUT_OUTSIDE")
    more = plate.replace("90\n8\n", "90\n9\n") + " 10\n50.0\n 20\n0.0\n"
    line = dxf_fault(edited(data, plate.removesuffix("  0\n"), more), drawing, pens)
    assert line == 'layer "CUT_OUTSIDE": line 1 repeats its first point at the end'


def test_another_start(drawing: Drawing, pens: Pens) -> None:
    """A contour that starts at a corner is refused: it has a corner where it should not begin."""
    data = write_dxf(drawing, pens)
    plate = entity(data, "CUT_OUTSIDE")
    fewer = plate.replace("90\n8\n", "90\n7\n").replace(" 10\n50.0\n 20\n0.0\n", "")
    line = dxf_fault(edited(data, plate, fewer), drawing, pens)
    assert line == 'layer "CUT_OUTSIDE": line 1 has 7 segments and should have 8'


def test_no_circle(drawing: Drawing, pens: Pens) -> None:
    """A round hole that is not one circle is refused."""
    corners = Outline.polygon([(18, 15), (20, 13), (22, 15), (20, 17)])
    items = [Item(i.role, corners) if i.role is Role.DRILL else i for i in drawing.items]
    line = dxf_fault(write_dxf(replace(drawing, items=tuple(items)), pens), drawing, pens)
    assert line == 'layer "DRILL": line 1 is no circle and should be one'


def test_stroke_bent(drawing: Drawing, pens: Pens) -> None:
    """A stroke that became an arc between the same ends is refused."""
    data = write_dxf(drawing, pens)
    label = entity(data, "ENGRAVE")
    bent = label.replace(" 10\n20.0\n 20\n5.0\n", " 42\n0.1\n 10\n20.0\n 20\n5.0\n", 1)
    line = dxf_fault(edited(data, label, bent), drawing, pens)
    assert line == 'layer "ENGRAVE": line 1 has a segment 1 that is a counter-clockwise arc and should be straight'


def test_facet_off_the_arc(drawing: Drawing, pens: Pens) -> None:
    """A facet's end beside the true arc is refused, though box and area hardly notice."""
    data = write_dxf(drawing, pens, arcs="facets", chord=0.05)
    hole = entity(data, "DRILL")
    second = re.findall(r" 10\n(.*)\n 20\n(.*)\n", hole)[1]
    moved = hole.replace(f" 10\n{second[0]}\n", f" 10\n{float(second[0]) - 0.01}\n", 1)
    line = dxf_fault(edited(data, hole, moved), drawing, pens, arcs="facets", chord=0.05)
    assert line == 'layer "DRILL": line 1 leaves its segment 1, from (22.5, 15) to (22.5, 15)'


def test_facets_too_coarse(drawing: Drawing, pens: Pens) -> None:
    """Facets of a coarser tolerance than was asked for are refused, though box and area allow them."""
    plate = replace(drawing, items=drawing.items[:1])
    data = write_dxf(plate, pens, arcs="facets", chord=0.02)
    line = dxf_fault(data, plate, pens, arcs="facets", chord=0.015)
    assert line == 'layer "CUT_OUTSIDE": line 1 has a facet more than 0.015 mm off its arc'


def test_facets_too_many(drawing: Drawing, pens: Pens) -> None:
    """A facet behind the last that was wanted is refused."""
    data = write_dxf(drawing, pens, arcs="facets")
    plate = entity(data, "CUT_OUTSIDE")
    count = int(plate.split(" 90\n")[1].split("\n")[0])
    more = plate.replace(f" 90\n{count}\n", f" 90\n{count + 1}\n") + " 10\n50.0\n 20\n0.000003\n"
    line = dxf_fault(edited(data, plate, more), drawing, pens, arcs="facets")
    assert line.startswith('layer "CUT_OUTSIDE": line 1 leaves its segment 8, ')


def _corner(height: float) -> Item:
    return Item(Role.MARK, Stroke((Point(0, height - 1), Point(0, height))))


def test_facets_much_longer(pens: Pens) -> None:
    """Facets longer than their arcs are refused."""
    zigzag = Outline.polygon([(0, 0), (20, 0), (20, 10), (10, 10.009), (0, 10)])
    plain = Outline.polygon([(0, 0), (20, 0), (20, 10), (10, 10.001), (0, 10)])
    meant, got = (Drawing((Item(Role.CUT_OUTSIDE, o), _corner(12)), 20, 12) for o in (plain, zigzag))
    line = dxf_fault(write_dxf(got, pens, arcs="facets"), meant, pens, arcs="facets")
    assert line == 'layer "CUT_OUTSIDE": line 1 is 60.000008 mm long and should be 60 mm'


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('<g fill="none" id="MARK"', '<g fill="none" id="MARC"', "group ('MARC', '#56b4e9', 0.2) should be "),
        ('stroke="#56b4e9"', 'stroke="#000000"', "group ('MARK', '#000000', 0.2) should be "),
        ('stroke-width="0.2"', 'stroke-width="2"', "group ('MARK', '#56b4e9', 2.0) should be "),
    ],
)
def test_svg_group(drawing: Drawing, pens: Pens, old: str, new: str, said: str) -> None:
    """A group of another name, colour or line width is refused."""
    data = edited(write_svg(drawing, pens, title=""), old, new)
    assert svg_fault(data, drawing, pens) == said + "('MARK', '#56b4e9', 0.2)"


def test_svg_group_missing(drawing: Drawing, pens: Pens) -> None:
    """A group too few is refused."""
    without = {r: p for r, p in pens.items() if r != Role.DRILL}
    line = svg_fault(write_svg(drawing, without, title=""), drawing, pens)
    assert line == "it has 4 groups and should have 5"


def test_a_reader_s_refusal_has_the_same_form(drawing: Drawing, pens: Pens) -> None:
    """What the reader cannot take at all is refused in the same one line."""
    data = edited(write_dxf(drawing, pens), "  0\nCIRCLE\n", "  0\nTEXT\n")
    assert re.fullmatch(r"line \d+: a forbidden TEXT", dxf_fault(data, drawing, pens))


def test_two_arcs_in_pieces(pens: Pens) -> None:
    """A contour of two arcs in pieces passes, though an ARC does not say which way it runs."""
    a, b = Point(0, 10), Point(10, 0)
    lens = Outline((Arc(a, b, Point(0, 0), 10, -1), Arc(b, a, Point(10, 10), 10, -1)))
    meant = Drawing((Item(Role.CUT_OUTSIDE, lens),), 10, 10)
    data = write_dxf(meant, pens, arcs="pieces")
    check_dxf(data, meant, pens, arcs="pieces")
    damaged = edited(data, " 51\n90.0\n", " 51\n91.0\n")
    assert dxf_fault(damaged, meant, pens, arcs="pieces").endswith("is open and should be closed")


def test_arc_instead_of_line_in_pieces(pens: Pens) -> None:
    """A contour with a straight where an arc should be keeps its ends and is refused."""
    a, b = Point(0, 10), Point(10, 0)
    bow = Outline((Arc(a, b, Point(10, 10), 10, 1), Line(b, Point(10, 10)), Line(Point(10, 10), a)))
    flat = Outline((Line(a, b), Line(b, Point(10, 10)), Line(Point(10, 10), a)))
    meant, got = (Drawing((Item(Role.CUT_OUTSIDE, o),), 10, 10) for o in (bow, flat))
    line = dxf_fault(write_dxf(got, pens, arcs="pieces"), meant, pens, arcs="pieces")
    assert line.startswith('layer "CUT_OUTSIDE": ')
