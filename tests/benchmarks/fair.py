"""Whether the bare script is still a fair measure: it imports what `make` imports, and draws what `make` draws."""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import bare
import dump
import ezdxf

ROOT = Path(__file__).resolve().parents[2]
#: Prints the names of all modules that a run of the command line has imported.
IMPORTS_OF_MAKE = """
import sys
from jigtemplates.cli import run
run(["make", sys.argv[1], "--out", sys.argv[2]])
print(" ".join(sys.modules))
"""
#: Of 255, between two dots that count as alike (chosen; measured: 0 on both papers, 74 with mitred corners).
MOST_SHADE = 16
IMPORTS_OF_BARE = """
import sys
from pathlib import Path
import bare
bare.main(Path(sys.argv[2]))
print(" ".join(sys.modules))
"""


def faults(job: Path) -> list[str]:
    """A line for each way in which the two differ; none where they can be compared."""
    with TemporaryDirectory() as folder:
        made, by_hand = Path(folder) / "made", Path(folder) / "bare"
        ours = imported(IMPORTS_OF_MAKE, job, made)
        theirs = imported(IMPORTS_OF_BARE, job, by_hand)
        return [*_import_faults(ours, theirs), *_literal_faults(), *_drawn_faults(made / job.stem, by_hand)]


def imported(program: str, job: Path, out: Path) -> set[str]:
    """Modules of others that a program imports, beyond Python's own and ours."""
    command = [sys.executable, "-c", program, str(job), str(out)]
    paths = f"{ROOT}{':' if sys.platform != 'win32' else ';'}{Path(__file__).parent}"
    done = subprocess.run(command, check=True, capture_output=True, text=True, env={"PYTHONPATH": paths})
    names = done.stdout.splitlines()[-1].split()
    own = sys.stdlib_module_names | {"jigtemplates", "bare", "__main__", "__mp_main__"}
    return {name for name in names if name.partition(".")[0] not in own}


def _import_faults(ours: set[str], theirs: set[str]) -> Iterator[str]:
    packages, others = ({name.partition(".")[0] for name in names} for names in (ours, theirs))
    if packages != others:
        yield f"one of the two imports a library and the other does not: {', '.join(sorted(packages ^ others))}"
    if theirs - ours:
        yield f"bare.py imports what make does not: {', '.join(sorted(theirs - ours))}"


def _literal_faults() -> Iterator[str]:
    if json.loads(json.dumps(dump.contours())) != bare.read_contours():
        yield "contours.json is not what make draws now (run: python tests/benchmarks/run.py --refresh)"


def _drawn_faults(made: Path, by_hand: Path) -> Iterator[str]:
    lacking = {path.name for path in made.iterdir() if path.suffix != ".json"} - {p.name for p in by_hand.iterdir()}
    if lacking:
        yield f"bare.py does not write what make writes: {', '.join(sorted(lacking))}"
    for path in sorted(by_hand.iterdir()):
        if not _same(path, made / path.name):
            yield f"{path.name} of bare.py does not draw what make's draws"


def _same(a: Path, b: Path) -> bool:
    if a.suffix == ".pdf":
        return _looks_alike(a, b)
    says = _dxf if a.suffix == ".dxf" else _svg
    return bool(says(a) == says(b))


def _dxf(path: Path) -> list[Any]:
    space = ezdxf.readfile(path).modelspace()  # type: ignore[attr-defined]
    return [(e.dxftype(), e.dxf.layer, *_places(e)) for e in space]


def _places(entity: Any) -> Iterator[float]:
    if entity.dxftype() == "LWPOLYLINE":
        yield from (round(n, 6) for point in entity.get_points("xyb") for n in point)
        yield entity.closed
    elif entity.dxftype() == "CIRCLE":
        yield from (round(n, 6) for n in (*entity.dxf.center, entity.dxf.radius))
    else:
        yield from (round(n, 6) for n in (*entity.dxf.start, *entity.dxf.end))


def _svg(path: Path) -> list[Any]:
    """Paths word for word, circles by number, layers by name."""
    text = path.read_text(encoding="utf-8")
    circles = re.findall(r'<circle cx="(.*?)" cy="(.*?)" r="(.*?)"', text)
    return [re.findall(r' d="(.*?)"', text), re.findall(r' id="(.*?)"', text), [[*map(float, c)] for c in circles]]


def _looks_alike(a: Path, b: Path) -> bool:
    """Whether two files differ in no dot by more than a shade, at 72 dots per inch by another program."""
    first, second = _rasters(a), _rasters(b)
    return len(first) == len(second) and all(map(_alike, first, second))


def _alike(a: Any, b: Any) -> bool:
    return bool(a.shape == b.shape and abs(a - b).max() < MOST_SHADE)


def _rasters(path: Path) -> list[Any]:
    """Each page as shades of grey."""
    import pypdfium2  # type: ignore[import-untyped]

    return [page.render(grayscale=True).to_numpy().astype(int) for page in pypdfium2.PdfDocument(path)]
