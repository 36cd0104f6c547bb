"""Every sentence about a drawing that is no outline."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.imports import contours, dxf_entities, outline_file
from jigtemplates.imports.outline_file import outline_of, read_outline

Faults = Callable[..., tuple[str, ...]]
Bytes = Callable[..., bytes]

ANEW = "(draw the path anew)"
UNREAD = f"which cannot be read {ANEW}"
SET = "(set the page's size in your drawing program)"
ASK = 'width and height lack a unit (write units = "mm" or units = "in")'


@pytest.mark.parametrize(
    ("body", "line"),
    [
        (
            '<path id="leaf" d="M0 0 H20 V10 H0 V3.2"/>',
            'path "leaf": is not closed (gap of 3.2 mm between (0, 0) and (0, 3.2); close it in your drawing program)',
        ),
        (
            '<path d="M0 0 L20 10 V0 L0 10 Z"/>',
            "path number 1: crosses or touches itself at (10, 5) (take the crossing out)",
        ),
        (
            '<path d="M0 0 H9 V9 H0 Z M20 0 h9"/>',
            "path number 1: is not closed (gap of 9 mm between (20, 0) and (29, 0); close it in your drawing program)",
        ),
        (
            '<circle r="4"/><circle id="b" r="4"/>',
            'circle "b": lies on circle number 1 at (0, 0) (delete one)',
        ),
        (
            '<rect id="a" width="9" height="9"/><rect id="b" x="5" y="3" width="9" height="3"/>',
            'rect "b": crosses or touches rect "a" at (9, 6) (unite them or part them)',
        ),
        (
            '<circle id="p" r="4"/><circle r="3" cx="20"/>',
            'holds 2 separate contours: circle "p" at (0, 0), circle number 1 at (20, 0) '
            '(write select = "p", or delete the others)',
        ),
        (
            '<circle r="4"/><circle r="3" cx="20"/>',
            "holds 2 separate contours: circle number 1 at (0, 0), circle number 2 at (20, 0) "
            "(give the wanted one an id, or delete the others)",
        ),
        (
            '<circle r="9"/><circle id="h" r="6"/><circle id="i" r="3"/>',
            'circle "i": lies within the hole circle "h" (an outline is one area; select its parts one by one)',
        ),
        ("", "draws no outline (draw it as a path, polyline or circle that is visible)"),
        ('<path d=""/>', "draws no outline (draw it as a path, polyline or circle that is visible)"),
        (
            '<circle r="0.4"/>',
            "circle number 1: is too small, 0.8 x 0.8 mm at (0, 0) (at least 1 mm; is the unit right?)",
        ),
        (
            '<rect width="20" height="10001"/>',
            "rect number 1: is too large, 20 x 10001 mm at (10, 5000.5) (at most 10 m; is the unit right?)",
        ),
        ('<circle r="4" cx="2e7"/>', "circle number 1: lies 20 km from the origin (move it there)"),
        (
            '<rect width="9" height="0.4"/>',
            "rect number 1: is too small, 9 x 0.4 mm at (4.5, 0.2) (at least 1 mm; is the unit right?)",
        ),
        (
            '<path d="M0 0 L9 9 L0 0.0001 Z"/>',
            "path number 1: encloses no area (draw round the cut)",
        ),
        ('<path d="0 0 L9 9"/>', f'path number 1: path data begins "0 0 L9 9", not with M and a place {ANEW}'),
        ('<path d="L9 9"/>', f'path number 1: path data begins "L9 9", not with M and a place {ANEW}'),
        ('<path d="M0 0 L9"/>', f'path number 1: path data has "L9", which cannot be read {ANEW}'),
        ('<path d="M0 0 L9 9 nan"/>', f'path number 1: path data has "L9 9 n", which cannot be read {ANEW}'),
        ('<path d="M0 0 L9 1e13"/>', f'path number 1: path data has "L9 1e13", which cannot be read {ANEW}'),
        ('<path d="M0 0 Z 9"/>', f'path number 1: path data has "Z 9", which cannot be read {ANEW}'),
        (
            '<path d="M0 0 A9 9 0 2 0 4 4"/>',
            f'path number 1: path data has "A9 9 0 2 0 4 4", which cannot be read {ANEW}',
        ),
        ('<path d="M0 0 A"/>', f'path number 1: path data has "A", which cannot be read {ANEW}'),
        ('<polygon points="0 0 9"/>', f'polygon number 1: path data has "M 0 0 9", which cannot be read {ANEW}'),
        ('<circle r="9em"/>', 'circle number 1: r is "9em", which is no length here (write a number)'),
        ('<circle r="x"/>', 'circle number 1: r is "x", which is no length here (write a number)'),
        ('<circle r="-9"/>', 'circle number 1: r is "-9", less than nothing (write a number of 0 or more)'),
        (
            '<circle r="9" transform="turn(3)"/>',
            'circle number 1: transform "turn(3)" cannot be read (apply the transform in your drawing program)',
        ),
        (
            '<circle r="9" transform="rotate(3 4)"/>',
            'circle number 1: transform "rotate(3 4)" cannot be read (apply the transform in your drawing program)',
        ),
        (
            '<circle r="9" style="transform: scale(2)"/>',
            "circle number 1: is transformed by its style (apply the transform in your drawing program)",
        ),
        (
            '<g id="c" clip-path="url(#k)"><circle r="9"/></g>',
            'g "c": is clipped or masked (release the clip, and draw the contour that is left)',
        ),
        (
            '<circle r="9" style="fill:red;mask:url(#k)"/>',
            "circle number 1: is clipped or masked (release the clip, and draw the contour that is left)",
        ),
        ('<svg><circle r="9"/></svg>', "svg number 1: is a drawing within the drawing (ungroup it)"),
        (
            '<use href="#k"/>',
            'use number 1: uses "#k", which is not in the file (unlink the copy in your drawing program)',
        ),
        (
            '<symbol id="k"/><use href="#k"/>',
            'use number 1: uses the symbol "#k" (unlink the copy in your drawing program)',
        ),
        (
            '<line x2="9"/><line y2="9"/><line x2="9" y2="9"/>',
            "the 3 pieces from line number 1 on: 3 ends meet at (0, 0), so it has no one way round "
            "(delete what is too much)",
        ),
        (
            '<line x2="9"/><path id="again" d="M9 0H0"/><path d="M0 0V9H9V0"/>',
            'path "again": lies on line number 1 at (4.5, 0) (delete one)',
        ),
    ],
)
def test_sentences_about_an_svg(faults: Faults, as_svg: Bytes, body: str, line: str) -> None:
    """One line says which shape, what is wrong, where, and what to do; y runs down as on the page."""
    assert faults(as_svg(body)) == (f"leaf.svg: {line}",)


@pytest.mark.parametrize(
    ("page", "unit", "line"),
    [
        ('width="100" height="100"', None, f"does not say how large it is: {ASK}"),
        ('viewBox="0 0 9 9"', None, f"does not say how large it is: {ASK}"),
        ('width="100%" height="100%"', None, f"does not say how large it is: {ASK}"),
        ('width="100mm" viewBox="0 0 9 9"', None, f"does not say how large it is: {ASK}"),
        ('width="10em" height="9em"', None, f"does not say how large it is: {ASK}"),
        (
            'width="100mm" height="9cm"',
            "mm",
            'says itself how large it is, "100mm x 9cm" (leave units out, or use scale)',
        ),
        (
            'width="wide" height="9"',
            None,
            'width is "wide", which is no size (set the page\'s size in your drawing program)',
        ),
        (
            'width="9mm" height="0mm"',
            None,
            'height is "0mm", which is no size (set the page\'s size in your drawing program)',
        ),
        (
            'width="9mm" height="9mm" viewBox="0 0 9"',
            None,
            'viewBox is "0 0 9", which is no box (set the page\'s size in your drawing program)',
        ),
        (
            'width="9mm" height="9mm" viewBox="0 0 0 9"',
            None,
            'viewBox is "0 0 0 9", which is no box (set the page\'s size in your drawing program)',
        ),
        (
            'width="9mm" height="9mm" transform="x"',
            None,
            'transform "x" cannot be read (apply the transform in your drawing program)',
        ),
    ],
)
def test_sentences_about_a_page(faults: Faults, as_svg: Bytes, page: str, unit: str | None, line: str) -> None:
    """A page without a size is asked for its unit; one that has one is not overruled."""
    assert faults(as_svg('<circle r="4"/>', page), unit=unit) == (f"leaf.svg: {line}",)


def flat(space: Any, **how: Any) -> Any:
    """A circle on layer 0 of the model space."""
    return space.add_circle((0, 0), 5, dxfattribs=how)


@pytest.mark.parametrize(
    ("draw", "line"),
    [
        (lambda s: s.add_line((0, 0, 0), (9, 0, 1)), "LINE 2F: does not lie in the drawing's plane (draw it flat)"),
        (lambda s: flat(s, extrusion=(1, 0, 0)), "CIRCLE 2F: does not lie in the drawing's plane (draw it flat)"),
        (
            lambda s: s.add_lwpolyline([(0, 0), (9, 0), (9, 9)], dxfattribs={"extrusion": (0, 1, 1)}),
            "LWPOLYLINE 2F: does not lie in the drawing's plane (draw it flat)",
        ),
        (
            lambda s: s.add_polyline3d([(0, 0, 0), (9, 0, 4), (9, 9, 0)]),
            "POLYLINE 2F: does not lie in the drawing's plane (draw it flat)",
        ),
        (
            lambda s: s.add_ellipse((0, 0), (9, 0, 4), 0.5),
            "ELLIPSE 2F: does not lie in the drawing's plane (draw it flat)",
        ),
        (
            lambda s: s.add_open_spline([(0, 0, 0), (9, 0, 4), (9, 9, 0), (0, 0, 0)]),
            "SPLINE 2F: does not lie in the drawing's plane (draw it flat)",
        ),
        (
            lambda s: s.add_polymesh((3, 3)),
            "POLYLINE 2F: is a mesh, not an outline (draw its contour as a polyline)",
        ),
        (
            lambda s: s.add_spline([(0, 0), (9, 9), (18, 0), (0, 0)]),
            "SPLINE 2F: has no control points, only places to pass through (explode it into arcs or a polyline)",
        ),
        (
            lambda s: s.add_3dface([(0, 0), (9, 0), (9, 9), (0, 9)]),
            "3DFACE 2F: is a 3DFACE, which is not read (explode it into lines, arcs or a polyline)",
        ),
        (lambda s: s.add_line((0, 0), (9, float("nan"))), "LINE 2F: has a number that is none (draw it anew)"),
    ],
)
def test_sentences_about_entities(faults: Faults, as_dxf: Bytes, draw: Any, line: str) -> None:
    """One line says which entity on which layer, what is wrong and what to do."""
    handle, rest = line.split(": ", 1)
    assert faults(as_dxf(draw), "b.dxf") == (f'b.dxf: {handle} on layer "0": {rest}',)


def test_damaged_entities(faults: Faults, as_dxf: Bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever ezdxf meets in an entity or a block, it is one line."""

    def broken(*_: Any) -> Any:
        raise AttributeError("no such thing")

    def put_in(space: Any) -> None:
        flat(space.doc.blocks.new("B"))
        space.add_blockref("B", (0, 0))

    monkeypatch.setitem(dxf_entities.READERS, "CIRCLE", broken)
    assert faults(as_dxf(flat), "b.dxf") == ('b.dxf: CIRCLE 2F on layer "0": is damaged (draw it anew)',)
    monkeypatch.setattr("ezdxf.entities.Insert.virtual_entities", broken)
    assert faults(as_dxf(put_in), "b.dxf") == ('b.dxf: block "B" cannot be taken apart (explode it)',)


