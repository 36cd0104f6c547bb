"""What every error line is made of."""

import pytest

from jigtemplates.errors import InputError, JigError, OutputError, did_you_mean, quoted


def test_lines() -> None:
    """An error keeps its lines apart and joins them for printing."""
    error = InputError(["a.toml:1: one", "a.toml:2: two"])
    assert error.lines == ("a.toml:1: one", "a.toml:2: two")
    assert str(error) == "a.toml:1: one\na.toml:2: two"
    assert JigError("alone").lines == ("alone",)


def test_one_base() -> None:
    """Every error a person may see is caught by one base."""
    assert issubclass(InputError, JigError)
    assert issubclass(OutputError, JigError)


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("12,7 mm", '"12,7 mm"'),
        ("a\nb\x00\ud800", '"a\\nb\\x00\\ud800"'),
        ("é½”", '"é½”"'),
        ("x" * 40, f'"{"x" * 40}"'),
        ("x" * 41, f'"{"x" * 39}…"'),
        (True, "true"),
        (False, "false"),
        (3, "3"),
        (0.5, "0.5"),
        (float("nan"), "nan"),
        ([1, 2], "a list"),
        ((1, 2), "a list"),
        ({"a": 1}, "a table"),
        (10**50, "1" + "0" * 38 + "…"),
    ],
)
def test_quoted(value: object, shown: str) -> None:
    """A value is shown as TOML writes it, on one short line, without control characters."""
    assert quoted(value) == shown


def test_quoted_endless_number() -> None:
    """A number that Python refuses to print is named."""
    assert quoted(10**5000) == "a number of thousands of digits"


@pytest.mark.parametrize(
    ("word", "known", "end"),
    [
        ("widht", ["width", "height"], 'did you mean "width"?'),
        ("WIDTH", ["width", "height"], 'did you mean "width"?'),
        ("m5", ["M5", "M6"], 'did you mean "M5"?'),
        ("zzz", ["width", "height"], 'known: "width", "height"'),
        ("zzz", [], "there are none"),
        ("zzz", [f"n{i}" for i in range(13)], "known: " + ", ".join(f'"n{i}"' for i in range(12)) + " …"),
        ("zzz", ["n" * 30, "m" * 30, "o" * 30, "p" * 30], f'known: "{"n" * 30}", "{"m" * 30}", "{"o" * 30}" …'),
        ("z" * 1_000_000, ["width"], 'known: "width"'),
    ],
)
def test_did_you_mean(word: str, known: list[str], end: str) -> None:
    """An unknown word brings the nearest known one, else the first dozen of them."""
    assert did_you_mean(word, known) == end
