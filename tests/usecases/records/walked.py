"""Walking a value: every text, number and time in it, and every value that differs from it in one place."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum
from typing import Any

from desktop.core.records.record import Section, visible
from desktop.core.words import day_words
from desktop.usecases.records.sections.names import moment_words

Place = tuple[str, ...]
NOT_SAID = frozenset({"only", "section", "says"})
"""Fields of a step by which the program chooses what applies; what it chose is said."""


def leaves(value: object, place: Place = ()) -> Iterator[tuple[Place, Any]]:
    """Yield everything in a value that is no table and no list, with its place."""
    if is_dataclass(value):
        for one in fields(value):
            if one.name not in NOT_SAID:
                yield from leaves(getattr(value, one.name), (*place, one.name))
    elif isinstance(value, tuple):
        for number, entry in enumerate(value, 1):
            yield from leaves(entry, (*place, str(number)))
    else:
        yield place, value


def words_for(leaf: object) -> tuple[str, ...]:
    """Return the words in which a record says a leaf; none for yes and no, whose words depend on the place."""
    if leaf is None or isinstance(leaf, bool) or leaf == "":
        return ()
    if isinstance(leaf, datetime):
        return (moment_words(leaf),)
    if isinstance(leaf, date):
        return (day_words(leaf),)
    return tuple(map(visible, str(leaf).splitlines()))


def unsaid(value: object, sections: tuple[Section, ...]) -> list[str]:
    """Return the places of everything in a value that the sections do not say."""
    said = "\n".join(f"{section.title}\n{row.label}\n{row.text}" for section in sections for row in section.rows)
    said = said.casefold().replace("-", " ")
    return [
        ".".join(place)
        for place, leaf in leaves(value)
        if any(words.casefold().replace("-", " ") not in said for words in words_for(leaf))
    ]


def others(value: Any, place: Place = ()) -> Iterator[tuple[Place, Any]]:  # noqa: ANN401 - any value
    """Yield every value that differs from this one in one leaf, or that has one entry less; with the place."""
    if is_dataclass(value) and not isinstance(value, type):
        for one in fields(value):
            if one.name not in NOT_SAID:
                for where, other in others(getattr(value, one.name), (*place, one.name)):
                    try:
                        yield where, replace(value, **{one.name: other})
                    except ValueError:
                        continue  # a value that cannot be: the form itself refuses it
    elif isinstance(value, tuple):
        for number, entry in enumerate(value):
            for where, other in others(entry, (*place, str(number + 1))):
                yield where, (*value[:number], other, *value[number + 1 :])
            yield (*place, str(number + 1), "left out"), (*value[:number], *value[number + 1 :])
    else:
        yield from ((place, other) for other in _other(value))


def _other(leaf: Any) -> Iterator[Any]:  # noqa: ANN401 - any leaf
    if isinstance(leaf, StrEnum):
        yield from (member for member in type(leaf) if member is not leaf)
    elif isinstance(leaf, bool):
        yield not leaf
    elif isinstance(leaf, int):
        yield leaf + 1
    elif isinstance(leaf, str):
        yield f"{leaf}7"
    elif isinstance(leaf, date):
        yield leaf + timedelta(days=1)
