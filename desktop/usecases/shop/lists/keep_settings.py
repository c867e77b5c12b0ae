"""Keeping what the shop says of itself, and how it works with the program."""

from dataclasses import replace

from desktop.core.errors import Refusal
from desktop.core.shop.cards.text_limits import text_trouble
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.settings import ShopSettings, settings_faults
from desktop.core.shop.shop_details import ShopDetails, shop_faults
from desktop.core.timing.faults import Fault
from desktop.usecases.shop.change import refuse_troubles, remember, seen_before, stamp
from desktop.usecases.shop.ports import Answer, Request, Shop

DETAILS, SETTINGS = "details", "settings"


def keep_details(shop: Shop, request: Request, details: ShopDetails) -> Answer:
    """Keep the shop's name, certificate, address and statements. Raise NotReady with what is missing."""
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.KEEP_SHOP)) is not None:
            return before
        stamp(shop, work, request, Deed.KEEP_SHOP)
        refuse_troubles(_troubles(shop_faults(details), details))
        work.put_shop_details(details)
        return remember(work, request, Answer(Deed.KEEP_SHOP, DETAILS, 1))


def keep_settings(shop: Shop, request: Request, settings: ShopSettings) -> Answer:
    """Keep the settings. Raise NotReady with what is wrong, Refusal when they were changed since they were seen."""
    with shop.store.changing() as work:
        if (before := seen_before(work, request, Deed.KEEP_SHOP)) is not None:
            return before
        stamp(shop, work, request, Deed.KEEP_SHOP)
        refuse_troubles(_troubles(settings_faults(settings), settings))
        if work.settings().version != request.seen_version:
            raise Refusal("The settings are not as you saw them. Look at them as they are now, then do it again.")
        work.put_settings(replace(settings, version=request.seen_version + 1))
        return remember(work, request, Answer(Deed.KEEP_SHOP, SETTINGS, request.seen_version + 1))


def _troubles(faults: tuple[Fault, ...], value: object) -> tuple[str, ...]:
    trouble = text_trouble(value)
    return tuple(fault.expected for fault in faults) + ((trouble,) if trouble else ())
