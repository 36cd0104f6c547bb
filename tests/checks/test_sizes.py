"""Typed sizes that look like a rounded conversion, and those of which the person has a measured tool."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from jigtemplates.checks.sizes import rounded_from
from jigtemplates.lengths import parse_length
from jigtemplates.parameters.job import Job
from jigtemplates.profiles import Profiles

Said = Callable[..., list[tuple[str, str, str]]]


def test_rounded_bit(said: Said) -> None:
    """9.5 mm for 3/8 in: a warning that the cut comes out 0.025 mm wider."""
    assert said("rounded-conversion", tools={"bit": 9.5}) == [
        (
            "warning",
            "tools.bit",
            "9.5 mm looks like 3/8 in, which is 9.525 mm: if it is, the cut comes out 0.025 mm wider and longer than "
            "shown; measure it, and write 3/8 in if that is what it is",
        )
    ]


def test_rounded_bushing(said: Said) -> None:
    """13 mm for 1/2 in: the real bushing is smaller, so the cut comes out 0.3 mm wider."""
    ((level, key, sentence),) = said("rounded-conversion", tools={"bushing": 13})
    assert (level, key) == ("warning", "tools.bushing")
    assert sentence.startswith(
        "13 mm looks like 1/2 in, which is 12.7 mm: if it is, the cut comes out 0.3 mm wider and longer than shown"
    )


def test_the_other_direction(said: Said) -> None:
    """A bit rounded up, or a bushing rounded down, makes the cut narrower and shorter."""
    ((_, _, bit),) = said("rounded-conversion", tools={"bit": 9.6})
    assert "comes out 0.075 mm narrower and shorter than shown" in bit
    ((_, _, bushing),) = said("rounded-conversion", tools={"bushing": 12.5})
    assert "comes out 0.2 mm narrower and shorter than shown" in bushing


@pytest.mark.parametrize(
    ("typed", "likely"),
    [
        ("9.5 mm", Fraction("9.525")),  # 3/8 in
        ("13 mm", Fraction("12.7")),  # 1/2 in
        ("6.4 mm", Fraction("6.35")),  # 1/4 in
        ("19 mm", Fraction("19.05")),  # 3/4 in
        ("11 mm", Fraction("11.1125")),  # 7/16 in
        ("12.7 mm", None),
        ("9.525 mm", None),
        ("9.5255 mm", None),
        ("12 mm", None),
        ("10 mm", None),
        ("3/8 in", None),
        ("0.374 in", None),
        ("9 mm", None),  # 0.525 from 3/8 in
        ("9.17 mm", None),  # 0.355 from 3/8 in
        ("9.175 mm", Fraction("9.525")),  # 0.35 from it
    ],
)
def test_what_looks_rounded(typed: str, likely: Fraction | None) -> None:
    """Metric sizes that nobody sells, within 0.35 mm of a sixteenth of an inch; no trade size, nothing in inches."""
    assert rounded_from(parse_length(typed)) == likely


def test_described_tools_were_measured(said: Said) -> None:
    """A tool with a table of its own, or from the profiles, is not doubted."""
    assert said("rounded-conversion", tools={"bit": {"diameter": 9.5}, "bushing": {"diameter": 13}}) == []
    assert said("rounded-conversion", tools={"bit": "up-spiral 10 mm", "bushing": 17}) == []


def measured(**known: object) -> dict[str, object]:
    """A bushing sold as 1/2 in of which that was measured."""
    return {"bushing": {"diameter": {"nominal": "1/2 in", **known}, "bore": "13/32 in"}}


def test_measured_bushing(said: Said) -> None:
    """A bushing 0.02 mm under its size makes cuts from a template for 1/2 in 0.02 mm wider: a note."""
    assert said("measured-size", tools=measured(measured="12.68 mm", within="0.01 mm")) == [
        (
            "note",
            "tools.bushing",
            "computed with the measured 12.68 mm: from a template for 1/2 in the cut would come out 0.02 mm wider and "
            "longer; it is good to 0.01 mm, and so is the cut",
        )
    ]
    ((_, _, larger),) = said("measured-size", tools=measured(measured="12.75 mm"))
    assert larger.endswith("for 1/2 in the cut would come out 0.05 mm narrower and shorter")
    ((_, _, exact),) = said("measured-size", tools=measured(measured="12.7 mm"))
    assert exact == "computed with the measured 12.7 mm: as it is sold"
    assert said("measured-size", tools=measured()) == []


def test_measured_bit(said: Said) -> None:
    """A bit 0.025 mm under its size makes cuts 0.025 mm narrower, and is not taken for a rounded size."""
    tools = {"bit": {"diameter": {"nominal": "3/8 in", "measured": "9.5 mm"}}}
    ((level, key, sentence),) = said("measured-size", tools=tools)
    assert (level, key) == ("note", "tools.bit")
    assert sentence.endswith("for 3/8 in the cut would come out 0.025 mm narrower and shorter")
    assert said("rounded-conversion", tools=tools) == []


def test_measured_tools_of_a_plug(said: Said) -> None:
    """The opening less bushing and bit is the plug: a wider tool makes it narrower, and each says so at its own key."""
    inlay = {
        "plug_bushing": {"diameter": {"nominal": 14, "measured": 14.05}, "bore": {"nominal": 11, "measured": 10.9}},
        "plug_bit": {"diameter": {"nominal": 6, "measured": 5.97, "within": 0.01}},
    }
    assert said("measured-size", tools={"bushing": "20 mm"}, inlay=inlay) == [
        (
            "note",
            "inlay.plug_bit",
            "computed with the measured 5.97 mm: from a template for 6 mm the plug would come out 0.03 mm wider and "
            "longer; it is good to 0.01 mm, and so is the plug",
        ),
        (
            "note",
            "inlay.plug_bushing",
            "computed with the measured 14.05 mm: from a template for 14 mm the plug would come out 0.05 mm narrower "
            "and shorter",
        ),
        ("note", "inlay.plug_bushing.bore", "computed with the measured size: 11 mm nominal, measured 10.9 mm"),
    ]


def test_a_measured_bit_that_the_plug_shares(said: Said) -> None:
    """It is told of once, as the bit of the recess."""
    tools = {"bit": {"diameter": {"nominal": "3/8 in", "measured": "9.5 mm"}}, "bushing": "20 mm"}
    found = said("measured-size", tools=tools, inlay={"plug_bushing": 14})
    assert [where for _, where, _ in found] == ["tools.bit"]


OWN = """
units = "in"
[bits."sold 3/8"]
diameter = { nominal = "3/8", measured = "9.5 mm" }
cutting_length = 1.25
shank = "1/2"
[bushings.brass]
diameter = { nominal = "1/2", measured = "12.66 mm" }
bore = "13/32"
stem = "3/16"
"""


@pytest.fixture
def own(tmp_path: Path) -> Callable[..., Profiles]:
    """Profiles of a folder whose one file has that text."""

    def written(text: str = OWN) -> Profiles:
        (tmp_path / "own.toml").write_text(text, encoding="utf-8")
        return Profiles([tmp_path])

    return written


def test_a_bare_size_that_is_measured_among_ones_own(said: Said, own: Callable[..., Profiles]) -> None:
    """What would come out otherwise with it, what is taken from it, and what to write: a warning for each tool."""
    assert said("own-tool", profiles=own(), tools={"bushing": "1/2 in"}) == [
        (
            "warning",
            "tools.bit",
            'with your "sold 3/8", sold as 3/8 in and measured 9.5 mm, the cut comes out 0.025 mm narrower and shorter '
            'than shown: a bare size is taken as it stands; write bit = "sold 3/8" to compute with yours (its shank '
            "and cutting_length too)",
        ),
        (
            "warning",
            "tools.bushing",
            'with your "brass", sold as 1/2 in and measured 12.66 mm, the cut comes out 0.04 mm wider and longer than '
            "shown: a bare size is taken as it stands, and only its bore and stem are taken from it; write "
            'bushing = "brass" to compute with yours',
        ),
    ]


def test_the_job_means_what_it_meant(job_with: Callable[..., Job], own: Callable[..., Profiles]) -> None:
    """The day a tool is written down changes no bare size, and nothing that is kept of the job."""
    from jigtemplates.manifest import job_hash

    without, with_own = job_with(), job_with(profiles=own(OWN.partition("[bushings")[0]))
    assert with_own.tools.bit.diameter.text == "3/8 in"
    assert [one.name for one in with_own.tools.bit.owned] == ["sold 3/8"]
    assert (with_own.tools.bit.shank, with_own.tools.bit.cutting_length) == (None, None)
    assert job_hash(with_own) == job_hash(without)


def test_a_tool_that_is_named_or_described_is_meant(said: Said, own: Callable[..., Profiles]) -> None:
    """Its own name, a table and a measured size say all there is; a bare size that none has says nothing."""
    assert said("own-tool", profiles=own(), tools={"bit": "sold 3/8", "bushing": "brass"}) == []
    assert said("own-tool", profiles=own(), tools={"bit": {"diameter": "3/8 in"}, "bushing": 17}) == []
    sized = {"bit": {"nominal": "3/8 in", "measured": "9.5 mm"}, "bushing": "17 mm"}
    assert said("own-tool", profiles=own(), tools=sized) == []
    assert said("own-tool", tools={"bushing": "1/2 in"}) == []  # shipped ones are nobody's own


def test_an_own_tool_that_is_not_measured(said: Said, own: Callable[..., Profiles]) -> None:
    """It is a note where it would tell more than the bare size, such as its shank; nothing where it would not."""
    known = own("[bits.'my 3/8\"']\ndiameter = '3/8 in'\nkind = 'straight'\nplunging = true\nshank = '1/4 in'\n")
    assert said("own-tool", profiles=known) == [
        (
            "note",
            "tools.bit",
            "your tools have 'my 3/8\"', sold as 3/8 in: write bit = 'my 3/8\"' for its shank, kind and plunging to "
            "count",
        )
    ]
    assert said("own-tool", profiles=own("[bits.a]\ndiameter = '3/8 in'\nnote = 'old'\n")) == []
    exact = "[bits.a]\ndiameter = { nominal = '3/8 in', measured = '9.5255 mm' }\n"
    assert said("own-tool", profiles=own(exact)) == []
    taken = own("[bushings.a]\ndiameter = '1/2 in'\nstem = '10 mm'\n")
    assert said("own-tool", profiles=taken, tools={"bushing": "1/2 in"}) == []
    other = own("[bushings.a]\ndiameter = '1/2 in'\nbore = '9.9 mm'\n")  # than the shipped ones, so none is taken
    ((_, _, sentence),) = said("own-tool", profiles=other, tools={"bushing": "1/2 in"})
    assert sentence.endswith('sold as 1/2 in: write bushing = "a" for its bore to count')


def test_several_own_tools_of_one_size(said: Said, own: Callable[..., Profiles]) -> None:
    """Each is named with what it measures, and that the bare size is none of them."""
    two = "[bits.new]\ndiameter = '3/8 in'\n[bits.worn]\ndiameter = { nominal = '3/8 in', measured = '9.45 mm' }\n"
    assert said("own-tool", profiles=own(two)) == [
        (
            "warning",
            "tools.bit",
            '2 of your tools are sold as 3/8 in: "new" (not measured), "worn" (measured 9.45 mm); a bare size is none '
            'of them: write bit = "new", say, to compute with it',
        )
    ]
    alike = two.replace(", measured = '9.45 mm'", "")
    assert [level for level, _, _ in said("own-tool", profiles=own(alike))] == ["note"]


def test_an_own_tool_of_outside_work(said: Said, own: Callable[..., Profiles]) -> None:
    """The work cut out round a pattern loses what a cut would gain."""
    cut = {"shape": "slot", "width": 60, "length": 90, "depth": 10, "side": "outside"}
    plate = {"width": None, "height": None, "screws": None}
    ((_, _, bit), (_, _, bushing)) = said("own-tool", profiles=own(), cut=cut, plate=plate, tools={"bushing": "1/2 in"})
    assert "the work comes out 0.025 mm wider and longer than shown:" in bit
    assert "the work comes out 0.04 mm narrower and shorter than shown:" in bushing


def test_an_own_tool_for_the_plug(said: Said, own: Callable[..., Profiles]) -> None:
    """A plug is opening less bushing less bit, so narrower ones make it wider; a shared bit is said once."""
    inlay = {"plug_bushing": "1/2 in", "plug_bit": "3/8 in"}
    tools = {"bit": 8, "bushing": "20 mm"}
    ((_, key, bit), (_, _, bushing)) = said("own-tool", profiles=own(), tools=tools, inlay=inlay)
    assert key == "inlay.plug_bit"
    assert (
        "the plug comes out 0.025 mm wider and longer than shown: a bare size is taken as it stands; write plug_" in bit
    )
    assert "the plug comes out 0.04 mm wider and longer than shown:" in bushing
    assert "as it stands, and only its bore and stem are taken from it; write plug_bushing =" in bushing
    same = said("own-tool", profiles=own(), tools={"bushing": "20 mm"}, inlay={"plug_bushing": "12 mm"})
    assert [key for _, key, _ in same] == ["tools.bit"]
