"""Jobs that make sense key by key and mostly as a whole: they get as far as geometry, checks and writers."""

from typing import Any

from hypothesis import strategies as st

#: Of whole jobs, so that some are tiny and some huge.
SCALES = st.sampled_from([1, 1, 1, 1, 1, 1, 0.1, 10, 0.01, 100])


def _mm(least: float, most: float) -> st.SearchStrategy[float]:
    fine = st.floats(least, most).map(lambda n: round(n, 3))
    return fine | st.integers(int(least) + 1, int(most)).map(float) if most > least + 2 else fine


def _maybe(required: dict[str, Any], **optional: Any) -> st.SearchStrategy[dict[str, Any]]:
    held = {key: one if isinstance(one, st.SearchStrategy) else st.just(one) for key, one in required.items()}
    return st.fixed_dictionaries(held, optional=optional)


ANGLE = st.sampled_from([0, 90, 45, 38, 180, 0.001, -360, 360]) | st.floats(-360, 360)
W, L, R = _mm(0.5, 60), _mm(1, 160), _mm(0, 20)
REPEAT = st.one_of(
    _maybe({"count": st.integers(1, 8), "pitch": _mm(1, 90)}, direction=ANGLE),
    _maybe({"count": st.integers(1, 5), "pitch": _mm(1, 90), "rows": st.integers(2, 4), "row_pitch": _mm(1, 90)}),
    _maybe({"count": st.integers(2, 9), "ring": _mm(1, 160)}, start_angle=ANGLE, turned=st.booleans()),
)
COMMON = {
    "angle": ANGLE,
    "x": _mm(-10, 200),
    "y": _mm(-10, 200),
    "mirrored": st.booleans(),
    "repeat": REPEAT,
    "side": st.sampled_from(["inside", "inside", "outside"]),
}
SHAPES: dict[str, dict[str, Any]] = {
    "slot": {"width": W, "length": L},
    "round": {"diameter": L},
    "rectangle": {"width": W, "length": L, "corner_radius": R},
    "ellipse": {"width": W, "length": L},
    "polygon": {"sides": st.integers(3, 12), "across": L, "corner_radius": R},
    "butterfly": {"width": W, "length": L, "waist": W, "corner_radius": R},
    "hand-hold": {"width": W, "length": L, "rise": R},
    "arc-slot": {"width": W, "radius": L, "span": st.floats(1, 359)},
    "hinge": {"width": W, "length": L, "corner_radius": R},
    "outline": {
        "file": st.sampled_from(["leaf.svg", "rose.svg", "bracket.dxf"]),
        "scale": st.sampled_from([1.0, 0.3, 0.05, 2.5]),
    },
}
SELECT = {"leaf.svg": "leaf", "bracket.dxf": "recess"}
RADII = st.lists(R, min_size=4, max_size=4)
DEPTHS = _mm(0.1, 80)
CUTS = st.one_of(
    [_maybe({"shape": name, "depth": DEPTHS, **keys}, **COMMON) for name, keys in SHAPES.items()]
    + [_maybe({"shape": "rectangle", "depth": DEPTHS, "width": W, "length": L, "corner_radii": RADII})]
)  # fmt: skip
BITS = st.sampled_from([3, 6, 8, 9.525, 12, 12.7]) | _mm(0.5, 30)
BUSHINGS = st.sampled_from([10, 12, 15.875, 17, 20, 24, 30]) | _mm(1, 60)
TOOLS = _maybe(
    {
        "bit": BITS | _maybe({"diameter": BITS}, shank=_mm(1, 13), cutting_length=_mm(1, 80), plunging=st.booleans()),
        "bushing": BUSHINGS | _maybe({"diameter": BUSHINGS}, stem=_mm(1, 20)),
    },
    clearance=_mm(0, 1),
    pass_depth=_mm(0.1, 20),
    router=st.just("generic mid-size plunge"),
)
SCREWS = st.one_of(
    _maybe({"pattern": st.sampled_from(["corners", "edges"]), "size": "M5", "inset": _mm(0.5, 40)}),
    _maybe({"pattern": "ring", "size": "M4", "count": st.integers(2, 12), "diameter": L}, start_angle=ANGLE),
    _maybe({"pattern": "points", "size": "M6", "points": st.lists(st.tuples(L, L).map(list), min_size=1, max_size=5)}),
)
PLATE_MORE = {
    "material": st.sampled_from(["mdf", "plywood", "acrylic"]),
    "corner_radius": R,
    "stand_off": R,
    "wall": _mm(0.1, 20),
    "label": st.booleans(),
    "screws": SCREWS,
}
THICK = _mm(1, 30)
PLATES = st.one_of(
    _maybe({"width": _mm(20, 500), "height": _mm(20, 500), "thickness": THICK}, **PLATE_MORE),
    _maybe({"width": 240, "height": 240, "thickness": THICK}, **PLATE_MORE),
    _maybe(
        {"holder": st.sampled_from(["bench-frame-140", "quay-frame-160", "door-edge-8x5"]), "thickness": THICK},
        rebate=st.booleans(),
        turn=st.sampled_from([90, 180, 60, 45, 360, 0.5]),
    ),
)
MAKES = _maybe(
    {"for": st.lists(st.sampled_from(["laser", "cnc", "paper", "print"]), min_size=1, max_size=4, unique=True)},
    kerf=_mm(0, 2),
    papers=st.lists(st.sampled_from(["a4", "letter", "a3"]), min_size=1, max_size=2, unique=True),
    dxf=_maybe(
        {}, version=st.sampled_from(["R12", "R2000"]), arcs=st.sampled_from(["bulges", "pieces", "facets"]),
        units=st.sampled_from(["mm", "in"]), chord=_mm(0.001, 0.5),
    ),
    printed_bar=_maybe({"across": _mm(97, 103), "up": _mm(97, 103)}),
    mirrored=st.booleans(),
    pair=st.sampled_from(["left", "right"]),
    print=_maybe(
        {}, allowance=_mm(0, 1), opening_allowance=_mm(0, 1), chord=_mm(0.01, 0.5), label_depth=_mm(0.1, 3),
        label=st.sampled_from(["sunk", "raised", "none"]), formats=st.just(["stl", "3mf"]),
    ),
)  # fmt: skip
TABLES = {
    "work": _maybe({"thickness": L, "height": L}, length=_mm(10, 2000), from_face=W, from_end=L),
    "tenon": _maybe({"joints": st.integers(1, 60)}, fit=_mm(0, 1), glue_room=R, mate_depth=W, strip=_mm(10, 3000)),
    "inlay": _maybe({"plug_bushing": BUSHINGS, "glue_line": _mm(0, 0.3), "plug_thickness": _mm(1, 20)}, plug_bit=BITS),
    "fit": _maybe({}, off_centre=_mm(0, 0.5), turned=st.booleans(), too_tight=_mm(0, 0.1), too_loose=_mm(0.1, 0.5)),
    "make": MAKES,
}


