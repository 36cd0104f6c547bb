"""The plan page of a paper pattern: how the plate is made by hand.

A small plan with numbered holes, what to take care of, and the tables: drilling, the opening at a router table,
openings that are easy. Long tables go on to further pages. Each page has the bars of every page of a pattern.
"""

import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from jigtemplates.byhand import ByHand, Table
from jigtemplates.fonts import missing
from jigtemplates.geometry.outline import Bounds
from jigtemplates.processes.paper_page import GREY, Page, PatternNotes, Text
from jigtemplates.processes.paper_plan_picture import fence_block, is_clearer, plan_block
from jigtemplates.processes.paper_sheet import LEAST_WINDOW, NUMBER_ROOM, Sheet, page, window_below
from jigtemplates.processes.paper_table import is_squeezed, laid_out
from jigtemplates.processes.paper_text import Block, beside, bullet, paragraph, stacked, title_block

#: Letters of tables and cautions, em in mm, tried in this order (chosen: 8.5 pt and 7.5 pt).
SIZES = (3.0, 2.65)
#: Between plan and cautions, and between two tables, mm.
ASIDE, APART = 7.0, 5.0
#: Between the last table and the level bar, besides what every page keeps free there, mm.
ABOVE_BAR = 2.5
#: Tables are no wider, and the cautions no narrower, mm (chosen).
TABLE, COLUMN = 185.0, 62.0
#: The plan and what stands beside it take no more of an upright page's height, and the plan of its width (chosen).
HIGHEST, WIDEST = 0.46, 0.56
#: Share of a page on its side for plan and cautions; the tables stand on their right.
ON_ITS_SIDE = 0.36
#: Stands for a character the font does not have.
NO_LETTER = "□"

NOT_THE_PATTERN = "How to make the plate by hand. This page is not the pattern: its plan is drawn small."

#: Common practice, no source.
DRILLING = (
    "Mark centres with a punch or awl. Clamp the plate on a scrap board to drill it; never hold it in the hand.",
    "Wide drills and hole saws turn slowly, best in a drill press.",
)
#: Common practice, no source.
ROUTER_TABLE = (
    "Unplug the router to set bit, fence and stops. Lock fence and stops before it runs.",
    "Start and end every run at a stop; let the bit stop before you lift the plate off.",
    "Feed against the bit's rotation, with push blocks; hands never over, behind or in line with the bit.",
    "Several shallow passes; eye, ear and dust protection.",
)
ALWAYS = ("Try it in scrap first. New to this? Ask someone trained to show you.",)


@dataclass(frozen=True)
class PlanPages:
    """The pages before they are numbered."""

    sheet: Sheet
    #: the header of a page by its number
    head: Callable[[str], Block]
    #: what stands on each, already placed
    bodies: tuple[tuple[Block, ...], ...]

    def numbered(self, first: int, total: int) -> Iterator[Page]:
        """The pages, the first with that number of so many."""
        for number, body in enumerate(self.bodies, first):
            yield page(self.sheet, self.head(f"page {number} of {total}"), body, (), "plan")


def plan_pages(
    by_hand: ByHand, notes: PatternNotes, notices: tuple[str, ...], mirrored: bool, sheet: Sheet
) -> PlanPages:
    """The plan pages on sheets of one kind, in the largest letters that take no more pages than smaller ones."""

    def head(number: str) -> Block:
        return _head(notes, notices, mirrored, sheet.area.width, number)

    room = window_below(sheet, head("page 2 of 2"))
    room = room._replace(bottom=room.bottom + ABOVE_BAR)
    tables = by_hand.tables()
    bodies = tuple(_bodies(by_hand, tables, sheet, room, SIZES[0]))
    if len(bodies) > 1:
        bodies = min(bodies, tuple(_bodies(by_hand, tables, sheet, room, SIZES[1])), key=len)
    return PlanPages(sheet, head, tuple(tuple(map(_clean, body)) for body in bodies))


def _head(notes: PatternNotes, notices: tuple[str, ...], mirrored: bool, width: float, number: str) -> Block:
    """Like the header of the pattern's pages, but for what the page is."""
    room = width - NUMBER_ROOM
    parts = [
        title_block(notes.title, room, mirrored=mirrored),
        paragraph(f"The finished plate: {notes.overall}", room, 2.8),
        *(paragraph(notice, room, 2.8, bold=True) for notice in notices),
    ]
    right = Block(4.0, (Text(number, width, -2.8, 2.8, anchor="end"),))
    return stacked(
        (beside(stacked(parts, 0.6), right, 0.0), paragraph(NOT_THE_PATTERN, width, SIZES[-1], colour=GREY)), 0.6
    )


