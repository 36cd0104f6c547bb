"""Is there anything to look at in how the files are to be written?"""

from collections.abc import Iterator

from jigtemplates.checks.finding import Case, Finding, warning

#: A printer's correction beyond this is unusual (the rule of output-files for paper patterns).
USUAL = (0.99, 1.01)


def check_output(case: Case) -> Iterator[Finding]:
    """A DXF version that cannot state its unit, a printer far from true size, what is printed in 3D."""
    make = case.job.make
    if make.printing is not None:
        from jigtemplates.checks.printing import check_printing  # other jobs need not wait for it

        yield from check_printing(case)
    if make.dxf.version == "R12" and {"laser", "cnc"} & set(make.targets):
        yield warning(
            "dxf-without-unit",
            "make.dxf",
            f"a DXF file of version R12 cannot state its unit: tell the program that opens it that one unit is 1 "
            f"{make.dxf.unit}, as the file's name says, and check the overall size",
        )
    if "paper" in make.targets and not all(USUAL[0] <= factor <= USUAL[1] for factor in make.correction):
        across, up = (f"{factor:.4f}".rstrip("0").rstrip(".") for factor in make.correction)
        yield warning(
            "printer-correction",
            "make.printed_bar",
            f"the paper pattern is corrected by {across} across and {up} up, and more than 1 % is unusual: see that "
            "the printer is set to 100 % and measure the bars again",
        )
