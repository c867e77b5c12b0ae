"""``sparkwright ink SHOP ORDER``: a print that came back signed with ink."""

from datetime import datetime
from pathlib import Path

import click

from desktop import paper_assembly, shop_assembly
from desktop.commands.order_numbers import order_number
from desktop.core.records.sealed.check_code import shown_code
from desktop.core.shop.orders.order_line import order_name
from desktop.files.scans import read_scan
from desktop.usecases.papers.kinds import CARD
from desktop.usecases.papers.records.ink_codes import INK_KINDS
from desktop.usecases.records.ink.ink import record_ink
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Request


@click.command("ink")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("order")
@click.option("--card", type=click.IntRange(1), help="The number of the card, for the paper of a card.")
@click.option(
    "--paper",
    type=click.Choice([kind.name for kind in INK_KINDS]),
    default=CARD.name,
    show_default=True,
    help="The kind of paper.",
)
@click.option("--signer", required=True, help="Who signed, as it stands on the paper.")
@click.option("--date", "day", type=click.DateTime(["%Y-%m-%d"]), required=True, help="The day beside the signature.")
@click.option("--code", required=True, help="The check code on the paper.")
@click.option("--scan", type=click.Path(path_type=Path), help="A scan of the paper: PDF, PNG or JPEG, at most 20 MB.")
@click.option("--by", "initials", required=True, help="The initials of who records it.")
def command(
    shop: Path,
    order: str,
    card: int | None,
    paper: str,
    signer: str,
    day: datetime,
    code: str,
    scan: Path | None,
    initials: str,
) -> None:
    """Record that a print of ORDER, such as W-0001, was signed with ink. Status 0 once recorded, 2 when refused.

    The code is that of what the paper says. When the order says something else by now, the print is refused with what
    was changed: print it again and have the new print signed.
    """
    number = order_number(order)
    picture = read_scan(scan) if scan else None
    with shop_assembly.shop_at(shop) as opened:
        request = Request(shop_assembly.new_id(), initials, see_order(opened.store, number).version)
        desk = paper_assembly.ink_desk(opened)
        record_ink(desk, request, number, card or 0, paper, signer, day.date(), code, picture)
    about = f"card {card} of {order_name(number)}" if card else order_name(number)
    kept = f" Its scan is kept as {picture.digest}." if picture else ""
    click.echo(f'Recorded: the print {shown_code(code)} of "{paper}" of {about}, signed with ink by {signer}.{kept}')
