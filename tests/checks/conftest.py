"""The plan's job on a router and in a holder of a profile folder of its own."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles

Said = list[tuple[str, str, str]]

#: What the tests' router is where they say nothing else: 10 mm are left under its collet nut when it is down.
ROUTER = {
    "base": '{ shape = "round", diameter = 150 }',
    "base_hole": "40",
    "travel": "60",
    "collet_to_base": "70",
    "collets": '[8, "1/4 in", "1/2 in"]',
    "nut_diameter": "24",
}


@pytest.fixture
def on_bench(job_with: Callable[..., Job], tmp_path: Path) -> Callable[..., dict[str, Any]]:
    """Tables and profiles for `said` and `report_with`: a router and a holder with those keys, as TOML text or None.

    Without keys for a holder the plate has none.
    """

    def tables(
        router: dict[str, str | None] | None = None, holder: dict[str, str] | None = None, **given: Any
    ) -> dict[str, Any]:
        lines = ['units = "mm"', '[routers."mine"]', *_keys({**ROUTER, **(router or {})})]
        if holder is not None:
            lines += ['[holders."frame"]', *_keys(holder)]
            given["plate"] = {"holder": "frame", "width": None, "height": None, **given.get("plate", {})}
        (tmp_path / "own.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
        given["tools"] = {"router": "mine", **given.get("tools", {})}
        return {"profiles": Profiles([tmp_path]), **given}

    return tables


@pytest.fixture
def in_holders(said: Callable[..., Said], tmp_path: Path) -> Callable[..., Callable[..., Said]]:
    """in_holders(TOML of holders, thickness=9): what `said` says of a plate in the holder "frame", keys changed."""

    def written(holders: str, **keys: Any) -> Callable[..., Said]:
        (tmp_path / "own.toml").write_text(holders, encoding="utf-8")
        base = {"holder": "frame", "width": None, "height": None, "screws": None, **keys}

        def found(code: str, plate: dict[str, Any] | None = None, **tables: Any) -> Said:
            return said(code, profiles=Profiles([tmp_path]), plate={**base, **(plate or {})}, **tables)

        return found

    return written


def _keys(table: dict[str, str] | dict[str, str | None]) -> list[str]:
    return [f"{key} = {value}" for key, value in table.items() if value is not None]