def test_sentences_about_units(faults: Faults, as_dxf: Bytes) -> None:
    """A DXF without a unit is asked for it, one with an odd unit refused, one with a unit not overruled."""
    ask = 'b.dxf: does not say its unit (write units = "mm" or units = "in")'
    assert faults(as_dxf(flat, units=0), "b.dxf") == (ask,)
    odd = "b.dxf: has a unit that no workshop uses, $INSUNITS 3 (set mm or inches in your drawing program)"
    assert faults(as_dxf(flat, units=3), "b.dxf") == (odd,)
    said = "b.dxf: says itself that it is in inches (leave units out, or set the unit in your drawing program)"
    assert faults(as_dxf(flat, units=1), "b.dxf", unit="mm") == (said,)


def test_all_faults_at_once(faults: Faults, as_svg: Bytes) -> None:
    """Two shapes with faults are two lines, in the file's order."""
    found = faults(as_svg('<path id="a" d="M0 0 H9"/><circle id="b" r="0.1"/>'))
    assert [line.split(":")[1] for line in found] == [' path "a"', ' circle "b"']


def test_only_what_is_selected_can_be_at_fault(as_svg: Bytes) -> None:
    """An open line elsewhere in the drawing does not matter for the contour that is meant."""
    body = '<path d="M0 30 H9"/><g id="g"><circle id="b" r="5"/></g><circle r="3" style="mask:url(#k)"/>'
    assert outline_of(as_svg(body), "a.svg", select="b").bounds.width == pytest.approx(10)
    assert outline_of(as_svg(body), "a.svg", select="g").bounds.width == pytest.approx(10)


