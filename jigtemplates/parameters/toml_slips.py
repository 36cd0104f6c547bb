"""What people write in a job that is no TOML, recognised by the look of the line.

10,5 and 10 mm and 3/8 and "3/8 in and .375; words without quotes, and quotes that a word processor has made curly.

Only asked once the standard reader has refused the text, so nothing here can turn a wrong file into a right one.
"""

import re

from jigtemplates.errors import quoted
from jigtemplates.lengths import LengthError, parse_length

_NUMBER = r"-?(?:(?:[0-9]+[ -])?[0-9]+ ?/ ?[0-9]+|[0-9]*[.,]?[0-9]+)"
#: A length without quotes around it, perhaps with the closing ones.
_LENGTH = rf"(?P<length>{_NUMBER} ?(?:[A-Za-z]{{1,12}}|'{{1,2}})?\"?)"
_END = r"(?=[ \t\r]*(?:[\]},#]|$))"
#: After an = a comma belongs to the number; between the numbers of a list it cannot be told.
_VALUE = re.compile(rf"=[ \t]*{_LENGTH}{_END}")
_IN_LIST = re.compile(rf"[\[,][ \t]*{_LENGTH.replace('[.,]', '[.]')}{_END}")
#: A longer line is not looked at for words (chosen: no one types it, and the search is quadratic in it).
LONGEST_LINE = 1_000
#: Keys whose words the program knows, all of them small.
_SMALL = ("shape", "units", "material", "side", "kind", "pattern", "hole", "fit", "for", "papers", "pair", "edge")
_KEY = r"(?P<key>[A-Za-z0-9_-]+)[ \t]*="
_WORD = re.compile(rf"{_KEY}[ \t]*(?P<text>[^\W\d_][^\"'“”„‘’=\[\]{{}},#\\]*?){_END}")
_WORD_IN_LIST = re.compile(rf"[\[,][ \t]*(?P<text>[^\W\d_][\w -]*?){_END}")
_KEY_OF_LINE = re.compile(rf"[ \t]*{_KEY}")
_YES_OR_NO = {"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}
_CURLY = re.compile(r"[“”„](?P<a>[^\"“”„]*)[\"“”]|\"(?P<b>[^\"“”„]*)[“”]|[‘’‚](?P<c>[^'‘’‚]*)['‘’]")
#: An inch mark that has become a curly quote.
_CURLY_INCH = re.compile(rf"=[ \t]*(?P<length>{_NUMBER}) ?[”″]{_END}")
#: A number as TOML has it, and two ways in which people write another.
_NUMBER_OF_TOML = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?")
_POINT_LAST = re.compile(rf"=[ \t]*(?P<number>-?[0-9]+)\.{_END}")
_BARE = re.compile(r"-?[0-9]*\.?[0-9]+")
_FRACTION = re.compile(r"-?(?:[0-9]+[ -])?[0-9]+/[0-9]+")
_CLOSED = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'|#.*")


def slip_in(line: str) -> str | None:
    """What is wrong with a line that the reader refused, and what to write; None where the look does not tell."""
    masked = _CLOSED.sub(lambda found: "#" if found[0].startswith("#") else "''", line)
    for pattern, text in ((_VALUE, line), (_VALUE, masked), (_IN_LIST, masked)):
        for found in pattern.finditer(text):
            said = _said(found["length"].strip())
            if said is not None:
                return said
    said = (_curly(masked) or _point_last(masked) or _word(masked)) if len(masked) <= LONGEST_LINE else None
    if said is not None:
        return said
    open_quotes = '"' in masked and '"""' not in line
    return 'the text is not closed: a " is missing on this line' if open_quotes else None


def _said(length: str) -> str | None:
    """A sentence about a length without quotes; None for a number as TOML has it, and for what is no length."""
    if _BARE.fullmatch(length):
        return None if _NUMBER_OF_TOML.fullmatch(length) else f"{length} cannot be read (write {_for_toml(length)})"
    unquoted = length.removesuffix('"') if re.search(r"[A-Za-z]\"$", length) else length
    text = re.sub(r" ?/ ?", "/", unquoted)
    try:
        better = parse_length(text, unit="in" if _FRACTION.fullmatch(text) else None).text
    except LengthError as error:
        if not re.search(r"[A-Za-z'\"]", text):
            return f"{length} cannot be read ({error.hint})"
        better = error.hint.removeprefix("write ")
        if better == error.hint or "such as" in better:
            return None
    return f'{length} cannot be read (write "{better}" in quotes)'


def _for_toml(number: str) -> str:
    """A number with one 0 before its point and no others in front: .375 and 00.5 and 07."""
    sign, digits = ("-", number[1:]) if number.startswith("-") else ("", number)
    whole, point, decimals = digits.partition(".")
    return f"{sign}{whole.lstrip('0') or '0'}{point}{decimals}"


def _curly(line: str) -> str | None:
    inch = _CURLY_INCH.search(line)
    if inch is not None:
        return _said(f'{inch["length"]}"')
    found = _CURLY.search(line)
    if found is None:
        return None
    text = next(part for part in found.groups() if part is not None)
    return f"curly quotes cannot be read (write straight ones: {quoted(text)})"


def _point_last(line: str) -> str | None:
    found = _POINT_LAST.search(line)
    return None if found is None else f"{found['number']}. cannot be read (write {_for_toml(found['number'])})"


def _word(line: str) -> str | None:
    """A sentence about a word without quotes; none about true, false and the numbers that are words."""
    first = _KEY_OF_LINE.match(line)
    if first is None:
        return None
    for pattern in (_WORD, _WORD_IN_LIST):
        for found in pattern.finditer(line, 0 if pattern is _WORD else first.end()):
            text = found["text"]
            if text.split()[0] in ("true", "false", "inf", "nan"):
                continue
            yes_or_no = _YES_OR_NO.get(text.lower())
            if yes_or_no is not None:
                return f"{text} cannot be read (write {yes_or_no})"
            key = (found if pattern is _WORD else first)["key"]
            better = text.lower() if key in _SMALL else text
            return f"{quoted(text)[1:-1]} cannot be read (write {quoted(better)} in quotes)"
    return None
