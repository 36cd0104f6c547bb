"""Looks at a DXF file's bytes before ezdxf does: text or not, how much it draws, blocks in blocks counted out."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from jigtemplates.errors import quoted
from jigtemplates.imports.trouble import refuse

#: Most entities, corners of old polylines counted, before and after blocks are taken apart (chosen: twice the
#: outline of 100 000 points), and deepest nesting of blocks (chosen: nobody nests drawings so).
MOST_ENTITIES, DEEPEST = 200_000, 20

#: What begins the text of every compiled (binary) file of the two families.
_BINARY_MARK, _DRAWING_MARK = b"\r\n\x1a\x00", b"AC10"


@dataclass
class _Content:
    """What a block or the drawing itself holds."""

    own: int = 0
    #: how often each block is put in
    blocks: Counter[bytes] = field(default_factory=Counter)


def check_dxf(data: bytes) -> None:
    """Raise OutlineError for bytes that are no text DXF, or that draw more than anybody reads."""
    if _BINARY_MARK in data[:40]:
        refuse("is a binary DXF (save it as text, ASCII, DXF)")
    if data[:4] == _DRAWING_MARK:
        refuse("is a drawing in its program's own format (save it as DXF)")
    if b"\0" in data:
        refuse("is not a DXF text (save it as text, ASCII, DXF)")
    lines = data.split(b"\n")
    if lines and not lines[-1].strip():
        lines.pop()
    if not data.strip() or lines[0].strip() not in (b"0", b"999"):
        refuse("is not a DXF drawing (it does not begin with a section)")
    _check_counts(_contents(lines))


def _contents(lines: list[bytes]) -> dict[bytes, _Content]:
    """Each block by its name, and the drawing itself under an empty name."""
    found: dict[bytes, _Content] = {b"": _Content()}
    here, section = found[b""], b""
    for kind, body in _bodies(lines):
        if kind == b"SECTION":
            section, here = body.get(b"2", b""), found[b""]
        elif kind == b"BLOCK":
            here = found.setdefault(body.get(b"2", b"").upper(), _Content())
        elif kind == b"ENDBLK":
            here = found[b""]
        elif section in (b"BLOCKS", b"ENTITIES") and kind != b"ENDSEC":
            here.own += 1
            if kind == b"INSERT":
                here.blocks[body.get(b"2", b"").upper()] += _whole(body.get(b"70")) * _whole(body.get(b"71"))
            if here.own > MOST_ENTITIES:
                refuse(f"draws more than {MOST_ENTITIES} entities (keep only the outline in the drawing)")
    return found


def _bodies(lines: list[bytes]) -> Iterator[tuple[bytes, dict[bytes, bytes]]]:
    """Each structure or entity with its first value of the few group codes that count here."""
    kind, body = b"", dict[bytes, bytes]()
    for code, value in zip(lines[0::2], lines[1::2], strict=False):
        plain = code.strip()
        if plain == b"0":
            yield kind, body
            kind, body = value.strip(), {}
        elif plain in (b"2", b"70", b"71"):
            body.setdefault(plain, value.strip())
    yield kind, body


def _whole(text: bytes | None) -> int:
    """A count of rows or columns; what is none counts as one here and is ezdxf's to refuse."""
    try:
        return max(1, int(text or b"1"))
    except ValueError:
        return 1


def _check_counts(found: dict[bytes, _Content]) -> None:
    known: dict[bytes, int] = {}

    def drawn(name: bytes, depth: int) -> int:
        if depth > DEEPEST:
            refuse(f"blocks within blocks, more than {DEEPEST} deep (take the blocks apart)")
        if name not in known:
            content = found.get(name, _Content())
            total = content.own + sum(times * drawn(inner, depth + 1) for inner, times in content.blocks.items())
            if total > MOST_ENTITIES:
                what = f"block {quoted(name.decode('utf-8', 'replace'))}" if name else "it"
                refuse(f"{what} draws {total} entities, blocks taken apart (at most {MOST_ENTITIES})")
            known[name] = total
        return known[name]

    drawn(b"", 0)
