"""How the files are written: units, printers."""

from collections.abc import Callable

Said = Callable[..., list[tuple[str, str, str]]]


def test_r12_has_no_unit(said: Said) -> None:
    """DXF R12 cannot state its unit: a warning that names it, only where a DXF is made."""
    assert said("dxf-without-unit", make={"dxf": {"version": "R12", "units": "in"}}) == [
        (
            "warning",
            "make.dxf",
            "a DXF file of version R12 cannot state its unit: tell the program that opens it that one unit is 1 in, as "
            "the file's name says, and check the overall size",
        )
    ]
    assert said("dxf-without-unit") == []
    assert said("dxf-without-unit", make={"for": ["paper"], "dxf": {"version": "R12"}}) == []


def test_printer_far_off(said: Said) -> None:
    """A correction of more than 1 % is a warning; 99.5 mm for 100 is none."""
    assert said("printer-correction", make={"printed_bar": {"across": 98, "up": 100}}) == [
        (
            "warning",
            "make.printed_bar",
            "the paper pattern is corrected by 1.0204 across and 1 up, and more than 1 % is unusual: see that the "
            "printer is set to 100 % and measure the bars again",
        )
    ]
    assert said("printer-correction", make={"printed_bar": {"across": 99.5, "up": 100.9}}) == []
    assert said("printer-correction", make={"for": ["cnc"], "printed_bar": {"across": 98, "up": 100}}) == []
