"""Path data of very many straights in a row, as programs that trace or compute a contour write it: all at once."""

import re

import numpy as np

from jigtemplates.geometry.table import Rows, Table
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.drawn import Run
from jigtemplates.imports.svg_units import NUMBER

#: Shorter path data is read step by step (chosen: that of some hundred places).
LONG_TEXT = 2_000
#: As in `svg_path`: beyond it a number is no place.
LARGEST = 1e12

_BETWEEN = r"(?:\s*,\s*|\s+|(?=[+-]))"
_PLACE = rf"(?>{NUMBER}){_BETWEEN}(?>{NUMBER})"
# Several places behind one letter are as many straights (SVG 1.1, section 8.3.2).
_STRAIGHTS = {
    letters[0]: re.compile(rf"{letters[0]}\s*{_PLACE}(?:(?:\s*{letters[1]}\s*|{_BETWEEN}){_PLACE})*+\s*([Zz]?)")
    for letters in ("ML", "ml")
}
_NUMBER = re.compile(NUMBER)


def straights(text: str, place: Affine) -> Run | None:
    """The one run of the data, its numbers taken through place; None where there is anything but straights in it."""
    text = text.strip()
    pattern = _STRAIGHTS.get(text[:1]) if len(text) > LONG_TEXT else None
    found = pattern.fullmatch(text) if pattern else None
    if found is None:
        return None
    numbers = np.array(list(map(float, _NUMBER.findall(text)))).reshape(-1, 2)
    if np.abs(numbers).max() >= LARGEST:
        return None
    x, y = (numbers.cumsum(axis=0) if text[0] == "m" else numbers).T
    a, b, c, d, e, f = place
    table = Table.polygon(np.column_stack([a * x + c * y + e, b * x + d * y + f]))
    proper = np.any(table.starts != table.ends, axis=1)
    proper[-1] &= bool(found[1])
    return Run(Rows(table.rows(proper)), bool(found[1])) if proper.any() else None
