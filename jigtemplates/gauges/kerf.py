"""The kerf gauge: blocks side by side in a window, so that one gap is the sum of many kerfs.

::

    x0   x1   x2         xn        n + 1 cuts across, at equal steps p, each drawn and cut once;
    ┌────┬────┬── … ──┬────┐       n blocks between them in a window n p long
    │    │    │       │    │
    └────┴────┴── … ──┴────┘

A beam of full width k that runs on the lines leaves each block p - k wide and the window n p + k. Pushed to one side,
the blocks leave

    gap = (n p + k) - n (p - k) = (n + 1) k

at the other: as many kerfs as there are cuts across, the window's two ends counted, and not a word of p. A measurement
that is 0.05 mm wrong is 0.005 mm wrong in the kerf of ten cuts. (Ten blocks and eleven kerfs: Rice University, ENGI
210, "kerf box", read; the same with ten cuts here, to divide in the head.)
"""

from dataclasses import dataclass, replace

from jigtemplates.cautions import LAST
from jigtemplates.checks.finding import Finding, stop
from jigtemplates.drawing import Stroke
from jigtemplates.errors import InputError, quoted
from jigtemplates.gauges import enter
from jigtemplates.gauges.blank import Blank, BlankAsked, Faults, blank_findings, blank_of
from jigtemplates.gauges.bushing import machine_cautions
from jigtemplates.gauges.gauge import Gauge, Plate, Words
from jigtemplates.gauges.layout import NARROWEST, SHEET, STRIP, plate_region, titled
from jigtemplates.gauges.stem import slug
from jigtemplates.geometry.outline import Outline, Point
from jigtemplates.lengths import LengthError, first_text, mm_text, parse_length, rounded_text
from jigtemplates.lettering import letter, text_box
from jigtemplates.marks import datum_mark
from jigtemplates.profiles import Profiles
from jigtemplates.say import sides_text

#: Cuts across, the usual number and the limits (chosen: ten divide in the head; fewer than 4 gain little, and 40 blocks
#: tip in their window).
CUTS, FEWEST, MOST = 10, 4, 40
#: Length of the blocks along the cuts, mm (chosen: the jaws of a caliper bear on it).
BLOCK = 20.0
#: Least step between the cuts, mm, and how much more than the sheet is thick (chosen: such a block stands fast).
PITCH, BEYOND = 8.0, 2.0
#: Frame round the window, mm (chosen: it must not bend when the blocks are pushed).
FRAME = 10.0
#: Height of the blocks' numbers, mm, and of the words beside the window.
NUMBER, WORD = 3.0, 3.0
PUSH = "<< push"


@dataclass(frozen=True, slots=True)
class Comb:
    """The window and its cuts, on the plate; mm."""

    cuts: int
    pitch: float
    #: lower-left corner of the window
    corner: Point

    @property
    def blocks(self) -> int:
        """Pieces between the cuts."""
        return self.cuts - 1

    @property
    def length(self) -> float:
        """Length of the window as it is drawn."""
        return self.blocks * self.pitch

    @property
    def window(self) -> Outline:
        """The rectangle round all blocks: its two ends are the first and the last cut across."""
        (x, y), top, right = self.corner, self.corner.y + BLOCK, self.corner.x + self.length
        return Outline.polygon(((x, y), (right, y), (right, top), (x, top)))

    @property
    def shared(self) -> tuple[Stroke, ...]:
        """The cuts between two blocks, from left to right."""
        x, y = self.corner
        across = (x + i * self.pitch for i in range(1, self.blocks))
        return tuple(Stroke((Point(at, y), Point(at, y + BLOCK))) for at in across)

    @property
    def numbers(self) -> tuple[Stroke, ...]:
        """A number on each block, so that none is turned over or changes its place."""
        y = self.corner.y + BLOCK - 2 * NUMBER
        return tuple(
            stroke
            for i in range(self.blocks)
            for stroke in centred(str(i + 1), NUMBER, self.corner.x + (i + 0.5) * self.pitch, y)
        )


def centred(text: str, height: float, x: float, y: float) -> tuple[Stroke, ...]:
    """A text with the middle of its strokes at x and its baseline at y."""
    return letter(text, height, Point(x - text_box(text, height).center.x, y))


def kerf_gauge(cuts: str | None, blank: BlankAsked, profiles: Profiles) -> Gauge:
    """The gauge for the kerf of a laser in one sheet; InputError has every fault of what was typed.

    It is drawn on the line whatever kerf is known: an allowance would move the cuts that are measured.
    """
    faults = Faults()
    number = faults.of(lambda: _number(cuts))
    sheet = faults.of(
        lambda: blank_of(replace(blank, targets=("laser",), kerf="0 mm"), profiles, inches=_in_inches(blank.thickness))
    )
    for option, given in (("--material", blank.material), ("--thickness", blank.thickness)):
        if given is None:
            faults.lines.append(f"{option}: a kerf belongs to one sheet (name its {option.removeprefix('--')})")
    faults.stop()
    assert number is not None
    assert sheet is not None
    return _gauge(number, sheet)


