"""Does the plate's material suit the way it is to be made?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.lengths import mm_text
from jigtemplates.parameters.entries import Sheet
from jigtemplates.say import in_inches

#: Widest kerf of a laser in sheet, mm (0.08 to 0.45 mm overall: laser cutting table, read; see references).
WIDEST_KERF = 0.45

#: Thickest sheet that most shop lasers cut cleanly, mm: 1/4 in and what passes for it (common practice, no source; a
#: seller's table, read, has 6 mm MDF and acrylic and 8 mm plywood at 60 W, 10 to 12 mm at 100 W).
LASERED = 6.6


def check_material(case: Case) -> Iterator[Finding]:
    """Materials and thicknesses not for a laser, kerf not given or not plausible, thicknesses nobody sells."""
    plate = case.job.plate
    if "laser" in case.job.make.targets:
        yield from _laser(case)
    if any(hole.head for hole in case.template.holes) and "laser" in case.job.make.targets:
        yield note(
            "countersink-by-hand",
            "plate.screws",
            "a laser cannot sink the countersinks, so its file has the through holes only: sink them by hand to "
            f"{case.said(max(hole.head or 0.0 for hole in case.template.holes))} across",
        )
    if plate.material is not None and not _is_sold(case):
        sizes = _sold(case, plate.material)
        yield note(
            "unusual-thickness",
            "plate.thickness",
            f"{plate.material.name} is usually sold in {sizes}: {case.said(plate.thickness)} is fine if it was "
            "measured; plunge setting and stem depend on it",
        )


def _sold(case: Case, material: Sheet) -> str:
    """The thicknesses a material is sold in; in a job in inches those of inches first."""
    if not in_inches(case.job):
        return ", ".join(length.text for length in material.thickness)
    inches = ", ".join(length.text for length in material.thickness if length.is_inch)
    metric = ", ".join(mm_text(length.mm).removesuffix(" mm") for length in material.thickness if not length.is_inch)
    return " or ".join(filter(None, (inches, f"{metric} mm" if metric else "")))


def _is_sold(case: Case) -> bool:
    plate = case.job.plate
    return plate.material is None or any(abs(length.mm - plate.thickness) < 0.01 for length in plate.material.thickness)


def _laser(case: Case) -> Iterator[Finding]:
    plate, kerf = case.job.plate, case.job.make.kerf
    if plate.material is None:
        yield note(
            "material-unknown",
            "plate.material",
            "the laser file is made without knowing the material: never put PVC, vinyl or unknown plastic in a laser",
        )
    elif not plate.material.laser:
        yield stop(
            "never-laser",
            "plate.material",
            f"{plate.material.name} must not go into a laser: take another material, or leave laser out of make.for",
        )
    if plate.thickness > LASERED + 1e-9 and (plate.material is None or plate.material.laser):
        yield _thick(case)
    smallest = min((hole.diameter for hole in case.template.holes), default=None)
    if smallest is not None and kerf >= smallest - 0.1:
        yield stop(
            "kerf-too-wide",
            "make.kerf",
            f"a kerf of {case.said(kerf, 3)} leaves nothing of the holes of {case.said(smallest)}: give the full "
            "width that the beam removes, measured over many cuts",
        )
    if kerf == 0:
        yield note("kerf-not-set", "make.kerf", _kerf_words(case))
    elif kerf > WIDEST_KERF:
        yield warning(
            "kerf-implausible",
            "make.kerf",
            f"a kerf of {case.said(kerf, 3)} is wider than a laser's usual {_usual(case)}: give the full width that "
            "the beam removes, measured over many cuts",
        )


def _thick(case: Case) -> Finding:
    usual = "1/4 in (6 mm)" if in_inches(case.job) else "6 mm"
    return note(
        "thick-for-laser",
        "plate.thickness",
        f"most shop lasers cut sheet cleanly to about {usual}, and this is {case.said(case.job.plate.thickness)}: ask "
        "first whether yours does, and see that the bushing slides at both faces, for a thick edge comes out sloping; "
        "else rout or saw the plate",
    )


def _usual(case: Case) -> str:
    """The kerfs of lasers in sheet."""
    return "0.003 to 0.018 in (0.08 to 0.45 mm)" if in_inches(case.job) else "0.08 to 0.45 mm"


def _kerf_words(case: Case) -> str:
    typical = typical_kerf(case)
    about = f" (typical for this sheet: {case.beside(typical)})" if typical else ""
    comes = (
        "the pattern comes out one kerf smaller"
        if case.job.cut.side == "outside"
        else "the opening comes out one kerf wider"
    )
    return (
        f"the laser file carries no kerf allowance, so {comes}{about}: cut a test "
        "piece, measure, and set make.kerf to the full width of the kerf unless your laser's program does it"
    )


def typical_kerf(case: Case) -> float | None:
    """Typical full width of a laser's kerf in the plate, mm, from the nearest thickness in its profile."""
    material = case.job.plate.material
    table = material.kerf.get("laser", ()) if material else ()
    nearest = min(table, key=lambda k: abs(k.thickness.mm - case.job.plate.thickness), default=None)
    return nearest.width.mm if nearest else None