def test_an_unknown_name_lists_what_there_is(faults: Faults, as_svg: Bytes) -> None:
    """A name that is not there is compared with those that are."""
    data = as_svg('<g id="tray"><circle id="leaf" r="5"/></g>')
    assert faults(data, select="lef") == ('leaf.svg: nothing in it is called "lef" (did you mean "leaf"?)',)
    assert faults(data, select="xyz") == ('leaf.svg: nothing in it is called "xyz" (known: "tray", "leaf")',)


def test_many_contours_are_not_all_named(faults: Faults, as_svg: Bytes) -> None:
    """Of twenty contours eight are named."""
    body = "".join(f'<circle id="c{i}" r="3" cx="{10 * i}"/>' for i in range(20))
    (line,) = faults(as_svg(body))
    assert line.startswith('leaf.svg: holds 20 separate contours: circle "c0" at (0, 0), ')
    assert line.count("circle") == 8
    assert line.endswith(', … (write select = "c0", or delete the others)')


def test_too_many_contours_are_refused_early(faults: Faults, as_svg: Bytes) -> None:
    """More contours than a cut could have are counted, not compared."""
    body = "".join(f'<circle r="3" cx="{10 * i}"/>' for i in range(contours.MOST + 1))
    assert faults(as_svg(body)) == ("leaf.svg: holds 501 contours (at most 500; select the ones that are meant)",)


