"""Building the demo's shop file, the way people would: through the use cases, record by record, always the same."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from desktop import shop_assembly
from desktop.core.records.sealed.envelope import shown
from desktop.core.shop.orders.order_line import order_name
from desktop.demo.begin import begin_shop
from desktop.demo.crew import Crew
from desktop.demo.fixed import DemoClock, FixedChance, FixedIds
from desktop.demo.paced import PacedIds
from desktop.demo.papers import print_papers, refuse_full_folder
from desktop.demo.past import live_through
from desktop.demo.present import Shown, this_autumn
from desktop.files.demo_shop import DemoShop, demo_shop
from desktop.files.sheets import demo_sheets
from desktop.files.shop_json import ShopJson
from desktop.signing import KeyMaker
from desktop.storage.places import this_machine
from desktop.storage.records.key_store import KeyStore
from desktop.storage.shop_store import ShopFile, new_shop
from desktop.usecases.records.copies.copy_ports import Pace, never_stops
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.shop.ports import Shop


@dataclass(frozen=True, slots=True)
class Built:
    """A demo shop that was built: how many orders and records, the record seal, what each order shows, its last day.

    ``papers`` is how many papers were printed.
    """

    orders: int
    records: int
    seal: str
    shown: tuple[Shown, ...]
    ends: date
    papers: int = 0


def build_shop(place: Path, papers: Path | None = None, pace: Pace = never_stops) -> Built:
    """Build the shop in a new file, and print its papers into a new folder.

    Raise Refusal when something is there already, or when ``pace`` stops it. What could not be built whole is removed.
    """
    if papers is not None:
        refuse_full_folder(papers)
    demo = demo_shop()
    store = new_shop(place, demo.name, ShopJson(), this_machine(), demo.shop_id)
    try:
        with store.not_waiting_for_the_disk():
            built = _fill(store, demo, pace)
        if papers is not None:
            printed = print_papers(replace(shop_assembly.shop_with(store), clock=DemoClock(built.ends)), papers)
            built = replace(built, papers=printed)
    except BaseException:
        store.close()
        place.unlink()
        raise
    store.close()
    return built


def account(built: Built, place: Path, papers: Path | None = None) -> Iterator[str]:
    """Tell what was built, where to begin, who signs with which secret, and which order shows what."""
    demo = demo_shop()
    yield f"{demo.name}: {built.orders} work orders, {built.records} signed records, record seal {built.seal}."
    yield "Everything in it is invented. Nothing here is data for a real engine."
    yield f"Begin with: sparkwright open {place}"
    if papers is not None:
        yield f"Papers: {papers} holds {built.papers} papers: every kind of each order, and the shop's own."
        yield "Of the records only the approvals are printed; 'sparkwright paper' prints any other by its number."
    yield ""
    yield "The people, and the secrets with which they sign. These are no secrets: every demo has the same."
    for person in demo.person:
        gone = " (left the shop)" if person.id == demo.left.person else ""
        yield f"  {person.id}  {person.name}, {', '.join(person.rights)}{gone}: {demo.secrets[person.id]}"
    yield ""
    yield "What the orders show:"
    first = min(one.number for one in built.shown)
    yield f"  {order_name(1)} to {order_name(first - 1)}: three years of visits, closed"
    for one in built.shown:
        yield f"  {order_name(one.number)}: {one.words}"


def crew_at(store: ShopFile, demo: DemoShop) -> Crew:
    """Return the people of the demo in a new shop file, on its first day."""
    clock = DemoClock(demo.begins)
    shop: Shop = replace(shop_assembly.shop_with(store), clock=clock)
    desk = replace(
        shop_assembly.signing_desk(shop, FOR_DEMO),
        # No count of tries on this machine: another demo of the same shop would seem to be set back.
        keys=KeyStore(None, demo.shop_id),
        locksmith=KeyMaker(FixedChance()),
    )
    return Crew(shop, store, desk, clock, FixedIds(), demo.secrets)


def _fill(store: ShopFile, demo: DemoShop, pace: Pace) -> Built:
    crew = replace(crew_at(store, demo), ids=PacedIds(pace))
    sheets = demo_sheets()
    begin_shop(crew, demo, sheets)
    live_through(crew, demo, sheets)
    orders = this_autumn(crew, demo)
    last = store.last_envelope()
    if last is None:
        raise ValueError("nothing was signed")
    return Built(orders[-1].number, last.number, shown(last.digest), orders, crew.clock.now().date())
