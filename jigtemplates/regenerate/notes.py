"""What `regenerate` says of a job besides what its checks say."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from jigtemplates.checks import Finding
from jigtemplates.checks.finding import note
from jigtemplates.current import Kept
from jigtemplates.errors import quoted
from jigtemplates.given_profiles import Given
from jigtemplates.manifest import unlisted
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.profiles import Profiles, profiles_for
from jigtemplates.regenerate.existing import SAME, Existing, pair_of
from jigtemplates.replaced import strays
from jigtemplates.report import Report
from jigtemplates.say import said

#: The code under which `unlisted` warns of files from an earlier make.
OLDER = "older-files"
#: The code of a tool that measures otherwise than when the template was made.
MEASURED = "measured-since"


def older_beside(kept: Kept) -> tuple[Finding, ...]:
    """A warning for files of an earlier make that stand beside a template's own."""
    folder, name, names = kept.path.parent, kept.path.name, {Path(file.path).name for file in kept.files}
    more = strays(folder, kept.path.stem, names)
    return unlisted(folder, name, {*names, name}, more) if more else ()


def measured_since(old: Existing, new: Report) -> Iterator[Finding]:
    """That a tool of the same name has another diameter than when the template was made."""
    (bit, was_bit, bushing, was_bushing), now = old.pair, pair_of(new.job)
    for key, label, was, label_now, is_now in (
        ("bit", bit, was_bit, *now[:2]),
        ("bushing", bushing, was_bushing, *now[2:]),
    ):
        if label == label_now and abs(was - is_now) > SAME:
            yield note(
                MEASURED,
                f"tools.{key}",
                f"the template was made for {quoted(label)} of {said(was, new.job, 3)}, which measures "
                f"{said(is_now, new.job, 3)} now",
            )


def held_back(new: Report, reports: Iterable[Report]) -> Iterator[Finding]:
    """Why a size that could be made is not: another one of its file cannot."""
    stopped = [report.job.stem for report in reports if report.stopped]
    if not new.stopped:
        yield note(
            "shares-tools",
            "tools",
            f"all sizes of a file share its tools, and {quoted(stopped[0])} cannot be made with these: this one stays "
            "as it is too",
        )


def unknown_elsewhere(path: Path, given: Given, own: Profiles, names: Mapping[str, str | None]) -> Iterator[Finding]:
    """A name that only the given profiles know is unknown to a `check` or `make` without them; `own` are the job's."""
    for option, place, known, how in (
        ("--tools", given.tools, Given(folder=given.folder), "put that file into a folder"),
        ("--profiles", given.folder, Given(tools=given.tools), "put its files into a folder"),
    ):
        if place is None:
            continue
        for key, text in _not_in(profiles_for(path, known.folder, tools=known.tools), own, names):
            yield note(
                "named-in-tools-file" if option == "--tools" else "named-in-profiles-folder",
                f"tools.{key}",
                f"{quoted(text)} is known from {shown_name(str(place))} alone: give {option} to check and make "
                f"too, or {how} named profiles beside the jobs",
            )


def _not_in(known: Profiles, own: Profiles, names: Mapping[str, str | None]) -> Iterator[tuple[str, str]]:
    """Key and name of the new tools that the job's profiles know, and these do not."""
    for key, text in names.items():
        here, there = ({found.name for found in one.entries(f"{key}s")} for one in (known, own))
        if text is not None and text in there - here:
            yield key, text
