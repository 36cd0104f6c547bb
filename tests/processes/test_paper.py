"""The paper process: what stands on each page, and that nothing stands on anything else."""

import math
from dataclasses import replace
from itertools import combinations

import pytest
from boxes import apart, text_box
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.byhand.table import letters
from jigtemplates.drawing import Drawing, Item, Pen, Role, Stroke
from jigtemplates.errors import JigError
from jigtemplates.fonts import text_width
from jigtemplates.geometry.outline import Arc, Bounds, Line, Outline, Point
from jigtemplates.processes.paper import PaperSize, Pattern, PatternNotes, lay_out
from jigtemplates.processes.paper_cover import joining
from jigtemplates.processes.paper_drawing import distance, touches
from jigtemplates.processes.paper_page import Page, box_of
from jigtemplates.processes.paper_text import title_block, wrapped
from jigtemplates.processes.paper_tiles import needed

A4 = PaperSize("a4", 210.0, 297.0)
LETTER = PaperSize("letter", 215.9, 279.4)
PENS = {
    Role.CUT_OUTSIDE: Pen("OUT", "#000000", 0.2),
    Role.CUT_INSIDE: Pen("IN", "#d55e00", 0.2),
    Role.DRILL: Pen("DRILL", "#0072b2", 0.2),
    Role.REFERENCE: Pen("REF", "#777777", 0.13),
}
NOTES = PatternNotes(
    "Bench rail, 10 x 50",
    (("bit", "3/8 in = 9.525 mm"), ("bushing", "1/2 in = 12.7 mm"), ("offset", "1.59 mm")),
    ("Unplug the router to change bits.", "A test cut in scrap comes first."),
    "140 × 140 mm (5.512 × 5.512 in)",
)
LONG = replace(
    NOTES,
    title="Loose-tenon mortise for the legs of the long workbench, left-hand side, ten by fifty millimetres",
    facts=tuple((f"label {i}", f"a value of middling length, number {i}") for i in range(10)),
)


def plate(width: float, height: float) -> Drawing:
    """A plain plate with a hole near its lower-left corner and a level centre line."""
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    middle = (Point(2, height / 2), Point(width - 2, height / 2))
    return Drawing(
        (
            Item(Role.REFERENCE, Stroke(middle)),
            Item(Role.DRILL, Outline.circle(Point(12, 10), 2.75, -1)),
            Item(Role.CUT_OUTSIDE, Outline.polygon(corners)),
        ),
        width,
        height,
    )


def ring(radius: float) -> Drawing:
    """A flat ring 10 mm wide."""
    middle = Point(radius, radius)
    rims = (Outline.circle(middle, radius - 10, -1), Outline.circle(middle, radius))
    roles = (Role.CUT_INSIDE, Role.CUT_OUTSIDE)
    return Drawing(tuple(map(Item, roles, rims)), 2 * radius, 2 * radius)


def laid(drawing: Drawing, notes: PatternNotes = NOTES, paper: PaperSize = A4, **how: object) -> Pattern:
    """lay_out with the pens of these tests."""
    return lay_out(drawing, PENS, notes, paper, **how)  # type: ignore[arg-type]


def said(page: Page) -> list[str]:
    """All strings of a page."""
    return [t.string for t in (*page.texts, *(t for w in page.windows for t in w.texts))]


def refused(drawing: Drawing, notes: PatternNotes = NOTES, paper: PaperSize = A4, **how: object) -> list[str]:
    """The lines of the refusal."""
    with pytest.raises(JigError) as caught:
        laid(drawing, notes, paper, **how)
    return list(caught.value.lines)


def within(box: Bounds, room: Bounds) -> bool:
    """Whether a box lies in a room, to 0.1 mm (half a pen)."""
    return (
        box.left >= room.left - 0.1
        and box.bottom >= room.bottom - 0.1
        and box.right <= room.right + 0.1
        and box.top <= room.top + 0.1
    )


