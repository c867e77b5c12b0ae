"""The rules of good instructions, for texts of cards and jobs: each fault with its place."""

import re
from collections.abc import Iterator, Sequence

from desktop.core.shop.cards.task_card import FACTS, fact_of, is_known
from desktop.files.toml_faults import ID, shown

INSTRUCTION_WORDS = 20
"""Most words of an instruction, as simplified technical English has it."""
SENTENCE_WORDS = 25
"""Most words of a sentence that describes, as simplified technical English has it."""
SENTENCES = 6
"""Most sentences of a description or a box, as simplified technical English has it."""
MOST_SIGNS = 600
"""Most signs of one text; a step's id has 40, and a title, which stands on every page, 120."""

_CARD_ID = re.compile(r"[A-Za-z0-9]+(-[A-Za-z0-9]+)*")
_SENTENCE_END = re.compile(r"(?<!\bNo)[.!?](?=\s|$)")
_SIGNAL = re.compile(r"\b((?i:warning|caution|danger|beware)|NOTE)\b|\b(?i:note):")

Fault = tuple[str, str]
"""Where something is wrong, and what."""


def sentences(text: str) -> tuple[str, ...]:
    """Return the sentences of a text without their ends; the point of "No. 1" ends none."""
    return tuple(part.strip() for part in _SENTENCE_END.split(text) if part.strip())


def text_faults(where: str, text: str, most: int = MOST_SIGNS) -> Iterator[Fault]:
    """Yield the fault of a text that is empty, too long, or holds a sign that nobody sees."""
    if not text.strip():
        yield where, "nothing is written here."
    elif len(text) > most:
        yield where, f"{len(text)} signs, and {most} is the most. Say it in fewer."
    elif not text.isprintable():
        yield where, "an invisible sign or a new line stands in the text. Write it in one line of visible signs."


def instruction_faults(where: str, text: str) -> Iterator[Fault]:
    """Yield what is wrong with an instruction: one sentence of at most 20 words, without a signal word."""
    yield from text_faults(where, text)
    if (words := len(text.split())) > INSTRUCTION_WORDS:
        yield where, f"{words} words, and {INSTRUCTION_WORDS} is the most. Say one action in fewer."
    if len(sentences(text)) > 1:
        yield where, "more than one sentence. Give each action a step of its own."
    yield from signal_faults(where, text)


def description_faults(where: str, text: str) -> Iterator[Fault]:
    """Yield what is wrong with a description or a box: at most 6 sentences of at most 25 words."""
    yield from text_faults(where, text)
    said = sentences(text)
    if len(said) > SENTENCES:
        yield where, f"{len(said)} sentences, and {SENTENCES} is the most. Say it in fewer."
    for sentence in said:
        if (words := len(sentence.split())) > SENTENCE_WORDS:
            yield where, f'a sentence of {words} words, and {SENTENCE_WORDS} is the most: "{sentence[:40]} ...".'


def signal_faults(where: str, text: str) -> Iterator[Fault]:
    """Yield the fault of a signal word outside a box."""
    if found := _SIGNAL.search(text):
        yield where, f'"{found[0]}" stands in a step. Put what it says into a box before the step.'


def id_faults(where: str, text: str) -> Iterator[Fault]:
    """Yield the fault of an id of a step, hazard, section or job that is none."""
    if not ID.fullmatch(text):
        yield where, f"{shown(text)} is no id. Write up to 40 small letters and digits with hyphens between."


def card_id_faults(where: str, text: str) -> Iterator[Fault]:
    """Yield the fault of a card's id that is none."""
    yield from text_faults(where, text, 20)
    if not _CARD_ID.fullmatch(text):
        yield where, f"{shown(text)} is no id of a card. Write letters and digits, such as X1 or SHOP-2."


def condition_faults(where: str, only: Sequence[str]) -> Iterator[Fault]:
    """Yield a condition that is no fact, and one that can never hold beside another."""
    for condition in only:
        if not is_known(condition):
            names = ", ".join(name for name, _ in FACTS)
            yield where, f'{shown(condition)} is not known here. Expected one of, or "not " and one of: {names}.'
        elif any(fact_of(other) == fact_of(condition) and other != condition for other in only):
            yield where, f"{shown(fact_of(condition))} is asked for and excluded, so this never applies."


def choice_faults(where: str, value: str, choices: Sequence[str]) -> Iterator[Fault]:
    """Yield the fault of a word that is not one of a list."""
    if value not in choices:
        yield where, f"{shown(value)} is not known here. Expected one of: {', '.join(choices)}."
