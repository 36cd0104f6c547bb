"""The files that were made, as lines: one listing whatever made them."""

from jigtemplates.file_lines import file_lines
from jigtemplates.report import WrittenFile

PLATE = WrittenFile("out/rail/rail_cnc.svg", "0", (140.0, 159.70001))
SHEETS = WrittenFile("out/rail/rail_sheets.pdf", "1", (210.0, 297.0))
RECORD = WrittenFile("out/rail/rail.json", "2", None)


def test_a_plate_has_its_size_a_page_says_so_and_a_record_has_none() -> None:
    """Sizes are rounded to thousandths of a millimetre and stand in a column."""
    assert list(file_lines((PLATE, SHEETS, RECORD), inches=False)) == [
        "  Files in out/rail, with the overall size to check with a rule:",
        "    rail_cnc.svg     140 x 159.7 mm = 5.512 x 6.287 in",
        "    rail_sheets.pdf  page 210 x 297 mm = 8.268 x 11.693 in",
        "    rail.json",
    ]


def test_inches_come_first_where_they_are_asked_for() -> None:
    """The same two sizes, the other way round; files that were there already are said to be."""
    assert list(file_lines((PLATE,), inches=True, unchanged=True)) == [
        "  Files in out/rail (unchanged), with the overall size to check with a rule:",
        "    rail_cnc.svg  5.512 x 6.287 in = 140 x 159.7 mm",
    ]


def test_with_a_kerf_the_size_is_that_of_the_finished_plate() -> None:
    """A file of 139.86 x 152.56 mm with a kerf of 0.16 mm: a rule measures 5.500 x 6.000 in on what is cut from it."""
    laser = WrittenFile("out/rail/rail_laser_kerf0.16mm_in.dxf", "0", (139.86, 152.56), (139.7, 152.4))
    assert list(file_lines((laser, RECORD), inches=True))[1:] == [
        "    rail_laser_kerf0.16mm_in.dxf  5.500 x 6.000 in = 139.7 x 152.4 mm once cut",
        "    rail.json",
        "    once cut: the file itself is 0.006 in larger, for the kerf",
    ]
    assert list(file_lines((laser,), inches=False))[1:] == [
        "    rail_laser_kerf0.16mm_in.dxf  139.7 x 152.4 mm = 5.500 x 6.000 in once cut",
        "    once cut: the file itself is 0.16 mm larger, for the kerf",
    ]


def test_files_that_are_larger_by_different_kerfs() -> None:
    """The least and the most."""
    files = [WrittenFile(f"o/{kerf}.svg", "0", (100 + kerf, 50 + kerf), (100.0, 50.0)) for kerf in (0.2, 0.15, 0.18)]
    assert list(file_lines(files, inches=False))[-1] == (
        "    once cut: the file itself is 0.15 to 0.2 mm larger, for the kerf"
    )


def test_other_pages_may_be_named() -> None:
    """A gauge's patterns are pages, a template's are plates."""
    pattern = WrittenFile("g/printer_paper_a4.pdf", "0", (210.0, 297.0))
    assert list(file_lines((pattern,), inches=False))[1].startswith("    printer_paper_a4.pdf  210 x 297 mm")
    assert "  page 210 x 297 mm" in list(file_lines((pattern,), inches=False, pages=".pdf"))[1]


def test_nothing_is_said_of_no_files() -> None:
    """A report without files has no heading either."""
    assert list(file_lines((), inches=False)) == []
