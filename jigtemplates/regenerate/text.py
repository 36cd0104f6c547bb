"""What becomes of the jobs when the bit changes, as lines: a table, the reasons, and the dated report."""

from collections import Counter
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import NamedTuple

from jigtemplates import say
from jigtemplates.checks import Level
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.match.text import WIDEST
from jigtemplates.regenerate.notes import MEASURED, OLDER
from jigtemplates.regenerate.outcome import Outcome, Sizes, Status
from jigtemplates.table import table_lines

_HEADER = ("job", "made for", "would cut now", "keep it with", "new opening")
#: What a status is called, before and after writing.
_BEFORE: dict[Status, str] = {
    "unchanged": "unchanged",
    "keeps": "keep the template",
    "renewed": "keep the plate, renew its files",
    "regenerated": "make again",
    "impossible": "cannot be made",
    "left": "",
}
_AFTER = _BEFORE | {
    "keeps": "template kept",
    "renewed": "plate kept, files renewed",
    "regenerated": "made again",
    "impossible": "left as it was",
}

#: Notes that belong to this command and not to a check; the latter are the same for every job.
_OWN_NOTES = ("shares-tools", "other-bushing", OLDER, MEASURED)
_SHARED_NOTES = ("named-in-tools-file", "named-in-profiles-folder", "profiles-read-again")


class Pair(NamedTuple):
    """What to call a bit and a bushing; None for one that was not given."""

    bit: str | None = None
    bushing: str | None = None


NEITHER = Pair()


def outcome_lines(
    outcomes: Sequence[Outcome], new: Pair, old: Pair = NEITHER, *, written: bool, columns: int = WIDEST
) -> Iterator[str]:
    """The table of all jobs of which something can be said; below it why some cannot be made, and which are left."""
    said = [one for one in outcomes if one.status not in (None, "left")]
    yield f"With {_tools(new, old)}: {_summary(said, written)}"
    if said:
        header = (*_HEADER, "done" if written else "to do")
        yield from table_lines(header, [row for one in said for row in (_row(one, written), *_other_rows(one))])
    reasons = (line for one in said for line in _reasons(one))
    for line in dict.fromkeys((*_renewed(said), *reasons, *_left(outcomes, old))):
        yield from wrap(
            line, max(columns, 40), initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False,
            break_long_words=False,
        )  # fmt: skip


def _renewed(said: Sequence[Outcome]) -> Iterator[str]:
    if any(one.status == "renewed" for one in said):
        yield (
            "keep the plate: its opening, outline and holes are those it was made with; only its files change in other "
            "things, such as the plan on paper that tells what to do with bits of your own"
        )


def _tools(new: Pair, old: Pair) -> str:
    """ "bit 8 mm instead of 3/8 in and bushing 12 mm"."""
    given = [(kind, text, was) for kind, text, was in zip(("bit", "bushing"), new, old, strict=True) if text]
    return " and ".join(f"{kind} {text}{f' instead of {was}' if was else ''}" for kind, text, was in given)


#: Most jobs named that are left alone (chosen: the dated report has them all).
_LEFT_NAMED = 12


def _left(outcomes: Sequence[Outcome], old: Pair) -> Iterator[str]:
    """Which jobs are left alone, with the tools they have."""
    names = [f"{one.job} ({_had(one, old)})" for one in outcomes if one.status == "left"]
    if names:
        more = len(names) - _LEFT_NAMED
        named = names if more < 1 else [*names[:_LEFT_NAMED], f"{more} more"]
        kinds = " or ".join(kind for kind, was in zip(("bits", "bushings"), old, strict=True) if was)
        one = len(names) == 1
        yield (
            f"{len(names)} job{'' if one else 's'} with other {kinds} {'is' if one else 'are'} left as "
            f"{'it is' if one else 'they are'}: {', '.join(named)}"
        )


def _had(one: Outcome, old: Pair) -> str:
    """The tools of a job that are not those to be replaced, as they are called."""
    return " + ".join(label for label, was in zip(one.old_tools, old, strict=True) if was)


def _reasons(one: Outcome) -> Iterator[str]:
    """Why a job cannot be made, and what belongs to this command."""
    for finding in one.findings:
        if finding.code in _SHARED_NOTES:
            yield f"{finding.where}: {finding.message}"
        elif finding.code in _OWN_NOTES or finding.level is Level.STOP:
            yield f"{one.job}: {finding.where}: {finding.message}"


