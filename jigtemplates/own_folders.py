"""Folders where a person's own profiles may be; light, for commands that need nothing else of profiles."""

import os
from pathlib import Path

#: The folder of profiles beside a job, and in the current folder.
FOLDER = "profiles"


def user_folder() -> Path:
    """Where a person keeps profiles for all jobs; it need not exist."""
    from platformdirs import user_config_dir

    return Path(user_config_dir("jigtemplates", appauthor=False)) / FOLDER


def may_have_own(job_path: Path) -> bool:
    """Whether any folder is there that a job at that path has profiles of the person's own from."""
    return any(os.path.lexists(folder) for folder in (job_path.parent / FOLDER, Path(FOLDER), user_folder()))
