"""Is a size that was typed a rounded conversion of another that is sold? Has the person measured such a tool?"""

from collections.abc import Iterator
from fractions import Fraction

from jigtemplates.checks.finding import Case, Finding, note, warning
from jigtemplates.lengths import Length, Measured, full_text, inch_text, mm_text
from jigtemplates.parameters.job import Bit, Bushing, Owned
from jigtemplates.say import in_inches, written

#: Inch sizes that bits and bushings are sold in: sixteenths from 1/8 to 1-1/2 in, mm (common
#: practice, no source).
INCH_SIZES = tuple(Fraction(254 * n, 160) for n in range(2, 25))

#: Metric sizes that bits and bushings are sold in, mm: references and, for the others, from memory.
METRIC_SIZES: tuple[Fraction, ...] = tuple(
    Fraction(n) for n in (3, 4, 5, 6, 8, 10, 12, 14, 15, 16, 17, 18, 20, 22, 24, 25, 27, 28, 30, 35, 40)
)

#: Two sizes further apart than this are not taken for each other, mm: 13 mm is said for 1/2 in
#: (12.7 mm), and nothing coarser (common practice, no source).
CONFUSED = Fraction(35, 100)

#: Sizes closer than this are the same, mm (chosen: no one can measure it in a shop).
SAME = Fraction(1, 1000)

#: No template is thicker, mm: 2 in (chosen: stems of guide bushings are 20 mm long at most, from memory, and plates
#: 6 to 19 mm thick).
THICKEST_PLATE = 50.8
#: A number below that is not taken for millimetres of a plate, mm (chosen: nobody routs with a thinner one).
THINNEST_PLATE = 3.0


def check_sizes(case: Case) -> Iterator[Finding]:
    """Typed diameters that look like a rounded conversion, what measured ones do to the cut, a plate too thick."""
    if case.job.plate.thickness > THICKEST_PLATE:
        yield _too_thick(case)
    given = _given(case)
    for key, tool in given:
        if isinstance(tool.diameter, Measured):
            yield _measured(case, key, tool.diameter)
        elif key.startswith("tools.") and tool.typed and (likely := rounded_from(tool.diameter)) is not None:
            yield _rounded(case, key, tool.diameter, likely)
    for key, tool in given:
        if tool.owned:
            yield from _owned(case, key, tool)
    said = [f"{key}.diameter" for key, _ in given]
    for use in case.job.measured:
        if use.where not in said:
            yield note("measured-size", use.where, f"computed with the measured size: {full_text(use.size)}")


def rounded_from(length: Length) -> Fraction | None:
    """The trade size in mm that a metric length looks rounded from; None for a trade size or no likeness."""
    if length.is_inch or any(abs(length.exact - size) < SAME for size in (*METRIC_SIZES, *INCH_SIZES)):
        return None
    nearest = min(INCH_SIZES, key=lambda size: abs(size - length.exact))
    return nearest if abs(nearest - length.exact) <= CONFUSED else None


def _too_thick(case: Case) -> Finding:
    from jigtemplates.checks.meant import as_mm, in_inch, instead

    thickness = case.job.plate.thickness
    read = in_inch(thickness)
    mistaken = in_inches(case.job) and THINNEST_PLATE <= as_mm(read) <= THICKEST_PLATE
    return warning(
        "thickness-unlikely",
        "plate.thickness",
        f"the plate is {case.said(thickness)} thick, and no template is thicker than about "
        f"{case.said(THICKEST_PLATE)}: look at plate.thickness{instead(read) if mistaken else ''}",
    )


def _rounded(case: Case, key: str, length: Length, likely: Fraction) -> Finding:
    made, what = _otherwise(case, key, float(likely - length.exact))
    inch = inch_text(float(likely))
    return warning(
        "rounded-conversion",
        key,
        f"{length.text} looks like {inch}, which is {mm_text(float(likely), 3)}: if it is, {made} comes out "
        f"{what} than shown; measure it, and write {inch} if that is what it is",
    )


