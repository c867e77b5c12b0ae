"""Which signed records are found by which words: number, kind, what it is about, registration, who signed."""

from collections.abc import Mapping, Sequence

from desktop.core.records.sealed.record_line import RecordLine
from desktop.core.shop.orders.order_line import is_found, order_name, words_of

MOST_SIGNS = 200
MOST_WORDS = 8


def words_in(line: RecordLine, registration: str) -> tuple[str, ...]:
    """Return the words by which a record is found, small, without accents."""
    order = order_name(line.order) if line.order else ""
    return (
        str(line.number),
        *words_of(f"{line.kind} {line.subject} {order}"),
        *words_of(f"{line.person} {line.name} {registration}"),
        *((_joined(registration),) if registration else ()),
    )


def found_in(
    lines: Sequence[RecordLine], registrations: Mapping[int, str], typed: str
) -> tuple[tuple[RecordLine, str], ...]:
    """Return the records in which each typed word begins a word, the newest first, each with its registration.

    Of a long text only the first eight words count. Text without a letter or digit finds nothing, an empty one all.
    """
    find = words_of(typed[:MOST_SIGNS])[:MOST_WORDS]
    if typed.strip() and not find:
        return ()
    pairs = ((line, registrations.get(line.order, "")) for line in reversed(lines))
    return tuple((line, where) for line, where in pairs if not find or is_found(words_in(line, where), find))


def _joined(registration: str) -> str:
    """Return a registration as one word, for those who leave its dash out."""
    return "".join(words_of(registration))
