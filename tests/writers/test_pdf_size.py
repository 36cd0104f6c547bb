"""Paper patterns measured: rasterised by PDFium at 600 dpi, lengths counted in pixels."""

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest

from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.geometry.outline import Outline, Point
from jigtemplates.processes.paper import PaperSize, PatternNotes, lay_out
from jigtemplates.writers.pdf import write_pdf

DPI = 600
PIXEL = DPI / 25.4  # pixels in a millimetre
#: What may be lost to the raster on two ends of a length, in pixels.
SLACK = 1.5

A4 = PaperSize("a4", 210.0, 297.0)
LETTER = PaperSize("letter", 215.9, 279.4)
NOTES = PatternNotes("Measured", (("bit", "10 mm"),), ("Test cut first.",), "100 × 60 mm")
#: Pure colours, so that each role can be told from all others and from what the page adds in black.
PENS = {
    Role.CUT_OUTSIDE: Pen("OUT", "#ff0000", 0.2),
    Role.DRILL: Pen("DRILL", "#00ff00", 0.2),
    Role.CUT_INSIDE: Pen("IN", "#0000ff", 0.2),
}
Raster = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.bool_]


def rasters(data: bytes, pages: list[int]) -> list[Raster]:
    """Pages as arrays of red, green and blue, the page's foot first."""
    pdf = pypdfium2.PdfDocument(data)
    found = []
    for number in pages:
        page = pdf[number]
        image = page.render(scale=DPI / 72, rev_byteorder=True).to_numpy()[::-1, :, :3].copy()
        page.close()
        found.append(image)
    pdf.close()
    return found


def of_colour(raster: Raster, colour: tuple[int, int, int]) -> Mask:
    """Pixels nearer to a pure colour than to white."""
    mask = np.ones(raster.shape[:2], dtype=bool)
    for channel, level in enumerate(colour):
        mask &= raster[:, :, channel] > 127 if level else raster[:, :, channel] < 128
    return mask


RED, GREEN, BLUE, BLACK = (255, 0, 0), (0, 255, 0), (0, 0, 255), (0, 0, 0)


def extent(mask: Mask, axis: int) -> tuple[int, int]:
    """First and last column (axis 0) or row (axis 1) with a pixel, the last one excluded."""
    hit = np.flatnonzero(mask.any(axis=axis))
    return int(hit[0]), int(hit[-1]) + 1


def middles(row: Mask) -> npt.NDArray[np.float64]:
    """Middle of each run of dark pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return edges.reshape(-1, 2).mean(axis=1)


def longest_run(row: Mask) -> int:
    """Length of the longest run of dark pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return int(np.diff(edges.reshape(-1, 2), axis=1).max(initial=0))


def bar_lengths(mask: Mask) -> tuple[float, float, float]:
    """Pixels of a level bar in the mask: its line, its millimetre scale above and its inch scale below.

    The bar's line is the row with the longest dark run near the foot.
    """
    foot = mask[: round(45 * PIXEL)]
    runs = [longest_run(row) for row in foot]
    longest = max(runs)
    on = [i for i, run in enumerate(runs) if run > longest - 5]
    middle = (on[0] + on[-1]) // 2
    left = int(np.flatnonzero(_longest(foot[middle]))[0]) - 5
    span = slice(left, left + longest + 10)
    one = round(1.0 * PIXEL)
    above, below = (middles(foot[middle + step, span]) for step in (one, -one))
    assert (len(above), len(below)) == (11, 17)  # ticks: every 10 mm, every quarter inch
    return longest, above[-1] - above[0], below[-1] - below[0]


