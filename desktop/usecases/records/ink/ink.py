"""Paper that comes back signed with ink: it counts only when it says what the order says now."""

from dataclasses import replace
from datetime import date

from desktop.core.errors import Refusal
from desktop.core.records.sealed.check_code import SIGNS, is_code, shown_code
from desktop.core.shop.orders.ink import MOST_NAME, InkSigned, Printed, Scan
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.core.shop.orders.who_may import Deed
from desktop.core.shop.stamp import Stamp
from desktop.usecases.records.ink.ink_ports import InkDesk, InkWork
from desktop.usecases.shop.change import change_order
from desktop.usecases.shop.ports import Answer, Request, ShopWork

PRINT_AGAIN = "Print it again and have the new print signed."
MOST_CHANGES = 20
"""Changes that a refusal names one by one."""


def note_print(desk: InkDesk, printed: Printed) -> None:
    """Remember that a print was made, so that a later change can be told to whoever brings it back signed."""
    with desk.shop.store.changing() as work:
        desk.file.within(work).note_printed(printed)


def scan_kept(desk: InkDesk, digest: str) -> Scan:
    """Return a scan by its SHA-256. Raise Refusal when there is none, or it is not as it was kept."""
    with desk.shop.store.changing() as work:
        found = desk.file.within(work).scan(digest)
    if found is None:
        raise Refusal("There is no such scan in this shop file. Look at the paper's entry on its order.")
    return found


def record_ink(
    desk: InkDesk,
    request: Request,
    number: int,
    card: int,
    paper: str,
    signer: str,
    day: date,
    code: str,
    scan: Scan | None = None,
) -> Answer:
    """Record that a print was signed; ``card`` is 0 for a paper about the whole order.

    Raise Refusal when its code is not that of the paper as it would be printed now, with what changed since; for a day
    that cannot be, for nobody's name, and for what was recorded before.
    """

    def edit(order: WorkOrder, by: Stamp, work: ShopWork) -> WorkOrder:
        name = " ".join(signer.split())
        _refuse_card(order, card)
        _refuse_signer(name)
        _refuse_day(order, by, day)
        ink = desk.file.within(work)
        right = desk.codes.code_of(order, card, paper)
        if _typed(code) != right:
            raise Refusal(_outdated(work, ink, order, card, paper, _typed(code)))
        if any((one.paper, one.card, one.signer, one.code) == (paper, card, name, right) for one in order.inks):
            raise Refusal(f"That {name} signed this print is recorded already.")
        if scan is not None:
            ink.put_scan(scan)
        digest = scan.digest if scan else ""
        return replace(order, inks=(*order.inks, InkSigned(paper, number, card, name, day, right, digest, by)))

    return change_order(desk.shop, request, Deed.RECORD_INK, number, edit)


def _typed(code: str) -> str:
    """Return a code as it is printed. Raise Refusal for what is none."""
    if not is_code(code):
        raise Refusal(
            f"This is no check code: {code[:40]!r}. "
            f"Copy its {SIGNS} letters and digits from the paper, such as 7KQM-X2RT."
        )
    return shown_code(code)


def _outdated(work: ShopWork, ink: InkWork, order: WorkOrder, card: int, paper: str, code: str) -> str:
    """Say what is wrong with a code: another paper's, that of an older version, or one that nobody printed."""
    prints = ink.printed_with(code)
    mine = [one for one in prints if (one.order, one.card, one.paper) == (order.number, card, paper)]
    if mine:
        return _changed_since(work, order, mine[0].version)
    if prints:
        other = prints[0]
        of = f"card {other.card} of {order_name(other.order)}" if other.card else order_name(other.order)
        return f'The code {code} is that of another paper: "{other.paper}" of {of}. Record it there.'
    return (
        f"No print with the code {code} is known. Compare it with the paper sign by sign. If it is so there, the paper "
        f"is not from this shop file, or says what no longer stands in it. {PRINT_AGAIN}"
    )


def _changed_since(work: ShopWork, order: WorkOrder, version: int) -> str:
    said = [words for change in work.changes_since(order.number, version) for words in change.said]
    more = f"; and {len(said) - MOST_CHANGES} more" if len(said) > MOST_CHANGES else ""
    what = (
        "; ".join(said[:MOST_CHANGES]) + more
        if said
        else ("nothing on the order, but on what the paper is made from: people, tools, limits sheets or the program")
    )
    return (
        f"This print says what was so at version {version} of {order_name(order.number)}, and it is version "
        f"{order.version} now. Changed since: {what}. {PRINT_AGAIN}"
    )


def _refuse_card(order: WorkOrder, card: int) -> None:
    if card and order.card(card) is None:
        raise Refusal(f"{order_name(order.number)} has no card {card}. Choose one of its cards.")


def _refuse_signer(name: str) -> None:
    if not any(sign.isalpha() for sign in name):
        raise Refusal("Nobody is named. Write the name of who signed, as it stands on the paper.")
    if len(name) > MOST_NAME:
        raise Refusal(f"The name has {len(name)} signs, and {MOST_NAME} is the most. Write the name alone.")


def _refuse_day(order: WorkOrder, by: Stamp, day: date) -> None:
    if day > by.at.date():
        raise Refusal(f"The day {day.isoformat()} is still to come. Write the day that stands beside the signature.")
    if day < order.opened.at.date():
        opened = order.opened.at.date().isoformat()
        raise Refusal(f"On {day.isoformat()} the order was not open yet; it was opened on {opened}. Look at the paper.")
