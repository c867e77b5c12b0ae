"""``sparkwright card SHOP ORDER``: how a card of an order stands, worked out from its readings."""

import sys
from pathlib import Path

import click

from desktop import shop_assembly
from desktop.commands.order_numbers import order_number
from desktop.commands.plain_result import lines_of
from desktop.core.errors import Refusal
from desktop.core.rules.rulebook import nothing_stops
from desktop.core.shop.cards.card_scope import takes_timing
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import OrderCard
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.path_words import path_words
from desktop.files.results import as_json
from desktop.usecases.fill_card import look_at
from desktop.usecases.papers.cards.card_gathering import card_of
from desktop.usecases.shop.lists.look_up import see_order


@click.command("card")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("order")
@click.option("--card", "wanted", type=click.IntRange(1), help="The number of the card. [default: the newest]")
@click.option("--json", "json_asked", is_flag=True, help="Print JSON. The default when not at a terminal.")
def command(shop: Path, order: str, wanted: int | None, *, json_asked: bool) -> int:
    """Work out the newest card of ORDER, such as W-0001: status 0 when nothing stops, 1 when something does.

    A card without timing has nothing to work out: name one that has with --card.
    """
    number = order_number(order)
    with shop_assembly.shop_at(shop) as opened:
        found = see_order(opened.store, number)
        if not found.cards:
            raise Refusal(f"{order_name(number)} has no card yet. Issue one in the window.")
        card = card_of(found, wanted or 0)
        if not takes_timing(card.task):
            raise Refusal(_no_timing(found, card))
        state = look_at(card.readings, opened.rulebook)
    if state.checked is None:
        first = state.faults[0]
        raise Refusal(f"The card cannot be worked out yet. {path_words(first.where).capitalize()}: {first.expected}.")
    if json_asked or not sys.stdout.isatty():
        text = as_json(state.checked.worked, state.checked.findings)
    else:
        head = f"{order_name(number)}, {card.task.title}: {found.state_of(card)}."
        text = "\n".join([head, *lines_of(state.checked.worked, state.checked.findings)])
    click.echo(text.encode("utf-8"))
    return 0 if nothing_stops(state.checked.findings) and state.is_whole else 1


def _no_timing(order: WorkOrder, card: OrderCard) -> str:
    """Say that a card has no timing, and which cards of the order have."""
    timed = [str(one.number) for one in order.cards if takes_timing(one.task)]
    if not timed:
        have = "No other card of the order has."
    elif len(timed) == 1:
        have = f"Card {timed[0]} has: name it with --card {timed[0]}."
    else:
        have = f"Cards {', '.join(timed[:-1])} and {timed[-1]} have: name one, such as --card {timed[-1]}."
    return f"Card {card.number}, {card.task.title}, has no timing to work out. {have}"