@pytest.mark.parametrize("scale", [0, -1, 1e-4, 2000, float("nan")])
def test_a_scale_has_limits(faults: Faults, as_svg: Bytes, scale: float) -> None:
    """A factor beyond a thousand either way is a mistake."""
    line = f"leaf.svg: scale {scale:g} is not from 0.001 to 1000 (set the drawing's unit)"
    assert faults(as_svg('<circle r="4"/>'), scale=scale) == (line,)


def test_sizes_count_after_scale(faults: Faults, as_svg: Bytes) -> None:
    """A circle of 0.8 mm is large enough ten times as large, one of 8 mm too small a tenth as large."""
    assert outline_of(as_svg('<circle r="0.4"/>'), "a.svg", scale=10).bounds.width == pytest.approx(8)
    (line,) = faults(as_svg('<circle r="4"/>'), scale=0.1)
    assert "is too small, 0.8 x 0.8 mm" in line


def test_files_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No file, a folder, an empty file, another kind, one too large: a line each, without any folder's name."""

    def line(path: Path) -> str:
        with pytest.raises(InputError) as caught:
            read_outline(path)
        (found,) = caught.value.lines
        return found

    assert line(tmp_path / "a.svg") == "a.svg: there is no such file beside the job"
    folder = "this is not an ordinary file (give the name of a DXF or SVG drawing)"
    assert line(tmp_path) == f"{tmp_path.name}: {folder}"
    (tmp_path / "e.dxf").write_bytes(b" \n")
    assert line(tmp_path / "e.dxf") == "e.dxf: the file is empty"
    (tmp_path / "p.pdf").write_bytes(b"%PDF")
    assert line(tmp_path / "p.pdf") == "p.pdf: is neither .dxf nor .svg by its name (save the drawing as one of them)"
    monkeypatch.setattr(outline_file, "LARGEST_BYTES", 3_000_000)
    (tmp_path / "l.svg").write_bytes(b" " * 3_000_001)
    assert line(tmp_path / "l.svg") == "l.svg: is larger than 3 MB (keep only the outline in the drawing)"
    assert line(tmp_path / "n\0.svg") == "n\\x00.svg: cannot be read (the name is not valid)"


def test_a_file_is_read_by_its_path(tmp_path: Path, as_svg: Bytes) -> None:
    """The ending, in capitals too, says what a file is."""
    (tmp_path / "A.SVG").write_bytes(as_svg('<circle r="4"/>'))
    assert read_outline(tmp_path / "A.SVG").bounds.width == pytest.approx(8)
