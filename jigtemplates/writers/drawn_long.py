"""What `drawn` compares segment by segment, for very many at once."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from jigtemplates.geometry.outline import Segment
from jigtemplates.geometry.table import Table, rows_of
from jigtemplates.writers.drawn import Drawn
from jigtemplates.writers.layers import SAME


def repeated_among(drawn: Sequence[Drawn]) -> Drawn | None:
    """As `drawn.repeated`."""
    names = {name: number for number, name in enumerate(dict.fromkeys(one.layer for one in drawn))}
    traces = [_traces(rows_of(one.segments), names[one.layer]) for one in drawn]
    owners = np.repeat(np.arange(len(drawn)), [len(one) for one in traces])
    every = np.concatenate(traces)
    order = np.lexsort(every.T)  # stable: of equals the first comes first
    again = order[1:][np.all(every[order[1:]] == every[order[:-1]], axis=1)]
    return drawn[int(owners[again].min())] if len(again) else None


def _traces(table: Table, layer: int) -> NDArray[np.int64]:
    """What each segment leaves on the material of a layer, whichever way it is travelled: a row of whole numbers."""
    a, b = _grid(table.starts), _grid(table.ends)
    swap = ((a[:, 0] > b[:, 0]) | ((a[:, 0] == b[:, 0]) & (a[:, 1] > b[:, 1])))[:, None]
    # only an arc needs its middle: one straight runs between two points
    middles = np.where(table.is_arc[:, None], _grid(table.middles), 0)
    kind = np.where(table.is_arc, 1, 0) + 2 * layer
    return np.column_stack([np.where(swap, b, a), np.where(swap, a, b), middles, kind])


def _grid(places: NDArray[np.float64]) -> NDArray[np.int64]:
    found: NDArray[np.int64] = np.rint(places / SAME).astype(np.int64)
    return found


def are_alike(found: Sequence[Segment], wanted: Sequence[Segment]) -> bool:
    """Whether each starts and ends within SAME of the other and bends the same way."""
    a, b = rows_of(found), rows_of(wanted)
    apart = [np.hypot(*(one - two).T).max() for one, two in ((a.starts, b.starts), (a.ends, b.ends))]
    return bool(max(apart) <= SAME and np.array_equal(a.turns, b.turns))
