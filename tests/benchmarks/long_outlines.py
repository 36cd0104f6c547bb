"""What a drawn outline of very many points costs beside the bare shapely buffers and writes of the same contour.

    python tests/benchmarks/long_outlines.py [ROUNDS]      smooth contours of 1,000 to 200,000 points, and rough ones

ours: the drawing is read, the opening computed, routed back and compared with the drawing, and DXF and SVG are made,
read back and written for laser and CNC router. Everything is exact to 1e-6 mm; arcs stay arcs.
bare: the same file is read with ezdxf (or xml.etree), offset by four shapely buffers of 64 chords a quarter, and
written with ezdxf and as SVG text, the same four files. It simplifies what it reads by 1 % of the distance (so GEOS
does), checks nothing and reads nothing back.

Both are timed by the processor's clock, in turn, in one process. Peak memory is that of a process of its own for each,
less what it has after its imports. The contour is a wavy ring of straights, 284 mm across; "rough" moves every point
by up to a share of the distance between two, at random, as a digitiser's noise would.
"""

import io
import json
import math
import random
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from xml.etree import ElementTree

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1]))  # this checkout, whatever is installed

import ezdxf  # noqa: E402
import shapely  # noqa: E402

from jigtemplates.drawing import Drawing, Item, Pen, Role  # noqa: E402
from jigtemplates.geometry.measure import deviation  # noqa: E402
from jigtemplates.geometry.offset import grow, shrink  # noqa: E402
from jigtemplates.geometry.outline import Outline  # noqa: E402
from jigtemplates.imports.outline_file import read_outline  # noqa: E402
from jigtemplates.routing import route  # noqa: E402
from jigtemplates.writers.dxf import write_dxf  # noqa: E402
from jigtemplates.writers.readback import check_dxf, check_svg  # noqa: E402
from jigtemplates.writers.svg import write_svg  # noqa: E402

#: mm: the bit's and the bushing's half, and the side of the plate.
BIT, BUSHING, PLATE = 3.0, 8.0, 400.0
SMOOTH = (1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000, 200_000)
#: Number of points, and the noise as a share of the distance between two.
ROUGH = ((10_000, 0.05), (100_000, 0.001), (100_000, 0.01), (100_000, 0.05))
#: Issue 4: what 100,000 points may cost as a multiple of the bare script, and twice the points.
MOST_RATIO, MOST_DOUBLING = 3.0, 2.3
PENS = {Role.CUT_INSIDE: Pen("INSIDE", "#ff0000", 0.1), Role.CUT_OUTSIDE: Pen("OUTSIDE", "#0000ff", 0.1)}
FOUR = ("laser", "cnc")

Run = Callable[[Path, Path], None]


def main() -> int:
    """Measure and print; 0 where ratio and growth are as low as they should be."""
    if sys.argv[1:2] == ["--peak"]:
        print(json.dumps(peak(*sys.argv[2:5])))
        return 0
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    with TemporaryDirectory() as folder:
        good = all([*smooth(rounds, Path(folder)), *rough(rounds, Path(folder))])
    return 0 if good else 1


def smooth(rounds: int, folder: Path) -> Iterator[bool]:
    """A line for each number of points and kind of file, then how the time grows."""
    for ending in ("dxf", "svg"):
        times: dict[int, float] = {}
        for count in SMOOTH:
            times[count], ratio = measured(rounds, drawing(folder, ending, count, 0.0), f"{count:>8} {ending}")
            yield count != 100_000 or ratio <= MOST_RATIO
        for low, high in ((50_000, 100_000), (100_000, 200_000)):
            growth = times[high] / times[low]
            print(f"twice the points, {low} to {high}: {growth:.2f} times (at most {MOST_DOUBLING})")
            yield growth <= MOST_DOUBLING
        print(f"growth exponent from 10,000 to 200,000: {exponent(times, 10_000, 200_000):.2f}")


def rough(rounds: int, folder: Path) -> Iterator[bool]:
    """A line for each rough contour."""
    for count, noise in ROUGH:
        _, ratio = measured(rounds, drawing(folder, "dxf", count, noise), f"{count:>8} dxf, rough by {noise:g}")
        yield ratio <= MOST_RATIO


def exponent(times: dict[int, float], low: int, high: int) -> float:
    """The power of the number of points that the time goes with."""
    return math.log(times[high] / times[low]) / math.log(high / low)


def measured(rounds: int, path: Path, name: str) -> tuple[float, float]:
    """Least seconds of ours, and the ratio to the least of the bare script."""
    pairs = [(seconds(ours, path), seconds(bare, path)) for _ in range(rounds)]
    one, other = min(a for a, _ in pairs), min(b for _, b in pairs)
    memory = [grown(who, path) for who in ("ours", "bare")]
    print(
        f"{name:<30} ours {one:7.3f} s  bare {other:7.3f} s  ratio {one / other:5.2f}   "
        f"memory {memory[0]:4.0f} MB, bare {memory[1]:4.0f} MB",
        flush=True,
    )
    return one, one / other


def seconds(run: Run, path: Path) -> float:
    """What one run takes of the processor."""
    start = time.process_time()
    run(path, path.parent)
    return time.process_time() - start


