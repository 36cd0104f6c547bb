"""The commands that enter what a gauge showed, ready to be typed: the only place that knows their words."""

BLANK = "____"


def _argument(text: str) -> str:
    """Quoted where a shell would take it apart."""
    plain = text.replace("-", "").replace("_", "").replace(".", "").isalnum()
    return text if plain else "'" + text.replace("'", "'\"'\"'") + "'" if '"' in text else f'"{text}"'


def bushing(name: str, unit: str) -> str:
    """Enters the narrowest opening that a bushing slides in."""
    return f'jigtemplates calibrate bushing {_argument(name)} --opening "{BLANK} {unit}"'


def kerf(cuts: int, material: str | None, thickness: str | None, unit: str) -> str:
    """Enters the gap over so many cuts."""
    sheet = f" --material {_argument(material)}" if material else ""
    thick = f" --thickness {_argument(thickness)}" if thickness else ""
    return f'jigtemplates calibrate kerf --gap "{BLANK} {unit}" --cuts {cuts}{sheet}{thick}'


def cut(job: str, unit: str) -> str:
    """Enters the width of a cut that was measured, of the one engraved with the width wanted."""
    return f'jigtemplates calibrate cut {_argument(job)} --measured-width "{BLANK} {unit}"'


def printer(unit: str, paper: str) -> str:
    """Enters what the 100 mm bars of a page measured."""
    return f'jigtemplates calibrate printer --across "{BLANK} {unit}" --up "{BLANK} {unit}" --paper {_argument(paper)}'
