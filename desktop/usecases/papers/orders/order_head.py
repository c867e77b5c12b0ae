"""What stands at the head of every paper of an order: its number, the aircraft, and on a twin which engine."""

from desktop.core.shop.aircraft.aircraft import EnginePosition
from desktop.core.shop.orders.order import Passage, WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.safe_state import STATE_WORDS, not_normal
from desktop.core.words import day_words
from desktop.usecases.papers.frame import About, packed, short
from desktop.usecases.records.sections.names import Names, moment_words
from reports.document import Band, Block, Column, Fact, Facts, Paragraph, Table, plain

NOBODY = Names()
"""No roster at hand: people go by their initials."""


def about_order(
    shop: str, order: WorkOrder, *, invented: bool = False, bands: tuple[Band, ...] = (), names: Names = NOBODY
) -> About:
    """Return the head of a paper about an order; ``names`` gives whoever ended it a name beside the initials."""
    return About(
        shop=shop,
        order=f"order {order_name(order.number)}",
        who=order.aircraft.registration[:40],
        lines=(plain(_who(order)), plain(f"the order is {order.state}", quiet=True), *ending_lines(order, names)),
        invented=invented,
        bands=(*bands, *ending_bands(order)),
    )


def about_card(
    shop: str,
    order: WorkOrder,
    card: OrderCard,
    *,
    blank: bool = False,
    invented: bool = False,
    bands: tuple[Band, ...] = (),
) -> About:
    """Return the head of a paper about a card: the card, its revision, and what is not normal on the aircraft.

    An empty card does not say how far the work is: it stays what it is while the work goes on.
    """
    state = () if blank else (plain(f"the card is {order.state_of(card)}", quiet=True),)
    return About(
        shop=shop,
        order=f"order {order_name(order.number)}",
        card=f"card {card.number} ({card.task.id})",
        revision=f"rev {card.task.revision}",
        who=order.aircraft.registration[:40],
        lines=(
            plain(f"card {card.number}, {card.task.id} rev {card.task.revision}"),
            plain(_who(order)),
            *state,
            *ending_lines(order),
        ),
        invented=invented,
        bands=(*bands, *twin_bands(order), *ending_bands(order), *(() if blank else board_bands(order))),
    )


def twin_bands(order: WorkOrder) -> tuple[Band, ...]:
    """Say on every page on which engine of a twin the work is."""
    if order.position is EnginePosition.SINGLE:
        return ()
    return (Band(f"{order.position.upper()} ENGINE"),)


def ending_bands(order: WorkOrder) -> tuple[Band, ...]:
    """Say on every page that the order was not approved, or is void."""
    if order.ending is OrderState.VOID:
        return (Band("Void", loud=True),)
    was_not = order.ending is OrderState.NOT_APPROVED or any(one.move is Move.NOT_APPROVE for one in order.passages)
    return (Band("Not approved", loud=True),) if was_not else ()


def ending_of(order: WorkOrder) -> tuple[str, Passage] | None:
    """Return how an order ended where it is void or was not approved: the word, and the move with its reason."""
    moves = {Move.VOID: "Void", Move.NOT_APPROVE: "Not approved"}
    return next(((moves[one.move], one) for one in reversed(order.passages) if one.move in moves), None)


def ending_lines(order: WorkOrder, names: Names = NOBODY) -> tuple[Paragraph, ...]:
    """Say beside the band why an order is void or was not approved, who said so, and when."""
    ended = ending_of(order)
    if ended is None:
        return ()
    word, passage = ended
    return (
        plain(short(f"{word}: {passage.reason}"), bold=True),
        plain(short(names.stamp(passage.by)), quiet=True),
    )


def board_bands(order: WorkOrder) -> tuple[Band, ...]:
    """Say on every page what is not normal on the safe-state board."""
    odd = tuple(f"{one.item} {one.word}" for one in not_normal(order.board))
    return packed(odd, "Safe state: ", loud=True) or (Band("Safe state: everything normal"),)


def board_table(order: WorkOrder, names: Names) -> Table:
    """Return the safe-state board; what is not normal is in capitals."""
    rows = tuple(
        (
            one.item.value,
            one.word if one.is_normal else f"{one.word.upper()} (not normal)",
            names.person(one.by.person),
            moment_words(one.by.at),
        )
        for one in order.board
    )
    columns = (Column("safe-state board", 1.6), Column("stands", 1.8), Column("set by", 1.6), Column("when", 1.9))
    return Table(columns, rows)


def pencil_board() -> tuple[Block, ...]:
    """Return the board for the pencil, and lines for whoever takes the aircraft over."""
    heads = (Column("safe-state board", 1.5), Column("normal", 0.9), Column("stands", 1.6), Column("by, when", 1.8))
    board = tuple((item.value, words[0], None, None) for item, words in STATE_WORDS.items())
    columns = (
        Column("change of hands: given by", 1.6),
        Column("taken by", 1.6),
        Column("date and time", 1.3),
        Column("what is not normal", 2.4),
    )
    return (Table(heads, board), Table(columns, ((None,) * 4, (None,) * 4)))


def identity(order: WorkOrder, unknown: str | None = None) -> Facts:
    """Return the aircraft, the engine of the order and its magnetos; a line for the pen where ``unknown`` is None."""
    aircraft, engine = order.aircraft, order.engine
    facts = [
        Fact("registration", aircraft.registration or unknown),
        Fact("aircraft type", aircraft.type or unknown),
        Fact("aircraft serial number", aircraft.serial or unknown),
        Fact("engine position", order.position.value),
        Fact("engine type", engine.type or unknown, span=2),
        Fact("engine serial number", engine.serial or unknown, span=2),
    ]
    plates = order.taken_in.intake.plates if order.taken_in else ()
    seen = {plate.side for plate in plates}
    for plate in plates:
        words = _joined(
            f"part no. {plate.part_number}" if plate.part_number else "",
            f"serial {plate.serial}" if plate.serial else "",
            f"{plate.hand}-hand" if plate.hand else "",
            f"lag {plate.lag}° of the magneto" if plate.lag else "",
            f"{plate.since_overhaul} h since overhaul" if plate.since_overhaul else "",
        )
        facts.append(Fact(f"{plate.side} magneto, data plate", words or unknown, span=2))
    for magneto in engine.magnetos:
        if magneto.side not in seen:
            words = _joined(
                f"part no. {magneto.part_number}" if magneto.part_number else "",
                f"serial {magneto.serial}" if magneto.serial else "",
            )
            facts.append(Fact(f"{magneto.side} magneto", words or unknown, span=2))
    return Facts(tuple(facts))


def dated(order: WorkOrder) -> str:
    """Return the day on which an order was opened."""
    return day_words(order.opened.at.date())


def _who(order: WorkOrder) -> str:
    engine = "" if order.position is EnginePosition.SINGLE else f"{order.position} engine"
    return _joined(order.aircraft.registration[:40], engine)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)
