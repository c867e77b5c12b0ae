"""Who took each reading, kept beside the readings while they change."""

import re
from collections.abc import Iterator
from dataclasses import replace

from desktop.core.shop.orders.order_card import ReadingTaken
from desktop.core.timing.typed_card import TypedCard
from desktop.core.timing.typed_paths import value_at

_ENTRY = re.compile(r"(?P<list>.*)\[(?P<place>[0-9]+)\]\.[a-z_]+")

Marks = tuple[ReadingTaken, ...]


def marked(marks: Marks, old: TypedCard, new: TypedCard, mark: ReadingTaken) -> Marks:
    """Return the marks after one value was taken at the path of ``mark``.

    The mark is new when the value is, or when the same value has now another tool. Where an entry of a list went with
    its last reading, the marks of later entries go up with them; where no value stands, no mark does.
    """
    entry = _ENTRY.fullmatch(mark.path)
    if entry and _count(new, entry["list"]) < _count(old, entry["list"]):
        return tuple(_moved_up(marks, entry["list"], int(entry["place"])))
    kept = {one.path: one for one in marks}
    before = kept.get(mark.path)
    is_same = value_at(old, mark.path) == value_at(new, mark.path)
    if not is_same or (before is not None and mark.tool not in ("", before.tool)):
        kept[mark.path] = mark
    return standing(tuple(kept.values()), new)


def standing(marks: Marks, readings: TypedCard) -> Marks:
    """Return the marks at whose paths a value stands."""
    return tuple(one for one in marks if value_at(readings, one.path) is not None)


def _moved_up(marks: Marks, entries: str, gone: int) -> Iterator[ReadingTaken]:
    for one in marks:
        here = _ENTRY.fullmatch(one.path)
        if here is None or here["list"] != entries or int(here["place"]) < gone:
            yield one
        elif int(here["place"]) > gone:
            field = one.path.rsplit(".", 1)[1]
            yield replace(one, path=f"{here['list']}[{int(here['place']) - 1}].{field}")


def _count(card: TypedCard, path: str) -> int:
    """Count the entries of a list of readings."""
    here: object = card
    for name in path.split("."):
        here = getattr(here, name, None)
    return len(here) if isinstance(here, tuple) else 0
