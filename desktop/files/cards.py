"""Task cards: TOML into values. A card that breaks the rules of good instructions is refused, with the place."""

import re
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

import msgspec

from desktop.core.errors import Refusal
from desktop.core.shop.safe_state import BOARD_WORDS
from desktop.core.shop.task_card import CAPTURES, FACTS, Box, BoxKind, Step, TaskCard, fact_of, is_known
from desktop.files.toml_text import read_toml

INSTRUCTION_WORDS = 20
"""Most words of an instruction, as simplified technical English has it."""
SENTENCE_WORDS = 25
"""Most words of a sentence that describes, as simplified technical English has it."""
SENTENCES = 6
"""Most sentences of a description or a box, as simplified technical English has it."""

MOST_SIGNS = 600
"""Most signs of one text; an step's id has 40, and a title, which stands on every page, 120."""

_ID = re.compile(r"(?=.{1,40}$)[a-z0-9]+(-[a-z0-9]+)*")
_SENTENCE_END = re.compile(r"(?<!\bNo)[.!?](?=\s|$)")
_SIGNAL = re.compile(r"\b((?i:warning|caution|danger|beware)|NOTE)\b|\b(?i:note):")
_PLACE = re.compile(r" - at `\$((?:\.\w+|\[\d+\])+)`$")
_PATH_PART = re.compile(r"(\w+)(?:\[(\d{1,6})\])?")
_FIELD = re.compile(r"Object (contains unknown|missing required) field `(.*?)`", re.DOTALL)
_VALUE = re.compile(r"Expected `(.*?)`, got `(.*?)`")
_NAMES = {"str": "text in quotes", "int": "a whole number", "bool": "true or false", "array": "a list"}
_NAMES |= {"object": "a table", "float": "a number with decimals", "datetime": "a date and time"}

_Fault = tuple[str, str]


class _Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of a card's file: a key that the form does not have is a fault."""


class _BoxTable(_Table, frozen=True):
    kind: str
    hazard: str
    text: str
    only: tuple[str, ...] = ()


class _StepTable(_Table, frozen=True):
    id: str
    instruction: str
    capture: str
    only: tuple[str, ...] = ()
    description: str = ""
    initials: bool = False
    inspector: bool = False
    board: str = ""
    box: tuple[_BoxTable, ...] = ()


class _CardTable(_Table, frozen=True):
    id: str
    revision: int
    title: str
    scheme: str
    applies: str
    step: tuple[_StepTable, ...]


def load_card(data: bytes, name: str) -> TaskCard:
    """Return the card in the bytes of a card file.

    Raise Refusal with the file's name, the step (counted from 1, with its id), the box and the key of the first fault.
    """
    try:
        raw = read_toml(data)
    except Refusal as refusal:
        raise Refusal(f"{name}: {refusal.sentence}") from refusal
    try:
        table = msgspec.convert(raw, _CardTable)
    except msgspec.ValidationError as trouble:
        raise Refusal(f"{name}: {_said(str(trouble), raw)}") from trouble
    for where, fault in _faults(table):
        raise Refusal(f"{name}: {where}: {fault}")
    return TaskCard(table.id, table.revision, table.title, table.scheme, table.applies, tuple(map(_step, table.step)))


def builtin_cards() -> tuple[TaskCard, ...]:
    """Return the cards that come with the program, by the names of their files."""
    folder = files("resources").joinpath("cards")
    places = sorted((place for place in folder.iterdir() if place.name.endswith(".toml")), key=lambda place: place.name)
    return tuple(load_card(place.read_bytes(), place.name) for place in places)


def sentences(text: str) -> tuple[str, ...]:
    """Return the sentences of a text without their ends; the point of "No. 1" ends none."""
    return tuple(part.strip() for part in _SENTENCE_END.split(text) if part.strip())


def _step(table: _StepTable) -> Step:
    return Step(
        id=table.id,
        only=table.only,
        boxes=tuple(Box(BoxKind(box.kind), box.hazard, box.text, box.only) for box in table.box),
        instruction=table.instruction,
        description=table.description,
        capture=table.capture,
        initials=table.initials,
        inspector=table.inspector,
        board=table.board,
    )


def _faults(card: _CardTable) -> Iterator[_Fault]:
    """Yield what is wrong with a card, each with the step, box and key where it stands."""
    for key, most in (("id", 20), ("title", 120), ("scheme", MOST_SIGNS), ("applies", MOST_SIGNS)):
        yield from _text_faults(key, getattr(card, key), most)
    if card.revision < 1:
        yield "revision", "expected 1 or more."
    if not card.step:
        yield "step", "a card has at least one step."
    seen: dict[str, int] = {}
    for number, step in enumerate(card.step, 1):
        where = _step_words(number, step.id)
        yield from _step_faults(where, step)
        if step.id in seen:
            yield f"{where}: id", f"step {seen[step.id]} has this id already. Give each step an id of its own."
        seen[step.id] = number


