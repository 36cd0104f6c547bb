"""Which bushing keeps a template right when the bit changes?

The opening stays as it is. With bit B and bushing G it cuts what the old pair cut where the offset
(G - B) / 2 is the old one, the bushing still slides in it, and the corners are not coarser.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jigtemplates.checks import Finding, Level
from jigtemplates.checks.finding import stop
from jigtemplates.geometry.measure import deviation
from jigtemplates.opening import size_of
from jigtemplates.outside import is_outside
from jigtemplates.parameters.entries import Bushing
from jigtemplates.practice import HAIR
from jigtemplates.profiles import Profiles
from jigtemplates.regenerate.existing import Existing, Opening
from jigtemplates.report import Report
from jigtemplates.routing import route_for
from jigtemplates.wanted import edge_of_work

#: How far the edge of the cut may move, mm a side, and the template still counts as right. Chosen: 0.05 mm in
#: width, half of what a loose tenon's fit of 0.1 mm leaves; two nominal sizes of one tool (9.5 mm and 3/8 in) are
#: within it.
KEPT = 0.025


@dataclass(frozen=True, slots=True)
class CutWith:
    """What a template cuts with a pair it was not made for; mm."""

    width: float
    length: float
    corner_radius: float
    #: largest distance between its edge and the edge that the job asks for
    max_deviation: float


def cut_with(old: Opening, bit: float, bushing: float) -> CutWith | None:
    """What an opening cuts with a bit and bushing of these diameters; None where it cuts nothing."""
    outline = route_for(old.job.cut, old.outline, bit, bushing)
    size = size_of(outline, edge_of_work(old.job.cut))
    if size is None:
        return None
    return CutWith(size.width, size.length, size.corner_radius, deviation(outline, old.wanted))


def keeps(old: Existing, new: Report) -> bool:
    """Whether a template is right with the tools of a report, within KEPT.

    Each cut is then as near to what the job asks as with the old pair or as a new template's; a report with
    a stop, such as a bit that does not pass the bore, keeps nothing.
    """
    if new.stopped or abs(new.offset - old.offset) > KEPT or not old.is_for(new.job):
        return False
    return all(_keeps(was, now) for was, now in zip(old.openings, new.parts, strict=True))


def _keeps(old: Opening, new: Report) -> bool:
    opening, made, best = old.size, old.predicted, new.predicted
    if opening is None or made is None or best is None:
        return False
    bit, bushing = new.case.bit, new.case.bushing
    if not is_outside(new.job.cut) and min(opening.width, opening.length) - bushing < new.job.tools.clearance - HAIR:
        return False
    cut = cut_with(old, bit, bushing)
    return cut is not None and cut.max_deviation <= max(made["max_deviation"], best.max_deviation) + KEPT


def spoilt_inlay(old: Existing, new: Report) -> Finding | None:
    """Why a job is not made with new tools: its plug fitted its recess before, and would no longer; None: no reason."""
    if new.job.inlay is None:
        return None
    missed = [one for one in new.findings if one.code in PLUG_MISSES and one.level is not Level.NOTE]
    worse = next((one for one in missed if one.code not in old.warned), None)
    if worse is None or not old.warned.isdisjoint(PLUG_MISSES):
        return None
    return stop(
        "inlay-no-longer-fits",
        "inlay",
        "with these tools the plug no longer fits its recess, so this job stays as it is "
        f"({worse.message.partition(': ')[0]}): change inlay.plug_bushing or inlay.plug_bit in it as well; which fit, "
        f'jigtemplates inlay --bit "{new.job.tools.bit.label}" says',
    )


#: What `checks.inlay` says of a plug that does not fit.
PLUG_MISSES = frozenset(("plug-too-large", "plug-tight", "plug-loose", "no-plug", "plug-overlaps"))


def keeping(old: Iterable[Existing], bit: float, profiles: Profiles) -> tuple[str, ...]:
    """The person's own bushings whose offset with this bit is that of all the templates, the nearest first."""
    offsets = [one.offset for one in old]
    away = {name: max(abs((wide - bit) / 2 - offset) for offset in offsets) for name, wide, _ in _owned(profiles)}
    near = (name for name, off in away.items() if off <= KEPT)
    return tuple(sorted(near, key=lambda name: round(away[name], 3)))


def wide_enough(bit: float, profiles: Profiles) -> tuple[str, ...]:
    """The person's own bushings that the bit may pass, the narrowest first; an unknown bore may be wide enough."""
    able = [(wide, name) for name, wide, bore in _owned(profiles) if wide > bit and (bore is None or bore > bit)]
    return tuple(name for _, name in sorted(able, key=lambda one: one[0]))


def _owned(profiles: Profiles) -> Iterator[tuple[str, float, float | None]]:
    """Name, diameter and bore of each bushing that is not merely shipped with the program."""
    for found in profiles.own("bushings"):
        entry = found.entry
        assert isinstance(entry, Bushing)
        yield found.name, entry.diameter.mm, None if entry.bore is None else entry.bore.mm
