"""The drawer as lines: a table of the templates, and what each would cut with another pair."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from jigtemplates.checks.fit import BINDS
from jigtemplates.drawer import CutBy, Drawn
from jigtemplates.given_tool import GivenTool
from jigtemplates.lengths import Length, first_text, inch_short, mm_text
from jigtemplates.opening import Size
from jigtemplates.regenerate.text import LEAST_SHOWN, signed, sizes_text
from jigtemplates.table import table_lines


@dataclass(frozen=True)
class Entry:
    """A template, what no longer agrees, and what it cuts with the pair that was asked about."""

    drawn: Drawn
    #: empty where files and job agree; None where the job cannot be read
    state: tuple[str, ...] | None
    #: for each opening; None where no other pair was asked about
    other: tuple[CutBy, ...] | None = None

    def as_json(self) -> dict[str, Any]:
        """The object that `drawer --json` prints; lengths in mm."""
        drawn, (width, height, thickness) = self.drawn, self.drawn.plate
        said: dict[str, Any] = {
            "name": drawn.name,
            "title": drawn.title,
            "bit": drawn.bit.label,
            "bushing": drawn.bushing.label,
            "cut": _extents(drawn.cut),
            "plate": {"width": width, "height": height, "thickness": thickness},
            "state": list(_states(self)),
            "changed_files": list(drawn.changed_files),
            "older_files": list(drawn.older_files),
        }
        if drawn.others:
            said["other_cuts"] = [_extents(cut) for _, cut, _ in drawn.others]
        if self.other is None:
            return said
        first, *others = (one.as_json() for one in self.other)
        said["with_other_tools"] = first
        return {**said, "others_with_other_tools": others} if others else said


def _extents(cut: Size) -> dict[str, float]:
    return {"width": cut.width, "length": cut.length}


def _states(entry: Entry) -> tuple[str, ...]:
    if entry.state is None:
        return ("job cannot be read",)
    return entry.state or ("ok",)


def drawer_lines(entries: Sequence[Entry], *, bit: str | None, bushing: str | None) -> Iterator[str]:
    """The table of the templates; with tools that were asked about, what each would cut and how that differs."""
    pair = " and ".join(f"{kind} {text}" for kind, text in (("bit", bit), ("bushing", bushing)) if text)
    yield f"{len(entries)} template{'s' * (len(entries) != 1)}{f'; with {pair}:' if pair else ''}"
    header = ("name", "pair", "cut", *(("would cut", "difference") if pair else ()), "plate", "files and job")
    if entries:
        yield from table_lines(header, [row for entry in entries for row in _rows(entry)])
    if any("job not found" in _states(entry) for entry in entries):
        yield "  job not found: say where the job files are, with --jobs DIR"
    for entry in entries:
        if entry.drawn.changed_files:
            yield f"  {entry.drawn.name}: changed or gone: {', '.join(entry.drawn.changed_files)}"
        if entry.drawn.older_files:
            names, why = (
                ", ".join(entry.drawn.older_files),
                "made earlier and not renewed since, so perhaps no longer right",
            )
            yield f"  {entry.drawn.name}: {why}: {names}; delete them"


def _rows(entry: Entry) -> Iterator[tuple[str, ...]]:
    """A row for the template, and one for each other cut in it."""
    drawn = entry.drawn
    width, height, thickness = drawn.plate
    inches = drawn.inches
    would: list[tuple[str, ...]] = [(_size_text(one, inches), _difference(one, inches)) for one in entry.other or ()]
    would = would or [()] * (1 + len(drawn.others))
    thick = inch_short(thickness) if inches else mm_text(thickness)
    plate = f"{_size_text(Size(width, height, 0.0), inches)}, {thick}"
    pair = f"{drawn.bit.label} + {drawn.bushing.label}"
    yield (drawn.name, pair, _size_text(drawn.cut, inches), *would[0], plate, ", ".join(_states(entry)))
    for number, (_, cut, _) in enumerate(drawn.others, 2):
        yield (f"  cut {number}", "", _size_text(cut, inches), *would[number - 1], "", "")


def _size_text(size: Size | CutBy, inches: bool) -> str:
    if size.width is None or size.length is None:
        return "nothing"
    return sizes_text({"width": size.width, "length": size.length, "corner_radius": size.corner_radius}, inches=inches)


def _difference(cut: CutBy, inches: bool) -> str:
    if cut.reason is not None:
        return cut.reason
    assert cut.wider is not None  # a template in the drawer has its own cut
    assert cut.longer is not None
    if max(abs(cut.wider), abs(cut.longer)) < LEAST_SHOWN:
        return "none"
    return f"{signed(cut.wider, inches=inches)} wide, {signed(cut.longer, inches=inches)} long"


def opening_lines(width: Length, length: Length, bit: str, bushing: str, cut: CutBy) -> Iterator[str]:
    """What an opening given by hand cuts, in one sentence."""
    size = f"dia {width}" if width.exact == length.exact else f"{width} x {length}, round ends"
    head = f"Opening {size}, with bit {bit} in bushing {bushing}"
    if cut.reason is not None:
        yield f"{head}: cuts nothing: {cut.reason}"
        return
    play = cut.side_play or 0.0
    binds = ": the bushing will bind in it" if play < BINDS else ""
    made = _size_text(cut, width.is_inch)
    if width.is_inch:
        made += f" ({_size_text(cut, False)})"
    yield f"{head}: cuts {made}, side play {first_text(play, width.is_inch, 3)}{binds}"


def said_of_opening(width: Length, length: Length, bit: GivenTool, bushing: GivenTool, cut: CutBy) -> dict[str, Any]:
    """The same as the object that `drawer --opening --json` prints; lengths in mm."""
    opening = {"width": width.mm, "length": length.mm}
    said = {"opening": opening, "bit": bit.text, "bushing": bushing.text, **cut.as_json()}
    return {key: value for key, value in said.items() if key not in ("wider", "longer")}
