"""The set-up sheet as a file: read by PDFium and pikepdf, and measured in a raster of 600 dpi."""

import io
from collections.abc import Callable
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2  # type: ignore[import-untyped]
import pytest

from jigtemplates.making import make_files
from jigtemplates.processes.setup import SetupSheet, lay_out_setup
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report
from jigtemplates.writers.faults import ReadBackError
from jigtemplates.writers.pdf import check_pdf, write_pdf

DPI = 600
PIXEL = DPI / 25.4
ReportWith = Callable[..., Report]
Raster = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.bool_]
BUSHING = {"diameter": "1/2 in", "bore": "13/32 in", "stem": "5.5 mm"}


@pytest.fixture(scope="module")
def sheet_with(report_with: ReportWith) -> Callable[..., tuple[SetupSheet, bytes]]:
    """sheet_with(cut={…}): the sheet of the plan's job with keys changed, and its file."""

    def build(*args: Any, **tables: Any) -> tuple[SetupSheet, bytes]:
        made = lay_out_setup(report_with(*args, **tables))
        return made, write_pdf(made.pattern)

    return build


SheetWith = Callable[..., tuple[SetupSheet, bytes]]


def text_of(data: bytes) -> str:
    """The first page's text as PDFium extracts it; the second is about the fit."""
    pdf = pypdfium2.PdfDocument(data)
    assert len(pdf) == 2
    page = pdf[0]
    text = page.get_textpage()
    found = text.get_text_range()
    text.close()
    page.close()
    pdf.close()
    return str(found)


def raster(data: bytes) -> Raster:
    """The page as an array of red, green and blue, the page's foot first."""
    pdf = pypdfium2.PdfDocument(data)
    page = pdf[0]
    image: Raster = page.render(scale=DPI / 72, rev_byteorder=True).to_numpy()[::-1, :, :3].copy()
    page.close()
    pdf.close()
    return image


def part_of(made: SetupSheet, data: bytes, name: str) -> Raster:
    """The raster of one part of the page."""
    box = next(part.box for part in made.parts if part.name == name)
    left, bottom, right, top = (round(side * PIXEL) for side in box)
    return raster(data)[bottom:top, left:right]


def of_colour(image: Raster, colour: str) -> Mask:
    """Pixels of exactly one tint."""
    mask: Mask = np.ones(image.shape[:2], dtype=np.bool_)
    for channel, at in enumerate((1, 3, 5)):
        mask &= np.abs(image[:, :, channel].astype(np.int16) - int(colour[at : at + 2], 16)) <= 2
    return mask


