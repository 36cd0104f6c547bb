"""What hostile jobs found in inlays."""

import shutil
from pathlib import Path

from jigtemplates.parameters.load import load_job
from jigtemplates.report import report_on

SAMPLES = Path(__file__).parents[2] / "samples"

JOB = """
title = "Seven brackets over each other"
units = "mm"
[cut]
shape = "outline"
file = "bracket.dxf"
select = "recess"
depth = 0.1
repeat = { count = 7, pitch = 82.092 }
[tools]
bit = 2
bushing = 37.908
[plate]
width = 300
height = 300
thickness = 3
[inlay]
plug_bushing = 2
glue_line = 0.163
plug_thickness = 2
"""


def test_openings_over_each_other_are_not_laid_over(tmp_path: Path) -> None:
    """Seven openings that run into each other, which took minutes to route in place: stopped, and nothing is routed."""
    shutil.copy(SAMPLES / "bracket.dxf", tmp_path)
    (tmp_path / "seven.toml").write_text(JOB, encoding="utf-8")
    report = report_on(load_job(tmp_path / "seven.toml"))
    assert "holes-overlap" in {finding.code for finding in report.findings}
    assert report.case.inlay is None
