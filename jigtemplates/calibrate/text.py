"""A correction as lines for a terminal, and as JSON."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import click

from jigtemplates.calibrate.jobs import Effect
from jigtemplates.calibrate.proposal import Options, Proposal
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.parameters.tools_file import TOOLS_FILE
from jigtemplates.terminal import hung


def proposal_lines(proposal: Proposal, effects: Sequence[Effect], title: str, options: Options) -> Iterator[str]:
    """What was measured, why, what is corrected, and what that changes."""
    yield click.style(title, bold=True)
    yield from _table(proposal.reading)
    for head, lines in proposal.told:
        if lines:
            yield f"{head}:"
        for line in lines:
            yield from hung("  - ", line)
    if proposal.reading and proposal.facts:
        yield f"Correction of the {proposal.what}:"
    yield from _table(proposal.facts)
    if proposal.nothing:
        yield from hung("No correction: ", proposal.nothing)
    elif effects:
        yield from hung("", f"What it changes in the jobs of {options.looked}:")
        for effect in effects:
            yield from _effect(effect)
    else:
        where = "" if options.jobs is not None else f" ({shown_name(str(options.beside.absolute()))})"
        yield from hung("", f"No job of {options.looked}{where} is changed by it; look elsewhere with --jobs DIR.")


def _table(facts: Sequence[tuple[str, str]]) -> Iterator[str]:
    width = max((len(label) for label, _ in facts), default=0)
    for label, value in facts:
        yield from hung(f"  {label:<{width}}  ", value)


def _effect(effect: Effect) -> Iterator[str]:
    if effect.text:
        yield from hung(f"  {effect.job}: ", effect.text)
    if effect.missed:
        yield from hung(f"  {effect.job}: ", f"not reached: {effect.missed}")


def question_lines(questions: Sequence[str], effects: Sequence[Effect]) -> Iterator[str]:
    """What is odd, and which jobs would become impossible."""
    for question in questions:
        yield from hung("  is that right?  ", question)
    for effect in effects:
        for stop in effect.impossible:
            yield from hung(f"  impossible then: {effect.job}: ", stop)


def outcome_lines(proposal: Proposal, options: Options, *, doubted: bool) -> Iterator[str]:
    """What was done, or why nothing was."""
    files = ", ".join(shown_name(str(one.path)) for one in proposal.rewrites)
    if doubted and not options.sure:
        yield "Nothing was written: measure again, or add --sure where it is right."
    elif options.look:
        yield f"Nothing was written (--look); without it {files} is changed."
    else:
        yield f"Written to {files}, dated {options.on}. To take it back: jigtemplates calibrate --undo{_file(options)}"
        if options.file is not None and options.file.parent.name != TOOLS_FILE.parent.name:
            yield f'A job sees it with: --tools "{shown_name(str(options.file))}"'


def _file(options: Options) -> str:
    return "" if options.file is None else f' --file "{shown_name(str(options.file))}"'


def as_json(
    proposal: Proposal, options: Options, effects: Sequence[Effect], *, doubted: bool, written: bool
) -> Mapping[str, Any]:
    """The object printed with `--json`; lengths in mm."""
    return {
        "what": proposal.what,
        "measured_on": options.on,
        **dict(proposal.numbers),
        "advice": [line for _, lines in proposal.told for line in lines],
        "questions": list(proposal.questions),
        "jobs": [effect.as_json() for effect in effects],
        "nothing": proposal.nothing,
        "files": [one.path.as_posix() for one in proposal.rewrites],
        "doubted": doubted,
        "written": written,
    }
