"""Plans of an inlay from above: recess and plug being routed from one opening, and one laid over the other."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from jigtemplates.geometry.measure import samples
from jigtemplates.geometry.offset import grow, shrink
from jigtemplates.geometry.outline import Arc, Bounds, Line, Outline, Point, Regions
from jigtemplates.inlay import Fit, Pair
from jigtemplates.inlay.overlay import Overlay
from jigtemplates.lengths import inch_short, mm_text
from jigtemplates.processes.paper_page import BLACK, GREY, Text
from jigtemplates.processes.setup_draw import (
    BIT,
    BLUE,
    BRASS,
    CUT,
    GREEN,
    MEDIUM,
    PLATE,
    SCALES,
    SMALL,
    THICK,
    THIN,
    TINY,
    VERMILLION,
    Picture,
    arrow_head,
    box,
    scale_text,
)

#: Rooms on the page, mm: for two lines of caption, for what is free round the openings, for a line of the key.
CAPTION, AROUND, KEY = 8.5, 4.0, 3.9
#: Width of the key beside a plan, and how far the arrow of the feed is from the edge it runs along, mm.
KEY_WIDTH, ASIDE = 36.0, 2.0
#: One more than other pictures have (chosen: an inlay is looked at for its shape).
PLAN_SCALES = tuple(sorted((*SCALES, 1 / 1.5), reverse=True))
#: The gap is drawn about this wide, mm on the page (chosen: it is seen at arm's length), by one of these factors.
DRAWN_GAP = 0.8
FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
#: The inlay itself (chosen: a pale tint beside those of the set-up sheet).
PLUG = "#CFE8DC"
#: A gap smaller than this is none, mm.
NONE = 5e-4


@dataclass(frozen=True)
class Scene:
    """What the plans show, in the plate's coordinates."""

    opening: Regions
    fit: Fit
    laid: Overlay

    @property
    def view(self) -> Bounds:
        """Box round all openings."""
        lefts, bottoms, rights, tops = zip(*(region.bounds for region in self.opening), strict=True)
        return Bounds(min(lefts), min(bottoms), max(rights), max(tops))


def is_beside(scene: Scene, scale: float, width: float) -> bool:
    """Whether the key has room beside a plan of that width; else it stands below."""
    return scale * scene.view.width + 2 * AROUND + KEY_WIDTH <= width


def plan_scale(scene: Scene, width: float, height: float) -> float:
    """The largest scale at which the openings and their key have room in a plan of that size."""
    return next((scale for scale in PLAN_SCALES if _has_room(scene, scale, width, height)), PLAN_SCALES[-1])


def _has_room(scene: Scene, scale: float, width: float, height: float) -> bool:
    wide = scale * scene.view.width + 2 * AROUND
    return wide <= width and plan_height(scene, scale, width) <= height


def plan_height(scene: Scene, scale: float, width: float) -> float:
    """Height that a plan of that width takes at a scale, with its key."""
    below = 0.0 if is_beside(scene, scale, width) else 2 * KEY
    return CAPTION + max(2 * AROUND + scale * scene.view.height, 4 * KEY) + below


