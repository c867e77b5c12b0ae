"""Task cards: TOML into values. A card that breaks the rules of good instructions is refused, with the place."""

from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path

import msgspec

from desktop.core.errors import Refusal
from desktop.core.shop.cards.task_card import TaskCard
from desktop.files.card_faults import card_faults
from desktop.files.card_steps import CardBook
from desktop.files.card_tables import CardTable
from desktop.files.shop_folder import JOBS_FILE, texts_in
from desktop.files.text_faults import sentences
from desktop.files.toml_faults import shape_fault, shown
from desktop.files.toml_text import read_toml

__all__ = ["builtin_cards", "cards_in", "load_card", "load_cards", "sentences"]


def load_card(data: bytes, name: str, known: Sequence[TaskCard] = ()) -> TaskCard:
    """Return the card in the bytes of a card file; it may use sections of the known cards.

    Raise Refusal with the file's name, the step (counted from 1, with its id), the box and the key of the first fault.
    """
    return load_cards(((name, data),), known)[0]


def load_cards(texts: Sequence[tuple[str, bytes]], known: Sequence[TaskCard] = ()) -> tuple[TaskCard, ...]:
    """Return the cards of named card files, in their order; they may use one another and the known cards.

    Raise Refusal with file, step or use, and key of the first fault. No two cards have one id, in small letters or
    large ones, and none has that of a known card.
    """
    shipped = {card.id.casefold() for card in known}
    tables: dict[str, tuple[str, CardTable]] = {}
    owners: dict[str, str] = {}
    for name, data in texts:
        table = _table(data, name)
        if table.id.casefold() in shipped:
            raise Refusal(f"{name}: id: {shown(table.id)} is the id of a card of the program. Give yours its own.")
        if owner := owners.get(table.id.casefold()):
            raise Refusal(f"{name}: id: {shown(table.id)} is the id of the card in {owner}. Give each its own.")
        owners[table.id.casefold()] = name
        tables[table.id] = (name, table)
    book = CardBook(tables, known)
    return tuple(book.card(card_id) for card_id in tables)


@cache
def builtin_cards() -> tuple[TaskCard, ...]:
    """Return the cards that come with the program, by the names of their files."""
    folder = files("resources").joinpath("cards")
    places = sorted((place for place in folder.iterdir() if place.name.endswith(".toml")), key=lambda place: place.name)
    return load_cards(tuple((place.name, place.read_bytes()) for place in places))


def cards_in(folder: Path) -> tuple[TaskCard, ...]:
    """Return a shop's own cards, by the names of their files; none where there is no folder.

    They load as the shipped ones do, which they may use. Raise Refusal for the first fault, for a file that cannot be
    read, and for a link that leads out of the folder.
    """
    texts = tuple((name, data) for name, data in texts_in(folder) if name != JOBS_FILE)
    return load_cards(texts, builtin_cards())


def _table(data: bytes, name: str) -> CardTable:
    try:
        raw = read_toml(data)
    except Refusal as refusal:
        raise Refusal(f"{name}: {refusal.sentence}") from refusal
    try:
        table = msgspec.convert(raw, CardTable)
    except msgspec.ValidationError as trouble:
        raise Refusal(f"{name}: {shape_fault(str(trouble), raw, 'step')}") from trouble
    for where, fault in card_faults(table):
        raise Refusal(f"{name}: {where}: {fault}")
    return table
