"""Jobs for set-up sheets: whole tables changed, work and tenon added; `boxes.py` is shared by the tests of pages."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report, report_on

sys.path.append(str(Path(__file__).parent))  # for boxes.py, however pytest is started

TABLES: dict[str, dict[str, Any]] = {
    "cut": {"shape": "slot", "width": 10, "length": 50, "depth": 28},
    "tools": {"bit": "3/8 in", "bushing": {"diameter": "1/2 in", "bore": "13/32 in", "stem": "5.5 mm"}},
    "plate": {"width": 140, "height": 140, "thickness": 6, "label": False},
    "make": {"for": ["cnc"]},
}


def toml(value: Any) -> str:
    """A value as it stands in TOML; a table stands inline."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


@pytest.fixture(scope="session")
def sheet_report() -> Callable[..., Report]:
    """sheet_report("title", "in", plate={…}): a report on the job of these tests, keys of its tables changed.

    A cut with a shape and a bushing stand for the whole table.
    """

    def build(title: str = "Bench rail", units: str = "mm", **tables: dict[str, Any]) -> Report:
        lines = [f"title = {toml(title)}", f'units = "{units}"']
        for name in {**TABLES, **tables}:
            given, held = tables.get(name, {}), TABLES.get(name, {})
            merged = dict(given) if "shape" in given else {**held, **given}
            lines += [f"[{name}]", *(f"{key} = {toml(value)}" for key, value in merged.items() if value is not None)]
        return report_on(job_from_text("\n".join(lines), name="rail", profiles=Profiles()))

    return build
