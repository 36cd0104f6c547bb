"""The JSON schema that editors use says the same as the models."""

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from jigtemplates.parameters.schema import job_schema, schema_text, shipped_schema, write_schema

JOB = """
title = "Bench rail"
units = "mm"
[cut]
shape = "slot"
width = 10
length = "2 1/2 in"
depth = "½ in"
[tools]
bit = "3/8 in"
bushing = { diameter = "1/2 in", bore = "13/32 in" }
[plate]
width = 140
height = 140
thickness = 6
screws = { pattern = "corners", size = "M5", inset = 10 }
[make]
for = ["laser"]
"""


def faults(text: str) -> list[str]:
    """The keys at which an independent validator (package jsonschema) objects to a job."""
    schema = job_schema()
    validator = jsonschema.Draft202012Validator(schema)
    return sorted(".".join(map(str, error.absolute_path)) for error in validator.iter_errors(tomllib.loads(text)))


def test_the_shipped_schema_is_current() -> None:
    """The file in the package is what the models give now; if not: python -m jigtemplates.parameters.schema."""
    assert shipped_schema() == schema_text()


def test_it_is_written_as_it_is_shipped(tmp_path: Path) -> None:
    """Writing it gives the shipped file, byte for byte on every system."""
    assert write_schema(tmp_path).read_bytes() == shipped_schema().encode("utf-8")


def test_it_is_a_schema() -> None:
    """It is itself valid by the rules of JSON Schema 2020-12."""
    schema = json.loads(shipped_schema())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


def test_a_good_job_validates() -> None:
    """A right job has no objection."""
    assert faults(JOB) == []


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('title = "Bench rail"', "", ""),
        ("width = 10", "widht = 10", "cut"),
        ("width = 10", 'width = "12,7 mm"', "cut"),
        ("width = 10", 'width = "-3 mm"', "cut"),
        ("width = 10", "width = 0", "cut"),
        ('shape = "slot"', 'shape = "round"', "cut"),
        ('"3/8 in"', "true", "tools.bit"),
        ('"13/32 in"', '"13/32 cm"', "tools.bushing"),
        ("width = 140", "", "plate"),
        ('"corners"', '"corner"', "plate.screws.pattern"),
        ('["laser"]', "[]", "make.for"),
        ('["laser"]', '["lazer"]', "make.for.0"),
        ('units = "mm"', 'units = "cm"', "units"),
    ],
)
def test_a_faulty_job_does_not(old: str, new: str, where: str) -> None:
    """A fault is underlined at its key, or at the table that may be one of several."""
    assert old in JOB
    assert faults(JOB.replace(old, new, 1)) == [where]


FAMILY = JOB.replace('depth = "½ in"\n', 'depth = "½ in"\n[cuts.small]\nwidth = 8\n[cuts.big]\ntitle = "B"\n')


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("", "", None),
        ('shape = "slot"\n', "", None),  # every size may say its own
        ('title = "B"', 'shape = "round"\ndiameter = 3', None),
        ("width = 10", "widht = 10", "cut"),
        ("width = 8", "widht = 8", "cuts.small"),
        ("width = 8", "width = 0", "cuts.small.width"),
        ("[cuts.small]", '[cuts."a b"]', "cuts"),
        ('title = "Bench rail"', "", None),
    ],
)
def test_a_family_needs_no_whole_cut(old: str, new: str, where: str | None) -> None:
    """With [cuts.NAME] the shared cut may be a part of one; unknown keys are underlined all the same."""
    assert old in FAMILY
    assert faults(FAMILY.replace(old, new, 1)) == ([] if where is None else [where])


@pytest.mark.parametrize(
    ("table", "where"),
    [
        ('{ nominal = "3/8 in", measured = 9.48, within = "0.02 mm" }', []),
        ('{ measured = "9.48 mm" }', ["tools.bit"]),
        ('{ nominal = "3/8 in", mesured = 9.48 }', ["tools.bit"]),
    ],
)
def test_a_measured_diameter(table: str, where: list[str]) -> None:
    """A diameter may be a table of a nominal and a measured size."""
    assert faults(JOB.replace('"3/8 in"', f"{{ diameter = {table} }}")) == where


def test_a_holder_stands_in_for_a_size() -> None:
    """A plate needs width and height, or a holder."""
    assert faults(JOB.replace("width = 140\nheight = 140", 'holder = "frame"')) == []


@pytest.mark.parametrize(
    "text", ["9.5 mm", "9.5mm", '3/8"', "1-1/2 in", "2 1/2 in", "½ in", "2½ in", "0.5in", ".5 in", "10"]
)
def test_lengths_an_editor_accepts(text: str) -> None:
    """Every form of length that the reader takes passes in an editor."""
    assert faults(JOB.replace("width = 10", f"width = '{text}'")) == []


def _keys(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        yield from schema.get("properties", {}).values()
        schema = list(schema.values())
    if isinstance(schema, list):
        for part in schema:
            yield from _keys(part)


def test_every_key_has_its_sentence() -> None:
    """Each key has a description, its own or that of the table it refers to, and it ends in a full stop."""
    schema = job_schema()
    keys = list(_keys(schema))
    assert len(keys) > 60
    for key in keys:
        held = schema["$defs"].get(key.get("$ref", "").rpartition("/")[2], {})
        assert (key.get("description") or held["description"]).endswith(".")


def test_nothing_is_null() -> None:
    """TOML has no null, so the schema offers none."""
    assert "null" not in shipped_schema()
