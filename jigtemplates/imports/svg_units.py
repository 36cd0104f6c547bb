"""How large an SVG is: its width, height and viewBox as the map from its numbers to mm.

By the CSS standard (CSS Values and Units, "absolute lengths") 1 in = 25.4 mm = 96 px = 72 pt = 6 pc. A file that
says px therefore says a size; a file that says a bare number, a percentage or nothing does not.
"""

import re

from jigtemplates.errors import quoted
from jigtemplates.imports.affine import Affine
from jigtemplates.imports.svg_xml import Element
from jigtemplates.imports.trouble import GIVE_UNITS, LEAVE_UNITS, refuse
from jigtemplates.lengths import Unit

MM = {"mm": 1.0, "cm": 10.0, "q": 0.25, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "px": 25.4 / 96}

NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z]*|%)\s*")
_BOX = re.compile(rf"\s*({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})[\s,]+({NUMBER})\s*")


def length(text: str) -> tuple[float, str] | None:
    """Number and unit of a length, the unit in small letters; None where it is no length."""
    found = _LENGTH.fullmatch(text)
    return (float(found[1]), found[2].lower()) if found else None


def page_map(root: Element, unit: Unit | None) -> Affine:
    """From the drawing's numbers to mm from the page's upper left corner, y down.

    Unit is how the bare numbers of a file without a size are read; OutlineError where it is missing, or where
    it is given and the file has a size.
    """
    sides = [_side(root, key) for key in ("width", "height")]
    known = [s for s in sides if s and s[1] in MM]
    if len(known) == 2:
        if unit is not None:
            said = f"{root.attributes['width'].strip()} x {root.attributes['height'].strip()}"
            refuse(f"says itself how large it is, {quoted(said)} ({LEAVE_UNITS}, or use scale)")
        width, height = (s[0] * MM[s[1]] for s in known)
        return _box_map(root, width, height, MM["px"])
    if unit is None:
        refuse(f"does not say how large it is: width and height lack a unit ({GIVE_UNITS})")
    per_number = MM[unit]
    if known or not all(sides) or any(s and s[1] for s in sides):
        return _box_map(root, None, None, per_number)
    width, height = (s[0] * per_number for s in sides if s)
    return _box_map(root, width, height, per_number)


def said_unit(root: Element) -> str | None:
    """The unit of the page's width and height, as in MM; None where both do not say one."""
    found = [length(root.attributes.get(key, "")) for key in ("width", "height")]
    units = [side[1] for side in found if side is not None and side[1] in MM]
    return units[0] if len(units) == 2 else None


def _side(root: Element, key: str) -> tuple[float, str] | None:
    text = root.attributes.get(key)
    if text is None or text.strip() == "auto":
        return None
    found = length(text)
    if found is None or not found[0] > 0:
        refuse(f"{key} is {quoted(text)}, which is no size (set the page's size in your drawing program)")
    return found


def _box_map(root: Element, width: float | None, height: float | None, per_number: float) -> Affine:
    """The map of a viewBox to a page of that size in mm; without a viewBox a number is per_number mm."""
    text = root.attributes.get("viewBox")
    if text is None:
        return Affine(per_number, 0.0, 0.0, per_number)
    box = _BOX.fullmatch(text)
    if box is None or not (float(box[3]) > 0 and float(box[4]) > 0):
        refuse(f"viewBox is {quoted(text)}, which is no box (set the page's size in your drawing program)")
    x, y, w, h = (float(n) for n in box.groups())
    sx, sy = (width / w, height / h) if width and height else (per_number, per_number)
    fit = root.attributes.get("preserveAspectRatio", "").split()
    if "none" not in fit:  # by default the whole box is shown, in the middle
        sx = sy = max(sx, sy) if "slice" in fit else min(sx, sy)
    align = next((word for word in fit if word.startswith("x")), "xMidYMid")
    left = _share(align[1:4]) * ((width or sx * w) - sx * w)
    top = _share(align[5:8]) * ((height or sy * h) - sy * h)
    return Affine(sx, 0.0, 0.0, sy, left - sx * x, top - sy * y)


def _share(word: str) -> float:
    return {"Min": 0.0, "Max": 1.0}.get(word, 0.5)
