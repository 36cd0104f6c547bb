"""Contours of very many segments: written like any other, and read back as strictly."""

import io
import math
from collections.abc import Callable

import numpy as np
import pytest

from jigtemplates.drawing import Drawing, Item, Pen, Role
from jigtemplates.geometry.long import LongOutline, compact
from jigtemplates.geometry.outline import Outline
from jigtemplates.geometry.table import Table
from jigtemplates.writers.drawn import Drawn, repeated
from jigtemplates.writers.dxf import Unit, write_dxf
from jigtemplates.writers.dxf_corners import read_corners
from jigtemplates.writers.faults import ReadBackError, UnwritableError
from jigtemplates.writers.readback import check_dxf, check_svg
from jigtemplates.writers.svg import number, write_svg
from jigtemplates.writers.svg_corners import read_long_path

PENS = {Role.CUT_INSIDE: Pen("IN", "#ff0000", 0.1), Role.CUT_OUTSIDE: Pen("OUT", "#0000ff", 0.1)}
COUNT = 600


def wavy(straights: bool = True) -> LongOutline:
    """About (100, 100): sides and arcs both ways, one of more than half a circle; without straights arcs only."""
    angles = np.arange(COUNT) * 2 * math.pi / COUNT
    radii = 60 + 5 * np.sin(6 * angles)
    bulges = np.where(
        np.arange(COUNT) % 3 == 0, 0.25, np.where(np.arange(COUNT) % 3 == 1, -0.2, 0.0 if straights else 0.1)
    )
    bulges[300] = 1.5
    table = Table.from_bulges(100 + radii[:, None] * np.column_stack([np.cos(angles), np.sin(angles)]), bulges)
    return LongOutline(table)


def drawing(outline: Outline) -> Drawing:
    """The contour in a plate of 200."""
    plate = Outline.polygon([(0, 0), (200, 0), (200, 200), (0, 200)])
    return Drawing((Item(Role.CUT_INSIDE, outline), Item(Role.CUT_OUTSIDE, plate)), 200, 200)


@pytest.mark.parametrize("straights", [True, False])
def test_the_words_are_those_of_any_outline(straights: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """DXF in mm and inches, and SVG: as when every segment is written by itself, to the last digit of each number."""
    columns = wavy(straights)
    plain = Outline(columns.segments)
    ways: tuple[Unit, ...] = ("mm", "in")
    quick = [*(write_dxf(drawing(columns), PENS, unit=u) for u in ways), write_svg(drawing(columns), PENS, title="W")]
    monkeypatch.setattr("jigtemplates.writers.dxf.LONG", 10**9)
    monkeypatch.setattr("jigtemplates.writers.svg.LONG", 10**9)
    slow = [*(write_dxf(drawing(plain), PENS, unit=u) for u in ways), write_svg(drawing(plain), PENS, title="W")]
    for one, two in zip(quick, slow, strict=True):
        assert one.split() == two.split() or all(alike(*words) for words in zip(one.split(), two.split(), strict=True))


def alike(a: bytes, b: bytes) -> bool:
    """One word, or two numbers whose last digit is rounded another way."""
    return a == b or abs(float(a) - float(b)) <= 1.1e-9


def test_other_programs_read_the_same_contour() -> None:
    """ezdxf finds as many corners with the same bulges; svgelements the same length."""
    import ezdxf
    from svgelements import SVG, Path

    columns = wavy()
    document = ezdxf.read(io.StringIO(write_dxf(drawing(columns), PENS).decode()))  # type: ignore[attr-defined]
    (polyline,) = document.modelspace().query('LWPOLYLINE[layer=="IN"]')
    corners = np.array(polyline.get_points("xyb"))  # type: ignore[attr-defined]
    ready = columns.started_mid_straight()
    assert len(corners) == ready.count + 1  # the arc of more than half a circle is two
    assert corners == pytest.approx(np.array(ready.bulge_vertices()), abs=1e-9)
    picture = SVG.parse(io.BytesIO(write_svg(drawing(columns), PENS, title="Wavy")))
    paths = [e for e in picture.elements() if isinstance(e, Path)]
    assert paths[0].length(error=1e-3) / (96 / 25.4) == pytest.approx(columns.length, rel=1e-3)


@pytest.mark.parametrize("kind", ["dxf", "svg"])
def test_what_was_written_is_read_back(kind: str) -> None:
    """A contour of straights and arcs, of arcs alone, and one whose segments are not kept in columns."""
    for outline in (wavy(), wavy(False), compact(Outline(wavy().segments)), Outline(wavy().segments)):
        written(kind, outline)


def written(kind: str, outline: Outline, change: Callable[[str], str] = lambda text: text) -> None:
    """Writes a contour, changes the file, and reads it back."""
    sheet = drawing(outline)
    if kind == "dxf":
        check_dxf(change(write_dxf(sheet, PENS).decode()).encode(), sheet, PENS)
    else:
        check_svg(change(write_svg(sheet, PENS, title="Wavy").decode()).encode(), sheet, PENS)


def corner(kind: str) -> str:
    """The x of the hundredth corner as it stands in the file."""
    place = wavy().started_mid_straight().segments[100].start.x
    return f"{round(place, 10)}" if kind == "dxf" else number(place)


@pytest.mark.parametrize("kind", ["dxf", "svg"])
def test_a_corner_out_of_its_place_is_refused(kind: str) -> None:
    """One of six hundred, by two micrometres: the segment that ends there is named."""
    x = corner(kind)
    moved = f"{float(x) + 2e-3:.10f}".rstrip("0") if kind == "dxf" else number(float(x) + 2e-3)
    with pytest.raises(ReadBackError, match='read back: layer "IN": line 1 '):
        written(kind, wavy(), lambda text: text.replace(x, moved, 1))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda t: t.replace(" 42\n0.25\n", " 42\n-0.25\n", 1), "area|segment|within|long"),
        (lambda t: t.replace(" 42\n0.25\n", " 42\nx\n", 1), '"x" is not a number'),
        (lambda t: t.replace(" 42\n0.25\n", " 42\ninf\n", 1), '"inf" is not a number'),
        (lambda t: t.replace(" 42\n0.25\n", " 42\n0.25\n 42\n0.25\n", 1), "out of turn"),
        (lambda t: t.replace(" 90\n602\n", " 90\n603\n", 1), "602 corners and says 603"),
        (lambda t: t.replace("LWPOLYLINE", "LWPOLYLINF", 1), "forbidden LWPOLYLINF"),
    ],
)
def test_a_dxf_that_says_something_else_is_refused(change: Callable[[str], str], said: str) -> None:
    """A bulge the other way, no number, out of turn, a count that is wrong: one line."""
    with pytest.raises(ReadBackError, match=said):
        written("dxf", wavy(), change)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda t: t.replace(" 0 0 0 ", " 0 0 1 ", 1), "area|segment|within|long"),
        (lambda t: t.replace(" 0 0 0 ", " 0 1 0 ", 1), "elliptical, turned or over half a circle"),
        (lambda t: t.replace(" 0 0 0 ", " 0 0 0 0 ", 1), "where a command should be"),
        (lambda t: t.replace(" L ", " L - ", 1), "where numbers should be"),
        (lambda t: t.replace(" L ", " M ", 1), 'with "M" where a command should be'),
        (lambda t: t.replace(" Z", "", 1), "is open and should be closed"),
    ],
)
def test_an_svg_that_says_something_else_is_refused(change: Callable[[str], str], said: str) -> None:
    """A flag turned, another command, no number, no Z: one line."""
    with pytest.raises(ReadBackError, match=said):
        written("svg", wavy(), change)


