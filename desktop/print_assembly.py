"""What the windows of an open shop file print with. The work is done beside the window, on a connection of its own."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Lock

from desktop import assembly, paper_assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.shop.orders.ink import Printed
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import order_name
from desktop.files.papers_out import make_folder, write_paper
from desktop.paper_assembly import PaperErrand
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.shop.list_paper import ListOnScreen
from desktop.usecases.ports import PaperSize
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Clock, Shop
from desktop.viewmodels.paper.paper_needs import Listed, Made, Outcome, Pace, PaperNeeds, Take, WhichLog, is_asked
from reports.pages import Page

_DRAWING = Lock()
"""Pages are drawn one paper at a time, whichever window asks: what draws them is not made for two threads."""


def paper_needs(shop: Shop) -> PaperNeeds:
    """Return what the window of an open shop file prints with. Its clock is the window's."""
    store = shop.store
    if not isinstance(store, ShopFile):
        raise TypeError("papers need a shop file")
    work = _PrintWork(store.place, shop.clock)
    return PaperNeeds(
        work.make,
        work.each,
        pages_of,
        work.listed,
        _write,
        lambda note: paper_assembly.remember(shop, _note(note)),
        lambda: paper_assembly.paper_size(shop),
    )


class _PrintWork:
    """The work beside the window: each piece opens the shop file for itself, since a connection is of one thread."""

    def __init__(self, place: Path, clock: Clock) -> None:
        self._place, self._clock = place, clock

    def make(self, thing: object, size: str, dots: float) -> Made:
        """Make one paper."""
        with self._errand(_size(size)) as (_, papers, printed):
            return _made(papers, thing, printed, dots)

    def listed(self, order: int) -> Listed:
        """List the papers of an order, or of the shop for 0."""
        with self._errand(None) as (own, papers, _):
            if not order:
                return Listed("the shop", papers.of_shop())
            return Listed(order_name(order), papers.of_order(order), which_log(see_order(own.store, order)))

    def each(self, things: Sequence[object], size: str, dots: float, take: Take) -> Callable[[Pace], Outcome]:
        """Return the work that makes many papers in one errand."""

        def work(pace: Pace) -> Outcome:
            done, of = 0, len(things)
            try:
                with self._errand(_size(size)) as (own, papers, printed):
                    for thing in things:
                        made = _made(papers, thing, printed, dots) if pace(done, of) else None
                        if made is None or not take(done, made):
                            break
                        if not dots:  # it lies in a file now; whoever prints it remembers it at the printer
                            paper_assembly.remember(own, _note(made.note))
                        done += 1
                pace(done, of)
            except Refusal as refusal:
                return Outcome(done, of, refusal.sentence)
            return Outcome(done, of)

        return work

    @contextmanager
    def _errand(self, size: PaperSize | None) -> Iterator[tuple[Shop, PaperErrand, str]]:
        with shop_assembly.shop_at(self._place) as opened:
            own = replace(opened, clock=self._clock)
            yield own, PaperErrand(own, size), assembly.time_in_words(self._clock.now())


def pages_of(pdf: bytes, dots_per_inch: float) -> tuple[Page, ...]:
    """Return the pages of a PDF as pictures; whoever else draws at that moment is waited for."""
    with _DRAWING:
        return assembly.pages_of(pdf, dots_per_inch)


def which_log(order: WorkOrder) -> WhichLog | None:
    """Return the log that is asked for before a label of an order prints; None where there is only one engine."""
    if not is_asked(order.position.value, len(order.aircraft.engines)):
        return None
    return WhichLog(order.position.value, order.engine.serial)


def _made(papers: PaperErrand, thing: object, printed: str, dots: float) -> Made:
    if not isinstance(thing, (Asked, ListOnScreen)):
        raise TypeError("no paper of a shop")
    ready = papers.made(thing, printed)
    return Made(ready.pdf, pages_of(ready.pdf, dots) if dots else (), ready.note)


def _write(place: Path, pdf: bytes) -> None:
    make_folder(place.parent)
    write_paper(place, pdf)


def _note(note: object) -> Printed | None:
    return note if isinstance(note, Printed) else None


def _size(size: str) -> PaperSize:
    return "a4" if size == "a4" else "letter"
