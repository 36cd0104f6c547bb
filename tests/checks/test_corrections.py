"""Which corrections are in force, said with the day; `check` adds how old they are."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Said = Callable[..., list[tuple[str, str, str]]]

DATED = {"nominal": "1/2 in", "measured": "12.66 mm", "measured_on": "2025-06-01"}


def test_dated_measurement(said: Said) -> None:
    """A note at the tool's key, without a clock."""
    assert said("correction-in-force", tools={"bushing": {"diameter": DATED, "bore": 11}}) == [
        ("note", "tools.bushing", "computed with 12.66 mm, sold as 1/2 in, measured on 2025-06-01")
    ]


def test_undated_measurement(said: Said) -> None:
    """One without a day is said by `measured-size` alone."""
    undated = {key: value for key, value in DATED.items() if key != "measured_on"}
    tools = {"bushing": {"diameter": undated, "bore": 11}}
    assert said("correction-in-force", tools=tools) == []
    assert len(said("measured-size", tools=tools)) == 1


def test_dated_measurements_of_a_plugs_tools(said: Said) -> None:
    """At the keys of [inlay]; a bit that recess and plug share is said once."""
    plug = {"plug_bushing": {"diameter": {"nominal": 14, "measured": 14.05, "measured_on": "2026-11-01"}}}
    bit = {"diameter": {"nominal": 6, "measured": 5.97, "measured_on": "2026-10-02"}}
    bushing = ("note", "inlay.plug_bushing", "computed with 14.05 mm, sold as 14 mm, measured on 2026-11-01")
    said_of_bit = "computed with 5.97 mm, sold as 6 mm, measured on 2026-10-02"
    tools = {"bushing": "20 mm"}
    assert said("correction-in-force", tools=tools, inlay={**plug, "plug_bit": bit}) == [
        ("note", "inlay.plug_bit", said_of_bit),
        bushing,
    ]
    assert said("correction-in-force", tools={**tools, "bit": bit}, inlay=plug) == [
        ("note", "tools.bit", said_of_bit),
        bushing,
    ]


@pytest.mark.parametrize(
    ("now", "age"),
    [
        ("2025-06-01", "today"),
        ("2026-06-01", "11 months ago"),
        ("2026-06-02", "12 months ago; measure it again, for it is more than a year old"),
    ],
)
def test_age(
    call: Callable[..., Any], rail: Path, here: Path, monkeypatch: pytest.MonkeyPatch, now: str, age: str
) -> None:
    """`check` says how old it is, in words and in JSON; no file that is made has more than the day."""
    from datetime import date

    monkeypatch.setattr("jigtemplates.calibrate.age.today", lambda: date.fromisoformat(now))
    table = 'bushing = { diameter = { nominal = "1/2 in", measured = "12.66 mm", measured_on = 2025-06-01 } }'
    rail.write_text(rail.read_text(encoding="utf-8").replace('bushing   = "1/2 in"', table), encoding="utf-8")
    found = json.loads(call("check", "rail.toml", "--json").out)["findings"]
    (message,) = (one["message"] for one in found if one["code"] == "correction-in-force")
    assert message == f"computed with 12.66 mm, sold as 1/2 in, measured on 2025-06-01, {age}"
    assert age.partition(" ")[0] in call("check", "rail.toml").out
    call("make", "rail.toml", "--for", "cnc")
    made = [path.read_bytes() for path in (here / "templates" / "rail").iterdir()]
    assert any(b"measured on 2025-06-01" in data for data in made)
    assert not any(age.encode() in data for data in made)
