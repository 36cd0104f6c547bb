"""Style sheets of a drawing: what they hide is not read, and what is not followed is a line."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigtemplates.errors import InputError
from jigtemplates.geometry.outline import Region
from jigtemplates.imports import svg_css, svg_style, svg_xml
from jigtemplates.imports.outline_file import outline_of

Svg = Callable[..., Region]
Faults = Callable[..., tuple[str, ...]]
Bytes = Callable[..., bytes]

#: A plate with a circle that a style may hide; where it is seen it is a hole.
PLATE = '<rect x="-20" y="-20" width="40" height="40"/>'
ONLY = (
    "is followed only for .class, #id and the names of elements (set it on the elements themselves, or save it as "
    "plain SVG)"
)
RELEASE = "is clipped or masked (release the clip, and draw the contour that is left)"
APPLY = "(apply the transform in your drawing program)"


def is_seen(svg: Svg, sheet: str, circle: str, head: str = "<style>") -> bool:
    return len(svg(f"{head}{sheet}</style>{PLATE}{circle}").holes) == 1


@pytest.mark.parametrize(
    ("sheet", "attributes", "seen"),
    [
        # what drawing programs write: a class each, lists, layers hidden
        (".st0{display:none;}\n\t.st1{fill:none;stroke:#000000;}", 'class="st0"', False),
        (".st0{display:none;}\n\t.st1{fill:none;stroke:#000000;}", 'class="st1"', True),
        (".cls-1,.cls-2{fill:none;}.cls-2,.cls-3{visibility:hidden}", 'class="cls-3"', False),
        (".cls-1,.cls-2{fill:none;}.cls-2,.cls-3{visibility:hidden}", 'class="cls-1"', True),
        ("#k { display : NONE }", 'id="k"', False),
        ("circle{visibility:collapse}", "", False),
        ("*{display:none} *{display:inline}", "", True),
        ("circle.a.b{display:none}", 'class="b c a"', False),
        ("circle.a.b{display:none}", 'class="a"', True),
        ("rect.a{display:none}", 'class="a"', True),
        ("#j,#k#k{display:none}", 'id="k"', False),
        ("#k#j{display:none}", 'id="k"', True),
        (".A{display:none}", 'class="a"', True),
        ("Circle{display:none}", "", True),
        # the later one wins, a class before a name, an id before a class
        (".a{display:none}.b{display:inline}", 'class="b a"', True),
        (".b{display:inline}.a{display:none}", 'class="b a"', False),
        (".a{display:none;display:block}", 'class="a"', True),
        (".a{display:none}circle{display:inline}", 'class="a"', False),
        ("#k{display:none}.a.a.a{display:inline}", 'class="a" id="k"', False),
        (".a.a{display:none}.a{display:inline}", 'class="a"', False),
        ("circle.a{display:none}.a{display:inline}*{display:inline}", 'class="a"', False),
        # attribute, sheet, own style; important ones before all others
        ("circle{display:inline}", 'display="none"', True),
        ("*{visibility:visible}", 'visibility="hidden"', True),
        ("#k{display:none}", 'id="k" style="display:inline"', True),
        ("#k{display:inline}", 'id="k" style="fill:red;display:none"', False),
        (".a{display:none!important}", 'class="a" style="display:inline"', False),
        (".a{display:none ! IMPORTANT}#k{display:inline}", 'class="a" id="k"', False),
        (".a{display:none!important}", 'class="a" style="display:inline !important"', True),
        ("", 'visibility="hidden" style="visibility:visible"', True),
        ("", 'style="visibility:hidden"', False),
        ("", 'display="None"', False),
        ("", 'display=""', True),
        # values that are as if nothing were said
        (".a{display:initial;visibility:inherit}", 'class="a"', True),
        (".a{visibility:initial}", 'class="a" visibility="hidden"', True),
        # what only looks like a rule
        ("/* .a{display:none} */ .b{fill:red}", 'class="a"', True),
        ("/* .a{display:none}", 'class="a"', True),
        (".a{/* */display/**/:/**/none/**/}", 'class="a"', False),
        (".a{disp/**/lay:none}", 'class="a"', True),
        ('.b{font-family:"}.a{display:none}"}.c{display:none}', 'class="a"', True),
        ("@font-face{font-family:f;src:url(data:a/b;c,.a{display:none})}.c{display:none}", 'class="a"', True),
        (".a{fill:f(;display:none)}.c{display:none}", 'class="a"', True),
        (".a{-x-display:none;displays:none;display none;//display:none}", 'class="a"', True),
        (".a:hover{display:none}circle:active,circle:focus{visibility:hidden}", 'class="a"', True),
        ('@charset "x";@layer b;.a{display:none}', 'class="a"', False),
        ("@font-face{font-family:f}@page{margin:0}@media print{.a{fill:red}}.a{display:none}", 'class="a"', False),
        ("<![CDATA[<!-- .a{display:none} -->]]>", 'class="a"', False),
        (".a{display:none", 'class="a"', False),
        ("g > .a, [x]{fill:red;stroke:none}.a:not(.b){opacity:0}", 'class="a"', True),
        (".b{font-family:'it\\'s'}.\\31 {fill:red}.a{display:none}", 'class="a"', False),
    ],
)
def test_what_a_sheet_hides(svg: Svg, sheet: str, attributes: str, seen: bool) -> None:
    """display and visibility follow the cascade (W3C): importance, style before sheet, specificity, place."""
    assert is_seen(svg, sheet, f'<circle r="9" {attributes}/>') == seen


@pytest.mark.parametrize(
    ("sheet", "body", "seen"),
    [
        (".a{display:none}.b{display:inline}", '<g class="a"><g class="b"><circle class="b" r="9"/></g></g>', False),
        (".a{visibility:hidden}", '<g class="a"><circle r="9"/></g>', False),
        (".a{visibility:hidden}.b{visibility:visible}", '<g class="a"><circle class="b" r="9"/></g>', True),
        (".a{visibility:hidden}.b{visibility:inherit}", '<g class="a"><circle class="b" r="9"/></g>', False),
        ("", '<g visibility="hidden"><g><circle visibility="visible" r="9"/></g></g>', True),
        (".a{display:none}", '<defs class="a"><circle id="c" r="9"/></defs><use href="#c"/>', True),
        (".a{display:none}", '<defs><circle class="a" id="c" r="9"/></defs><use href="#c"/>', False),
        (".a{visibility:hidden}", '<defs><circle id="c" r="9"/></defs><use class="a" href="#c"/>', False),
    ],
)
def test_what_is_in_a_hidden_group(svg: Svg, sheet: str, body: str, seen: bool) -> None:
    """display takes all in a group away; visibility is handed down, and may be taken back (SVG 1.1, section 11.5)."""
    assert is_seen(svg, sheet, body) == seen


@pytest.mark.parametrize(
    ("head", "seen"),
    [
        ("<defs><style type='text/css' media='ALL'>", False),
        ("<style media='screen' type=' Text/CSS '>", False),
        ("<h:style xmlns:h='http://www.w3.org/1999/xhtml'>", False),
        ("<h:style xmlns:h='urn:other'>", True),
        ("<style type='text/other'>", True),
    ],
)
def test_which_sheets_count(svg: Svg, head: str, seen: bool) -> None:
    """A sheet counts wherever it stands, one in another language or of another kind of file does not."""
    end = "</h:style>" if head.startswith("<h") else "</style>" + "</defs>" * head.startswith("<d")
    assert (len(svg(f'{PLATE}<circle class="a" r="9"/>{head}.a{{display:none}}{end}').holes) == 1) == seen


def test_several_sheets_are_one(svg: Svg) -> None:
    """The rules of a later sheet come after those of an earlier one."""
    hide, show = "<style>.a{display:none}</style>", "<style>.a{display:inline}</style>"
    circle = f'{PLATE}<circle class="a" r="9"/>'
    assert [len(svg(hide + show + circle).holes), len(svg(show + hide + circle).holes)] == [1, 0]


@pytest.mark.parametrize("how", ['style="display:none"', 'class="a"', 'visibility="hidden"'])
def test_a_hidden_drawing(faults: Faults, how: str) -> None:
    """A drawing that is hidden as a whole draws nothing."""
    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" {how}>'
    data = f'{page}<style>.a{{display:none}}</style><circle r="4"/></svg>'.encode()
    assert faults(data) == ("leaf.svg: draws no outline (draw it as a path, polyline or circle that is visible)",)


@pytest.mark.parametrize(
    ("sheet", "shown", "sets"),
    [
        ("g > .a{display:none}", "g > .a", "display"),
        ("\n\n.b{fill:red}\ng .a,\n.c{visibility:hidden}", "g .a, .c", "visibility"),
        ("[id=k]{display:none;visibility:hidden}", "[…]", "display, visibility"),
        (".a:not(.b){mask:url(#m)}", ".a:not(…)", "mask"),
        (".a:not(:hover){display:none}", ".a:not(…)", "display"),
        (".a:first-child{transform:scale(2)}", ".a:first-child", "transform"),
        ("s|circle{display:none}", "s|circle", "display"),
        (".\\61{display:none}", ".\\61", "display"),
        (".a,{display:none}", ".a,", "display"),
        ("{display:none}", "", "display"),
        (".a{fill:red};.b{display:none}", ";.b", "display"),
        (".a{fill:red}}.b{display:none}", "}.b", "display"),
        (".1{display:none}", ".1", "display"),
        ("@media print{.a{display:none}}", "@media print", "display"),
        ("@supports (x:y){.a{fill:red}.a{display:none}}", "@supports (…)", "display"),
        ("@keyframes k{from{transform:scale(2)}}", "@keyframes k", "transform"),
        (".a{fill:red;.b{display:none}}", ".a", "display"),
    ],
)
def test_a_rule_that_is_not_followed(faults: Faults, as_svg: Bytes, sheet: str, shown: str, sets: str) -> None:
    """A rule on display, visibility, clips or transforms that no simple selector bounds is refused, with its line."""
    line = 1 + sheet.count("\n", 0, sheet.find("g .a"))
    said = f'leaf.svg: line {line}: the style "{shown}" sets {sets}, which {ONLY}'
    assert faults(as_svg(f"<style>{sheet}</style>{PLATE}")) == (said,)


@pytest.mark.parametrize(
    ("head", "sheet", "line"),
    [
        ("<style>", "@namespace s url(x);", f'line 1: the style "@namespace s (…)" {ONLY}'),
        ("<style media='print'>", ".a{display:none}", f'line 1: the style "@media print" sets display, which {ONLY}'),
        (
            "\n<style>",
            "@import url(other.css);",
            "line 2: its style sheet refers to another file (save it as plain SVG, with nothing linked)",
        ),
        ("<style>", '.a{display:none;x:"}', "line 1: its style sheet cannot be read (save it as plain SVG)"),
        ("<style>", ".a(b{display:none}", "line 1: its style sheet cannot be read (save it as plain SVG)"),
        ("<style>", ".a[(]){display:none}", "line 1: its style sheet cannot be read (save it as plain SVG)"),
        (
            "<style>",
            ".a{disp\\6cay:none}",
            'line 1: has in its style sheet a property "disp\\6cay", which is not read (save it as plain SVG)',
        ),
    ],
)
def test_a_sheet_that_is_not_followed(faults: Faults, as_svg: Bytes, head: str, sheet: str, line: str) -> None:
    """Other media, other files, and what cannot be read where it may hide something: a line for the drawing."""
    assert faults(as_svg(f"{head}{sheet}</style>{PLATE}")) == (f"leaf.svg: {line}",)


@pytest.mark.parametrize("sheet", ['.a{fill:"}', ".a(b{fill:red}", "@media print{.a{fill:red}}", "@layer a;", "}{;"])
def test_a_sheet_that_hides_nothing_may_be_anything(svg: Svg, sheet: str) -> None:
    """What says nothing of what is looked at is passed over, broken or not."""
    assert is_seen(svg, sheet, '<circle class="a" r="9"/>')


@pytest.mark.parametrize(
    ("style", "line"),
    [
        ("display:var(--x)", 'has display set to "var(…)", which is not followed (save it as plain SVG)'),
        ("display:contents", 'has display set to "contents", which is not followed (save it as plain SVG)'),
        ("visibility:maybe", 'has visibility set to "maybe", which is not followed (save it as plain SVG)'),
        ("all:unset", 'has all set to "unset", which is not followed (save it as plain SVG)'),
        ("clip-path:url(#k)", RELEASE),
        ("mask:url(#k)", RELEASE),
        ("mask-image:none,url(#k)", RELEASE),
        ("transform:scale(2)", f"is transformed by its style {APPLY}"),
        ("rotate:9deg", f"is transformed by its style {APPLY}"),
        ("offset-path:path('M0 0')", f"is transformed by its style {APPLY}"),
        ("r:5px", "has its r set by a style (write it as an attribute, or save it as plain SVG)"),
    ],
)
def test_a_style_that_is_not_followed(svg: Svg, faults: Faults, as_svg: Bytes, style: str, line: str) -> None:
    """It is a fault of the shape, the same from a sheet and from its own style; another shape may be picked."""
    body = f'<circle r="9" id="c" class="a"/><g id="d">{PLATE}</g>'
    sheet = f"<style>.a{{{style}}}</style>{body}"
    own = body.replace('class="a"', f'style="{style}"')
    for drawing in (sheet, own):
        assert faults(as_svg(drawing)) == (f'leaf.svg: circle "c": {line}',)
        assert svg(drawing, select="d").area == pytest.approx(1600)


@pytest.mark.parametrize(
    ("attributes", "line"),
    [
        (
            'style="display:none;fill:(x"',
            'has a style that cannot be read, "display:none;fill:(x" (save it as plain SVG)',
        ),
        (
            'style="a{display:none}"',
            'has a style that cannot be read, "a{display:none}" (save it as plain SVG)',
        ),
        (
            'style="\\64isplay:none"',
            'has in its style a property "\\64isplay", which is not read (save it as plain SVG)',
        ),
        ('display="nothing"', 'has display set to "nothing", which is not followed (save it as plain SVG)'),
        ('transform="scale(2)" style="transform:none"', f"is transformed by its style {APPLY}"),
        (
            'transform="scale(2)" transform-origin="9 9"',
            f"is transformed about a place of its own, transform-origin or transform-box {APPLY}",
        ),
        (
            'transform="scale(2)" style="transform-box:fill-box"',
            f"is transformed about a place of its own, transform-origin or transform-box {APPLY}",
        ),
    ],
)
def test_an_attribute_that_is_not_followed(faults: Faults, as_svg: Bytes, attributes: str, line: str) -> None:
    """The same of what an element says itself."""
    assert faults(as_svg(f'{PLATE}<circle r="4" {attributes}/>')) == (f"leaf.svg: circle number 1: {line}",)


@pytest.mark.parametrize(
    "attributes",
    [
        'style="transform:none"',
        'transform="translate(3)" transform-origin="0 0" style="transform-box:view-box"',
        'transform-origin="center"',
        'clip-path="url(#k)" style="clip-path:none;mask:none"',
        'style="font-family:O\'Brien;fill:(("',
        'style="width:9px;d:none"',
    ],
)
def test_what_changes_nothing(svg: Svg, attributes: str) -> None:
    """Styles without effect on the contour are no fault."""
    assert is_seen(svg, "", f'<circle r="4" {attributes}/>')


@pytest.mark.parametrize(
    ("element", "name"),
    [
        ('<rect width="9" height="9" class="a"/>', "height"),
        ('<rect width="9" height="9" class="a"/>', "rx"),
        ('<ellipse rx="9" ry="9" class="a"/>', "cy"),
        ('<path d="M0 0H9V9Z" class="a"/>', "d"),
        ('<defs><circle id="k" r="9"/></defs><use href="#k" class="a"/>', "x"),
    ],
)
def test_measures_in_a_style(faults: Faults, as_svg: Bytes, element: str, name: str) -> None:
    """Geometry properties (SVG 2) in a sheet would make another shape of it, and are refused."""
    (line,) = faults(as_svg(f"<style>.a{{{name}:4px}}</style>{PLATE}{element}"))
    assert line.endswith(f"has its {name} set by a style (write it as an attribute, or save it as plain SVG)")


@pytest.mark.parametrize(("how", "name"), [('style="all:unset"', "svg"), ('id="r" style="all:unset"', 'svg "r"')])
def test_the_style_of_the_drawing_itself(faults: Faults, how: str, name: str) -> None:
    """What is not followed at the outermost element is a fault of the drawing."""
    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" {how}>'
    assert faults(f'{page}<circle r="4"/></svg>'.encode()) == (
        f'leaf.svg: {name}: has all set to "unset", which is not followed (save it as plain SVG)',
    )


def test_a_sheet_of_all_sizes_is_refused(faults: Faults, as_svg: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sheets beyond the limit are refused, whatever they say."""
    monkeypatch.setattr(svg_css, "LONGEST", 1_000_000)
    sheet = f"<style>{' ' * 600_000}</style>"
    assert faults(as_svg(f"{sheet}{sheet}{PLATE}")) == (
        "leaf.svg: has style sheets of more than 1 MB (keep only the outline in the drawing)",
    )


