"""A holder's own parts: upper frame and ledge frame, or the frame in one piece with a pocket.

::

    upper frame            ┌────┐          ┌────┐   as thick as the recess is deep
    ledge frame            └────┴──┐    ┌──┴────┘   the plate rests on what it shows inside the recess
                                window

Millimetres from a part's lower-left corner, x right, y up, seen from above as it lies in use.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from jigtemplates.errors import InputError, quoted
from jigtemplates.geometry.outline import Arc, Outline, Point, Region
from jigtemplates.holders import recess_of, window_of
from jigtemplates.holders.box import Box
from jigtemplates.holes import Hole, screw_holes
from jigtemplates.parameters import job
from jigtemplates.parameters.entries import Holder, Screw
from jigtemplates.parameters.resolve import screws_of
from jigtemplates.parameters.screw_pattern import ScrewPattern

if TYPE_CHECKING:
    from jigtemplates.profiles import Profiles

#: What the parts need besides the size of the recess and its play, and what each is.
NEEDED = {
    "depth": "depth of the recess, which is the thickness of the upper frame",
    "corner_radius": "radius of the recess's corners: at least the cutter's, or 0 for square ones",
    "window": "width of the ledge, or the size of the window as window.width and window.height",
    "ledge_thickness": "thickness of the ledge frame, or of what stays under the pocket",
    "frame": "width of the frame round the recess",
}


@dataclass(frozen=True, slots=True)
class Bore:
    """A hole with what it is for."""

    hole: Hole
    #: what takes the screw: "for the thread of M5", "clearance for M5", "threaded insert for M5"
    use: str
    #: the key of the holder that asks for it: "screws" or "joining"
    key: str


@dataclass(frozen=True)
class Part:
    """One part of a holder."""

    #: in file names: "upper", "ledge", "single"
    key: str
    #: what a person calls it
    name: str
    #: how many to make
    quantity: int
    #: its outside, about its own middle
    outside: Box
    #: what is cut right through, about the same middle
    through: Box
    #: what is sunk into its upper face, about the same middle; None without a pocket
    pocket: Box | None
    #: of the pocket; 0 without one
    pocket_depth: float
    thickness: float
    bores: tuple[Bore, ...]

    def placed(self, box: Box) -> Outline:
        """A box about the middle, in its place from the lower-left corner."""
        return box.outline.moved(self.outside.width / 2, self.outside.height / 2)

    @cached_property
    def region(self) -> Region:
        """The part with what is cut through it, without its bores."""
        return Region(self.placed(self.outside), (self.placed(self.through).turned(False),))

    @property
    def smallest_inside_radius(self) -> float:
        """Of its recess, pocket and window; 0 where a corner is square."""
        boxes = [self.through, *([self.pocket] if self.pocket else [])]
        return min(_inside_radius(box) for box in boxes)


@dataclass(frozen=True, slots=True)
class Parts:
    """All parts of a holder, and the plate that fits it."""

    holder: Holder
    upper: Part
    ledge: Part
    #: instead of the other two
    single: Part
    #: recess less play
    plate: Box

    def __iter__(self) -> Iterator[Part]:
        """The layers, then the frame in one piece."""
        return iter((self.upper, self.ledge, self.single))


def _inside_radius(box: Box) -> float:
    return min((s.radius for s in box.outline.segments if isinstance(s, Arc)), default=0.0)


def missing_keys(holder: Holder) -> tuple[str, ...]:
    """The keys of a holder that its parts need and that it lacks, in the order of `NEEDED`."""
    has_window = window_of(holder) is not None
    return tuple(key for key in NEEDED if (not has_window if key == "window" else getattr(holder, key) is None))


def parts_of(holder: Holder, profiles: "Profiles") -> Parts:
    """The parts of a holder; InputError with a line for each size its profile lacks, and for an unknown screw."""
    missing = missing_keys(holder)
    recess, window = recess_of(holder), window_of(holder)
    if missing:
        raise InputError(_missing_lines(holder, missing, profiles))
    assert window is not None  # for the type checker: they would be missing
    assert holder.depth is not None
    assert holder.frame is not None
    assert holder.ledge_thickness is not None
    frame, depth, below = holder.frame.mm, holder.depth.mm, holder.ledge_thickness.mm
    outside = Box(recess.width + 2 * frame, recess.height + 2 * frame, _outside_radius(recess, frame))
    joining = None if holder.joining is None else _screw(holder, "joining", holder.joining, profiles)
    upper_bores = () if joining is None else tuple(_joining(outside, joining, is_upper=True))
    lower_bores = () if joining is None else tuple(_joining(outside, joining, is_upper=False))
    plate_bores = tuple(_plate_bores(holder, outside, profiles))
    return Parts(
        holder=holder,
        upper=Part("upper", "upper frame", 1, outside, recess, None, 0.0, depth, upper_bores),
        ledge=Part("ledge", "ledge frame", 1, outside, window, None, 0.0, below, (*plate_bores, *lower_bores)),
        single=Part("single", "frame in one piece", 1, outside, window, recess, depth, depth + below, plate_bores),
        plate=plate_that_fits(holder),
    )


def _missing_lines(holder: Holder, missing: Iterable[str], profiles: "Profiles") -> Iterator[str]:
    """A line for each size, what it is, and what to type to add it."""
    from jigtemplates.parameters.tools_file import change_command

    origin = profiles.find("holders", holder.name).origin
    for key in missing:
        pair = f'{"ledge" if key == "window" else key}="SIZE"'
        command = change_command(Path(origin), "holders", holder.name).replace("KEY=VALUE", pair, 1)
        yield f"holder {quoted(holder.name)}: {key} is missing ({NEEDED[key]}; add it: {command})"


def plate_that_fits(holder: Holder) -> Box:
    """Recess less play, its corners as round as the recess's, at most half a side."""
    recess, play = recess_of(holder), holder.play.mm
    width, height = recess.width - play, recess.height - play
    return Box(width, height, min(recess.radius, width / 2, height / 2))


