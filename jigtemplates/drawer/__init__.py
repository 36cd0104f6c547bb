"""The drawer: the templates made so far, read from their manifests, and what each cuts with another pair."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from jigtemplates.current import Kept, read_manifest
from jigtemplates.errors import InputError
from jigtemplates.geometry.outline import Regions
from jigtemplates.given_profiles import Given, remembered_in
from jigtemplates.given_tool import GivenTool
from jigtemplates.lengths import beside_text
from jigtemplates.manifest import job_hash
from jigtemplates.opening import Size, size_of
from jigtemplates.outside import work_left
from jigtemplates.parameters.load import load_jobs
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import profiles_for
from jigtemplates.replaced import strays
from jigtemplates.report import DECIMALS
from jigtemplates.rings import regions_of
from jigtemplates.routing import route

#: Sizes nearer than this are equal, mm: what rounding in a manifest leaves, and a bushing that exactly fills its slot.
SAME = 1e-5


@dataclass(frozen=True)
class Tool:
    """A bit or bushing a template is used with; mm."""

    label: str
    diameter: float
    #: a bushing's, where it is known
    bore: float | None = None

    @staticmethod
    def of(given: GivenTool) -> "Tool":
        """One that was named on the command line."""
        return Tool(given.text, given.diameter, given.bore)


@dataclass(frozen=True)
class Drawn:
    """A template that was made, as its manifest says."""

    kept: Kept
    title: str
    bit: Tool
    bushing: Tool
    #: the cut it makes with its own pair; only of a round one the corner radius is known
    cut: Size
    #: of its plate, mm: width, height, thickness
    plate: tuple[float, float, float]
    opening: Regions
    #: how far the edge of the work lies below the middle of a cut that is open to it, mm
    edge: float | None
    #: opening, cut and that edge of each other cut in the same template
    others: tuple[tuple[Regions, Size, float | None], ...]
    #: whether that is a pattern, followed round its outside
    is_outside: bool
    #: name of the job file; None for a job that came as text
    job_file: str | None
    #: hash of the resolved job, and the targets its files were made for
    job_hash: str
    targets: tuple[str, ...]
    #: whether its sizes are shown in inches
    inches: bool = False

    @property
    def name(self) -> str:
        """The name of its folder."""
        return self.kept.path.stem

    @cached_property
    def changed_files(self) -> tuple[str, ...]:
        """Files that are gone or no longer as they were made."""
        return tuple(self.kept.changed_files())

    @cached_property
    def older_files(self) -> tuple[str, ...]:
        """Files of an earlier make beside them that are no longer the template's."""
        listed = {Path(file.path).name for file in self.kept.files}
        return strays(self.kept.path.parent, self.name, listed)


class CutBy(NamedTuple):
    """What an opening cuts with a pair: its size, or why it cuts nothing; mm."""

    width: float | None
    length: float | None
    corner_radius: float | None
    #: how much wider and longer than the cut with its own pair; None for an opening given by hand
    wider: float | None
    longer: float | None
    #: how far the bushing can move across the opening
    side_play: float | None
    #: why it cannot be
    reason: str | None

    def as_json(self) -> dict[str, Any]:
        """As `drawer --json` prints it."""
        return {key: round(v, DECIMALS) + 0.0 if isinstance(v, float) else v for key, v in self._asdict().items()}


def drawn_from(path: Path) -> Drawn:
    """The template of a manifest; InputError in one line where it is damaged or none of ours."""
    kept = read_manifest(path)
    try:
        job, results = kept.data["job"], kept.data["results"]
        plate = job["plate"]
        return Drawn(
            kept=kept,
            title=str(job["title"]),
            bit=_tool(job["tools"]["bit"]),
            bushing=_tool(job["tools"]["bushing"]),
            cut=_size(results["predicted_cut"], job["cut"]["shape"]),
            plate=(float(plate["width"]), float(plate["height"]), float(plate["thickness"])),
            opening=regions_of(kept.data["opening"]),
            edge=_edge(job["cut"]),
            others=tuple(_others(kept.data)),
            is_outside=job["cut"].get("side") == "outside",
            job_file=None if job["file"] is None else Path(job["file"]).name,  # lest it lead elsewhere
            job_hash=str(job["sha256"]),
            targets=tuple(job["make"]["targets"]),
            inches=_is_in_inches(job),
        )
    except (AttributeError, KeyError, TypeError, ValueError, ZeroDivisionError):
        raise InputError(
            f"{shown_name(str(path))}: this is no manifest of jigtemplates, or it is damaged (make the template again)"
        ) from None


def _is_in_inches(job: Mapping[str, Any]) -> bool:
    """As `say.in_inches` has it."""
    units = job.get("units")
    return units == "in" or (units is None and str(job["cut"]["width_written"]["text"]).endswith(" in"))


def _others(data: Mapping[str, Any]) -> Iterator[tuple[Regions, Size, float | None]]:
    openings = data.get("other_openings", ())
    made = data["results"]["cuts"][1:] if openings else ()
    wanted = data["job"]["more_cuts"] if openings else ()
    for opening, cut, asked in zip(openings, made, wanted, strict=True):
        yield regions_of(opening), _size(cut["predicted_cut"], cut["shape"]), _edge(asked)


