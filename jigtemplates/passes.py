"""In how many passes a cut is made, and how deep it is after each: depths that a rule shows; mm.

A depth stop is set with a workshop rule, so every pass but the last ends on a mark of one. Light enough for `match`,
which asks before there is a job.
"""

import math
from collections.abc import Iterator

from jigtemplates.lengths import MM_PER_INCH
from jigtemplates.practice import DEEPEST_PASS

#: Marks of a rule, coarsest first, mm. Coarser ones are easier to set (chosen); 1/64 in and 0.1 mm are the finest that
#: can be set at all (a workshop rule; a caliper).
INCH_MARKS = tuple(float(MM_PER_INCH) / part for part in (16, 32, 64))
METRIC_MARKS = (0.5, 0.1)

#: Binary noise, in marks (chosen).
NOISE = 1e-6


def usual_pass(sold_as: float) -> float:
    """Deepest single pass of a bit sold as so wide: half of that, and at most DEEPEST_PASS.

    Less than half the bit's diameter is a cutter guide's rule (read; see references). It is a rule of thumb, so it goes
    by the size the bit is sold as: half a thousandth on the caliper is no reason for a pass more.
    """
    return min(sold_as / 2, DEEPEST_PASS)


def pass_count(depth: float, deepest: float, *, inches: bool) -> int:
    """How many passes, none deeper than `deepest`, make the depth; see `pass_depths`."""
    return _count_and_mark(depth, deepest, inches)[0]


def pass_depths(depth: float, deepest: float, *, inches: bool, most: int | None = None) -> tuple[float, ...]:
    """Depth after each pass: as equal steps as marks of a rule allow, none deeper than `deepest`; the last is exact.

    One pass more is taken only where rounding would make a step too deep. Steps that no rule shows, or only at the cost
    of many more passes, stay equal. No more than `most` of them, which then end short of the depth.
    """
    count, mark = _count_and_mark(depth, deepest, inches)
    made = min(count, most or count)
    if mark is None:
        return tuple(depth if number == count else depth * number / count for number in range(1, made + 1))
    return (*_on_marks(depth, deepest, count, mark), depth)[:made]


def _count_and_mark(depth: float, deepest: float, inches: bool) -> tuple[int, float | None]:
    """Number of passes and the mark they end on; None where they end on none."""
    equal = max(1, math.ceil(depth / deepest - 1e-9))
    marks = INCH_MARKS if inches else METRIC_MARKS
    count = _least_count(depth, deepest, marks[-1])
    if count is None or count > equal + 1 + equal // 10:  # chosen: a pass more, and one more in ten
        return equal, None
    return count, next(mark for mark in marks if mark == marks[-1] or _suits(depth, deepest, count, mark))


def _least_count(depth: float, deepest: float, mark: float) -> int | None:
    """Passes that end on multiples of a mark, the last on the depth; None where a pass is less than a mark."""
    step = math.floor(deepest / mark + NOISE)
    return 1 + math.ceil(_last_but_one(depth, deepest, mark) / step) if step else None


def _last_but_one(depth: float, deepest: float, mark: float) -> int:
    """How deep the pass before the last must at least end, in marks."""
    return max(0, math.ceil((depth - deepest) / mark - NOISE))


def _suits(depth: float, deepest: float, count: int, mark: float) -> bool:
    """Whether a coarse mark costs no pass more, and steps remain alike: they are two marks at least, or equal."""
    step = depth / count / mark
    return _least_count(depth, deepest, mark) == count and (step >= 2 - NOISE or abs(step - round(step)) < NOISE)


def _on_marks(depth: float, deepest: float, count: int, mark: float) -> Iterator[float]:
    """Where each pass but the last ends: on the mark nearest to an equal step, as far as `deepest` allows."""
    step, last = math.floor(deepest / mark + NOISE), _last_but_one(depth, deepest, mark)
    reached = 0
    for number in range(1, count):
        least = last - (count - 1 - number) * step
        nearest = math.floor(depth * number / count / mark + 0.5 + NOISE)
        reached = min(max(nearest, least), reached + step)
        yield round(reached * mark, 9)