@given(
    st.floats(40, 450),
    st.floats(40, 450),
    st.sampled_from([A4, LETTER]),
    st.sampled_from([NOTES, LONG]),
    st.floats(0.97, 1.03),
    st.booleans(),
)
@settings(max_examples=30, deadline=None)
def test_nothing_overlaps_and_all_is_within_the_margins(
    width: float, height: float, paper: PaperSize, notes: PatternNotes, factor: float, mirrored: bool
) -> None:
    """On every page texts, bars and pattern stand clear of each other and, corrected, of the paper's edge."""
    correction = (factor, 1.0)
    pattern = laid(plate(width, height), notes, paper, correction=correction, mirrored=mirrored)
    assert sorted((pattern.width, pattern.height)) == sorted((paper.width, paper.height))
    side = 10.0 if pattern.height > pattern.width else 15.0
    room = Bounds(side / factor, 15.0, (pattern.width - side) / factor, pattern.height - 10.0)
    for page in pattern.pages:
        texts = [text_box(t) for t in page.texts]
        windows = [w.box for w in page.windows]
        inks = [box_of(i.shape) for i in page.inks]
        assert all(within(box, room) for box in (*texts, *windows, *inks))
        assert all(apart(t, w) for t in texts for w in windows)
        if page.name != "cover":  # names stand on the map
            assert all(apart(a, b) for a, b in combinations(texts, 2))
        bars = [b for b in inks if max(b.width, b.height) < 101.7]
        assert all(apart(b, w) for b in bars for w in windows if not _on_edge(b, w))


def _on_edge(ink: Bounds, window: Bounds) -> bool:
    """Whether a line runs along the window's border, as an edge to cut does."""
    return (ink.width == 0.0 and ink.left in (window.left, window.right)) or (
        ink.height == 0.0 and ink.bottom in (window.bottom, window.top)
    )


@pytest.mark.parametrize("paper", [A4, LETTER])
@pytest.mark.parametrize(("width", "height"), [(140, 140), (185, 120), (60, 60), (100, 150)])
@pytest.mark.parametrize("notes", [NOTES, LONG])
def test_single_page(paper: PaperSize, width: float, height: float, notes: PatternNotes) -> None:
    """A plate that fits the page takes one page, drawn whole and once."""
    pattern = laid(plate(width, height), notes, paper)
    (page,) = pattern.pages
    (window,) = page.windows
    assert within(Bounds(0, 0, width, height), window.shown)
    assert "page 1 of 1" in said(page)
    assert pattern.diagonal is None


def test_notes_on_a_cover_where_the_plate_fills_the_page() -> None:
    """A plate that leaves its page no room for notes stands whole on the second page."""
    pattern = laid(plate(160, 225), LONG)
    assert [p.name for p in pattern.pages] == ["cover", "A1"]
    assert "The pattern is whole on page 2." in said(pattern.pages[0])
    assert not any("lies over" in s or "cut here" in s for s in said(pattern.pages[1]))


@pytest.mark.parametrize(
    "sentence",
    [
        "if this is not 100.0 mm, do not use this page",
        "A printed pattern is good for layout, to a few tenths of a millimetre; it does not set the fit of a bushing.",
        "This side up. Check with a rule: 140 × 140 mm (5.512 × 5.512 in)",
        "Bench rail, 10 x 50",
        "across",
        "up",
    ],
)
def test_said_on_every_page(sentence: str) -> None:
    """Every page, cover and tiles alike, says what a person must know before using it."""
    for page in (*laid(plate(140, 140)).pages, *laid(plate(420, 300)).pages):
        assert sentence in said(page)


def test_facts_cautions_and_legend_once() -> None:
    """Facts, cautions and the meaning of each line are on the first page only."""
    first, *others = (said(p) for p in laid(plate(420, 300)).pages)
    for words in (
        "bushing",
        "1/2 in = 12.7 mm",
        "Unplug the router to change bits.",
        "hole: drill at the cross",
    ):
        assert words in first
        assert all(words not in page for page in others)
    assert "pocket" not in first


