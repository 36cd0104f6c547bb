"""Names that some system cannot have, that lead elsewhere, or are too long: refused in a line, or made into good ones.

Whatever a job, a size, a holder, a paper, a gauge or a set of sheets is called: what is written lies below the folder
that was asked for, and every name in it can be had by files on Windows, macOS and Linux alike.
"""

import re
import shutil
import unicodedata
from pathlib import Path

import pytest
from crash_scenes import SIZES, TOOLS, Stage, job, tree
from crash_server import Ended, Server
from ours import blames_itself

#: What Windows keeps for devices, whatever comes behind a dot (naming rules of its file API, from memory).
DEVICE = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])( *\..*)?", re.IGNORECASE)
#: Bytes of a name that Linux takes, and characters that Windows and macOS do.
LONGEST = 255
NAMES = (
    "con", "NUL", "aux.x", "nul.txt", "com1", "COM¹", "lpt9.a.b", "conin$", "rail.", "rail ", " rail", "a<b", "a>b",
    "a:b", 'a"b', "a|b", "a?b", "a*b", "a\\b", "a\tb", "a\nb", "é", "e\u0301", "ﬁ", "x" * 80, "x" * 101, "x" * 250,
    "漢" * 40, "漢" * 80, "😀" * 60, "-rail", "--help", ".rail", "..", "...", ".", "~", "$HOME", "%TEMP%", "a'b",
    "a\u00a0", "a\u202eb", "a\u200bb", "a/b", "../b", "a/../../b", "/b", "a;b", "a&b", "`b`", "\udcff",
)  # fmt: skip
#: Few of them, for the quick run: a device, a device with an ending, a way out, a sign, letters of several parts.
FEW = ("con", "../../b", "a:b", "e\u0301", "漢" * 80)
PAPER = "width = 210\nheight = 297\nmargin = 10\nfoot = 15\noverlap = 10\n"


def bad(folder: Path) -> list[str]:
    """Names below a folder that some system cannot have, and pairs that some would take for one."""
    seen: dict[str, str] = {}
    return [name for path in tree(folder) for name in path.rstrip("/").split("/")[-1:] if _is_bad(name, path, seen)]


def _is_bad(name: str, path: str, seen: dict[str, str]) -> bool:
    same = unicodedata.normalize("NFC", path).casefold()
    return bool(
        seen.setdefault(same, path) != path
        or DEVICE.fullmatch(name)
        or re.search(r'[<>:"\\|?*\x00-\x1f]', name)
        or name[-1] in " ."
        or len(name.encode()) > LONGEST
    )


def written(server: Server, folder: Path, *args: str) -> Ended:
    """A call that ends with 0, or with a line for each fault; nothing outside of out has changed."""
    before = tree(folder)
    ended = server.run(folder, args)
    assert ended.status in (0, 2), ended
    assert (ended.status == 0) == (not ended.err), ended
    assert not blames_itself(ended.err), ended
    assert bad(folder / "out") == []
    shutil.rmtree(folder / "out", ignore_errors=True)
    assert tree(folder) == before
    assert [path.name for path in folder.parent.iterdir()] == ["shop"]
    return ended


@pytest.fixture
def shop(stage: Stage, tmp_path: Path) -> Path:
    """An empty folder, deep enough to see what leads out of it."""
    folder = tmp_path / "a" / "b" / "shop"
    folder.mkdir(parents=True)
    return folder


@pytest.fixture(params=[FEW, pytest.param(NAMES, marks=pytest.mark.slow)], ids=["few", "all"])
def names(request: pytest.FixtureRequest) -> tuple[str, ...]:
    """The names to try."""
    return tuple(request.param)


def held_by_disk(path: Path, text: str) -> bool:
    """Write a file, where the disk of this machine can have one of that name."""
    try:
        path.write_text(text)
    except (OSError, ValueError):
        return False
    return path.parent.samefile(path.resolve().parent) and path.is_file()


