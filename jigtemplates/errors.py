"""What a person may see when something is wrong: lines, one for each fault, never a traceback.

A line says where, what is wrong and what to write instead:
`rail.toml:7: tools.bit: "12,7 mm" is not a length (write 12.7 mm)`.
"""

from collections.abc import Iterable
from difflib import get_close_matches

from jigtemplates.interrupts import heard

#: Longest piece of somebody's text repeated in an error line (chosen: it still fits one terminal line).
SHOWN_CHARACTERS = 40


class JigError(Exception):
    """Base of every error a person may see; str() joins its lines."""

    def __init__(self, lines: str | Iterable[str]) -> None:
        #: one line for each fault, in the order a reader of the file meets them
        self.lines: tuple[str, ...] = (lines,) if isinstance(lines, str) else tuple(lines)
        super().__init__(*self.lines)

    def __str__(self) -> str:
        return "\n".join(self.lines)


class InputError(JigError):
    """The input cannot be read or is not valid: exit status 2, nothing written."""


class OutputError(JigError):
    """The result cannot be written where it was wanted: exit status 2, what was there stays."""


#: Most names, and most of their characters, listed after an unknown one (chosen: a line stays readable).
LISTED_NAMES, LISTED_CHARACTERS = 12, 120


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The end of a line about an unknown word: `did you mean "width"?`, or the known words, or nothing."""
    names = list(known)
    close = get_close_matches(word[:SHOWN_CHARACTERS].lower(), [name.lower() for name in names], n=1)
    if close:
        return "did you mean " + next(quoted(name) for name in names if name.lower() == close[0]) + "?"
    return "known: " + _listed([quoted(name) for name in names]) if names else "there are none"


def _listed(names: list[str]) -> str:
    """As many of the names as fit, and a sign when there are more."""
    fitting = [
        name
        for at, name in enumerate(names[:LISTED_NAMES], 1)
        if len(", ".join(names[:at])) <= LISTED_CHARACTERS or at == 1
    ]
    return ", ".join(fitting) + (" …" if len(fitting) < len(names) else "")


def quoted(value: object) -> str:
    """A value as it stands in an error line: text in quotes, shortened and without control characters.

    Lists and tables are named, not repeated; numbers and true/false look as they do in TOML.
    """
    if isinstance(value, str):
        return f'"{_one_line(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    return _one_line(_number_text(value))


def _number_text(value: object) -> str:
    """str() of a value; Python refuses to print whole numbers of more than 4300 digits."""
    try:
        return str(value)
    except ValueError:
        return "a number of thousands of digits"


def _one_line(text: str) -> str:
    cut = text if len(text) <= SHOWN_CHARACTERS else text[: SHOWN_CHARACTERS - 1] + "…"
    return printable(cut)


def printable(text: str) -> str:
    """The whole text on one line: what cannot be printed, line ends too, stands there as its escape."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


def unforeseen(error: BaseException) -> str:
    """The line about an error that should not have been possible: a fault of ours must still be one line.

    Raises KeyboardInterrupt where the error may be what a library made of one.
    """
    if heard():
        raise KeyboardInterrupt from error
    said = " ".join(f"{type(error).__name__}: {error}".split())
    return f"a fault in jigtemplates itself: {said} (please report it)"
