"""The corners of a very long LWPOLYLINE: written as one piece of text, just as ezdxf writes them, and read at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import overload

import numpy as np

from jigtemplates.geometry.long import halved, table_of
from jigtemplates.geometry.outline import BulgeVertex, Outline
from jigtemplates.geometry.table import Array, Table


@dataclass(frozen=True, slots=True)
class Corners:
    """What an LWPOLYLINE of ezdxf asks of its corners when it is written."""

    count: int
    text: str

    def __len__(self) -> int:
        """How many corners."""
        return self.count

    def dxftags(self) -> Iterator["Corners"]:
        """All corners as if they were one tag."""
        yield self

    def dxfstr(self) -> str:
        """The text of that tag."""
        return self.text


class ManyCorners(Sequence[BulgeVertex]):
    """The corners of a polyline as columns: x, y and bulge."""

    def __init__(self, columns: Array) -> None:
        self.columns = columns

    def __len__(self) -> int:
        """How many."""
        return len(self.columns)

    @overload
    def __getitem__(self, which: int) -> BulgeVertex: ...
    @overload
    def __getitem__(self, which: slice) -> "ManyCorners": ...
    def __getitem__(self, which: int | slice) -> "BulgeVertex | ManyCorners":
        """One or some of them."""
        if isinstance(which, slice):
            return ManyCorners(self.columns[which])
        return BulgeVertex(*self.columns[which].tolist())

    def table(self, per_unit: float, closed: bool) -> Table:
        """The segments between them, mm."""
        table = Table.from_bulges(self.columns[:, :2] * per_unit, self.columns[:, 2])
        return table if closed else table.rows(slice(0, -1))


def read_corners(codes: Sequence[int], values: Sequence[str]) -> ManyCorners | None:
    """What an LWPOLYLINE's tags say of its corners; None where they are out of turn or no numbers.

    Codes 10 and 20 are a corner's place, 42 its bulge, which may be missing.
    """
    every = np.array(codes)
    where = np.flatnonzero((every == 10) | (every == 20) | (every == 42))
    kinds = every[where]
    firsts = np.flatnonzero(kinds == 10)
    counts = np.diff(np.r_[firsts, len(kinds)])
    if not len(firsts) or firsts[0] != 0 or counts.min() < 2 or counts.max() > 3:
        return None
    bent = firsts[counts == 3]
    if np.any(kinds[firsts + 1] != 20) or np.any(kinds[bent + 2] != 42):
        return None
    try:
        numbers = np.array([float(values[i]) for i in where.tolist()])
    except ValueError:
        return None
    columns = np.column_stack([numbers[firsts], numbers[firsts + 1], np.zeros(len(firsts))])
    columns[counts == 3, 2] = numbers[bent + 2]
    return ManyCorners(columns) if np.isfinite(numbers).all() else None


def corners(outline: Outline, per_unit: float) -> Corners:
    """The corners of an outline with bulges, in a unit of so many mm, rounded as `dxf` rounds them."""
    table = halved(table_of(outline))
    xs, ys = (np.round(table.starts / per_unit, 10) + 0.0).T.tolist()
    bulges = np.clip(np.round(np.tan(table.sweeps / 4), 12) + 0.0, -1.0, 1.0).tolist()
    text = "".join(
        f" 10\n{x}\n 20\n{y}\n 42\n{bulge}\n" if bulge else f" 10\n{x}\n 20\n{y}\n"
        for x, y, bulge in zip(xs, ys, bulges, strict=True)
    )
    return Corners(len(table), text)
