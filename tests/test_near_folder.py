"""A folder that is not there: one of nearly that name is suggested."""

from pathlib import Path

from jigtemplates.near_folder import no_such_folder


def test_a_near_name(tmp_path: Path) -> None:
    """Folders alone are suggested, with the path that leads there, and none that are hidden."""
    (tmp_path / "templates").mkdir()
    (tmp_path / ".template").mkdir()
    (tmp_path / "templat").touch()
    assert no_such_folder(tmp_path / "template", "x") == (
        f'there is no such folder (did you mean "{_shown(tmp_path / "templates")}"?)'
    )
    assert no_such_folder(tmp_path / "templat", "give one") == "this is not a folder (give one)"
    (tmp_path / "drawing").symlink_to("drawing")  # leads to itself
    assert no_such_folder(Path("a\0") / "b", "give one") == "there is no such folder (give one)"
    assert no_such_folder(tmp_path / "drawings", "give one") == "there is no such folder (give one)"
    assert no_such_folder(tmp_path / "a" / "b", "give one") == "there is no such folder (give one)"


def _shown(path: Path) -> str:
    return str(path) if len(str(path)) <= 40 else str(path)[:39] + "…"
