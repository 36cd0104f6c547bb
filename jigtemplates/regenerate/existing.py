"""The template that exists: as its manifest recorded it, else as its job would make it now. Millimetres.

The plate on the bench has the opening it was made with, whatever the bit of that name measures by now.
"""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigtemplates.checks import Level
from jigtemplates.current import Kept
from jigtemplates.errors import InputError
from jigtemplates.geometry.measure import deviation
from jigtemplates.geometry.outline import Regions
from jigtemplates.manifest import plain
from jigtemplates.opening import Size, size_of
from jigtemplates.outside import is_outside
from jigtemplates.parameters.job import Job
from jigtemplates.report import Report

if TYPE_CHECKING:
    from jigtemplates.drawer import Drawn

Sizes = Mapping[str, Any]
#: What a bit and a bushing are called, and their diameters.
Pair = tuple[str, float, str, float]

#: Openings and diameters nearer than this are equal, mm (chosen: what rounding in a manifest leaves is far less).
SAME = 1e-5
#: What a plate is cut from; a sheet or a setting on paper may change beside it.
DRAWINGS = (".dxf", ".svg", ".stl", ".3mf")


@dataclass(frozen=True)
class Opening:
    """One opening of it (of outside work the pattern), about the middle of its cut and not turned."""

    #: the job as it is now, with that cut alone
    job: Job
    #: the cut it asks for now
    wanted: Regions
    outline: Regions
    size: Size | None
    #: opening and predicted cut with its own pair, as in a report's JSON; None where there is no opening
    opening: Sizes | None
    predicted: Sizes | None


@dataclass(frozen=True)
class Existing:
    """A template with the pair it was made for."""

    #: what its bit and bushing were called, and how wide they were
    pair: Pair
    #: the first and the others
    openings: tuple[Opening, ...]
    #: codes of the warnings and stops that were said of it
    warned: frozenset[str]
    #: its manifest; None where it is only what the job as it is now would make
    record: Kept | None = None

    @property
    def labels(self) -> tuple[str, str]:
        """What its bit and bushing were called."""
        return self.pair[0], self.pair[2]

    @property
    def offset(self) -> float:
        """From the edge of the cut to the edge of the opening, mm a side."""
        return (self.pair[3] - self.pair[1]) / 2

    @property
    def laid_out_as(self) -> Any:
        """What of its record decides the plate besides the openings; None without one."""
        return None if self.record is None else layout(self.record.data["job"])

    def is_for(self, job: Job) -> bool:
        """Whether plate, holes and places are those that a job asks for now; without a record they are."""
        return self.record is None or self.laid_out_as == layout(plain(job))

    def is_plate_of(self, new: Report) -> bool:
        """Whether the plate that was recorded is just the one that a report would have made now."""
        if self.record is None or not self.is_for(new.job):
            return False
        pairs = zip(self.openings, new.parts, strict=True)
        if any(deviation(was.outline, now.template.opening_at_rest) > SAME for was, now in pairs):
            return False
        return not any(name.endswith(DRAWINGS) for name in self.record.changed_files())


def pair_of(job: Job) -> Pair:
    """Bit and bushing of a job: what they are called, and how wide they are."""
    bit, bushing = job.tools.bit, job.tools.bushing
    return bit.label, bit.diameter.mm, bushing.label, bushing.diameter.mm


def same_pair(one: Pair, other: Pair) -> bool:
    """Whether names and, within SAME, diameters are the same."""
    same_names = (one[0], one[2]) == (other[0], other[2])
    return same_names and abs(one[1] - other[1]) < SAME and abs(one[3] - other[3]) < SAME


