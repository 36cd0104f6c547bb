"""A tool typed as a table on a command line: --bit '{ nominal = "8 mm", measured = 7.95 }'."""

import tomllib
from typing import Any


def typed_table(value: Any) -> Any:
    """The table that a text in { } stands for, as a job file has it; any other value, and a faulty text, as it is."""
    if not isinstance(value, str) or not value.lstrip().startswith("{"):
        return value
    try:
        return tomllib.loads(f"value = {value.strip()}")["value"]
    except (ValueError, RecursionError):
        return value
