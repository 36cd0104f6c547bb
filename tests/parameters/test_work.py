"""Router, nut, stock and loose tenons of a job: what is kept, what is assumed aloud, what is refused."""

from collections.abc import Callable

import pytest

from jigtemplates.parameters.entries import RectangleBase, Router
from jigtemplates.parameters.job import Job, TenonChoice, Work
from jigtemplates.profiles import Profiles

Read = Callable[..., Job]
Faults = Callable[..., tuple[str, ...]]


def texts(made: Job) -> tuple[str, ...]:
    """What the job takes for granted, as sentences."""
    return tuple(one.text for one in made.assumptions)


def with_table(text: str) -> tuple[str, str]:
    """The change that puts a table before [make]; its first line is line 19."""
    return ("[make]", text + "\n[make]")


def test_without_them_there_are_none(job: Read) -> None:
    """A job need not name a router, its stock or tenons, and then assumes nothing of them."""
    made = job()
    assert (made.tools.router, made.tools.bushing.nut, made.work, made.tenon) == (None, None, None, None)
    assert (made.file_stem, made.member) == ("rail", None)
    assert texts(made) == ('bore of the bushing taken from "bushing 1/2 in", which has the same diameter',)


def test_a_router_is_known_by_name(job: Read) -> None:
    """The router's name brings what the profiles say of it."""
    router = job(("[plate]", 'router = "generic large plunge, flat side"\n[plate]')).tools.router
    assert router is not None
    assert isinstance(router.base, RectangleBase)
    assert (router.base.width.mm, router.base.depth.mm) == (165, 145)


def test_an_unknown_router(faults: Faults) -> None:
    """A name that no profile has gets the nearest one."""
    line = (
        'rail:13: tools.router: "generic midsize plunge" is no router in the profiles (did you mean "generic mid-size '
        'plunge"?)'
    )
    assert faults(("[plate]", 'router = "generic midsize plunge"\n[plate]')) == (line,)


def test_the_nut_of_a_bushing(job: Read) -> None:
    """The nut stays with its bushing."""
    made = job(('"1/2 in"', '{ diameter = "1/2 in", nut = { diameter = 30, height = "1/4 in" } }')).tools.bushing
    assert made.nut is not None
    assert (made.nut.diameter.mm, made.nut.height.mm) == (30, 6.35)


def test_the_stock(job: Read) -> None:
    """Sizes of the stock in mm, and where the cut lies in it."""
    table = '[work]\nthickness = 20\nheight = "3 in"\nlength = 400\nfrom_face = 8\nfrom_end = 50'
    made = job(with_table(table))
    assert made.work == Work(thickness=20, height=76.2, length=400, from_face=8, from_end=50)
    assert not any("stock" in one for one in texts(made))


def test_the_middle_of_the_stock_is_assumed_aloud(job: Read) -> None:
    """Without from_face the cut lies in the middle of the thickness, and the job says so."""
    made = job(with_table("[work]\nthickness = 20\nheight = 60"))
    assert made.work == Work(thickness=20, height=60, length=None, from_face=10, from_end=None)
    assert texts(made)[-1] == (
        "the cut is taken to be in the middle of the stock's thickness (work.from_face is not set)"
    )


def test_the_height_need_not_be_known(job: Read) -> None:
    """A job that does not say how large the stock is in the direction of the depth is read without it."""
    made = job(with_table("[work]\nthickness = 20\nfrom_face = 8")).work
    assert made == Work(thickness=20, height=None, length=None, from_face=8, from_end=None)


#: Changes that make the rail's slot a gain 1 in wide.
GAIN = (('"slot"', '"hinge"'), ("width  = 10", 'width = "1 in"'))


def test_a_gain_lies_at_the_edge_of_the_work(job: Read) -> None:
    """Half of a gain 1 in wide is 12.7 mm: there its middle lies in stock of 1-3/8 in, and nothing is assumed."""
    made = job(*GAIN, with_table('[work]\nthickness = "1-3/8 in"'))
    assert made.work is not None
    assert made.work.from_face == pytest.approx(12.7)
    assert not any("from_face" in one for one in texts(made))


def test_a_gain_with_its_own_distance(job: Read, faults: Faults) -> None:
    """A from_face that says the same is read, within 0.01 mm; half the thickness would leave a wall and is refused."""
    table = '[work]\nthickness = "1-3/8 in"\nfrom_face = '
    same = job(*GAIN, with_table(f"{table}12.709")).work
    assert same is not None
    assert same.from_face == 12.709
    assert faults(*GAIN, with_table(f'{table}"11/16 in"')) == (
        'rail:21: work.from_face: "11/16 in" does not go with a hinge gain, which is open to the edge of the work: its '
        "middle lies half its width, 1/2 in (12.7 mm), from there (leave from_face out)",
    )
    assert len(faults(*GAIN, with_table(f"{table}12.72"))) == 1