def _bodies(
    by_hand: ByHand, tables: tuple[Table, ...], sheet: Sheet, room: Bounds, size: float
) -> Iterator[tuple[Block, ...]]:
    """What stands on each page, in letters of that size."""
    if sheet.width > sheet.height and not _is_better_above(by_hand, room, size):
        placed, first = _beside_tables(by_hand, room, size)
    elif sheet.width > sheet.height:
        placed, first = _above_tables(by_hand, room, room.left, size)
    else:
        placed, first = _above_tables(by_hand, room, sheet.area.left, size)
    body, left = [placed], first
    for table in tables:
        for number, part in enumerate(_parts(table, left, room, size)):
            if number:
                yield tuple(body)
                body, left = [], room
            if part.height:
                body.append(part.placed(left.left, left.top))
                left = left._replace(top=left.top - part.height - APART)
    yield tuple(body)


def _parts(table: Table, left: Bounds, room: Bounds, size: float) -> list[Block]:
    """A table in pieces: the first for what is left of the page (perhaps nothing), then one for each further page.

    Beside the plan a table has less width than a whole page gives it. One that is squeezed there and goes on to a
    further page anyway is set on that page as a whole, where it then takes no more pages.
    """
    width = min(left.width, TABLE)
    parts = list(laid_out(table, width, size).parts(left.height, room.height))
    if len(parts) > 1 and width < min(room.width, TABLE) and is_squeezed(table, width, size):
        whole = list(laid_out(table, min(room.width, TABLE), size).parts(room.height, room.height))
        if len(whole) < len(parts):
            return [Block(0.0), *whole]
    return parts


def _above_tables(by_hand: ByHand, room: Bounds, left: float, size: float) -> tuple[Block, Bounds]:
    """An upright page: plan on the left, cautions on its right, over the whole width where they end above the bar.

    The room for tables is below.
    """
    block = _plan_and_cautions(by_hand, room.right - left, room.height, size)
    if room.height - block.height < LEAST_WINDOW:
        left, block = room.left, _plan_and_cautions(by_hand, room.width, room.height, size)
    return block.placed(left, room.top), room._replace(top=room.top - block.height - APART)


def _is_better_above(by_hand: ByHand, room: Bounds, size: float) -> bool:
    """On a page on its side: whether a long plate's numbers are only clear in a plan over the tables."""
    width = ON_ITS_SIDE * room.width
    beside = (width, room.height - _cautions(by_hand, width, size).height - APART)
    return is_clearer(by_hand, beside, _room_above(room.width, room.height))


def _room_above(width: float, height: float) -> tuple[float, float]:
    """What the plan may take of a page where the tables stand below it."""
    return min(WIDEST * width, width - COLUMN - ASIDE), HIGHEST * height


def _plan_and_cautions(by_hand: ByHand, width: float, height: float, size: float) -> Block:
    plan, taken = plan_block(by_hand, _room_above(width, height))
    return beside(plan, _cautions(by_hand, width - taken - ASIDE, size), taken + ASIDE)


def _beside_tables(by_hand: ByHand, room: Bounds, size: float) -> tuple[Block, Bounds]:
    """A page on its side: plan and cautions one below the other, the room for tables on their right."""
    width = ON_ITS_SIDE * room.width
    cautions = _cautions(by_hand, width, size)
    plan, _ = plan_block(by_hand, (width, room.height - cautions.height - APART))
    block = stacked((plan, cautions), APART)
    return block.placed(room.left, room.top), room._replace(left=room.left + width + ASIDE)


def _cautions(by_hand: ByHand, width: float, size: float) -> Block:
    """The sketch of fence and stops where they are used, and the cautions that apply."""
    at_table = bool(by_hand.fence or by_hand.pivots)
    return _said(bool(by_hand.drilling), bool(by_hand.fence), at_table, width, size)


@lru_cache(maxsize=8)  # they are the same for every plate that is about as wide
def _said(drilled: bool, with_fence: bool, at_table: bool, width: float, size: float) -> Block:
    said = (*(DRILLING if drilled else ()), *(ROUTER_TABLE if at_table else ()), *ALWAYS)
    title = paragraph("Take care", width, 3.6, bold=True)
    words = stacked((title, stacked((bullet(words, width, size) for words in said), 0.15 * size)), 0.5)
    return stacked((fence_block(width), words), 3.0) if with_fence else words


def _clean(block: Block) -> Block:
    """With a mark for each character that cannot be printed, as in the name of a bit."""
    words = "".join(text.string for text in block.texts)
    if not missing(set(words)) and unicodedata.is_normalized("NFC", words):
        return block
    return replace(block, texts=tuple(replace(text, string=_printable(text.string)) for text in block.texts))


def _printable(text: str) -> str:
    composed = unicodedata.normalize("NFC", text)
    lost = missing([composed])
    return "".join(NO_LETTER if c in lost else c for c in composed)
