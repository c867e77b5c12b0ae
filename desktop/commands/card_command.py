"""``sparkwright card SHOP ORDER``: how the newest card of an order stands."""

import sys
from pathlib import Path

import click

from desktop import shop_assembly
from desktop.commands.plain_result import lines_of
from desktop.core.errors import Refusal
from desktop.core.rules.rulebook import nothing_stops
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.path_words import path_words
from desktop.files.results import as_json
from desktop.usecases.fill_card import look_at
from desktop.usecases.shop.lists.look_up import see_order


@click.command("card")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("order")
@click.option("--json", "json_asked", is_flag=True, help="Print JSON. The default when not at a terminal.")
def command(shop: Path, order: str, *, json_asked: bool) -> int:
    """Work out the newest card of ORDER, such as W-0001: status 0 when nothing stops, 1 when something does."""
    number = _number(order)
    with shop_assembly.shop_at(shop) as opened:
        found = see_order(opened.store, number)
        if not found.cards:
            raise Refusal(f"{order_name(number)} has no card yet. Issue one in the window.")
        state = look_at(found.cards[-1].readings, opened.rulebook)
    if state.checked is None:
        first = state.faults[0]
        raise Refusal(f"The card cannot be worked out yet. {path_words(first.where).capitalize()}: {first.expected}.")
    if json_asked or not sys.stdout.isatty():
        text = as_json(state.checked.worked, state.checked.findings)
    else:
        head = f"{order_name(number)}, {found.cards[-1].task.title}: {found.state}."
        text = "\n".join([head, *lines_of(state.checked.worked, state.checked.findings)])
    click.echo(text.encode("utf-8"))
    return 0 if nothing_stops(state.checked.findings) and state.is_whole else 1


def _number(order: str) -> int:
    digits = order.upper().removeprefix("W-")
    if not (digits.isascii() and digits.isdigit()) or len(digits) > 9:  # noqa: PLR2004 - more digits than any shop needs
        raise Refusal(f'"{order}" is no order number. Write it as W-0001 or 1.')
    return int(digits)
