"""Which corners of the cut the bit leaves round, which it takes off, and what to do about either."""

import math
from collections.abc import Callable, Iterator, Mapping

from jigtemplates.checks.drawn import furthest
from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.geometry.shapes import largest_key_radius
from jigtemplates.geometry.shapes.basic import CORNERS
from jigtemplates.opening import FITS
from jigtemplates.parameters.forms import ArcSlot, Butterfly, FromFile, Polygon, Uneven
from jigtemplates.practice import FIT, HAIR
from jigtemplates.say import area
from jigtemplates.wanted import narrow_side

#: Corners that keep less wood than this, mm², are not worth a word (chosen).
CRUMB = 0.01

#: Corner radii that hinges are sold with, in words and mm (trade pages on ANSI/BHMA A156.7 hardware, quoted).
LEAVES = (("1/4 in", 6.35), ("5/8 in", 15.875))


def check_corners(case: Case) -> Iterator[Finding]:
    """Corners tighter than the bit, and wood that points into the cut and is rounded off."""
    cut = case.predicted
    if cut is None:
        return
    if cut.unreachable_area >= CRUMB and cut.max_deviation >= HAIR:
        where, words = _TIGHT.get(case.job.cut.shape, _rectangle)(case)
        # The plug of an inlay gets the same corners from the same opening.
        say = warning if case.job.inlay is None else note
        yield say("corner-tighter-than-bit", where, words)
    yield from _rounded_off(case)


def _standing(case: Case) -> str:
    """How far short and how much wood: "up to 1.97 mm short of the cut (19.47 mm² in all)"."""
    assert case.predicted is not None
    wood = area(case.predicted.unreachable_area, case.job)
    return f"up to {case.said(_short(case))} short of the cut ({wood} in all): chisel them out"


def _short(case: Case) -> float:
    """How far the bit stays away from the corners, mm."""
    assert case.predicted is not None
    cut = case.job.cut
    if isinstance(cut.form, FromFile):  # whose edges may be off on the other side as well
        return furthest(case.template.cut, case.predicted.outline, case.predicted.outline)[0]
    if not isinstance(cut.form, Butterfly):
        return case.predicted.max_deviation
    half = (math.pi / 2 - _slope(case)) / 2  # of the angle of a corner at the key's ends
    return (case.bit / 2 - cut.corner_radius) * (1 / math.sin(half) - 1)


def _slope(case: Case) -> float:
    """How much a butterfly key's sides lean, radians."""
    cut = case.job.cut
    assert isinstance(cut.form, Butterfly)
    return math.atan2(cut.width - cut.form.waist.mm, cut.length)


def _radius(case: Case) -> str:
    return case.said(case.bit / 2, 3)


def _rectangle(case: Case) -> tuple[str, str]:
    radius, form = _radius(case), case.job.cut.form
    if isinstance(form, Uneven):
        tight = [name for name, r in zip(CORNERS, form.corner_radii, strict=True) if r.mm < case.bit / 2]
        these = " and ".join(filter(None, (", ".join(tight[:-1]), tight[-1])))
        return (
            "cut.corner_radii",
            f"the bit leaves the {these} corner{'s' * (len(tight) > 1)} round, radius {radius}, {_standing(case)}, "
            f"round the work there to {radius}, or write {radius} there in cut.corner_radii",
        )
    # A corner radius of more than half the shorter side is refused: such a cut is a slot.
    instead = f"cut.corner_radius to {radius}" if _is_wider(case) else 'cut.shape to "slot"'
    return (
        "cut.corner_radius",
        f"the bit leaves corners of radius {radius}, {_standing(case)}, round the work to {radius}, or set {instead}",
    )


def _is_wider(case: Case) -> bool:
    return case.bit < narrow_side(case.job.cut) - FITS