def _edge(cut: Mapping[str, Any]) -> float | None:
    """As `wanted.edge_of_work` has it."""
    return float(cut["width"]) / 2 if cut["shape"] == "hinge" else None


def _size(made: Mapping[str, Any], shape: str) -> Size:
    width = float(made["width"])
    return Size(width, float(made["length"]), width / 2 if shape == "round" else 0.0)


def _tool(said: Mapping[str, Any]) -> Tool:
    diameter, bore = said["diameter"], said.get("bore")
    sold = diameter.get("nominal") or diameter
    return Tool(str(said["name"] or sold["text"]), float(diameter["mm"]), None if bore is None else float(bore))


def manifests_in(folder: Path) -> tuple[Path, ...]:
    """The manifest of every template in an output folder, by name: NAME/NAME.json; other folders are passed over."""
    name = shown_name(str(folder))
    try:
        inside = sorted(entry for entry in os.listdir(folder) if not entry.startswith("."))
    except OSError as error:
        raise InputError(f"{name}: the folder cannot be read ({error.strerror})") from None
    found = tuple(path for entry in inside if os.path.lexists(path := folder / entry / f"{entry}.json"))
    if not found:
        raise InputError(f"{name}: no template in this folder (give the folder that make wrote into)")
    return found


def cut_by(
    opening: Regions,
    bit: Tool,
    bushing: Tool,
    own: Size | None = None,
    *,
    edge: float | None = None,
    is_outside: bool = False,
    inches: bool = False,
) -> CutBy:
    """What an opening cuts with a bit in a bushing (or a pattern leaves), against the cut it was made for.

    Where the cut is open to the edge of the work, edge is how far that lies below its middle, mm. With inches the
    reason why it cuts nothing says them first.
    """
    size = size_of(opening)
    play = None if size is None or is_outside else min(size.width, size.length) - bushing.diameter
    reason = _why_not(bit, bushing, 0.0 if is_outside else play, inches)
    routed = work_left if is_outside else route
    made = None if reason else size_of(routed(opening, bit.diameter, bushing.diameter), edge)
    if made is None:
        return CutBy(None, None, None, None, None, None, reason or _TOO_WIDE)
    wider, longer = (None, None) if own is None else (made.width - own.width, made.length - own.length)
    return CutBy(made.width, made.length, made.corner_radius, wider, longer, max(0.0, play or 0.0), None)


_TOO_WIDE = "the bushing does not go into the opening"


def _why_not(bit: Tool, bushing: Tool, play: float | None, inches: bool) -> str | None:
    wide, narrow = (beside_text(tool.diameter, inches, 3) for tool in (bushing, bit))
    if bushing.diameter <= bit.diameter:
        return f"the bushing ({wide}) is not wider than the bit ({narrow})"
    if bushing.bore is not None and bushing.bore <= bit.diameter:
        return f"the bit ({narrow}) does not pass the bushing's bore ({beside_text(bushing.bore, inches, 3)})"
    return _TOO_WIDE if play is None or play < -SAME else None


def with_tools(drawn: Drawn, bit: GivenTool | None, bushing: GivenTool | None) -> tuple[CutBy, ...]:
    """What each opening of a template cuts with other tools; None keeps its own."""
    bit_now = drawn.bit if bit is None else Tool.of(bit)
    bushing_now = drawn.bushing if bushing is None else Tool.of(bushing)
    openings = ((drawn.opening, drawn.cut, drawn.edge), *drawn.others)
    how = {"is_outside": drawn.is_outside, "inches": drawn.inches}
    return tuple(cut_by(opening, bit_now, bushing_now, cut, edge=edge, **how) for opening, cut, edge in openings)


@dataclass
class Jobs:
    """Where the job files are, to see whether templates still agree with them."""

    #: searched in this order
    folders: Sequence[Path]
    #: a folder of profiles and a file of tools, as given; without them those a template was made with
    profiles: Path | None = None
    tools: Path | None = None

    def state(self, drawn: Drawn) -> tuple[str, ...]:
        """What no longer agrees, such as "files changed" or "job not found"; nothing where all does.

        Raises InputError where the job file cannot be read any more.
        """
        files = (*("files changed",) * bool(drawn.changed_files), *("older files",) * bool(drawn.older_files))
        return (*files, *self._of_job(drawn))

    def _of_job(self, drawn: Drawn) -> Iterator[str]:
        path = None if drawn.job_file is None else self._file(drawn.job_file)
        if path is None:
            yield "job not found"
            return
        asked = Given(self.profiles, self.tools)
        given = asked.over(remembered_in((drawn.kept.path,), path, asked))
        own = profiles_for(path, given.folder, tools=given.tools)
        # `make --for` makes fewer files of the same template
        jobs = {job.stem: job for job in load_jobs(path, profiles=own, targets=drawn.targets)}
        if drawn.name not in jobs:
            yield "no longer in its job"
        elif job_hash(jobs[drawn.name]) != drawn.job_hash:
            yield "job or its tools changed"

    def _file(self, name: str) -> Path | None:
        places = (folder / name for folder in self.folders)
        return next((place for place in places if name and os.path.isfile(place)), None)