def _measured(case: Case, key: str, length: Measured) -> Finding:
    """What a template for the nominal size would do with the measured tool."""
    more = float(length.exact - length.nominal.exact)
    made, what = _otherwise(case, key, more)
    nominal = f"from a template for {length.nominal} {made} would come out {what}" if more else "as it is sold"
    within = f"; it is good to {length.within}, and so is {made}" if length.within else ""
    return note("measured-size", key, f"computed with the measured {length}: {nominal}{within}")


def _given(case: Case) -> list[tuple[str, Bit | Bushing]]:
    """The tools that the job says, at their keys."""
    tools, inlay = case.job.tools, case.job.inlay
    given: list[tuple[str, Bit | Bushing]] = [("tools.bit", tools.bit), ("tools.bushing", tools.bushing)]
    if inlay is not None:
        given += [("inlay.plug_bit", inlay.bit)] if inlay.bit is not tools.bit else []
        given += [("inlay.plug_bushing", inlay.bushing)]
    return given


def _owned(case: Case, key: str, tool: Bit | Bushing) -> Iterator[Finding]:
    """A bare size is that size for the arithmetic; what the person has of it is said, and how to have it computed with.

    A warning where the cut comes out otherwise than shown, a note where only more would be known.
    """
    word, size = key.partition(".")[2], tool.diameter
    changed = [one for one in tool.owned if abs(one.diameter.exact - size.exact) >= SAME]
    if len(tool.owned) > 1:
        named = ", ".join(f"{_in_job(one.name)} ({_measured_at(case, one)})" for one in tool.owned)
        text = f"{len(tool.owned)} of your tools are sold as {size}: {named}; a bare size is none of them: write "
        text += f"{word} = {_in_job(tool.owned[0].name)}, say, to compute with it"
        yield (warning if changed else note)("own-tool", key, text)
        return
    (one,) = tool.owned
    brings = _brings(one, tool)
    name = _in_job(one.name)
    if changed:
        made, what = _otherwise(case, key, float(one.diameter.exact - size.exact))
        text = f"with your {name}, sold as {size} and {_measured_at(case, one)}, {made} comes out {what} than shown: "
        text += f"a bare size is taken as it stands{_taken(one, tool)}; write {word} = {name} to compute with yours"
        yield warning("own-tool", key, text + (f" (its {brings} too)" if brings else ""))
    elif brings:
        text = f"your tools have {name}, sold as {size}: write {word} = {name} for its {brings} to count"
        yield note("own-tool", key, text)


def _measured_at(case: Case, one: Owned) -> str:
    return f"measured {written(one.diameter, case.job)}" if isinstance(one.diameter, Measured) else "not measured"


def _otherwise(case: Case, key: str, more: float) -> tuple[str, str]:
    """What comes out otherwise with a tool that is so much wider, mm, and how: "the cut", "0.1 mm wider and longer".

    The plug of an inlay follows the opening with its bushing inside and is cut round its outside: opening less bushing
    less bit.
    """
    if key.startswith("inlay."):
        made, change = "the plug", -more
    else:
        change = more if key == "tools.bit" else -more
        made = "the cut"
        if case.job.cut.side == "outside":
            made, change = "the work", -change
    return made, f"{case.said(abs(change), 3)} {'wider and longer' if change > 0 else 'narrower and shorter'}"


def _taken(one: Owned, tool: Bit | Bushing) -> str:
    """What the job has taken of it already."""
    if not isinstance(tool, Bushing) or tool.assumed_from != one.name:
        return ""
    return f", and only its {' and '.join(tool.assumed)} {'is' if len(tool.assumed) == 1 else 'are'} taken from it"


def _brings(one: Owned, tool: Bit | Bushing) -> str:
    """The keys that the job would know besides."""
    keys = [key for key in one.known if getattr(tool, key) is None]
    return " and ".join(filter(None, (", ".join(keys[:-1]), *keys[-1:])))


def _in_job(name: str) -> str:
    """A name as it stands in a job file, and after an option."""
    return f"'{name}'" if '"' in name else f'"{name}"'
