"""The usual cautions, short and only where they apply. They remind; they do not train.

Common practice, no source, unless a figure says otherwise; the tools' own manuals come first.
"""

from jigtemplates.parameters.job import Job

#: Fastest sensible speed by cutter diameter: up to each diameter in mm, rpm ("Choosing Proper
#: Router Bit Speeds", read; its 1, 2, 2-1/2 and 3-1/2 in as the metric twins 25, 50, 63 and 90 mm).
SPEEDS = ((25.4, 24_000), (50.8, 18_000), (63.5, 16_000), (88.9, 12_000))

LAST = (
    "Numbers are aids, no guarantee: make a test cut in scrap first.",
    "Follow the manuals of your tools and local rules; where in doubt, ask someone trained.",
)


def fastest(diameter: float) -> int | None:
    """Fastest sensible speed for a cutter of that diameter (mm), rpm; None above 88.9 mm."""
    return next((speed for limit, speed in SPEEDS if diameter <= limit), None)


def cautions(job: Job) -> tuple[str, ...]:
    """Cautions for routing with this job's template and for making it."""
    return (*_routing(job), *_inlaying(job), *_making(job), *LAST)


def _routing(job: Job) -> tuple[str, ...]:
    return (
        "Unplug the router to change bit or bushing; wear eye, ear and dust protection.",
        f"{_hold(job)} Bit tight, with at least 3/4 in (19 mm) of shank in the collet.",
        "Bushing nut tight and below the face of the base; turn the bit by hand to see it runs clear.",
        f"Several shallow passes; {_feed(job)}. {_speed(job)}",
        "Switch on with the bit clear of the wood; at the end raise it, switch off and let it stop before lifting out.",
        *_round_the_outside(job),
    )


def _hold(job: Job) -> str:
    """All round a pattern clamps are in the router's way."""
    if job.cut.side == "outside":
        return "Screw or tape the pattern down: clamps are in the way."
    return "Clamp work and template."


def _round_the_outside(job: Job) -> tuple[str, ...]:
    """Common practice, no source: what end grain loses at its corners the long sides, routed after it, take away."""
    if job.cut.side != "outside":
        return ()
    return (
        "End grain tears out at its corners: light passes, a backing strip there, end grain before the long sides.",
    )


def _inlaying(job: Job) -> tuple[str, ...]:
    if job.inlay is None:
        return ()
    return (
        "Plug: stick its stock down all over, for it comes loose at the last pass; keep the bushing against the edge.",
    )


def _feed(job: Job) -> str:
    """WOOD; Woodworker's Journal, Winter 2010 (read; see references), for hand-held routers."""
    if job.cut.side == "outside":
        return "round a pattern feed counter-clockwise; fasten work and offcut, which the last pass parts"
    return "inside the template feed clockwise"


def _speed(job: Job) -> str:
    speed = fastest(job.tools.bit.diameter.mm)
    return f"Speed at most {speed:,} rpm for this bit." if speed else "Speed as the bit's maker says."


def _making(job: Job) -> tuple[str, ...]:
    lines: list[str] = []
    if "laser" in job.make.targets:
        lines.append("Never laser PVC, vinyl or unknown plastic; never leave a running laser.")
    if "cnc" in job.make.targets:
        edge = "the opening, whose" if job.cut.side == "inside" else "the pattern, whose"
        lines.append(f"Hold the plate down well: no tabs on {edge} edge guides the bushing.")
    if "print" in job.make.targets:
        lines.append(
            "Printed edge: feed steadily, never let the bushing rub in one place; look at it before every job."
        )
    if job.plate.material:
        lines.extend(job.plate.material.cautions)
    return tuple(lines)
