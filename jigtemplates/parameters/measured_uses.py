"""Which sizes of a job were measured: those of its tools, router, holder, plate, stock, kerf, tenon and inlay."""

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from jigtemplates.lengths import Measured
from jigtemplates.parameters.job import MeasuredUse
from jigtemplates.parameters.model import JobFile
from jigtemplates.profiles import Found


def measured_uses(file: JobFile) -> Iterator[MeasuredUse]:
    """Each measured size and its key, in the order of the file; what a profile says stands at the key that names it."""
    things = (
        ("tools.bit", file.tools.bit),
        ("tools.bushing", file.tools.bushing),
        ("tools.router", file.tools.router),
        ("plate.holder", file.plate.holder),
        ("plate", file.plate),
        ("work", file.work),
        ("make", file.make),
        ("fit", file.fit),
        ("inlay.plug_bit", None if file.inlay is None else file.inlay.plug_bit),
        ("inlay.plug_bushing", None if file.inlay is None else file.inlay.plug_bushing),
    )
    for where, thing in things:
        if isinstance(thing, Measured):
            yield MeasuredUse(f"{where}.diameter", thing)
        else:
            yield from _within(where, thing.entry if isinstance(thing, Found) else thing)


def _within(where: str, thing: Any) -> Iterator[MeasuredUse]:
    """The measured sizes of a model, and of the tables in it; what a profile gave is at a key of its own."""
    if not isinstance(thing, BaseModel):
        return
    for key, value in vars(thing).items():
        if isinstance(value, Measured):
            yield MeasuredUse(f"{where}.{key}", value)
        elif isinstance(value, BaseModel):
            yield from _within(f"{where}.{key}", value)
