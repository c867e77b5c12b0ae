"""A window's process is killed while something is kept: the next start says in its notice area whether it is there."""

import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from desktop import copy_assembly, shop_assembly
from desktop.app import application
from desktop.core.left_off import LeftOff
from desktop.files.window_memory import WindowMemory
from desktop.shop_windows import ShopWindows
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.windows.frame.shop_window import ShopWindow

HOUSE = Path(__file__).parents[2]
DIES = """
import os, signal, sys
from dataclasses import replace
from pathlib import Path
from desktop import shop_assembly
from desktop.storage.shop_store import ShopFile
from desktop.usecases.shop.lists.keep_settings import keep_settings
from desktop.usecases.shop.ports import Request

commit = ShopFile._commit


def dies(file, work):
    if sys.argv[2] == "after":
        commit(file, work)
    os.kill(os.getpid(), signal.SIGKILL)


ShopFile._commit = dies
with shop_assembly.shop_at(Path(sys.argv[1])) as shop:
    settings = shop.store.settings()
    keep_settings(shop, Request("one", "LO", settings.version), replace(settings, idle_lock=7))
"""
KILLED = getattr(signal, "SIGKILL", None)
pytestmark = pytest.mark.skipif(KILLED is None, reason="NOT RUN: this system cannot kill so")


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    place = tmp_path / "mill.shop"
    shop_assembly.make_shop(place, "Mill Works", "Lena Ode", "LO")
    return place


@pytest.fixture
def windows(qtbot: QtBot, tmp_path: Path) -> Iterator[ShopWindows]:
    application()
    with ShopWindows(WindowMemory(tmp_path / "state" / "window.toml"), None, FOR_DEMO, tmp_path) as windows:
        yield windows
        for window in windows.shops:
            window.close()


def kill(place: Path, moment: str) -> None:
    """Let another process of the program keep a setting, and kill it before or after the shop file has it."""
    ended = subprocess.run([sys.executable, "-c", DIES, str(place), moment], check=False, cwd=HOUSE)
    assert ended.returncode == -signal.SIGKILL


def said_on(window: ShopWindow) -> str:
    return window.orders.foot.message.text()


@pytest.mark.parametrize(("moment", "end"), [("before", "It was not kept. Do it again."), ("after", "It was kept.")])
def test_that_the_next_start_says_whether_the_last_thing_was_kept(
    place: Path, windows: ShopWindows, moment: str, end: str
) -> None:
    kill(place, moment)
    windows.open_shop(place, words="Welcome.")
    window = windows.shops[-1]
    said = said_on(window)
    assert said.startswith("Welcome. The program did not end by itself last time. The last thing to be kept, ")
    assert said.endswith(f"was this: keep the shop's details and settings: settings. {end}"), said
    assert (window.desk.shop.store.settings().idle_lock == 7) is (moment == "after")
    page = copy_assembly.doctor_page(place)
    assert [line.says.endswith(end.rstrip(".")) for line in page if line.what == "last time"] == [True]
    windows.open_shop(place)
    assert said_on(windows.shops[-1]) == ""


def test_that_it_is_said_where_the_window_opens(place: Path, windows: ShopWindows, tmp_path: Path) -> None:
    WindowMemory(tmp_path / "state" / "window.toml").write(LeftOff(shop=str(place), place="People"))
    kill(place, "before")
    windows.begin()
    window = windows.shops[-1]
    assert window.left_off().place == "People"
    seen = [label.text() for label in window.findChildren(QLabel) if label.isVisible()]
    assert [text for text in seen if "It was not kept. Do it again." in text]


def test_that_a_store_that_is_no_file_has_nothing_to_tell(place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        assert shop_assembly.last_time(shop) == ""
