"""What can go wrong between a drawing and a file on disk."""

from jigtemplates.errors import OutputError


class UnwritableError(OutputError):
    """The drawing or its pens cannot be said in the wanted file; one line for each fault."""


class ReadBackError(OutputError):
    """What was written is not what was meant: a fault of the program, so the file is refused."""


def shown(mm: float) -> str:
    """A number as it stands in an error line: six decimals at most, no trailing zeros."""
    if not abs(mm) < 1e12:
        return f"{mm:g}"
    text = f"{mm:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def shown_point(x: float, y: float) -> str:
    """A place as it stands in an error line."""
    return f"({shown(x)}, {shown(y)})"
