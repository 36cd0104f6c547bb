"""A correction before it is written: what it says, what is odd about it, and which files it changes."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigtemplates.calibrate.change import InJob, Rewrite
from jigtemplates.calibrate.jobs import Corrected
from jigtemplates.errors import quoted
from jigtemplates.lengths import Length, mm_text, parse_length

#: Decimals a new size is rounded to: mm, and inches (chosen: finer than any caliper).
_DIGITS = {False: 3, True: 4}


@dataclass(frozen=True, slots=True)
class Options:
    """What the command line says for every correction."""

    #: the day of the measurement, "2026-11-25"
    on: str
    #: the tools file given; None: the person's usual one
    file: Path | None = None
    #: a folder of profiles
    folder: Path | None = None
    #: where the jobs are; None: in `beside` and one folder below
    jobs: Path | None = None
    #: this folder, or that of the job that was named
    beside: Path = Path()
    #: write what is questioned
    sure: bool = False
    #: write nothing
    look: bool = False
    as_json: bool = False

    @property
    def folders(self) -> tuple[Path, ...]:
        """Where jobs are looked for: in the folder given, else here and one folder below, as `drawer` does."""
        return (self.beside, *_below(self.beside)) if self.jobs is None else (self.jobs,)

    @property
    def looked(self) -> str:
        """The same in words: "this folder and those just below it"."""
        if self.jobs is not None:
            return quoted(str(self.jobs))
        here = "this folder" if self.beside == Path() else quoted(str(self.beside))
        below = "those" if self.beside == Path() else "the folders"
        return f"{here} and {below} just below it" if _below(self.beside) else here

    @property
    def tools(self) -> Path | None:
        """The tools file as jobs are to see it: one that is not there yet they cannot."""
        return self.file if self.file is not None and self.file.is_file() else None


def _below(folder: Path) -> tuple[Path, ...]:
    """The folders in a folder, hidden ones passed over; none where it cannot be listed."""
    try:
        held = sorted(folder.iterdir())
    except OSError:
        return ()
    return tuple(path for path in held if not path.name.startswith(".") and path.is_dir())


@dataclass(frozen=True, slots=True)
class Proposal:
    """One correction."""

    #: what it is called in the list for `--undo`: "kerf in mdf, 6 mm"
    what: str
    #: label and value of what was in force and what is from now on, behind what it was measured from
    facts: tuple[tuple[str, str], ...]
    #: what is odd; such a correction is written only with `--sure`
    questions: tuple[str, ...]
    corrected: Corrected
    #: the files to be changed; none where nothing is to be corrected
    rewrites: tuple[Rewrite | InJob, ...]
    #: sizes as numbers, for `--json`
    numbers: tuple[tuple[str, Any], ...]
    #: label and value of what a test cut was made with, what was expected and what was measured; () for any other
    reading: tuple[tuple[str, str], ...] = ()
    #: what is shown below it, as paragraphs of lines
    told: tuple[tuple[str, tuple[str, ...]], ...] = ()
    #: why nothing is to be written, where that is so
    nothing: str = ""

    @property
    def in_jobs(self) -> tuple[InJob, ...]:
        """The jobs to be changed."""
        return tuple(one for one in self.rewrites if isinstance(one, InJob))


def length_text(mm: float, *, inches: bool) -> str:
    """A new size as a profile has it: "12.683 mm", "0.4993 in"."""
    text = mm_text(mm / 25.4 if inches else mm, _DIGITS[inches]).removesuffix(" mm")
    return f"{text} {'in' if inches else 'mm'}"


def rounded(mm: float, *, inches: bool) -> Length:
    """A new size as it will be read from the profile."""
    return parse_length(length_text(mm, inches=inches))


def with_within(mm: float, within: float, *, inches: bool) -> str:
    """A size and how good it is: "0.19 mm ± 0.005 mm"."""
    return f"{length_text(mm, inches=inches)} ± {length_text(within, inches=inches)}"


def said(mm: float, *, inches: bool, digits: int = 3) -> str:
    """A size in a sentence: "12.683 mm", or "0.4993 in (12.683 mm)" where inches were typed."""
    millimetres = mm_text(mm, digits)
    return f"{length_text(mm, inches=True)} ({millimetres})" if inches else millimetres
