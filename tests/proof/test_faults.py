"""The check itself is checked: every deliberate fault makes some test fail, and without one they pass."""

import pytest
from faults import FAULTS, caught_by


@pytest.mark.parametrize("name", FAULTS)
def test_a_deliberate_fault_is_caught(name: str) -> None:
    """With the fault in the program at least one of the tests that prove the numbers fails."""
    assert caught_by(name) is not None


def test_without_a_fault_they_pass() -> None:
    """The same tests pass on the program as it is; else their failing would say nothing. A quick part of them."""
    assert caught_by("", ("test_outside.py",)) is None
