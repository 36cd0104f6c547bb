"""Where opening, plate and holes are those that were made, the plate stays, though its papers change."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.regenerate.test_recorded import job, made, rows, told, tools

Call = Callable[..., Any]
__all__ = ["made"]

UNRELATED = "[bits.six]\ndiameter = 6\n"
WHY = (
    "keep the plate: its opening, outline and holes are those it was made with; only its files change in other "
    "things, such as the plan on paper that tells what to do with bits of your own"
)


def bytes_of(*ends: str) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in Path("templates/j").iterdir() if p.name.endswith(ends)}


def test_an_unrelated_bit(made: Path, call: Call) -> None:
    """A bit of one's own that no job has changes the plan on paper alone: no new plate, and it is counted apart."""
    job(name="k")
    tools(UNRELATED)
    assert rows(call, "--bit", "w 8")[0] == 'With bit "w 8": 2 jobs; keep the plate, renew its files 1, make again 1'
    Path("jobs/k.toml").unlink()
    assert rows(call, "--bit", "w 8")[2:] == [
        "j w 8 + 17 mm 10 x 50 mm 17 mm - keep the plate, renew its files",
        *rows(call, "--bit", "w 8")[3:],
    ]
    assert WHY in " ".join(rows(call, "--bit", "w 8")[3:])
    assert rows(call, "--bit", "w 8")[-1] == "Nothing was written: --write does it."
    one = told(call, "--bit", "w 8")
    assert (one["status"], one["new_opening"], one["keep_template_with_bushing"]) == ("renewed", None, "17 mm")


def test_its_files_are_renewed(made: Path, call: Call) -> None:
    """DXF and SVG stay byte for byte, the papers change, the report says that the plate was kept."""
    tools(UNRELATED)
    drawings, papers = bytes_of(".dxf", ".svg"), bytes_of(".pdf")
    assert rows(call, "--bit", "w 8", "--write")[0] == 'With bit "w 8": 1 job; plate kept, files renewed 1'
    assert bytes_of(".dxf", ".svg") == drawings
    assert bytes_of(".pdf") != papers
    (report,) = Path("jobs").glob("regenerate-*.txt")
    text = " ".join(report.read_text(encoding="utf-8").split())
    assert "plate kept, files renewed 1" in text
    assert WHY in text
    assert told(call, "--bit", "w 8")["status"] == "unchanged"


@pytest.mark.parametrize(
    "pairs",
    [
        [("depth = 20", "depth = 21")],
        [('"Bench"', '"Table"')],
        [('["cnc", "paper"]', '["cnc"]')],
        [("width = 10\n", 'width = "10 mm"\n')],
    ],
    ids=["depth", "title", "targets", "spelling"],
)
def test_what_leaves_the_plate_as_it_is(made: Path, call: Call, pairs: list[tuple[str, str]]) -> None:
    """Changes of the job that no opening, outline or hole shows."""
    job(*pairs)
    tools(UNRELATED)
    assert told(call, "--bit", "w 8")["status"] == "renewed"


@pytest.mark.parametrize(
    "pairs",
    [
        [("width = 10\n", "width = 10.1\n")],
        [("width = 140", "width = 141")],
        [("inset = 10", "inset = 11")],
        [("M5", "M4")],
        [("thickness = 6", "thickness = 8")],
        [("depth = 20", "depth = 20\nx = 69")],
        [("depth = 20", "depth = 20\nangle = 90")],
        [("[make]", '[make]\npair = "left"')],
        [('["cnc", "paper"]', '["cnc", "laser"]\nkerf = 0.2')],
    ],
    ids=["cut", "plate", "inset", "screws", "thickness", "place", "angle", "hand", "kerf"],
)
def test_what_needs_a_new_plate(made: Path, call: Call, pairs: list[tuple[str, str]]) -> None:
    """Each is another plate."""
    job(*pairs)
    assert told(call, "--bit", "w 8")["status"] == "regenerated"


@pytest.mark.parametrize(("name", "status"), [("j_setup.pdf", "renewed"), ("j_cnc.svg", "regenerated")])
def test_a_file_that_is_gone(made: Path, call: Call, name: str, status: str) -> None:
    """Without its drawing nobody knows what a plate was cut from; a sheet of paper is only printed again."""
    (Path("templates/j") / name).unlink()
    assert told(call, "--bit", "w 8")["status"] == status


def test_another_version_of_the_program(made: Path, call: Call) -> None:
    """Its manifest may lack keys that are empty in ours."""
    from jigtemplates.manifest import content_hash

    path = Path("templates/j/j.json")
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    data["program"]["version"] = "0.0.9"
    for key in ("turn", "rebate"):
        del data["job"]["plate"][key]
    path.write_text(json.dumps({**data, "sha256": content_hash(data)}), encoding="utf-8")
    assert told(call, "--bit", "w 8")["status"] == "renewed"
