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
    """List the work orders of SHOP, the newest first. Where none is found, that is said."""
    count = 0
    with shop_assembly.shop_at(shop) as opened:
        before = None
        while lines := look_up(opened.store, find, OrderState(state) if state else None, before=before):
            for line in lines:
                number = order_name(line.number)
                words = (number, line.state, f"{line.registration} {line.aircraft_type}", line.customer, line.asked)
                click.echo("  ".join(word for word in words if word))
            before, count = lines[-1].number, count + len(lines)
    if not count:
        click.echo(_nothing(state, find), err=True)


def _nothing(state: str | None, find: str) -> str:
    """Say what was looked for and not found."""
    parts = (f'with "{find}"' if find else "", f'in the state "{state}"' if state else "")
    asked = " ".join(part for part in parts if part)
    return f"Nothing found: there is no work order {asked}." if asked else "There is no work order yet."
