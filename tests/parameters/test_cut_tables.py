"""The keys of each shape: what they become, and the line for each fault."""

# ruff: noqa: E501 - a line that people see is kept whole, so that it can be searched for

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.forms import ArcSlot, Butterfly, HandHold, Hinge, Polygon, Uneven
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles
from jigtemplates.wanted import cut_outline

JobWith = Callable[..., Job]

#: A cut of each shape that has keys of its own.
CUTS: Mapping[str, dict[str, Any]] = {
    "rectangle": {"width": 40, "length": 60, "corner_radii": [0, 5, 10, 3], "depth": 5},
    "ellipse": {"width": 30, "length": 60, "depth": 5},
    "polygon": {"sides": 6, "across": 30, "corner_radius": 5, "depth": 5},
    "butterfly": {"width": 30, "length": 80, "waist": 16, "corner_radius": 5, "depth": 5},
    "hand-hold": {"width": 30, "length": 100, "rise": 8, "depth": 5},
    "arc-slot": {"radius": 60, "span": 90, "width": 10, "depth": 5},
    "hinge": {"width": 25, "length": 89, "corner_radius": 6, "depth": 2.5},
}


def line_for(shape: str, **changed: Any) -> str:
    """The one line that is said of a cut with some of its keys changed, without the file and line before it."""
    keys = {"shape": shape, **CUTS[shape], **changed}
    cut = "\n".join(f"{key} = {value!r}".replace("'", '"') for key, value in keys.items() if value is not None)
    text = f'title = "t"\nunits = "mm"\n[cut]\n{cut}\n[tools]\nbit = "6 mm"\nbushing = "12 mm"\n[plate]\nwidth = 200\nheight = 200\nthickness = 6\n'
    with pytest.raises(InputError) as raised:
        job_from_text(text, profiles=Profiles())
    (line,) = raised.value.lines
    return line.partition(" ")[2]


@pytest.mark.parametrize(
    ("shape", "sizes", "form"),
    [
        ("ellipse", (30, 60, 7.5), type(None)),
        ("rectangle", (40, 60, 0), Uneven),
        ("polygon", (30, 30, 5), Polygon),
        ("butterfly", (30, 80, 5), Butterfly),
        ("hand-hold", (30, 100, 15), HandHold),
        ("arc-slot", (10, 104.24778, 5), ArcSlot),  # 60 pi / 2 + 10 along the centre line
        ("hinge", (25, 89, 6), Hinge),
    ],
)
def test_what_a_table_becomes(job_with: JobWith, shape: str, sizes: tuple[float, float, float], form: type) -> None:
    """Width, length and tightest corner of each shape, and the form that holds the rest."""
    cut = job_with(cut={"shape": shape, **CUTS[shape]}).cut
    assert (cut.width, cut.length, cut.corner_radius) == pytest.approx(sizes)
    assert isinstance(cut.form, form)


def test_what_a_form_keeps(job_with: JobWith) -> None:
    """Lengths keep what was written, counts and degrees are plain numbers."""
    forms = [job_with(cut={"shape": shape, **CUTS[shape]}).cut.form for shape in CUTS]
    uneven, _, polygon, key, grip, arc, _ = forms
    assert isinstance(uneven, Uneven)
    assert [r.text for r in uneven.corner_radii] == ["0 mm", "5 mm", "10 mm", "3 mm"]
    assert polygon == Polygon(6)
    assert isinstance(key, Butterfly)
    assert key.waist.mm == 16
    assert isinstance(grip, HandHold)
    assert grip.rise.text == "8 mm"
    assert isinstance(arc, ArcSlot)
    assert (arc.radius.mm, arc.span) == (60, 90)


