"""The index of orders: a line and the words of each, made from the order, and dropped and made again at any time."""

import json
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from sqlite_utils import Database

from desktop.core.errors import Refusal
from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import OrderLine, line_of, search_words
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.stamp import Stamp
from desktop.storage.database import rows

MOST = 2**63 - 1
"""The greatest number that the database keeps."""
COLUMNS = (
    "number, version, state, customer, registration, aircraft_type, position, opened_by, opened_at, opened_under, "
    "promised, asked, cards, mechanics, not_normal"
)
_QUALIFIED = ", ".join(f"l.{name}" for name in COLUMNS.split(", "))
_MARKS = ", ".join("?" * len(COLUMNS.split(", ")))
_DAMAGED = (
    "The list of work orders in the shop file is damaged: another program wrote in it. "
    "Restore the newest backup that is sound."
)
_STATES = {state.value: state for state in OrderState}
_POSITIONS = {position.value: position for position in EnginePosition}


def put_in_index(db: Database, order: WorkOrder) -> None:
    """Put an order into the index, in the place of what stood there about it."""
    line = line_of(order)
    db.execute(
        f"INSERT OR REPLACE INTO order_line ({COLUMNS}) VALUES ({_MARKS})",  # noqa: S608 - names from this file
        (
            line.number,
            line.version,
            line.state.value,
            line.customer,
            line.registration,
            line.aircraft_type,
            line.position.value,
            line.opened.person,
            line.opened.at.isoformat(),
            line.opened.under,
            line.promised.isoformat() if line.promised else None,
            line.asked,
            line.cards,
            json.dumps(line.mechanics),
            line.not_normal,
        ),
    )
    words = " ".join(search_words(order))
    kept = rows(db, "SELECT words FROM order_word WHERE number = ?", order.number)
    if not kept:
        db.execute("INSERT INTO order_word (number, words) VALUES (?, ?)", (order.number, words))
    elif kept != [(words,)]:
        db.execute("UPDATE order_word SET words = ? WHERE number = ?", (words, order.number))


def empty_index(db: Database) -> None:
    """Take every order out of the index, whatever stood in it."""
    # Taking words out asks that the search agrees with them: make it agree first.
    db.execute("INSERT INTO order_find (order_find) VALUES ('rebuild')")
    db.execute("DELETE FROM order_word")
    db.execute("DELETE FROM order_line")


def find_lines(
    db: Database, find: Sequence[str], state: OrderState | None, limit: int, before: int | None
) -> tuple[OrderLine, ...]:
    """Return lines of orders, the highest number first. A page goes on below a number: nothing is counted off."""
    wanted = [word for word in find if word]
    if not all(is_word(word) for word in wanted):
        return ()
    sql, values = question(wanted, state, min(limit, MOST), before)
    return tuple(_line(row) for row in rows(db, sql, *values))


def question(
    find: Sequence[str], state: OrderState | None, limit: int, before: int | None
) -> tuple[str, tuple[object, ...]]:
    """Return the question for a page of lines, and its values."""
    key = "w.rowid" if find else "l.number"
    source = "order_find w JOIN order_line l ON l.number = w.rowid" if find else "order_line l"
    conditions: list[tuple[str, object]] = []
    if find:
        conditions.append(("order_find MATCH ?", " ".join(f'"{word}"*' for word in find)))
    if before is not None:
        conditions.append((f"{key} < ?", max(0, min(before, MOST))))
    if state is not None:
        conditions.append(("l.state = ?", state.value))
    where = f"WHERE {' AND '.join(condition for condition, _ in conditions)} " if conditions else ""
    sql = f"SELECT {_QUALIFIED} FROM {source} {where}ORDER BY {key} DESC LIMIT ?"  # noqa: S608 - names from this file
    return sql, (*(value for _, value in conditions), limit)


def is_word(word: str) -> bool:
    """Tell whether something can be a word of the index: small letters and digits. Nothing else needs quoting."""
    return word.isalnum() and word == word.casefold()


def _line(row: tuple[Any, ...]) -> OrderLine:
    """Return a line as it was put in. Raise Refusal for one that was not written by this program."""
    number, version, state, customer, registration, kind, position, by, at, under, promised, asked, cards, who, odd = (
        row
    )
    if not all(isinstance(text, str) for text in (customer, registration, kind, by, under, asked)):
        raise Refusal(_DAMAGED)
    if not all(isinstance(count, int) for count in (number, version, cards, odd)):
        raise Refusal(_DAMAGED)
    try:
        return OrderLine(
            number,
            version,
            _STATES[state],
            customer,
            registration,
            kind,
            _POSITIONS[position],
            Stamp(by, datetime.fromisoformat(at), under),
            date.fromisoformat(promised) if promised else None,
            asked,
            cards,
            _names(who) if who != "[]" else (),
            odd,
        )
    except (KeyError, ValueError, TypeError, RecursionError) as trouble:
        raise Refusal(_DAMAGED) from trouble


def _names(text: str) -> tuple[str, ...]:
    """Return the names of a list of them. Raise ValueError for anything else."""
    found = json.loads(text)
    if not isinstance(found, list) or not all(isinstance(name, str) for name in found):
        raise ValueError("no list of names")
    return tuple(found)
