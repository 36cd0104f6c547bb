"""A finding in few words for a set-up sheet: what is the matter, shortened where it is long, and always what to do."""

import re

#: A finding is said whole in so many characters (chosen: five lines of its column).
WHOLE = 230
#: The same in few words (chosen: three lines).
TIGHT = 160
#: What is the matter is said in no more than this where a finding is longer (chosen: three lines).
MATTER = 180
#: What to do is said in no more than this (chosen: seven lines; no sentence of the program's own is longer).
LONGEST = 340

# Expressions, compiled (by re) for a job with warnings only: the millimetres behind inches; what only compares, such as
# ", less than 1/16 in in all"; asides.
_MILLIMETRES = r"(?<= in)(?: \([\d. x]+ mm\)| = [\d. x]+ mm²?)"
_COMPARED = r", (?:less|more) than [^,:;()]*(?=[,:]|$)"
_ASIDES = r" \((?!\d)[^()]*\)"


def brief(message: str, *, inches: bool, tight: bool = False) -> str:
    """What a finding says, in one unit; a long one (tight: any) without what only explains it.

    Findings name the matter first, then behind ": " what to do; where a sentence follows, that says what to do, and
    what is behind ": " explains. Tight leaves out asides, and of what to do the alternatives.
    """
    text = re.sub(_MILLIMETRES, "", message) if inches else message
    if len(text) <= (TIGHT if tight else WHOLE):
        return text
    matter, colon, rest = text.partition(": ")
    if not colon:
        return _cut(text, LONGEST)
    _, stop, sentence = rest.partition(". ")
    is_behind = bool(stop) and sentence[:1].isupper()
    return f"{_matter(matter, tight)}{'. ' if is_behind else ': '}{_do(sentence if is_behind else rest, tight)}"


def _matter(words: str, tight: bool) -> str:
    plain = re.sub(_COMPARED, "", words)
    return _cut(re.sub(_ASIDES, "", plain) if tight else plain, MATTER)


def _do(words: str, tight: bool) -> str:
    """What to do; tight: the first of several ways, but what explains it in front of it."""
    return _cut(words.partition(", or ")[0] if tight else words, LONGEST)


def _cut(words: str, longest: int) -> str:
    """The words, or as many of them as that many characters hold."""
    return words if len(words) <= longest else f"{words[:longest].rpartition(' ')[0]}…"
