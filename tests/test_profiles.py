"""What is shipped, which profile wins, and what is said when there is none of that name."""

import os
import pickle
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.profiles import KINDS, SHIPPED, Profiles, profiles_for, shipped_folder, user_folder

Write = Callable[[str, str], Path]

BIT = '[bits."{0}"]\ndiameter = "{1}"\n'


pytestmark = pytest.mark.usefixtures("own_configuration")


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("bits", "straight 3/8 in"),
        ("bits", "up-spiral 1/4 in"),
        ("bits", "straight 20 mm"),
        ("bushings", "bushing 1/2 in"),
        ("bushings", "bushing 30 mm"),
        ("sheets", "mdf"),
        ("sheets", "hardboard"),
        ("screws", "M5"),
        ("screws", "#8"),
        ("processes", "laser"),
        ("processes", "cnc"),
        ("processes", "paper"),
        ("papers", "a4"),
        ("papers", "letter"),
        ("holders", "bench-frame-140"),
        ("routers", "generic mid-size plunge"),
    ],
)
def test_shipped_entries_are_found_by_name(kind: str, name: str) -> None:
    """Without a profile of one's own the shipped entry is found, under its own name, and says so."""
    found = profiles_for().find(kind, name)
    assert (found.kind, found.name, found.entry.name, found.origin) == (kind, name, name, SHIPPED)


def test_every_shipped_file_holds_its_own_kind_only() -> None:
    """A kind is read from the file of its name, so an entry elsewhere would never be found."""
    import tomllib

    found = {
        path.stem: set(tomllib.loads(path.read_text(encoding="utf-8"))) - {"units"}
        for path in shipped_folder().glob("*.toml")
    }
    assert found == {kind: {kind} for kind in KINDS}


@pytest.mark.parametrize("size", ["1/8", "3/16", "1/4", "5/16", "3/8", "1/2", "5/8", "3/4"])
def test_the_common_inch_bits_are_shipped(size: str) -> None:
    """A straight bit of every common inch size is there, exactly as wide as its name says."""
    from fractions import Fraction

    bit = Profiles().find("bits", f"straight {size} in").entry
    assert bit.diameter.exact == Fraction(size) * Fraction("25.4")
    assert bit.kind == "straight"


def test_no_shipped_bit_claims_a_cutting_length() -> None:
    """Cutting lengths differ from maker to maker, so none is taken for a fact."""
    assert {found.entry.cutting_length for found in Profiles().entries("bits")} == {None}


def test_a_shank_is_stated_only_where_the_name_or_the_trade_leaves_no_choice() -> None:
    """A size sold with two shanks has an entry without and one for each shank."""
    profiles = Profiles()
    shanks = [
        profiles.find("bits", name).entry.shank
        for name in ("straight 3/8 in", "straight 3/8 in, 1/4 in shank", "straight 3/8 in, 1/2 in shank")
    ]
    assert [shank and shank.text for shank in shanks] == [None, "1/4 in", "1/2 in"]


def test_the_laser_draws_neither_pockets_nor_reference_lines() -> None:
    """A laser cannot sink a countersink, and would burn a reference line; paper shows all seven roles."""
    roles = {name: set(Profiles().find("processes", name).entry.roles.drawn()) for name in ("laser", "cnc", "paper")}
    assert roles["laser"] == {"cut_outside", "cut_inside", "drill", "engrave", "mark"}
    assert roles["cnc"] == roles["laser"] | {"pocket"}
    assert roles["paper"] == roles["cnc"] | {"reference"}


def test_no_process_applies_a_kerf_by_itself() -> None:
    """The shipped kerf is 0 for every process: typical kerfs are for information."""
    assert {found.entry.kerf.mm for found in Profiles().entries("processes")} == {0}


def test_the_screws_of_shipped_holders_are_shipped() -> None:
    """A holder's screw can be looked up."""
    profiles = Profiles()
    sizes = [found.entry.screws.size for found in profiles.entries("holders")]
    assert [profiles.find("screws", size).name for size in sizes] == ["M5", "M4", "#6", "M5", "M4"]


