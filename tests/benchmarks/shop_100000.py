"""A shop of 100,000 orders: how long its lists take beside plain SQLite over the same index, measured in one run.

    python -m tests.benchmarks.shop_100000 [ORDERS]

Each question is asked through the store and, with the same statement, of the bare database by turns. A store that takes
more than three times as long fails. No part of the tests: a busy machine would fail them for nothing.
"""

import sqlite3
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.orders.order_states import OrderState
from desktop.storage.order_index import question
from desktop.storage.shop_store import ShopFile, open_shop
from desktop.usecases.shop.lists.look_up import look_up
from desktop.usecases.shop.ports import Change
from tests.core.shop.some_orders import BY, EMPTY, card
from tests.storage.file_floor import QUIET, TEXT, made

ORDERS = 100_000
MOST_TIMES = 3.0
TURNS = 200
IN_ONE = 5_000
"""Orders made in one transaction."""
CUSTOMERS = ("Mill Flying Club", "Harrow Crop Dusting", "Sedge Island Air", "Quarry Survey", "Otter Float School")
FOUND = (
    "oil leak at the drive",
    "rough on the left",
    "hard to start when hot",
    "late by two degrees",
    "arcing at the lead",
)
SPARSE = "bellcrank"
"""A word that stands on one order in a thousand."""

Ask = Callable[[], object]


def fill(file: ShopFile, orders: int) -> None:
    """Make the orders, each with a card, a customer, an aircraft and a complaint."""
    for first in range(1, orders + 1, IN_ONE):
        with file.changing() as work:
            for number in range(first, min(first + IN_ONE, orders + 1)):
                plane = number % (orders // 20 + 1)
                engine = EngineFitted(EnginePosition.SINGLE, "Fourbanger 360", f"E-{plane}")
                asked = f"{FOUND[number * 7 % 5]}, job {number * 31 % 977}"
                order = replace(
                    EMPTY,
                    number=number,
                    customer=Customer(f"{CUSTOMERS[number % 5]} {number % 211}"),
                    aircraft=Aircraft(f"X-{plane:05}", "Trainer 2", f"A-{plane}", (engine,)),
                    position=EnginePosition.SINGLE,
                    asked=f"{asked} {SPARSE}" if number % 1000 == 7 else asked,
                    cards=(card(1),),
                    ending=None if number % 4 else OrderState.VOID,
                )
                work.put_order(order, Change(number, 1, BY, ("opened",)))


def questions(file: ShopFile, bare: sqlite3.Connection, orders: int) -> dict[str, tuple[Ask, Ask]]:
    """Return each question twice: to the store, and the same statement to the bare database."""

    def pair(find: str = "", state: OrderState | None = None, before: int | None = None) -> tuple[Ask, Ask]:
        sql, values = question(tuple(find.split()), state, 50, before)
        return lambda: look_up(file, find, state, 50, before), lambda: bare.execute(sql, values).fetchall()

    deep = orders + 1 - 100 * 50
    return {
        "newest 50": pair(),
        "newest 50 that are void": pair(state=OrderState.VOID),
        "page 100 deep": pair(before=deep),
        "a word on many orders": pair("leak"),
        "a word on one in a thousand": pair(SPARSE),
        "two words": pair("otter arc"),
        "one letter": pair("m"),
        "a word, page 100 deep": pair("leak", before=deep),
        "a word, void only": pair("leak", OrderState.VOID),
        "a registration": pair("x 00123"),
    }


def measured(ask: Ask, bare: Ask) -> tuple[float, float]:
    """Return the medians of both in milliseconds, asked by turns so that both see the same machine."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(TURNS):
        for one, kept in zip((ask, bare), times, strict=True):
            begun = time.perf_counter()
            one()
            kept.append((time.perf_counter() - begun) * 1000)
    return median(times[0]), median(times[1])


def main(orders: int) -> int:
    """Make the shop, ask, and print a line a question; return how many took too long."""
    with TemporaryDirectory() as folder:
        place = Path(folder) / "large.shop"
        begun = time.perf_counter()
        with made(place) as file:
            fill(file, orders)
        print(f"{orders} orders made in {time.perf_counter() - begun:.0f} s, {place.stat().st_size / 1e6:.0f} MB")
        slow = 0
        begun = time.perf_counter()
        with open_shop(place, TEXT, QUIET) as file:
            print(f"opened in {(time.perf_counter() - begun) * 1000:.1f} ms")
            bare = sqlite3.connect(place, isolation_level=None)
            for name, (ask, raw) in questions(file, bare, orders).items():
                ours, theirs = measured(ask, raw)
                verdict = "PASS" if ours <= MOST_TIMES * theirs else "FAIL"
                slow += verdict == "FAIL"
                print(f"{verdict}  {name:28} {ours:7.3f} ms, bare {theirs:7.3f} ms, ratio {ours / theirs:.2f}")
            bare.close()
            ours, _ = measured(file.change_count, file.change_count)
            print(f"      the look for changes         {ours:7.3f} ms")
        print("FAIL" if slow else "PASS", f"(at most {MOST_TIMES:g} times)")
        return slow


if __name__ == "__main__":
    sys.exit(bool(main(int(sys.argv[1]) if len(sys.argv) > 1 else ORDERS)))