@pytest.mark.parametrize(
    ("repeat", "is_refused"),
    [
        ("count = 3, pitch = 60", False),
        ("count = 3, pitch = 60, direction = -180", False),
        ("count = 3, pitch = 60, direction = 90", True),
        ("count = 3, pitch = 60, rows = 2, row_pitch = 40", True),
        ("count = 3, ring = 80", True),
    ],
)
def test_gains_that_are_not_at_one_edge(job: Read, faults: Faults, repeat: str, is_refused: bool) -> None:
    """End to end they lie at one edge of the work; side by side, in rows or on a ring they do not."""
    cut = ("angle  = 0", f"angle  = 0\nrepeat = {{ {repeat} }}")
    work = with_table("[work]\nthickness = 30")
    if is_refused:
        assert faults(*GAIN, cut, work) == (
            "rail:9: cut.repeat: lays gains where they are not all open to one edge of the work (lay them end to end: "
            "direction = 0, in one row; or leave [work] out)",
        )
    else:
        assert job(*GAIN, cut, work).work is not None
    assert job(*GAIN, cut).work is None


def test_the_work_belongs_to_the_first_cut(job: Read) -> None:
    """A from_face for a first cut that is no gain stands beside a gain."""
    second = '[[cut]]\nshape = "hinge"\nwidth = 10\nlength = 30\ndepth = 3\nx = 100\n[tools]'
    made = job(("[cut]", "[[cut]]"), ("[tools]", second), ("[make]", "[work]\nthickness = 30\nfrom_face = 8\n[make]"))
    assert made.work is not None
    assert made.work.from_face == 8


def test_tenons(job: Read) -> None:
    """Everything that is given is kept, and nothing is assumed."""
    table = "joints = 8\nfit = 0\nglue_room = 2\nmate_depth = 20\nedge = 'square'\nkerf = 2.5\nwaste = 0\nstrip = 900"
    made = job(with_table(f"[tenon]\n{table}"))
    assert made.tenon == TenonChoice(8, 0, 2, 20, "square", 2.5, 0, 900)
    assert not any("tenon" in one for one in texts(made))


def test_tenons_as_usual(job: Read) -> None:
    """A number of joints is enough: fit 0.1 mm, 1/16 in for glue, the same depth on both sides, all said."""
    made = job(with_table("[tenon]\njoints = 1"))
    assert made.tenon == TenonChoice(1, 0.1, 1.5875, 28, "round", 3, 20, None)
    assert texts(made)[-2:] == (
        "for the tenons, fit 0.1 mm, glue_room 1/16 in, kerf 3 mm, waste 20 mm assumed (not set in [tenon])",
        "the other mortise is taken to be as deep as this one (tenon.mate_depth is not set)",
    )


def test_a_tenon_of_a_rectangle_is_square(job: Read) -> None:
    """Without a word, tenons for a rectangle have square edges."""
    made = job(('"slot"', '"rectangle"'), with_table("[tenon]\njoints = 1"))
    assert made.tenon is not None
    assert made.tenon.edge == "square"


@pytest.mark.parametrize(
    ("table", "lines"),
    [
        (
            "[work]",
            ("rail:19: work.thickness: is missing (thickness of the stock, across the cut's width)",),
        ),
        (
            "[work]\nthickness = 20\nheight = 60\nfrom_face = 20",
            ('rail:22: work.from_face: "20 mm" is not smaller than the thickness, "20 mm" (measure again)',),
        ),
        (
            "[work]\nthickness = 20\nheight = 60\nlength = 100\nfrom_end = 100",
            ('rail:23: work.from_end: "100 mm" is not smaller than the length, "100 mm" (measure again)',),
        ),
        ("[work]\nthickness = 20\nheight = 60\nfrom_top = 1", None),
        ("[tenon]", ("rail:19: tenon.joints: is missing (how many joints, one tenon each)",)),
        ("[tenon]\njoints = 0", ("rail:20: tenon.joints: 0 is not a number of joints (write 1 to 1000)",)),
        ("[tenon]\njoints = 1001", ("rail:20: tenon.joints: 1001 is not a number of joints (write 1 to 1000)",)),
        (
            '[tenon]\njoints = "4"',
            ('rail:20: tenon.joints: "4" does not fit here (write a whole number, without quotes)',),
        ),
        (
            '[tenon]\njoints = 4\nedge = "rond"\nkerf = -1\nmate_depth = 0',
            (
                'rail:21: tenon.edge: "rond" is not known here (did you mean "round"?)',
                "rail:22: tenon.kerf: -1 is less than nothing (write 0 or more)",
                "rail:23: tenon.mate_depth: 0 is not a size (write a length greater than 0)",
            ),
        ),
    ],
)  # fmt: skip
def test_each_fault_has_one_line(faults: Faults, table: str, lines: tuple[str, ...] | None) -> None:
    """A value that cannot be right is one line at its key."""
    found = faults(with_table(table))
    assert found == lines or (lines is None and found[0].startswith('rail:22: work: unknown key "from_top"'))


def test_the_shipped_routers_are_invented_and_whole() -> None:
    """Every shipped router says that it is invented, and has every size, so that an example can use it."""
    for found in Profiles().entries("routers"):
        router = found.entry
        assert isinstance(router, Router)
        assert router.note is not None
        assert router.note.startswith("invented")
        assert None not in (router.base_hole, router.travel, router.collet_to_base, router.nut_diameter)
        assert router.collets