def grown(who: str, path: Path) -> float:
    """Peak memory of a process that does one of the two, MB beyond its imports."""
    command = [sys.executable, __file__, "--peak", who, str(path), str(path.parent)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return float(json.loads(done.stdout))


def peak(who: str, path: str, out: str) -> float:
    """The same, in the process itself."""
    before = memory()
    {"ours": ours, "bare": bare}[who](Path(path), Path(out))
    return memory() - before


def memory() -> float:
    """Most memory this process has had, MB; Linux counts it from the start of the program, not of the one before it."""
    status = Path("/proc/self/status")
    if status.exists():
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def drawing(folder: Path, ending: str, count: int, noise: float) -> Path:
    """A drawing of a contour of so many points."""
    path = folder / f"wavy-{count}-{noise:g}.{ending}"
    points = list(contour(count, noise))
    path.write_text((dxf_text if ending == "dxf" else svg_text)(points), encoding="utf-8")
    return path


def contour(count: int, noise: float) -> Iterator[tuple[float, float]]:
    """Points of a ring of nine waves, radius 118 to 142 mm; rough by a share of the distance between two."""
    draw = random.Random(count)
    step = 2 * math.pi / count
    for i in range(count):
        radius = 130 + 12 * math.sin(9 * i * step) + noise * 130 * step * draw.uniform(-1, 1)
        yield round(radius * math.cos(i * step), 6), round(radius * math.sin(i * step), 6)


def dxf_text(points: list[tuple[float, float]]) -> str:
    """An LWPOLYLINE in mm."""
    document = ezdxf.new("R2000")  # type: ignore[attr-defined]  # ezdxf re-exports it without saying so
    document.header["$INSUNITS"] = 4
    polyline = document.modelspace().add_lwpolyline([], close=True)
    polyline.lwpoints.extend([(x, y, 0.0, 0.0, 0.0) for x, y in points])
    text = io.StringIO()
    document.write(text)
    return text.getvalue()


def svg_text(points: list[tuple[float, float]]) -> str:
    """A path in mm."""
    data = " L ".join(f"{x} {y}" for x, y in points)
    box = 'width="300mm" height="300mm" viewBox="-150 -150 300 300"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}><path d="M {data} Z"/></svg>'


def ours(path: Path, out: Path) -> None:
    """All that the program does of it, but for plate, label and set-up sheet."""
    cut = (read_outline(path),)
    opening = grow(shrink(cut, BIT), BUSHING)
    routed = route(opening, 2 * BIT, 2 * BUSHING)
    deviation(routed, cut)
    corners = [(0.0, 0.0), (PLATE, 0.0), (PLATE, PLATE), (0.0, PLATE)]
    inside = [Item(Role.CUT_INSIDE, ring.moved(PLATE / 2, PLATE / 2)) for part in opening for ring in part.rings]
    sheet = Drawing((*inside, Item(Role.CUT_OUTSIDE, Outline.polygon(corners))), PLATE, PLATE)
    dxf, svg = write_dxf(sheet, PENS), write_svg(sheet, PENS, title="Wavy")
    check_dxf(dxf, sheet, PENS)
    check_svg(svg, sheet, PENS)
    write_four(out, "ours", dxf, svg)


def bare(path: Path, out: Path) -> None:
    """What somebody who knows the libraries would type."""
    cut = shapely.Polygon(read_dxf(path) if path.suffix == ".dxf" else read_svg(path))
    opening = cut.buffer(-BIT, quad_segs=64).buffer(BUSHING, quad_segs=64)
    opening.buffer(-BUSHING, quad_segs=64).buffer(BIT, quad_segs=64)
    parts = [*shapely.get_parts(opening), shapely.box(-PLATE / 2, -PLATE / 2, PLATE / 2, PLATE / 2)]
    rings = [list(ring.coords)[:-1] for part in parts for ring in (part.exterior, *part.interiors)]
    document = ezdxf.new("R2000")  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = 4
    for ring in rings:
        document.modelspace().add_lwpolyline(ring, format="xy", close=True)
    text = io.StringIO()
    document.write(text)
    paths = "".join(f'<path d="M {" L ".join(f"{x:.9f} {-y:.9f}" for x, y in ring)} Z"/>' for ring in rings)
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="400mm">{paths}</svg>'
    write_four(out, "bare", text.getvalue().encode(), svg.encode())


def read_dxf(path: Path) -> Any:
    """The corners of the one polyline."""
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]
    return next(iter(document.modelspace())).get_points("xy")  # type: ignore[attr-defined]


def read_svg(path: Path) -> list[tuple[float, float]]:
    """The places of the one path."""
    data = ElementTree.parse(path).getroot()[0].attrib["d"]
    words = data.replace("M", "").replace("L", "").replace("Z", "").split()
    return list(zip(map(float, words[0::2]), map(float, words[1::2]), strict=True))


def write_four(out: Path, name: str, dxf: bytes, svg: bytes) -> None:
    """Both files for laser and CNC router."""
    for machine in FOUR:
        (out / f"{name}_{machine}.dxf").write_bytes(dxf)
        (out / f"{name}_{machine}.svg").write_bytes(svg)


if __name__ == "__main__":
    sys.exit(main())
