"""Goes through many outlines and keeps count."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from engines.judging import judge
from engines.outlines import Case, Draw, Shape, case
from engines.references import Engine

from jigtemplates.errors import JigError
from jigtemplates.geometry.offset import offset

Kinds = dict[Callable[[Draw], Shape], int]


@dataclass
class Tally:
    """What a campaign came to."""

    cases: int = 0
    #: an engine's answers about an offset, and those where nothing splits or vanishes near the distance
    asked: int = 0
    clear: int = 0
    #: segments in all, and those with an end off their curve by more than 1e-9 mm
    segments: int = 0
    loose: int = 0
    kinds: set[str] = field(default_factory=set)
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return (
            f"{self.cases} cases, {self.asked} comparisons ({self.clear} with nothing splitting near), "
            f"{self.loose} of {self.segments} segments drawn together, {len(self.faults)} faults"
        )


def campaign(seeds: Iterable[int], kinds: Kinds, engines: tuple[Engine, ...]) -> Tally:
    """Holds the offset of every sound outline against the engines."""
    tally = Tally()
    for seed in seeds:
        if (drawn := case(seed, kinds)) is not None:
            _add(tally, drawn, engines)
    return tally


def _add(tally: Tally, drawn: Case, engines: tuple[Engine, ...]) -> None:
    about = f"{drawn.kind}, number {drawn.seed}, by {drawn.distance:.6g}: "
    tally.cases += 1
    tally.kinds.add(drawn.kind)
    try:
        verdict = judge(drawn, offset(drawn.regions, drawn.distance), engines)
    except JigError as fault:
        tally.faults.append(f"{about}{fault}")
        return
    tally.asked, tally.clear = tally.asked + verdict.asked, tally.clear + verdict.clear
    tally.segments, tally.loose = tally.segments + verdict.segments, tally.loose + verdict.loose
    tally.faults += [about + fault for fault in verdict.faults]
