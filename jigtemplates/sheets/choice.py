"""What the command line says of sheets, read strictly: sizes, gap and margin, copies, grain; every fault at once."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from jigtemplates.errors import InputError, did_you_mean, quoted
from jigtemplates.lengths import Length, LengthError, parse_length
from jigtemplates.parameters.stem import checked_stem
from jigtemplates.sheets.stock import Stock, stocks_of

Machine = Literal["laser", "cnc"]
Grain = Literal["along", "across", "any"]

#: In the order of the files.
MACHINES: tuple[Machine, ...] = ("laser", "cnc")
GRAINS: tuple[Grain, ...] = ("along", "across", "any")

#: More copies of one template, or plates in all, are surely a slip (chosen).
MOST_COPIES, MOST_PLATES = 500, 2_000
#: Widest gap or margin, mm (chosen: a hand's breadth).
WIDEST = 200
#: Longest name of a set of sheets (chosen, as a job's stem: a file's name holds more behind it).
LONGEST_NAME = 60

_COPIES = re.compile(r"(?:(?P<job>.+)=)?(?P<count>[0-9]{1,6})", re.DOTALL)
_NAME = re.compile(r"\w[\w.-]*", re.ASCII)


@dataclass(frozen=True)
class Choice:
    """How sheets are laid."""

    stocks: tuple[Stock, ...]
    #: between finished plates, and from the sheet's edge; None: as the process profile says
    gap: Length | None
    margin: Length | None
    #: of every job; of a job by its stem where that was said
    copies: int
    copies_of: Mapping[str, int]
    #: how plates lie to the grain; None: as the material says
    grain: Grain | None
    straight_cuts: bool
    #: of the DXF files, and what is said first; None: as the jobs ask, and as the first size of sheet was given
    units: Literal["mm", "in"] | None = None

    @property
    def inches(self) -> bool:
        """Whether inches are said first: as was asked, else where the first size of sheet was given in them."""
        return self.stocks[0].is_inch if self.units is None else self.units == "in"


def choice_of(
    *,
    stocks: Sequence[str],
    gap: str | None = None,
    margin: str | None = None,
    copies: Sequence[str] = (),
    grain: str | None = None,
    straight_cuts: bool = False,
    units: Literal["mm", "in"] | None = None,
) -> Choice:
    """The choice that texts make; InputError with a line for each fault."""
    faults: list[str] = []
    sizes = _kept(faults, lambda: stocks_of(stocks)) or ()
    if not stocks:
        faults.append("--stock: is missing (the size of the sheets, such as --stock 600x300)")
    own_gap = _kept(faults, lambda: _length("--gap", gap))
    own_margin = _kept(faults, lambda: _length("--margin", margin))
    every, single = _kept(faults, lambda: _copies(copies)) or (1, {})
    if grain is not None and grain not in GRAINS:
        faults.append(f"--grain: {quoted(grain)} is not known here ({did_you_mean(grain, GRAINS)})")
    if faults:
        raise InputError(faults)
    ways: dict[str | None, Grain | None] = {None: None, **{one: one for one in GRAINS}}
    return Choice(sizes, own_gap, own_margin, every, single, ways[grain], straight_cuts, units)


def _kept(faults: list[str], read: Callable[[], Any]) -> Any:
    """What was read, or None and its faults kept."""
    try:
        return read()
    except InputError as error:
        faults.extend(error.lines)
        return None


def _length(option: str, text: str | None) -> Length | None:
    if text is None:
        return None
    try:
        length = parse_length(text)
    except LengthError as error:
        raise InputError(f"{option}: {error}") from None
    if not 0 <= length.exact <= WIDEST:
        raise InputError(f"{option}: {length} is out of range (write 0 mm to {WIDEST} mm)")
    return length


def _copies(texts: Sequence[str]) -> tuple[int, dict[str, int]]:
    """How many of every job, and of some of them."""
    found: list[tuple[str | None, int]] = []
    faults = []
    for text in texts:
        match = _COPIES.fullmatch(text.strip())
        if match is None or not int(match["count"]) <= MOST_COPIES or (not int(match["count"]) and not match["job"]):
            faults.append(
                f"--copies: {quoted(text)} is no number of copies (write 1 to {MOST_COPIES}, or JOB=NUMBER for one job)"
            )
            continue
        found.append((match["job"], int(match["count"])))
    for job, times in Counter(job for job, _ in found).items():
        if times > 1:
            faults.append(f"--copies: {quoted(job) if job else 'the number for all jobs'} is given twice (keep one)")
    if faults:
        raise InputError(faults)
    return next((count for job, count in found if job is None), 1), {job: n for job, n in found if job is not None}


def copies_for(choice: Choice, stems: Iterable[str]) -> dict[str, int]:
    """How many are wanted of each job, by its stem; InputError for a job that is not there, and for too many plates."""
    known = list(dict.fromkeys(stems))
    faults = [
        f"--copies: {quoted(job)} is none of the jobs ({did_you_mean(job, known)})"
        for job in choice.copies_of
        if job not in known
    ]
    wanted = {stem: choice.copies_of.get(stem, choice.copies) for stem in known}
    if sum(wanted.values()) > MOST_PLATES:
        faults.append(
            f"--copies: {sum(wanted.values())} plates are more than {MOST_PLATES} (lay them in several calls)"
        )
    if faults:
        raise InputError(faults)
    return wanted


def file_part(text: str) -> str:
    """A text as a part of a file's name: letters, digits, - _ and points; "sheets" where nothing is left."""
    return re.sub(r"[^\w.-]+", "-", text, flags=re.ASCII).strip("-._")[:LONGEST_NAME].rstrip("-._") or "sheets"


def checked_name(name: str) -> str:
    """The name of a set of sheets, which folder and files get; InputError where no file can be called so."""
    if len(name) > LONGEST_NAME or not _NAME.fullmatch(name) or name.endswith("."):
        raise InputError(
            f"--name: {quoted(name)} cannot name files (letters, digits, -, _ and points; at most {LONGEST_NAME})"
        )
    return checked_stem(name, "--name")
