"""The work order: what the customer asked for, what came in, what was found, and the customer's word for it."""

from collections.abc import Iterator

from desktop.core.records.entry.entry_wordings import directive_words
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.time_booked import total_words
from desktop.core.words import day_words
from desktop.usecases.papers.frame import document
from desktop.usecases.papers.orders.order_head import about_order, board_table, dated, ending_of, identity, twin_bands
from desktop.usecases.records.sections.names import Names, moment_words
from reports.document import (
    Block,
    Column,
    Document,
    Fact,
    Facts,
    Heading,
    KeepTogether,
    PaperWords,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.document_text import EmptyState, Entries, Entry

WORDS = PaperWords(certificate="acting for")
"""A customer has no certificate, but may speak for somebody else."""
AUTHORISES = "I authorise the work that is asked for here. Further work needs my word first."
NOT_WRITTEN = "not written down"
"""What stands on a void order where another has a line for the pen: nobody writes on it any more."""
VOIDED = "Nothing is done on this order, and nobody authorises it. Its number stays its own."


def work_order_paper(shop: str, order: WorkOrder, names: Names, *, invented: bool = False) -> Document:
    """Return the work order with its intake, and room for the customer's authorisation."""
    about = about_order(shop, order, invented=invented, bands=twin_bands(order), names=names)
    return document(
        f"Work order {order_name(order.number)}",
        about,
        tuple(_blocks(order, names)),
        subject="Work order of a shop",
        words=WORDS,
    )


def _blocks(order: WorkOrder, names: Names) -> Iterator[Block]:
    yield from _ended(order, names)
    yield Facts(
        (
            Fact("opened", dated(order)),
            Fact("by", names.person(order.opened.person)),
            Fact("promised", day_words(order.promised) if order.promised else _unknown(order)),
            Fact("state", order.state.value),
        )
    )
    customer = order.customer
    yield KeepTogether(
        (
            Heading("Customer", 2),
            Facts(
                (
                    Fact("name", customer.name, span=2),
                    Fact("address", customer.address or _unknown(order), span=2),
                    Fact("telephone", customer.telephone or _unknown(order), span=2),
                    Fact("e-mail", customer.email or _unknown(order), span=2),
                )
            ),
        )
    )
    yield KeepTogether((Heading("Aircraft and engine", 2), identity(order, _unknown(order))))
    yield Heading("Work asked for", 2)
    yield plain(order.asked) if order.asked.strip() else EmptyState("Nothing was written down.")
    for one in order.left_out:
        who = names.stamp(one.by)
        yield plain(f"Not part of the job: the {one.side} magneto. {one.reason} ({who})")
    yield from _intake(order, names)
    # Before the list of cards: at the end it would stand alone on a page of its own.
    if not _is_void(order):
        yield KeepTogether(tuple(_authorisation(order)))
    yield from _cards(order, names)
    yield from _found(order)
    yield from _around(order, names)
    yield KeepTogether((Heading("Safe-state board", 2), board_table(order, names)))


def _is_void(order: WorkOrder) -> bool:
    return order.ending is OrderState.VOID


def _unknown(order: WorkOrder) -> str | None:
    """Return what stands where nothing is known: a line for the pen, and words on a void order."""
    return NOT_WRITTEN if _is_void(order) else None


def _ended(order: WorkOrder, names: Names) -> Iterator[Block]:
    """Yield in full why an order is void or was not approved, by whom and when."""
    if (ended := ending_of(order)) is not None:
        word, passage = ended
        said = (plain(f"{word}: {passage.reason}", bold=True), plain(f"By {names.stamp(passage.by)}."))
        yield KeepTogether((*said, *((plain(VOIDED),) if _is_void(order) else ())))


def _intake(order: WorkOrder, names: Names) -> Iterator[Block]:
    yield Heading("Intake", 2)
    if order.taken_in is None and _is_void(order):
        yield EmptyState("Nothing was taken in.")
        return
    if order.taken_in is None:
        lines = (Entry("logs seen", None), Entry("total time, h", None), Entry("tachometer, h", None))
        yield Entries((*lines, Entry("complaint", None)), 2)
        return
    intake = order.taken_in.intake
    yield Entries(
        (
            Entry("logs seen", "yes" if intake.logs_seen else "no"),
            Entry("total time", f"{intake.total_time} h" if intake.total_time else _unknown(order)),
            Entry("tachometer", f"{intake.tachometer} h" if intake.tachometer else _unknown(order)),
            Entry("taken in by", names.stamp(order.taken_in.by)),
        ),
        2,
    )
    yield Entries((Entry("complaint", intake.complaint or "none"),))


def _cards(order: WorkOrder, names: Names) -> Iterator[Block]:
    rows = tuple(
        (
            str(card.number),
            f"{card.task.title} ({card.task.id}, rev {card.task.revision})",
            names.person(card.mechanic) if card.mechanic else "anybody",
            order.state_of(card).value,
        )
        for card in order.cards
    )
    columns = (Column("card", 0.5, numbers=True), Column("what", 3.4), Column("given to", 1.6), Column("state", 1.1))
    yield Table(columns, rows, "Task cards", "No card was issued yet.")


def _found(order: WorkOrder) -> Iterator[Block]:
    rows = []
    for one in order.discrepancies:
        settled = one.settled
        customer = settled.customer if settled else None
        said = f"{customer.who}, {moment_words(customer.at)}: {customer.how_much}" if customer else ""
        rows.append((str(one.number), one.found, one.word, settled.words if settled else "", said))
    columns = (
        Column("no.", 0.5, numbers=True),
        Column("discrepancy", 2.4),
        Column("it is", 0.9),
        Column("what was done", 1.6),
        Column("the customer's word: who, when, how much", 1.8),
    )
    yield Table(columns, tuple(rows), "Discrepancies found on the way", "None was written down.")


def _around(order: WorkOrder, names: Names) -> Iterator[Block]:
    if order.parts:
        rows = tuple(
            (one.part.way.value, one.part.number, one.part.name, one.part.serial, one.part.quantity, one.part.paper)
            for one in order.parts
        )
        columns = (
            Column("off or on", 0.8),
            Column("part number", 1.4),
            Column("name", 1.4),
            Column("serial or batch", 1.3),
            Column("quantity", 0.7, numbers=True),
            Column("paper", 1.5),
        )
        yield Table(columns, rows, "Parts off and on")
    if order.searches or order.directives:
        yield Heading("Directives", 2)
        for search in order.searches:
            subjects = ", ".join(search.subjects)
            yield plain(f"Looked for {subjects} in {search.looked_in}: {names.stamp(search.by)}.")
        for done in order.directives:
            yield plain(f"{directive_words(done)}.")
    if order.time:
        booked = tuple((names.person(one.person), one.what, str(one.minutes)) for one in order.time)
        heads = (Column("person", 1.5), Column("for", 3.0), Column("minutes", 0.8, numbers=True))
        yield Table(heads, booked, "Time booked")
        yield plain(f"Total {total_words(order.time)}. This is no invoice.")


def _authorisation(order: WorkOrder) -> Iterator[Block]:
    yield Heading("Authorisation by the customer", 2)
    if order.authorised.strip():
        yield plain(f"Written down at the intake: {order.authorised}")
    yield Entries((Entry("at most, amount", None), Entry("call before more than", None)), 2)
    yield Signatures((SignatureBox("Customer", AUTHORISES), SignatureBox("Front desk", "I took the aircraft in.")))
