"""The name of a job file, which becomes the name of a folder and of every file made from it."""

import re

from jigtemplates.errors import InputError, quoted

#: Longest name, characters (chosen: the longest ending of ours still fits the 255 of common file systems).
LONGEST_STEM = 100
#: Names of devices, whatever their ending or case (naming rules of that system's file API, from memory).
_RESERVED = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³]) *(\..*)?", re.IGNORECASE)
_FORBIDDEN = '<>:"/\\|?*'


def checked_stem(stem: str, where: str) -> str:
    """The stem, or InputError when it could not be a file's name on every common system.

    `where` starts the line: the job file's name, or the option that gave the stem.
    """
    fault = _fault(stem)
    if fault is not None:
        raise InputError(f"{where}: {quoted(stem)} cannot name the files made from this job ({fault})")
    return stem


def unfit_character(text: str) -> str | None:
    """A character that no file's name may have on some common system; None where there is none."""
    odd = sorted({c for c in text if c in _FORBIDDEN or not c.isprintable()})
    return quoted(odd[0])[1:-1] if odd else None


def is_device(stem: str) -> bool:
    """Whether Windows keeps the name for a device, whatever comes behind a dot."""
    return bool(_RESERVED.fullmatch(stem))


def _fault(stem: str) -> str | None:
    odd = unfit_character(stem)
    if not stem.strip(" ."):
        return "it is empty; rename the job"
    if stem[0] == ".":
        return "it begins with a dot, which hides files; put a name before the dot"
    if len(stem) > LONGEST_STEM:
        return f"it has {len(stem)} characters; at most {LONGEST_STEM}"
    if odd:
        return f"it has the character {odd}; use letters, digits, - and _"
    if is_device(stem):
        return "Windows keeps this name for a device; rename the job"
    if stem[-1] in " .":
        return "it ends in a space or a point; rename the job"
    return None