def _polygon(case: Case) -> tuple[str, str]:
    form, radius = case.job.cut.form, _radius(case)
    assert isinstance(form, Polygon)
    instead = f"cut.corner_radius to {radius}" if _is_wider(case) else 'cut.shape to "round"'
    return (
        "cut.corner_radius",
        f"the bit leaves all {form.sides} corners round, radius {radius}, {_standing(case)}, round the corners of what "
        f"goes in to {radius}, or set {instead}",
    )


def _butterfly(case: Case) -> tuple[str, str]:
    cut, radius = case.job.cut, _radius(case)
    assert isinstance(cut.form, Butterfly)
    fits = case.bit / 2 <= largest_key_radius(cut.length, cut.width, cut.form.waist.mm)
    instead = f", or set cut.corner_radius to {radius}" if fits else ", or use a smaller bit"
    return (
        "cut.corner_radius",
        f"the bit leaves the four corners at the ends of the key round, radius {radius}, {_standing(case)}, round the "
        f"key's corners to {radius}{instead}",
    )


def _hinge(case: Case) -> tuple[str, str]:
    wanted = case.job.cut.corner_radius
    leaf = f"the leaf's are {case.said(wanted, 3)}" if wanted else "the leaf's are square"
    sold = next((name for name, radius in LEAVES if radius >= case.bit / 2 - 1e-9), None)
    instead = f", or use a hinge with corners of {sold} and set cut.corner_radius to it" if sold else ""
    return (
        "cut.corner_radius",
        f"the bit leaves the two corners at the back of the gain round, radius {_radius(case)}, where {leaf}: "
        f"{_standing(case)}, round the leaf's corners to {_radius(case)}{instead}",
    )


def _ellipse(case: Case) -> tuple[str, str]:
    assert case.predicted is not None
    cut = case.predicted
    tightest = case.job.cut.corner_radius
    return (
        "tools.bit",
        f"the ellipse's ends are tighter (radius {case.beside(tightest, 3)}) than the bit (radius "
        f"{case.beside(case.bit / 2, 3)}), which stays up to {case.said(cut.max_deviation)} short of them "
        f"({area(cut.unreachable_area, case.job)} in all): use a bit of at most {case.said(2 * tightest)}, carve them "
        "out, or shape what goes in to the cut that is made",
    )


def _outline(case: Case) -> tuple[str, str]:
    radius = _radius(case)
    return (
        "cut.file",
        f"the bit leaves inside corners of the drawn outline round, radius {radius}, {_standing(case)}, round what "
        f"goes in to {radius}, or draw no corner tighter than that",
    )


_TIGHT: Mapping[str, Callable[[Case], tuple[str, str]]] = {
    "polygon": _polygon,
    "butterfly": _butterfly,
    "hinge": _hinge,
    "ellipse": _ellipse,
    "outline": _outline,
}


def _rounded_off(case: Case) -> Iterator[Finding]:
    """Wood that points into the cut: the bushing cannot turn in the template's corner behind it."""
    cut, offset = case.job.cut, (case.bushing - case.bit) / 2
    if isinstance(cut.form, Butterfly) and not case.template.widened:
        # The wood there is left round by the offset: (1 / sin(half its angle) - 1) of that is lost.
        lost = offset * (1 / math.cos(_slope(case)) - 1)
        what = f"the two corners of wood at the waist come out round, radius {case.said(offset, 3)}"
        where, ease = "cut.waist", "ease the key there"
    elif isinstance(cut.form, ArcSlot) and not case.template.widened:
        inner = cut.form.radius.mm - cut.width / 2
        lost = case.predicted.max_deviation if case.predicted and inner < offset else 0.0
        what = f"the inner edge (radius {case.beside(inner, 3)}) is tighter than the offset {case.aside(offset, 3)}"
        where, ease = "cut.radius", "make the radius larger"
    else:
        return
    if lost >= HAIR:
        say = warning if lost > FIT and case.job.inlay is None else note
        yield say(
            "corner-rounded-off",
            where,
            f"{what}, so up to {case.said(lost, 3)} is cut away that was not asked for: {ease}, or take a bit and a "
            "bushing nearer to each other in size",
        )