def _outside_radius(recess: Box, frame: float) -> float:
    """Square outside corners; round where the recess is round."""
    return recess.radius + frame if recess.is_round else 0.0


def _screw(holder: Holder, key: str, pattern: ScrewPattern, profiles: "Profiles") -> job.Screws:
    where = f"holder {quoted(holder.name)}: {key}.size"
    screw: Screw = profiles.find("screws", pattern.size, where=where).entry
    lacks = {"countersunk": "head", "tapped": "tapping"}.get(pattern.hole)
    if lacks is not None and getattr(screw, lacks) is None:
        raise InputError(
            f"holder {quoted(holder.name)}: {key}.hole: the profile of screw {quoted(screw.name)} has no {lacks} (add "
            "it there, or use another hole)"
        )
    return screws_of(pattern, screw)


def _at(width: float, height: float, screws: job.Screws) -> tuple[Hole, ...]:
    """The holes of a pattern on a blank of that size."""
    return screw_holes(job.Plate(width, height, 1.0, 0.0, 0.0, None, None, label=False, holder=None, screws=screws))


def _joining(outside: Box, screws: job.Screws, *, is_upper: bool) -> Iterator[Bore]:
    """Holes of the screws that hold the layers together, in the upper or the lower one."""
    for hole in _at(outside.width, outside.height, screws):
        if is_upper:
            yield Bore(hole, _use(screws.hole, screws.screw), "joining")
        else:
            diameter, use = _counterpart(screws)
            yield Bore(Hole(hole.center, diameter), use, "joining")


def _use(hole: str, screw: Screw) -> str:
    if hole == "tapped":
        return f"for the thread of {screw.name}"
    return f"countersunk for {screw.name}" if hole == "countersunk" else f"clearance for {screw.name}"


def _counterpart(screws: job.Screws) -> tuple[float, str]:
    """Diameter and use of the hole on the other side: a thread for a screw that passes, a passage for one that bites.

    Clearance where no tapping drill is known, for a nut then has to hold the screw.
    """
    screw = screws.screw
    if screws.hole == "tapped" or screw.tapping is None:
        clearance: float = getattr(screw.clearance, screws.fit).mm
        return clearance, _use("clearance", screw)
    return screw.tapping.mm, _use("tapped", screw)


def _plate_bores(holder: Holder, outside: Box, profiles: "Profiles") -> Iterator[Bore]:
    """The holes in the ledge for the plate's screws, concentric with a plate that lies in the middle of the recess."""
    if holder.screws is None:
        return
    screws, plate = _screw(holder, "screws", holder.screws, profiles), plate_that_fits(holder)
    diameter, use = _counterpart(screws)
    if holder.insert is not None and screws.hole != "tapped":
        diameter, use = holder.insert.mm, f"threaded insert for {screws.screw.name}"
    dx, dy = (outside.width - plate.width) / 2, (outside.height - plate.height) / 2
    for hole in _at(plate.width, plate.height, screws):
        center = Point(hole.center.x + dx, hole.center.y + dy)
        yield Bore(Hole(center, diameter), use, "screws")
