"""The list of secrets that are tried first, read from the one place where it stands."""

from importlib.resources import files


def bad_choices() -> frozenset[str]:
    """Return the bad choices in small letters, without the lines that begin with "#"."""
    text = files("resources").joinpath("data", "bad_secrets.txt").read_text("utf-8")
    return frozenset(line for line in text.splitlines() if line and not line.startswith("#"))
