"""Faults of a model become lines; what is special about paths, lists and tables of free names."""

# ruff: noqa: E501 - a line that people see is kept whole, so that it can be searched for

from collections.abc import Mapping, Sequence
from typing import Annotated, Any

import pytest
from pydantic import Field, ValidationError

from jigtemplates.parameters.faults import dotted, fault_lines
from jigtemplates.parameters.fields import Count, Size, Strict


class Leaf(Strict):
    """A table in a list or under a free name."""

    width: Size = Field(description="How WIDE it is.")
    height: Size | None = None


class Tree(Strict):
    """A table with everything in it."""

    items: tuple[Leaf, ...] = ()
    named: dict[str, Leaf] = Field(default_factory=dict)
    count: Count = 1
    ratio: float = 1.0
    some: Annotated[tuple[Count, ...], Field(min_length=1)] = (1,)


def nowhere(_: Sequence[str | int]) -> int | None:
    return None


def lines(data: Any, **more: Any) -> tuple[str, ...]:
    """The lines for faulty data."""
    with pytest.raises(ValidationError) as caught:
        Tree.model_validate(data)
    return fault_lines(caught.value, Tree, **{"name": "x.toml", "locate": nowhere, **more})


@pytest.mark.parametrize(
    ("data", "line"),
    [
        ({"count": "3"}, 'x.toml: count: "3" does not fit here (write a whole number, without quotes)'),
        ({"count": 3.5}, "x.toml: count: 3.5 does not fit here (write a whole number, without quotes)"),
        ({"count": True}, "x.toml: count: true does not fit here (write a whole number, without quotes)"),
        ({"items": 3}, "x.toml: items: 3 does not fit here (write a list: [3])"),
        ({"items": {"a": 3}}, "x.toml: items: a table does not fit here (write a list in [ ])"),
        ({"items": [3]}, "x.toml: items[0]: 3 does not fit here (write a table of keys)"),
        ({"items": [{}]}, "x.toml: items[0].width: is missing (how WIDE it is)"),
        ({"items": [{"width": "3"}]}, 'x.toml: items[0].width: "3" is not a length (the unit is missing; write 3 mm or 3 in, or set units = "mm" or "in")'),
        ({"named": 3}, "x.toml: named: 3 does not fit here (write a table of keys)"),
        ({"named": {"a b": {"widht": "1 mm", "width": "1 mm"}}}, 'x.toml: named.a b: unknown key "widht" (did you mean "width"?)'),
        ({"some": []}, "x.toml: some: the list is empty (write at least one, or leave the key out)"),
        ({"some": ["x"]}, 'x.toml: some[0]: "x" does not fit here (write a whole number, without quotes)'),
        ({"ratio": "wide"}, 'x.toml: ratio: "wide" is not valid here'),
        ({"zz": 1}, 'x.toml: unknown key "zz" (known: "items", "named", "count", "ratio", "some")'),
        ({"a\nb": 1}, 'x.toml: unknown key "a\\nb" (known: "items", "named", "count", "ratio", "some")'),
        (3, "x.toml: 3 does not fit here (write a table of keys)"),
    ],
)  # fmt: skip
def test_words(data: Any, line: str) -> None:
    """Each kind of fault the validator knows is said in plain words; one it does not is still one line."""
    assert lines(data) == (line,)


def test_order_and_lines() -> None:
    """Lines come in the order of the file, each with its number; what has no line comes first."""
    numbers: Mapping[tuple[str | int, ...], int] = {("count",): 9, ("items", 0, "width"): 2}
    found = lines({"count": "x", "items": [{"width": 0}], "zz": 1}, locate=lambda path: numbers.get(tuple(path)))
    assert [line.partition(" ")[0] for line in found] == ["x.toml:", "x.toml:2:", "x.toml:9:"]


def test_below() -> None:
    """A table deep in a file has its whole path named and located."""
    seen: list[tuple[str | int, ...]] = []

    def locate(path: Sequence[str | int]) -> int:
        seen.append(tuple(path))
        return 7

    assert lines({"count": "x"}, below=("trees", "oak"), locate=locate) == (
        'x.toml:7: trees.oak.count: "x" does not fit here (write a whole number, without quotes)',
    )
    assert seen == [("trees", "oak", "count")]


def test_labels() -> None:
    """A value that came from an option is named by it, wherever in the value the fault is."""
    found = lines({"some": ["x", "y"]}, labels={("some",): "--some"})
    assert found == (
        '--some: "x" does not fit here (write a whole number, without quotes)',
        '--some: "y" does not fit here (write a whole number, without quotes)',
    )


def test_one_line_once() -> None:
    """Two faults that read alike are one line."""
    assert lines({"some": ["x", "x"]}, labels={("some",): "--some"}) == (
        '--some: "x" does not fit here (write a whole number, without quotes)',
    )


def test_dotted() -> None:
    """A path is spoken as keys with points and numbers in brackets, on one line."""
    assert dotted(("plate", "screws", "points", 0, 1)) == "plate.screws.points[0][1]"
    assert dotted(("a\nb",)) == "a\\nb"
    assert dotted(()) == ""