def test_shipped_files_are_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thousand jobs in one process share the shipped entries: the second search opens no file."""
    first = Profiles().find("papers", "a3").entry
    monkeypatch.setattr("jigtemplates.profile_files.read_toml", lambda path: pytest.fail(f"{path} read again"))
    assert Profiles().find("papers", "a3").entry is first


def test_a_wheel_carries_its_profiles_inside_the_package(tmp_path: Path) -> None:
    """Installed, profiles are in the package's _profiles, whatever stands beside the package."""
    package = tmp_path / "jigtemplates"
    shutil.copytree(shipped_folder(), package / "_profiles")
    shutil.copytree(shipped_folder(), tmp_path / "profiles")
    assert shipped_folder(package) == package / "_profiles"


def test_a_checkout_has_its_profiles_beside_the_package(tmp_path: Path) -> None:
    """In a checkout the folder beside the package is the shipped one."""
    shutil.copytree(shipped_folder(), tmp_path / "profiles")
    assert shipped_folder(tmp_path / "jigtemplates") == tmp_path / "profiles"


def test_a_folder_of_somebody_elses_is_not_taken_for_ours(tmp_path: Path) -> None:
    """A `profiles` folder beside the package, without our files, is not the shipped one."""
    (tmp_path / "profiles").mkdir()
    with pytest.raises(InputError) as caught:
        shipped_folder(tmp_path / "jigtemplates")
    assert caught.value.lines == ("the profiles that belong to jigtemplates are missing (install it again)",)


def test_the_wheel_is_told_to_carry_the_profiles() -> None:
    """The build puts `profiles` where an installed package looks for it."""
    import tomllib

    project = Path(__file__).parent.parent / "pyproject.toml"
    build = tomllib.loads(project.read_text(encoding="utf-8"))["tool"]["hatch"]["build"]
    assert build["targets"]["wheel"]["force-include"]["profiles"] == "jigtemplates/_profiles"


def test_the_persons_own_folder_is_in_the_configuration(monkeypatch: pytest.MonkeyPatch) -> None:
    """The configuration folder is asked for under the program's name, without a company's."""
    monkeypatch.undo()
    assert user_folder().name == "profiles"
    assert user_folder().parent.name == "jigtemplates"
    assert user_folder().parent.parent.name != "jigtemplates"


def test_the_nearest_folder_wins_entry_by_entry(write: Write, tmp_path: Path, own_configuration: Path) -> None:
    """Beside the job, the given folder, the configuration, the shipped: for each name by itself."""
    write("profiles/a.toml", BIT.format("mine", "1 mm"))
    write("given/a.toml", BIT.format("mine", "2 mm") + BIT.format("given", "2 mm"))
    rest = "".join(BIT.format(name, "3 mm") for name in ("mine", "given", "config", "straight 3/8 in"))
    write("config/profiles/a.toml", rest)
    profiles = profiles_for(tmp_path / "job.toml", tmp_path / "given")
    found = [profiles.find("bits", name) for name in ("mine", "given", "config", "straight 3/8 in", "straight 1/2 in")]
    assert [f.entry.diameter.mm for f in found] == [1, 2, 3, 3, 12.7]
    assert [f.origin for f in found] == [
        str(tmp_path / "profiles" / "a.toml"),
        str(tmp_path / "given" / "a.toml"),
        str(own_configuration / "a.toml"),
        str(own_configuration / "a.toml"),
        SHIPPED,
    ]


def test_the_current_folder_serves_jobs_in_a_subfolder(
    write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, own_configuration: Path
) -> None:
    """`profiles` in the current folder comes behind the job's own and the given one, before the configuration."""
    every = ("beside", "given", "here", "config")
    write("jobs/profiles/a.toml", BIT.format("beside", "1 mm"))
    write("given/a.toml", "".join(BIT.format(name, "2 mm") for name in every[:2]))
    write("profiles/tools.toml", "".join(BIT.format(name, "3 mm") for name in every[:3]))
    write("config/profiles/a.toml", "".join(BIT.format(name, "4 mm") for name in every))
    monkeypatch.chdir(tmp_path)
    profiles = profiles_for(Path("jobs/job.toml"), Path("given"))
    assert [profiles.find("bits", name).entry.diameter.mm for name in every] == [1, 2, 3, 4]
    assert profiles.folders == (Path("jobs/profiles"), Path("given"), Path("profiles"), own_configuration)


