"""A copy that is to be restored, by real keys: each sabotage is told before anything is touched, a sound one is too."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desktop import copy_assembly, shop_assembly
from desktop.viewmodels.pieces.card_words import Progress
from tests.windows.shop.copies_floor import (
    ALT,
    Seat,
    add_order,
    another_shops,
    bytes_of,
    copied,
    cut,
    emptied,
    flipped,
    half_copied,
    seated,
    untouched,
)
from tests.windows.shop.test_copies_place import folder, row, seat, shop, shown

__all__ = ["folder", "seat", "shop"]


OTHER = (
    'is a copy of another shop, "Fen Lane"; the present file is "Quarry Lane Aero Works". Take a copy of this shop, or '
    "restore this one under another name."
)


SABOTAGES = [
    (flipped, "was changed after it was made: one place in it is not as it was written. Take another copy.", "changed"),
    (cut, "is cut short: only ", "cut short"),
    (emptied, "is empty: nothing was copied into it. Take another copy.", "empty"),
    (half_copied, "is half copied: it ends in blank space. Take another copy.", "half copied"),
    (another_shops, OTHER, "another shop's"),
]


@pytest.mark.parametrize(("sabotage", "said", "listed"), SABOTAGES)
def test_that_each_sabotage_is_told_in_one_sentence_before_anything_is_touched(
    seat: Seat, shop: Path, folder: Path, sabotage: Callable[[Path], None], said: str, listed: str
) -> None:
    copy = copied(shop, folder)
    sabotage(copy)
    before = bytes_of(shop.parent)
    seat.go_to_copies()
    assert row(seat, 0)[-1] == listed
    assert seat.shop.desk.copies.model.columns[-1].ring(seat.shop.desk.copies.model.line(0)) is Progress.STOPS  # type: ignore[misc]  # it has one
    assert seat.at() == "Copies"
    seat.press(Qt.Key.Key_Return)
    foot = seat.place.restore.foot
    seat.until(lambda: bool(foot.message.text()))
    assert foot.message.text().startswith(f"{copy} {said}")
    assert "--" not in foot.message.text()
    assert not foot.act.isEnabled()
    assert not seat.place.restore.fields.isVisible()
    assert bytes_of(shop.parent) == before
    assert seat.at() == "Choose a copy…"
    seat.press(Qt.Key.Key_Escape)
    seat.looked()
    assert seat.at() == "Copies"


def test_that_an_older_copy_is_told_with_the_orders_that_would_be_missing(seat: Seat, shop: Path, folder: Path) -> None:
    copied(shop, folder)
    add_order(shop)
    before = bytes_of(shop.parent)
    seat.go_to_copies()
    assert row(seat, 0)[-1] == "sound, read whole"
    seat.press(Qt.Key.Key_Return)
    seat.until(seat.place.restore.fields.isVisible)
    said = shown(seat.place.restore)
    assert "This copy is sound, but it lacks something." in said
    assert "The copy is older than the present file: it lacks 1 order, 1 change of orders." in said
    assert "Missing would be: W-0001 (X-ABCD)." in said
    assert seat.at() == "Take the older copy all the same"
    seat.tab_to("Secret")
    seat.press(Qt.Key.Key_Return)
    assert seat.place.restore.foot.message.text().startswith("Read what the copy lacks.")
    assert seat.at() == "Take the older copy all the same"
    assert bytes_of(shop.parent) == before


def test_that_a_sound_copy_is_told_to_be_sound(seat: Seat, shop: Path, folder: Path) -> None:
    untouched(copied(shop, folder))
    before = bytes_of(shop.parent)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    seat.until(seat.place.restore.fields.isVisible)
    said = shown(seat.place.restore)
    assert "This copy is sound, and lacks nothing." in said
    assert any(one.startswith("It is the shop of Quarry Lane Aero Works: 1 record and 0 orders, made ") for one in said)
    assert 'The present file is kept aside as "quarry kept aside", with day and time' in " ".join(said)
    assert not seat.place.restore.fields.older.isVisible()
    assert seat.at() == "Secret"
    assert bytes_of(shop.parent) == before
    seat.press(Qt.Key.Key_Return)
    assert seat.place.restore.fields.trouble.text() == "Type the secret of the records keeper, then restore."


def test_that_a_file_without_a_seal_is_told_in_the_words_of_a_window(seat: Seat, shop: Path, folder: Path) -> None:
    plain = folder / "plain.shop"
    plain.write_bytes(shop.read_bytes())
    seat.go_to_copies()
    seat.press(Qt.Key.Key_R, ALT)
    seat.name_file(plain)
    foot = seat.place.restore.foot
    seat.until(lambda: bool(foot.message.text()))
    assert foot.message.text().startswith(f"{plain} bears no seal of a copy")
    seat.press(Qt.Key.Key_C, ALT)
    seat.name_file(shop)
    seat.until(lambda: "is the shop file itself" in foot.message.text())


def test_that_the_verification_can_be_stopped_in_the_middle(
    seat: Seat, shop: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copied(shop, folder)
    before = bytes_of(shop.parent)
    whole = copy_assembly.examine_copy
    seen: list[int] = []

    def slowly(copy: Path, place: Path, pace: Callable[[int, int], bool]) -> object:
        def slow(done: int, of: int) -> bool:
            seen.append(len(bytes_of(place.parent)))
            while len(seen) == 4 and pace(4, 9):
                pass
            return pace(done, of)

        return whole(copy, place, slow)

    monkeypatch.setattr(copy_assembly, "examine_copy", slowly)
    seat.go_to_copies()
    seat.press(Qt.Key.Key_Return)
    page = seat.place.restore
    seat.until(lambda: page.strip.words.text().endswith("4 of 9"))
    assert seat.at() == "Stop"
    seat.press(Qt.Key.Key_Escape)
    assert page.isVisible()  # nobody leaves it while it is under way
    seat.press(Qt.Key.Key_Space)
    seat.until(lambda: page.foot.message.text().startswith("Stopped. Nothing was changed"))
    assert max(seen) > len(before)  # something lay beside the shop file by then
    assert bytes_of(shop.parent) == before
    assert not page.foot.act.isEnabled()


def test_that_a_copy_of_a_shop_in_which_nobody_signs_says_what_to_do(
    qtbot: QtBot, tmp_path: Path, shop: Path, folder: Path
) -> None:
    bare = shop.with_name("bare.shop")
    shop_assembly.make_shop(bare, "Fen Lane", "Tom Rill", "TR")
    copy = copied(bare, folder)
    with seated(qtbot, tmp_path) as seat:
        seat.open(bare)
        seat.go_to_copies()
        seat.press(Qt.Key.Key_R, ALT)
        seat.name_file(copy)
        foot = seat.place.restore.foot
        seat.until(lambda: foot.message.text().startswith("No records keeper is enrolled in this copy"))
        assert not foot.act.isEnabled()
