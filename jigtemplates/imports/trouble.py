"""What can be wrong with a drawing, as sentences that still lack the file's name."""

from collections.abc import Iterable
from typing import NoReturn

from jigtemplates.geometry.outline import Point

#: What to do about a drawing, in the words of the job's keys.
GIVE_UNITS = 'write units = "mm" or units = "in"'
LEAVE_UNITS = "leave units out"
SELECT = "write select = "


class OutlineError(Exception):
    """Faults in a drawing, a sentence for each; `outline_file` puts the file's name before them."""

    def __init__(self, sentences: str | Iterable[str]) -> None:
        #: in the order of the file
        self.sentences: tuple[str, ...] = (sentences,) if isinstance(sentences, str) else tuple(sentences)
        super().__init__(*self.sentences)


class TooMuchError(OutlineError):
    """The drawing as a whole is refused, whatever in it is meant."""


def refuse(sentence: str) -> NoReturn:
    """Raise OutlineError with one sentence."""
    raise OutlineError(sentence)


#: From here on a number is written with its power of ten (chosen: nine digits are still read).
LONGEST_WRITTEN = 1e9


def place_text(p: Point) -> str:
    """A place as the drawing program shows it, in mm: "(12.5, 3)"."""
    return f"({number_text(p.x)}, {number_text(p.y)})"


def number_text(value: float) -> str:
    """At most three decimals, without trailing zeros or a minus before 0; what no drawing means as 1e+300."""
    if abs(value) >= LONGEST_WRITTEN:
        return f"{value:g}"
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")
