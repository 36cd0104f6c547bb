"""The raw group codes of an ASCII DXF file: tags, sections and bodies, before any meaning.

Everything that is out of order is a ReadBackError with the line it stands in.
"""

import math
from dataclasses import dataclass, field
from typing import NamedTuple

from jigtemplates.geometry.outline import Point
from jigtemplates.writers.faults import ReadBackError


class Tag(NamedTuple):
    """A group code and its value, with the number of the line the code stands in."""

    code: int
    value: str
    line: int


@dataclass(slots=True)
class Body:
    """One entity's or table entry's tags on their way to meaning."""

    kind: str
    line: int
    tags: list[Tag] = field(default_factory=list)

    def one(self, code: int) -> str:
        """The value of a code that must stand there exactly once."""
        found = [t.value for t in self.tags if t.code == code]
        if len(found) != 1:
            raise refused(self.line, f"{self.kind} has {len(found)} values of group code {code}, not 1")
        return found[0]

    def number(self, code: int) -> float:
        """A finite number that must stand there exactly once."""
        return number(self.one(code), self.line)

    def point(self, code: int) -> Point:
        """A place in the plane: codes c, c + 10 and a height c + 20 of nothing."""
        if self.number(code + 20) != 0.0:
            raise refused(self.line, f"{self.kind} does not lie in the plane")
        return Point(self.number(code), self.number(code + 10))

    def only(self, *codes: int) -> None:
        """Refuse every group code but these and the handles, owners and class marks."""
        for tag in self.tags:
            if tag.code not in codes and tag.code not in _ANYWHERE:
                raise refused(tag.line, f"{self.kind} with group code {tag.code}")


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
    codes, values = lines[:-1:2], lines[1::2]
    return [
        Tag(whole(code, at), value, at) for code, value, at in zip(codes, values, range(1, len(lines), 2), strict=True)
    ]


def split_sections(tags: list[Tag]) -> dict[str, list[Tag]]:
    """The tags between each SECTION with its name and ENDSEC."""
    found: dict[str, list[Tag]] = {}
    at = 0
    while at < len(tags) and not _is(tags[at], "EOF"):
        name = _section_name(tags, at, found)
        end = next((i for i in range(at, len(tags)) if _is(tags[i], "ENDSEC")), None)
        if end is None:
            raise refused(tags[at].line, f"section {name} has no end")
        found[name] = tags[at + 2 : end]
        at = end + 1
    if at != len(tags) - 1:
        raise ReadBackError("EOF is not the last of the file")
    return found


def _is(tag: Tag, word: str) -> bool:
    return tag.code == 0 and tag.value == word


def _section_name(tags: list[Tag], at: int, found: dict[str, list[Tag]]) -> str:
    if not _is(tags[at], "SECTION") or at + 1 == len(tags) or tags[at + 1].code != 2:
        raise refused(tags[at].line, f'"{tags[at].value}" where a section should begin')
    name = tags[at + 1].value
    if name not in _SECTIONS or name in found:
        raise refused(tags[at].line, f"an unexpected section {name}")
    return name


def split_bodies(tags: list[Tag]) -> list[Body]:
    """Each group code 0 with the tags up to the next."""
    bodies: list[Body] = []
    for tag in tags:
        if tag.code == 0:
            bodies.append(Body(tag.value, tag.line))
        elif not bodies:
            raise refused(tag.line, f"group code {tag.code} outside any entity")
        else:
            bodies[-1].tags.append(tag)
    return bodies
