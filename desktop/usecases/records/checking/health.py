"""How a shop file and the machine around it stand: one page of lines, the same at the terminal and in a window."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum


class Word(StrEnum):
    """What a line says of its thing, in a word: sound, worth a look, or wrong."""

    OK = "ok"
    LOOK = "look"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that was looked at, and what was found."""

    word: Word
    what: str
    says: str


def is_sound(lines: Sequence[Line]) -> bool:
    """Tell whether there is nothing to mend and nothing to look at."""
    return all(line.word is Word.OK for line in lines)


def page(lines: Sequence[Line]) -> tuple[str, ...]:
    """Return the page as lines of text: the word, the thing, what was found, one below the other."""
    width = max((len(line.what) for line in lines), default=0)
    return tuple(f"{line.word:<5}  {line.what:<{width}}  {line.says}" for line in lines)
