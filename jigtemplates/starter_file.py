"""The file of a new job: its name, how it is typed, and that nothing is overwritten."""

import os
from pathlib import Path

from jigtemplates.errors import InputError, OutputError
from jigtemplates.parameters.stem import checked_stem
from jigtemplates.parameters.toml_text import shown_name
from jigtemplates.writers.new_file import write_new
from jigtemplates.writers.unwritable import line_about


def typed(path: str | Path) -> str:
    """A file's name as one types it after a command: in quotes where it has a space, with ./ before a leading -."""
    text = f"./{path}" if str(path).startswith("-") else str(path)
    return f'"{text}"' if " " in text else text


def new_job_path(path: Path) -> Path:
    """The file to write for what a person asked for: it ends in .toml.

    Raises InputError for a name that no job may have, or for a folder.
    """
    if os.path.isdir(path):
        raise InputError(f"{shown_name(str(path))}: this is a folder (give the name of a file in it)")
    named = path if path.suffix.lower() == ".toml" else path.with_name(path.name + ".toml")
    checked_stem(named.stem, "the new job")
    return named


def write_starter(path: Path, text: str) -> Path:
    """Write the text to a new file, never over another; nothing is left of it where it cannot be written whole.

    Raises InputError where the file is there already and OutputError where it cannot be written.
    """
    refuse_missing_folder(path)
    try:
        write_new(path, text.encode())
    except FileExistsError:
        raise taken(path) from None
    except (OSError, ValueError) as error:
        raise OutputError(line_about(path, error)) from None
    return path


def refuse_missing_folder(path: Path) -> None:
    """OutputError where the folder for the new file is not there."""
    if not os.path.isdir(path.parent):
        name, folder = shown_name(str(path)), shown_name(str(path.parent))
        raise OutputError(f"{name}: the folder {folder} is not there (make it first)")


def taken(path: Path) -> InputError:
    """What is said of a name that is there already."""
    return InputError(f"{shown_name(str(path))}: is there already and is not overwritten (give another name)")
