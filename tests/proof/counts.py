"""How many trials a proof makes, and what it found. ``SPARKWRIGHT_PROOF=large`` makes the large counts."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NoReturn

import pytest

SIZE = "SPARKWRIGHT_PROOF"
REPORT = "SPARKWRIGHT_PROOF_REPORT"
"""Names the file into which the counts are written at the end of the session."""


def is_large(environ: Mapping[str, str] = os.environ) -> bool:
    """Tell whether the large counts are asked for; ValueError for a word that is none."""
    size = environ.get(SIZE, "small")
    if size not in ("small", "large"):
        raise ValueError(f"{SIZE} is small or large, and not {size!r}")
    return size == "large"


def times(small: int, large: int) -> int:
    """Return how many trials to make."""
    return large if is_large() else small


@dataclass(slots=True)
class Tally:
    """What the proofs of a session found: a line for each, and for each that could not run the reason."""

    lines: list[str] = field(default_factory=list)

    def tell(self, proof: str, **counts: int) -> None:
        """Write down what a proof counted."""
        said = ", ".join(f"{number} {what.replace('_', ' ')}" for what, number in counts.items())
        self.lines.append(f"{proof}: {said}")
        print(self.lines[-1])

    def not_run(self, proof: str, reason: str) -> NoReturn:
        """Write down that a proof could not run, and why; it never passes silently."""
        self.lines.append(f"{proof}: NOT RUN: {reason}")
        print(self.lines[-1])
        pytest.skip(f"NOT RUN: {reason}")
