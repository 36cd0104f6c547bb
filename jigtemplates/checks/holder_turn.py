"""Can the plate be put back turned: does its outline fit again, and does every screw find its hole?"""

from collections.abc import Iterator, Sequence

from jigtemplates.checks.finding import Case, Finding, note, stop, warning
from jigtemplates.checks.holder_fit import over_window
from jigtemplates.geometry.outline import Point
from jigtemplates.holders import plate_box, window_of
from jigtemplates.holders.places import holder_holes
from jigtemplates.holders.turning import Miss, comes_to_itself, directions, misses, turned_about
from jigtemplates.parameters.resolve import screws_of
from jigtemplates.placing import cut_middle
from jigtemplates.say import place, sides_aside

#: Places of the cut that are named (chosen: a quarter-turned plate's, and what a reader bears).
MOST_NAMED = 8


def check_turn(case: Case) -> Iterator[Finding]:
    """Screws against the holder's as drawn; outline, screws, stem and the places of the cut after each turn."""
    plate = case.job.plate
    holes, theirs = [hole.center for hole in case.template.holes], _of_holder(case)
    if theirs and (found := list(misses(holes, theirs, (0.0,), plate))):
        yield warning(
            "screws-off-holder",
            "plate.screws",
            f"{_named(case, found)} lies {case.said(found[0].by)} from the nearest hole of the holder: leave "
            "plate.screws out, and the holder gives them",
        )
        theirs = ()  # then turned plates are compared with their own
    if plate.turn is None:
        return
    if not comes_to_itself(plate_box(plate), plate.turn):
        yield stop(
            "plate-not-turnable",
            "plate.turn",
            f"after a turn of {plate.turn:g}° the plate {sides_aside(case.job, plate.width, plate.height)} does not "
            f"cover its own place: {_what_turns(plate.turn)}",
        )
        return
    yield from _screws(case, holes, theirs)
    yield from _stem(case)
    yield from _places(case)


def _of_holder(case: Case) -> tuple[Point, ...]:
    """The holder's holes for the plate's screws; none where neither has any."""
    plate, holder = case.job.plate, case.job.plate.holder
    if holder is None or holder.screws is None or plate.screws is None:
        return ()
    return holder_holes(plate, holder, screws_of(holder.screws, plate.screws.screw))


def _what_turns(turn: float) -> str:
    if abs(turn % 90) < 1e-9:
        return "quarter turns need a square plate, others than half turns a round one"
    return "such steps need a round plate (a holder whose corner_radius is half its width makes one)"


def _screws(case: Case, holes: Sequence[Point], theirs: Sequence[Point]) -> Iterator[Finding]:
    """The first turn after which a screw finds no hole."""
    plate = case.job.plate
    found = list(misses(holes, theirs or holes, directions(plate.turn)[1:], plate))
    if not found:
        return
    first = [miss for miss in found if miss.turn == found[0].turn]
    where = f"comes to {place(first[0].there, case.job)}, {case.said(first[0].by)} from the nearest hole"
    yield stop(
        "screw-misses-when-turned",
        "plate.turn",
        f"after a turn of {found[0].turn:g}° {_named(case, first)} {where}{' of the holder' if theirs else ''}: lay "
        'the screws out in the corners of a square, or on a ring (pattern = "ring") of as many as the plate has places',
    )


def _named(case: Case, found: Sequence[Miss]) -> str:
    more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
    return f"screw hole {found[0].number} at {place(found[0].hole, case.job)}{more}"


def _stem(case: Case) -> Iterator[Finding]:
    """A stem that comes out under the plate, or under its rebated edge, in the places the plate is turned to."""
    plate, holder, stem = case.job.plate, case.job.plate.holder, case.job.tools.bushing.stem
    window = None if holder is None else window_of(holder)
    edge = holder.depth.mm if plate.rebate and holder is not None and holder.depth is not None else plate.thickness
    if window is None or stem is None or stem <= edge + 1e-9 or not case.template.opening:
        return
    for turn in directions(plate.turn)[1:]:
        over = over_window(window, case, case.template.opening, turn)
        if over > 1e-6:
            yield stop(
                "stem-meets-ledge",
                "plate.turn",
                f"turned by {turn:g}° the opening reaches {case.said(over)} beyond the holder's window, and the "
                f"stem {case.aside(stem)} meets the ledge there: shorten the stem, or move the cut",
            )
            return


def _places(case: Case) -> Iterator[Finding]:
    """Where the first cut comes to in each place, so that four cuts from one opening can be laid out."""
    plate = case.job.plate
    turns, middle = directions(plate.turn), Point(plate.width / 2, plate.height / 2)
    cut = cut_middle(case.job)
    places = [place(turned_about(cut, turn, middle), case.job) for turn in turns[:MOST_NAMED]]
    more = " …" if len(turns) > MOST_NAMED else ""
    datum = "" if plate_box(plate).is_round else ", the datum corner at the lower left"
    named = ", ".join(f"{at} at {turn:g}°" for turn, at in zip(turns, places, strict=False))
    where = f"stays at {places[0]}" if len(set(places)) == 1 else f"comes to {named}{more}, measured as in the first"
    yield note(
        "turned-places",
        "plate.turn",
        f"the plate can be put back in {len(turns)} places; in the first it lies as drawn{datum}. As it is "
        f"turned, counter-clockwise, the middle of the cut {where}",
    )
