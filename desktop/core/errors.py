"""What the program says when the world, not the reading, is at fault."""

from collections.abc import Sequence


class Refusal(Exception):  # noqa: N818 - a refusal is not a bug
    """Something outside the card cannot be used; ``sentence`` says what and what to do next.

    A reading that is wrong is never a refusal: it is a finding, shown at its field.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class ChangedElsewhere(Refusal):
    """Somebody changed an order after it was seen; ``changes`` says in plain words what is different now."""

    def __init__(self, number: int, version: int, changes: Sequence[str]) -> None:
        self.number = number
        self.version = version
        self.changes = tuple(changes)
        said = f" Changed: {'; '.join(self.changes)}." if self.changes else ""
        super().__init__(f"Order {number} is not as you saw it.{said} Look at it as it is now, then do it again.")


class NotReady(Refusal):
    """Something may not be done yet; ``reasons`` says each thing that stands against it and what to do."""

    def __init__(self, reasons: Sequence[str]) -> None:
        self.reasons = tuple(reasons)
        super().__init__(" ".join(self.reasons))