@dataclass
class Plan:
    """One plan while it is drawn."""

    scene: Scene
    picture: Picture

    def __post_init__(self) -> None:
        cell, scale, shown = self.picture.cell, self.picture.scale, self.scene.view
        self.dx = cell.left + AROUND - scale * shown.left
        self.dy = cell.top - CAPTION - AROUND - scale * shown.top
        self.low = self.dy + scale * shown.bottom - AROUND

    def at(self, place: Point) -> Point:
        """On the page, from the plate's coordinates."""
        return Point(self.dx + self.picture.scale * place.x, self.dy + self.picture.scale * place.y)

    def shape(self, outline: Outline) -> Outline:
        """On the page, from the plate's coordinates."""
        return outline.scaled(self.picture.scale).moved(self.dx, self.dy)

    def caption(self, words: str, about: str) -> None:
        """Two lines above the plan."""
        left, top = self.picture.cell.left, self.picture.cell.top
        self.picture.text(Text(words, left, top - 3.2, SMALL + 0.4, True))
        self.picture.text(Text(about, left, top - 7.0, TINY, colour=GREY))

    def rings(self, regions: Regions, fill: str, width: float = 0.0, colour: str = BLACK, hole: str = "") -> None:
        """Areas; what stands in them is filled with hole."""
        for region in regions:
            self.picture.outline(self.shape(region.outer), width, colour, fill=fill)
            for ring in region.holes:
                self.picture.outline(self.shape(ring), width, colour, fill=hole)

    def within(self, groove: Regions) -> None:
        """The stock that is left within a groove, round what stands in an opening."""
        for ring in (hole for region in groove for hole in region.holes):
            self.picture.outline(self.shape(ring), THIN, VERMILLION, fill="#FFFFFF")

    def plate(self) -> None:
        """The plate round the openings, as far as it is shown, and the openings."""
        shown, scale = self.scene.view, self.picture.scale
        out = AROUND / scale
        frame = box(shown.left - out, shown.bottom - out, shown.right + out, shown.top + out)
        self.picture.area(self.shape(frame), PLATE)
        self.rings(self.scene.opening, "#FFFFFF", THICK, hole=PLATE)

    def edge(self) -> None:
        """The openings' edge, and the plate that stands within them, once more over what was drawn on it."""
        self.rings(self.scene.opening, "", THICK, hole=PLATE)

    def router(self, pair: Pair) -> None:
        """The bushing with its bit against the edge; a job whose bushing does not go into the opening is stopped."""
        middle = self.at(_corner(shrink(self.scene.opening, pair.bushing / 2)))
        scale = self.picture.scale
        self.picture.outline(Outline.circle(middle, scale * pair.bushing / 2), MEDIUM, BLUE, fill=BRASS)
        self.picture.outline(Outline.circle(middle, scale * pair.bit / 2), THIN, BLUE, fill=BIT)

    def feed(self) -> None:
        """An arrow outside the longest edge of the largest opening, clockwise along it."""
        ring = max(self.scene.opening, key=lambda region: region.area).outer
        longest = max(ring.segments, key=lambda segment: round(segment.length, 6))
        aside, most = -ASIDE / self.picture.scale, 10.0 / self.picture.scale
        reach = max(min(0.25 * longest.length, most), most / 2)
        points = _along_arc(longest, aside, reach) if isinstance(longest, Arc) else _along_line(longest, aside, reach)
        shown = [self.at(point) for point in points]
        a, b = shown[-2:]
        self.picture.line(*shown[:-1], width=THICK, colour=GREEN)
        self.picture.outline(arrow_head(b, math.atan2(b.y - a.y, b.x - a.x)), 0.0, GREEN, fill=GREEN)

    def key(self, rows: Sequence[tuple[str, str]]) -> None:
        """Colours and what they mean: beside the plan, or two beside each other below it."""
        cell, scale = self.picture.cell, self.picture.scale
        beside = is_beside(self.scene, scale, cell.width)
        right = cell.left + 2 * AROUND + scale * self.scene.view.width + 3.0
        for at, (colour, words) in enumerate(rows):
            x = right if beside else cell.left + 0.2 + (at % 2) * cell.width / 2
            y = cell.top - CAPTION - 2.6 - KEY * at if beside else self.low - 2.4 - KEY * (at // 2)
            self.picture.outline(box(x, y - 0.3, x + 4.0, y + 1.7), THIN, GREY, fill=colour)
            self.picture.text(Text(words, x + 5.4, y, TINY))


def _along_line(line: Line, aside: float, reach: float) -> list[Point]:
    """From one end of the arrow to the other, aside to the left of a line and against its way; the last is the tip."""
    ux, uy = (line.end.x - line.start.x) / line.length, (line.end.y - line.start.y) / line.length
    x, y = line.middle.x - aside * uy, line.middle.y + aside * ux
    ways = (reach, -0.8 * reach, -reach)
    return [Point(x + way * ux, y + way * uy) for way in ways]


def _along_arc(arc: Arc, aside: float, reach: float) -> list[Point]:
    """The same along an arc, about its middle."""
    radius = max(arc.radius - arc.turn * aside, arc.radius / 2)
    middle = arc.start_angle + arc.sweep / 2 if arc.start != arc.end else math.pi / 2
    half = min(reach / arc.radius, math.pi / 3)
    steps = [half * (1 - 2 * i / 24) for i in range(25)]
    angles = [middle + arc.turn * step for step in steps]
    return [Point(arc.center.x + radius * math.cos(a), arc.center.y + radius * math.sin(a)) for a in angles]


def _corner(path: Regions) -> Point:
    """Where the bushing is drawn: furthest to the upper right, where a corner shows best."""
    places = [Point(x, y) for region in path for x, y in samples(region.outer).tolist()]
    return max(places, key=lambda place: (round(place.x + place.y, 6), place.x))


def recess_plan(scene: Scene, cell: Bounds, scale: float) -> Picture:
    """The recess and the bushing that makes it."""
    plan = Plan(scene, Picture(cell, scale))
    plan.caption("1  Recess", f"scale {scale_text(scale)}, seen from above")
    plan.plate()
    plan.rings(scene.laid.recess, CUT, THIN, VERMILLION, hole="#FFFFFF")
    plan.router(scene.fit.recess)
    plan.feed()
    plan.edge()
    plan.key(((CUT, "cut away: recess"), (BRASS, "bushing and bit"), (PLATE, "template"), (GREEN, "feed: clockwise")))
    return plan.picture


def plug_plan(scene: Scene, cell: Bounds, scale: float) -> Picture:
    """The plug standing within its groove, and the bushing that makes it."""
    plan = Plan(scene, Picture(cell, scale))
    plan.caption("2  Plug", f"scale {scale_text(scale)}, seen from above")
    plan.plate()
    pair = scene.fit.plug
    groove = grow(shrink(scene.opening, pair.bushing / 2), pair.bit / 2)
    plan.rings(groove, CUT, THIN, VERMILLION)
    plan.rings(scene.laid.plug, PLUG, MEDIUM, hole=CUT)
    plan.within(groove)
    plan.router(pair)
    plan.feed()
    plan.edge()
    plan.key(((CUT, "cut away: groove"), (PLUG, "plug, which stays"), (PLATE, "template"), (GREEN, "feed: clockwise")))
    return plan.picture


def overlay_plan(scene: Scene, cell: Bounds, scale: float, *, inches: bool) -> Picture:
    """Recess and plug laid over each other, the gap drawn so much wider that it is seen."""
    plan = Plan(scene, Picture(cell, scale))
    factor = widened_by(scene.fit.gap, scale)
    plan.caption("Laid over each other", about_gap(scene, factor, scale, inches=inches))
    plan.rings(scene.laid.recess, CUT, THICK, VERMILLION, hole="#FFFFFF")
    plan.rings(exaggerated(scene, factor), PLUG, MEDIUM, BLUE, hole="#FFFFFF")
    plan.key(((PLUG, "plug"), (CUT, "gap: the glue line")) if scene.fit.gap >= NONE else ((PLUG, "both"),))
    return plan.picture


def widened_by(gap: float, scale: float) -> int:
    """How many times as wide as it is the gap is drawn: the least that shows it."""
    if gap < NONE:
        return 1
    return next((factor for factor in FACTORS if factor * gap * scale >= DRAWN_GAP), FACTORS[-1])


def exaggerated(scene: Scene, factor: int) -> Regions:
    """The plug with its gap made wider by a factor; as it is where that would leave nothing of a part."""
    if factor == 1:
        return scene.laid.plug
    thin = shrink(scene.opening, scene.fit.plug.beyond + (factor - 1) * scene.fit.gap)
    kept = tuple(region for region in thin if region.area > 1e-3)
    return kept if len(kept) == len(scene.laid.plug) else scene.laid.plug


def about_gap(scene: Scene, factor: int, scale: float, *, inches: bool) -> str:
    """ "scale 1:2, the gap drawn 20 times as wide", "scale 1:2, edge on edge"."""
    if scene.fit.gap < NONE:
        return f"scale {scale_text(scale)}, edge on edge: no gap"
    size = f"{inch_short(scene.fit.gap)} = {mm_text(scene.fit.gap, 3)}" if inches else mm_text(scene.fit.gap, 3)
    wide = f", drawn {factor} times as wide" if factor > 1 else ""
    return f"scale {scale_text(scale)}, gap {size} a side{wide}"
