"""From a measurement to a correction in the person's profiles, and from a wrong test cut to a right template.

A correction is shown with what it changes before it is written; the old value stays beside it, and it can be taken
back. Only the day of a measurement is written anywhere; how old it is, `check` says when it is asked.
"""