def test_tiles_named_and_joined() -> None:
    """A 420 x 300 plate takes six A4 tiles behind a cover, lettered down and numbered across."""
    pattern = laid(plate(420, 300))
    assert [p.name for p in pattern.pages] == ["cover", "A1", "A2", "A3", "B1", "B2", "B3"]
    assert "page 6 of 7" in said(pattern.pages[5])
    b2 = said(pattern.pages[5])
    for words in (
        "cut here, lay over B1 (page 5)",
        "cut here, lay over A2 (page 3)",
        "B3 (page 7) lies over this edge",
    ):
        assert words in b2
    assert not any("left out" in s for page in pattern.pages for s in said(page))


def test_tiles_overlap_and_cover() -> None:
    """Neighbours share a strip exactly as wide as the overlap, and together show the whole plate."""
    _, *tiles = laid(plate(420, 300), paper=replace(A4, overlap=14.0)).pages
    shown = {p.name: p.windows[0].shown for p in tiles}
    assert shown["A1"].right - shown["A2"].left == pytest.approx(14.0)
    assert shown["A1"].bottom == pytest.approx(shown["B1"].top - 14.0)
    assert shown["B1"].left <= 0.0
    assert shown["B1"].bottom <= 0.0
    assert shown["A3"].right >= 420.0
    assert shown["A3"].top >= 300.0


def test_cross_hairs_on_both_neighbours() -> None:
    """Each cross-hair's number stands at one place of the drawing, on exactly the two tiles it joins."""
    _, *tiles = laid(plate(420, 300)).pages
    places: dict[str, list[tuple[float, float]]] = {}
    for page in tiles:
        for text in page.windows[0].texts:
            places.setdefault(text.string, []).append((text.x, text.y))
    numbers = [name for name in places if name.isdigit()]
    assert sorted(map(int, numbers)) == list(range(1, 15))  # seven seams, two each
    assert all(len(places[n]) == 2 and places[n][0] == places[n][1] for n in numbers)


def test_cross_hairs_give_way() -> None:
    """A cross-hair moves along its seam, 7 mm or more clear of the drawing's full lines."""
    drawing = plate(420, 300)
    _, *tiles = laid(drawing).pages
    solid = [i.shape for i in drawing.items if i.role is not Role.REFERENCE]
    spots = {(t.x - 1.6, t.y - 1.8) for p in tiles for t in p.windows[0].texts if t.string.isdigit()}
    assert len(spots) == 14
    assert all(distance(Point(*s), shape) >= 6.999 for s in spots for shape in solid)


def test_cross_hairs_where_no_place_is_clear() -> None:
    """Where lines run along the whole seam the cross-hair stands as far from them as it can."""
    drawing = plate(420, 300)
    lines = tuple(Item(Role.CUT_INSIDE, Stroke((Point(x, 5), Point(x, 295)))) for x in (137.0, 142.0, 278.0, 283.0))
    pattern = laid(replace(drawing, items=drawing.items + lines))
    assert {t.string for p in pattern.pages for w in p.windows for t in w.texts} >= {"1", "14"}


def test_long_diagonal() -> None:
    """P and Q stand 3.5 mm outside opposite corners and their distance is on the cover to 0.1 mm."""
    pattern = laid(plate(420, 300))
    assert pattern.diagonal is not None
    # sqrt(427² + 307²) = 525.9068: the plate and 3.5 mm at each end
    assert math.dist(*pattern.diagonal) == pytest.approx(525.9068, abs=1e-4)
    assert "to the middle of Q is 525.9 mm (20.70 in)" in " ".join(said(pattern.pages[0]))
    named = {t.string: p.name for p in pattern.pages for w in p.windows for t in w.texts}
    assert {named["P"], named["Q"]} == {"A1", "B3"}


def test_blank_tile_left_out() -> None:
    """A tile no line passes is not printed; the map crosses it out and its neighbours say so."""
    pattern = laid(ring(300))
    names = [p.name for p in pattern.pages]
    assert names == ["cover", "A1", "A2", "A3", "A4", "B1", "B4", "C1", "C2", "C3", "C4"]
    assert said(pattern.pages[0]).count("left out") == 2
    assert "B2 is left out: no line there" in said(pattern.pages[5])
    for page in pattern.pages[1:]:
        (window,) = page.windows
        assert any(touches(item.shape, window.shown) for item in ring(300).items)


