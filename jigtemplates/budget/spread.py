"""How a sum of errors spreads, each of which may be anything within its limits; millimetres.

Of an error of which only the limits ± a are known, every value between them is taken as equally likely: a
uniform distribution, of standard uncertainty a / √3 (JCGM 100:2008, 4.3.7; NIST TN 1297, 4.6). What a sum of such
errors comes to is not approximated by a normal distribution but computed exactly (in the sense of JCGM 101:2008,
the propagation of distributions), so that no band ever reaches beyond the worst case.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import NamedTuple

#: Steps of the whole numbers that the exact sum is computed with, a millimetre: a nanometre each.
_STEPS = 1_000_000
#: A quantile is found to this, mm (chosen: a hundredth of what is shown).
_CLOSE = 1e-5
#: More steps are never needed to find one: each at least halves an interval of a few mm.
_MOST_STEPS = 40


@dataclass(frozen=True)
class Sum:
    """A middle and independent errors about it, each uniform within ± its limit."""

    middle: float
    #: limits of the errors, mm, 0 or more
    halves: tuple[float, ...]

    @cached_property
    def reach(self) -> float:
        """How far the sum can be from its middle: the worst case, mm."""
        return math.fsum(self.halves)

    @cached_property
    def _terms(self) -> tuple[tuple[int, int], ...]:
        """Shift and sign of each term of the closed form, for the errors that are more than nothing."""
        sizes = [size for half in self.halves if (size := round(half * _STEPS))]
        return tuple(
            (sum(sign * size for sign, size in zip(signs, sizes, strict=True)), math.prod(signs))
            for signs in product((1, -1), repeat=len(sizes))
        )

    @cached_property
    def _count(self) -> int:
        return len(self._terms).bit_length() - 1

    @cached_property
    def _whole(self) -> int:
        """What the terms add up to when all errors are below: n! times the product of the widths."""
        sizes = (round(half * _STEPS) for half in self.halves)
        return math.factorial(self._count) * math.prod(2 * size for size in sizes if size)

    def below(self, x: float) -> float:
        """The probability that the sum is at most x.

        Σ s (x + Σ ± aᵢ)₊ⁿ / (n! Π 2aᵢ) over all signs, s their product: the distribution of Irwin and Hall for
        unequal widths, by inclusion and exclusion (Marengo, Farnsworth and Stefanic, Int. J. Math. Math. Sci.
        2017, 3571419). In whole numbers, since its terms cancel.
        """
        if not -self.reach < x - self.middle < self.reach:
            return 1.0 if x >= self.middle else 0.0
        at, count = round((x - self.middle) * _STEPS), self._count
        if count == 0:
            return 1.0 if at >= 0 else 0.0
        total: int = sum(sign * (at + shift) ** count for shift, sign in self._terms if at + shift > 0)
        return min(1.0, max(0.0, total / self._whole))


class Spread(NamedTuple):
    """A sum of errors, or a mixture of several: what a size may come out at."""

    #: weight and sum of each part; the weights add up to 1
    parts: tuple[tuple[float, Sum], ...]

    @classmethod
    def of(cls, middle: float, halves: Iterable[float]) -> "Spread":
        """A middle and errors uniform within ± their limits."""
        return cls(((1.0, Sum(middle, tuple(halves))),))

    def below(self, x: float) -> float:
        """The probability of at most x."""
        return math.fsum(weight * part.below(x) for weight, part in self.parts)

    def less(self, middle: float, half: float) -> "Spread":
        """The difference to another size, uniform within ± half about its middle."""
        return Spread(tuple((weight, Sum(part.middle - middle, (*part.halves, half))) for weight, part in self.parts))

    def about(self, middle: float) -> "Spread":
        """The same as differences from a value, to a picometre: alike for sizes that differ by nothing else."""
        return Spread(tuple((weight, Sum(round(part.middle - middle, 9), part.halves)) for weight, part in self.parts))

    @property
    def limits(self) -> tuple[float, float]:
        """The lowest and the highest value any part can take."""
        return (
            min(part.middle - part.reach for _, part in self.parts),
            max(part.middle + part.reach for _, part in self.parts),
        )

    def quantile(self, share: float) -> float:
        """The value that a share (0 to 1) of all outcomes does not exceed, to 0.01 µm."""
        low, high = self.limits
        under, over = 0.0, 1.0
        for step in range(_MOST_STEPS):
            if high - low <= _CLOSE:
                break
            # straight between the ends, which is near in the middle; every third step halves, which never stalls
            part = (share - under) / (over - under) if step % 3 < 2 and over > under else 0.5
            x = low + (high - low) * min(0.98, max(0.02, part))
            found = self.below(x)
            if found < share:
                low, under = x, found
            else:
                high, over = x, found
        return (low + high) / 2
