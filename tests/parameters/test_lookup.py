"""Names are looked up in the profiles that come with the validation."""

import pytest
from pydantic import ValidationError

from jigtemplates.parameters.make_tables import MakeTable
from jigtemplates.profiles import Profiles


def test_shipped_profiles_without_others() -> None:
    """A table validated on its own sees the shipped profiles."""
    assert MakeTable.model_validate({"papers": ["a3"]}).papers == ("a3",)
    with pytest.raises(ValidationError, match='"a33" is no paper in the profiles'):
        MakeTable.model_validate({"papers": ["a33"]})


def test_own_profiles(profiles: Profiles) -> None:
    """Given profiles are searched, the shipped ones behind them."""
    made = MakeTable.model_validate({"for": ["cnc"]}, context={"unit": None, "profiles": profiles})
    assert made.papers == ("a4", "letter")
