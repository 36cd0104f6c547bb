"""The day the bit changes for an inlay: a plug that would no longer fit is not made silently."""

from pathlib import Path

import pytest

from jigtemplates.cli import run

JOB = """
title = "Inlay"
units = "mm"
[cut]
shape = "slot"
width = 30
length = 60
depth = 3
[tools]
bit = "5 mm"
bushing = { diameter = "20 mm", bore = "16 mm", stem = "5 mm" }
[plate]
width = 160
height = 160
thickness = 6
[inlay]
plug_bushing = { diameter = "10 mm", bore = "8 mm", stem = "5 mm" }
glue_line = 0
plug_thickness = 3
"""


def test_a_plug_that_fitted_and_would_not_leaves_the_job_as_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """20 and 10 mm with a 5 mm bit fit (forum articles, read); with 4 mm the plug misses by 1 mm a side: status 1."""
    monkeypatch.chdir(tmp_path)
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "inlay.toml").write_text(JOB, encoding="utf-8")
    assert run(["make", "jobs/inlay.toml"]) == 0
    capsys.readouterr()
    assert run(["regenerate", "jobs", "--bit", "4 mm", "--write"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "inlay: with these tools the plug no longer fits its recess, so this job stays as it is" in said
    assert 'jigtemplates inlay --bit "4 mm" says' in said
    assert (jobs / "inlay.toml").read_text(encoding="utf-8") == JOB
