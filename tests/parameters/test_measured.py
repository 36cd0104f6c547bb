"""Diameters given as sold and as measured, wherever the diameter of a bit or a bushing stands."""

import pickle
from collections.abc import Callable
from fractions import Fraction

import pytest

from jigtemplates.lengths import Length, Measured, full_text, parse_length, sold_as
from jigtemplates.parameters.job import Job
from jigtemplates.parameters.load import job_from_text
from jigtemplates.profiles import Profiles

Read = Callable[..., Job]
Faults = Callable[..., tuple[str, ...]]

HALF = parse_length("1/2 in")
MEASURED = Measured(Fraction("12.68"), "12.68 mm", HALF, parse_length("0.02 mm"))


def bushing(table: str) -> tuple[str, str]:
    """The change that gives the good job's bushing this diameter."""
    return ('bushing   = "1/2 in"', f"bushing = {{ diameter = {table} }}")


def test_the_measured_size_counts_and_the_nominal_one_names(job: Read) -> None:
    """Everything is computed with what was measured; the label has what is sold; both and the doubt are kept."""
    made = job(bushing('{ nominal = "1/2 in", measured = "12.68 mm", within = 0.02 }')).tools.bushing
    assert made.diameter == MEASURED
    assert (made.diameter.mm, made.diameter.text, made.label) == (12.68, "12.68 mm", "1/2 in")
    assert made.typed is False


def test_a_nominal_size_alone_is_a_plain_length(job: Read) -> None:
    """A table without a measurement says no more than the size itself, so it is no measured length."""
    diameter = job(bushing('{ nominal = "1/2 in" }')).tools.bushing.diameter
    assert diameter == HALF
    assert type(diameter) is Length


def test_a_measurement_may_be_of_unknown_quality(job: Read) -> None:
    """`within` may be left out."""
    diameter = job(bushing('{ nominal = "1/2 in", measured = 12.68 }')).tools.bushing.diameter
    assert diameter == Measured(Fraction("12.68"), "12.68 mm", HALF, None)


@pytest.mark.parametrize("day", ["2026-11-25", '"2026-11-25"'])
def test_a_measurement_has_a_day(job: Read, day: str) -> None:
    """As TOML writes dates, or in quotes; what was measured before is kept and not computed with."""
    was = 'was = [{ measured = "12.7 mm", measured_on = 2024-05-01, within = "0.05 mm" }]'
    table = f'{{ nominal = "1/2 in", measured = "12.68 mm", within = "0.02 mm", measured_on = {day}, {was} }}'
    made = job(bushing(table))
    assert made.tools.bushing.diameter == Measured(MEASURED.exact, "12.68 mm", HALF, MEASURED.within, "2026-11-25")
    assert [(one.where, one.on) for one in made.corrections] == [("tools.bushing", "2026-11-25")]


def test_a_bit_of_a_profile_may_be_measured(tmp_path_factory: pytest.TempPathFactory) -> None:
    """In a profile the same table stands; the job's label is the entry's name."""
    folder = tmp_path_factory.mktemp("measured")
    (folder / "a.toml").write_text('[bits."worn"]\ndiameter = { nominal = "3/8 in", measured = "9.4 mm" }\n')
    bit = Profiles([folder]).find("bits", "worn").entry
    assert isinstance(bit.diameter, Measured)
    assert (bit.diameter.mm, bit.diameter.nominal.text) == (9.4, "3/8 in")


def test_a_measured_bushing_has_the_bore_of_its_trade_size(job: Read) -> None:
    """Bore and stem come from the profile of the size it is sold as, whatever this one measures."""
    made = job(bushing("{ nominal = 17, measured = 16.97 }")).tools.bushing
    assert (made.bore, made.stem, made.assumed_from) == (14, 5, "seventeen")


def test_a_measured_length_given_by_a_program_is_kept(job: Read) -> None:
    """A Measured handed over for a tool stays one."""
    assert job(bushing=MEASURED).tools.bushing.diameter == MEASURED