def test_jobs(server: Server, shop: Path, names: tuple[str, ...]) -> None:
    """Job files of every name that this disk can have; good ones are made."""
    made = []
    for name in (*names, "Schlüssel ½"):
        if "/" not in name and held_by_disk(shop / f"{name}.toml", job(bit="8 mm", bushing="17 mm")):
            if written(server, shop, "make", f"./{name}.toml", "--out", "out").status == 0:
                made.append(name)
            (shop / f"{name}.toml").unlink()
    assert "Schlüssel ½" in made
    assert "con" not in made


def test_sizes(server: Server, shop: Path, names: tuple[str, ...]) -> None:
    """Sizes of a family; of two that differ in capitals alone neither is made."""
    for name in names:
        quoted = name.encode("unicode_escape").decode().replace('"', '\\"') if name.isascii() else name
        if held_by_disk(shop / "rail.toml", job(bit="8 mm", bushing="17 mm") + f'[cuts."{quoted}"]\n'):
            written(server, shop, "make", "rail.toml", "--out", "out")
    (shop / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm") + SIZES + "[cuts.SMALL]\n")
    assert written(server, shop, "make", "rail.toml", "--out", "out").status == 2


@pytest.mark.parametrize("kind", ["holders", "bushings", "papers"])
def test_entries(server: Server, shop: Path, kind: str, names: tuple[str, ...]) -> None:
    """Names that profiles give, which become parts of names of files."""
    entry = {
        "holders": TOOLS.split("[holders.frame]")[1],
        "bushings": "\ndiameter = 17\nbore = 14\nstem = 5\n",
        "papers": "\n" + PAPER,
    }[kind]
    (shop / "profiles").mkdir()
    (shop / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm", targets='["paper"]'))
    for name in filter(str.isprintable, names):
        quoted = name.replace("\\", "\\\\").replace('"', '\\"')
        (shop / "profiles" / "own.toml").write_text(f'units = "mm"\n[{kind}."{quoted}"]{entry}')
        if kind == "holders":
            written(server, shop, "holder", "--out", "out", "--for", "laser", "--", name)
        elif kind == "bushings":
            written(server, shop, "gauge", "bushing", f"--bushing={name}", "--for", "laser", "--out", "out")
        else:
            written(server, shop, "gauge", "printer", f"--paper={name}", "--out", "out")
            text = job(bit="8 mm", bushing="17 mm", targets='["paper"]').replace('["a4"]', f'["{quoted}"]')
            (shop / "rail.toml").write_text(text)
            written(server, shop, "make", "rail.toml", "--out", "out")


def test_sheets(server: Server, shop: Path, names: tuple[str, ...]) -> None:
    """Sets of sheets, called by --name or after a folder."""
    for name in names:
        if name.isprintable():
            (shop / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm"))
            written(server, shop, "sheet", "rail.toml", "--stock", "600x300", "--out", "out", f"--name={name}")
        folder = shop / name
        if "/" in name or name in (".", "..", "..."):
            continue
        try:
            folder.mkdir()
        except (OSError, ValueError):
            continue
        (folder / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm"))
        written(server, shop, "sheet", f"./{name}", "--stock", "600x300", "--out", "out")


@pytest.mark.parametrize(
    "command", ["make rail.toml --out", "new", "new --schema", "tools add bits b diameter=3 --file"]
)
def test_places(server: Server, tmp_path: Path, command: str, names: tuple[str, ...]) -> None:
    """A folder or file that is asked for by such a name, or by a path longer than any system takes, is made there or
    refused in one line a file; nothing is left of it."""
    folder = tmp_path / "shop"
    folder.mkdir()
    (folder / "rail.toml").write_text(job(bit="8 mm", bushing="17 mm"))
    for name in (*names, "/".join(["y" * 200] * 25), "y" * 300, "rail.toml/x"):
        if name.startswith(("/", "-")) or "\udcff" in name or not name.isprintable():
            continue
        before = tree(folder)
        ended = server.run(folder, (*command.split(), name))
        assert ended.status in (0, 2), ended
        assert not blames_itself(ended.err), ended
        if ended.status:
            assert len(ended.err.splitlines()) == 1, ended
            assert tree(folder) == before
