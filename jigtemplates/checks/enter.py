"""How a size of a tool that is not known is written down: in the job, or in the person's own profile."""

from pathlib import Path

from jigtemplates.parameters.job import Bit, Bushing

#: Where a tool was read that is nobody's own.
_NOBODYS = ("job", "shipped")


def enter(tool: Bit | Bushing, key: str, others: str = "") -> str:
    """What to do with a size once it is measured; `others` are keys that a table in the job has besides, "shank"."""
    kind = "bit" if isinstance(tool, Bit) else "bushing"
    if tool.name is None or tool.origin in _NOBODYS:
        keys = "".join(f"{one} = …, " for one in filter(None, ("diameter", others)))
        return f"give it as {kind} = {{ {keys}{key} = … }}"
    from jigtemplates.parameters.tools_file import TOOLS_FILE, as_typed

    if Path(tool.origin) == TOOLS_FILE:
        return f'type jigtemplates tools change {kind}s {as_typed(tool.name)} {key}="…"'
    return f"write {key} = … at {as_typed(tool.name)} in {Path(tool.origin).name}"
