"""Can the parts of a holder be made, and do they hold: walls, corners, stand-off, what is not known."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from jigtemplates.checks.finding import Finding, note, stop, warning
from jigtemplates.checks.walls import LEAST_WALL, SAME, TOUCHING
from jigtemplates.holders.parts import Bore, Part, Parts
from jigtemplates.lengths import beside_text, first_text, inch_short, mm_text
from jigtemplates.parameters.entries import Holder, Sheet
from jigtemplates.say import listed


def own_text(mm: float, holder: Holder) -> str:
    """A length in the holder's own unit: of one in inches "3/8 in (9.53 mm)"."""
    return first_text(mm, holder.width.is_inch)


def _beside(mm: float, holder: Holder) -> str:
    """The same in brackets: "3/8 in = 9.53 mm"."""
    return beside_text(mm, holder.width.is_inch)


def findings_on(
    parts: Parts, targets: Sequence[str], kerf: float, *, material: Sheet | None = None, measured: str = ""
) -> tuple[Finding, ...]:
    """All that is to be said of a holder's parts before they are made.

    `kerf` is the least that is known of a layer, mm; `measured` are the options that would use a measured one.
    """
    walls = [finding for part in parts for finding in _walls(part, parts.holder)]
    found = [*walls, *_ledge(parts), *_screws(parts), *_stand_off(parts.holder), *_process(parts, targets)]
    found += _laser(parts, kerf, material, measured) if "laser" in targets else ()
    return tuple(dict.fromkeys(found))


def _walls(part: Part, holder: Holder) -> Iterator[Finding]:
    """Bores within the part and apart from each other, once for all that are equally near."""
    near: dict[tuple[str, str], list[int]] = {}
    for number, bore in enumerate(part.bores, 1):
        for edge, wall in _rooms(part, bore):
            if wall <= TOUCHING:
                yield stop("bore-off-part", bore.key, f"{_named(number, bore, part, holder)} does not lie {edge}")
            elif wall < LEAST_WALL - SAME:
                near.setdefault((edge, own_text(wall, holder)), []).append(number)
    for (edge, wall_text), numbers in near.items():
        many = len(numbers) > 1
        holes = f"hole{'s' * many} {listed(numbers)} of the {part.name}"
        yield _thin(f"{holes} {'are' if many else 'is'} only {wall_text} from {_edge(edge)}", holder)
    for (a, first), (b, second) in combinations(enumerate(part.bores, 1), 2):
        apart = math.dist(first.hole.center, second.hole.center) - _radius(first) - _radius(second)
        if apart <= TOUCHING:
            yield stop("bores-overlap", second.key, f"hole {a} and hole {b} of the {part.name} overlap")
        elif apart < LEAST_WALL - SAME:
            yield _thin(f"only {own_text(apart, holder)} between hole {a} and hole {b} of the {part.name}", holder)


def _thin(words: str, holder: Holder) -> Finding:
    return warning("thin-wall", "frame", f"{words}, where {own_text(LEAST_WALL, holder)} is sensible: move the screws")


def _rooms(part: Part, bore: Bore) -> Iterator[tuple[str, float]]:
    """What lies between a bore and the outside, and the nearest thing cut through the part; negative beyond it."""
    x, y = bore.hole.center.x - part.outside.width / 2, bore.hole.center.y - part.outside.height / 2
    yield "on the part", -part.outside.beyond(x, y) - _radius(bore)
    yield f"outside the {_through(part)}", part.through.beyond(x, y) - _radius(bore)


def _through(part: Part) -> str:
    return "recess" if part.key == "upper" else "window"


def _edge(words: str) -> str:
    return "its outside" if words == "on the part" else words.replace("outside ", "")


def _radius(bore: Bore) -> float:
    return max(bore.hole.diameter, bore.hole.head or 0.0) / 2


def _named(number: int, bore: Bore, part: Part, holder: Holder) -> str:
    x, y = (inch_short(at) if holder.width.is_inch else mm_text(at) for at in bore.hole.center)
    return f"hole {number} of the {part.name} at ({x}, {y}), {bore.use},"


def _ledge(parts: Parts) -> Iterator[Finding]:
    """A ledge that a plate pushed to one side slides off."""
    recess, window, play = parts.upper.through, parts.ledge.through, parts.holder.play.mm
    ledges = ((recess.width - window.width) / 2, (recess.height - window.height) / 2)
    if min(ledges) <= play + 1e-9:
        yield stop(
            "no-ledge",
            "ledge",
            f"the ledge ({_beside(min(ledges), parts.holder)}) is no wider than the play "
            f"({_beside(play, parts.holder)}), so the plate drops through: make the window smaller",
        )


def _screws(parts: Parts) -> Iterator[Finding]:
    holder = parts.holder
    if holder.screws is None:
        yield note("no-plate-screws", "screws", "the holder has no screws, so the ledge gets no holes for the plate's")
    elif holder.screws.hole != "tapped" and parts.ledge.bores[0].use.startswith("clearance"):
        yield warning(
            "no-thread",
            "screws",
            f"no tapping drill is known of {holder.screws.size}, so the ledge gets clearance holes for nuts below it: "
            "give insert, or tapping in the screw's profile",
        )
    if holder.joining is None:
        yield note("layers-glued", "joining", "the holder has no joining screws: glue the layers, their edges flush")


def _stand_off(holder: Holder) -> Iterator[Finding]:
    """What must be true of the work for the profile's stand-off."""
    if holder.ledge_thickness is None:
        return
    less = float(holder.ledge_thickness.exact - holder.stand_off.exact)
    if less > SAME:
        yield note(
            "work-in-window",
            "stand_off",
            f"the stand-off ({_beside(holder.stand_off.mm, holder)}) is less than the ledge is thick "
            f"({_beside(holder.ledge_thickness.mm, holder)}), so the work must come {own_text(less, holder)} up into "
            "the window: if the frame lies on the work, correct stand_off in its profile",
        )
    elif less < -SAME:
        yield note(
            "needs-feet",
            "stand_off",
            f"the stand-off ({_beside(holder.stand_off.mm, holder)}) is more than the ledge is thick: the frame "
            f"stands {own_text(-less, holder)} off the work, on feet or fences that are no part of these files",
        )


def _process(parts: Parts, targets: Sequence[str]) -> Iterator[Finding]:
    if parts.holder.corner_radius is not None and parts.holder.corner_radius.exact == 0 and "cnc" in targets:
        yield warning(
            "square-corners",
            "corner_radius",
            "the recess has square corners, which a cutter leaves round: chisel them out, or give corner_radius, at "
            "least the cutter's radius; new plates then get it too",
        )


def _laser(parts: Parts, kerf: float, material: Sheet | None, measured: str) -> Iterator[Finding]:
    yield note("laser-in-layers", "--for", "a laser cuts the layers; the frame in one piece needs a CNC or hand router")
    if material is not None and not material.laser:
        words = f"{material.name} must not go into a laser: take another material, or leave laser out of --for"
        yield stop("never-laser", "--material", words)
    if any(bore.hole.head for bore in parts.upper.bores):
        yield note("countersink-by-hand", "joining", "a laser cannot sink the countersinks: sink them by hand")
    if kerf:
        return
    words = "the laser files carry no kerf allowance, so recess and window come out one kerf wider"
    how = f"a measured one is in your profile, so say what the frame is made of ({measured})"
    lacks = 'measure it, and give --kerf, or the process profile "laser", the full width'
    yield note("kerf-not-set", "--kerf", f"{words}: {how if measured else lacks}")
