"""What the program says when the world, not the reading, is at fault."""


class Refusal(Exception):  # noqa: N818 - a refusal is not a bug
    """Something outside the card cannot be used; ``sentence`` says what and what to do next.

    A reading that is wrong is never a refusal: it is a finding, shown at its field.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence
