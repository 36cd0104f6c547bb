"""Do the bushings' stems suit the template that recess and plug are routed with? By the rules of a job's check; mm."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from jigtemplates.match.reach import CARE, UNKNOWN, Stack, stem_remark, stem_stop

if TYPE_CHECKING:
    from jigtemplates.parameters.entries import Bushing

#: What a table has room for, of a stem that needs a look.
_SHORT = {UNKNOWN: "stem not known", CARE: "stem very short"}

#: What is said where the template's thickness is not known.
NOT_JUDGED = "stems were not judged: give the template's thickness with --plate"


def suiting(bushings: Iterable["Bushing"], stack: Stack) -> tuple["Bushing", ...]:
    """Those whose stem is not known to reach through plate and stand-off."""
    return tuple(one for one in bushings if not stem_stop(one, stack))


def mark(bushing: "Bushing", stack: Stack) -> str:
    """A few words on a stem that is not known or hardly meets the template; else ""."""
    return _SHORT.get(stem_remark(bushing, stack)[0], "")


def stem_words(bushing: "Bushing | None", stack: Stack) -> tuple[bool, str]:
    """Whether a stem can be used, and a sentence where it cannot, is not known or hardly meets the template.

    None is a bushing of which its diameter alone is known.
    """
    if bushing is None:
        assert stack.under_base is not None
        return True, f"the stem's length is not known: it must be under {stack.text(stack.under_base)}"
    stops = stem_stop(bushing, stack)
    level, remarks = stem_remark(bushing, stack)
    return not stops, " ".join(stops or (remarks if level in _SHORT else ()))


def left_out_text(left: Iterable["Bushing"], stack: Stack) -> Iterator[str]:
    """ "Left out, for their stems reach through the template and the stand-off (1/4 in = 6.35 mm): …"."""
    from jigtemplates.match import name_of

    named = [f"{name_of(one)} {stack.aside(one.stem.mm)}" for one in left if one.stem is not None]
    if named:
        assert stack.under_base is not None
        yield (
            f"Left out, since their stems are no shorter than template and stand-off are thick "
            f"{stack.aside(stack.under_base)}: {_listed(named)}"
        )


def too_narrow_text(left: Iterable["Bushing"]) -> Iterator[str]:
    """ "Left out, since the bit does not pass through: a, b"."""
    from jigtemplates.match import name_of

    named = [name_of(one) for one in left]
    if named:
        yield f"Left out, since the bit does not pass through them: {_listed(named)}"


def _listed(named: list[str]) -> str:
    more = f" and {len(named) - MOST} more" if len(named) > MOST else ""
    return f"{', '.join(named[:MOST])}{more}"


#: So many bushings are named at most (chosen: a line or two).
MOST = 6
