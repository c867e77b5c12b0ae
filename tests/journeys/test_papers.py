"""Papers from the window of a real shop file, by keys: of an order, of a twin's label, many at once, every list."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from desktop import paper_assembly, print_assembly, shop_assembly
from desktop.app import application, make_shop_window
from desktop.core.records.record import RecordKind
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.settings import ShopSettings
from desktop.demo.shop import build_shop
from desktop.storage.records.scan_store import ScanStore
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.records.verified import VerifiedRecord, verified_records
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.orders.open_order import open_order
from desktop.usecases.shop.ports import Shop
from desktop.viewmodels.paper.paper_needs import Made
from desktop.windows.paper.papers_dialog import PapersDialog
from desktop.windows.paper.preview_dialog import PreviewDialog
from desktop.windows.paper.which_log_dialog import WRONG
from tests.usecases.papers.conftest import paper_shop
from tests.usecases.papers.paper_floor import _NEW as TWIN_ORDER
from tests.usecases.papers.paper_floor import BARE, SIGNED, opened_paper_shop
from tests.usecases.shop.shop_floor import SOUND, TIMING
from tests.windows.paper.printed import FilePrinter, Hands

__all__ = ["paper_shop"]

LEFT_ENGINE = 6
DAMAGED = "is printed while the check finds something wrong"
CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
ENTER, SPACE, DOWN, ESC, P = (Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Down, Qt.Key.Key_Escape, Qt.Key.Key_P)


@pytest.fixture
def place(paper_shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop of one's own, with an order of a twin that was signed "not approved": its entry can go on a label."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    own = Path(shutil.copy(paper_shop, tmp_path / "mill.shop"))
    floor = opened_paper_shop(own)
    open_order(floor.shop, floor.by("DESK"), TWIN_ORDER)
    card = NewCard(TIMING, SOUND, "MECH", documents=("M-360, revision 9",))
    issue_card(floor.shop, floor.seen("DESK", LEFT_ENGINE), LEFT_ENGINE, card)
    floor.work(LEFT_ENGINE, 1, until=1)
    floor.sign_about(LEFT_ENGINE, "ROLF", RecordKind.NOT_APPROVED, "The magneto cannot be set within its slots.")
    floor.file.close()
    return own


@pytest.fixture
def shop(place: Path) -> Iterator[Shop]:
    with shop_assembly.shop_at(place) as opened:
        yield opened


class FrontDesk(Hands):
    """The front desk at the window."""

    def __init__(self, qtbot: QtBot, shop: Shop) -> None:
        super().__init__(qtbot)
        application()
        self.window = make_shop_window(shop, "Mill Shop")
        self.window.desk.person_id = "DESK"
        qtbot.addWidget(self.window, before_close_func=lambda _window: self.window.door.end())
        self.window.show()
        self.window.activateWindow()
        qtbot.waitUntil(self.window.isActiveWindow)
        self.settle()

    def papers(self) -> PapersDialog:
        """Wait for the list of papers."""
        self.qtbot.waitUntil(
            lambda: self.window.door.papers is not None and self.window.door.papers.desk.model.rowCount() > 0
        )
        dialog = self.window.door.papers
        assert dialog is not None
        self.qtbot.waitUntil(dialog.table.hasFocus)
        return dialog

    def preview(self) -> PreviewDialog:
        """Wait for the preview."""
        door = self.window.door
        self.qtbot.waitUntil(lambda: door.preview is not None and door.preview.preview is not None, timeout=15000)
        assert door.preview is not None
        assert door.preview.preview is not None
        preview = door.preview.preview
        self.qtbot.waitUntil(preview.print_button.hasFocus)
        return preview

    def text(self) -> str:
        """Return what the paper in the preview says."""
        preview = self.preview()
        self.qtbot.waitUntil(lambda: preview.desk.paper is not None)
        made = preview.desk.paper
        assert isinstance(made, Made)
        return text_of(made.pdf)

    def go_to(self, dialog: PapersDialog, title: str) -> None:
        """Go down to a paper."""
        self.press(Qt.Key.Key_Home, CTRL)
        for line in dialog.desk.lines():
            if line.paper.title == title:
                return
            self.press(DOWN)
        raise AssertionError(title)

    def said(self) -> str:
        """Return everything that the page in front says."""
        return "\n".join(label.text() for label in self.window.findChildren(QLabel) if label.isVisible())

    def close_preview(self) -> None:
        """Close the preview."""
        self.preview()
        self.press(ESC)
        self.qtbot.waitUntil(lambda: self.window.door.preview is None)
        self.settle()


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)


def damage(place: Path) -> None:
    """Change a signature with another program, and put back what keeps records from being changed."""
    other = sqlite3.connect(place)
    guards = other.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in guards:
        other.execute(f'DROP TRIGGER "{name}"')
    other.execute("UPDATE envelope SET signatures = replace(signatures, 'a', 'b') WHERE number = 6")
    for _, sql in guards:
        other.execute(sql)
    other.commit()
    other.close()


def noted(shop: Shop, kind: kinds.PaperKind, order: int) -> bool:
    """Tell whether the code of a paper, as it is now, is one that is known to have been printed."""
    errand = paper_assembly.PaperErrand(shop)
    note = errand.made(Asked(kind, order), "").note
    assert note is not None
    with shop.store.changing() as work:
        return bool(ScanStore().within(work).printed_with(note.code))


def test_that_the_front_desk_prints_the_papers_of_an_order(
    qtbot: QtBot, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    desk = FrontDesk(qtbot, shop)
    desk.window.show_order(SIGNED)
    desk.settle()
    desk.press(P, CTRL)
    dialog = desk.papers()
    assert dialog.title.text() == "Papers of W-0001"
    titles = [line.paper.title for line in dialog.desk.lines()]
    assert {"Work order", "Maintenance entry", "Tool list", "Ignition leads", "Safe-state tag for the propeller"} <= {
        *titles
    }
    desk.press(ENTER)
    assert "Mill Shop" in desk.text()
    assert not noted(shop, kinds.WORK_ORDER, SIGNED)  # a preview alone is no print
    desk.press(ENTER)
    qtbot.waitUntil(lambda: dialog.said.text() == "Work order went to the printer.")
    assert noted(shop, kinds.WORK_ORDER, SIGNED)
    assert printer.pages() >= 1
    qtbot.waitUntil(dialog.table.hasFocus)
    desk.press(ENTER)
    assert "Reprint" in desk.text()
    desk.close_preview()
    desk.go_to(dialog, "Ignition leads")
    assert "its firing order is not known" in dialog.said.text()
    desk.press(ESC)
    qtbot.waitUntil(lambda: desk.window.door.papers is None)


def test_that_a_label_for_a_twin_prints_only_with_the_right_log(
    qtbot: QtBot, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    printer = FilePrinter(tmp_path, monkeypatch)
    desk = FrontDesk(qtbot, shop)
    desk.window.show_order(LEFT_ENGINE)
    desk.settle()
    desk.press(Qt.Key.Key_S, ALT)
    dialog = desk.papers()
    desk.go_to(dialog, "Maintenance entry on labels")
    desk.press(ENTER)
    assert "M6-0118" in desk.text()
    desk.press(ENTER)
    door = desk.window.door
    qtbot.waitUntil(lambda: door.preview is not None and door.preview.log_dialog is not None)
    assert door.preview is not None
    log = door.preview.log_dialog
    assert log is not None
    qtbot.waitUntil(log.field.hasFocus)
    assert "LEFT engine, serial M6-0118" in log.words.text()
    desk.type("right")
    desk.press(ENTER)
    assert log.said.text() == WRONG.format(right="left")
    assert printer.sizes == []
    desk.type("left")
    desk.press(ENTER)
    qtbot.waitUntil(lambda: dialog.said.text() == "Maintenance entry on labels went to the printer.")
    assert printer.sizes == ["letter"]


def test_that_every_paper_of_an_order_is_saved_and_when_stopped_only_some(
    qtbot: QtBot, shop: Shop, tmp_path: Path
) -> None:
    desk = FrontDesk(qtbot, shop)
    desk.window.show_order(SIGNED)
    desk.settle()
    desk.press(P, CTRL)
    dialog = desk.papers()
    desk.press(Qt.Key.Key_A, ALT)
    qtbot.waitUntil(lambda: bool(dialog.desk.chosen()))
    count = len(dialog.desk.chosen())
    desk.press(Qt.Key.Key_S, ALT)
    desk.name_the_place(tmp_path / "all")
    qtbot.waitUntil(lambda: dialog.said.text().startswith(f"{count} papers lie in"), timeout=30000)
    names = sorted(one.name for one in (tmp_path / "all").iterdir())
    assert names == sorted(f"{paper.file}.pdf" for paper in dialog.desk.chosen())
    assert all(PdfReader(tmp_path / "all" / name).pages for name in names)
    dialog.save_these.click()
    desk.name_the_place(tmp_path / "some")
    qtbot.waitUntil(lambda: dialog.strip.bar.value() >= 1)
    dialog.strip.stop.click()
    qtbot.waitUntil(lambda: dialog.said.text().startswith("Stopped. "), timeout=30000)
    assert 1 <= len(list((tmp_path / "some").iterdir())) < count


def test_that_the_chain_is_walked_once_for_many_papers(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    walks: list[int] = []

    def counted(*words: object) -> tuple[VerifiedRecord, ...]:
        walks.append(1)
        return verified_records(*words)  # type: ignore[arg-type]  # handed on

    monkeypatch.setattr("desktop.usecases.papers.asked.verified_records", counted)
    assert len(dict(paper_assembly.papers_of(shop, SIGNED, printed="x"))) > 8
    assert len(walks) == 1
    for _ in range(2):
        paper_assembly.paper_desk(shop).verified()
    assert len(walks) == 3  # without an errand each walks for itself


def _orders(desk: FrontDesk) -> None:
    desk.press(Qt.Key.Key_1, CTRL)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    desk.type("tbk")


def _drift(desk: FrontDesk) -> None:
    desk.press(Qt.Key.Key_2, CTRL)
    desk.qtbot.waitUntil(lambda: not desk.window.desk.due.is_busy)
    desk.press(Qt.Key.Key_M, ALT)
    desk.type("7741")
    desk.press(ENTER)
    desk.qtbot.waitUntil(lambda: not desk.window.desk.drift.is_busy)


def _records(desk: FrontDesk) -> None:
    desk.press(Qt.Key.Key_6, CTRL)
    desk.type("accepted")


def _place(key: Qt.Key) -> Callable[[FrontDesk], None]:
    def go(desk: FrontDesk) -> None:
        desk.press(key, CTRL)
        desk.qtbot.waitUntil(lambda: not desk.window.desk.due.is_busy)

    return go


@pytest.mark.parametrize(
    ("go", "title", "said", "own"),
    [
        (_orders, "Work orders", '"tbk" is found; the newest first.', ()),
        (_place(Qt.Key.Key_2), "Coming due", "The nearest first.", ("Coming due",)),
        (_drift, "Visits of magneto 7741", "Of the magneto 7741.", ("Drift with its picture",)),
        (_place(Qt.Key.Key_3), "People", "those who left stand at the end.", ("Roster",)),
        (_place(Qt.Key.Key_4), "Tools", "what is out of date stands first.", ("List of the tools",)),
        (_place(Qt.Key.Key_5), "Limits sheets", "All of them.", ("Limits sheet bracken-seven",)),
        (_records, "Records", 'Those in which "accepted" is found, the newest first.', ("Record 6",)),
    ],
    ids=["orders", "due", "drift", "people", "tools", "sheets", "records"],
)
def test_that_the_list_on_screen_prints_as_it_stands_there(
    qtbot: QtBot, shop: Shop, go: Callable[[FrontDesk], None], title: str, said: str, own: tuple[str, ...]
) -> None:
    desk = FrontDesk(qtbot, shop)
    go(desk)
    desk.settle()
    desk.press(P, CTRL)
    preview = desk.preview()
    text = desk.text()
    for words in (title, said, "Mill Shop", "printed "):
        assert words in text
    box = preview.what_box
    assert [box.itemText(row) for row in range(box.count())] == ["This list", *own]
    shown = preview.desk.choice.thing
    cells = [cell for row in shown.rows for cell in row]  # type: ignore[attr-defined]  # a list on screen
    squeezed = text.replace(" ", "")
    assert [cell for cell in cells if cell.replace(" ", "") not in squeezed] == []
    if own:
        preview.what_box.setFocus()
        desk.press(DOWN)
        qtbot.waitUntil(lambda: preview.desk.place == 1 and preview.desk.paper is not None)
    desk.press(ESC)


def test_that_what_is_filtered_out_on_screen_is_not_on_the_paper(qtbot: QtBot, shop: Shop) -> None:
    desk = FrontDesk(qtbot, shop)
    desk.press(P, CTRL)
    whole = desk.text()
    desk.close_preview()
    _orders(desk)
    desk.press(P, CTRL)
    found = desk.text()
    desk.close_preview()
    assert "W-0001" in whole
    assert "W-0002" in found
    assert "W-0001" not in found
    desk.type("zz")
    desk.press(P, CTRL)
    assert "Nothing found." in desk.text()
    desk.close_preview()


def test_that_a_form_and_the_settings_do_not_print_and_say_so(qtbot: QtBot, shop: Shop) -> None:
    desk = FrontDesk(qtbot, shop)
    desk.press(Qt.Key.Key_4, CTRL)
    desk.press(ENTER)
    desk.press(P, CTRL)
    page = desk.window.pages["Tools"]
    assert "A form does not print." in page.entry.foot.message.text()  # type: ignore[attr-defined]  # the tools' page
    assert desk.window.door.preview is None
    desk.press(Qt.Key.Key_7, CTRL)
    desk.press(P, CTRL)
    assert desk.window.door.preview is None


def test_that_a_card_prints_with_ctrl_p_on_the_shops_paper_size(qtbot: QtBot, shop: Shop) -> None:
    with shop.store.changing() as work:
        work.put_settings(_with_a4(shop.store.settings()))
    desk = FrontDesk(qtbot, shop)
    desk.window.show_card(SIGNED, 1)
    desk.settle()
    desk.press(P, CTRL)
    preview = desk.preview()
    assert preview.size_box.currentText() == "A4"
    made = preview.desk.paper
    assert made is not None
    assert float(PdfReader(BytesIO(made.pdf)).pages[0].mediabox.width) == pytest.approx(595.28, abs=0.1)
    assert [one.words for one in preview.desk.choices] == ["Filled in", "Blank, for the pencil"]
    desk.press(ESC)


def _with_a4(settings: ShopSettings) -> ShopSettings:
    return replace(settings, paper="a4")


def test_that_a_damaged_record_lets_nothing_be_printed_without_warning(qtbot: QtBot, place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        desk = FrontDesk(qtbot, shop)
        damage(place)
        desk.window.show_card(SIGNED, 1)
        desk.settle()
        desk.press(P, CTRL)
        qtbot.waitUntil(lambda: desk.window.door.preview is None)
        assert desk.window.order_place is not None
        assert DAMAGED in desk.said()
        desk.window.door.show_papers(SIGNED)
        dialog = desk.papers()
        reasons = {line.paper.title: line.paper.reason for line in dialog.desk.lines()}
        for title in ("Work order", "Summary for the inspector", "Maintenance entry", "Record 6: card accepted"):
            assert DAMAGED in reasons[title], title
        dialog.reject()
        desk.window.close()


def test_that_the_papers_of_the_shop_hold_its_lists_sheets_declarations_and_the_restore(
    qtbot: QtBot, shop: Shop
) -> None:
    desk = FrontDesk(qtbot, shop)
    desk.window.door.show_papers()
    dialog = desk.papers()
    titles = {line.paper.title for line in dialog.desk.lines()}
    assert {"Roster", "Coming due", "How to bring the shop file back", "Limits sheet marrow-six"} <= titles
    assert "Declaration of MECH" in titles
    assert all(not line.paper.reason for line in dialog.desk.lines())
    desk.press(ESC)


def test_that_an_order_without_cards_says_of_each_paper_why_not_yet(shop: Shop) -> None:
    listed = print_assembly.paper_needs(shop).listed(BARE)
    reasons = {paper.asked.kind.name: paper.reason for paper in listed.papers}
    assert reasons["card"] == reasons["summary"] == "No card is issued yet. Issue one first."
    assert "Nothing is signed yet about W-0005" in reasons["record"]
    assert "firing order is not known" in reasons["leads"]
    assert reasons["work-order"] == reasons["removed-parts"] == ""


def test_that_prints_of_the_demo_from_the_window_say_that_its_data_are_invented(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    build_shop(tmp_path / "demo.shop")
    with shop_assembly.shop_at(tmp_path / "demo.shop") as shop:
        desk = FrontDesk(qtbot, shop)
        desk.press(P, CTRL)
        assert "INVENTED DATA" in desk.text()
        desk.close_preview()


def test_that_who_may_sign_prints_as_a_list_or_as_the_declaration_of_the_chosen_person(
    qtbot: QtBot, shop: Shop
) -> None:
    desk = FrontDesk(qtbot, shop)
    desk.press(Qt.Key.Key_3, CTRL)
    page = desk.window.pages["People"]
    page.show_enrolment()  # type: ignore[attr-defined]  # the people's page
    desk.settle()
    desk.press(P, CTRL)
    assert "Who may sign" in desk.text()
    box = desk.preview().what_box
    assert [box.itemText(row) for row in range(box.count())] == ["This list", "Declaration of DESK"]
    desk.close_preview()
