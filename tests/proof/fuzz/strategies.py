"""Almost valid jobs, tools files and drawings: right ones of the samples, broken in a few places.

Which keys there are is read from the JSON schema, so that a new key is tried without a change here.
"""

import copy
import json
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

ROOT = Path(__file__).parents[3]
SAMPLES = ROOT / "samples"
SCHEMA: dict[str, Any] = json.loads((ROOT / "jigtemplates/parameters/job.schema.json").read_text(encoding="utf-8"))

#: The samples as they are read; their drawings and profiles must stand beside a job.
JOBS = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(SAMPLES.glob("*.toml"))}
#: Tools files: the samples' own, and every kind of entry that is shipped.
TOOLS = [tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(ROOT.glob("*/profiles/*.toml"))]
TOOLS += [tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(ROOT.glob("profiles/*.toml"))]

#: Text that a careless or ill-willed person might put where a name, a length or a path belongs.
HOSTILE_TEXT = (
    "", " ", "..", "../../x", "/etc/passwd", "C:\\x", "CON", "nul.svg", "~", "$(id)", "%s{0}", "a\nb", "\x1b[31m", "\0",
    "\u202eabc", "日本", "é" * 50, "x" * 5000, "9" * 39, "-1 mm", "0 mm", "1e400", "nan", "inf", "12,7 mm", "1/0 in",
    "1-3/2 in", "½", "1000000 in", "0.0000001 mm", "<b>&amp;", "\ud7ff", "\ufeff", "leaf.svg", "no.dxf", "\U0001f600",
    "1979-05-27", "2026-02-30", "9999-12-31", "0001-01-01",
)  # fmt: skip
#: And what is right somewhere.
WORDS = (
    "1/4 in", "3/8 in", "1/2 in", "5/8 in", "8 mm", "12 mm", "17 mm", "30 mm", "0.1 mm", "mm", "in", "mdf", "plywood",
    "M5", "#8", "1/4 in", "corners", "edges", "ring", "points", "laser", "cnc", "paper", "print", "a4", "letter",
    "inside", "outside", "left", "right", "countersunk", "tapped", "R12", "R2000", "facets", "pieces", "stl", "3mf",
    "sunk", "raised", "none", "bench-frame-140", "quay-frame-160", "generic mid-size plunge", "2026-11-25",
)  # fmt: skip

HUGE = st.sampled_from([10**15, 10**40, 10**400, 2**63, -(2**63) - 1, 1e308, -1e308, 5e-324, 1e-300])
NO_NUMBER = st.sampled_from([float("nan"), float("inf"), float("-inf"), -0.0, 0])
#: Sizes over twelve decades, as a person or a program writes them.
SIZES = st.tuples(st.floats(1, 9.999), st.integers(-6, 6)).map(lambda n: float(f"{n[0]:.4g}e{n[1]}"))
LIKELY_SIZES = st.integers(0, 400) | st.floats(0, 60).map(lambda n: round(n, 3))
NUMBERS = LIKELY_SIZES | SIZES | st.integers(-10, 400) | NO_NUMBER | HUGE | st.floats()
TEXTS = st.sampled_from(WORDS) | st.sampled_from(HOSTILE_TEXT) | st.text(st.characters(codec="utf-8"), max_size=12)
LENGTH_TEXTS = st.tuples(SIZES | LIKELY_SIZES, st.sampled_from(["mm", "in", '"', "", "cm"])).map(
    lambda n: f"{n[0]} {n[1]}".strip()
)
SCALARS = NUMBERS | TEXTS | LENGTH_TEXTS | st.booleans()


