"""A gauge: a plate with openings whose values are engraved, and what to do with it.

Millimetres from the plate's lower-left corner, x right, y up.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from jigtemplates.checks.finding import Finding, Level
from jigtemplates.drawing import Stroke
from jigtemplates.geometry.outline import Outline
from jigtemplates.holes import Hole
from jigtemplates.parameters.entries import Sheet
from jigtemplates.parameters.job import DxfChoice

Kind = Literal["bushing", "kerf", "fit", "printer"]


@dataclass(frozen=True, slots=True)
class Step:
    """One opening of a gauge and the value that stands beside it."""

    #: as it is engraved, without its unit: "12.70", "0.500"
    text: str
    #: the engraved value, mm
    value: float
    #: the opening as it is drawn, on the plate
    opening: Outline
    #: width of that opening, mm
    width: float
    #: width of the cut that routing the opening makes, mm; None where nothing is routed
    cut: float | None = None


@dataclass(frozen=True, slots=True)
class Plate:
    """The blank of a gauge."""

    width: float
    height: float
    #: radius of its corners, mm
    corner_radius: float = 0.0
    #: mm; None where it was not said
    thickness: float | None = None
    material: Sheet | None = None


@dataclass(frozen=True, slots=True)
class Words:
    """What is said of a gauge; texts are ready to print."""

    #: label and value
    facts: tuple[tuple[str, str], ...]
    #: what to do, in order
    steps: tuple[str, ...]
    #: the command that enters the reading, to be typed with it
    enter: str
    #: what is read, and its unit: "engraved value", "mm"
    reading: tuple[str, str]
    cautions: tuple[str, ...]
    #: a second reading that is typed behind it, and its unit; None for one
    second: tuple[str, str] | None = None


@dataclass(frozen=True)
class Gauge:
    """Everything of a gauge that is cut from a plate."""

    kind: Kind
    stem: str
    title: str
    plate: Plate
    targets: tuple[str, ...]
    #: full width of the beam for which the laser's contours are moved; 0: they are drawn as they shall become
    kerf: float
    dxf: DxfChoice
    steps: tuple[Step, ...]
    engraved: tuple[Stroke, ...]
    words: Words
    marks: tuple[Stroke, ...] = ()
    holes: tuple[Hole, ...] = ()
    #: lines that are cut once and part two pieces: those between the blocks of a kerf gauge
    shared_cuts: tuple[Stroke, ...] = ()
    #: contours that are cut on the line and are no step: the window of a kerf gauge
    windows: tuple[Outline, ...] = ()
    #: what decides the reading, for JSON and the manifest
    data: tuple[tuple[str, Any], ...] = ()
    findings: tuple[Finding, ...] = ()
    #: whether inches were typed and come first
    inches: bool = False

    @property
    def stopped(self) -> bool:
        """True where a finding forbids making it."""
        return any(finding.level is Level.STOP for finding in self.findings)

    def with_findings(self, more: tuple[Finding, ...]) -> "Gauge":
        """The same gauge with more findings at their end."""
        return replace(self, findings=(*self.findings, *more))

    def as_json(self) -> dict[str, Any]:
        """What is printed with `--json`, but for the files; lengths in mm."""
        plate = self.plate
        return {
            "kind": self.kind,
            "title": self.title,
            "plate": {"width": _mm(plate.width), "height": _mm(plate.height), "thickness": plate.thickness},
            "kerf": self.kerf,
            **dict(self.data),
            "openings": [_as_json(step) for step in self.steps],
            "how": list(self.words.steps),
            "enter": self.words.enter,
            "findings": [finding_json(finding) for finding in self.findings],
        }


def finding_json(finding: Finding) -> Mapping[str, str]:
    """A finding as JSON holds it."""
    return {
        "level": finding.level.value,
        "code": finding.code,
        "where": finding.where,
        "message": finding.message,
    }


def _as_json(step: Step) -> dict[str, Any]:
    said: dict[str, Any] = {"engraved": step.text, "value": _mm(step.value), "width": _mm(step.width)}
    return said if step.cut is None else {**said, "cut": _mm(step.cut)}


def _mm(length: float) -> float:
    return round(length, 6) + 0.0
