"""A finding in few words for a set-up sheet: what is the matter, shortened where it is long, and always what to do."""

import re

#: A finding is said whole in so many characters (chosen: five lines of its column).
WHOLE = 230
#: What is the matter is said in no more than this where a finding is longer (chosen: three lines).
MATTER = 180
#: What to do is said in no more than this (chosen: seven lines; no sentence of the program's own is longer).
LONGEST = 340

#: The millimetres behind inches.
_MILLIMETRES = re.compile(r"(?<= in)(?: \([\d. x]+ mm\)| = [\d. x]+ mm|, [\d.]+ mm²)")
#: What only compares: ", less than 1/16 in in all".
_COMPARED = re.compile(r", (?:less|more) than [^,:;()]*(?=[,:]|$)")


def brief(message: str, *, inches: bool) -> str:
    """What a finding says, in one unit; a long one without what only explains it.

    Findings name the matter first, then behind ": " what to do; where a sentence follows, that says what to do, and
    what is behind ": " explains.
    """
    text = _MILLIMETRES.sub("", message) if inches else message
    if len(text) <= WHOLE:
        return text
    matter, colon, rest = text.partition(": ")
    if not colon:
        return _cut(text, LONGEST)
    _, stop, sentence = rest.partition(". ")
    if stop and sentence[:1].isupper():
        return f"{_cut(_plain(matter), MATTER)}. {_cut(sentence, LONGEST)}"
    return f"{_cut(_plain(matter), MATTER)}: {_cut(rest, LONGEST)}"


def _plain(matter: str) -> str:
    return _COMPARED.sub("", matter)


def _cut(words: str, longest: int) -> str:
    """The words, or as many of them as that many characters hold."""
    return words if len(words) <= longest else f"{words[:longest].rpartition(' ')[0]}…"
