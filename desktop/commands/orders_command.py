"""``sparkwright orders SHOP``: the work orders of a shop, one line each."""

from pathlib import Path

import click

from desktop import shop_assembly
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.usecases.shop.lists.look_up import look_up


@click.command("orders")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--state", type=click.Choice([state.value for state in OrderState]), help="Only orders in this state.")
@click.option("--find", default="", help="Words of the customer, registration, serial number, order or text.")
def command(shop: Path, state: str | None, find: str) -> None:
    """List the work orders of SHOP, the newest first."""
    with shop_assembly.shop_at(shop) as opened:
        before = None
        while lines := look_up(opened.store, find, OrderState(state) if state else None, before=before):
            for line in lines:
                number = order_name(line.number)
                words = (number, line.state, f"{line.registration} {line.aircraft_type}", line.customer, line.asked)
                click.echo("  ".join(word for word in words if word))
            before = lines[-1].number