def test_many_rules_for_many_elements(faults: Faults, as_svg: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Rules that each element has to be compared with are counted, and one line ends it."""
    monkeypatch.setattr(svg_style, "MOST_COMPARED", 1000)
    sheet = "<style>" + ".a.b{display:none}" * 100 + "</style>"
    assert faults(as_svg(f"{sheet}{PLATE}" + '<circle class="a" r="4"/>' * 20)) == (
        "leaf.svg: has styles beyond measure (draw it simpler, or save it as plain SVG)",
    )
    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" class="a">{sheet * 11}</svg>'
    assert faults(page.encode()) == ("leaf.svg: has styles beyond measure (draw it simpler, or save it as plain SVG)",)


def test_copies_of_what_is_hidden(faults: Faults, as_svg: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Hidden elements that are copied again and again are counted as well."""
    monkeypatch.setattr("jigtemplates.imports.svg_file.MOST_ELEMENTS", 1000)
    hidden = '<circle display="none" r="4"/>' * 50
    assert faults(as_svg(f'<g id="g">{hidden}</g>' + '<use href="#g"/>' * 30)) == (
        "leaf.svg: copies more than 1000 elements (keep only the outline in the drawing)",
    )


@pytest.mark.parametrize(
    "text",
    ["(" * 200_000, "[(" * 100_000, "{" * 200_000, "}" * 200_000, "/*" * 200_000, '"' * 199_999, "'\n" * 70_000,
     "@a;" * 70_000, "url(" * 50_000, "a{b:c}" * 40_000, "&lt;!--" * 50_000, ";" * 200_000, "\\" * 200_000,
     ".a" * 100_000, "-" * 200_000, ".a," * 70_000 + ".a", "!" * 200_000, "a:" * 100_000],
)  # fmt: skip
def test_sheets_made_to_take_long(text: str, as_svg: Bytes) -> None:
    """Two hundred thousand characters of anything, before and in a rule, are read or refused in no time to speak of."""
    for sheet in (f"{text}{{display:none}}", f".a{{{text};display:none}}", f".a{{display:{text}}}"):
        try:
            region = outline_of(as_svg(f"<style>{sheet}</style>{PLATE}"), "leaf.svg")
        except InputError as error:
            assert len(error.lines) == 1  # noqa: PT017
            assert len(error.lines[0]) < 300  # noqa: PT017
        else:
            assert region.area == pytest.approx(1600)


WORDS = st.sampled_from([
    ".a", "#k", "circle", "*", ",", ">", ":hover", "[x]", "{", "}", "(", ")", ";", ":", "display", "visibility", "none",
    "hidden", "!important", "@media", "@import", "/*", "*/", '"', "'", "\\", "url(", "<!--", "-->", "\n", " ", "é", "-",
])  # fmt: skip


@given(st.lists(WORDS, max_size=40).map("".join), st.lists(WORDS, max_size=12).map("".join))
@settings(max_examples=150)
def test_any_sheet_is_read_or_refused(sheet: str, style: str) -> None:
    """Whatever stands in a sheet and a style: the plate, with or without its hole, or a line for each fault."""
    from xml.sax.saxutils import escape, quoteattr

    body = f"<style>{escape(sheet)}</style>{PLATE}<circle class='a' id='k' r='9' style={quoteattr(style)}/>"
    data = f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">{body}</svg>'.encode()
    try:
        assert outline_of(data, "leaf.svg").area in (pytest.approx(1600), pytest.approx(1600 - 81 * math.pi))
    except InputError as error:
        assert all(line.startswith("leaf.svg: ") and "\n" not in line for line in error.lines)  # noqa: PT017


def test_a_sheet_is_all_the_text_in_its_element() -> None:
    """Text is gathered in pieces, entities and CDATA with it; what stands in an element within does not count."""
    root, (sheet,) = svg_xml.read_xml(b"<svg>\n<style>a&gt;b<![CDATA[<c]]><d>e</d>f</style>g</svg>")
    assert (root.tag, sheet.line, sheet.text) == ("svg", 2, "a>b<cef")
