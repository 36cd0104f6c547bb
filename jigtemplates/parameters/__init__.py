"""What a person may write: the job and its parts, read from TOML, checked, and resolved.

`load_job` and `job_from_text` are the way in; the rest of the program sees `Job` and what hangs on it.
"""