def test_the_legend_fits_plates_and_frames() -> None:
    """The outer edge may be a plate's or that of a holder's frame, which has the same pages."""
    words = said(laid(plate(140, 140)).pages[0])
    assert "outer edge: cut outside" in words
    assert not any("edge of the plate" in word for word in words)


def test_names_on_the_map_hide_its_lines() -> None:
    """Each tile's name stands on a white patch over the small drawing, so that it can be read on any line."""
    cover = laid(ring(300)).pages[0]
    patches = [box_of(ink.shape) for ink in cover.inks if ink.fill == "#FFFFFF"]
    names = [text for text in cover.texts if text.string in ("A1", "B4", "C2", "left out", "P", "Q")]
    assert len(names) == 7
    assert all(any(within(text_box(name), patch) for patch in patches) for name in names)


def test_fewer_tiles_decides_the_turn() -> None:
    """A long low plate is printed on sheets on their side, a high one upright, all pages alike."""
    lying, standing = laid(plate(480, 100)), laid(plate(100, 480))
    assert (lying.width, lying.height, len(lying.pages)) == (297.0, 210.0, 4)
    assert (standing.width, standing.height, len(standing.pages)) == (210.0, 297.0, 4)


def test_mirrored() -> None:
    """A mirrored pattern says MIRRORED before its title on every page, a plain one nowhere."""
    for page in laid(plate(420, 300), mirrored=True).pages:
        (title,) = [t for t in page.texts if t.string.startswith("MIRRORED · ")]
        assert (title.bold, title.size) == (True, 4.8)
    assert not any("MIRRORED" in said(p) for p in laid(plate(420, 300)).pages)


def test_mirrored_takes_no_room() -> None:
    """The highest plate that fits a sheet of Letter fits it mirrored as well; a higher one neither."""
    pages = [
        [len(laid(plate(150, high), paper=LETTER, mirrored=m).pages) for m in (False, True)]
        for high in range(130, 240, 5)
    ]
    assert all(plain == mirrored for plain, mirrored in pages)
    assert (pages[0], pages[-1][0] > 1) == ([1, 1], True)


@pytest.mark.parametrize("title", ["Rail", "A title that takes about the whole line of its page", "Word " * 60])
def test_a_mirrored_title_is_no_higher(title: str) -> None:
    """However long it is, and never smaller than 2.8 mm."""
    plain, mirrored = (title_block(title, 120.0, mirrored=m) for m in (False, True))
    assert mirrored.height <= plain.height
    assert mirrored.texts[0].string.startswith("MIRRORED · ")
    assert min(text.size for text in mirrored.texts) >= 2.8


def test_correction_said() -> None:
    """A corrected page names its factors, is for one printer, and warns beyond one per cent."""
    small = " ".join(said(laid(plate(140, 140), correction=(1.004, 0.998)).pages[0]))
    large = " ".join(said(laid(plate(140, 140), correction=(1.0, 1.02)).pages[0]))
    assert "corrected for one printer: across × 1.004, up × 0.998; do not use on another" in small
    assert "Warning" not in small
    assert "across × 1, up × 1.02; do not use on another" in large
    assert "Warning: a correction of more than 1 % is unusual." in large
    assert not any("corrected" in s for s in said(laid(plate(140, 140)).pages[0]))


def test_reference_lines_dashed() -> None:
    """Only reference lines are broken; everything to cut or drill is a full line."""
    (window,) = laid(plate(140, 140)).pages[0].windows
    assert {i.colour for i in window.inks if i.dash} == {"#777777"}
    assert {i.colour for i in window.inks if not i.dash} == {"#000000", "#0072b2"}


