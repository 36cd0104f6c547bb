"""The name of a gauge's folder and files."""

import re

#: Longest part of a stem that comes from a name (chosen: it stays below the longest stem).
LONGEST = 40


def slug(text: str) -> str:
    """Letters, digits and points of a text, lower case, with - between: "1/2 in" is "1-2-in"."""
    plain = re.sub(r"[^\w.]+", "-", text.lower()).strip("-._")
    return plain[:LONGEST].rstrip("-._") or "x"