def _longest(row: Mask) -> Mask:
    """Only the longest run of a row."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0])))).reshape(-1, 2)
    start, end = edges[np.argmax(edges[:, 1] - edges[:, 0])]
    kept = np.zeros_like(row)
    kept[start:end] = True
    return kept


def asymmetric() -> Drawing:
    """140 x 90, the upper right corner cut off 40 x 20, a hole of 10 mm about (25, 15), a slot."""
    edge = Outline.polygon([(0, 0), (140, 0), (140, 70), (100, 90), (0, 90)])
    hole = Outline.circle(Point(25, 15), 5.0, -1)
    return Drawing((Item(Role.DRILL, hole), Item(Role.CUT_OUTSIDE, edge)), 140, 90)


@pytest.mark.parametrize("paper", [A4, LETTER])
@pytest.mark.parametrize("correction", [(1.0, 1.0), (1.02, 0.985)])
def test_bars_measure_true(paper: PaperSize, correction: tuple[float, float]) -> None:
    """Both bars measure 100 mm and 4 in on the raster, times the correction of their direction."""
    data = write_pdf(lay_out(asymmetric(), PENS, NOTES, paper, correction=correction))
    (raster,) = rasters(data, [0])
    mask = of_colour(raster, BLACK)
    for bar, factor in ((mask, correction[0]), (_turned(mask), correction[1])):
        line, millimetres, inches = bar_lengths(bar)
        # the line runs from one end tick's outer side to the other's: 0.15 mm of pen more
        assert line == pytest.approx(101.75 * factor * PIXEL, abs=SLACK)
        assert millimetres == pytest.approx(100.0 * factor * PIXEL, abs=SLACK)
        assert inches == pytest.approx(101.6 * factor * PIXEL, abs=SLACK)


def _turned(mask: Mask) -> Mask:
    """The strip of the upright bar, turned so that its millimetres stand above its line."""
    strip = mask[:, : round(25 * PIXEL)]
    return np.ascontiguousarray(strip.T[::-1])


def test_every_page_of_tiles_has_true_bars() -> None:
    """The cover and a tile carry bars of true size."""
    drawing = Drawing((Item(Role.CUT_OUTSIDE, Outline.polygon([(0, 0), (300, 0), (0, 300)])),), 300, 300)
    data = write_pdf(lay_out(drawing, PENS, NOTES, A4))
    for raster in rasters(data, [0, 1]):
        mask = of_colour(raster, BLACK)
        for bar in (mask, _turned(mask)):
            assert bar_lengths(bar)[1] == pytest.approx(100.0 * PIXEL, abs=SLACK)


@pytest.mark.parametrize("correction", [(1.0, 1.0), (0.99, 1.01)])
def test_plate_measures_true(correction: tuple[float, float]) -> None:
    """The plate's edges and the hole's place and size are true, and nothing is mirrored or turned."""
    across, up = (f * PIXEL for f in correction)
    data = write_pdf(lay_out(asymmetric(), PENS, NOTES, A4, correction=correction))
    raster = _above_notes(data)
    edge, hole = of_colour(raster, RED), of_colour(raster, GREEN)
    (left, right), (low, high) = extent(edge, 0), extent(edge, 1)
    assert right - left == pytest.approx(140.2 * across, abs=SLACK)  # with the pen's width
    assert high - low == pytest.approx(90.2 * up, abs=SLACK)
    # The hole's cross reaches 2.5 mm out of its circle, and its middle is the hole's.
    (arm_left, arm_right), (arm_low, arm_high) = extent(hole, 0), extent(hole, 1)
    assert arm_right - arm_left == pytest.approx(15.0 * across, abs=SLACK)
    assert (arm_left + arm_right) / 2 - left == pytest.approx(25.1 * across, abs=SLACK)
    assert (arm_low + arm_high) / 2 - low == pytest.approx(15.1 * up, abs=SLACK)
    # 3 mm above its middle a circle of radius 5 is 8 mm wide, with the cross's upright between.
    sides = middles(hole[round((arm_low + arm_high) / 2 + 3.0 * up)])
    assert sides - sides[1] == pytest.approx([-4.0 * across, 0.0, 4.0 * across], abs=SLACK)
    # The cut corner is upper right: no line there, but lines at the three others.
    size = round(5 * PIXEL)
    assert edge[low : low + size, left : left + size].any()
    assert edge[low : low + size, right - size : right].any()
    assert edge[high - size : high, left : left + size].any()
    assert not edge[high - size : high, right - size : right].any()


def _above_notes(data: bytes) -> Raster:
    """The first page without the notes at its foot, whose legend has the drawing's colours."""
    return rasters(data, [0])[0][round(80 * PIXEL) :]


def test_cross_hairs_of_neighbours_coincide() -> None:
    """On both pages the cross-hairs of a seam have the same place, measured from the drawing's own lines."""
    level = Stroke((Point(0, 220), Point(420, 220)))
    upright = Stroke((Point(141, 160), Point(141, 290)))
    plate = Item(Role.CUT_OUTSIDE, Outline.polygon([(0, 0), (420, 0), (420, 300), (0, 300)]))
    drawing = Drawing((Item(Role.CUT_INSIDE, level), Item(Role.DRILL, upright), plate), 420, 300)
    data = write_pdf(lay_out(drawing, PENS, NOTES, A4))
    left, right = (_hairs(raster) for raster in rasters(data, [1, 2]))
    assert len(left) == len(right) == 2
    for a, b in zip(left, right, strict=True):
        assert a == pytest.approx(b, abs=SLACK)


def _hairs(raster: Raster) -> list[tuple[float, float]]:
    """Cross-hairs within 6 mm of the green line, from its middle and the blue line's, in pixels."""
    green, blue = extent(of_colour(raster, GREEN), 0), extent(of_colour(raster, BLUE), 1)
    zero_x, zero_y = (green[0] + green[1]) / 2, (blue[0] + blue[1]) / 2
    # The cross-hairs' seam is 1.33 mm left of the green line: their arms reach 4.5 mm to both sides.
    start = round(zero_x - 6.0 * PIXEL)
    strip = of_colour(raster, BLACK)[round(60 * PIXEL) : -round(40 * PIXEL), start : round(zero_x + 3.4 * PIXEL)]
    arm = round(8.5 * PIXEL)
    levels = middles(np.array([longest_run(row) >= arm for row in strip]))
    uprights = middles(np.array([longest_run(column) >= arm for column in strip.T]))
    assert len(uprights) == 1
    return [(uprights[0] + start - zero_x, y + round(60 * PIXEL) - zero_y) for y in levels]


def test_dashes_are_printed(pens: Mapping[Role, Pen]) -> None:
    """A reference line is broken into dashes of 4 mm and dots, a mark of the same length is not."""
    line = Stroke((Point(10, 20), Point(90, 20)))
    pens = {**PENS, Role.REFERENCE: Pen("REF", "#00ff00", 0.2)}
    plate = Item(Role.CUT_OUTSIDE, Outline.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]))
    for role, runs in ((Role.REFERENCE, 26), (Role.DRILL, 1)):
        data = write_pdf(lay_out(Drawing((Item(role, line), plate), 100, 60), pens, NOTES, A4))
        mask = of_colour(_above_notes(data), GREEN)
        low, high = extent(mask, 1)
        # 80 mm in periods of 6.5 mm: twelve dashes with their dots, and the dash begun last
        assert len(middles(mask[(low + high) // 2])) == pytest.approx(runs, abs=1)
