"""Which of a person's own tools are sold as a size that a job gives bare."""

from typing import Any

from jigtemplates.lengths import Length, sold_as
from jigtemplates.parameters import job
from jigtemplates.profiles import Profiles

#: Keys that are told, or tell nothing, anyway.
_TOLD = ("name", "diameter", "note")


def owned(kind: str, size: Length, profiles: Profiles) -> tuple[job.Owned, ...]:
    """The person's own tools of that kind ("bits", "bushings") that are sold as exactly that size, the nearest first.

    The job is computed with the bare size all the same: it would mean something else on the day a tool is written down.
    """
    same = (found for found in profiles.own(kind) if sold_as(_diameter(found.entry)).exact == size.exact)
    return tuple(job.Owned(found.name, _diameter(found.entry), _known(found.entry)) for found in same)


def _diameter(entry: Any) -> Length:
    diameter: Length = entry.diameter
    return diameter


def _known(entry: Any) -> tuple[str, ...]:
    keys = (key for key in type(entry).model_fields if key not in _TOLD)
    return tuple(key for key in keys if getattr(entry, key) is not None)
