"""An invented shop file with everything that goes on paper: signed orders, a twin in work, a radial, sheets, parts."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from desktop import assembly
from desktop.core.records.record import About, Record, RecordKind, Section, rows_of, time_text
from desktop.core.records.sealed.canonical import read_record
from desktop.core.shop.aircraft.aircraft import Aircraft, EngineFitted, EnginePosition, MagnetoFitted
from desktop.core.shop.aircraft.customers import Customer
from desktop.core.shop.aircraft.directives import Directive, Subject
from desktop.core.shop.aircraft.intake import Intake, Plate
from desktop.core.shop.aircraft.parts import Part, Way
from desktop.core.shop.cards.task_card import Step
from desktop.core.shop.orders.discrepancies import CustomerWord, Outcome
from desktop.core.shop.orders.order_moves import NewCard
from desktop.core.shop.orders.safe_state import SafeItem
from desktop.core.shop.people.people import Person, Right
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.timing.readings import Hand, Side
from desktop.files.cards import builtin_cards
from desktop.files.demo_jobs import demo_jobs
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.storage.shop_store import new_shop
from desktop.usecases.papers.asked import PaperDesk
from desktop.usecases.records.keys.sign import put_down, sign_with, signer_for
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.signed_acts import propose, sign_act
from desktop.usecases.shop.book import add_part, book_time
from desktop.usecases.shop.cards.card_look import look_at_card
from desktop.usecases.shop.cards.confirm_step import confirm_step
from desktop.usecases.shop.cards.issue_card import issue_card
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.cards.leave_out import leave_out
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.keep_settings import keep_details
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.lists.sheets import compare_sheet, finish_sheet, import_sheet
from desktop.usecases.shop.orders.discrepancies import add_discrepancy, settle_discrepancy
from desktop.usecases.shop.orders.open_order import NewOrder, open_order
from desktop.usecases.shop.orders.record_directive import record_directive, record_search
from desktop.usecases.shop.orders.set_safe_state import set_safe_state
from desktop.usecases.shop.ports import Request
from reports.drawn.labels import lines_over
from tests.storage.file_floor import QUIET, TEXT, opened
from tests.usecases.records.acting_floor import PHRASES, ActingFloor
from tests.usecases.records.signing_floor import SINCE
from tests.usecases.shop.shop_floor import SOUND, TIMING

PRINTED = "printed 4 Mar 2031 09:00 UTC+00:00"
SIGNED, TWIN, RADIAL, REFUSED, BARE = 1, 2, 3, 4, 5
"""The orders: approved and corrected, a twin in work, a radial with one card, not approved, one without a card."""
HELPER = Person("HELP", "Hal Elpman", (Right.HELPER,), SINCE, supervisor="MECH")
GONE = Person("GONE", "Gil One", (Right.MECHANIC,), SINCE, date(2030, 6, 1), "5550093", "mechanic")
STATION = ShopDetails("Mill Shop", is_station=True, station_certificate="ZZ9R001", address="Mill Lane 4")
REMARK = "The play is that of an old gear; the data allow it."


class PaperFloor(ActingFloor):
    """The hands of the shop on several orders."""

    def seen(self, person: str, number: int) -> Request:
        """Return a request of a person who sees an order as it is now."""
        return self.by(person, self.file.version(number))

    def sheets(self) -> None:
        """Take the invented sheets in: typed by one person, compared by another."""
        for sheet in demo_sheets():
            import_sheet(self.shop, self.by("KEEP", 0), sheet)
            finish_sheet(self.shop, self.by("KEEP", 1), sheet.id)
            compare_sheet(self.shop, self.by("ROLF", 2), sheet.id, [name for name, _ in sheet_groups(sheet)])

    def sign_about(self, number: int, person: str, kind: RecordKind, reason: str = "", card: int = 0) -> None:
        """Look at an act about an order and sign it."""
        proposal = propose(self.desk, self.file, person, Act(kind, number, card, reason))
        sign_act(self.desk, self.file, self.by(person).request_id, proposal, PHRASES[person])

    def correct(self, number: int) -> None:
        """Sign a correction of a record."""
        wrong = self.file.records().envelope(number)
        assert wrong is not None
        subject = read_record(wrong.content).subject
        hand = self.hand("ROLF")
        with self.file.changing() as work:
            signer = signer_for(self.desk, work, "ROLF", RecordKind.CORRECTION, "This corrects the record named here.")
            record = Record(
                RecordKind.CORRECTION,
                self.desk.shop_id,
                self.desk.shop_name,
                time_text(self.clock.now()),
                "order 1" if subject.startswith("order") else subject,
                signer,
                (About(wrong.number, wrong.digest),),
                (Section("Correction", rows_of("Reason", "The tachometer was read 978.6, not 987.6.")),),
            )
            sign_with(self.desk, work, record, hand)
        put_down(hand)

    def work(self, number: int, card: int, until: int = 999) -> None:
        """Confirm the steps of a card in their order; what may be left out is, once."""
        order = see_order(self.file, number)
        look = look_at_card(self.shop, self.file, order, order.cards[card - 1], date(2031, 3, 4))
        skipped = False
        for step in look.steps[:until]:
            if not step.initials:
                continue
            self.clock.move(61)
            if step.may_skip and not skipped:
                skipped = True
                confirm_step(
                    self.shop,
                    self.seen("MECH", number),
                    number,
                    card,
                    step.id,
                    text="Not fitted on this engine.",
                    skipped=True,
                )
                continue
            tools = ("L-1", "W-3") if step.capture == "tool" else ()
            text = _text_for(self, step, number, card)
            confirm_step(
                self.shop,
                self.seen("HELP" if step.second else "MECH", number),
                number,
                card,
                step.id,
                text=text,
                tools=tools,
            )

    def paper_desk(self) -> PaperDesk:
        """Return the desk at which papers of the shop are made."""
        return PaperDesk(self.shop, self.file.shop_id, self.file.records, self.desk.verifier, lines_over)


def made_paper_shop(place: Path) -> None:
    """Make the shop and close it."""
    floor = opened_paper_shop(place, new=True)
    floor.staffed()
    for person in (HELPER, GONE):
        keep_person(floor.shop, floor.by("KEEP"), person)
    keep_details(floor.shop, floor.by("KEEP"), STATION)
    floor.sheets()
    _signed(floor)
    _twin(floor)
    _radial(floor)
    _refused(floor)
    open_order(floor.shop, floor.by("DESK"), replace(_NEW, asked="", customer=Customer("Ada Brook")))
    floor.file.close()


def opened_paper_shop(place: Path, *, new: bool = False) -> PaperFloor:
    """Open it."""
    file = new_shop(place, "Mill Shop", TEXT, QUIET) if new else opened(place)
    paper = PaperFloor(file, None)
    paper.shop = replace(paper.shop, jobs=builtin_jobs())
    return paper


_NEW = NewOrder(
    Customer("Mill Flying Club", "Field Road 2, Stonewell", "555 0100", "club@mill.example"),
    Aircraft(
        "XQ-TBK",
        "Tarnbeck 6T",
        "31",
        (
            EngineFitted(
                EnginePosition.LEFT,
                "Marrow Six",
                "M6-0118",
                (MagnetoFitted(Side.LEFT, "T2-L", "7741"), MagnetoFitted(Side.RIGHT, "T2", "7742")),
            ),
            EngineFitted(EnginePosition.RIGHT, "Marrow Six", "M6-0119"),
        ),
    ),
    EnginePosition.LEFT,
    "Periodic timing check of the left engine. The customer says that it runs rough on the left magneto.",
    promised=date(2031, 3, 7),
    intake=Intake(
        logs_seen=True,
        total_time="2104.6",
        tachometer="1388.2",
        complaint="Rough on the left magneto above 1900 rpm",
        plates=(
            Plate(Side.LEFT, "T2-L", "7741", Hand.LEFT, "30", "412"),
            Plate(Side.RIGHT, "T2", "7742", Hand.LEFT, "", "412"),
        ),
    ),
    authorised="Ada Brook for the club, by telephone on 4 March 2031, up to 600",
)


def _signed(floor: PaperFloor) -> None:
    floor.filled()
    floor.act("MECH", RecordKind.CARD_SUBMITTED)
    floor.act("ROLF", RecordKind.CARD_ACCEPTED)
    floor.act("ROLF", RecordKind.APPROVED)
    floor.correct(floor.file.records().lines()[-1].number)


def _twin(floor: PaperFloor) -> None:
    shop, number = floor.shop, TWIN
    open_order(shop, floor.by("DESK"), _NEW)
    job = next(job for job in builtin_jobs() if job.id == "periodic-timing")
    sheets = sheets_that_fit(demo_sheets(), see_order(floor.file, number))
    new = NewJob(cards_of(job, builtin_cards()), job.id, sheets, is_current=True, mechanic="MECH")
    issue_job(shop, floor.seen("DESK", number), number, new)
    timing = NewCard(
        assembly.timing_card(), demo_jobs()[0][1], "MECH", sheets=see_order(floor.file, number).cards[0].sheets
    )
    issue_card(shop, floor.seen("DESK", number), number, timing)
    for card in (2, 5, 6):
        floor.work(number, card)
    floor.work(number, 9, until=6)
    for text in ("0.016", "0.018"):
        _confirm_reading(floor, number, 5, text)
    for found in ("Lead of cylinder 4, lower plug, chafed at the baffle.", "Isolator of the engine mount cracked."):
        add_discrepancy(shop, floor.seen("MECH", number), number, found)
    word = CustomerWord("Ada Brook", datetime(2031, 3, 4, 8, 30, tzinfo=UTC), "not today")
    settle_discrepancy(shop, floor.seen("DESK", number), number, 2, Outcome.DECLINED, "Next visit.", word)
    for part in (
        Part(Way.OFF, "H-9", "Harness, left", "H-1", tag="T-5"),
        Part(Way.ON, "H-9", "Harness, left", "H-2", "1", "release R-8"),
    ):
        add_part(shop, floor.seen("MECH", number), number, part)
    record_search(shop, floor.seen("MECH", number), number, "the list of 1 March", (Subject.ENGINE, Subject.MAGNETO))
    directive = Directive(
        "D-31-02", date(2031, 3, 4), "inspection of the rotor", serial="7741", recurring=True, next_due_hours="2150"
    )
    record_directive(shop, floor.seen("MECH", number), number, directive)
    book_time(shop, floor.seen("MECH", number), number, "MECH", 95, "timing and leads")
    for item in (SafeItem.PLUG_LEADS, SafeItem.PLUGS, SafeItem.MAGNETO):
        set_safe_state(shop, floor.seen("MECH", number), number, item, is_normal=False)
    write_remark(shop, floor.seen("MECH", number), number, 9, REMARK)


def _confirm_reading(floor: PaperFloor, number: int, card: int, text: str) -> None:
    order = see_order(floor.file, number)
    look = look_at_card(floor.shop, floor.file, order, order.cards[card - 1], date(2031, 3, 4))
    step = next(step for step in look.steps if step.capture == "reading")
    confirm_step(floor.shop, floor.seen("MECH", number), number, card, step.id, text=text)


def _radial(floor: PaperFloor) -> None:
    number = RADIAL
    engine = EngineFitted(EnginePosition.SINGLE, "Bracken Seven", "B7-04")
    new = NewOrder(Customer("Ada Brook"), Aircraft("XQ-FEN", "Stonewell 2", "7", (engine,)), EnginePosition.SINGLE)
    open_order(floor.shop, floor.by("DESK"), new)
    leave_out(floor.shop, floor.seen("DESK", number), number, Side.LEFT, "It was timed last month elsewhere.")
    card = next(card for card in builtin_cards() if card.id == "H1")
    sheets = (("engine", "bracken-seven"), ("right", "ostrin-r7"))
    issue_job(floor.shop, floor.seen("DESK", number), number, NewJob((card,), "", sheets, is_current=True))


def _refused(floor: PaperFloor) -> None:
    number = REFUSED
    aircraft = Aircraft("X-ABCD", "Trainer 2", "A-5", (EngineFitted(EnginePosition.SINGLE, "Fourbanger 360", "E-77"),))
    intake = Intake(logs_seen=True, total_time="1301", tachometer="1054")
    open_order(
        floor.shop,
        floor.by("DESK"),
        NewOrder(Customer("Mill Flying Club"), aircraft, EnginePosition.SINGLE, intake=intake),
    )
    new = NewCard(TIMING, SOUND, "MECH", documents=("M-360, revision 9",))
    issue_card(floor.shop, floor.seen("DESK", number), number, new)
    floor.work(number, 1, until=1)
    floor.sign_about(number, "ROLF", RecordKind.NOT_APPROVED, "The magneto cannot be set within its slots.")


def _text_for(floor: PaperFloor, step: Step, number: int, card: int) -> str:
    order = see_order(floor.file, number)
    look = look_at_card(floor.shop, floor.file, order, order.cards[card - 1], date(2031, 3, 4))
    allowed = look.seen.sheets.limit_for(step.limit, step.side)
    if step.capture == "choice":
        return step.choices[0]
    if step.capture == "reading":
        value = (allowed.most if allowed.most is not None else allowed.least) if allowed else None
        return f"{float(value):g}" if value is not None else "12"
    return "as the data say" if step.capture in ("text", "part") else ""
