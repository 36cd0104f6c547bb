"""Indented JSON, beside Python's own."""

import json
from enum import StrEnum
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.json_text import indented

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=12,
)


@given(VALUES)
@settings(max_examples=200, deadline=None)
def test_as_python_writes_it(value: Any) -> None:
    """Whatever is written, it is what json.dumps writes."""
    assert indented(value) == json.dumps(value, indent=2, ensure_ascii=False)


class Kind(StrEnum):
    """A kind of thing."""

    SLOT = "slot"


def test_kinds_and_rows() -> None:
    """A name out of a list of names is its text, and a row that cannot be changed a list."""
    assert indented({"kind": Kind.SLOT, "at": (1, 2.5)}) == '{\n  "kind": "slot",\n  "at": [\n    1,\n    2.5\n  ]\n}'


def test_what_json_cannot_hold() -> None:
    """A value that JSON has no word for is refused."""
    with pytest.raises(TypeError, match="set"):
        indented([{1}])
