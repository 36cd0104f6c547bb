"""The first import of ezdxf, without a trace outside the folder of the files.

While it is imported ezdxf looks through all fonts of the machine and leaves their list in the person's
cache folder: XDG_CACHE_HOME, as its documentation says. Our drawings hold no text entity, so it is given
a folder that lasts as long as the import, with the person's own list where there is one, else with an
empty one. A program that draws text with ezdxf after us calls `ezdxf.fonts.fonts.build_system_font_cache`.
"""

import os
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

#: What ezdxf reads before it looks for fonts itself; of another version than it expects, it does look.
_NO_FONTS = '{"version": 2, "font-faces": []}'
_VARIABLE = "XDG_CACHE_HOME"
_LIST = Path("ezdxf", "font_manager_cache.json")

_LOCK = threading.Lock()  # the environment belongs to the whole process


def import_ezdxf() -> None:
    """Import ezdxf if nobody has yet; the environment is as before afterwards."""
    with _LOCK:
        if "ezdxf" not in sys.modules:
            with _passing_cache():
                import ezdxf  # noqa: F401


@contextmanager
def _passing_cache() -> Iterator[None]:
    """A cache folder that is gone afterwards; where none can be made the person's own is used."""
    try:
        folder = _cache_with_list()
    except OSError:
        yield
        return
    before = os.environ.get(_VARIABLE)
    os.environ[_VARIABLE] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ[_VARIABLE]
        else:
            os.environ[_VARIABLE] = before
        shutil.rmtree(folder, ignore_errors=True)


def _cache_with_list() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="jigtemplates-"))
    (folder / _LIST).parent.mkdir()
    (folder / _LIST).write_text(_own_list() or _NO_FONTS, encoding="utf-8")
    return folder


def _own_list() -> str | None:
    """The list that an earlier import by another program left; None where there is none to read."""
    home = Path(os.environ.get(_VARIABLE) or "~/.cache")
    with suppress(OSError, ValueError, RuntimeError):  # RuntimeError: nobody knows where home is
        return (home.expanduser() / _LIST).read_text(encoding="utf-8")
    return None
