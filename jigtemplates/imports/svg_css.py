"""The style sheets of an SVG drawing, as far as they decide what is seen of it and where.

Followed are rules whose selectors are an element's name, *, .class, #id, one of these with more classes (path.a.b), and
lists of such with commas. Any other rule is passed over where it says nothing of FOLLOWED, and refused in a line
where it does: @media, combinators, [attributes], :pseudo-classes. What holds only under a pointer (:hover) is not what
is drawn. The grammar is that of CSS Syntax Module Level 3 (W3C): comments, strings, url() and brackets are taken
out first, so that nothing in them looks like a rule. All of it takes time in proportion to the text.
"""

import re
from collections.abc import Generator, Iterator
from typing import NamedTuple

from jigtemplates.errors import quoted
from jigtemplates.imports.trouble import refuse

#: What moves or distorts an element, where only the attribute `transform` is followed.
MOVING = ("transform", "translate", "rotate", "scale", "offset", "offset-path")
#: What gives the transform attribute another meaning.
ABOUT = ("transform-origin", "transform-box")
#: What takes parts of an element away.
CLIPPING = ("clip-path", "mask", "mask-image")
#: What a style may say of each element's own measures (SVG 2, "geometry properties").
MEASURES = {
    "circle": ("cx", "cy", "r"),
    "ellipse": ("cx", "cy", "rx", "ry"),
    "rect": ("x", "y", "width", "height", "rx", "ry"),
    "path": ("d",),
    "use": ("x", "y"),
}
#: Every property that is looked at; `all` stands for them together.
FOLLOWED = frozenset(
    ("display", "visibility", "all", *MOVING, *ABOUT, *CLIPPING, *(n for names in MEASURES.values() for n in names))
)
#: Most characters in the style sheets of a drawing (chosen: some embedded fonts).
LONGEST = 5_000_000
#: Brackets within brackets beyond which a sheet is refused (chosen: no drawing has half of that).
DEEPEST = 8

# What stands for ( ) and [ ] with all that was in them; XML has no such characters.
_ROUND, _SQUARE = "\x01", "\x02"
_OPAQUE = re.compile(
    r"""/\*.*?(?:\*/|\Z)|"(?:[^"\\\n]|\\.)*+"|'(?:[^'\\\n]|\\.)*+'|(?<![\w-])url\(\s*+[^\s"'()\\]*+\s*+\)""",
    re.DOTALL | re.IGNORECASE,
)
_BRACKETS = re.compile(r"\([^()]*+\)|\[[^\[\]]*+\]")
_SAID = re.compile(  # whether it can be worth reading at all
    rf"[\\@]|(?<![\w-])(?:{'|'.join(sorted(FOLLOWED))})\s*+(?::|/\*)", re.IGNORECASE
)
# Before a rule: also the signs that once hid a sheet from programs that knew none.
_LEAD = re.compile(r"(?:\s|<!--|-->)*+")
_BRACE = re.compile(r"[{}]")
_AT_RULE = re.compile(r"@([\w-]+)")
_IMPORTANT = re.compile(r"\s*+!\s*+important\s*+\Z", re.IGNORECASE)
_IDENT = r"-{0,2}(?:[A-Za-z_]|[^\x00-\x7f])(?:[\w-]|[^\x00-\x7f])*+"
_NAME = re.compile(_IDENT)
_COMPOUND = re.compile(rf"(?=[^\s])(?P<tag>{_IDENT}|\*)?(?P<rest>(?:[.#]{_IDENT})*+)")
_PART = re.compile(rf"([.#])({_IDENT})")
# Nobody's hand is on the drawing.
_IN_HAND = re.compile(r"(?<!:):(?:hover|active|focus)(?![\w-])", re.IGNORECASE)
#: At-rules that draw nothing.
_HARMLESS = ("charset", "font-face", "page")


class Declaration(NamedTuple):
    """One of FOLLOWED, in small letters, and what it is set to, as it stands there."""

    name: str
    value: str
    important: bool


class Selector(NamedTuple):
    """An element's name, an id and classes that it must have, as far as they are given."""

    tag: str | None
    idents: tuple[str, ...]
    classes: tuple[str, ...]

    @property
    def specificity(self) -> tuple[int, int, int]:
        """How it ranks among others (Selectors Level 3, section 9): ids before classes before names."""
        return len(self.idents), len(self.classes), int(self.tag is not None)


class Rule(NamedTuple):
    """What a sheet sets on some elements."""

    selector: Selector
    declarations: tuple[Declaration, ...]


class Sheet(NamedTuple):
    """A <style> element."""

    #: where it begins in the file
    line: int
    text: str
    #: its attribute media, in small letters
    media: str = ""


def rules_of(sheets: tuple[Sheet, ...]) -> Iterator[Rule]:
    """Every rule on FOLLOWED, in its order; OutlineError where one cannot be followed, or where it is too much."""
    if sum(len(sheet.text) for sheet in sheets) > LONGEST:
        refuse(f"has style sheets of more than {LONGEST // 1_000_000} MB (keep only the outline in the drawing)")
    for sheet in sheets:
        if _SAID.search(sheet.text):
            yield from _rules(sheet)


