"""Recording a search for directives, and a directive complied with."""

from dataclasses import replace

from desktop.core.shop.aircraft.directives import (
    Directive,
    DirectiveDone,
    DirectiveSearch,
    Subject,
    directive_troubles,
    search_troubles,
)
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.shop.change import change_order, refuse_after_approval, refuse_troubles
from desktop.usecases.shop.ports import Answer, Request, Shop, ShopWork


def record_search(shop: Shop, request: Request, number: int, looked_in: str, subjects: tuple[Subject, ...]) -> Answer:
    """Record that somebody looked for directives. Raise NotReady with what is missing."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        refuse_troubles(search_troubles(looked_in, subjects))
        return replace(order, searches=(*order.searches, DirectiveSearch(looked_in.strip(), subjects, by)))

    return change_order(shop, request, Deed.RECORD_DIRECTIVE, number, edit)


def record_directive(shop: Shop, request: Request, number: int, directive: Directive) -> Answer:
    """Record a directive that was complied with. Raise NotReady with what is missing."""

    def edit(order: WorkOrder, by: Stamp, _work: ShopWork) -> WorkOrder:
        refuse_after_approval(order)
        refuse_troubles(directive_troubles(directive))
        return replace(order, directives=(*order.directives, DirectiveDone(directive, by)))

    return change_order(shop, request, Deed.RECORD_DIRECTIVE, number, edit)
