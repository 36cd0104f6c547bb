"""The bare script that `make` is measured against: the files of rail.toml, written by hand.

What somebody who knows the libraries would type for this one plate: every number is a literal (they
stand in contours.json, taken once from the program by dump.py), and the libraries do the writing. No job
is read, no geometry is done, nothing is checked or read back, and nothing survives a crash.

It imports what `make` imports of other people's, used here or not, and nothing else; `run.py` refuses to
measure when that is no longer so, or when the two no longer draw the same.

    python tests/benchmarks/bare.py FOLDER
"""

import json
import sys
from pathlib import Path
from typing import Any

import click  # noqa: F401
import ezdxf
import numpy  # noqa: F401
import platformdirs  # noqa: F401
import reportlab.rl_config
import shapely  # noqa: F401
import svgwrite
from HersheyFonts import HersheyFonts  # noqa: F401
from pydantic import BaseModel, Field, PlainValidator, ValidationError  # noqa: F401
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

HERE = Path(__file__).parent
FONTS = HERE.parents[1] / "jigtemplates" / "fonts"
MM = 72 / 25.4

Shape = dict[str, Any]


def main(folder: Path) -> None:
    """Write the seven files into the folder."""
    register_fonts()
    write_all(read_contours(), folder)


def read_contours() -> dict[str, Any]:
    """The literals."""
    contours: dict[str, Any] = json.loads((HERE / "contours.json").read_text(encoding="utf-8"))
    return contours


def register_fonts() -> None:
    """The two faces of the paper patterns, once in a process."""
    pdfmetrics.registerFont(TTFont("Sans", str(FONTS / "DejaVuSans.ttf")))
    pdfmetrics.registerFont(TTFont("Sans-Bold", str(FONTS / "DejaVuSans-Bold.ttf")))
    reportlab.rl_config.useA85 = 0


def write_all(contours: dict[str, Any], folder: Path) -> None:
    """All files of the example."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, machine in contours["machines"].items():
        write_dxf(machine, contours["shapes"], folder / f"rail_{name}_mm.dxf")
        write_svg(machine, contours, folder / f"rail_{name}.svg")
    for name, paper in contours["papers"].items():
        write_pdf(paper, contours["pattern"], contours["title"], folder / f"rail_{name}.pdf")


def write_dxf(layers: list[dict[str, Any]], shapes: list[Shape], path: Path) -> None:
    """Closed and open LWPOLYLINE, CIRCLE and LINE on named layers, R2000, in millimetres."""
    document = ezdxf.new("R2000")  # type: ignore[attr-defined]  # ezdxf re-exports it without saying so
    document.header["$INSUNITS"] = 4
    document.header["$MEASUREMENT"] = 1
    space = document.modelspace()
    space.dxf.extmin, space.dxf.extmax = (0, 0, 0), (140, 140, 0)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0, 0, 0), (140, 140, 0)
    space.dxf.limmin, space.dxf.limmax = (0, 0), (140, 140)
    for layer in layers:
        document.layers.add(layer["name"], color=layer["index"])
        look = {"layer": layer["name"]}
        for number in layer["shapes"]:
            shape = shapes[number]
            if "circle" in shape:
                x, y, radius = shape["circle"]
                space.add_circle((x, y), radius, look)
            elif "line" in shape:
                start, end = shape["line"]
                space.add_line(start, end, look)
            else:
                space.add_lwpolyline(shape["points"], "xyb", close=shape["closed"], dxfattribs=look)
    document.saveas(path)


def write_svg(layers: list[dict[str, Any]], contours: dict[str, Any], path: Path) -> None:
    """One group a layer, paths and circles in millimetres."""
    picture = svgwrite.Drawing(str(path), size=("140mm", "140mm"), viewBox="0 0 140 140", debug=False)
    picture.set_desc(title=contours["title"])
    for layer in layers:
        group = picture.g(id=layer["name"], fill="none", stroke=layer["colour"], stroke_width=layer["stroke"])
        for number in layer["shapes"]:
            shape = contours["shapes"][number]
            if "circle" in shape:
                x, y, radius = shape["circle"]
                group.add(picture.circle((x, 140 - y), radius))
            else:
                group.add(picture.path(d=shape["path"]))
        picture.add(group)
    picture.save(pretty=False)


def write_pdf(paper: dict[str, Any], pattern: list[Any], title: str, path: Path) -> None:
    """Pages at true size: lines, windows on the pattern or on a picture, texts."""
    width, height = paper["size"]
    canvas = Canvas(str(path), (width * MM, height * MM), pageCompression=1, invariant=1, initialFontName="Sans")
    canvas.setTitle(title)
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    for page in paper["pages"]:
        canvas.scale(MM, MM)
        canvas.setLineJoin(1)
        draw_lines(canvas, page["lines"])
        for window in page["windows"]:
            draw_window(canvas, window, pattern)
        draw_texts(canvas, page["texts"])
        canvas.showPage()
    canvas.save()


def draw_window(canvas: Canvas, window: dict[str, Any], pattern: list[Any]) -> None:
    """A part of the page: the plate's pattern, or lines and texts of its own."""
    canvas.saveState()
    canvas.translate(*window["origin"])
    frame = canvas.beginPath()
    frame.rect(*window["frame"])
    canvas.clipPath(frame, stroke=0, fill=0)
    draw_lines(canvas, window.get("lines", pattern))
    draw_texts(canvas, window["texts"])
    canvas.restoreState()


def draw_lines(canvas: Canvas, pens: list[Any]) -> None:
    """Each pen with all that it draws, in one path; a fill of [] is none, a width of 0 no line."""
    for width, colour, dash, fill, pieces in pens:
        canvas.setLineWidth(width)
        canvas.setStrokeColorRGB(*colour)
        canvas.setDash(dash)
        if fill:
            canvas.setFillColorRGB(*fill)
        path = canvas.beginPath()
        for piece in pieces:
            path.moveTo(*piece[0])
            for step in piece[1:]:
                if not step:
                    path.close()
                elif len(step) == 2:
                    path.lineTo(*step)
                else:
                    path.curveTo(*step)
        canvas.drawPath(path, stroke=int(width > 0), fill=int(bool(fill)), fillMode=1)


def draw_texts(canvas: Canvas, texts: list[Any]) -> None:
    """Each line of text where it stands, level or turned."""
    for string, x, y, size, bold, anchor, angle, colour in texts:
        canvas.setFont("Sans-Bold" if bold else "Sans", size)
        canvas.setFillColorRGB(*colour)
        draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[anchor]
        if angle == 0:
            draw(x, y, string)
            continue
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(angle)
        draw(0, 0, string)
        canvas.restoreState()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
