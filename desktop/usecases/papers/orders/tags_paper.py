"""Tags that are cut out and hung up: one for each part that came off, and the safe-state tag for the propeller."""

from dataclasses import replace

from desktop.core.shop.aircraft.parts import Part, PartMoved, Way
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.order_states import OrderState
from desktop.core.shop.orders.safe_state import not_normal
from desktop.core.shop.orders.visits import serial_key
from desktop.core.words import day_words
from desktop.usecases.papers.frame import Printing, document, stamped
from desktop.usecases.papers.orders.order_head import about_order, ending_bands, twin_bands
from desktop.usecases.papers.records.check_code_of import code_of
from desktop.usecases.records.sections.names import Names
from reports.document import Block, Caution, Column, Document, Table, plain
from reports.document_tags import Tag, Tags
from reports.document_text import Entries, Entry

INVENTED_TAG = "Invented data"
NOT_TO_FIT = "REMOVED: NOT TO BE INSTALLED"
NOT_TO_TURN = "DO NOT TURN THE PROPELLER"
LIVE = "Every propeller is live, whatever the switch says. Nobody and nothing in its arc. A turned blade can kill."
KEEP_CLEAR = "KEEP CLEAR OF THE PROPELLER"
NOT_IN_USE = "NO TAG HANGS FOR THIS ORDER"
ALL_NORMAL = "Everything on the safe-state board is normal. The propeller is live all the same."
PRINT_AGAIN = "When something is no longer normal, print the tag again: then it forbids turning."
ENDED = "The order is {state}. Take an older tag away, and hang none up for it."
FINISHED = (OrderState.VOID, OrderState.CLOSED)
TAKEN_AWAY = "Only the person who hung it up, or who took the work over in writing, takes it away."


def stamped_tags(paper: Document, printing: Printing) -> Document:
    """Return a paper of tags with its check code; each tag says by itself which shop printed it, when and as what.

    What a tag says of its print is no part of the code: a tag that was cut out keeps nothing of its page.
    """
    said = f"{paper.foot.shop}, {printing.printed}. Check code of the print: {code_of(paper)}."
    blocks = tuple(
        Tags(tuple(replace(tag, printed=said) for tag in block.tags)) if isinstance(block, Tags) else block
        for block in paper.blocks
    )
    return stamped(replace(paper, blocks=blocks), printing)


def removed_parts_paper(shop: str, order: WorkOrder, names: Names, *, invented: bool = False) -> Document:
    """Return a tag for each part that came off; an empty one for the pencil when none is written down yet."""
    off = [moved for moved in order.parts if moved.part.way is Way.OFF]
    tags = tuple(_removed(order, moved, names, invented=invented) for moved in off) or (
        _removed(order, None, names, invented=invented),
    )
    about = about_order(shop, order, invented=invented, bands=twin_bands(order), names=names)
    return document("Removed parts: tags", about, (Tags(tags),), subject="Tags for removed parts")


def propeller_tag_paper(shop: str, order: WorkOrder, names: Names, *, invented: bool = False) -> Document:
    """Return the tag for the propeller, with what is not normal and who set it so."""
    odd = not_normal(order.board)
    rows = tuple(
        (f"{one.item.capitalize()} {one.word}", names.person(one.by.person), day_words(one.by.at.date())) for one in odd
    )
    columns = (Column("not normal", 2.2), Column("set by", 1.6), Column("on", 0.9))
    whose = Entries(_whose(order), 2)
    times = [(Entry(by, None), Entry("date, time", None)) for by in ("hung up by", "taken off by")]
    hung = Entries(tuple(entry for pair in times for entry in pair), 2)
    big = KEEP_CLEAR
    said: list[Block] = [plain(ALL_NORMAL, bold=True), plain(PRINT_AGAIN), whose, hung, plain(TAKEN_AWAY)]
    if order.state in FINISHED:
        big, said = NOT_IN_USE, [plain(ENDED.format(state=order.state), bold=True), whose]
    elif odd:
        big, said = NOT_TO_TURN, [Table(columns, rows), whose, hung, plain(TAKEN_AWAY)]
    tag = Tag(
        title="Safe-state tag",
        big=big,
        blocks=(Caution("warning", LIVE), *said),
        bands=_bands(order, invented=invented),
        height_mm=105.0,
    )
    about = about_order(shop, order, invented=invented, bands=twin_bands(order), names=names)
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
                    Entry("since overhaul, h", _since_overhaul(order, part)),
                    Entry("signature", None),
                    Entry("why it came off", None),
                    Entry("condition", None),
                    Entry("goes to", None),
                ),
                2,
            ),
        ),
        bands=_bands(order, invented=invented),
    )


def _since_overhaul(order: WorkOrder, part: Part | None) -> str | None:
    """Return a magneto's hours since overhaul, as its data plate had them at the intake; None leaves a line."""
    plates = order.taken_in.intake.plates if order.taken_in else ()
    key = serial_key(part.serial) if part else ""
    return next((plate.since_overhaul for plate in plates if key and serial_key(plate.serial) == key), "") or None


def _whose(order: WorkOrder) -> tuple[Entry, ...]:
    return (
        Entry("aircraft", aircraft_words(order)),
        Entry("engine", engine_words(order)),
        Entry("order", order_name(order.number), code=True),
    )


def _bands(order: WorkOrder, *, invented: bool) -> tuple[str, ...]:
    ended = tuple(band.text for band in (*twin_bands(order), *ending_bands(order)))
    return (*((INVENTED_TAG,) if invented else ()), *ended)
