"""What the program says of itself, not of what it was given; no input may ever bring it to that."""

#: Where only its last net was left, and where a file read back is not what was meant.
OURS = ("a fault in jigtemplates itself", "a fault of this program")


def blames_itself(said: str) -> bool:
    """Whether a line, or several, are about a fault of the program's own."""
    return any(ours in said for ours in OURS)
