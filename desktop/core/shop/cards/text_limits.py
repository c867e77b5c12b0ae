"""What a text may hold before it is written on an order: a limited number of visible signs."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from itertools import chain, repeat

from desktop.core.shop.cards.task_card import TaskCard

MOST_SIGNS = 2000
"""Most signs of one text."""
MOST_ENTRIES = 1000
"""Most entries of one list: steps, readings, parts."""


def text_trouble(value: object, kept: object = None) -> str | None:
    """Say the first text in a value that is too long or holds an invisible sign, and what to do; None for neither.

    Task cards are left out: they were looked at when they were read. So is every part that the value shares with
    ``kept``, the value before, which was looked at when it was kept.
    """
    return next(_troubles(value, kept, "text"), None)


def _troubles(value: object, kept: object, name: str) -> Iterator[str]:
    if value is kept:
        return
    if isinstance(value, str):
        if len(value) > MOST_SIGNS or not value.isprintable():
            yield from _in_text(value, name)
    elif isinstance(value, tuple):
        if len(value) > MOST_ENTRIES:
            yield f"{_said(name)}: {len(value)} entries, and {MOST_ENTRIES} is the most. Begin another card or order."
        before = kept if isinstance(kept, tuple) else ()
        for entry, old in zip(value, chain(before, repeat(None)), strict=False):
            yield from _troubles(entry, old, name)
    elif is_dataclass(value) and not isinstance(value, TaskCard):
        kind: type = type(value)
        for field_name in _names_of(kind):
            yield from _troubles(getattr(value, field_name), getattr(kept, field_name, None), field_name)


@cache
def _names_of(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))


def _in_text(text: str, name: str) -> Iterator[str]:
    if len(text) > MOST_SIGNS:
        yield f"{_said(name)}: {len(text)} signs, and {MOST_SIGNS} is the most. Say it in fewer."
    else:
        odd = next((sign for sign in text if not sign.isprintable() and sign != "\n"), None)
        if odd is not None:
            yield f"{_said(name)}: an invisible sign (U+{ord(odd):04X}) stands in the text. Write visible signs only."


def _said(name: str) -> str:
    return name.replace("_", " ").capitalize()