@pytest.mark.parametrize(
    ("width", "bit", "overrun"),
    [
        (25, "9.525 mm", 7.7625),  # half the bit and 3 mm
        (25, "12.7 mm", 9.35),
        (4, "12.7 mm", 11.7),  # a bit wider than the gain is deep in still goes in: 12.7 - 4 + 3
    ],
)
def test_a_hinge_gain_goes_past_the_edge(job_with: JobWith, width: float, bit: str, overrun: float) -> None:
    """Half the bit and 3 mm, or as much as the bit needs to go in at all."""
    cut = job_with(
        cut={"shape": "hinge", "width": width, "length": 80, "depth": 2}, tools={"bit": bit, "bushing": 30}
    ).cut
    assert isinstance(cut.form, Hinge)
    assert cut.form.overrun == pytest.approx(overrun)


@pytest.mark.parametrize(
    ("shape", "changed", "line"),
    [
        ("rectangle", {"corner_radii": [1, 2, 3]}, "cut.corner_radii: has 3 radii (write four, from the lower left corner counter-clockwise)"),
        ("rectangle", {"corner_radii": [1, 2, 3, 4, 5]}, "cut.corner_radii: has 5 radii (write four, from the lower left corner counter-clockwise)"),
        ("rectangle", {"corner_radii": []}, "cut.corner_radii: has 0 radii (write four, from the lower left corner counter-clockwise)"),
        ("rectangle", {"corner_radii": 5}, "cut.corner_radii: 5 does not fit here (write a list: [5])"),
        ("rectangle", {"corner_radii": [1, 2, -3, 4]}, "cut.corner_radii[2]: -3 is less than nothing (write 0 or more)"),
        ("rectangle", {"corner_radius": 2}, "cut.corner_radii: stands beside corner_radius (keep one of the two)"),
        ("rectangle", {"corner_radii": [40, 21, 0, 0]}, 'cut.corner_radii: "40 mm" and "21 mm" are together more than the side between them, "60 mm" (write less)'),
        ("rectangle", {"corner_radii": [0, 21, 20, 0]}, 'cut.corner_radii: "21 mm" and "20 mm" are together more than the side between them, "40 mm" (write less)'),
        ("rectangle", {"corner_radii": [0, 0, 31, 30]}, 'cut.corner_radii: "31 mm" and "30 mm" are together more than the side between them, "60 mm" (write less)'),
        ("rectangle", {"corner_radii": [21, 0, 0, 20]}, 'cut.corner_radii: "20 mm" and "21 mm" are together more than the side between them, "40 mm" (write less)'),
        ("ellipse", {"width": None}, "cut.width: is missing (its axis across, along y before turning)"),
        ("ellipse", {"lenght": 3, "length": 60}, 'cut: unknown key "lenght" (did you mean "length"?)'),
        ("ellipse", {"length": 3001}, 'cut.length: "3001 mm" and the width "30 mm" make too slender an ellipse (one at most 100 times the other, or use shape = "slot")'),
        ("ellipse", {"length": 0.29}, 'cut.length: "0.29 mm" and the width "30 mm" make too slender an ellipse (one at most 100 times the other, or use shape = "slot")'),
        ("polygon", {"sides": 2}, "cut.sides: 2 is not a number of sides (write 3 to 24)"),
        ("polygon", {"sides": 25}, "cut.sides: 25 is not a number of sides (write 3 to 24)"),
        ("polygon", {"sides": 6.5}, "cut.sides: 6.5 does not fit here (write a whole number, without quotes)"),
        ("polygon", {"acros": 3}, 'cut: unknown key "acros" (did you mean "across"?)'),
        ("polygon", {"corner_radius": 15.1}, 'cut.corner_radius: "15.1 mm" is more than half of across, "30 mm" (write less, or use shape = "round")'),
        ("polygon", {"waist": 3}, 'cut.waist: is for "butterfly", not for "polygon"'),
        ("butterfly", {"waist": 30}, 'cut.waist: "30 mm" is not less than the width "30 mm" (write less, or use shape = "rectangle")'),
        ("butterfly", {"waste": 16}, 'cut: unknown key "waste" (did you mean "waist"?)'),
        ("butterfly", {"corner_radius": 12.61}, "cut.corner_radius: \"12.61 mm\" is too round for the key's ends (at most 12.6 mm)"),
        ("hand-hold", {"length": 29}, 'cut.length: "29 mm" is less than the width "30 mm" (swap them and turn the hand-hold by angle = 90)'),
        ("hand-hold", {"rise": 35.1}, 'cut.rise: "35.1 mm" is more than half of length less width, 35 mm (write less)'),
        (
            "hand-hold",
            {"rise": 0.0099},
            'cut.rise: "0.0099 mm" is too small a rise (write at least 0.01 mm, or 0 for a slot)',
        ),
        ("hand-hold", {"raise": 8}, 'cut: unknown key "raise" (did you mean "rise"?)'),
        ("arc-slot", {"span": 0}, "cut.span: 0 is not a span (write degrees, more than 0 and less than 360)"),
        ("arc-slot", {"span": 360}, "cut.span: 360 is not a span (write degrees, more than 0 and less than 360)"),
        ("arc-slot", {"span": "wide"}, 'cut.span: "wide" is not an angle (write a number of degrees without quotes, such as 30)'),
        ("arc-slot", {"width": 120}, 'cut.width: "120 mm" is not less than twice the radius "60 mm" (write less)'),
        ("arc-slot", {"radius": 10, "span": 300}, 'cut.width: "10 mm" makes the ends meet (write less, or a smaller span)'),
        ("arc-slot", {"length": 3}, 'cut.length: is for "slot", "rectangle", "ellipse", "butterfly", "hand-hold" and "hinge", not for "arc-slot"'),
        ("hinge", {"corner_radius": 25.1}, 'cut.corner_radius: "25.1 mm" is more than the width "25 mm" (write less)'),
        ("hinge", {"length": 40, "corner_radius": 21}, 'cut.corner_radius: "21 mm" is more than half the length "40 mm" (write less)'),
        ("hinge", {"depth": None}, "cut.depth: is missing (depth of the gain: the thickness of the leaf)"),
    ],
)  # fmt: skip
def test_one_fault(shape: str, changed: dict[str, Any], line: str) -> None:
    """A single fault gives a single line with what to write instead."""
    assert line_for(shape, **changed) == line


