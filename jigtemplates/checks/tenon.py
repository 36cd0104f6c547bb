"""Do loose tenons for the cut have sound proportions, and does the stock keep enough wood round the mortise?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.lengths import beside_text, first_text, mm_text
from jigtemplates.parameters.job import Work
from jigtemplates.practice import GLUE_ROOM
from jigtemplates.say import in_inches, sides_text
from jigtemplates.tenon import Mortise, TenonStock, own_stock

#: A tenon's thickness is about a third of the stock's (Cassell's Carpentry and Joinery; Manual of Purpose-Made
#: Woodworking Joinery, read). What "about" is, a quarter to two fifths, is chosen.
THINNEST, THICKEST = 1 / 4, 2 / 5

#: A tenon is at most this many times as wide as thick (the same two books, read).
WIDEST = 5.0

#: A tenon is about this many times as long as thick (Popular Woodworking, read); what is less than 3 is
#: worth a word (chosen: "about" must leave room for thin rails).
USUAL_LENGTH, SHORTEST_LENGTH = 5.0, 3.0

#: Least wood outside a mortise, mm (joinery text, read; see references).
LEAST_WOOD = 4.5


def check_tenon(case: Case) -> Iterator[Finding]:
    """Loose tenons of a cut that has any: in [tenon], or in its own table."""
    stock = own_stock(case)
    if stock is not None:
        alone = case.job.cut.repeat is None  # twin mortises share the third, and check_work looks at their group
        yield from tenon_findings(stock, inches=in_inches(case.job), alone=alone)


def tenon_findings(stock: TenonStock, *, inches: bool = False, alone: bool = True) -> Iterator[Finding]:
    """What is to be said of tenon stock, in mm or in inches first.

    Nothing but the one warning where nothing is left of the tenon.
    """
    if not stock.can_be_made:
        yield _nothing_left(stock, inches)
        return
    if stock.strips == 0:
        yield _no_strip(stock, inches)
    yield from _glue(stock, inches)
    yield from _proportions(stock, inches)
    if stock.work is not None and alone:
        if stock.mortise.is_along:
            yield from _third(stock, stock.work, inches)
        yield from wood_left(stock.mortise, stock.work, inches)


def _nothing_left(stock: TenonStock, inches: bool) -> Finding:
    sizes = sides_text(stock.thickness, stock.width, stock.length, inches=inches)
    return warning(
        "no-tenon",
        stock.choice.key,
        f"fit, glue room and edges leave a tenon of {sizes}, which is none: look at tenon.fit, tenon.glue_room, "
        "tenon.mate_depth and tenon.edge",
    )


def _no_strip(stock: TenonStock, inches: bool) -> Finding:
    choice = stock.choice
    least = 2 * choice.waste + stock.length + 2 * choice.kerf
    return warning(
        "strip-too-short",
        f"{choice.key}.strip",
        f"a strip of {first_text(choice.strip or 0.0, inches)} gives no tenon {first_text(stock.length, inches)} "
        f"long: with waste and saw cuts that takes {first_text(least, inches)}; set tenon.strip or tenon.waste",
    )


def _glue(stock: TenonStock, inches: bool) -> Iterator[Finding]:
    room, (least, most) = stock.choice.glue_room, GLUE_ROOM
    if not least - 1e-6 <= room <= most + 1e-6:
        yield note(
            "glue-room",
            f"{stock.choice.key}.glue_room",
            f"{first_text(room, inches)} of glue room in each mortise, where 1/16 to 1/8 in ({mm_text(least)} to "
            f"{mm_text(most)}) is usual",
        )


def _proportions(stock: TenonStock, inches: bool) -> Iterator[Finding]:
    thickness = beside_text(stock.thickness, inches)
    if stock.width > WIDEST * stock.thickness + 1e-6:
        yield note(
            "wide-tenon",
            "cut.length",
            f"the tenon is {first_text(stock.width, inches)} wide, more than {WIDEST:g} times its thickness "
            f"({thickness}): two narrower tenons move less with the seasons",
        )
    if stock.length < SHORTEST_LENGTH * stock.thickness - 1e-6:
        yield note(
            "short-tenon",
            "cut.depth",
            f"the tenon is {first_text(stock.length, inches)} long, {stock.length / stock.thickness:.1f} times its "
            f"thickness ({thickness}), where about {USUAL_LENGTH:g} times is usual: cut deeper where the stock allows",
        )


def _third(stock: TenonStock, work: Work, inches: bool) -> Iterator[Finding]:
    part = stock.thickness / work.thickness
    if not THINNEST - 1e-6 <= part <= THICKEST + 1e-6:
        yield note(
            "not-a-third",
            "cut.width",
            f"the tenon ({beside_text(stock.thickness, inches)}) is {part:.2f} of the stock "
            f"({beside_text(work.thickness, inches)}), where about a third is usual: "
            f"{first_text(work.thickness / 3, inches, 1)}",
        )


def wood_left(
    mortise: Mortise, work: Work, inches: bool, what: str = "mortise", *, is_open: bool = False
) -> Iterator[Finding]:
    """Wood between the mortise, or what is cut, and each face of the work that it comes near to.

    What is open to the edge of the work (is_open) comes out at the reference face on purpose.
    """
    half, half_length = (side / 2 for side in mortise.extents)
    if not is_open:
        yield from _wall("the reference face", "work.from_face", work.from_face - half, inches, what)
    opposite = work.thickness - work.from_face - half
    yield from _wall("the face opposite", "cut.width" if is_open else "work.from_face", opposite, inches, what)
    if work.height is not None:
        yield from _wall(f"the far side, below the {what}", "cut.depth", work.height - mortise.depth, inches, what)
    if work.from_end is not None:
        yield from _wall("the end of the work", "work.from_end", work.from_end - half_length, inches, what)
        if work.length is not None:
            rest = work.length - work.from_end - half_length
            yield from _wall("the other end of the work", "work.from_end", rest, inches, what)


def _wall(name: str, key: str, left: float, inches: bool, what: str) -> Iterator[Finding]:
    if left <= 1e-6:
        yield warning(
            "mortise-breaks-through",
            key,
            f"the {what} comes out at {name}: nothing is left of the wood there; move it or make it smaller",
        )
    elif left < LEAST_WOOD - 1e-6:
        yield warning(
            "thin-wood",
            key,
            f"only {first_text(left, inches)} of wood between the {what} and {name}, where at least "
            f"{first_text(LEAST_WOOD, inches)} is sensible: move it or make it smaller",
        )
