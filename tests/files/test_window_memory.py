"""How a window was left is kept, and whatever cannot be read is as if nothing had been kept."""

from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.left_off import DARK, LeftOff
from desktop.files.window_memory import WindowMemory

LEFT = LeftOff("/home/shop/mill.shop", "People", 3, 2, DARK, 150, is_locked=True)


def test_that_what_was_kept_is_read_again(tmp_path: Path) -> None:
    memory = WindowMemory(tmp_path / "new folder" / "window.toml")
    assert memory.read() == LeftOff()
    memory.write(LEFT)
    assert memory.read() == LEFT


@pytest.mark.parametrize(
    "text",
    [
        "shop = 3",
        "order = -1",
        'theme = "pink"',
        "percent = 103",
        "= broken",
        f'shop = "{"x" * 5000}"',
        "order = 1.5",
    ],
)
def test_that_a_file_that_says_something_else_is_forgotten(tmp_path: Path, text: str) -> None:
    place = tmp_path / "window.toml"
    place.write_text(text)
    assert WindowMemory(place).read() == LeftOff()


def test_that_bytes_that_are_no_text_are_forgotten(tmp_path: Path) -> None:
    place = tmp_path / "window.toml"
    place.write_bytes(b"\xff\xfe\x00")
    assert WindowMemory(place).read() == LeftOff()


def test_that_a_place_that_cannot_be_written_keeps_nobody_from_closing(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    memory = WindowMemory(blocked / "window.toml")
    memory.write(LEFT)
    assert memory.read() == LeftOff()


def test_that_a_path_that_is_no_text_is_forgotten(tmp_path: Path) -> None:
    memory = WindowMemory(tmp_path / "window.toml")
    memory.write(replace(LEFT, shop="/home/\udc80.shop"))
    assert memory.read() == LeftOff()
