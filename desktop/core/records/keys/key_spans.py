"""Whose key counted from which record to which."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from desktop.core.records.keys.key_book import KeyBook
from desktop.core.records.record import Record
from desktop.core.records.subjects import person_named


@dataclass(frozen=True, slots=True)
class KeySpan:
    """A key (64 hexadecimal digits) of a person: ``since`` brought it, ``until`` ended it; 0 while it is in use."""

    person: str
    name: str
    key: str
    since: int
    until: int = 0


def key_spans(records: Iterable[tuple[int, Record]]) -> tuple[KeySpan, ...]:
    """Return the keys that records brought, in the order of the records; each record comes with its number."""
    book, spans = KeyBook(), list[KeySpan]()
    current: dict[str, int] = {}
    for number, record in records:
        book.take(number, record)
        named = person_named(record.subject)
        standing = book.standing(named) if named is not None else None
        if named is None or standing is None or standing.number != number:
            continue
        key = standing.public_key.hex()
        if named in current and spans[current[named]].key != key:
            place = current.pop(named)
            spans[place] = replace(spans[place], until=number)
        if key and named not in current:
            current[named] = len(spans)
            spans.append(KeySpan(named, standing.person.name, key, number))
    return tuple(spans)