def test_path_data_of_another_kind_is_left_to_the_reader_of_any() -> None:
    """Nothing at all, a place alone, data that does not begin with M."""
    for data in ("", "M 1 2", "L 1 2 L 3 4", "M 1 2 L 3", "M 1 2 A 1 2 0 0 0 3 4", "M 1 2 L x 4"):
        assert read_long_path(data, 10.0) is None
    found = read_long_path("M 0 0 L 4 0 A 2 2 0 0 0 8 0 Z", 10.0)
    assert found is not None
    table, closed = found
    assert closed
    assert table.ends == pytest.approx(np.array([(4, 10), (8, 10), (0, 10)]))
    assert table.centers[1] == pytest.approx([6, 10])


def test_corners_out_of_turn_are_left_to_the_reader_of_any() -> None:
    """None, a bulge first, a place without its y, two bulges."""
    for codes in ([], [42, 10, 20], [10, 10, 20], [10, 42, 20], [10, 20, 42, 42]):
        assert read_corners(codes, ["1"] * len(codes)) is None
    found = read_corners([8, 10, 20, 10, 20, 42], ["x", "1", "2", "3", "4", "0.5"])
    assert found is not None
    assert list(found) == [(1, 2, 0), (3, 4, 0.5)]
    assert list(found[1:]) == [(3, 4, 0.5)]


def test_a_line_drawn_twice_is_found_among_many() -> None:
    """The same side again, there and back, in one contour or two; on another layer it is another line."""
    segments = wavy().segments
    one = Drawn("IN", True, segments)
    assert repeated([one]) is None
    assert repeated([one, Drawn("OUT", True, segments)]) is None
    assert repeated([one, Drawn("IN", False, (segments[7].reversed(),))]) == Drawn(
        "IN", False, (segments[7].reversed(),)
    )
    assert repeated([one, Drawn("IN", False, segments[5:6])]) is not None
    there_and_back = Drawn("IN", False, (*segments, segments[300].reversed()))
    assert repeated([there_and_back]) is there_and_back


def test_a_contour_of_many_segments_that_is_open_is_refused() -> None:
    """One segment ends a hundredth before the next one starts."""
    table = wavy().table
    ends = table.ends.copy()
    ends[44] += 0.01
    gap = LongOutline(Table(table.starts, ends, table.centers, table.radii, table.turns))
    with pytest.raises(UnwritableError, match="not closed"):
        write_dxf(drawing(gap), PENS)


def test_other_ways_to_write_a_dxf_still_work() -> None:
    """R12, pieces and facets, for readers that need them."""
    sheet = drawing(wavy())
    for options in ({"version": "R12"}, {"arcs": "pieces"}, {"arcs": "facets"}):
        check_dxf(write_dxf(sheet, PENS, **options), sheet, PENS, **options)  # type: ignore[arg-type]
