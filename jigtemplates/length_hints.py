"""What to write instead: one hint for each kind of text that is not a length.

Only reached when the strict grammar of `lengths` has already refused the text, so nothing here can
turn a wrong length into a right one.
"""

import re
from collections.abc import Callable
from fractions import Fraction

#: Shown when nothing more helpful is known.
GENERAL = "write a number and a unit, such as 9.5 mm or 3/8 in"

#: What other units are in ours. Factors are definitions: 1 ft = 12 in, 1 yd = 36 in, the metric prefixes.
_OTHER_UNITS: dict[str, tuple[Fraction, str]] = {
    **dict.fromkeys(("mm.", "millimeter", "millimeters", "millimetre", "millimetres"), (Fraction(1), "mm")),
    **dict.fromkeys(("um", "µm", "μm"), (Fraction(1, 1000), "mm")),
    **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), (Fraction(10), "mm")),
    "dm": (Fraction(100), "mm"),
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), (Fraction(1000), "mm")),
    **dict.fromkeys(("in.", "inch", "inches", "zoll", "''", "′′", "’’"), (Fraction(1), "in")),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'", "′", "’"), (Fraction(12), "in")),
    **dict.fromkeys(("yd", "yard", "yards"), (Fraction(36), "in")),
    **dict.fromkeys(("thou", "mil", "mils"), (Fraction(1, 1000), "in")),
}
_UNIT = r"(?P<unit>[A-Za-zµμ\"'′’.]{0,12})"
_NUMBER = re.compile(
    r"-?(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>0*[1-9][0-9]*)|(?P<decimal>[0-9]*\.?[0-9]+))"
)
_PARTS = re.compile(r"(?P<number>-?[0-9./ -]*?) ?(?P<unit>[^0-9./ -].*)")


def hint_for(text: str) -> str:
    """The hint for a tidied text that is not a length."""
    for ask in _QUESTIONS:
        answer = ask(text)
        if answer is not None:
            return answer
    return GENERAL


def _empty(text: str) -> str | None:
    return f"it is empty; {GENERAL}" if not text else None


def _not_finite(text: str) -> str | None:
    found = re.match(r"[-+]?(nan|inf|infinity|∞)\b|[-+]?∞", text, re.IGNORECASE)
    return "a length is a finite number; " + GENERAL if found else None


def _exponent(text: str) -> str | None:
    found = re.match(r"[-+]?[0-9]*\.?[0-9]+e[-+]?[0-9]+", text, re.IGNORECASE)
    return "write the number out, without an exponent" if found else None


def _hexadecimal(text: str) -> str | None:
    found = re.match(r"[-+]?0x[0-9a-f]+(?: ?(?:mm|in|\"))?$", text, re.IGNORECASE)
    return f"a hexadecimal number is no length; {GENERAL}" if found else None


def _glyph_first(text: str) -> str | None:
    found = re.search(r"[½⅓⅔¼¾⅙⅚⅕⅖⅗⅘⅛⅜⅝⅞](?=[0-9])", text)
    return f"a whole number stands before {found[0]}, not behind it; write 2{found[0]} in, say" if found else None


def _comma(text: str) -> str | None:
    if "," not in text:
        return None
    grouped = re.fullmatch(rf"(?P<number>-?[0-9]{{1,3}}(?:,[0-9]{{3}})+(?:\.[0-9]+)?) ?{_UNIT}", text)
    if grouped and (text.count(",") > 1 or "." in text):
        return f"write {_joined(grouped['number'].replace(',', ''), grouped['unit'])}, without a comma"
    continental = re.fullmatch(rf"(?P<number>-?(?:[0-9]{{1,3}}(?:\.[0-9]{{3}})+|[0-9]*),[0-9]+) ?{_UNIT}", text)
    if continental is None:
        return "use a point for decimals and no other separator"
    pointed = _joined(continental["number"].replace(".", "").replace(",", "."), continental["unit"])
    if grouped and not grouped["number"].lstrip("-").startswith("0"):
        thousands = _joined(grouped["number"].replace(",", ""), grouped["unit"])
        return f"a comma is not read; write {thousands} or {pointed}"
    return f"write {pointed}"


def _thousands(text: str) -> str | None:
    found = re.fullmatch(rf"(?P<number>-?[0-9]{{1,3}}(?:[ '’_.][0-9]{{3}})+(?:\.[0-9]+)?) ?{_UNIT}", text)
    if found is None:
        return None
    head, point, tail = found["number"].partition(".")
    if point and "." in tail:  # 1.234.567: the points are separators
        head, point, tail = found["number"].replace(".", ""), "", ""
    return f"write {_joined(re.sub('[^-0-9]', '', head) + point + tail, found['unit'])}, without a separator"


