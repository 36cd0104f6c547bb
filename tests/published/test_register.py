"""The table as a whole: how many values from how many sources, and that every row is fit to stand in it."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest
import sources
from published import Published, Source

FOLDER = Path(__file__).parent

#: Fewest values and sources (issue 6), and the topics that it names.
VALUES, SOURCES = 60, 20
TOPICS = {
    "offset": ("test_offset", "test_openings", "test_bushings"),
    "inlay": ("test_inlay",),
    "screws": ("test_screws",),
    "fits": ("test_fits",),
    "tenons": ("test_tenons",),
    "hinges": ("test_hinges",),
    "speeds": ("test_router",),
    "paper": ("test_paper",),
    "geometry": ("test_geometry", "test_arcs", "test_shapes"),
}


def loaded(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"register_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def rows_of(module: ModuleType) -> list[Published]:
    """Every row of the tuples that stand in a module."""
    tables = [held for name, held in vars(module).items() if name.isupper() and isinstance(held, tuple)]
    return [row for held in tables for row in held if isinstance(row, Published)]


@pytest.fixture(scope="module")
def modules() -> dict[str, list[Published]]:
    """The rows of each module of this folder but this one."""
    paths = [path for path in sorted(FOLDER.glob("test_*.py")) if path.stem != Path(__file__).stem]
    return {path.stem: rows_of(loaded(path)) for path in paths}


@pytest.fixture(scope="module")
def rows(modules: dict[str, list[Published]]) -> list[Published]:
    """All of them."""
    return [row for held in modules.values() for row in held]


def test_enough_values_and_sources(rows: list[Published]) -> None:
    """Counted once each, and only what was read or quoted: what is recalled or common practice comes on top."""
    seen = [row for row in rows if row.source.how in ("read", "quoted")]
    assert len({row.cells for row in seen}) >= VALUES
    assert len({row.source.name for row in seen}) >= SOURCES


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_has_values(modules: dict[str, list[Published]], topic: str) -> None:
    """At least five, from at least two sources."""
    held = [row for name in TOPICS[topic] for row in modules[name]]
    assert len(held) >= 5
    assert len({row.source.name for row in held}) >= 2


def test_every_module_has_rows(modules: dict[str, list[Published]]) -> None:
    """No published check stands outside the table."""
    assert [name for name, held in modules.items() if not held] == []


def test_no_row_stands_twice(rows: list[Published]) -> None:
    """The same value of the same source is counted, and tested, in one place."""
    assert sorted(row.cells for row in rows if [other.cells for other in rows].count(row.cells) > 1) == []


def test_rows_can_be_printed(rows: list[Published]) -> None:
    """ASCII on one line, since pytest writes other letters as codes; nothing is empty."""
    for row in rows:
        assert all(cell and cell.isascii() and cell.isprintable() for cell in row.cells), row


def test_every_source_is_used_and_named_once(rows: list[Published]) -> None:
    """A source in the list has a value; two of one name would count twice."""
    listed = [held for held in vars(sources).values() if isinstance(held, Source)]
    assert len({source.name for source in listed}) == len(listed)
    assert [source.name for source in listed if source not in {row.source for row in rows}] == []


def test_what_is_wrong_says_what_is_right(rows: list[Published]) -> None:
    """A source that is known to be wrong stands with both, and they differ."""
    wrong = [row for row in rows if row.right is not None]
    assert len(wrong) >= 10
    for row in wrong:
        assert row.right is not None
        assert row.right[1] != row.value
        assert "; right: " in row.verdict