@pytest.mark.parametrize(
    ("table", "line"),
    [
        (
            '{ measured = "12.68 mm" }',
            "rail:11: tools.bushing.diameter.nominal: is missing (size it is sold as; this stands on labels)",
        ),
        (
            '{ nominal = "1/2 in", within = 0.02 }',
            "rail:11: tools.bushing.diameter.within: says how good a measurement is, and there is none (give measured "
            "too, or leave it out)",
        ),
        (
            '{ nominal = "1/2 in", measured = "11.6 mm" }',
            'rail:11: tools.bushing.diameter.measured: "11.6 mm" is more than 1 mm from the nominal size, "1/2 in" '
            "(measure again, or correct the nominal size)",
        ),
        (
            '{ nominal = "1/2 in", measured = "12.6 mm", within = 2 }',
            'rail:11: tools.bushing.diameter.within: "2 mm" is out of range (write 0 to 1 mm)',
        ),
        (
            '{ nominal = "1/2 in", measured = "12.6 mm", within = -0.1 }',
            "rail:11: tools.bushing.diameter.within: -0.1 is less than nothing (write 0 or more)",
        ),
        (
            '{ nominal = "1/2 in", measured_on = 2026-11-25 }',
            "rail:11: tools.bushing.diameter.measured_on: says when it was measured, and there is no measurement (give "
            "measured too)",
        ),
        (
            '{ nominal = "1/2 in", measured = "12.6 mm", measured_on = "25.11.2026" }',
            'rail:11: tools.bushing.diameter.measured_on: "25.11.2026" is not a date (write year-month-day: '
            "2026-11-25)",
        ),
        (
            '{ nominal = "1/2 in", measured = "12.6 mm", measured_on = 2026-11-25T10:00:00 }',
            "rail:11: tools.bushing.diameter.measured_on: 2026-11-25 10:00:00 is not a date (write year-month-day: "
            "2026-11-25)",
        ),
        (
            '{ nominal = "1/2 in", measured = "12.6 mm", was = [{ within = "0.1 mm" }] }',
            "rail:11: tools.bushing.diameter.was[0].measured: is missing (size that was measured)",
        ),
        (
            '{ nominal = "1/2 in", measured = "12,6 mm" }',
            'rail:11: tools.bushing.diameter.measured: "12,6 mm" is not a length (write 12.6 mm)',
        ),
        (
            '{ nominal = "1/2 in", mesured = "12.6 mm" }',
            'rail:11: tools.bushing.diameter: unknown key "mesured" (did you mean "measured"?)',
        ),
        (
            "[12.7]",
            "rail:11: tools.bushing.diameter: a list is not a length (write a number, or text such as 9.5 mm or "
            "3/8 in)",
        ),
    ],
)
def test_each_fault_has_one_line(faults: Faults, table: str, line: str) -> None:
    """A table that cannot be right is one line at its key."""
    assert faults(bushing(table)) == (line,)


def test_a_faulty_measurement_has_no_second_line(faults: Faults) -> None:
    """Where the measured size cannot be read, nothing is said of how good it is."""
    assert len(faults(bushing('{ nominal = "1/2 in", measured = "x", within = 0.02 }'))) == 1


def test_a_millimetre_off_is_believed(job: Read) -> None:
    """Exactly 1 mm from the nominal size is a worn tool still; the bore is compared with what was measured."""
    table = '{ nominal = "12 mm", measured = "11 mm" }'
    assert job(bushing(table)).tools.bushing.diameter.mm == 11


def test_the_bore_is_judged_by_the_measured_size(faults: Faults) -> None:
    """A bore as wide as the measured stem is refused, though the nominal one is wider."""
    change = ('bushing   = "1/2 in"', 'bushing = { diameter = { nominal = "12 mm", measured = 11.5 }, bore = 11.5 }')
    assert faults(change) == (
        'rail:11: tools.bushing.bore: "11.5 mm" is not smaller than the outside diameter, "11.5 mm" (measure again)',
    )


def test_how_it_is_spoken_of() -> None:
    """Text, nominal size and the text with everything; a plain length is its own nominal size."""
    assert (str(MEASURED), sold_as(MEASURED), sold_as(HALF)) == ("12.68 mm", HALF, HALF)
    assert full_text(MEASURED) == "1/2 in nominal, measured 12.68 mm ± 0.02 mm"
    assert full_text(Measured(HALF.exact, HALF.text, HALF)) == "1/2 in nominal, measured 1/2 in"
    assert full_text(HALF) == "1/2 in"
    assert (MEASURED.is_inch, MEASURED.mm) == (False, 12.68)


def test_it_travels_between_processes(job: Read) -> None:
    """A job with a measured tool survives pickling, so that both cores can work."""
    made = job_from_text(
        'title = "t"\n[cut]\nshape = "round"\ndiameter = "20 mm"\ndepth = "5 mm"\n[tools]\nbit = "1/4 in"\n'
        'bushing = { diameter = { nominal = "1/2 in", measured = "12.68 mm" }, nut = { diameter = "30 mm", '
        'height = "5 mm" } }\nrouter = "generic mid-size plunge"\n'
        '[plate]\nwidth = "90 mm"\nheight = "90 mm"\nthickness = "6 mm"\n',
        profiles=Profiles(),
    )
    assert pickle.loads(pickle.dumps(made)) == made