@pytest.mark.parametrize(("depth", "thickness", "scale"), [(28, 6, 1.0), (10, 6, 2.0), (70, 18, 0.4)])
def test_the_section_measured(sheet_with: SheetWith, depth: int, thickness: int, scale: float) -> None:
    """At the scale it states, the bit measures 9.525 mm and the plate its thickness between their lines of 0.5 mm."""
    tools = {"bit": "3/8 in", "bushing": BUSHING, "pass_depth": 5}
    made, data = sheet_with(cut={"depth": depth}, tools=tools, plate={"thickness": thickness})
    assert made.section_scale == scale
    words = {1.0: "scale 1:1", 2.0: "scale 2:1", 0.4: "scale 1:2.5"}[scale]
    assert words in text_of(data)
    image = part_of(made, data, "section")
    bit = of_colour(image, "#DCEAF3")
    rows = np.flatnonzero(bit.sum(axis=1) > 2.0 * PIXEL)
    low = rows[: len(rows) // 3]  # in the cut, where the bit has both its edges; the axis cuts its tint in two
    across = [np.ptp(np.flatnonzero(bit[y])) + 1 for y in low]
    assert np.median(across) / PIXEL == pytest.approx(9.525 * scale - 0.5, abs=0.15)
    plate = np.flatnonzero(of_colour(image, "#FBE9C4").any(axis=1))
    assert (np.ptp(plate) + 1) / PIXEL == pytest.approx(thickness * scale - 0.5, abs=0.15)


def test_the_plan_measured(sheet_with: SheetWith) -> None:
    """At 1:2.5 the plate of 140 mm measures 56 mm between the middles of its lines of 0.5 mm."""
    made, data = sheet_with(plate={"screws": None})
    assert made.plan_scale == 0.4
    plate = of_colour(part_of(made, data, "plan"), "#FBE9C4")
    width = np.flatnonzero(plate.any(axis=0))
    height = np.flatnonzero(plate.any(axis=1))
    assert (width[-1] - width[0] + 1) / PIXEL == pytest.approx(55.5, abs=0.15)
    assert (height[-1] - height[0] + 1) / PIXEL == pytest.approx(55.5, abs=0.15)


def test_what_is_not_reached_can_be_seen(sheet_with: SheetWith) -> None:
    """In square corners some of the page is vermillion; with round corners only the thin line round the cut is."""
    counts = []
    for radius in (0, 8):
        cut = {"shape": "rectangle", "width": 40, "length": 60, "corner_radius": radius, "depth": 12}
        tools = {"bit": "16 mm", "bushing": {"diameter": 24, "bore": 20, "stem": 5}}
        counts.append(int(of_colour(part_of(*sheet_with(cut=cut, tools=tools), "plan"), "#D55E00").sum()))
    # four corners of (1 - pi / 4) x 8² mm² at 1:2 are 13.7 mm², of which the lines over them hide some
    assert counts[0] - counts[1] > 8 * PIXEL**2


@pytest.mark.parametrize(
    "figure",
    ["34 mm", "3/8 in", "1/2 in", "24,000", "clockwise", "plunge 34 mm", "opening 13.175 mm", "bushing 12.7 mm",
     "bit 9.525 mm", "cut 10 mm", "5.5 mm", "6 passes of at most 4.7 mm", "29.3", "scale 1:1", "scale 1:2.5", "datum",
     "only 0.79 mm between bit"],
)  # fmt: skip
def test_key_figures_can_be_read(sheet_with: SheetWith, figure: str) -> None:
    """PDFium reads the figures of the job out of the file."""
    _, data = sheet_with(tools={"bit": "3/8 in", "bushing": BUSHING})
    assert figure in text_of(data).replace("\r\n", " ")


@pytest.mark.parametrize(
    ("paper", "points"), [("a4", (595.27559055, 841.88976378)), ("letter", (612.0, 792.0))]
)  # ISO 216 and ASME Y14.1, times 72 / 25.4
def test_pages_of_the_paper(sheet_with: SheetWith, paper: str, points: tuple[float, float]) -> None:
    """Both pages are exactly the paper, printed unscaled on one side, with both fonts embedded."""
    _, data = sheet_with(make={"for": ["paper"], "papers": [paper]})
    pdf = pikepdf.open(io.BytesIO(data))
    assert pdf.check_pdf_syntax() == []
    page, fit = pdf.pages
    assert [float(n) for n in fit.MediaBox] == [float(n) for n in page.MediaBox]
    assert [float(n) for n in page.MediaBox] == pytest.approx([0, 0, *points], abs=1.1e-8)
    assert str(pdf.Root.ViewerPreferences.PrintScaling) == "/None"
    fonts = page.Resources.Font.values()
    for font in fonts:
        assert "/FontFile2" in font.FontDescriptor
    assert len(list(fonts)) == 2


def test_the_same_bytes(report_with: ReportWith) -> None:
    """Made twice, the file is the same."""
    files = [list(make_files(report_with(make={"for": ["cnc"]}), Profiles()))[-1] for _ in range(2)]
    assert files[0].name == "rail_setup.pdf"
    assert files[0].data == files[1].data
    assert files[0].size == (210.0, 297.0)


def test_read_back_without_bars(sheet_with: SheetWith) -> None:
    """The sheet passes the read-back, which asks for no bars of it; a pattern without them would not pass."""
    made, data = sheet_with()
    check_pdf(data, made.pattern, bars=False)
    with pytest.raises(ReadBackError, match="it has no level bar of 4 in"):
        check_pdf(data, made.pattern)


def test_the_tints_of_the_plan(sheet_with: SheetWith) -> None:
    """Plate, cut, bushing and bit lie over each other, and something is seen of the tint of each."""
    made, data = sheet_with(
        cut={"shape": "round", "diameter": 60, "depth": 12}, tools={"bit": "8 mm", "bushing": {"diameter": 30}}
    )
    image = part_of(made, data, "plan")
    for tint in ("#FBE9C4", "#F9DCC6", "#CDE8F8", "#DCEAF3"):
        assert of_colour(image, tint).sum() > PIXEL**2
