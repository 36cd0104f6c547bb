"""How a sentence about a job says a length: in millimetres, or inches first and the millimetres in brackets.

What is on a mark of a workshop rule is a fraction, else it has three decimals: see `lengths.inch_short`.
"""

from typing import TYPE_CHECKING

from jigtemplates.lengths import MM_PER_INCH, beside_text, first_text, inch_short, mm_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jigtemplates.geometry.outline import Point
    from jigtemplates.lengths import Length, Unit
    from jigtemplates.parameters.job import Cut, Job


def in_inches(job: "Job") -> bool:
    """Whether lengths of a job are said in inches first: its units are, or it has none and its cut is written so."""
    return are_inches(job.units, job.cut)


def are_inches(units: "Unit | None", cut: "Cut") -> bool:
    """The same of a job that is not yet resolved."""
    return units == "in" or (units is None and cut.width_written.is_inch)


def sizes_text(*mm: float, inches: bool) -> str:
    """Sides in a table, in one unit: "13.175 x 53.175 mm", or "0.442 x 1-11/16 in"."""
    unit, texts = ("in", map(inch_short, mm)) if inches else ("mm", (mm_text(side, 3) for side in mm))
    return f"{' x '.join(text.removesuffix(f' {unit}') for text in texts)} {unit}"


def said(mm: float, job: "Job", digits: int = 2) -> str:
    """ "34.93 mm", or "1-3/8 in (34.93 mm)"; digits are the decimals of the millimetres."""
    return first_text(mm, in_inches(job), digits)


def beside(mm: float, job: "Job", digits: int = 2) -> str:
    """The same where it stands in brackets with other words: "34.93 mm", or "1-3/8 in = 34.93 mm"."""
    return beside_text(mm, in_inches(job), digits)


def written(length: "Length", job: "Job") -> str:
    """A length as it was written; what is written in mm, or drawn, in a job in inches as `said` has it."""
    return written_text(length, in_inches(job))


def written_text(length: "Length", inches: bool) -> str:
    """The same for who knows no job."""
    return first_text(length.mm, inches, 3) if inches and not length.is_inch else length.text


def place(point: "Point", job: "Job") -> str:
    """Where something is on the plate: "(38.1 mm, 50.8 mm)", or "(1-1/2 in, 2 in)"."""
    x, y = (inch_short(at) if in_inches(job) else mm_text(at) for at in point)
    return f"({x}, {y})"


def sides(job: "Job", *mm: float) -> str:
    """ "152.4 mm x 127 mm", or "6 x 5 in (152.4 x 127 mm)"."""
    return sides_text(*mm, inches=in_inches(job))


def sides_text(*mm: float, inches: bool) -> str:
    """The same for who knows no job."""
    return "{} ({})".format(*_both(mm)) if inches else " x ".join(map(mm_text, mm))


def sides_aside(job: "Job", *mm: float) -> str:
    """The same in brackets: "(152.4 mm x 127 mm)", or "(6 x 5 in = 152.4 x 127 mm)"."""
    return f"({' = '.join(_both(mm))})" if in_inches(job) else f"({sides(job, *mm)})"


def _both(mm: tuple[float, ...]) -> tuple[str, str]:
    inches = " x ".join(inch_short(side).removesuffix(" in") for side in mm)
    return f"{inches} in", f"{' x '.join(mm_text(side).removesuffix(' mm') for side in mm)} mm"


def area(mm2: float, job: "Job") -> str:
    """An area in mm²: "19.47 mm²", or "0.030 sq in = 19.47 mm²"."""
    metric = f"{mm2:.2f} mm²"
    return f"{mm2 / float(MM_PER_INCH) ** 2:.3f} sq in = {metric}" if in_inches(job) else metric


def listed(words: "Iterable[object]") -> str:
    """ "1", "1 and 2", "1, 2 and 3"; at least one."""
    *first, last = map(str, words)
    return f"{', '.join(first)} and {last}" if first else last
