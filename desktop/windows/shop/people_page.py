"""The people of the shop: the roster, and the form of one person."""

from PySide6.QtWidgets import QPushButton

from desktop.core.errors import Refusal
from desktop.viewmodels.shop.people_form import PersonForm
from desktop.viewmodels.shop.people_model import PeopleDesk
from desktop.viewmodels.signing.enrol_desk import EnrolDesk
from desktop.windows.lists.entry_page import EntryPage
from desktop.windows.lists.list_page import ListPage
from desktop.windows.pieces.look import Look
from desktop.windows.shop.enrol_page import EnrolPage
from desktop.windows.shop.signed_list_page import SignedListPage

KEYS = "Up, Down: choose   Enter: change, or write a last day   Alt+D: add"
ONE_LINE = 1720
"""From this width on, in the grid's pixels, rights and certificate have columns of their own."""
NOBODY = (
    "Nobody yet",
    "Everybody who takes part stands here, with certificate and rights. Begin with the button at the bottom right.",
)
TASK_NEW = "Rights are separate: an inspector is not by that alone authorised to approve."
TASK_KNOWN = "Nobody is taken off the roster. Whoever leaves gets a last day; what they initialled keeps their name."


class PeoplePage(SignedListPage):
    """Shows the roster of a desk."""

    def __init__(self, desk: PeopleDesk, look: Look, enrol: EnrolDesk | None = None) -> None:
        self._people = desk
        self._person = PersonForm()
        super().__init__(
            desk,
            self._person,
            ListPage("People", desk.model, NOBODY, "A&dd a person", KEYS, look, narrow_below=ONE_LINE),
            EntryPage(self._person, "Keep on the roster", "Back to the people", look),
            look,
        )
        self._person.setParent(self)
        self.enrol_page: EnrolPage | None = None
        if enrol is not None:
            self._add_enrolment(enrol, look)

    def open_new(self) -> None:
        """Begin a new person, or go on with the one that was begun."""
        self._person.begin_new(self._people.people, self._people.today)
        self.show_form("", "New person", TASK_NEW)

    def open_line(self, row: int) -> None:
        """Open a person of the roster, with what was typed there and not kept."""
        person = self._people.model.line(row).person
        self._person.begin_with(person, self._people.people)
        self.show_form(person.id, person.name, TASK_KNOWN)

    def keep(self) -> None:
        """Keep the person that the form says."""
        person, seen = self._person.person(), self._person.seen_version
        try:
            asks = self._people.asks(person)
        except Refusal as refusal:
            self.say(refusal.sentence, refused=True)
            return
        if asks is None:
            self._people.keep(person, seen)
        else:
            self.keep_signed(asks, lambda typed: self._people.sign_keep(person, seen, typed.secret))

    def set_look(self, look: Look) -> None:
        """Take another theme or size of text."""
        super().set_look(look)
        if self.enrol_page is not None:
            self.enrol_page.set_look(look)

    def show_enrolment(self) -> None:
        """Show who may sign."""
        self.show_list()
        if self.enrol_page is not None:
            self._stack.setCurrentWidget(self.enrol_page)

    def _add_enrolment(self, enrol: EnrolDesk, look: Look) -> None:
        self.enrol_page = EnrolPage(enrol, look)
        self._stack.addWidget(self.enrol_page)
        self.enrol_page.back_asked.connect(self.show_list)
        self.signing = QPushButton("Who may si&gn…")
        self.signing.setAutoDefault(True)
        self.signing.clicked.connect(self.show_enrolment)
        self.list_page.head.addStretch(0)
        self.list_page.head.addWidget(self.signing)
