"""The commands that enter what a gauge showed, ready to be typed: the only place that knows their words."""

BLANK = "____"

#: Beside letters and digits what no shell takes apart; / for a file in another folder.
_PLAIN = str.maketrans("", "", "-_./")


def argument(text: str) -> str:
    """Quoted where a shell would take it apart."""
    plain = text.translate(_PLAIN).isalnum()
    return text if plain else "'" + text.replace("'", "'\"'\"'") + "'" if '"' in text else f'"{text}"'


def bushing(name: str, unit: str, step: str) -> str:
    """Enters the narrowest opening that a bushing slides in, and how far the next smaller one is."""
    return f'jigtemplates calibrate bushing {argument(name)} --opening "{BLANK} {unit}" --step "{step}"'


def kerf(cuts: int, material: str, thickness: str, unit: str) -> str:
    """Enters the gap over so many cuts."""
    sheet = f"--material {argument(material)} --thickness {argument(thickness)}"
    return f'jigtemplates calibrate kerf --gap "{BLANK} {unit}" --cuts {cuts} {sheet}'


def cut(job: str, member: str | None, unit: str) -> str:
    """Enters which cut takes the tenon, and what that measures; `member` is the size of a file that holds several."""
    size, blank = f" --size {argument(member)}" if member else "", f'"{BLANK} {unit}"'
    return f"jigtemplates calibrate cut {argument(job)}{size} --gauge --engraved {blank} --tenon {blank}"


def printer(unit: str) -> str:
    """Enters what the bars of a page measured, 100 mm or 4 in long, and the distance of their far ends."""
    blank, bar = f'"{BLANK} {unit}"', ' --bar "4 in"' if unit == "in" else ""
    return f"jigtemplates calibrate printer --across {blank} --up {blank} --diagonal {blank}{bar} --uncorrected"
