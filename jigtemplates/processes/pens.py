"""Pens for a process, from its profile."""

from jigtemplates.drawing import Pen, Pens, Role
from jigtemplates.parameters.entries import Process


def pens_of(process: Process) -> Pens:
    """A pen for every role the process draws; a role left out of the profile is not drawn."""
    return {Role(role): Pen(pen.layer, pen.colour, pen.stroke.mm) for role, pen in process.roles.drawn().items()}