def declared(style: str) -> tuple[Declaration, ...]:
    """What a style attribute sets of FOLLOWED; OutlineError where that cannot be read."""
    if not _SAID.search(style):
        return ()
    text = _plain(style)
    if text is None or "{" in text or "}" in text:
        refuse(f"has a style that cannot be read, {quoted(style)} (save it as plain SVG)")
    return tuple(_declarations(text, "has in its style"))


def _rules(sheet: Sheet) -> Iterator[Rule]:
    text = _plain(sheet.text)
    if text is None:
        refuse(f"line {sheet.line}: its style sheet cannot be read (save it as plain SVG)")
    line, before = sheet.line, 0
    for at, prelude, body in _blocks(text):
        line, before = line + text.count("\n", before, at), at
        if prelude.startswith("@"):
            _refuse_at_rule(prelude, body, line)
            continue
        found = tuple(_declarations(body, f"line {line}: has in its style sheet")) if "{" not in body else ()
        names = {one.name for one in found} if "{" not in body else _names(body)
        if names:
            if "{" in body or sheet.media not in ("", "all", "screen"):
                refuse(_unfollowed(prelude if "{" in body else f"@media {sheet.media}", names, line))
            yield from (Rule(selector, found) for selector in _selectors(prelude, names, line))


def _plain(text: str) -> str | None:
    """The text without comments, and with a sign for strings and brackets; None where these do not close.

    Its lines are those of the text.
    """

    def lines(found: re.Match[str], sign: str) -> str:
        return sign + "\n" * found[0].count("\n")

    text = _OPAQUE.sub(lambda found: lines(found, " " if found[0].startswith("/*") else _ROUND), text)
    for _ in range(DEEPEST):
        text, count = _BRACKETS.subn(lambda found: lines(found, _ROUND if found[0][0] == "(" else _SQUARE), text)
        if not count:
            break
    return None if re.search(r"[\"'()\[\]]", text) else text


def _blocks(text: str) -> Iterator[tuple[int, str, str]]:
    """Place, prelude and body of each rule; the body of an at-rule that has none is empty.

    A body that is not closed ends with the text, as the standard has it.
    """
    at = depth = begin = 0
    prelude, start = "", 0
    for brace in _BRACE.finditer(text):
        if brace[0] == "{":
            if not depth:
                start, prelude = yield from _statements(text, at, brace.start())
                begin = brace.end()
            depth += 1
        elif depth:
            depth -= 1
            if not depth:
                yield start, prelude, text[begin : brace.start()]
                at = brace.end()
    if depth:
        yield start, prelude, text[begin:]
    else:
        yield from _statements(text, at, len(text))


def _statements(text: str, at: int, end: int) -> Generator[tuple[int, str, str], None, tuple[int, str]]:
    """At-rules that end with ; before a prelude, which with its place is what comes back."""
    while True:
        lead = _LEAD.match(text, at, end)
        start = lead.end() if lead else at
        semicolon = text.find(";", start, end)
        if not text.startswith("@", start) or semicolon < 0:
            return start, text[start:end].strip()
        yield start, text[start:semicolon].strip(), ""
        at = semicolon + 1


def _declarations(body: str, where: str) -> Iterator[Declaration]:
    """What of FOLLOWED a body without braces sets; what is no declaration counts for nothing (the standard)."""
    for one in body.split(";"):
        name, colon, value = one.partition(":")
        name = name.strip().lower()
        if "\\" in name and colon:
            refuse(f"{where} a property {quoted(name)}, which is not read (save it as plain SVG)")
        if name in FOLLOWED and colon:
            important = _IMPORTANT.search(value)
            yield Declaration(name, value[: important.start() if important else None].strip(), bool(important))


def _names(body: str) -> set[str]:
    """Which of FOLLOWED a body of anything may set."""
    words = (part.partition(":")[0].strip().lower() for part in re.split(r"[{};]", body) if ":" in part)
    return {word for word in words if word in FOLLOWED or "\\" in word}


def _refuse_at_rule(prelude: str, body: str, line: int) -> None:
    found = _AT_RULE.match(prelude)
    kind = found[1].lower() if found else ""
    if kind == "import":
        refuse(f"line {line}: its style sheet refers to another file (save it as plain SVG, with nothing linked)")
    names = set() if kind in _HARMLESS else _names(body)
    if names or kind == "namespace":
        refuse(_unfollowed(prelude, names, line))


def _selectors(prelude: str, names: set[str], line: int) -> Iterator[Selector]:
    for one in prelude.split(","):
        text = one.strip()
        if _IN_HAND.search(text) and _ROUND not in text:
            continue
        found = _COMPOUND.fullmatch(text)
        if found is None:
            refuse(_unfollowed(prelude, names, line))
        parts = _PART.findall(found["rest"])
        tag = found["tag"] if found["tag"] != "*" else None
        yield Selector(tag, *(tuple(name for sign, name in parts if sign == wanted) for wanted in "#."))


def as_written(text: str) -> str:
    """A piece of a sheet or style for a line of text."""
    return text.replace(_ROUND, "(…)").replace(_SQUARE, "[…]")


def _unfollowed(prelude: str, names: set[str], line: int) -> str:
    shown = " ".join(as_written(prelude).split())
    sets = f" sets {', '.join(sorted(names))}, which" if names else ""
    return (
        f"line {line}: the style {quoted(shown)}{sets} is followed only for .class, #id and the names of elements "
        "(set it on the elements themselves, or save it as plain SVG)"
    )
