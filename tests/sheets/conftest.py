"""Small jobs in a folder, and what ezdxf and pypdfium2 read from the sheets made of them."""

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

import ezdxf
import pypdfium2  # type: ignore[import-untyped]
import pytest

from jigtemplates.batch import Done
from jigtemplates.parameters.entries import Process
from jigtemplates.profiles import Found, Profiles
from jigtemplates.report import Report
from jigtemplates.sheets.choice import Machine, choice_of
from jigtemplates.sheets.laying import Layout, lay
from jigtemplates.sheets.plates import Group, groups_of

JOB = """\
title = "{title}"
units = "{units}"
[cut]
shape = "slot"
width = {cut[0]}
length = {cut[1]}
depth = {cut[2]}
[tools]
bit = "8 mm"
bushing = "16 mm"
clearance = "0.1 mm"
[plate]
width = {size[0]}
height = {size[1]}
thickness = {thickness}
material = "{material}"
{plate}
[make]
for = {targets}
{make}
"""


@pytest.fixture
def job(here: Path) -> Callable[..., Path]:
    """job("rail", (140, 100), material="plywood"): writes rail.toml into the folder the test works in."""

    def write(
        name: str,
        size: tuple[float, float] = (140, 100),
        *,
        material: str = "mdf",
        thickness: float = 6,
        units: str = "mm",
        cut: tuple[float, float, float] = (10, 40, 12),
        targets: str = '["laser"]',
        make: str = "",
        plate: str = "",
        title: str = "",
    ) -> Path:
        path = here / f"{name}.toml"
        values = {"material": material, "thickness": thickness, "units": units, "targets": targets, "cut": cut}
        text = JOB.format(title=title or name.capitalize(), size=size, make=make, plate=plate, **values)
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    return write


def done_with(*reports: Report) -> list[Done]:
    """Reports as a batch gives them."""
    return [Done(Path(f"{report.job.stem}.toml"), report) for report in reports]


def group_of(*reports: Report, copies: int = 1) -> Group:
    """The one group that some reports make."""
    (group,) = groups_of(done_with(*reports), {report.job.stem: copies for report in reports})
    return group


def process(machine: Machine, **changes: Any) -> Found[Process]:
    """The shipped process, with some of its values changed."""
    found = Profiles().find("processes", machine)
    return replace(found, entry=found.entry.model_copy(update=changes))


def laid(group: Group, stock: str | Iterable[str] = "600x400", **options: Any) -> Layout:
    """The group laid on the stock with the shipped process."""
    stocks = [stock] if isinstance(stock, str) else list(stock)
    return lay(group, choice_of(stocks=stocks, **options), process(group.machine))


class Contour(NamedTuple):
    """What ezdxf says of one contour or stroke, mm."""

    layer: str
    #: left, bottom, right, top
    box: tuple[float, ...]
    #: signed, arcs included; 0 of an open stroke
    area: float
    #: |bulge| of each of its segments, from small to large, as far as they are arcs
    bulges: tuple[float, ...]

    def moved(self, x: float, y: float) -> "Contour":
        """At another place."""
        left, low, right, top = self.box
        return self._replace(box=(left + x, low + y, right + x, top + y))

    def turned(self, height: float) -> "Contour":
        """By a quarter to the left, in a drawing of that height, whose lower-left corner stays."""
        left, low, right, top = self.box
        return self._replace(box=(height - top, left, height - low, right))

    @property
    def rounded(self) -> "Contour":
        """To a ten-thousandth, to be compared."""
        box = tuple(round(side, 4) + 0.0 for side in self.box)
        return Contour(self.layer, box, round(self.area, 3), tuple(round(bulge, 6) for bulge in self.bulges))


def contours(path: Path) -> list[Contour]:
    """Every contour of a DXF file in the order of the file."""
    return [_contour(entity) for entity in ezdxf.readfile(path).modelspace()]  # type: ignore[attr-defined]


def _contour(entity: Any) -> Contour:
    if entity.dxftype() == "CIRCLE":
        (x, y, _), r = entity.dxf.center, entity.dxf.radius
        return Contour(entity.dxf.layer, (x - r, y - r, x + r, y + r), math.pi * r * r, (1.0, 1.0))
    if entity.dxftype() == "LINE":
        (x0, y0, _), (x1, y1, _) = entity.dxf.start, entity.dxf.end
        return Contour(entity.dxf.layer, (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), 0.0, ())
    points = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    for piece in entity.virtual_entities():
        if piece.dxftype() == "ARC":
            flat = list(piece.flattening(1e-7))
            xs += [p.x for p in flat]
            ys += [p.y for p in flat]
    box = (min(xs), min(ys), max(xs), max(ys))
    bulges = tuple(sorted(abs(bulge) for _, _, bulge in points if bulge))
    return Contour(entity.dxf.layer, box, _area(points) if entity.closed else 0.0, bulges)


def _area(points: list[tuple[float, float, float]]) -> float:
    """Shoelace, and for each bulge b over a chord c the segment of its circle (textbook formula)."""
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(points, points[1:] + points[:1], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            sweep, chord = 4 * math.atan(bulge), math.hypot(x1 - x0, y1 - y0)
            radius = chord / 2 / abs(math.sin(sweep / 2))
            total += radius**2 * (sweep - math.sin(sweep)) / 2
    return total


def page_texts(path: Path) -> list[str]:
    """The words of each page of a PDF file, with single spaces."""
    document = pypdfium2.PdfDocument(path)
    texts = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return texts
