"""A cut that names a drawing: what may be written, and every fault in one line at its key."""

from collections.abc import Callable
from pathlib import Path

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.forms import FromFile
from jigtemplates.parameters.load import job_from_text, load_job, load_jobs

LEAF = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">'
    '<rect id="a" width="60" height="30" rx="8"/><circle id="b" cx="45" cy="70" r="12.5"/></svg>'
)
REST = 'bushing = "16 mm"\nclearance = 0.1\n[plate]\nwidth = 140\nheight = 140\nthickness = 6\n'
JobFile = Callable[..., Path]


@pytest.fixture
def job_file(tmp_path: Path) -> JobFile:
    """A job beside leaf.svg whose [cut] has those lines besides shape and depth."""

    def write(*lines: str, depth: str = "8", svg: str = LEAF) -> Path:
        (tmp_path / "leaf.svg").write_text(svg)
        cut = "\n".join(lines)
        head = f'title = "t"\nunits = "mm"\n[cut]\nshape = "outline"\ndepth = {depth}\n{cut}\n[tools]\nbit = "10 mm"\n'
        (tmp_path / "tray.toml").write_text(head + REST)
        return tmp_path / "tray.toml"

    return write


def fault(path: Path) -> tuple[str, ...]:
    """The lines about a job, without the folder it is in."""
    with pytest.raises(InputError) as caught:
        load_job(path)
    return tuple(line.removeprefix(f"{path.parent}/") for line in caught.value.lines)


def test_a_drawing_beside_the_job(job_file: JobFile) -> None:
    """Extents, tightest corner and largest circle come from the drawing, its hash from its bytes."""
    cut = load_job(job_file('file = "leaf.svg"', 'select = "a"')).cut
    assert (cut.shape, cut.width, cut.length, cut.depth, cut.corner_radius) == ("outline", 30, 60, 8, 8)
    assert isinstance(cut.form, FromFile)
    assert cut.form.widest_inside == pytest.approx(30, abs=0.003)
    assert (cut.form.file, cut.form.select, cut.form.scale, cut.form.units) == ("leaf.svg", "a", 1.0, None)
    # sha256sum leaf.svg, with the text above
    import hashlib

    assert cut.form.sha256 == hashlib.sha256(LEAF.encode()).hexdigest()


def test_scale(job_file: JobFile) -> None:
    """Half the scale is half the size."""
    cut = load_job(job_file('file = "leaf.svg"', 'select = "a"', "scale = 0.5")).cut
    assert (cut.width, cut.length) == (15, 30)


def test_a_folder_below_or_beside(job_file: JobFile, tmp_path: Path) -> None:
    """A drawing may lie in a folder below the job's, or beside it."""
    path = job_file('file = "drawn/leaf.svg"', 'select = "a"')
    (tmp_path / "drawn").mkdir()
    (tmp_path / "leaf.svg").rename(tmp_path / "drawn" / "leaf.svg")
    assert load_job(path).cut.width == 30


