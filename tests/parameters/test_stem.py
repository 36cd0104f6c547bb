"""The name of a job becomes the name of files on every system."""

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.stem import checked_stem, unfit_character


@pytest.mark.parametrize(
    "stem",
    ["rail", "bench-rail_10x50", "Schlüssel ½", "a" * 100, "rail.v2", "console", "com", "com10", "nulls"],
)
def test_good_names(stem: str) -> None:
    """Ordinary names, with umlauts, points and spaces inside, stay as they are."""
    assert checked_stem(stem, "x.toml") == stem


@pytest.mark.parametrize(
    ("stem", "fault"),
    [
        ("", '"" cannot name the files made from this job (it is empty; rename the job)'),
        ("...", '"..." cannot name the files made from this job (it is empty; rename the job)'),
        (" ", '" " cannot name the files made from this job (it is empty; rename the job)'),
        (
            ".toml",
            '".toml" cannot name the files made from this job (it begins with a dot, which hides files; '
            "put a name before the dot)",
        ),
        ("a" * 101, f'"{"a" * 39}…" cannot name the files made from this job (it has 101 characters; at most 100)'),
        ("rail ", '"rail " cannot name the files made from this job (it ends in a space or a point; rename the job)'),
        ("rail.", '"rail." cannot name the files made from this job (it ends in a space or a point; rename the job)'),
    ],
)
def test_bad_names(stem: str, fault: str) -> None:
    """An empty or overlong name, or one that ends in a space or point, has its line."""
    with pytest.raises(InputError) as caught:
        checked_stem(stem, "x.toml")
    assert caught.value.lines == (f"x.toml: {fault}",)


@pytest.mark.parametrize("character", [*'<>:"/\\|?*', "\x00", "\n", "\x7f", "\u202e", "\ud800"])
def test_bad_characters(character: str) -> None:
    """Characters that some system keeps for itself are refused, control characters in a readable form."""
    shown = character if character.isprintable() else character.encode("unicode_escape").decode()
    with pytest.raises(InputError) as caught:
        checked_stem(f"a{character}b", "x.toml")
    assert caught.value.lines[0].endswith(f"(it has the character {shown}; use letters, digits, - and _)")


@pytest.mark.parametrize(
    "stem", ["CON", "con", "Nul", "aux", "PRN", "com1", "LPT9", "COM²", "nul.job", "con .x", "CONIN$"]
)
def test_reserved_names(stem: str) -> None:
    """A name that is a device on Windows is refused everywhere, since job folders travel."""
    with pytest.raises(InputError) as caught:
        checked_stem(stem, "x.toml")
    assert caught.value.lines == (
        f'x.toml: "{stem}" cannot name the files made from this job (Windows keeps this name for a device; '
        "rename the job)",
    )


@pytest.mark.parametrize(("text", "found"), [("a4", None), ("a/b", "/"), ("a\u202eb", "\\u202e"), ("über ½", None)])
def test_characters_of_parts(text: str, found: str | None) -> None:
    """What becomes a part of a file's name is asked for the same characters."""
    assert unfit_character(text) == found
