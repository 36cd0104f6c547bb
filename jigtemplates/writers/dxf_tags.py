"""The raw group codes of an ASCII DXF file: tags, sections and bodies, before any meaning.

Everything that is out of order is a ReadBackError with the line it stands in.
"""

import math
from dataclasses import dataclass, field

from jigtemplates.geometry.outline import Point
from jigtemplates.writers.faults import ReadBackError

#: A group code, its value and the number of the line the code stands in; plain, for there are thousands.
Tag = tuple[int, str, int]


@dataclass(slots=True)
class Body:
    """One entity's or table entry's tags on their way to meaning."""

    kind: str
    line: int
    tags: list[Tag] = field(default_factory=list)
    #: the last value of each code, made when first asked for
    single: dict[int, str] | None = None
    #: codes that stand there more than once
    several: set[int] = field(default_factory=set)

    def one(self, code: int) -> str:
        """The value of a code that must stand there exactly once."""
        if self.single is None:
            self.single = self._sorted_out()
        if code not in self.single or code in self.several:
            times = sum(c == code for c, _, _ in self.tags)
            raise refused(self.line, f"{self.kind} has {times} values of group code {code}, not 1")
        return self.single[code]

    def _sorted_out(self) -> dict[int, str]:
        """The last value of each code; those that stand there more than once are noted."""
        single: dict[int, str] = {}
        for code, value, _ in self.tags:
            if code in single:
                self.several.add(code)
            single[code] = value
        return single

    def number(self, code: int) -> float:
        """A finite number that must stand there exactly once."""
        return number(self.one(code), self.line)

    def point(self, code: int) -> Point:
        """A place in the plane: codes c, c + 10 and a height c + 20 of nothing."""
        if self.number(code + 20) != 0.0:
            raise refused(self.line, f"{self.kind} does not lie in the plane")
        return Point(self.number(code), self.number(code + 10))

    def only(self, codes: frozenset[int]) -> None:
        """Refuse every group code but these and the handles, owners and class marks."""
        for code, _, line in self.tags:
            if code not in codes and code not in _ANYWHERE:
                raise refused(line, f"{self.kind} with group code {code}")


#: handle, owner, subclass mark, layer
_ANYWHERE = frozenset((5, 330, 100, 8))
_SECTIONS = frozenset(("HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"))


def refused(line: int, what: str) -> ReadBackError:
    """The error for a line of the file, to be raised."""
    return ReadBackError(f"line {line}: {what}")


def number(text: str, line: int) -> float:
    """A finite number."""
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise refused(line, f'"{text}" is not a number')
    return value


def whole(text: str, line: int) -> int:
    """A whole number."""
    try:
        return int(text)
    except ValueError:
        raise refused(line, f'"{text}" is not a whole number') from None


def read_tags(data: bytes) -> list[Tag]:
    """Pairs of lines, code and value."""
    try:
        lines = data.decode("ascii").split("\n")
    except UnicodeDecodeError:
        raise ReadBackError("a character that is not ASCII") from None
    if len(lines) % 2 == 0 or lines[-1]:
        raise ReadBackError("the last line is cut off")
    codes, values, numbers = lines[:-1:2], lines[1::2], range(1, len(lines), 2)
    try:
        whole_codes = list(map(int, codes))
    except ValueError:
        whole_codes = [whole(code, at) for code, at in zip(codes, numbers, strict=True)]
    return list(zip(whole_codes, values, numbers, strict=True))


def split_sections(tags: list[Tag]) -> dict[str, list[Tag]]:
    """The tags between each SECTION with its name and ENDSEC."""
    found: dict[str, list[Tag]] = {}
    at = 0
    while at < len(tags) and tags[at][:2] != (0, "EOF"):
        name = _section_name(tags, at, found)
        end = next((i for i in range(at, len(tags)) if tags[i][1] == "ENDSEC"), None)
        if end is None:
            raise refused(tags[at][2], f"section {name} has no end")
        found[name] = tags[at + 2 : end]
        at = end + 1
    if at != len(tags) - 1:
        raise ReadBackError("EOF is not the last of the file")
    return found


def _section_name(tags: list[Tag], at: int, found: dict[str, list[Tag]]) -> str:
    code, value, line = tags[at]
    if (code, value) != (0, "SECTION") or at + 1 == len(tags) or tags[at + 1][0] != 2:
        raise refused(line, f'"{value}" where a section should begin')
    name = tags[at + 1][1]
    if name not in _SECTIONS or name in found:
        raise refused(line, f"an unexpected section {name}")
    return name


def split_bodies(tags: list[Tag]) -> list[Body]:
    """Each group code 0 with the tags up to the next."""
    starts = [i for i, tag in enumerate(tags) if tag[0] == 0]
    if tags and starts[:1] != [0]:
        raise refused(tags[0][2], f"group code {tags[0][0]} outside any entity")
    ends = [*starts[1:], len(tags)] if starts else []
    return [Body(tags[a][1], tags[a][2], tags[a + 1 : b]) for a, b in zip(starts, ends, strict=True)]