def _plus(text: str) -> str | None:
    return (
        f"leave the plus sign out; write {text[1:].strip()}" if re.fullmatch(r"\+[A-Za-z0-9 ./\"'′’]+", text) else None
    )


def _dashed_fraction(text: str) -> str | None:
    """A fraction whose line has become a dash: 1 1-8 in, 1-1-8 in and 3-8 in, of halves to sixty-fourths."""
    found = re.fullmatch(rf"(?P<whole>-?[0-9]+[ -])?(?P<top>[0-9]+)-(?P<bottom>2|4|8|16|32|64) ?{_UNIT}", text)
    if found is None or int(found["top"]) >= int(found["bottom"]) or not _is_inch(found["unit"]):
        return None
    number = f"{found['top']}/{found['bottom']} in"
    return f"write {found['whole'][:-1]}-{number}" if found["whole"] else f"if a fraction is meant, write {number}"


def _is_inch(unit: str) -> bool:
    """Whether a unit is the inch, however it is written, or is left out."""
    return unit in ("", "in", '"') or _OTHER_UNITS.get(unit.lower()) == (Fraction(1), "in")


def _expression(text: str) -> str | None:
    found = re.search(r"[+*×^()=:]|[0-9] ?x ?[0-9]|/.*/|/[0-9]+ ?-|[0-9] ?-[0-9.]+(?![0-9./])|- ", text)
    return "sums are not worked out here; write one number and its unit, such as 9.5 mm or 3/8 in" if found else None


def _two_units(text: str) -> str | None:
    found = re.findall(r"[0-9.] ?(?:[a-zµμ]+|[\"'′’]+)", text, re.IGNORECASE)
    return "one number with one unit; write the whole length in mm or in inches" if len(found) > 1 else None


def _other_unit(text: str) -> str | None:
    parts = _PARTS.fullmatch(text)
    if parts is None:
        return None
    number, unit = parts["number"], parts["unit"]
    if not number:
        return f"the number is missing; {GENERAL}"
    if unit in ("mm", "in", '"'):
        return None
    return _instead(number, unit)


def _instead(number: str, unit: str) -> str:
    lower = unit.lower()
    if lower in ("mm", "in"):
        return f"units are written small; write {number} {lower}"
    if lower not in _OTHER_UNITS:
        return "that unit is not known here; give the length in mm or inches"
    factor, ours = _OTHER_UNITS[lower]
    value = _value(number)
    if value is None:
        return f"give the length in {'inches' if ours == 'in' else 'mm'}"
    return f"write {number if factor == 1 else _plain(value * factor)} {ours}"


def _faulty_number(text: str) -> str | None:
    if re.search(r"\.[0-9]*/|/ ?[0-9]*\.|\.[0-9]*[ -][0-9]+/", text):
        return "a fraction has whole numbers above and below the line, such as 3/4 in"
    if re.search(r"[0-9]\.(?![0-9])", text):
        return "write a digit after the point, or leave the point out"
    if re.search(r" ?/ | /", text):
        return "write a fraction without spaces, such as 3/8 in"
    return None


def _joined(number: str, unit: str) -> str:
    """Number and unit, in a unit of ours where that is known."""
    better = "" if unit in ("mm", "in", '"', "") else _instead(number, unit).partition("write ")[2]
    return better or f"{number} {unit}".rstrip()


def _value(number: str) -> Fraction | None:
    """The value of a plain number, or None when it is not one."""
    match = _NUMBER.fullmatch(number)
    if match is None:
        return None
    size = Fraction(match["decimal"]) if match["decimal"] else Fraction(int(match["top"]), int(match["bottom"]))
    size += int(match["whole"] or 0)
    return -size if number.startswith("-") else size


def _plain(value: Fraction) -> str:
    """A decimal where that is exact and short, else a fraction."""
    decimal = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return decimal if Fraction(decimal) == value else f"{value.numerator}/{value.denominator}"


#: In this order; the first that answers is heard.
_QUESTIONS: tuple[Callable[[str], str | None], ...] = (
    _empty,
    _not_finite,
    _exponent,
    _hexadecimal,
    _glyph_first,
    _comma,
    _thousands,
    _plus,
    _dashed_fraction,
    _expression,
    _two_units,
    _other_unit,
    _faulty_number,
)