def test_centre_crosses() -> None:
    """A hole has one cross through its centre, 2.5 mm out of the largest circle; a large round a small one."""
    centre = Point(50, 50)
    circles = [(Role.DRILL, 2.5), (Role.DRILL, 5.0), (Role.CUT_INSIDE, 40.0)]
    items = [Item(role, Outline.circle(centre, r, -1)) for role, r in circles[:2]]
    items.append(Item(Role.CUT_INSIDE, Outline.circle(Point(50, 50.5), 40.0, -1)))
    (window,) = laid(Drawing(tuple(items), 100, 100)).pages[0].windows
    strokes = [i.shape.points for i in window.inks if isinstance(i.shape, Stroke)]
    assert strokes == [
        (Point(42.5, 50), Point(57.5, 50)),
        (Point(50, 42.5), Point(50, 57.5)),
        (Point(45, 50.5), Point(55, 50.5)),
        (Point(50, 45.5), Point(50, 55.5)),
    ]


def test_role_without_pen_left_out() -> None:
    """A role the process gives no pen is not drawn, not crossed and not in the legend."""
    pens = {Role.CUT_OUTSIDE: PENS[Role.CUT_OUTSIDE]}
    page = lay_out(plate(140, 140), pens, NOTES, A4).pages[0]
    assert len(page.windows[0].inks) == 1
    assert "hole: drill at the cross" not in said(page)


def test_texts_tidied() -> None:
    """Line breaks become spaces and a letter with a combining accent is composed, so that it has a glyph."""
    notes = replace(NOTES, title="Re\u0301glette\n 10\t x 50")
    assert "Réglette 10 x 50" in said(laid(plate(140, 140), notes).pages[0])


def test_unprintable_characters_refused() -> None:
    """Characters without a glyph, and those that print nothing, are named: never dropped."""
    notes = replace(NOTES, title="治具", cautions=("turn\u202eed",))
    assert refused(plate(140, 140), notes) == [
        'paper: the pattern\'s font cannot print "治" (U+6CBB), "具" (U+5177), "\\u202e" (U+202E) '
        "(write it in Latin, Greek or Cyrillic letters)"
    ]
    many = replace(NOTES, title="一二三四五六七八九十")
    assert "(U+516B) …" in refused(plate(140, 140), many)[0]


def test_all_faults_at_once() -> None:
    """Every fault of correction and paper has its line, in one refusal."""
    paper = PaperSize("mine", 210, 297, margin=5, foot=12.5, overlap=20)
    assert refused(plate(140, 140), paper=paper, correction=(1.05, math.nan)) == [
        "paper: correction across 1.05 is outside 0.97 to 1.03 "
        "(set the printer to 100 %, print again and measure the bar)",
        "paper: correction up nan is outside 0.97 to 1.03 (set the printer to 100 %, print again and measure the bar)",
        'paper "mine": margin 5 mm is less than 10 mm (printers do not reach the edge)',
        'paper "mine": foot 12.5 mm is less than 15 mm (printers do not reach the edge)',
        'paper "mine": overlap 20 mm is outside 10 to 15 mm (write 12)',
    ]


def test_nothing_to_print() -> None:
    """A drawing without lines is refused rather than printed as an empty page."""
    assert refused(Drawing((), 100, 100)) == ["paper: nothing to print: no line of the drawing has a pen on paper"]


def test_drawing_beyond_its_size() -> None:
    """A drawing larger than it says is refused, for its edge would be cut off."""
    assert refused(replace(plate(140, 140), width=120)) == ["paper: the drawing reaches beyond its own 120 x 140 mm"]
    lowered = Drawing((Item(Role.CUT_OUTSIDE, Outline.circle(Point(5, 5), 6)),), 20, 20)
    assert refused(lowered) == ["paper: the drawing reaches beyond its own 20 x 20 mm"]


def test_paper_too_small() -> None:
    """Paper without room for both bars is refused."""
    assert refused(plate(60, 60), paper=PaperSize("a5", 148, 210)) == [
        'paper "a5": 148 x 210 mm has no room for the calibration bars and the title '
        "(take A4, Letter or larger, or a shorter title)"
    ]


def test_too_many_pages() -> None:
    """A pattern of more than a hundred tiles is refused with their number."""
    (line,) = refused(plate(2500, 2000))
    assert line.startswith('paper "a4": 2500 x 2000 mm would take ')
    assert line.endswith(" pages, more than 100 (take a larger paper or a smaller plate)")


