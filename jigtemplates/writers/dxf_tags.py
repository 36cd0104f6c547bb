"""The raw group codes of an ASCII DXF file: tags, sections and bodies, before any meaning.

Everything that is out of order is a ReadBackError with the line it stands in.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from jigtemplates.geometry.outline import Point
from jigtemplates.writers.faults import ReadBackError

#: A group code, its value and the number of the line the code stands in.
Tag = tuple[int, str, int]


@dataclass(frozen=True, slots=True)
class Tags:
    """Tags in a row, codes and values apart: thousands of tuples kept would be searched for garbage again and again."""

    codes: list[int]
    values: list[str]
    #: the number of the line the first code stands in
    line: int

    def __iter__(self) -> Iterator[Tag]:
        """Each tag in turn."""
        return zip(self.codes, self.values, range(self.line, self.line + 2 * len(self.codes), 2), strict=True)

    def __getitem__(self, i: int) -> Tag:
        """One tag."""
        return self.codes[i], self.values[i], self.line + 2 * i

    def __len__(self) -> int:
        """How many there are."""
        return len(self.codes)

    def part(self, first: int, end: int) -> "Tags":
        """The tags from one place up to another."""
        return Tags(self.codes[first:end], self.values[first:end], self.line + 2 * first)


NO_TAGS = Tags([], [], 0)


@dataclass(frozen=True, slots=True)
class Body:
    """One entity's or table entry's tags on their way to meaning."""

    kind: str
    line: int
    tags: Tags

    def one(self, code: int) -> str:
        """The value of a code that must stand there exactly once."""
        times = self.tags.codes.count(code)
        if times != 1:
            raise refused(self.line, f"{self.kind} has {times} values of group code {code}, not 1")
        return self.tags.values[self.tags.codes.index(code)]

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
        foreign = set(self.tags.codes) - codes - _ANYWHERE
        for code, _, line in self.tags if foreign else ():
            if code in foreign:
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


def read_tags(data: bytes) -> Tags:
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
    return Tags(whole_codes, values, 1)


def split_sections(tags: Tags) -> dict[str, Tags]:
    """The tags between each SECTION with its name and ENDSEC."""
    found: dict[str, Tags] = {}
    at = 0
    while at < len(tags) and tags[at][:2] != (0, "EOF"):
        name = _section_name(tags, at, found)
        if "ENDSEC" not in tags.values[at:]:
            raise refused(tags[at][2], f"section {name} has no end")
        end = tags.values.index("ENDSEC", at)
        found[name] = tags.part(at + 2, end)
        at = end + 1
    if at != len(tags) - 1:
        raise ReadBackError("EOF is not the last of the file")
    return found


def _section_name(tags: Tags, at: int, found: dict[str, Tags]) -> str:
    code, value, line = tags[at]
    if (code, value) != (0, "SECTION") or at + 1 == len(tags) or tags.codes[at + 1] != 2:
        raise refused(line, f'"{value}" where a section should begin')
    name = tags.values[at + 1]
    if name not in _SECTIONS or name in found:
        raise refused(line, f"an unexpected section {name}")
    return name


def split_bodies(tags: Tags) -> list[Body]:
    """Each group code 0 with the tags up to the next."""
    starts = [i for i, code in enumerate(tags.codes) if code == 0]
    if len(tags) and starts[:1] != [0]:
        raise refused(tags.line, f"group code {tags.codes[0]} outside any entity")
    ends = [*starts[1:], len(tags)] if starts else []
    return [Body(tags.values[a], tags[a][2], tags.part(a + 1, b)) for a, b in zip(starts, ends, strict=True)]
