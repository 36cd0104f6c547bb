"""What its styles make of an element of an SVG drawing: whether it is seen, and whether they change its contour.

In the order of CSS (Cascading and Inheritance Level 3, section 6): an attribute such as display="none", then the rules
of the style sheets by specificity and place, then the element's own style; !important goes before all that is not.
display takes an element away with all in it; visibility is handed down, and what is in a hidden group may be visible.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from jigtemplates.errors import quoted
from jigtemplates.imports.svg_css import ABOUT, CLIPPING, MEASURES, MOVING, Rule, Sheet, as_written, declared, rules_of
from jigtemplates.imports.svg_xml import Element
from jigtemplates.imports.trouble import TooMuchError, refuse

#: Most comparisons of an element with a rule (chosen: done in a second or two; a drawing has a rule for each class).
MOST_COMPARED = 2_000_000

#: What display may be, but for none (SVG 1.1, "painting", and Display Level 3); an element of a drawing is shown with
#: each of them.
_SHOWN = frozenset((
    "inline", "block", "list-item", "run-in", "compact", "marker", "table", "inline-table", "table-row-group",
    "table-header-group", "table-footer-group", "table-row", "table-column-group", "table-column", "table-cell",
    "table-caption", "inline-block", "flex", "inline-flex", "grid", "inline-grid", "flow", "flow-root", "inherit",
    "initial", "unset", "revert",
))  # fmt: skip
_VISIBLE = {"visible": True, "initial": True, "hidden": False, "collapse": False}
_AS_AROUND = ("inherit", "unset", "revert")
_NONE = ("none", "initial", "unset")
_ORIGINS = ("0", "0 0", "0px", "0px 0px", "initial", "unset")
#: The properties that are attributes as well (SVG 1.1, appendix "Property index", and SVG 2).
_ATTRIBUTES = ("display", "visibility", "clip-path", "mask", "transform-origin")

_RELEASE = "is clipped or masked (release the clip, and draw the contour that is left)"
_APPLY = "(apply the transform in your drawing program)"

# Importance, then sheet or own style, then specificity, then the place.
_Rank = tuple[bool, bool, tuple[int, int, int], int]


@dataclass(frozen=True, slots=True)
class Look:
    """What is seen of an element."""

    #: False where neither it nor anything in it is
    shown: bool
    #: None where it is as visible as what it is in
    visible: bool | None
    #: the properties that are set, by a style or an attribute
    values: dict[str, str]
    #: of those, the ones that a style sets
    styled: frozenset[str]


@dataclass
class Styles:
    """The style sheets of a drawing, by what their rules ask for first."""

    #: each with its number
    rules: dict[str, list[tuple[int, Rule]]] = field(default_factory=lambda: defaultdict(list))
    compared: int = 0

    @classmethod
    def of(cls, sheets: tuple[Sheet, ...]) -> "Styles":
        """Those of the sheets; OutlineError where one of them cannot be followed."""
        styles = cls()
        for number, rule in enumerate(rules_of(sheets)):
            styles.rules[_first(rule)].append((number, rule))
        return styles

    def look(self, element: Element) -> Look:
        """What is seen of an element; OutlineError where a style says what is not known."""
        values, styled = self._values(element)
        if not values:
            return _PLAIN
        display, visibility = (values.get(name, "inherit").lower() for name in ("display", "visibility"))
        if display != "none" and not _SHOWN.issuperset(display.split()):
            _refuse_value("display", display)
        if visibility not in _VISIBLE and visibility not in _AS_AROUND:
            _refuse_value("visibility", visibility)
        return Look(display != "none", _VISIBLE.get(visibility), values, styled)

    def _values(self, element: Element) -> tuple[dict[str, str], frozenset[str]]:
        attributes = element.attributes
        values = {name: attributes[name].strip() for name in _ATTRIBUTES if name in attributes}
        values = {name: value for name, value in values.items() if value}
        ranks: dict[str, _Rank] = {}
        for rank, name, value in self._declared(element):
            if name not in ranks or rank >= ranks[name]:
                ranks[name], values[name] = rank, value
        return values, frozenset(ranks)

    def _declared(self, element: Element) -> Iterator[tuple[_Rank, str, str]]:
        """What sheets and its own style set of an element; of the same rank the later one counts."""
        for number, rule in self._matching(element):
            for one in rule.declarations:
                yield (one.important, False, rule.selector.specificity, number), one.name, one.value
        for one in _own(element.attributes.get("style", "")):
            yield (one.important, True, (0, 0, 0), 0), one.name, one.value

    def _matching(self, element: Element) -> Iterator[tuple[int, Rule]]:
        """The rules that concern an element, with their numbers."""
        if not self.rules:
            return
        classes = element.attributes.get("class", "").split()
        keys = dict.fromkeys((f"#{element.ident}", *(f".{name}" for name in classes), element.tag, "*"))
        held = set(classes)
        for key in keys:
            for number, rule in self.rules.get(key, ()):
                self.compared += 1
                if self.compared > MOST_COMPARED:
                    raise TooMuchError("has styles beyond measure (draw it simpler, or save it as plain SVG)")
                wanted = rule.selector
                if (
                    wanted.tag in (None, element.tag)
                    and all(name == element.ident for name in wanted.idents)
                    and held.issuperset(wanted.classes)
                ):
                    yield number, rule


_PLAIN = Look(True, None, {}, frozenset())

_own = lru_cache(maxsize=64)(declared)


def _first(rule: Rule) -> str:
    """What a rule is kept under: an id, a class, a name, or * for every element."""
    tag, idents, classes = rule.selector
    return f"#{idents[0]}" if idents else f".{classes[0]}" if classes else tag or "*"


def refuse_unfollowed(element: Element, look: Look) -> None:
    """OutlineError where a style or an attribute changes an element's contour in a way that is not followed."""
    values, styled = look.values, look.styled
    if "all" in styled:
        _refuse_value("all", values["all"])
    moved = element.attributes.get("transform", "").strip() not in ("", "none")
    for name in MOVING:
        if name in styled and (values[name].lower() not in _NONE or (moved and name == "transform")):
            refuse(f"is transformed by its style {_APPLY}")
    if moved and any(values.get(name, "0").lower() not in (*_ORIGINS, "view-box") for name in ABOUT):
        refuse(f"is transformed about a place of its own, transform-origin or transform-box {_APPLY}")
    if any(values.get(name, "none").lower() not in _NONE for name in CLIPPING):
        refuse(_RELEASE)
    for name in MEASURES.get(element.tag, ()):
        if name in styled:
            refuse(f"has its {name} set by a style (write it as an attribute, or save it as plain SVG)")


def _refuse_value(name: str, value: str) -> None:
    refuse(f"has {name} set to {quoted(as_written(value))}, which is not followed (save it as plain SVG)")