def _names(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        yield from node.get("properties", {})
        for held in node.values():
            yield from _names(held)
    elif isinstance(node, list):
        for held in node:
            yield from _names(held)


#: Every key that may stand anywhere in a job.
KEYS = tuple(sorted(set(_names(SCHEMA))))
KEY_NAMES = st.sampled_from(KEYS) | TEXTS
VALUES = st.recursive(
    SCALARS,
    lambda held: st.lists(held, max_size=4) | st.dictionaries(st.sampled_from(KEYS), held, max_size=4),
    max_leaves=6,
)


def _resolved(node: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        node = SCHEMA["$defs"][node["$ref"].rpartition("/")[2]]
    return node


def right_for(node: dict[str, Any], depth: int = 0) -> st.SearchStrategy[Any]:
    """Values that the schema allows for a key, of sizes that mostly make sense."""
    node = _resolved(node)
    for key in ("anyOf", "oneOf"):
        if key in node and node.get("properties") is None:
            return st.one_of([right_for(one, depth) for one in node[key]])
    if "enum" in node or "const" in node:
        return st.sampled_from(node.get("enum") or [node["const"]])
    kind = node.get("type")
    if kind == "object" and "properties" in node and depth < 4:
        return _right_table(node, depth)
    if kind == "array":
        each = right_for(node["items"], depth + 1) if node.get("items") else SCALARS
        return st.lists(each, min_size=min(node.get("minItems", 0), 2), max_size=4)
    simple = {"number": LIKELY_SIZES | SIZES, "integer": st.integers(0, 40), "boolean": st.booleans()}
    return simple.get(str(kind), st.sampled_from(WORDS) | LENGTH_TEXTS)


def _right_table(node: dict[str, Any], depth: int) -> st.SearchStrategy[dict[str, Any]]:
    held = {key: right_for(one, depth + 1) for key, one in node["properties"].items()}
    required = {key: held.pop(key) for key in node.get("required", ()) if key in held}
    return st.fixed_dictionaries(required, optional=held)


_TABLES = {
    name: right_for(SCHEMA["properties"][name]) for name in ("work", "tenon", "inlay", "fit", "make", "plate", "tools")
}
_TABLES["cuts"] = st.dictionaries(
    st.sampled_from(["a", "b", "CON", "x-1"]), right_for(SCHEMA["$defs"]["Member"]), min_size=1, max_size=3
)
_REPEAT = right_for(SCHEMA["$defs"]["RepeatTable"])
_SHAPES = [name for name, node in SCHEMA["$defs"].items() if "shape" in node.get("required", ())]
_CUTS = st.one_of([right_for(SCHEMA["$defs"][name]) for name in _SHAPES])


def places(node: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value of tables and lists within each other."""
    pairs = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, held in pairs:
        yield (*at, key)
        yield from places(held, (*at, key))


def held_by(tree: Any, place: tuple[Any, ...]) -> Any:
    """What stands at a place."""
    for key in place:
        tree = tree[key]
    return tree


Mutation = Callable[[st.DrawFn, Any, tuple[Any, ...]], None]


def _replace(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    held_by(tree, place[:-1])[place[-1]] = draw(VALUES)


def _resize(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    held = held_by(tree, place[:-1])
    if isinstance(held[place[-1]], int | float) and not isinstance(held[place[-1]], bool):
        held[place[-1]] = draw(st.sampled_from([-1, 0, 0.5, 0.9, 0.99, 1.01, 2, 3, 1e-3, 1e3])) * held[place[-1]]
    else:
        held[place[-1]] = draw(NUMBERS)


def _likely(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    held_by(tree, place[:-1])[place[-1]] = draw(LIKELY_SIZES | st.sampled_from(WORDS))


def _delete(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    del held_by(tree, place[:-1])[place[-1]]


def _rename(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    held = held_by(tree, place[:-1])
    if isinstance(held, dict):
        held[draw(KEY_NAMES)] = held.pop(place[-1])


def _wrap(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    held = held_by(tree, place[:-1])
    held[place[-1]] = draw(
        st.sampled_from([lambda v: [v], lambda v: [v, v], lambda v: {"a": v}, lambda v: [[v]] * 30])
    )(held[place[-1]])


def _exchange(draw: st.DrawFn, tree: Any, place: tuple[Any, ...]) -> None:
    other = draw(st.sampled_from(list(places(tree))))
    held_by(tree, place[:-1])[place[-1]] = copy.deepcopy(held_by(tree, other))


MUTATIONS: tuple[Mutation, ...] = (_replace, _resize, _resize, _likely, _likely, _delete, _rename, _wrap, _exchange)


@st.composite
def broken(draw: st.DrawFn, trees: list[dict[str, Any]], least: int = 0, most: int = 4) -> dict[str, Any]:
    """One of the trees, changed in a few places."""
    tree = copy.deepcopy(draw(st.sampled_from(trees)))
    for _ in range(draw(st.integers(least, most))):
        there = list(places(tree))
        if there:
            draw(st.sampled_from(MUTATIONS))(draw, tree, draw(st.sampled_from(there)))
    return tree


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """A sample with tables that the schema allows put in, and a few places broken."""
    tree = copy.deepcopy(draw(st.sampled_from(list(JOBS.values()))))
    for name in draw(st.lists(st.sampled_from(sorted(_TABLES)), max_size=2, unique=True)):
        made, held = draw(_TABLES[name]), tree.get(name)
        tree[name] = {**held, **made} if isinstance(held, dict) and draw(st.booleans()) else made
    wish = draw(st.sampled_from(["as it is", "as it is", "repeat", "several", "outside", "mirrored", "cut", "pair"]))
    _wished(draw, tree, wish)
    return draw(broken([tree], 0, 3))


def _wished(draw: st.DrawFn, tree: dict[str, Any], wish: str) -> None:
    cut = tree["cut"]
    first = cut[0] if isinstance(cut, list) else cut
    if wish == "repeat":
        first["repeat"] = draw(_REPEAT)
    elif wish == "several":
        tree["cut"] = [first, *draw(st.lists(_CUTS, min_size=1, max_size=3))]
    elif wish == "outside":
        first["side"] = "outside"
    elif wish == "mirrored":
        first["mirrored"] = True
    elif wish == "cut":
        tree["cut"] = draw(_CUTS)
    elif wish == "pair":
        tree.setdefault("make", {})["pair"] = draw(st.sampled_from(["left", "right"]))


def toml(value: Any) -> str:
    """A made-up value as TOML; what TOML has no word for is written as it comes."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {toml(held)}" for key, held in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, str):
        return _key(value)
    return hex(value) if isinstance(value, int) and abs(value) > 10**300 else repr(value) if value is not None else ""


def _key(text: str) -> str:
    shown = "".join(c if c.isalnum() or c in " ./-_#()," else f"\\U{ord(c):08x}" for c in text)
    return f'"{shown}"'


def as_text(tree: dict[str, Any]) -> str:
    """A tree as a TOML file: single values first, then a table, or an array of tables, for each other key."""
    lines = [f"{_key(k)} = {toml(v)}" for k, v in tree.items() if not _is_tables(v)]
    for name, held in tree.items():
        if _is_tables(held):
            head = f"[{_key(name)}]" if isinstance(held, dict) else f"[[{_key(name)}]]"
            for one in [held] if isinstance(held, dict) else held:
                lines += [head, *(f"{_key(k)} = {toml(v)}" for k, v in one.items())]
    return "\n".join(lines) + "\n"


def _is_tables(value: Any) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
    )


@st.composite
def damaged(draw: st.DrawFn, sources: list[bytes], most: int = 4) -> bytes:
    """Bytes lost, doubled, exchanged, or replaced by a number or word that means much there."""
    data = bytearray(draw(st.sampled_from(sources)))
    for _ in range(draw(st.integers(1, most))):
        at = draw(st.integers(0, max(0, len(data) - 1)))
        end = at + draw(st.sampled_from([0, 1, 1, 2, 5, 20, 200]))
        other = draw(st.integers(0, max(0, len(data) - 1)))
        data[at:end] = draw(
            st.sampled_from([b"", bytes(data[other : other + 30]), b"\n", b"<", b">", b'"', b"0", b"-", b"e9", b"\xff"])
            | st.sampled_from([b"1e308", b"nan", b"inf", b"-1e-320", b"99999999999999999999", b"\x00", b"&a;", b"1e9"])
            | st.binary(max_size=4)
        )
    return bytes(data)
