"""The shop's settings in a form: what it says of itself, and how it works with the program."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from desktop.core.errors import Refusal
from desktop.core.shop.settings import MOST_LOCK, ShopSettings, settings_faults
from desktop.core.shop.shop_details import ShopDetails, shop_faults
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.lists.keep_settings import keep_details, keep_settings
from desktop.usecases.shop.ports import Answer, Request, Shop
from desktop.viewmodels.pieces.entry_form import EntryForm
from desktop.viewmodels.pieces.fields import Field, Group, Kind, choice

DETAILS = Group(
    "The shop, as its papers name it",
    (
        Field("name", "Name"),
        Field("is_station", "A certificated repair station", Kind.TICK),
        Field("station_certificate", "Station number", optional=True),
        Field("address", "Address", optional=True),
        Field("telephone", "Telephone", optional=True),
    ),
)
STATEMENTS = Group(
    "Certifying statements for inspections",
    (
        Field("airworthy", "Airworthy", optional=True, hint="14 CFR 43.11, as the shop words it"),
        Field("not_airworthy", "Not airworthy", optional=True, hint="with the list given to the owner"),
    ),
)
RULES = Group(
    "Rules of the shop's manual",
    (
        choice(
            "decision",
            "Near a limit, on new cards",
            (("simple", "as read"), ("guarded", "guarded: inside by the uncertainty")),
        ),
        Field("second_person", "A second person where a card asks", Kind.TICK),
    ),
)
PAPER = Group(
    "Paper and units",
    (
        choice("paper", "Paper size", (("letter", "Letter"), ("a4", "A4"))),
        choice("units", "Shown beside what is typed", (("inch-pound", "inch-pound units"), ("SI", "SI units"))),
    ),
)
KEEPING = Group(
    "Keeping",
    (
        Field("backup_place", "Copy on closing, into", optional=True, hint="a folder; empty for no copy"),
        Field("idle_lock", "Lock the window after", unit="minutes"),
    ),
)
NO_FOLDER = "There is no such folder. Write its whole place, from the top folder on."
_DETAILS = tuple(field.path for group in (DETAILS, STATEMENTS) for field in group.fields)


class SettingsForm(EntryForm):
    """The settings as typed. ``is_folder`` tells whether a place is a folder that is there."""

    columns = ((DETAILS, STATEMENTS), (RULES, PAPER, KEEPING))

    def __init__(self, is_folder: Callable[[Path], bool] = Path.is_dir, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._is_folder = is_folder

    def begin_with(self, details: ShopDetails, settings: ShopSettings) -> None:
        """Begin with what is kept."""
        values = {path: getattr(details, path) for path in _DETAILS}
        values |= {
            field.path: getattr(settings, field.path) for group in (RULES, PAPER, KEEPING) for field in group.fields
        }
        self.begin(values | {"idle_lock": str(settings.idle_lock)}, settings.version)

    def details(self) -> ShopDetails:
        """Return what the form says of the shop."""
        texts = {path: self.text(path) for path in _DETAILS if path != "is_station"}
        return ShopDetails(is_station=self.values.get("is_station") is True, **texts)

    def settings(self) -> ShopSettings:
        """Return the settings that the form says; minutes that are no number are 0, which is refused."""
        minutes = self.text("idle_lock")
        is_number = minutes.isascii() and minutes.isdigit() and len(minutes) <= len(str(MOST_LOCK))
        return ShopSettings(
            decision=self.text("decision"),
            second_person=self.values.get("second_person") is True,
            paper=self.text("paper"),
            units=self.text("units"),
            backup_place=self.text("backup_place"),
            idle_lock=int(minutes) if is_number else 0,
            version=self.seen_version,
        )

    def own_faults(self) -> tuple[Fault, ...]:
        """Return what the core says of both, and a folder that is not there."""
        found = [*shop_faults(self.details()), *settings_faults(self.settings())]
        place = self.text("backup_place")
        if place and not (Path(place).is_absolute() and self._is_folder(Path(place))):
            found.append(Fault("backup_place", NO_FOLDER))
        return tuple(found)

    @property
    def is_new(self) -> bool:
        """Whether the entry is new; settings never are."""
        return False


class SettingsDesk(QObject):
    """Keeps the settings of a shop. ``kept`` carries what is said, ``refused`` a sentence."""

    kept = Signal(str)
    refused = Signal(str)

    def __init__(
        self, shop: Shop, who: Callable[[], str], new_id: Callable[[], str], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._shop, self._who, self._new_id = shop, who, new_id
        self._asked: tuple[object, str] | None = None

    def look(self, form: SettingsForm) -> bool:
        """Begin a form with what is kept now; tell whether it could be read."""
        try:
            form.begin_with(self._shop.store.shop_details(), self._shop.store.settings())
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        return True

    def keep(self, form: SettingsForm) -> bool:
        """Keep what changed in a form; tell whether all of it was kept."""
        try:
            details, settings = form.details(), form.settings()
            if details != self._shop.store.shop_details():
                self._ask(details, 0, lambda request: keep_details(self._shop, request, details))
            if settings != replace(self._shop.store.settings(), version=settings.version):
                seen = settings.version
                self._ask(settings, seen, lambda request: keep_settings(self._shop, request, settings))
        except Refusal as refusal:
            self.refused.emit(refusal.sentence)
            return False
        self.look(form)
        self.kept.emit("The settings are kept.")
        return True

    def _ask(self, thing: object, seen: int, verb: Callable[[Request], Answer]) -> None:
        """Ask for something; asked again unchanged, it keeps its request id."""
        if self._asked is None or self._asked[0] != (thing, self._who(), seen):
            self._asked = ((thing, self._who(), seen), self._new_id())
        verb(Request(self._asked[1], self._who(), seen))
        self._asked = None