def test_the_current_folder_is_read_once(write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the job lies in the current folder its profiles are searched once."""
    write("profiles/a.toml", BIT.format("mine", "1 mm"))
    monkeypatch.chdir(tmp_path)
    assert profiles_for(Path("job.toml")).folders == (Path("profiles"),)
    assert profiles_for(tmp_path / "job.toml").folders == (tmp_path / "profiles",)


def test_an_unknown_name_says_where_was_looked(write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who has tools of their own reads which of their places were searched; at most three are named."""
    write("profiles/a.toml", BIT.format("mine", "1 mm"))
    file = write("drawer.toml", BIT.format("other", "1 mm"))
    for folder in ("jobs/profiles", "given", "config/profiles"):
        write(f"{folder}/a.toml", "")
    monkeypatch.chdir(tmp_path)
    profiles = profiles_for(Path("jobs/job.toml"), Path("given"), tools=file.relative_to(tmp_path))
    assert profiles.looked("there are none", "bits", "x") == (
        "there are none. Looked in: drawer.toml, jobs/profiles, given, …, shipped"
    )
    assert (
        Profiles([Path("given")]).looked("there are none", "bits", "x") == "there are none. Looked in: given, shipped"
    )
    assert Profiles([Path("given")]).looked('did you mean "x"?', "bits", "y") == 'did you mean "x"?'


def test_a_name_in_profiles_above_the_job_that_are_not_searched(
    write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Run from elsewhere, `profiles` above the job is not searched: who asks for an entry in it is told to add it."""
    write("shop/profiles/a.toml", "broken")
    write("shop/profiles/b.toml", BIT.format("mine", "1 mm") + '[papers]\n"3/8 own" = 1\n')
    (tmp_path / "shop" / "jobs").mkdir()
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as caught:
        profiles_for(Path("shop/jobs/job.toml")).find("bits", "mine")
    assert caught.value.lines == (
        '"mine" is not among the bits ("mine" is in shop/profiles/b.toml, which is not looked in: add --profiles '
        "shop/profiles. To list them: jigtemplates profiles bits)",
    )
    monkeypatch.chdir(tmp_path / "shop" / "jobs")
    hint = profiles_for(Path("job.toml")).looked("x", "bits", "mine")
    assert hint == '"mine" is in ../profiles/b.toml, which is not looked in: add --profiles ../profiles'


@pytest.mark.parametrize(
    ("kind", "name", "line"),
    [
        ("papers", "lettr", '"lettr" is not among the papers (did you mean "letter"? To list them: '),
        ("bits", "zzz", '"zzz" is not among the bits (known: "straight 1/8 in", '),
        ("bushings", "mine", '"mine" is not among the bushings (known: '),
    ],
)
def test_no_word_of_profiles_above_the_job_without_the_name(
    kind: str, name: str, line: str, write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where they do not hold what was asked for, adding them would not help, and nothing is said of them."""
    write("shop/profiles/a.toml", BIT.format("mine", "1 mm"))
    (tmp_path / "shop" / "jobs").mkdir()
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as caught:
        profiles_for(Path("shop/jobs/job.toml")).find(kind, name)
    assert caught.value.lines[0].startswith(line)
    assert "--profiles" not in caught.value.lines[0]


def test_a_tools_file_comes_before_every_folder(write: Write, tmp_path: Path) -> None:
    """The file given for tools wins over the folder beside the job, entry by entry, and may stand anywhere."""
    write("profiles/a.toml", BIT.format("mine", "1 mm") + BIT.format("other", "1 mm"))
    file = write("drawer/some.name", BIT.format("mine", "2 mm"))
    profiles = profiles_for(tmp_path / "job.toml", tools=file)
    assert [profiles.find("bits", name).entry.diameter.mm for name in ("mine", "other")] == [2, 1]
    assert profiles.find("bits", "mine").origin == str(file)


def test_a_tools_file_among_the_profiles_is_no_clash(write: Write, tmp_path: Path) -> None:
    """A file of the folder beside the job may be given as the tools file too."""
    file = write("profiles/a.toml", BIT.format("mine", "1 mm"))
    write("profiles/b.toml", BIT.format("other", "1 mm"))
    names = [found.name for found in profiles_for(tmp_path / "job.toml", tools=file).own("bits")]
    assert names == ["mine", "other"]


def test_a_tools_file_must_be_there(tmp_path: Path) -> None:
    """A tools file that is not there is said at once, with how to begin one."""
    with pytest.raises(InputError) as caught:
        profiles_for(tools=tmp_path / "none.toml")
    assert caught.value.lines == (
        f"{tmp_path / 'none.toml'}: there is no such file (to begin one: jigtemplates tools add --help)",
    )


def test_a_faulty_tools_file_is_named(write: Write) -> None:
    """A fault in it has file, line and entry."""
    file = write("drawer.toml", BIT.format("mine", "2,5 mm"))
    with pytest.raises(InputError) as caught:
        profiles_for(tools=file).entries("bits")
    assert caught.value.lines == (f'{file}:2: bits.mine.diameter: "2,5 mm" is not a length (write 2.5 mm)',)


def test_a_persons_own_entries(write: Write, tmp_path: Path) -> None:
    """What is shipped is not a person's own; what replaces it is."""
    assert profiles_for(tmp_path / "job.toml").own("bits") == ()
    write("profiles/a.toml", BIT.format("straight 3/8 in", "9.4 mm"))
    (found,) = profiles_for(tmp_path / "job.toml").own("bits")
    assert (found.name, found.entry.diameter.mm) == ("straight 3/8 in", 9.4)


def test_a_list_shows_own_entries_first_and_nothing_twice(write: Write, tmp_path: Path) -> None:
    """An entry that replaces a shipped one is listed once, with the person's file as its origin."""
    write("profiles/papers.toml", (shipped_folder() / "papers.toml").read_text(encoding="utf-8"))
    write("profiles/more.toml", (shipped_folder() / "papers.toml").read_text().replace("papers.", "papers.my-"))
    found = profiles_for(tmp_path / "job.toml").entries("papers")
    names = ["a4", "a3", "letter", "tabloid"]
    assert [f.name for f in found] == [f"my-{name}" for name in names] + names
    assert {Path(f.origin).name for f in found} == {"papers.toml", "more.toml"}


def test_an_own_entry_replaces_the_whole_shipped_one(write: Write, tmp_path: Path) -> None:
    """Entries are not merged: what the person's own table leaves out stays out."""
    write("profiles/bushings.toml", '[bushings."bushing 1/2 in"]\ndiameter = "12.68 mm"\n')
    entry = profiles_for(tmp_path / "job.toml").find("bushings", "bushing 1/2 in").entry
    assert (entry.diameter.mm, entry.bore) == (12.68, None)


def test_one_file_may_hold_several_kinds(write: Write, tmp_path: Path) -> None:
    """A file of any name may hold tables of any kind, read in the file's own unit."""
    text = 'units = "in"\n[bits.b]\ndiameter = 0.5\n[bushings.g]\ndiameter = "3/4"\n'
    write("profiles/tools.toml", text)
    profiles = profiles_for(tmp_path / "job.toml")
    assert profiles.find("bits", "b").entry.diameter.mm == 12.7
    assert profiles.find("bushings", "g").entry.diameter.mm == 19.05


def test_other_files_are_left_alone(write: Write, tmp_path: Path) -> None:
    """Only visible *.toml files of the folder itself are profiles; capitals in the ending do not matter."""
    write("profiles/readme.txt", "not TOML = [")
    write("profiles/._bits.toml", "not TOML = [")
    write("profiles/old/bits.toml", "not TOML = [")
    write("profiles/SHOP.TOML", BIT.format("mine", "1 mm"))
    assert profiles_for(tmp_path / "job.toml").find("bits", "mine").entry.diameter.mm == 1


def test_folders_are_optional_but_the_given_one(tmp_path: Path) -> None:
    """Without a folder beside the job and without a configuration, the shipped profiles are all there is."""
    profiles = profiles_for(str(tmp_path / "job.toml"))
    assert profiles.folders == ()
    assert {found.origin for found in profiles.entries("screws")} == {SHIPPED}


def test_a_folder_named_twice_is_read_once(write: Write, tmp_path: Path) -> None:
    """Giving the folder beside the job once more changes nothing, and is no clash of names."""
    write("profiles/a.toml", BIT.format("mine", "1 mm"))
    again = tmp_path / "profiles" / ".." / "profiles"
    assert profiles_for(tmp_path / "job.toml", again).folders == (tmp_path / "profiles",)


def test_a_job_beside_the_shipped_profiles_sees_them_as_shipped() -> None:
    """In a checkout the program's own folder may stand beside a job: its entries still count as shipped."""
    assert profiles_for(shipped_folder().parent / "job.toml").find("papers", "a4").origin == SHIPPED


def test_a_path_is_shown_as_the_person_gave_it(write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A job named by a relative path has its profiles named by one too."""
    write("jobs/profiles/bits.toml", BIT.format("mine", "1 mm"))
    monkeypatch.chdir(tmp_path)
    found = profiles_for(Path("jobs/job.toml")).find("bits", "mine")
    assert found.origin == str(Path("jobs/profiles/bits.toml"))


def test_a_fault_in_another_kind_does_not_stop_a_search(write: Write, tmp_path: Path) -> None:
    """A kind's entries are looked at only when the kind is asked for."""
    write("profiles/a.toml", "[bits.b]\ndiameter = -1\n[papers.p]\nwidth = 1\n" + BIT.format("mine", "1 mm"))
    assert profiles_for(tmp_path / "job.toml").find("screws", "M5").origin == SHIPPED


@pytest.mark.parametrize(
    ("kind", "name", "line"),
    [
        (
            "bits",
            "straigt 3/8 in",
            '"straigt 3/8 in" is not among the bits '
            '(did you mean "straight 3/8 in"? To list them: jigtemplates profiles bits)',
        ),
        (
            "screws",
            "m5",
            '"m5" is not among the screws (did you mean "M5"? To list them: jigtemplates profiles screws)',
        ),
        (
            "processes",
            "waterjet",
            '"waterjet" is not among the processes (known: "laser", "cnc", "paper", "print". '
            "To list them: jigtemplates profiles processes)",
        ),
    ],
)
def test_an_unknown_name_is_met_with_a_near_one(kind: str, name: str, line: str) -> None:
    """A name that is not there gets the nearest that is, or the names there are, and how to list them."""
    with pytest.raises(InputError) as caught:
        Profiles().find(kind, name)
    assert caught.value.lines == (line,)


def test_where_a_name_was_asked_for_starts_the_line() -> None:
    """The caller's file, line and key come before the fault."""
    with pytest.raises(InputError) as caught:
        Profiles().find("papers", "A4", where="rail.toml:7: make.paper")
    assert str(caught.value).startswith('rail.toml:7: make.paper: "A4" is not among the papers')


@pytest.mark.parametrize("ask", [lambda p: p.entries("screw"), lambda p: p.find("screw", "M5")])
def test_an_unknown_kind_is_refused(ask: Callable[[Profiles], object]) -> None:
    """A kind that is none gets the nearest that is one."""
    with pytest.raises(InputError) as caught:
        ask(Profiles())
    assert caught.value.lines == ('"screw" is not a kind of profile (did you mean "screws"?)',)


def test_a_given_folder_must_exist(tmp_path: Path) -> None:
    """A folder the person names and that is not there is an error, never passed over."""
    with pytest.raises(InputError) as caught:
        profiles_for(extra=tmp_path / "none")
    assert caught.value.lines == (
        f"{tmp_path / 'none'}: there is no such folder (give the name of a folder of *.toml files)",
    )


def test_a_given_file_is_not_a_folder(write: Write) -> None:
    """A file given for a folder is an error that says so."""
    path = write("bits.toml", BIT.format("mine", "1 mm"))
    with pytest.raises(InputError) as caught:
        profiles_for(extra=path)
    assert caught.value.lines == (f"{path}: this is not a folder (give the name of a folder of *.toml files)",)


@pytest.mark.parametrize("kind", ["file", "link", "pipe"])
def test_profiles_that_is_no_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str) -> None:
    """A file, a link that leads nowhere or a pipe named profiles beside the job is one line, not passed over."""
    monkeypatch.chdir(tmp_path)
    if kind == "file":
        Path("profiles").write_text("x")
    elif kind == "link":
        Path("profiles").symlink_to("nowhere")
    else:
        if not hasattr(os, "mkfifo"):
            pytest.skip("this system has no named pipes")
        os.mkfifo("profiles")
    what = "this link leads nowhere" if kind == "link" else "this is not a folder"
    with pytest.raises(InputError) as caught:
        profiles_for("rail.toml")
    assert caught.value.lines == (f"profiles: {what} (profiles are searched there: make it a folder, or rename it)",)


def test_a_file_as_it_would_be(here: Path) -> None:
    """Profiles may be looked at as if a file held another text, or were there; the file itself stays."""
    place = here / "profiles" / "tools.toml"
    text = BIT.format("mine", "1 mm")
    assert profiles_for("rail.toml").with_file(place, text).find("bits", "mine").entry.diameter.mm == 1
    assert not place.exists()
    place.parent.mkdir()
    place.write_text(text, encoding="utf-8")
    (place.parent / "more.toml").write_text(BIT.format("other", "2 mm"), encoding="utf-8")
    seen = profiles_for("rail.toml").with_file(place, BIT.format("mine", "3 mm"))
    assert seen.find("bits", "mine").entry.diameter.mm == 3
    assert seen.find("bits", "other").entry.diameter.mm == 2
    assert place.read_text(encoding="utf-8") == text


def test_profiles_go_to_another_process(here: Path) -> None:
    """Those that were read are read anew there, as they are by then."""
    place = here / "profiles" / "tools.toml"
    place.parent.mkdir()
    place.write_text(BIT.format("mine", "1 mm"), encoding="utf-8")
    profiles = profiles_for("rail.toml")
    assert profiles.find("bits", "mine").entry.diameter.mm == 1
    place.write_text(BIT.format("mine", "2 mm"), encoding="utf-8")
    assert profiles.find("bits", "mine").entry.diameter.mm == 1
    assert pickle.loads(pickle.dumps(profiles)).find("bits", "mine").entry.diameter.mm == 2


def test_a_file_that_no_job_sees(here: Path) -> None:
    """A new file in a folder that is not searched changes nothing."""
    seen = profiles_for(here / "rail.toml").with_file(here / "elsewhere" / "tools.toml", BIT.format("mine", "1 mm"))
    assert [found.name for found in seen.own("bits")] == []


def test_the_current_folder_comes_before_the_persons_own(here: Path) -> None:
    """A new file in the current folder wins over the configuration folder."""
    own = here.parent / "home" / "profiles"  # as the fixture has it
    own.mkdir()
    (own / "tools.toml").write_text(BIT.format("mine", "1 mm"), encoding="utf-8")
    before = profiles_for("rail.toml")
    assert before.find("bits", "mine").entry.diameter.mm == 1
    seen = before.with_file(here / "profiles" / "tools.toml", BIT.format("mine", "2 mm"))
    assert seen.find("bits", "mine").entry.diameter.mm == 2