def _step_faults(where: str, step: _StepTable) -> Iterator[_Fault]:
    yield from _id_faults(f"{where}: id", step.id)
    yield from _condition_faults(f"{where}: only", step.only)
    yield from _instruction_faults(f"{where}: instruction", step.instruction)
    if step.description:
        yield from _description_faults(f"{where}: description", step.description)
        yield from _signal_faults(f"{where}: description", step.description)
    yield from _choice_faults(f"{where}: capture", step.capture, CAPTURES)
    if step.board:
        yield from _choice_faults(f"{where}: board", step.board, tuple(BOARD_WORDS))
    kinds = [kind.value for kind in BoxKind]
    highest = 0
    for number, box in enumerate(step.box, 1):
        place = f"{where}: box {number}"
        yield from _choice_faults(f"{place}: kind", box.kind, tuple(kinds))
        yield from _id_faults(f"{place}: hazard", box.hazard)
        yield from _description_faults(f"{place}: text", box.text)
        yield from _condition_faults(f"{place}: only", box.only)
        if kinds.index(box.kind) < highest:
            yield f"{place}: kind", f"a {box.kind} stands before any {kinds[highest]}. Order the boxes so."
        highest = kinds.index(box.kind)


def _instruction_faults(where: str, text: str) -> Iterator[_Fault]:
    yield from _text_faults(where, text)
    if (words := len(text.split())) > INSTRUCTION_WORDS:
        yield where, f"{words} words, and {INSTRUCTION_WORDS} is the most. Say one action in fewer."
    if len(sentences(text)) > 1:
        yield where, "more than one sentence. Give each action a step of its own."
    yield from _signal_faults(where, text)


def _description_faults(where: str, text: str) -> Iterator[_Fault]:
    yield from _text_faults(where, text)
    said = sentences(text)
    if len(said) > SENTENCES:
        yield where, f"{len(said)} sentences, and {SENTENCES} is the most. Say it in fewer."
    for sentence in said:
        if (words := len(sentence.split())) > SENTENCE_WORDS:
            yield where, f'a sentence of {words} words, and {SENTENCE_WORDS} is the most: "{sentence[:40]} ...".'


def _signal_faults(where: str, text: str) -> Iterator[_Fault]:
    if found := _SIGNAL.search(text):
        yield where, f'"{found[0]}" stands in a step. Put what it says into a box before the step.'


def _text_faults(where: str, text: str, most: int = MOST_SIGNS) -> Iterator[_Fault]:
    if not text.strip():
        yield where, "nothing is written here."
    elif len(text) > most:
        yield where, f"{len(text)} signs, and {most} is the most. Say it in fewer."
    elif not text.isprintable():
        yield where, "an invisible sign or a new line stands in the text. Write it in one line of visible signs."


def _id_faults(where: str, text: str) -> Iterator[_Fault]:
    if not _ID.fullmatch(text):
        yield where, f"{_shown(text)} is no id. Write up to 40 small letters and digits with hyphens between."


def _condition_faults(where: str, only: tuple[str, ...]) -> Iterator[_Fault]:
    for condition in only:
        if not is_known(condition):
            names = ", ".join(name for name, _ in FACTS)
            yield where, f'{_shown(condition)} is not known here. Expected one of, or "not " and one of: {names}.'
        elif any(fact_of(other) == fact_of(condition) and other != condition for other in only):
            yield where, f"{_shown(fact_of(condition))} is asked for and excluded, so this never applies."


def _choice_faults(where: str, value: str, choices: tuple[str, ...]) -> Iterator[_Fault]:
    if value not in choices:
        yield where, f"{_shown(value)} is not known here. Expected one of: {', '.join(choices)}."


def _said(message: str, raw: dict[str, Any]) -> str:
    """Say a fault of shape in a line: step and box counted from 1, key, what is expected."""
    place = _PLACE.search(message)
    parts = [
        _part(key, int(entry) + 1 if entry else 0, raw) for key, entry in _PATH_PART.findall(place[1] if place else "")
    ]
    message = message[: place.start()] if place else message
    if field := _FIELD.search(message):
        is_unknown = field[1] == "contains unknown"
        parts.append(_shown(field[2]) if is_unknown else field[2])
        return f"{': '.join(parts)}: {'this key is not known here' if is_unknown else 'this key is missing'}."
    if value := _VALUE.search(message):
        message = f"expected {_NAMES.get(value[1], value[1])}, found {_NAMES.get(value[2], value[2])}"
    return f"{': '.join(parts)}: {message}."


def _part(key: str, number: int, raw: dict[str, Any]) -> str:
    """Name one part of a path: a key, an entry counted from 1, or a step with its id."""
    if key != "step" or not number:
        return f"{key} {number}" if number else key
    steps = raw.get("step")
    steps = steps[number - 1 : number] if isinstance(steps, list) else []
    return _step_words(number, *(step.get("id") for step in steps if isinstance(step, dict)))


def _step_words(number: int, step_id: object = None) -> str:
    """Name a step by its number and, where it has a fit one, its id."""
    is_fit = isinstance(step_id, str) and _ID.fullmatch(step_id)
    return f"step {number} ({step_id})" if is_fit else f"step {number}"


def _shown(text: str) -> str:
    """Write a stranger's text in one short line of visible signs."""
    visible = text.encode("unicode_escape").decode("ascii")
    return f'"{visible}"' if len(visible) <= 60 else f'"{visible[:56]} ..."'  # noqa: PLR2004 - one short line