def _summary(said: Sequence[Outcome], written: bool) -> str:
    words, count = _AFTER if written else _BEFORE, Counter(one.status for one in said)
    parts = [f"{word} {count[status]}" for status, word in words.items() if count[status]]
    return f"{len(said)} job{'s' * (len(said) != 1)}{'; ' * bool(parts)}{', '.join(parts)}"


def _row(one: Outcome, written: bool) -> tuple[str, ...]:
    assert one.status is not None
    return (
        one.job,
        " + ".join(one.old_tools),
        _cut(one),
        _kept(one.keep_with, one.kept_cut, one.predicted, one.inches) or "-",
        sizes_text(one.new_opening, inches=one.inches) if one.new_opening else "-",
        (_AFTER if written else _BEFORE)[one.status],
    )


def _other_rows(one: Outcome) -> Iterator[tuple[str, ...]]:
    """A row for each other cut in the same template."""
    for number, cut in enumerate(one.other_cuts, 2):
        new = cut["new_opening"]
        made = _cut_text(cut["cut_with_new_bit"], cut["opening"], cut["predicted_cut"], one.inches)
        kept = _kept(one.keep_with, cut.get("cut_when_kept"), cut["predicted_cut"], one.inches)
        yield (f"  cut {number}", "", made, kept, sizes_text(new, inches=one.inches) if new else "-", "")


def _cut(one: Outcome) -> str:
    return _cut_text(one.cut, one.opening, one.predicted, one.inches)


def _cut_text(cut: Sizes | None, opening: Sizes | None, predicted: Sizes | None, inches: bool) -> str:
    """What the existing template cuts, and how much wider or narrower than before."""
    if cut is None:
        return "nothing: too wide" if opening else "-"
    return sizes_text(cut, inches=inches) + _changed(cut, predicted, inches)


def _changed(cut: Sizes, predicted: Sizes | None, inches: bool) -> str:
    """ " (-0.02 mm)"; nothing for a cut that is as wide as before."""
    change = 0.0 if predicted is None else cut["width"] - predicted["width"]
    return f" ({signed(change, inches=inches)})" if abs(change) >= LEAST_SHOWN else ""


def _kept(bushing: str | None, cut: Sizes | None, predicted: Sizes | None, inches: bool) -> str:
    """The bushing that keeps a template right, and how much wider or narrower it then cuts; nothing without one."""
    if bushing is None:
        return ""
    return bushing + ("" if cut is None else _changed(cut, predicted, inches))


#: Smaller changes are shown as none, mm (half of the last decimal shown).
LEAST_SHOWN = 0.0005


def signed(mm: float, *, inches: bool = False) -> str:
    """A change with its sign: "+0.3 mm", "-0.3 mm", "+1/64 in"."""
    return ("-" if mm < 0 else "+") + (inch_short(abs(mm)) if inches else mm_text(abs(mm), 3))


def sizes_text(sizes: Sizes, *, inches: bool = False) -> str:
    """Width x length: "13.2 x 53.2 mm", "1-1/8 x 3-1/2 in"; of a circle its diameter."""
    width, length = sizes["width"], sizes["length"]
    radius = sizes.get("corner_radius")
    if abs(width - length) < LEAST_SHOWN and (radius is None or abs(radius - width / 2) < LEAST_SHOWN):
        return f"dia {say.sizes_text(width, inches=inches)}"
    return say.sizes_text(width, length, inches=inches)


def report_text(lines: Sequence[str], outcomes: Sequence[Outcome], *, date: str, left: int) -> str:
    """The dated report: when, the table, every file written, the faults, and how many jobs were not reached."""
    files = dict.fromkeys(name for one in outcomes for name in one.written)
    faults = dict.fromkeys(line for one in outcomes for line in one.faults)
    text = [f"jigtemplates regenerate, {date}", "", *lines]
    text += ["", f"Files written: {len(files)}", *(f"  {name}" for name in files)]
    alone = [f"  {one.job} ({' + '.join(one.old_tools)})" for one in outcomes if one.status == "left"]
    text += ["", f"Left as they are, with other tools: {len(alone)}", *alone] if alone else []
    text += ["", "Faults:", *(f"  {line}" for line in faults)] if faults else []
    text += ["", f"Stopped early: {left} jobs were not looked at."] if left else []
    return "\n".join(text) + "\n"