def _in_inches(typed: str | None) -> bool:
    """Whether a thickness was typed in inches; False for what is none, of which its own fault is said."""
    try:
        return typed is not None and parse_length(typed).is_inch
    except LengthError:
        return False


def _number(typed: str | None) -> int:
    if typed is None:
        return CUTS
    text = typed.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 5 and FEWEST <= int(text) <= MOST):
        raise InputError(
            f"--cuts: {quoted(typed)} is not a number of cuts (write a whole number from {FEWEST} to {MOST})"
        )
    return int(text)


def _gauge(cuts: int, blank: Blank) -> Gauge:
    assert blank.thickness is not None
    assert blank.material is not None
    inches = blank.thickness.is_inch
    pitch = max(PITCH, float(round(blank.thickness.mm + BEYOND + 0.499)))
    frame = max(FRAME, blank.wall)
    width = max((cuts - 1) * pitch + 2 * frame, NARROWEST)
    comb = Comb(cuts, pitch, Point((width - (cuts - 1) * pitch) / 2, STRIP + 2 * WORD))
    height = comb.corner.y + BLOCK + frame
    region = plate_region(width, height)
    beside = _beside(comb)
    marks = datum_mark(region, [comb.window])
    facts = ["kerf gauge", blank.named, "cut on the line"]
    title = titled(facts, region, [comb.window, *beside, *marks], Point(width / 2, STRIP / 2))
    gauge = Gauge(
        kind="kerf",
        stem=f"gauge-kerf-{slug(blank.named)}",
        title=f"Kerf gauge, {blank.named}",
        plate=Plate(width, height, 0.0, blank.thickness.mm, blank.material),
        targets=("laser",),
        kerf=0.0,
        dxf=blank.dxf,
        steps=(),
        engraved=(*comb.numbers, *beside, *title),
        marks=marks,
        words=_words(comb, blank, inches),
        shared_cuts=comb.shared,
        windows=(comb.window,),
        data=(("cuts", cuts), ("pitch", pitch), ("material", blank.material.name)),
        findings=blank_findings(blank, None, says_kerf=False, inches=inches),
        inches=inches,
    )
    return gauge.with_findings(_too_large(gauge, blank))


def _beside(comb: Comb) -> tuple[Stroke, ...]:
    """Below the window: which way to push, and what the gap is."""
    y = comb.corner.y - 2.0 - WORD
    push = letter(PUSH, WORD, Point(comb.corner.x, y))
    rule = f"gap / {comb.cuts} = kerf"
    return (*push, *letter(rule, WORD, Point(comb.corner.x + comb.length - text_box(rule, WORD).right, y)))


def _too_large(gauge: Gauge, blank: Blank) -> tuple[Finding, ...]:
    (width, height), plate = blank.sheet or SHEET, gauge.plate
    if plate.width <= width + 1e-9 and plate.height <= height + 1e-9:
        return ()
    return (
        stop(
            "does-not-fit-sheet",
            "--sheet",
            f"the plate is {sides_text(plate.width, plate.height, inches=gauge.inches)}, more than "
            f"{sides_text(width, height, inches=gauge.inches)}: take fewer cuts (--cuts), or a larger sheet (--sheet)",
        ),
    )


def _words(comb: Comb, blank: Blank, inches: bool) -> Words:
    assert blank.thickness is not None
    assert blank.material is not None
    unit = "in" if inches else "mm"
    error = _error(comb.cuts, inches)
    return Words(
        facts=(
            ("sheet", blank.named),
            (
                "cuts across",
                f"{comb.cuts}, the window's ends counted; {comb.blocks} blocks of {first_text(comb.pitch, inches)}",
            ),
            ("rule", f"gap / {comb.cuts} = kerf, the full width the beam removes"),
            ("drawn", "on the line, no kerf allowed for"),
        ),
        steps=(
            "Turn off any kerf or beam compensation in the laser's own program. Cut with the power, speed and focus of "
            "your templates. The lines between the blocks are open: they are cut once and must not be closed, doubled "
            "or joined.",
            "Cut the lines between the blocks before the window round them, as they stand in the file.",
            "Leave the blocks in their order and this side up; a kerf is wider at one face than at the other. Brush "
            "the soot off, and push them all firmly to the left.",
            "Measure the gap at the right, at the upper face and at the lower one, with a caliper's inside jaws or "
            "feeler gauges, and take the mean.",
            f"Divide by {comb.cuts}. An error of {error} in the kerf. Cut the plate a second time, turned by 90°: "
            "where the two differ, take the mean.",
        ),
        enter=enter.kerf(comb.cuts, blank.material.name, blank.thickness.text, unit),
        reading=("gap at the right", unit),
        cautions=(*machine_cautions(blank), *LAST[1:]),
    )


def _error(cuts: int, inches: bool) -> str:
    """What a slip of the caliper does."""
    if inches:
        return f"0.002 in in the gap is {rounded_text(0.002 / cuts, 4)} in"
    return f"0.05 mm in the gap is {mm_text(0.05 / cuts, 4)}"
