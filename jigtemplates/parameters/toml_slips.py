"""What people write in a job that is no TOML, recognised by the look of the line: 10,5 and 10 mm and 3/8 and "3/8 in.

Only asked once the standard reader has refused the text, so nothing here can turn a wrong file into a right one.
"""

import re

from jigtemplates.lengths import LengthError, parse_length

_NUMBER = r"-?(?:(?:[0-9]+[ -])?[0-9]+ ?/ ?[0-9]+|[0-9]*[.,]?[0-9]+)"
#: A length without quotes around it, perhaps with the closing ones.
_LENGTH = rf"(?P<length>{_NUMBER} ?(?:[A-Za-z]{{1,12}}|'{{1,2}})?\"?)"
_END = r"(?=[ \t\r]*(?:[\]},#]|$))"
#: After an = a comma belongs to the number; between the numbers of a list it cannot be told.
_VALUE = re.compile(rf"=[ \t]*{_LENGTH}{_END}")
_IN_LIST = re.compile(rf"[\[,][ \t]*{_LENGTH.replace('[.,]', '[.]')}{_END}")
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
    open_quotes = '"' in masked and '"""' not in line
    return 'the text is not closed: a " is missing on this line' if open_quotes else None


def _said(length: str) -> str | None:
    """A sentence about a length without quotes; None for a number, which needs none, and for what is no length."""
    if _BARE.fullmatch(length):
        return None
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
