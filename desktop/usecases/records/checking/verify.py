"""Checking a shop file: every record from the first to the last, and everything that is kept besides them."""

from collections.abc import Iterator
from dataclasses import dataclass

from desktop.core.errors import Refusal
from desktop.core.records.record import is_hex
from desktop.core.records.sealed.chain import ChainWalk, Problem, Taken
from desktop.core.records.sealed.envelope import SHORT
from desktop.core.records.sealed.record_line import RecordLine, record_name
from desktop.core.records.sealed.remedies import REMAKE
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.shop.sheets.sheet_pin import SheetPin
from desktop.usecases.records.checking.ink_scans import InkScans
from desktop.usecases.records.checking.kept_besides import KeptBesides
from desktop.usecases.records.checking.signed_lists import SignedLists, pin_problems
from desktop.usecases.records.checking.signed_state import SignedState
from desktop.usecases.records.signing.ports import ShopToCheck

_WHOLE = 64


@dataclass(frozen=True, slots=True)
class Verified:
    """What the check found. ``head`` is the seal of the last record; ``notes`` are no faults, but worth knowing."""

    shop_id: str
    name: str
    count: int
    head: str
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.problems


def verify_shop(shop: ShopToCheck, verifies: Verifies, paper_seal: str = "") -> Verified:
    """Walk all records of a shop once, and hold lists, work orders, the roster, limits sheets and tools against them.

    Scans of paper that was signed with ink are held against the work orders.

    ``paper_seal`` is a record seal as a print of this shop carries it (``read_seal``); empty asks for none. Raise
    Refusal when the file cannot be read.
    """
    lines = {line.number: line for line in shop.listed()}
    walk, state = ChainWalk(shop.shop_id, verifies, lines), SignedState()
    signed, inks, besides = SignedLists(), InkScans(), KeptBesides()
    list_problems: list[Problem] = []
    for row in shop.stored_rows():
        taken = walk.take(row)
        if taken is not None:
            state.take(taken)
            signed.take(taken)
            besides.take(taken)
            list_problems.extend(_list_problem(taken, lines))
    walk.end()
    if walk.count and not lines:
        list_problems = [Problem(0, f"The list of records is empty. {REMAKE}.")]
    notes = list(walk.notes)
    standings, roster = walk.book.people(), shop.people()
    notes += [Problem(0, said) for said in state.strangers(standings, roster)]
    notes += besides.station_notes(shop.details())
    problems = [
        *(Problem(0, f"The file itself is damaged: {text}.") for text in shop.faults()),
        *_guard_problems(shop.odd_guards()),
        *walk.problems,
        *_paper(walk, paper_seal, notes),
        *list_problems,
        *_order_problems(shop, state, inks, notes),
        *inks.problems(shop.scans()),
        *_journal_problems(shop.journal_gaps()),
        *state.people_problems(standings, roster),
        *besides.key_problems(standings, shop.keys()),
        *besides.seen_problems(shop.seen()),
        *signed.name_problems(shop.name),
        *_kept_lists(shop, signed, notes),
    ]
    return Verified(shop.shop_id, shop.name, walk.count, walk.head, tuple(problems), tuple(notes))


def read_seal(typed: str) -> str:
    """Return a record seal as typed from a paper: its 16 digits, or all 64. Raise Refusal for anything else."""
    seal = "".join(typed.split()).replace("-", "").casefold()
    if not is_hex(seal, SHORT) and not is_hex(seal, _WHOLE):
        raise Refusal(
            f"This is no record seal: {typed[:80]!r}. Copy its {SHORT} digits (0 to 9, a to f) from the paper."
        )
    return seal


def _list_problem(taken: Taken, lines: dict[int, RecordLine]) -> Iterator[Problem]:
    line = taken.line
    if lines.get(line.number) != line:
        name = record_name(line.number, line.names)
        words = f"the list of records says something else of it. {REMAKE}"
        yield Problem(line.number, f"{name}, {words}.", line.names)


def _guard_problems(odd: tuple[str, ...]) -> Iterator[Problem]:
    if odd:
        what = ", ".join(odd)
        yield Problem(0, f"What keeps records from being changed was itself changed with another program: {what}.")


def _journal_problems(gaps: tuple[int, ...]) -> Iterator[Problem]:
    for number in gaps:
        yield Problem(0, f"Order {number}: lines of its journal are missing. Who changed what, and when, is not whole.")


def _paper(walk: ChainWalk, seal: str, notes: list[Problem]) -> Iterator[Problem]:
    if not seal:
        return
    found = next((number for known, number in walk.seals.items() if known.startswith(seal)), None)
    if found is None:
        yield Problem(
            0,
            f"The record seal {seal[:SHORT]} of the paper belongs to no record here: "
            "the file was set back, cut or replaced since the paper was printed.",
        )
    else:
        said = f"is that of record {found}" if found else "is that of the shop before its first record"
        notes.append(Problem(found, f"The record seal {seal[:SHORT]} of the paper {said}."))


def _kept_lists(shop: ShopToCheck, signed: SignedLists, notes: list[Problem]) -> Iterator[Problem]:
    yield from signed.sheet_problems(shop)
    yield from signed.tool_problems(shop.tools(), notes)


def _pins(shop: ShopToCheck) -> frozenset[SheetPin]:
    return frozenset(pin for pin, _ in shop.compared_sheets())


def _order_problems(shop: ShopToCheck, state: SignedState, inks: InkScans, notes: list[Problem]) -> Iterator[Problem]:
    numbers, pins = shop.order_numbers(), _pins(shop)
    for number in numbers:
        try:
            order = shop.order(number)
        except Refusal as trouble:
            inks.miss()
            yield Problem(0, f"Order {number}: {trouble.sentence}")
            continue
        if order is None or order.number != number:
            inks.miss()
            yield Problem(0, f"Order {number} is kept under a number that is not its own.")
            continue
        inks.take(order)
        for found in state.order_problems(order):
            yield Problem(0, found) if isinstance(found, str) else found
        yield from pin_problems(order, pins)
        notes.extend(Problem(0, said) for said in state.unsigned(order))
        listed = shop.listed_state(number)
        if listed != order.state:
            yield Problem(0, f'Order {number} is kept as {order.state}, and the list of orders says "{listed}".')
        elif not shop.is_listed(order):
            yield Problem(0, f"Order {number}: the list of orders says something else of it than the order. {REMAKE}.")
    yield from state.lost_orders(set(numbers))
