"""The invented shop of the use cases' tests, in a file instead of in memory."""

import shutil
import sqlite3
from itertools import count
from pathlib import Path
from typing import Any, cast

from desktop.core.timing.typed_paths import value_at
from desktop.files.shop_json import ShopJson
from desktop.storage.places import Surroundings
from desktop.storage.shop_store import ShopFile, new_shop, open_shop
from desktop.usecases.shop.ports import Shop
from tests.usecases.shop.fake_store import FakeClock
from tests.usecases.shop.shop_floor import PAPERWORK, PEOPLE, RULEBOOK, TOOLS, Floor

TEXT = ShopJson()
QUIET = Surroundings(patience=10)
"""A machine without mounts, marks and other windows."""
LIGHT = "left.approach[1].light"
_IDS = count(10_000)


class FileFloor(Floor):
    """The same hands on a shop file."""

    def __init__(self, file: ShopFile) -> None:
        super().__init__()
        self.file = file
        self.ids = _IDS  # a file remembers the requests of all floors before
        self.store = cast("Any", file)
        self.shop = Shop(file, FakeClock(), RULEBOOK, PAPERWORK)

    def light(self) -> str | None:
        """Return what stands as the first reading of the light on the left."""
        found = value_at(self.card().readings, LIGHT)
        return None if found is None else str(found)


def made(place: Path) -> ShopFile:
    """Make a shop with its people and tools."""
    store = new_shop(place, "Mill Shop", TEXT, QUIET)
    with store.changing() as work:
        for person in PEOPLE:
            work.put_person(person)
        for tool in TOOLS:
            work.put_tool(tool)
    return store


def opened(place: Path) -> ShopFile:
    """Open a shop file."""
    return open_shop(place, TEXT, QUIET)


def copied(place: Path, folder: Path) -> Path:
    """Copy a closed shop file into a folder."""
    return Path(shutil.copy(place, folder / "copy.shop"))


def sql(place: Path, *statements: str) -> list[tuple[Any, ...]]:
    """Do something to a file as another program would; return the rows of the last statement."""
    connection = sqlite3.connect(place, isolation_level=None)
    try:
        return [connection.execute(statement).fetchall() for statement in statements][-1]
    finally:
        connection.close()
