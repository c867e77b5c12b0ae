"""The desks of copies and of a restore, over works that do what the test says."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from desktop.core.errors import Refusal
from desktop.usecases.records.copies.copy_ports import BadCopy, Sabotage
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.errand import Pace, Work
from desktop.viewmodels.shop.copies_desk import NO_FILE, NOT_LOOKED, CopiesDesk, CopiesNeeds
from desktop.viewmodels.shop.copies_found import FoundCopy, Looked, RestoreOrder
from desktop.viewmodels.shop.copies_restore import (
    IS_THERE,
    NO_PLACE,
    NOT_TAKEN,
    NOT_WHOLE,
    TYPE_IT,
    RestoreDesk,
    RestoreNeeds,
)
from tests.viewmodels.shop.test_copies_words import FOUND, KNOWN, LINES

TYPED = "a secret"
SHOP = Path("/home/shop/quarry.shop")


def goes_on_until_stopped(pace: Pace) -> object:
    while pace(1, 2):
        pass
    raise Refusal("Stopped.")


@dataclass
class Works:
    """The works, each as a function of its pace; what they were asked is written down."""

    home: Path
    looked: Callable[[Pace], object] = lambda _pace: Looked(LINES, (KNOWN,))
    made: Callable[[Pace], object] = lambda _pace: "Copied."
    examined: Callable[[Pace], object] = lambda _pace: FOUND
    restored: Callable[[Pace], object] = lambda _pace: "It is restored."
    folder: Callable[[], str] = lambda: "/copies"
    asked: list[object] = field(default_factory=list)

    def needs(self) -> CopiesNeeds:
        return CopiesNeeds(SHOP, self._folder, self._look, self._make, self.restore_needs())

    def restore_needs(self) -> RestoreNeeds:
        return RestoreNeeds(self._examine, self._restore, self.home)

    def _folder(self) -> str:
        return self.folder()

    def _look(self, folder: str) -> Work:
        self.asked.append(folder)
        return self.looked

    def _make(self, folder: Path) -> Work:
        self.asked.append(folder)
        return self.made

    def _examine(self, copy: Path, shop: Path) -> Work:
        self.asked.append((copy, shop))
        return self.examined

    def _restore(self, order: RestoreOrder) -> Work:
        self.asked.append(order)
        return self.restored


@pytest.fixture
def works(qtbot: QtBot, tmp_path: Path) -> Works:
    return Works(tmp_path)


def heard(signal: object) -> list[tuple[object, ...]]:
    said: list[tuple[object, ...]] = []
    signal.connect(lambda *values: said.append(values))  # type: ignore[attr-defined]  # a signal
    return said


def test_that_a_look_shows_the_doctors_page_and_the_copies(works: Works, qtbot: QtBot) -> None:
    desk = CopiesDesk(works.needs())
    assert desk.verdict[1] is Progress.EMPTY
    with qtbot.waitSignal(desk.looked):
        desk.look()
        desk.look()  # somebody looks already
    assert works.asked == ["/copies"]
    assert [line.word for line in desk.doctor] == ["ok", "look", "wrong"]
    assert desk.verdict == ("Wrong: 1 thing to mend", Progress.STOPS)
    assert desk.model.line(0) is KNOWN


def test_that_a_look_that_fails_is_said_and_one_that_was_left_is_not(works: Works, qtbot: QtBot) -> None:
    desk = CopiesDesk(works.needs())
    said = heard(desk.refused)

    def refuse(_pace: Pace) -> object:
        raise Refusal("The file does not answer.")

    works.looked = refuse
    with qtbot.waitSignal(desk.refused):
        desk.look()
    assert said == [("The file does not answer.",)]
    assert desk.verdict == (NOT_LOOKED, Progress.STOPS)
    assert desk.doctor == ()
    works.looked = goes_on_until_stopped
    desk.look()
    desk.leave()
    qtbot.waitUntil(lambda: not desk.is_looking)
    assert len(said) == 1


def test_that_a_copy_is_made_once_at_a_time_and_then_somebody_looks_again(works: Works, qtbot: QtBot) -> None:
    desk = CopiesDesk(works.needs())
    busy = heard(desk.busy_changed)
    with qtbot.waitSignals([desk.made, desk.looked]):
        desk.make(Path("/stick"))
        assert desk.is_busy
        desk.make(Path("/other"))
    assert works.asked == [Path("/stick"), "/copies"]
    assert len(busy) == 2


def test_that_a_copy_is_stopped_and_said_to_be_and_the_end_waits(works: Works, qtbot: QtBot) -> None:
    works.made = goes_on_until_stopped
    desk = CopiesDesk(works.needs())
    went = heard(desk.went_on)
    desk.make(Path("/stick"))
    qtbot.waitUntil(lambda: (1, 2) in went)
    with qtbot.waitSignal(desk.refused) as said:
        desk.stop()
    assert said.args == ["Stopped."]
    assert not desk.is_busy
    works.looked = goes_on_until_stopped
    desk.make(Path("/stick"))
    desk.look()
    desk.end()
    assert not desk.is_busy
    assert not desk.is_looking


@pytest.mark.usefixtures("qtbot")
def test_that_without_a_shop_file_nothing_is_made_and_that_is_said() -> None:
    desk = CopiesDesk(None)
    said = heard(desk.refused)
    desk.look()
    desk.make(Path("/stick"))
    assert said == [(NO_FILE,), (NO_FILE,)]
    assert desk.folder() is None
    desk.restoring.examine(FOUND.copy)
    assert desk.restoring.copy is None


def test_that_settings_that_do_not_answer_name_no_folder(works: Works) -> None:
    def refuse() -> str:
        raise Refusal("The file does not answer.")

    works.folder = refuse
    desk = CopiesDesk(works.needs())
    said = heard(desk.refused)
    assert desk.folder() is None
    assert said == [("The file does not answer.",)]
    works.folder = str
    assert desk.folder() is None
    works.folder = lambda: "/copies"
    assert desk.folder() == Path("/copies")


# --- the restore ---


def examined(works: Works, qtbot: QtBot, shop: Path | None, *, is_open: bool) -> RestoreDesk:
    desk = RestoreDesk(works.restore_needs(), shop, is_open=is_open)
    desk.examine(FOUND.copy)
    qtbot.waitUntil(lambda: not desk.is_busy)
    assert desk.found is FOUND
    return desk


def test_that_a_restore_over_an_open_shop_is_asked_for_and_not_begun(works: Works, qtbot: QtBot) -> None:
    desk = examined(works, qtbot, SHOP, is_open=True)
    asked, refused = heard(desk.asked), heard(desk.refused)
    assert not desk.restore("LO", TYPED, takes_older=False)
    assert not desk.restore("LO", "", takes_older=True)
    assert refused == [(NOT_TAKEN,), (TYPE_IT,)]
    assert asked == []
    assert desk.restore("LO", TYPED, takes_older=True)
    assert asked == [(RestoreOrder(FOUND, SHOP, "LO", takes_older=True, secret=TYPED),)]
    assert works.asked == [(FOUND.copy, SHOP)]
    assert not desk.is_busy


def test_that_a_restore_of_a_shop_that_is_closed_is_begun_and_tells_its_end(works: Works, qtbot: QtBot) -> None:
    desk = examined(works, qtbot, SHOP, is_open=False)
    with qtbot.waitSignal(desk.restored) as done:
        assert desk.restore("LO", TYPED, takes_older=True)
        at_work = desk.is_restoring
        assert not desk.restore("LO", TYPED, takes_older=True)
        desk.examine(FOUND.copy)
        desk.leave()
    assert done.args == [SHOP, "It is restored."]
    assert (at_work, desk.is_restoring) == (True, False)
    assert len(works.asked) == 2


def test_that_a_refused_restore_keeps_what_was_found(works: Works, qtbot: QtBot) -> None:
    def refuse(_pace: Pace) -> object:
        raise BadCopy(Sabotage.OLDER, "C is older. Say --older to take it all the same.")

    works.restored = refuse
    desk = examined(works, qtbot, SHOP, is_open=False)
    with qtbot.waitSignal(desk.refused) as said:
        desk.restore("LO", TYPED, takes_older=True)
    assert said.args == ["C is older. Choose it once more, and read what it lacks."]
    assert desk.found is FOUND
    assert not desk.is_restoring


def test_that_a_copy_that_is_refused_leaves_none_found(works: Works, qtbot: QtBot) -> None:
    desk = examined(works, qtbot, SHOP, is_open=False)

    def refuse(_pace: Pace) -> object:
        raise BadCopy(Sabotage.CUT, "C is cut short.")

    works.examined = refuse
    with qtbot.waitSignal(desk.refused) as said:
        desk.examine(Path("/other"))
    assert said.args == ["C is cut short."]
    assert desk.found is None
    assert not desk.restore("LO", TYPED, takes_older=True)
    desk.leave()
    assert desk.copy is None


def test_that_a_verification_is_stopped_and_the_end_of_one_waits(works: Works, qtbot: QtBot) -> None:
    works.examined = goes_on_until_stopped
    desk = RestoreDesk(works.restore_needs(), SHOP, is_open=False)
    went = heard(desk.went_on)
    desk.examine(FOUND.copy)
    qtbot.waitUntil(lambda: (1, 2) in went)
    with qtbot.waitSignal(desk.refused):
        desk.stop()
    desk.examine(FOUND.copy)
    desk.end()
    assert not desk.is_busy


def test_that_a_new_shop_file_gets_a_free_place_that_is_looked_at(works: Works, qtbot: QtBot) -> None:
    desk = examined(works, qtbot, None, is_open=False)
    assert desk.is_new
    home = works.home
    assert desk.proposed_place() == str(home / "quarry-lane.shop")
    (home / "quarry-lane.shop").touch()
    assert desk.proposed_place() == str(home / "quarry-lane-restored.shop")
    (home / "quarry-lane-restored.shop").touch()
    assert desk.proposed_place() == str(home / "quarry-lane-restored-2.shop")
    refused = heard(desk.place_refused)
    for typed in (" ", "here.shop", str(home / "quarry-lane.shop")):
        assert not desk.restore("LO", TYPED, takes_older=True, place=typed)
    assert refused == [(NO_PLACE,), (NOT_WHOLE,), (IS_THERE,)]
    with qtbot.waitSignal(desk.restored) as done:
        assert desk.restore("LO", TYPED, takes_older=True, place=f" {home / 'new.shop'} ")
    assert done.args[0] == home / "new.shop"


def test_that_nothing_is_proposed_before_a_copy_was_found(works: Works) -> None:
    desk = RestoreDesk(works.restore_needs(), None)
    assert desk.proposed_place() == ""
    desk.begin(RestoreOrder(FOUND, SHOP, "LO", takes_older=True, secret=TYPED))
    desk.end()
    idle = RestoreDesk(None, None)
    idle.begin(RestoreOrder(FOUND, SHOP, "LO", takes_older=True, secret=TYPED))
    assert not idle.is_busy
    found: list[FoundCopy | None] = []
    idle.found_changed.connect(lambda: found.append(idle.found))
    idle.show_found(FOUND)
    assert found == [FOUND]
    refused = heard(idle.refused)
    idle.refuse("Not now.")
    assert refused == [("Not now.",)]