def test_notes_too_long() -> None:
    """Notes that do not fit the cover are refused, not cut off."""
    notes = replace(NOTES, facts=(("f", "words " * 20),) * 40, cautions=("c",) * 3)
    assert refused(plate(140, 140), notes) == [
        'paper "a4": 40 facts and 3 cautions are too long for one page (shorten them, or take a larger paper)'
    ]


@pytest.mark.parametrize(("row", "name"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA")])
def test_row_letters(row: int, name: str) -> None:
    """Rows run A to Z, then AA."""
    assert letters(row) == name


@pytest.mark.parametrize(("total", "count"), [(100, 1), (100.1, 2), (190, 2), (190.1, 3), (280, 3)])
def test_windows_needed(total: float, count: int) -> None:
    """Windows of 100 overlapping by 10 cover 100, 190, 280 …"""
    assert needed(total, 100.0, 10.0) == count


def test_wrapping() -> None:
    """Lines stay within the width, no letter is lost, and a word too wide is cut."""
    text = "a plain sentence and Donaudampfschifffahrtsgesellschaftskapitänsmütze"
    lines = wrapped(text, 30.0, 2.8)
    assert len(lines) > 3
    assert all(text_width(line, 2.8) <= 30.0 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert wrapped("WW", 1.0, 2.8) == ["W", "W"]


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [
        ("cut 34.925 mm, run round", 22.0, ["cut", "34.925 mm,", "run round"]),
        ("centre (31 % each)", 18.0, ["centre", "(31 % each)"]),
        ("18.00 ± 0.20 mm", 22.0, ["18.00", "± 0.20 mm"]),
        ("rounded, r 4.95 mm", 22.0, ["rounded,", "r 4.95 mm"]),
        ("round dia 24 mm", 17.0, ["round", "dia 24 mm"]),
        ("wide in the middle", 20.0, ["wide in the", "middle"]),
        ("12345.678 mm", 16.5, ["12345.678", "mm"]),  # no room for both
    ],
)
def test_a_unit_stays_with_its_number(text: str, width: float, lines: list[str]) -> None:
    """A line does not end between a number and its unit, nor between ±, r or dia and its number."""
    assert wrapped(text, width, 2.8) == lines


@pytest.mark.parametrize(
    ("box", "met"),
    [
        (Bounds(40, 40, 60, 60), False),  # within the circle
        (Bounds(92, 92, 99, 99), False),  # in the corner of its box
        (Bounds(95, 45, 105, 55), True),
        (Bounds(200, 0, 210, 10), False),
    ],
)
def test_touches(box: Bounds, met: bool) -> None:
    """A circle touches a box only where its line passes, not its area or its own box."""
    assert touches(Outline.circle(Point(50, 50), 50), box) is met


def test_distance() -> None:
    """Distances to a line, to its end, to an arc and to an arc's end, by hand."""
    line = Stroke((Point(0, 0), Point(10, 0)))
    assert distance(Point(5, 3), line) == pytest.approx(3.0)
    assert distance(Point(13, 4), line) == pytest.approx(5.0)
    half = Outline((Arc(Point(10, 0), Point(-10, 0), Point(0, 0), 10, 1), Line(Point(-10, 0), Point(10, 0))))
    assert distance(Point(0, 13), half) == pytest.approx(3.0)
    assert distance(Point(13, -4), half) == pytest.approx(5.0)


def test_the_long_diagonal_in_inches_first() -> None:
    """Of a job in inches: 254 mm is 10 in."""
    assert joining(254.0)[-1].endswith("is 254.0 mm (10.00 in).")
    assert joining(254.0, inches=True)[-1].endswith("is 10.00 in (254.0 mm).")


def test_the_long_diagonal_halfway() -> None:
    """Of 20.705 in and 525.25 mm the halves go up, as wherever a length is said; formats of Python's say 20.70."""
    assert joining(525.907, inches=True)[-1].endswith("is 20.71 in (525.9 mm).")
    assert joining(525.25)[-1].endswith("is 525.3 mm (20.68 in).")
