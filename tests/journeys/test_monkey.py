"""Random keys and clicks raise nothing, whatever they open, and leave a shop file that is sound.

400 deeds a seed by default; ``SPARKWRIGHT_MONKEY=20000 python -m pytest tests/journeys/test_monkey.py`` for the large
count.
"""

import os
import shutil
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from desktop import shop_assembly
from desktop.app import application
from desktop.core.left_off import LeftOff
from desktop.demo.shop import build_shop
from desktop.files.demo_shop import demo_shop
from desktop.shop_windows import ShopWindows
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from tests.journeys.monkey import Monkey

DEEDS = int(os.environ.get("SPARKWRIGHT_MONKEY", "400"))
SEEDS = (1, 2, 3)


class Kept:
    """Where somebody left off, kept in this process only."""

    def __init__(self) -> None:
        self.left_off = LeftOff()

    def read(self) -> LeftOff:
        """Return it."""
        return self.left_off

    def write(self, left_off: LeftOff) -> None:
        """Keep it."""
        self.left_off = left_off


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("monkey") / "demo.shop"
    build_shop(place)
    return place


@pytest.fixture
def place(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop file of its own, in a folder where everything that is written stays."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copy(built, tmp_path / "demo.shop"))


def quick_demo(built: Path, place: Path) -> None:
    """Stand in for the demo's builder: a shop that was built before."""
    shutil.copy(built, place)


@pytest.mark.parametrize("seed", SEEDS)
def test_that_a_monkey_raises_nothing_and_the_records_stay_sound(
    qtbot: QtBot, built: Path, place: Path, seed: int
) -> None:
    application()
    windows = ShopWindows(Kept(), lambda to, _pace: quick_demo(built, to), FOR_DEMO, place.parent)
    secrets = demo_shop().secrets
    monkey = Monkey(seed, tuple(secrets.values()), secrets)
    with windows:
        windows.open_shop(place)
        while monkey.deeds < DEEDS:
            assert monkey.play(DEEDS - monkey.deeds) == ""
            if monkey.deeds < DEEDS:  # every window was closed
                windows.open_shop(place)
        shut(windows)
    assert len(monkey.windows) > 1
    assert len(monkey.places) > (5 if DEEDS >= 5000 else 0), "it never came behind the first page"
    print(f"seed {seed}: {monkey.deeds} deeds in {sorted(monkey.windows)}; {sorted(monkey.places)}")
    verified = shop_assembly.check_shop(place)
    assert verified.problems == ()


def shut(windows: ShopWindows) -> None:
    """Close every window, whatever was typed."""
    for window in windows.shops:
        window._may_close = window._is_copied = True  # noqa: SLF001 - the monkey is done
        window.close()


def raise_it() -> None:
    """Raise what a broken button raises."""
    raise KeyError("nothing")


def test_that_a_monkey_finds_a_button_that_raises(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    for words in ("Quiet", "Broken", "Quiet too"):
        column.addWidget(QPushButton(words))
    broken = page.findChildren(QPushButton)[1]
    broken.clicked.connect(raise_it)
    page.show()
    page.activateWindow()
    monkey = Monkey(7)
    said = monkey.play(2000)
    assert "KeyError('nothing')" in said
    assert "Broken" in said
