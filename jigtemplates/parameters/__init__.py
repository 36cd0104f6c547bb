"""What a person may write: the job and its parts, read from TOML, checked, and resolved.

`load.load_job` and `load.job_from_text` are the way in; the rest of the program sees `job.Job` and what
hangs on it.
"""