def _scaled(tree: Any, scale: float) -> Any:
    """Every length of a cut or plate larger or smaller."""
    if isinstance(tree, dict):
        fixed = ("angle", "direction", "start_angle", "span", "turn", "scale", "count", "rows", "sides")
        return {key: held if key in fixed else _scaled(held, scale) for key, held in tree.items()}
    if isinstance(tree, list):
        return [_scaled(held, scale) for held in tree]
    return tree * scale if isinstance(tree, float) else tree


@st.composite
def likely_jobs(draw: st.DrawFn) -> dict[str, Any]:
    """A job of one or several cuts, with some of the tables that a job may have."""
    cuts = draw(st.lists(CUTS, min_size=1, max_size=1) | st.lists(CUTS, min_size=1, max_size=3))
    for cut in cuts:
        if cut.get("file") in SELECT:
            cut["select"] = SELECT[cut["file"]]
        if len(cuts) > 1 or draw(st.booleans()):
            cut.pop("side", None)
    plate = draw(PLATES)
    if cuts[0].get("side") == "outside":
        plate = {key: plate[key] for key in ("thickness", "material", "label", "wall") if key in plate}
        for key in ("x", "y", "repeat"):
            cuts[0].pop(key, None)
    names = draw(st.lists(st.sampled_from(sorted(TABLES)), max_size=3, unique=True))
    tree = {"title": "Likely", "units": draw(st.sampled_from(["mm", "mm", "mm", "in"]))}
    tree |= {"cut": cuts[0] if len(cuts) == 1 else cuts, "plate": plate, "tools": draw(TOOLS)}
    tree |= {name: draw(TABLES[name]) for name in names}
    scale = draw(SCALES) / (25 if tree["units"] == "in" else 1)
    return {name: _scaled(held, scale) if name in ("cut", "plate", "work") else held for name, held in tree.items()}
