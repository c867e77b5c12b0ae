"""The restore drill: the printed page alone leads from a copy to the shop, in the window and at the command line.

Every command line, label and key is taken from the text of the PDF; whatever on it does not exist fails the drill.
"""

import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desktop import shop_assembly
from desktop.__main__ import main
from desktop.core.left_off import LeftOff
from desktop.windows.frame.shop_window import ShopWindow
from tests.journeys.drill_floor import AFTER, TYPED, WINDOW, Machine, Reader, Sheet
from tests.windows.shop.copies_floor import add_order, bytes_of, copied, make


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    found = tmp_path / "stick"
    found.mkdir()
    return found


@pytest.fixture
def dead(tmp_path: Path, stick: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shop file of the machine that is going to die: one order, copied after that."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "old-state"))
    (tmp_path / "old").mkdir()
    place = make(tmp_path / "old" / "quarry.shop", copies=stick)
    add_order(place)
    return place


def printed(machine: Machine, shop: Path, size: str = "letter") -> Sheet:
    """Print the page, and read it back."""
    pdf = machine.home / f"restore-{size}.pdf"
    done = machine.run(f"sparkwright paper {shop} - --kind restore --size {size} -o {pdf}", "")
    assert done.returncode == 0, done.stderr
    [page] = PdfReader(pdf).pages
    return Sheet(page.extract_text())


def machine_with(folder: Path, copy: Path, shop: Path | None = None) -> Machine:
    home = folder / "new"
    home.mkdir()
    return Machine(home, shop or home / "quarry.shop", copy)


# --- at the command line ---


def restore_by_command_line(sheet: Sheet, machine: Machine) -> list[str]:
    """Do what the page says; return what was printed, command by command."""
    said = []
    for line in sheet.commands(sheet.part("Step by step", WINDOW)):
        done = machine.run(line, sheet.seal)
        assert done.returncode == 0, (line, done.stderr)
        said.append(done.stdout)
    bring = sheet.part(TYPED, AFTER)
    first, older = sheet.commands(bring)
    for option in re.findall(r"--\w+", bring):
        assert option in machine.run(f"{first} --help", "").stdout, option
    done = machine.run(first, sheet.seal)
    if done.returncode and "lacks" in done.stderr:
        done = machine.run(older, sheet.seal)
    assert done.returncode == 0, done.stderr
    said.append(done.stdout)
    for line in sheet.commands(sheet.part(AFTER)):
        done = machine.run(line, sheet.seal)
        assert done.returncode in ((0, 1) if " doctor " in line else (0,)), (line, done.stderr)
        assert not [one for one in done.stdout.splitlines() if one.startswith("wrong ")]
        said.append(done.stdout)
    return said


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_the_page_brings_the_shop_back_on_a_new_machine_by_command_line(
    tmp_path: Path, dead: Path, stick: Path, size: str
) -> None:
    machine = machine_with(tmp_path, copied(dead, stick))
    sheet = printed(machine, dead, size)
    dead.unlink()
    verified, restored, checked, doctor = restore_by_command_line(sheet, machine)
    assert "1 record" in verified
    assert f"{machine.shop} is restored: 1 order and 1 record of the copy, and a record of the restore." in restored
    assert "2 records" in checked
    assert "quick check" in doctor


def test_that_the_page_brings_an_older_copy_back_over_the_present_file(tmp_path: Path, dead: Path, stick: Path) -> None:
    machine = machine_with(tmp_path, copied(dead, stick), dead)
    sheet = printed(machine, dead)
    add_order(dead)
    before = dead.read_bytes()
    restored = restore_by_command_line(sheet, machine)[1]
    assert "is restored: 1 order" in restored
    [aside] = dead.parent.glob("*kept aside*")
    assert aside.read_bytes() == before


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("sparkwright restore COPY SHOP\n", "sparkwright bring-back COPY SHOP\n", "No such command 'bring-back'"),
        ("add --by and", "add --keeper and", "--keeper"),
        ("verify COPY --head SEAL", "verify COPY --seal SEAL", "No such option"),
        ("sparkwright doctor SHOP", "sparkwright physician SHOP", "No such command 'physician'"),
    ],
)
def test_that_a_page_with_a_command_that_there_is_not_fails_the_drill(
    tmp_path: Path, dead: Path, stick: Path, old: str, new: str, said: str
) -> None:
    machine = machine_with(tmp_path, copied(dead, stick))
    sheet = printed(machine, dead).with_words(old, new)
    dead.unlink()
    with pytest.raises(AssertionError, match=re.escape(said)):
        restore_by_command_line(sheet, machine)


