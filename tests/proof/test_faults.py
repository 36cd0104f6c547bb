"""The check itself is checked: every deliberate fault makes some test fail, and without one they pass."""

import pytest
from faults import BASELINE, FAULTS, SEEN_BY, caught_by


@pytest.fixture(scope="module")
def passing() -> None:
    """The tests that see the faults pass on the program as it is; else their failing would say nothing of a fault.

    The last of them, from file to cut, takes longer: where it sees a fault it must pass in this same run of the suite.
    """
    assert caught_by("", BASELINE) is None


@pytest.mark.parametrize("name", FAULTS)
@pytest.mark.usefixtures("passing")
def test_a_deliberate_fault_is_caught(name: str) -> None:
    """With the fault in the program a test fails, and it is one of those that are to see it."""
    found = caught_by(name)
    assert found is not None
    assert found.startswith(SEEN_BY[name])
