"""The literals of the bare script: what `make` draws for rail.toml, taken from the program and kept as JSON.

`python tests/benchmarks/run.py --refresh` writes contours.json anew; needed when the example's plate, label or
page has changed on purpose.
"""

import json
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from jigtemplates import load_job, profiles_for, report_on
from jigtemplates.byhand import with_own_bits
from jigtemplates.cautions import cautions
from jigtemplates.drawing import Stroke
from jigtemplates.facts import facts, size_text
from jigtemplates.geometry.outline import Arc, Outline
from jigtemplates.parameters.entries import Bit
from jigtemplates.processes.machine import cnc_drawing, laser_drawing
from jigtemplates.processes.paper import PaperSize, PatternNotes, lay_out
from jigtemplates.processes.paper_page import Ink, Page, Pattern, Text, Window
from jigtemplates.processes.pattern import paper_drawing
from jigtemplates.processes.pens import pens_of
from jigtemplates.processes.setup import lay_out_setup
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report
from jigtemplates.writers.dxf import nearest_index
from jigtemplates.writers.layers import Shape, layers, ready
from jigtemplates.writers.pdf_page import beziers
from jigtemplates.writers.svg import write_svg

HERE = Path(__file__).parent
JOB = HERE / "rail.toml"
CONTOURS = HERE / "contours.json"


def contours() -> dict[str, Any]:
    """Everything the bare script writes, as plain numbers and texts."""
    profiles = profiles_for(JOB)
    report = report_on(load_job(JOB, profiles=profiles))
    shapes: list[dict[str, Any]] = []
    machines = {name: list(_machine(report, name, profiles, shapes)) for name in ("laser", "cnc")}
    papers = {f"paper_{paper.name}": _pattern(report, paper.name, profiles) for paper in report.job.make.papers}
    plate = next(iter(papers.values())).pages[0].windows[0].inks
    papers["setup"] = lay_out_setup(report).pattern
    return {
        "title": report.job.title,
        "shapes": shapes,
        "machines": machines,
        "pattern": _lines_of(plate),
        "papers": {name: _paper(pattern, plate) for name, pattern in papers.items()},
    }


def write() -> None:
    """Put them where the bare script reads them."""
    CONTOURS.write_text(as_text(contours()), encoding="utf-8")


def as_text(value: dict[str, Any]) -> str:
    """JSON with one shape, layer or page a line."""
    return "{\n" + ",\n".join(f" {json.dumps(key)}: {_lines(item)}" for key, item in value.items()) + "\n}\n"


def _lines(value: Any) -> str:
    if isinstance(value, dict):
        return "{\n" + ",\n".join(f"  {json.dumps(k)}: {json.dumps(v)}" for k, v in value.items()) + "\n }"
    if isinstance(value, list):
        return "[\n" + ",\n".join(f"  {json.dumps(item)}" for item in value) + "\n ]"
    return json.dumps(value)


def _machine(report: Report, name: str, profiles: Profiles, shapes: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The layers of one machine's files; a shape that is not yet among shapes is added to it."""
    drawing = laser_drawing(report.template) if name == "laser" else cnc_drawing(report.template)
    pens = pens_of(profiles.find("processes", name).entry)
    groups = ElementTree.fromstring(write_svg(drawing, pens, title=report.job.title))[1:]
    for layer, group in zip(layers(drawing, pens), groups, strict=True):
        literals = [_shape(s, e) for s, e in zip(layer.shapes, group, strict=True)]
        shapes.extend(new for new in literals if new not in shapes)
        pen = layer.pen
        look = {"name": pen.layer, "colour": pen.colour, "index": nearest_index(pen.colour), "stroke": pen.stroke}
        yield look | {"shapes": [shapes.index(literal) for literal in literals]}


def _shape(shape: Shape, element: ElementTree.Element) -> dict[str, Any]:
    """A circle, a line of two points, or the corners with their bulges; and the SVG path."""
    if element.tag.endswith("circle"):
        assert isinstance(shape, Outline)
        circle = ready(shape).as_circle
        assert circle is not None
        return {"circle": [*_rounded(circle.center), *_rounded([circle.radius])]}
    if isinstance(shape, Outline):
        points = [_rounded(vertex) for vertex in ready(shape).bulge_vertices()]
        return {"closed": True, "points": points, "path": element.get("d")}
    if len(shape.points) == 2:
        return {"line": [_rounded(p) for p in shape.points], "path": element.get("d")}
    return {"closed": False, "points": [[*_rounded(p), 0.0] for p in shape.points], "path": element.get("d")}


def _rounded(numbers: Iterable[float]) -> list[float]:
    return [round(number, 9) + 0.0 for number in numbers]


def _pattern(report: Report, name: str, profiles: Profiles) -> Pattern:
    """The plate on one paper, with the plan page."""
    paper = profiles.find("papers", name).entry
    size = PaperSize(name, paper.width.mm, paper.height.mm, paper.margin.mm, paper.foot.mm, paper.overlap.mm)
    drawing = paper_drawing(report.template, report.predicted)
    overall = size_text(drawing.width, drawing.height)
    notes = PatternNotes(report.job.title, facts(report), cautions(report.job), overall)
    by_hand = with_own_bits(report, [found.entry for found in profiles.own("bits") if isinstance(found.entry, Bit)])
    pens = pens_of(profiles.find("processes", "paper").entry)
    return lay_out(drawing, pens, notes, size, by_hand=by_hand)


def _paper(pattern: Pattern, plate: tuple[Ink, ...]) -> dict[str, Any]:
    """The pages of one file; windows on the plate leave its lines out, which are the same on every paper."""
    return {"size": [pattern.width, pattern.height], "pages": [_page(page, plate) for page in pattern.pages]}


def _page(page: Page, plate: tuple[Ink, ...]) -> dict[str, Any]:
    windows = [_window(window, plate) for window in page.windows]
    return {"lines": _lines_of(page.inks), "windows": windows, "texts": [_text(text) for text in page.texts]}


def _window(window: Window, plate: tuple[Ink, ...]) -> dict[str, Any]:
    shown = window.shown
    return {
        "origin": _rounded(window.origin),
        "frame": _rounded([shown.left, shown.bottom, shown.width, shown.height]),
        "texts": [_text(text) for text in window.texts],
        **({} if window.inks == plate else {"lines": _lines_of(window.inks)}),
    }


def _lines_of(inks: Iterable[Ink]) -> list[Any]:
    """Pens in turn, each with its pieces: a start, then ends of lines, curves, and [] to close."""
    pens = groupby(inks, key=lambda ink: (ink.width, ink.colour, ink.dash, ink.fill))
    return [
        [width, _colour(colour), list(dash), _colour(fill) if fill else [], [_piece(ink.shape) for ink in group]]
        for (width, colour, dash, fill), group in pens
    ]


def _piece(shape: Outline | Stroke) -> list[list[float]]:
    if isinstance(shape, Stroke):
        return [_rounded(point) for point in shape.points]
    steps = [_rounded(shape.segments[0].start)]
    for segment in shape.segments:
        steps += map(_rounded, beziers(segment) if isinstance(segment, Arc) else [segment.end])
    return [*steps, []]


def _text(text: Text) -> list[Any]:
    place = [*_rounded([text.x, text.y]), text.size]
    return [text.string, *place, text.bold, text.anchor, text.angle, _colour(text.colour)]


def _colour(colour: str) -> list[float]:
    return [round(int(colour[i : i + 2], 16) / 255, 6) for i in (1, 3, 5)]
