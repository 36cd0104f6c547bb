"""The option `--for` of all commands that have it."""

import click
import pytest

from jigtemplates.commands.targets import TargetsCommand, for_option
from jigtemplates.errors import InputError


@click.command(cls=TargetsCommand)
@click.argument("rest", nargs=-1)
@for_option(("laser", "cnc"), "What for.", "does not cut sheets")
def asked(rest: tuple[str, ...], targets: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give back what was read."""
    return rest, targets


def test_several_names_stand_in_a_row_and_what_follows_does_not_belong_to_them() -> None:
    """`--for laser cnc JOB` is two targets and a job."""
    read = asked.main(["--for", "laser", "cnc", "rail.toml"], standalone_mode=False)
    assert read == (("rail.toml",), ("laser", "cnc"))


@pytest.mark.parametrize(
    ("name", "instead"),
    [("paper", "write laser or cnc"), ("lazer", 'did you mean "laser"?'), ("moon", 'known: "laser", "cnc"')],
)
def test_a_name_that_is_not_allowed_is_refused_in_the_words_of_the_command(name: str, instead: str) -> None:
    """A target of other commands is not taken for a slip of the pen; every such name has a line."""
    with pytest.raises(InputError) as caught:
        asked.main(["--for", name, "--for", "laser", "--for", name], standalone_mode=False)
    assert caught.value.lines == (f'--for: "{name}" does not cut sheets ({instead})',) * 2
