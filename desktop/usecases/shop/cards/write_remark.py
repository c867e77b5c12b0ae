"""Writing a remark on a card, or the reason that a finding asks for."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_card import Remark
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import card_in_work, change_order
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def write_remark(shop: Shop, request: Request, number: int, card: int, text: str, *, about: str = "") -> Answer:
    """Add a remark; ``about`` is a finding's key (``finding_key``) when it gives the reason that the finding asks for.

    Raise Refusal when the card cannot be written on or nothing is written.
    """

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        begun, one = card_in_work(order, card, by)
        if not text.strip():
            raise Refusal("Nothing is written. Write the remark first.")
        return begun.with_card(replace(one, remarks=(*one.remarks, Remark(text.strip(), by, about))))

    return change_order(shop, request, Deed.WRITE_REMARK, number, edit)
