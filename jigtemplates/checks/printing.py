"""Is there anything to look at before a template is printed, and before the router runs on a printed one?"""

import math
from collections.abc import Iterator
from importlib.util import find_spec

import numpy as np

from jigtemplates.bench import Ride
from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.geometry.outline import Bounds
from jigtemplates.holes import countersink_depth
from jigtemplates.label import Label
from jigtemplates.parameters.entries import Router
from jigtemplates.parameters.job import Job, PrintChoice
from jigtemplates.parameters.router_entries import RoundBase
from jigtemplates.say import in_inches

#: PLA begins to soften here, degrees Celsius. A filament's data sheet (read): heat deflection 52 at 1.8 MPa and 58 at
#: 0.45 MPa (ISO 75), glass transition 60.6 (DSC, 10 K/min).
PLA_SOFTENS = 55

#: Letters lower than this are at the limit of a 0.4 mm nozzle, mm (chosen: the bars of an "e", a third of that apart,
#: then have one line of the nozzle between them).
SMALL_LETTERS = 3.0

#: Sunk letters leave at least this share of the thickness (chosen).
LEAST_LEFT = 0.5

#: Side of the commonest printer's bed, mm (common practice, no source).
BED = 220.0


def check_printing(case: Case) -> Iterator[Finding]:
    """The extra, heat and wear, allowance, label, countersinks, bed, rebate. Nothing where nothing is printed in 3D."""
    choice = case.job.make.printing
    if choice is None:
        return
    yield from _extra()
    if any(part.template.opening_at_rest for part in case.parts):
        yield from _edge(case, choice)
    yield from _lettering(case, choice)
    yield from _countersinks(case)
    yield from _bed(case)
    if case.job.plate.rebate:
        yield _hanging(case, choice)


def _extra() -> Iterator[Finding]:
    if find_spec("manifold3d") is None:
        yield stop(
            "print-extra-missing",
            "make.for",
            "files for a 3D printer need the package manifold3d: install it with pip install 'jigtemplates[print]', "
            "or leave print out of make.for",
        )


def _edge(case: Case, choice: PrintChoice) -> Iterator[Finding]:
    """Heat and wear at the edge that guides, of an opening or a pattern; how wide an opening comes out."""
    yield warning(
        "printed-edge",
        "plate",
        f"the metal bushing rubs on the printed edge, and PLA softens from about {PLA_SOFTENS} °C: feed steadily, "
        "never let the bushing rub in one place, look at the edge before every job and print a new plate when it "
        "is worn or glazed; PETG and ABS bear more heat",
    )
    if choice.opening_allowance == 0 and case.template.opening:
        yield note(
            "opening-allowance-not-set",
            "make.print.opening_allowance",
            f"openings are printed as drawn, and most printers make them {_usual(case.job)} too narrow: scrape the "
            "first layer's bulge off the lower edge, try the bushing in it, and set make.print.opening_allowance to "
            f"what is missing (the running clearance is {case.said(case.job.tools.clearance, 3)})",
        )


def _usual(job: Job) -> str:
    """By how much printed holes are too small (common practice; the profile "print" says more)."""
    return "0.004 to 0.012 in (0.1 to 0.3 mm)" if in_inches(job) else "0.1 to 0.3 mm"


def _nozzle(job: Job) -> str:
    """The usual one; nozzles are sold in mm."""
    return "1/64 in (0.4 mm)" if in_inches(job) else "0.4 mm"


def _lettering(case: Case, choice: PrintChoice) -> Iterator[Finding]:
    label, plate = case.template.label.label, case.job.plate
    sunk = (label is not None and choice.label == "sunk") or bool(case.template.marks)
    deepest = plate.thickness * (1 - LEAST_LEFT)
    if sunk and choice.label_depth > deepest + 1e-9:
        yield stop(
            "label-too-deep",
            "make.print.label_depth",
            f"letters and marks {case.said(choice.label_depth, 3)} deep leave less than half of the plate, which "
            f"is {case.said(plate.thickness, 3)} thick: at most {case.said(deepest, 3)}",
        )
    if label is None or choice.label == "none":
        return
    if choice.label == "raised":
        yield from _raised(case, label, choice)
    if label.height < SMALL_LETTERS:
        yield note(
            "small-print",
            "plate.label",
            f"letters {case.said(label.height)} high are near the limit of a {_nozzle(case.job)} nozzle: slow the "
            "first and the last layers down, or use a shorter title or a larger plate",
        )


def _raised(case: Case, label: Label, choice: PrintChoice) -> Iterator[Finding]:
    """Raised letters lift the router's base wherever it comes over them, and the cut gets as much shallower."""
    height, router = case.said(choice.label_depth, 3), case.job.tools.router
    if router is None:
        yield warning(
            "raised-label",
            "make.print.label",
            f'the letters stand {height} above the face, and lift a base that comes over them: label = "sunk" is safe '
            "anywhere; with tools.router named it is known how far the base reaches",
        )
    elif case.ride is not None and (reach := base_reach(router) - _apart(label.box, case.ride)) > 0:
        yield stop(
            "raised-label",
            "make.print.label",
            f"the letters stand {height} above the face, and the router's base reaches {case.said(reach, 1)} "
            'beyond their nearest edge, so it rides up on them: label = "sunk", or a larger plate',
        )


def base_reach(router: Router) -> float:
    """From the middle of the base to the furthest point of its face, mm, however the router is turned."""
    base = router.base
    return base.diameter.mm / 2 if isinstance(base, RoundBase) else math.hypot(base.width.mm, base.depth.mm) / 2


def _apart(box: Bounds, ride: Ride) -> float:
    """From a box to the nearest place where the middle of the bushing can be, mm."""
    low, high = (box.left, box.bottom), (box.right, box.top)
    beside = np.maximum(0, np.maximum(low - ride.places, ride.places - high))
    return float(np.hypot(*beside.T).min())


def _countersinks(case: Case) -> Iterator[Finding]:
    job = case.job
    depth = max((countersink_depth(hole, job.plate.screws) for hole in case.template.holes), default=0.0)
    if depth >= job.plate.thickness:
        yield warning(
            "countersink-through",
            "plate.screws",
            f"the countersinks would be {case.said(depth, 2)} deep and the plate is "
            f"{case.said(job.plate.thickness, 3)} thick, so they come out below as wider holes: take a thicker plate "
            'or smaller screws, or hole = "clearance"',
        )


def _bed(case: Case) -> Iterator[Finding]:
    box = case.template.plate.bounds
    if max(box.width, box.height) > BED:
        yield note(
            "print-bed",
            "make.for",
            f"the plate is {case.said(max(box.width, box.height), 1)} long, longer than the bed of most "
            "printers: see that it lies on yours before you print it",
        )


def _hanging(case: Case, choice: PrintChoice) -> Finding:
    if choice.label == "raised" and case.template.label.label is not None:
        return warning(
            "print-turned-over",
            "make.print.label",
            "the plate has a rebate below and letters raised above, so one of the two hangs in the air while it is "
            'printed: label = "sunk", and turn the plate over in the printer\'s program',
        )
    return note(
        "print-turned-over",
        "plate.rebate",
        "the edge over the rebate would hang in the air: turn the plate over in the printer's program, so that its "
        "upper face is printed first",
    )
