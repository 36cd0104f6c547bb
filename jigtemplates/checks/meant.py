"""Was a number meant in millimetres where it is read in inches?"""

from fractions import Fraction

from jigtemplates.checks.finding import Case
from jigtemplates.lengths import MM_PER_INCH, Length, mm_text
from jigtemplates.say import in_inches


def meant_in_mm(case: Case) -> str:
    """What to write for sides or a place of the cut that are off the plate in inches and not in mm; else nothing.

    It continues a sentence: `; if 50 mm is meant, not 50 in: write "50 mm"`.
    """
    cut, plate = case.job.cut, case.job.plate
    sides = tuple(dict.fromkeys(side for side in (cut.width_written, cut.length_written) if side.is_inch))
    largest = max(plate.width, plate.height)
    too_long = tuple(side for side in sides if side.mm > largest)
    if too_long:
        for chosen in (too_long, sides):
            if _fits(case, chosen, largest):
                return instead(*chosen)
    return _places_in_mm(case)


def _places_in_mm(case: Case) -> str:
    """The same for x and y of a job in inches, where the cut's middle lies beyond the plate."""
    cut, plate = case.job.cut, case.job.plate
    beyond = [(at, side) for at, side in ((cut.x, plate.width), (cut.y, plate.height)) if at > side]
    read = {in_inch(at): side for at, side in beyond}
    if not beyond or not in_inches(case.job) or any(as_mm(at) >= side for at, side in read.items()):
        return ""
    return instead(*read)


def in_inch(mm: float) -> Length:
    """A length of a job in inches as it was probably written, its zeros left out: "70 in", "2.5 in"."""
    exact = (Fraction(mm) / MM_PER_INCH).limit_denominator(1000)
    return Length(exact * MM_PER_INCH, f"{mm_text(float(exact), 3).removesuffix(' mm')} in")


def instead(*lengths: Length) -> str:
    """The end of a sentence about lengths in inches that may be meant in mm."""
    metric = [f"{_number(one)} mm" for one in lengths]
    do = "are" if len(metric) > 1 else "is"
    return (
        f"; if {' and '.join(metric)} {do} meant, not {' and '.join(one.text for one in lengths)}: write "
        + " and ".join(f'"{one}"' for one in metric)
    )


def as_mm(length: Length) -> float:
    """The number of a length in inches, taken for mm."""
    return float(length.exact / MM_PER_INCH)


def _number(length: Length) -> str:
    return length.text.removesuffix(" in")


def _fits(case: Case, chosen: tuple[Length, ...], largest: float) -> bool:
    """Whether the cut would be one for this bit and plate, with those sides in mm."""
    cut = case.job.cut
    width, length = (as_mm(side) if side in chosen else side.mm for side in (cut.width_written, cut.length_written))
    whole = all("/" not in side.text for side in chosen)
    room = length + case.bushing - case.bit < largest
    return whole and room and case.bit - 1e-9 <= width <= length