def test_units_for_a_drawing_without(job_file: JobFile) -> None:
    """Bare numbers of a drawing are read in the unit that the job gives."""
    bare = LEAF.replace("90mm", "90")
    lines = ('file = "leaf.svg"', 'select = "a"')
    assert load_job(job_file(*lines, 'units = "in"', "scale = 0.1", svg=bare)).cut.length == pytest.approx(152.4)
    (line,) = fault(job_file(*lines, svg=bare))
    assert line == (
        "tray.toml:6: cut.file: leaf.svg: does not say how large it is: width and height lack a unit "
        '(write units = "mm" or units = "in")'
    )


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (['file = "gone.svg"'], "tray.toml:6: cut.file: gone.svg: there is no such file beside the job"),
        (
            ['file = "leaf.svg"'],
            'tray.toml:6: cut.file: leaf.svg: holds 2 separate contours: rect "a" at (30, 15), circle "b" at (45, 70) '
            '(write select = "a", or delete the others)',
        ),
        (
            ['file = "/etc/leaf.svg"'],
            'tray.toml:6: cut.file: "/etc/leaf.svg" is not a place beside the job (write it from the job\'s folder on, '
            'such as "leaf.svg", with /)',
        ),
        (
            ['file = "C:/leaf.svg"'],
            'tray.toml:6: cut.file: "C:/leaf.svg" is not a place beside the job (write it from the job\'s folder on, '
            'such as "leaf.svg", with /)',
        ),
        (
            ["file = 'a\\leaf.svg'"],
            'tray.toml:6: cut.file: "a\\leaf.svg" is not a place beside the job (write it from the job\'s folder on, '
            'such as "leaf.svg", with /)',
        ),
        (
            ['file = "leaf.pdf"'],
            'tray.toml:6: cut.file: "leaf.pdf" is neither .svg nor .dxf (save the drawing as one of them)',
        ),
        (["file = 3"], 'tray.toml:6: cut.file: 3 is not text (put it in quotes, such as "Bench rail")'),
        (
            ['file = "leaf.svg"', 'scale = "2"'],
            'tray.toml:7: cut.scale: "2" is not a factor (write a number without quotes, such as 0.5)',
        ),
        (['file = "leaf.svg"', "scale = 0"], "tray.toml:7: cut.scale: 0 is not a factor from 0.001 to 1000"),
        (
            ['file = "leaf.svg"', "scale = nan"],
            "tray.toml:7: cut.scale: nan is not a factor (write a number without quotes, such as 0.5)",
        ),
    ],
)
def test_faults(job_file: JobFile, lines: list[str], said: str) -> None:
    """What is wrong stands at the line of its key, and a fault of the drawing names the drawing."""
    (line,) = fault(job_file(*lines))
    assert line == said


def test_each_fault_of_a_drawing_is_a_line(job_file: JobFile) -> None:
    """Two open contours are two lines at the same key."""
    open_ones = LEAF.replace("<rect", '<path d="M0 0 H9"/><path d="M0 5 H9"/><rect')
    found = fault(job_file('file = "leaf.svg"', svg=open_ones))
    assert len(found) == 2
    assert all(line.startswith("tray.toml:6: cut.file: leaf.svg: path number ") for line in found)


def test_a_job_from_text_has_no_folder() -> None:
    """Where the job is no file there is nothing to look beside."""
    text = f'title = "t"\n[cut]\nshape = "outline"\nfile = "leaf.svg"\ndepth = "8 mm"\n[tools]\nbit = "10 mm"\n{REST}'
    with pytest.raises(InputError) as caught:
        job_from_text(
            text.replace(" = 140", ' = "140 mm"').replace(" = 6\n", ' = "6 mm"\n').replace("= 0.1", '= "0.1 mm"')
        )
    assert caught.value.lines == (
        'job:4: cut.file: "leaf.svg" cannot be looked for: the job itself is no file (load it from one)',
    )


def test_sizes_of_a_family_share_a_drawing(tmp_path: Path) -> None:
    """Each member may select its own contour; a fault names the member."""
    (tmp_path / "leaf.svg").write_text(LEAF)
    head = 'title = "t"\nunits = "mm"\n[cut]\nshape = "outline"\nfile = "leaf.svg"\ndepth = 8\n'
    both = '[cuts.plate]\nselect = "a"\n[cuts.cup]\nselect = "b"\n[tools]\nbit = "10 mm"\n'
    path = tmp_path / "set.toml"
    path.write_text(head + both + REST)
    assert [(job.member, job.cut.length) for job in load_jobs(path)] == [("plate", 60), ("cup", 25)]
    path.write_text(head + both.replace('"b"', '"c"') + REST)
    with pytest.raises(InputError, match=r'cuts\.cup.*nothing in it is called "c"'):
        load_jobs(path)