def existing(now: Report, new: Report, out: Path) -> Existing:
    """The template of a job: as the manifest in its folder of out has it, else what the job as it is now would make.

    A manifest counts where it was made from this job file, with as many cuts. Where it has the new tools while the job
    still has others, a run was killed in between, and the plate is the job's: nobody was told of another one.
    """
    path = out / now.job.stem / f"{now.job.stem}.json"
    drawn = _drawn(path) if os.path.isfile(path) else None  # False as well where no file can have the name
    if drawn is None or not _made_from(drawn, now):
        return _of_report(now)
    pair = (drawn.bit.label, drawn.bit.diameter, drawn.bushing.label, drawn.bushing.diameter)
    if same_pair(pair, pair_of(new.job)) and not same_pair(pair, pair_of(now.job)):
        return _of_report(now)
    try:
        return Existing(pair, tuple(_recorded(drawn, now)), frozenset(_warned(drawn.kept.data)), drawn.kept)
    except (KeyError, TypeError, ValueError):
        return _of_report(now)


def _drawn(path: Path) -> "Drawn | None":
    from jigtemplates.drawer import drawn_from

    try:
        return drawn_from(path)
    except InputError:
        return None


def _made_from(drawn: "Drawn", now: Report) -> bool:
    job = now.job
    same_file = job.source is not None and drawn.job_file == job.source.name
    return same_file and len(drawn.others) + 1 == len(now.parts) and drawn.is_outside == is_outside(job.cut)


def _of_report(report: Report) -> Existing:
    openings = []
    for part in report.parts:
        said, template = part.as_json(), part.template
        size, at_rest = template.opening_size, template.opening_at_rest
        openings.append(Opening(part.job, template.cut, at_rest, size, said["opening"], said["predicted_cut"]))
    warned = (finding.code for finding in report.findings if finding.level is not Level.NOTE)
    return Existing(pair_of(report.job), tuple(openings), frozenset(warned))


def _recorded(drawn: "Drawn", now: Report) -> Iterator[Opening]:
    results = drawn.kept.data["results"]
    outlines = (drawn.opening, *(other[0] for other in drawn.others))
    said: Sequence[Sizes] = (results, *(results["cuts"][1:] if drawn.others else ()))
    for part, outline, one in zip(now.parts, outlines, said, strict=True):
        opening, predicted = dict(one["opening"]), dict(one["predicted_cut"])
        yield Opening(part.job, part.template.cut, outline, size_of(outline), opening, predicted)


def _warned(data: Mapping[str, Any]) -> Iterator[str]:
    return (one["code"] for one in data["results"]["findings"] if one["level"] != Level.NOTE.value)


#: What of a plate, and of how it is made, does not change its shape.
_BESIDE = ("material", "wall", "label", "note", "standard", "origin")
#: What of the making does: the beam's width, the printers' corrections, and the hand.
_MAKING = ("kerf", "correction", "printing", "mirrored", "pair")
#: What of a cut does besides its opening.
_PLACES = ("side", "angle", "repeat", "mirrored")


def layout(job: Mapping[str, Any]) -> Any:
    """What besides its openings decides a plate, of a job as a manifest has it; its lengths as mm alone.

    The size of a pattern and its place follow from its opening.
    """
    free = job["cut"].get("side") == "outside"
    cuts = [job["cut"], *(job.get("more_cuts") or ())]
    plate = {key: value for key, value in job["plate"].items() if not (free and key in ("width", "height"))}
    keys = _PLACES if free else ("x", "y", *_PLACES)
    return _bare([plate, [_only(keys, cut) for cut in cuts], _only(_MAKING, job["make"])])


def _only(keys: Sequence[str], table: Mapping[str, Any]) -> Mapping[str, Any]:
    return {key: table.get(key) for key in keys}


def _bare(value: Any) -> Any:
    """Lengths as mm; without what is not there, which another version may not write."""
    if isinstance(value, Mapping):
        if "mm" in value:
            return value["mm"]
        return {key: _bare(held) for key, held in value.items() if held not in (None, False) and key not in _BESIDE}
    if isinstance(value, list | tuple):
        return [_bare(held) for held in value]
    return value
