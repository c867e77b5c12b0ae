"""Tags that are cut out and hung up: one for each part that came off, and the safe-state tag for the propeller."""

from desktop.core.shop.aircraft.parts import PartMoved, Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.words import day_words
from desktop.usecases.papers.frame import document
from desktop.usecases.papers.orders.order_head import about_order, ending_bands, twin_bands
from desktop.usecases.records.sections.names import Names
from reports.document import Caution, Column, Document, Table, plain
from reports.document_tags import Tag, Tags
from reports.document_text import Entries, Entry

INVENTED_TAG = "Invented data"
NOT_TO_FIT = "REMOVED: NOT TO BE INSTALLED"
NOT_TO_TURN = "DO NOT TURN THE PROPELLER"
LIVE = "Every propeller is live, whatever the switch says. Nobody and nothing in its arc. A turned blade can kill."
ALL_NORMAL = "Everything on the safe-state board is normal. The propeller is live all the same."
TAKEN_AWAY = "Only the person who hung it up, or who took the work over in writing, takes it away."


def removed_parts_paper(shop: str, order: WorkOrder, names: Names, *, invented: bool = False) -> Document:
    """Return a tag for each part that came off; an empty one for the pencil when none is written down yet."""
    off = [moved for moved in order.parts if moved.part.way is Way.OFF]
    tags = tuple(_removed(order, moved, names, invented=invented) for moved in off) or (
        _removed(order, None, names, invented=invented),
    )
    about = about_order(shop, order, invented=invented, bands=twin_bands(order))
    return document("Removed parts: tags", about, (Tags(tags),), subject="Tags for removed parts")


def propeller_tag_paper(shop: str, order: WorkOrder, names: Names, *, invented: bool = False) -> Document:
    """Return the tag for the propeller, with what is not normal and who set it so."""
    odd = not_normal(order.board)
    rows = tuple(
        (f"{one.item.capitalize()} {one.word}", names.person(one.by.person), day_words(one.by.at.date())) for one in odd
    )
    columns = (Column("not normal", 2.2), Column("set by", 1.6), Column("on", 0.9))
    tag = Tag(
        title="Safe-state tag",
        big=NOT_TO_TURN,
        blocks=(
            Caution("warning", LIVE),
            Table(columns, rows) if odd else plain(ALL_NORMAL, bold=True),
            Entries((*_whose(order), Entry("hung up by", None), Entry("date, time", None)), 2),
            plain(TAKEN_AWAY),
        ),
        bands=_bands(order, invented=invented),
        height_mm=105.0,
    )
    about = about_order(shop, order, invented=invented, bands=twin_bands(order))
    return document("Safe-state tag for the propeller", about, (Tags((tag,)),), subject="Safe-state tag")


def _removed(order: WorkOrder, moved: PartMoved | None, names: Names, *, invented: bool) -> Tag:
    part = moved.part if moved else None
    return Tag(
        title=f"Removed part {part.tag}".strip() if part else "Removed part",
        big=NOT_TO_FIT,
        blocks=(
            Entries(
                (
                    Entry("part number", part.number if part else None),
                    Entry("name", part.name if part else None),
                    Entry("serial or batch", part.serial if part else None),
                    Entry("quantity", part.quantity if part else None),
                    *_whose(order),
                    Entry("taken off by", names.person(moved.by.person) if moved else None),
                    Entry("on", day_words(moved.by.at.date()) if moved else None),
                    Entry("paper", part.paper if part else None),
                    Entry("why it came off", None),
                    Entry("condition", None),
                    Entry("goes to", None),
                ),
                2,
            ),
        ),
        bands=_bands(order, invented=invented),
    )


def _whose(order: WorkOrder) -> tuple[Entry, ...]:
    return (
        Entry("aircraft", aircraft_words(order)),
        Entry("engine", engine_words(order)),
        Entry("order", order_name(order.number), code=True),
    )


def _bands(order: WorkOrder, *, invented: bool) -> tuple[str, ...]:
    ended = tuple(band.text for band in (*twin_bands(order), *ending_bands(order)))
    return (*((INVENTED_TAG,) if invented else ()), *ended)