# --- in the window ---


def restore_in_the_window(
    qtbot: QtBot, sheet: Sheet, machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> tuple[str, int]:
    """Type the command of the page and do what it says; return what the shop says, and how many orders it holds."""
    found: list[tuple[str, int]] = []
    reader = Reader(qtbot, sheet, machine)

    def stay() -> int:
        try:
            reader.front(reader.window())
            reader.read_and_do()
            window = reader.restored()
            found.append((window.orders.foot.message.text(), window.orders_desk.orders.rowCount()))
        finally:
            for one in QApplication.topLevelWidgets():
                if isinstance(one, ShopWindow):
                    one.close_for_restore()
                elif one.isVisible():
                    one.close()
        return 0

    [command] = sheet.commands(sheet.part(WINDOW, TYPED))
    monkeypatch.setattr("desktop.shop_windows.stay", stay)
    monkeypatch.setattr(sys, "argv", command.split())
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0, "the command of the page is refused"
    [said] = found
    return said


@pytest.fixture
def at(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, dead: Path, stick: Path) -> Machine:
    """A new machine with the copy, whose user's folder is this process's too."""
    machine = machine_with(tmp_path, copied(dead, stick))
    monkeypatch.setenv("XDG_STATE_HOME", str(machine.home / "state"))
    monkeypatch.setenv("HOME", str(machine.home))
    monkeypatch.setenv("DISPLAY", ":0")
    return machine


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_the_page_brings_the_shop_back_on_a_new_machine_in_the_window(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, at: Machine, dead: Path, size: str
) -> None:
    sheet = printed(at, dead, size)
    dead.unlink()
    said, orders = restore_in_the_window(qtbot, sheet, at, monkeypatch)
    assert said.startswith(f"{at.shop} is restored: 1 order and 1 record of the copy")
    assert orders == 1


def test_that_the_page_brings_an_older_copy_back_in_the_window_of_the_shop(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, at: Machine, dead: Path
) -> None:
    sheet = printed(at, dead)
    add_order(dead)
    shop_assembly.window_memory().write(LeftOff(shop=str(dead)))
    said, orders = restore_in_the_window(qtbot, sheet, replace(at, shop=dead), monkeypatch)
    assert said.startswith(f"{dead} is restored: 1 order and 1 record of the copy")
    [aside] = dead.parent.glob("*kept aside*")
    assert str(aside) in said
    assert orders == 1


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"Restore a copy"', '"Bring a copy back"', "Bring a copy back"),
        ('"Restore this copy"', '"Bring it back"', "Bring it back"),
        ('"New shop file"', '"Path of the file"', "Path of the file"),
        ('"Secret"', '"Password"', "Password"),
        ("sparkwright open", "sparkwright unlock", "the command of the page is refused"),
    ],
)
def test_that_a_page_with_a_label_or_command_that_there_is_not_fails_the_drill(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, at: Machine, dead: Path, old: str, new: str, said: str
) -> None:
    sheet = printed(at, dead).with_words(old, new)
    dead.unlink()
    before = set(bytes_of(at.home))
    with pytest.raises(AssertionError, match=said):
        restore_in_the_window(qtbot, sheet, at, monkeypatch)
    assert set(bytes_of(at.home)) == before
