"""A holder of ordinary sizes, its keys changed, as a profile, as parts and under a job."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.holders.parts import Parts, parts_of
from jigtemplates.profiles import Profiles
from jigtemplates.report import Report

#: A square frame of two layers; what each value is, as TOML text.
FRAME = {
    "width": "160",
    "height": "160",
    "corner_radius": "5",
    "play": "0.3",
    "depth": "6",
    "ledge": "22",
    "window": "{ width = 116, height = 116 }",
    "ledge_thickness": "9",
    "frame": "30",
    "stand_off": "9",
    "screws": '{ pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }',
    "joining": '{ pattern = "corners", size = "M5", hole = "countersunk", inset = 12 }',
}


@pytest.fixture
def with_holder(tmp_path: Path) -> Callable[..., Profiles]:
    """with_holder(play="0.5", window=None): the profiles with that holder, "frame"; None leaves a key out."""

    def build(name: str = "frame", *, units: str = "mm", **keys: str | None) -> Profiles:
        lines = [f"{key} = {value}" for key, value in {**FRAME, **keys}.items() if value is not None]
        text = "\n".join([f'units = "{units}"', f'[holders."{name}"]', *lines])
        (tmp_path / "own.toml").write_text(text + "\n", encoding="utf-8")
        return Profiles([tmp_path])

    return build


@pytest.fixture
def parts(with_holder: Callable[..., Profiles]) -> Callable[..., Parts]:
    """parts(play="0.5"): the parts of that holder."""

    def build(name: str = "frame", **keys: Any) -> Parts:
        profiles = with_holder(name, **keys)
        return parts_of(profiles.find("holders", name).entry, profiles)

    return build


@pytest.fixture
def held(with_holder: Callable[..., Profiles], report_with: Callable[..., Report]) -> Callable[..., Report]:
    """held({"depth": "5"}, plate={"thickness": 9}): a report on the plan's job, its plate sized by that holder."""

    def build(holder: dict[str, str | None] | None = None, **tables: Any) -> Report:
        plate = {"holder": "frame", "width": None, "height": None, "screws": None, **tables.pop("plate", {})}
        return report_with(profiles=with_holder(**(holder or {})), plate=plate, **tables)

    return build
