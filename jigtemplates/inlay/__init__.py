"""Inlay: a recess and the plug that fills it, from one opening and two bushings; closed-form arithmetic, mm.

The recess: its bushing Gr runs in the opening with bit Br, so its edge lies (Gr - Br) / 2 inside the opening's. The
plug: a smaller bushing Gp is led round the same opening with bit Bp, and the plug is what stays standing inside the
groove: its edge lies (Gp + Bp) / 2 inside the opening's. The two edges are one where Gr - Br = Gp + Bp (forum
articles, Fine Homebuilding 2002, read; see references).

A second template from the outside of a first is the same sum: led round the first with G1 and B1, the groove's outer
edge, which becomes the opening, lies (G1 + B1) / 2 outside the first; with G2 and B2 in that opening the cut is as
large as the first where G1 + B1 = G2 - B2 (trade table, read). There (G1, B1) stands for the plug's pair and (G2, B2)
for the recess's: `gap` is then how much larger than the first the cut comes out, a side.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from jigtemplates.practice import FITS, HAIR

#: Decimals of numbers in JSON, as in a report.
DECIMALS = 6


class Verdict(StrEnum):
    """How recess and plug go together."""

    #: they differ by no more than the glue line, and by no less than it by a hair
    FITS = "fits"
    #: the plug goes in, but leaves less than the glue line
    TIGHT = "tight"
    #: the plug leaves more than the glue line
    LOOSE = "loose"
    #: the plug does not go in
    TOO_LARGE = "too large"


@dataclass(frozen=True, slots=True)
class Pair:
    """A bit in a guide bushing; diameters in mm, the measured ones where they are known."""

    bit: float
    bushing: float

    @property
    def inside(self) -> float:
        """From the template's edge to the edge of what this pair cuts away inside an opening, mm."""
        return (self.bushing - self.bit) / 2

    @property
    def beyond(self) -> float:
        """From the template's edge to the far edge of the groove, mm: what stays standing behind it."""
        return (self.bushing + self.bit) / 2


@dataclass(frozen=True, slots=True)
class Fit:
    """Two pairs on one opening, and the glue line that is wanted."""

    recess: Pair
    plug: Pair
    #: wanted between recess and plug, mm a side
    glue_line: float = 0.0

    @property
    def gap(self) -> float:
        """How much smaller the plug is than the recess, mm a side; less than 0: so much too large."""
        return round(self.plug.beyond - self.recess.inside, 9)

    @property
    def miss(self) -> float:
        """Gap less glue line, mm a side: more than 0 too loose, less than 0 too tight."""
        return round(self.gap - self.glue_line, 9)

    @property
    def verdict(self) -> Verdict:
        """Whether they fit. A plug that is too large by no more than a hair is called tight: wood gives that much."""
        if self.gap < -HAIR:
            return Verdict.TOO_LARGE
        if self.miss < -HAIR or self.gap < -FITS:
            return Verdict.TIGHT
        return Verdict.FITS if self.miss <= FITS else Verdict.LOOSE

    @property
    def fits(self) -> bool:
        """Whether recess and plug differ by no more than the glue line, and the plug goes in."""
        return self.verdict is Verdict.FITS

    @property
    def smallest_convex(self) -> float:
        """Smallest radius of a corner that points out of the inlay, mm: the recess's bit leaves no tighter one.

        The plug follows: the opening's corner there has the radius of the recess's bushing (or more), and its groove
        takes (Gp + Bp) / 2 off that.
        """
        return self.recess.bit / 2

    @property
    def smallest_concave(self) -> float:
        """Smallest radius of a corner that points into the inlay, mm, as it comes out in the recess.

        Round a sharp corner of the plate both bushings turn about that corner: the recess's edge keeps (Gr - Br) / 2
        from it and the plug's (Gp + Bp) / 2, which is the same where they fit.
        """
        return self.recess.inside

    @property
    def plug_bushing_wanted(self) -> float:
        """Diameter of the plug's bushing with which the rest would fit, mm; 0 or less where there is none."""
        return round(self.plug.bushing - 2 * self.miss, 9)

    @property
    def plug_bit_wanted(self) -> float:
        """Diameter of the plug's bit with which the rest would fit, mm; 0 or less where there is none."""
        return round(self.plug.bit - 2 * self.miss, 9)

    @property
    def recess_bushing_wanted(self) -> float:
        """Diameter of the recess's bushing with which the rest would fit, mm; the opening is then made for it."""
        return round(self.recess.bushing + 2 * self.miss, 9)

    def as_json(self, outer: str = "recess", inner: str = "plug") -> dict[str, Any]:
        """The numbers as `--json` prints them, mm; `outer` and `inner` name the two pairs."""
        return {
            outer: _pair(self.recess),
            inner: _pair(self.plug),
            "glue_line": _rounded(self.glue_line),
            "gap": _rounded(self.gap),
            "miss": _rounded(self.miss),
            "verdict": self.verdict.value,
            "fits": self.fits,
            "offset": _rounded(self.recess.inside),
            "smallest_radius": {
                "convex": _rounded(self.smallest_convex),
                "concave": _rounded(self.smallest_concave),
            },
        }


def _pair(pair: Pair) -> dict[str, float]:
    return {"bit": _rounded(pair.bit), "bushing": _rounded(pair.bushing)}


def _rounded(mm: float) -> float:
    return round(mm, DECIMALS) + 0.0
