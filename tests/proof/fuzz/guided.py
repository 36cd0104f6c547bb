"""Coverage-guided search for input that breaks a promise; needs `pip install atheris`, which nothing else does.

    python tests/proof/fuzz/guided.py lengths --seconds 60

Targets: lengths, jobs, profiles, svg, dxf. It starts from the samples; what it keeps, and what broke, is left in the
folder of --keep (else a temporary one). A fault found becomes a named test in test_found.py. The end says how many
inputs were tried.
"""

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

ROOT = Path(__file__).parents[3]
sys.path.append(str(ROOT / "tests" / "proof"))  # as conftest.py does for the tests
#: One input may take this long, seconds, and the whole search this much memory, MB (chosen; instrumented code is
#: about three times as slow).
SLOWEST, MOST_MEMORY = 25, 2048
LONGEST = {"lengths": 60, "jobs": 3000, "profiles": 3000, "svg": 3000, "dxf": 4000}

UNITS = (None, "mm", "in")


def lengths(data: bytes) -> None:
    """The first byte says how a bare number is read."""
    from promises import length_is_read

    length_is_read(data[1:].decode("utf-8", "replace"), UNITS[data[0] % 3] if data else None)


def jobs(data: bytes) -> None:
    """A job file's bytes, routed and checked where they are one."""
    from promises import job_is_read

    job_is_read(data)


def profiles(data: bytes) -> None:
    """A tools file's bytes, every kind of entry read."""
    from promises import profile_is_read

    profile_is_read(data)


def svg(data: bytes) -> None:
    """A drawing's bytes."""
    from promises import outline_is_read

    outline_is_read(data, "a.svg")


def dxf(data: bytes) -> None:
    """A drawing's bytes; whether it says its unit is left to it."""
    from promises import outline_is_read

    outline_is_read(data, "a.dxf", "mm" if b"INSUNITS" not in data else None)


TARGETS: dict[str, Callable[[bytes], None]] = {f.__name__: f for f in (lengths, jobs, profiles, svg, dxf)}


def seeds(target: str) -> Iterator[bytes]:
    """Inputs that are right, to begin with."""
    if target == "lengths":
        words = ("9.5 mm", "3/8 in", "1-1/2 in", "2 1/2 in", "2½", '.5"', "0.5 in", "12", "-1.5 mm", "1e3", "12,7 mm")
        yield from (bytes([at % 3]) + word.encode() for at, word in enumerate(words))
    elif target in ("jobs", "profiles"):
        for path in ROOT.glob("samples/*.toml" if target == "jobs" else "*/profiles/*.toml"):
            lines = path.read_text(encoding="utf-8").splitlines()
            yield "\n".join(line for line in lines if not line.startswith("#")).encode()
    else:
        from drawings import as_bytes

        yield from as_bytes(target)


def read_whole_program() -> None:
    """Imports what is imported late, for all of it to be watched."""
    import importlib
    import pkgutil

    import jigtemplates

    for module in pkgutil.walk_packages(jigtemplates.__path__, "jigtemplates."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)


def main() -> None:
    """Runs one target for a while; libFuzzer leaves by itself, with status 0 where nothing was found."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("target", choices=TARGETS)
    ask.add_argument("--seconds", type=int, default=60)
    ask.add_argument("--keep", type=Path, help="folder for inputs worth keeping, and those that broke a promise")
    asked = ask.parse_args()
    try:
        import atheris
    except ImportError:
        ask.exit(2, "atheris is not installed (pip install atheris, into an environment of its own)\n")
    with atheris.instrument_imports(include=["jigtemplates", "tomllib"], enable_loader_override=False):
        read_whole_program()
    keep = asked.keep or Path(tempfile.mkdtemp(prefix="guided-"))
    (keep / "corpus").mkdir(parents=True, exist_ok=True)
    for at, data in enumerate(seeds(asked.target)):
        (keep / "corpus" / f"seed-{at}").write_bytes(data)
    target = TARGETS[asked.target]
    options = {
        "max_total_time": asked.seconds,
        "timeout": SLOWEST,
        "rss_limit_mb": MOST_MEMORY,
        "max_len": LONGEST[asked.target],
        "artifact_prefix": f"{keep}/broke-",
        "print_final_stats": 1,
    }
    print(f"in {keep}", file=sys.stderr)
    atheris.Setup([sys.argv[0], *(f"-{k}={v}" for k, v in options.items()), str(keep / "corpus")], target)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
