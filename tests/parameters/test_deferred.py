"""A table whose model waits until it is needed: the same faults in the same places, and no cost before."""

import subprocess
import sys

import pytest

from jigtemplates.errors import InputError
from jigtemplates.parameters.load import job_from_text

TEXT = """\
title = "Inlay"
units = "mm"
[cut]
shape = "round"
diameter = 40
depth = 4
[tools]
bit = "5 mm"
bushing = "20 mm"
[plate]
width = 120
height = 120
thickness = 6
"""

#: Reads a job in a program of its own and says whether the table's model was built.
ASK = """
from jigtemplates.parameters.inlay_table import InlayTable
from jigtemplates.parameters.load import job_from_text
job_from_text({text!r})
print(InlayTable.__pydantic_complete__)
"""


@pytest.mark.parametrize(("more", "built"), [("", "False"), ('[inlay]\nplug_bushing = "10 mm"\n', "True")])
def test_built_only_when_it_is_there(more: str, built: str) -> None:
    """A job without the table does not build its model."""
    said = subprocess.run(
        [sys.executable, "-c", ASK.format(text=TEXT + more)], capture_output=True, text=True, check=True, timeout=60
    )
    assert said.stdout.strip() == built


def test_faults_keep_their_places() -> None:
    """Two faults deep in the table and one beside it, each with its line and key."""
    more = "[inlay]\nplug_bushing = { diameter = 10, bore = 12, steam = 5 }\nglue_line = -1\n[make]\nkerf = -1\n"
    with pytest.raises(InputError) as error:
        job_from_text(TEXT + more)
    assert error.value.lines == (
        'job:15: inlay.plug_bushing.bore: "12 mm" is not smaller than the outside diameter, "10 mm" (measure again)',
        'job:15: inlay.plug_bushing: unknown key "steam" (did you mean "stem"?)',
        "job:16: inlay.glue_line: -1 is less than nothing (write 0 or more)",
        "job:18: make.kerf: -1 is less than nothing (write 0 or more)",
    )


def test_something_that_is_no_table() -> None:
    """As of every other table."""
    with pytest.raises(InputError) as error:
        job_from_text("inlay = 3\n" + TEXT)
    assert error.value.lines == ("job:1: inlay: 3 does not fit here (write a table of keys)",)
