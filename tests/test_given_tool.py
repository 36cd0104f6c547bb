"""A tool as an option gives it: a diameter or a name, what is known of it, and what will not do."""

from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.given_tool import GivenTool, Option, given_tools, measured_otherwise, shown
from jigtemplates.profiles import Profiles

TOOLS = """\
units = "mm"
[bits."8 mm spiral"]
diameter = { nominal = "8 mm", measured = "7.95 mm" }
[bushings."mine"]
diameter = 14.3
bore = 11
[bushings."worn"]
diameter = 14.3
bore = 11.2
[bushings."other"]
diameter = 15
"""


@pytest.fixture
def profiles(tmp_path: Path) -> Profiles:
    (tmp_path / "tools.toml").write_text(TOOLS, encoding="utf-8")
    return Profiles(tools=tmp_path / "tools.toml")


def one(option: Option, profiles: Profiles) -> GivenTool | None:
    return given_tools([option], profiles)[0]


def test_a_diameter(profiles: Profiles) -> None:
    """Its tidied text goes into a job; nobody knows its bore where profiles of that size differ or are silent."""
    assert one(Option("--bit", "bits", ' 3/8" '), profiles) == GivenTool("3/8 in", 9.525, None, named=False)
    assert one(Option("--bushing", "bushings", "14.3 mm"), profiles) == GivenTool("14.3 mm", 14.3, None, named=False)
    assert one(Option("--bushing", "bushings", "15 mm"), profiles) == GivenTool("15 mm", 15.0, None, named=False)


def test_a_bore_that_all_profiles_agree_on(profiles: Profiles) -> None:
    """1/2 in is shipped with a bore of 13/32 in (10.31875 mm)."""
    found = one(Option("--bushing", "bushings", "1/2 in"), profiles)
    assert found is not None
    assert found.bore == pytest.approx(10.31875)


def test_a_name(profiles: Profiles) -> None:
    """The measured diameter counts; names that begin like a length are names; a bushing's bore comes along."""
    assert one(Option("--bit", "bits", "8 mm spiral "), profiles) == GivenTool("8 mm spiral", 7.95, None, named=True)
    assert one(Option("--bushing", "bushings", "mine"), profiles) == GivenTool("mine", 14.3, 11.0, named=True)


def test_a_bare_size_of_which_one_is_measured(tmp_path: Path) -> None:
    """The size stays, the bore is that of what is sold so, and one line says what yours measures."""
    path = tmp_path / "tools.toml"
    path.write_text(
        "[bushings.brass]\ndiameter = { nominal = '14.3 mm', measured = '14.25 mm' }\nbore = '11 mm'\n"
        "[bushings.exact]\ndiameter = '14.3 mm'\nbore = '11 mm'\n[bits.'worn 1/2\"']\n"
        "diameter = { nominal = '1/2 in', measured = '0.498 in' }\n"
    )
    options = (
        Option("--bushing", "bushings", "14.3 mm"), Option("--with-bit", "bits", "1/2 in"),
        Option("--bit", "bits", "8 mm"), Option("--other", "bits", None), Option("--named", "bushings", "brass"),
    )  # fmt: skip
    found = given_tools(options, Profiles(tools=path))
    assert found[0] == GivenTool("14.3 mm", 14.3, 11.0, named=False)
    assert measured_otherwise(options, found) == (
        '--bushing: 14.3 mm is taken as it stands; "brass" measures 14.25 mm (for that: --bushing "brass")',
        "--with-bit: 1/2 in is taken as it stands; 'worn 1/2\"' measures 0.498 in (for that: --with-bit 'worn 1/2\"')",
    )


def test_nothing(profiles: Profiles) -> None:
    """An option that was not given is no tool."""
    assert one(Option("--bit", "bits", None), profiles) is None


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        ("8 mm spral", '--bit: "8 mm spral" is neither a length nor a bit in the profiles (did you mean '
         '"8 mm spiral"?)'),
        ("8", '--bit: "8" is not a length (the unit is missing; write 8 mm or 8 in)'),
        ("", '--bit: "" is not a length (it is empty; write a number and a unit, such as 9.5 mm or 3/8 in)'),
        ("nan", '--bit: "nan" is not a length (a length is a finite number; write a number and a unit, such as '
         "9.5 mm or 3/8 in)"),
        ("0 mm", '--bit: "0 mm" is not a size (write a length greater than 0)'),
    ],
)  # fmt: skip
def test_what_will_not_do(profiles: Profiles, typed: str, line: str) -> None:
    """One line that names the option and says what to write."""
    with pytest.raises(InputError) as caught:
        one(Option("--bit", "bits", typed), profiles)
    assert caught.value.lines == (line,)


def test_a_name_nobody_knows(profiles: Profiles) -> None:
    """The names that are known follow."""
    with pytest.raises(
        InputError, match=r'"xyz" is neither a length nor a guide bushing in the profiles \(known: "mine"'
    ):
        one(Option("--with-bushing", "bushings", "xyz"), profiles)


def test_all_faults_at_once(profiles: Profiles) -> None:
    """Two wrong tools are two lines."""
    with pytest.raises(InputError) as caught:
        given_tools([Option("--bit", "bits", "1"), Option("--bushing", "bushings", "2")], profiles)
    assert [line.partition(":")[0] for line in caught.value.lines] == ["--bit", "--bushing"]


def test_in_a_sentence() -> None:
    """A name stands in quotes, a diameter does not."""
    assert shown(GivenTool("mine", 1.0, None, named=True)) == '"mine"'
    assert shown(GivenTool("8 mm", 8.0, None, named=False)) == "8 mm"


def test_a_name_like_a_length_in_profiles_that_are_not_looked_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is said where it is, on the command line, in a job and by calibrate, and not how lengths are written."""
    from jigtemplates.calibrate.tool import tool_of
    from jigtemplates.parameters.load import load_jobs
    from jigtemplates.profiles import profiles_for

    (tmp_path / "profiles").mkdir()
    (tmp_path / "profiles" / "mine.toml").write_text('[bits."3/8 own"]\ndiameter = "9.5 mm"\n', encoding="utf-8")
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "rail.toml").write_text(
        '[cut]\nshape = "round"\ndiameter = "40 mm"\ndepth = "8 mm"\n'
        '[tools]\nbit = "3/8 own"\nbushing = "5/8 in"\n'
        '[plate]\nwidth = "140 mm"\nheight = "140 mm"\nthickness = "6 mm"\nmaterial = "mdf"\n[make]\nfor = ["cnc"]\n',
        encoding="utf-8",
    )
    monkeypatch.chdir(tmp_path / "jobs")
    profiles = profiles_for(Path("rail.toml"))
    said = '("3/8 own" is in ../profiles/mine.toml, which is not looked in: add --profiles ../profiles)'
    for ask in (
        lambda: given_tools([Option("--bit", "bits", "3/8 own")], profiles),
        lambda: load_jobs(Path("rail.toml"), profiles=profiles),
        lambda: tool_of("bits", "3/8 own", profiles),
    ):
        with pytest.raises(InputError) as caught:
            ask()
        assert any(line.endswith(said) for line in caught.value.lines), caught.value.lines
