"""SVG transform attributes; svgelements multiplies them, the grammar is checked first."""

import re

from jigtemplates.errors import quoted
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.svg_units import NUMBER
from jigtemplates.imports.trouble import refuse

#: How many numbers each may have (SVG 1.1, section 7.6).
_COUNTS = {"matrix": (6,), "translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewX": (1,), "skewY": (1,)}
_ONE = re.compile(rf"[\s,]*(\w+)\s*\(\s*({NUMBER}(?:[\s,]+{NUMBER}|(?=[+-]){NUMBER})*)\s*\)[\s,]*")
_NUMBER = re.compile(NUMBER)


def transform(text: str | None) -> Affine:
    """The map of a transform attribute; OutlineError where it is not one of the standard's."""
    if text is None or not text.strip() or text.strip() == "none":
        return Affine()
    at = 0
    while at < len(text):
        found = _ONE.match(text, at)
        if found is None or len(_NUMBER.findall(found[2])) not in _COUNTS.get(found[1], ()):
            refuse(f"transform {quoted(text)} cannot be read (apply the transform in your drawing program)")
        at = found.end()
    from svgelements import Matrix

    m = Matrix(text)
    return Affine(m.a, m.b, m.c, m.d, m.e, m.f)