@pytest.mark.parametrize(
    ("shape", "changed"),
    [
        ("rectangle", {"corner_radii": [40, 0, 20, 0]}),
        ("rectangle", {"corner_radius": 0}),
        ("ellipse", {"width": 100, "length": 10000}),
        ("ellipse", {"width": 10000, "length": 100}),
        ("polygon", {"corner_radius": 15}),
        ("polygon", {"sides": 3}),
        ("polygon", {"sides": 24}),
        ("butterfly", {"corner_radius": 12.6}),
        ("hand-hold", {"rise": 35}),
        ("hand-hold", {"length": 30, "rise": 0}),
        ("arc-slot", {"width": 119}),
        ("hinge", {"corner_radius": 25}),
    ],
)
def test_what_just_fits_is_taken(job_with: JobWith, shape: str, changed: dict[str, Any]) -> None:
    """The limits themselves are no faults, and there is such an outline."""
    job = job_with(cut={"shape": shape, **CUTS[shape], **changed})
    assert cut_outline(job.cut).area > 0


def test_a_tenon_needs_a_mortise(job_with: JobWith) -> None:
    """Loose tenons go with a slot, a round or a rectangle: one line for any other."""
    with pytest.raises(InputError) as raised:
        job_with(cut={"shape": "polygon", **CUTS["polygon"]}, tenon={"joints": 2})
    assert [line.partition(" ")[2] for line in raised.value.lines] == [
        'tenon: loose tenons are for a mortise ("slot", "round", "rectangle"), not for "polygon" (leave [tenon] out)'
    ]
