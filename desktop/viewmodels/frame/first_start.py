"""The first start: three questions that make a shop file, a look round the demo, or a file that is there already."""

from collections.abc import Callable, Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.shop.people.people import Person, person_faults
from desktop.core.shop.people.secrets import secret_troubles
from desktop.core.timing.faults import Fault
from desktop.usecases.records.keys.begin_shop import RIGHTS_OF_THE_FIRST, FirstAnswers
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.errand import Errand, Pace
from desktop.viewmodels.pieces.fields import Field, Group

SHOP = Field("shop", "Name of the shop", hint="as on the certificate")
STATION = Field("station", "Station number", optional=True, hint="empty for a mechanic alone")
NAME = Field("name", "Your name", hint="as on your certificate")
INITIALS = Field("initials", "Your initials", hint="they stand at each step")
NUMBER = Field("certificate_number", "Certificate number", optional=True)
KIND = Field("certificate_kind", "Certificate kind", optional=True, hint="such as mechanic")
PLACE = Field("place", "Shop file", hint="a new file on this machine")
AGAIN = "The two secrets are not the same. Type both again."
ENDING = ".shop"
ANY_DAY = date(2000, 1, 1)
"""Stands for the first day where only name and initials are looked at."""
FIRST_SAID = (
    "{shop} is made, and you keep its records. Next: the others at People, the tools, then the first order, Ctrl+N."
)
DEMO_SAID = "This is the demo: everything in it is invented. The secrets of its people stand in the guide, F1."


@dataclass(frozen=True, slots=True)
class FirstNeeds:
    """What the first start works with. The makers raise Refusal; ``make_demo`` is None where there is no demo.

    ``home`` is the folder that is proposed, ``demo_place`` gives a new place for the demo's file.
    """

    make_shop: Callable[[Path, FirstAnswers], None]
    home: Path
    bad_choices: AbstractSet[str]
    make_demo: Callable[[Path, Pace], object] | None = None
    demo_place: Callable[[], Path] | None = None


class FirstForm(EntryForm):
    """The questions but the secret. The file's name follows the shop's, the initials the name, until they are typed."""

    columns = (
        (Group("1  The shop", (SHOP, STATION)), Group("2  Where its file lies", (PLACE,))),
        (Group("3  You", (NAME, INITIALS, NUMBER, KIND)),),
    )

    def __init__(self, home: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._home = home
        self._proposed: dict[str, str] = {}

    def follow(self, field: Field) -> None:
        """Propose the file's name from the shop's, and the initials from the name."""
        if field == SHOP:
            signs = "".join(sign if sign.isalnum() else " " for sign in self.text("shop").casefold())
            name = "-".join(signs.split())
            self._propose("place", str(self._home / f"{name}{ENDING}") if name else "")
        if field == NAME:
            self._propose("initials", "".join(word[0] for word in self.text("name").split()).upper())

    def place(self) -> Path:
        """Return where the shop file is to lie."""
        return Path(self.text("place")).expanduser()

    def answers(self, secret: str) -> FirstAnswers:
        """Return what was answered."""
        text = self.text
        return FirstAnswers(
            text("shop"),
            text("station"),
            text("name"),
            text("initials"),
            text("certificate_number"),
            text("certificate_kind"),
            secret,
        )

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what is missing, each at its field."""
        return tuple(self._own_faults())

    def _own_faults(self) -> Iterator[Fault]:
        if not self.text("shop"):
            yield Fault("shop", "The shop has no name. Write it as it stands on the certificate.")
        if not self.text("place"):
            yield Fault("place", "The file has no place. Write a folder and a name.")
        elif not self.place().is_absolute():
            yield Fault("place", "Write the whole place, from the top folder on.")
        elif self.place().exists():
            yield Fault("place", "Something is there already, and nothing is written over. Choose another name.")
        answers = self.answers("")
        for fault in person_faults(Person(answers.initials, answers.name, RIGHTS_OF_THE_FIRST, ANY_DAY)):
            yield Fault({"id": "initials"}.get(fault.where, fault.where), fault.expected)

    def _propose(self, path: str, text: str) -> None:
        if self.text(path) in ("", self._proposed.get(path, "")):
            self._proposed[path] = text
            self.values.pop(path, None)
            if text:
                self.values[path] = text


class FirstStart(QObject):
    """Makes what was asked for, beside the window.

    ``shop_made`` carries the file and whether it is the demo's, ``refused`` a sentence, ``secret_refused`` a sentence
    that belongs at the secret, ``busy_changed`` comes at the beginning and the end, ``went_on`` says how far.
    """

    shop_made = Signal(object, bool)
    refused = Signal(str)
    secret_refused = Signal(str)
    busy_changed = Signal()
    went_on = Signal(int, int)

    def __init__(self, needs: FirstNeeds, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._needs = needs
        self.form = FirstForm(needs.home, self)
        self._errand = Errand(self)
        self._making: tuple[Path, bool] | None = None
        self._errand.went_on.connect(self.went_on)
        self._errand.finished.connect(lambda _nothing: self._take_made())
        self._errand.refused.connect(self._take_refusal)

    @property
    def is_busy(self) -> bool:
        """Whether something is being made."""
        return self._errand.is_busy

    @property
    def makes_demo(self) -> bool:
        """Whether it is the demo that is being made; it can be stopped."""
        return self._making is not None and self._making[1]

    @property
    def has_demo(self) -> bool:
        """Whether there is a demo to look round."""
        return self._needs.make_demo is not None

    def make_shop(self, secret: str, again: str) -> bool:
        """Begin to make the shop; tell whether it was begun. Faults are said at their fields."""
        if not self.form.try_it() or self.is_busy:
            return False
        answers = self.form.answers(secret)
        troubles = secret_troubles(secret, (answers.name, answers.initials, answers.shop), self._needs.bad_choices)
        if troubles or secret != again:
            self.secret_refused.emit(" ".join(troubles) or AGAIN)
            return False
        place = self.form.place()
        self._begin(place, is_demo=False, make=lambda _pace: self._needs.make_shop(place, answers))
        return True

    def make_demo(self) -> None:
        """Begin to make the demo."""
        make, where = self._needs.make_demo, self._needs.demo_place
        if make is not None and where is not None and not self.is_busy:
            place = where()
            self._begin(place, is_demo=True, make=lambda pace: make(place, pace))

    def open_shop(self, place: Path) -> None:
        """Open a shop file that is there."""
        self.shop_made.emit(place, False)  # noqa: FBT003 - a signal's values have no names

    def stop(self) -> None:
        """Ask what is being made to stop."""
        self._errand.stop()

    def end(self) -> None:
        """Stop, and wait for the end."""
        self._errand.end()

    def _begin(self, place: Path, *, is_demo: bool, make: Callable[[Pace], object]) -> None:
        self._making = (place, is_demo)
        self._errand.begin(make)
        self.busy_changed.emit()

    def _take_made(self) -> None:
        making, self._making = self._making, None
        self.busy_changed.emit()
        if making is not None:
            self.shop_made.emit(*making)

    def _take_refusal(self, words: str) -> None:
        self._making = None
        self.busy_changed.emit()
        self.refused.emit(words)
