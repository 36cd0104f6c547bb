"""The options of `sheet`, read strictly."""

import pytest

from jigtemplates.errors import InputError
from jigtemplates.sheets.choice import checked_name, choice_of, copies_for, file_part


def test_what_is_not_given_is_left_to_profiles_and_material() -> None:
    """Only the stock: no gap, no margin, no grain of its own; one of each."""
    choice = choice_of(stocks=["600x300"])
    assert (choice.gap, choice.margin, choice.grain, choice.copies, choice.straight_cuts) == (
        None,
        None,
        None,
        1,
        False,
    )
    assert choice.inches is False


def test_what_is_given_is_kept() -> None:
    """Lengths in their own unit, copies of all and of one, the way of the grain."""
    choice = choice_of(
        stocks=["24 x 12 in"], gap="1/8 in", margin="0 mm", copies=["3", " rail=2"], grain="across", straight_cuts=True
    )
    assert choice.gap is not None
    assert choice.margin is not None
    assert (choice.gap.mm, choice.margin.mm, choice.grain, choice.straight_cuts) == (3.175, 0.0, "across", True)
    assert copies_for(choice, ["rail", "post", "post"]) == {"rail": 2, "post": 3}
    assert choice.inches is True


def test_every_fault_is_said_at_once() -> None:
    """A line for each option that is wrong, in the order of the help."""
    with pytest.raises(InputError) as error:
        choice_of(stocks=["6"], gap="3", margin="-1 mm", copies=["0", "1.5"], grain="acros")
    assert [line.split(":")[0] for line in error.value.lines] == [
        "--stock", "--gap", "--margin", "--copies", "--copies", "--grain",
    ]  # fmt: skip
    assert error.value.lines[1].startswith('--gap: "3" is not a length (the unit is missing')
    assert error.value.lines[2] == "--margin: -1 mm is out of range (write 0 mm to 200 mm)"
    assert error.value.lines[3] == ('--copies: "0" is no number of copies (write 1 to 500, or JOB=NUMBER for one job)')
    assert error.value.lines[5] == '--grain: "acros" is not known here (did you mean "across"?)'


@pytest.mark.parametrize(
    ("copies", "fault"),
    [
        (["2", "3"], "--copies: the number for all jobs is given twice (keep one)"),
        (["a=2", "a=3"], '--copies: "a" is given twice (keep one)'),
        (["501"], '--copies: "501" is no number of copies (write 1 to 500, or JOB=NUMBER for one job)'),
    ],
)
def test_faults_of_copies(copies: list[str], fault: str) -> None:
    """Once for all, once for each job, no more than five hundred."""
    with pytest.raises(InputError) as error:
        choice_of(stocks=["600x300"], copies=copies)
    assert error.value.lines == (fault,)


def test_no_stock_is_a_fault() -> None:
    """There is no size of sheet that everybody has."""
    with pytest.raises(InputError) as error:
        choice_of(stocks=[])
    assert error.value.lines == ("--stock: is missing (the size of the sheets, such as --stock 600x300)",)


def test_copies_of_a_job_that_is_not_there() -> None:
    """The job is named, and the nearest one; 0 of a job leaves it out."""
    with pytest.raises(InputError) as error:
        copies_for(choice_of(stocks=["600x300"], copies=["rall=2"]), ["rail", "post"])
    assert error.value.lines == ('--copies: "rall" is none of the jobs (did you mean "rail"?)',)
    assert copies_for(choice_of(stocks=["600x300"], copies=["rail=0"]), ["rail"]) == {"rail": 0}


def test_too_many_plates() -> None:
    """Five jobs, five hundred of each."""
    with pytest.raises(InputError) as error:
        copies_for(choice_of(stocks=["600x300"], copies=["500"]), "abcde")
    assert error.value.lines == ("--copies: 2500 plates are more than 2000 (lay them in several calls)",)


@pytest.mark.parametrize("name", ["a/b", "", ".hidden", "x" * 61, "ends.", "é", "a b"])
def test_a_name_that_files_cannot_have(name: str) -> None:
    """Letters, digits, -, _ and points, so that every system takes it."""
    with pytest.raises(InputError) as error:
        checked_name(name)
    assert error.value.lines[0].startswith("--name: ")
    assert "cannot name files (letters, digits, -, _ and points; at most 60)" in error.value.lines[0]


def test_a_name_that_is_a_device() -> None:
    """The rule for a job's name holds for a set's as well."""
    with pytest.raises(InputError) as error:
        checked_name("con")
    assert error.value.lines == (
        '--name: "con" cannot name the files made from this job (Windows keeps this name for a device; rename the job)',
    )


def test_names() -> None:
    """A good name stays; of any text the part that files can have."""
    assert checked_name("Shop-2_b.1") == "Shop-2_b.1"
    assert [file_part(text) for text in ("MDF, grün 6", "rail", "…", "x" * 80)] == [
        "MDF-gr-n-6",
        "rail",
        "sheets",
        "x" * 60,
    ]
