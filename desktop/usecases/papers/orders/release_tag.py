"""The release tag of a magneto that was inspected off the engine: what was done on it, and who approved it."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.shop.aircraft.intake import Plate
from desktop.core.shop.cards.jobs import Job
from desktop.core.shop.orders.order import WorkOrder
from desktop.core.shop.orders.order_line import aircraft_words, engine_words, order_name
from desktop.core.shop.orders.order_states import Move, OrderState
from desktop.core.shop.orders.visits import serials_at_intake
from desktop.core.shop.shop_details import ShopDetails
from desktop.core.timing.readings import Side
from desktop.core.words import day_words
from desktop.usecases.papers.entry.entry_paper import NOT_SIGNED
from desktop.usecases.papers.frame import document
from desktop.usecases.papers.orders.order_head import about_order, ending_bands, twin_bands
from desktop.usecases.papers.orders.tags_paper import INVENTED_TAG
from desktop.usecases.papers.records.record_parts import attached, corrected_bands, grouped, qr_content, signed_as
from desktop.usecases.papers.records.verified import VerifiedRecord
from desktop.usecases.records.sections.names import Names, moment_words
from reports.document import Block, Document, Seal, plain
from reports.document_tags import Tag, Tags
from reports.document_text import Entries, Entry

RELEASED, NOT_YET, REFUSED = "RELEASED", "NOT RELEASED YET", "NOT RELEASED: NOT TO BE INSTALLED"
NO_FORM = (
    "This is the shop's own tag. It is no release certificate of an authority and replaces none. Before the magneto is "
    "installed, the installer holds its data plate against the data of the engine."
)
NO_JOB = (
    "No job of this order ends with a release tag. It is printed for a magneto that was inspected off the engine: "
    "issue its cards first."
)


def has_release_tag(order: WorkOrder, jobs: Iterable[Job]) -> bool:
    """Tell whether a magneto leaves an order with a release tag of its own."""
    tagged = {job.id for job in jobs if job.tag}
    return any(card.job in tagged for card in order.cards)


def release_tag_paper(
    shop: ShopDetails,
    order: WorkOrder,
    names: Names,
    jobs: Iterable[Job],
    signed: VerifiedRecord | None,
    *,
    invented: bool = False,
) -> Document:
    """Return a tag for each magneto of the job; ``signed`` is the record in which the order was approved or not.

    Raise Refusal for an order that has no such job, and for one whose magnetos have no serial number.
    """
    jobs = tuple(jobs)
    if not has_release_tag(order, jobs):
        raise Refusal(NO_JOB)
    left_out = {one.side for one in order.left_out}
    sides = [(side, serial) for side, serial in serials_at_intake(order).items() if side not in left_out]
    if not sides:
        raise Refusal("No magneto of this order has a serial number. Write it down from its data plate first.")
    title = next(job.title for job in jobs if job.tag and job.id in {card.job for card in order.cards})
    tags = tuple(_tag(shop, order, names, title, (side, serial), signed, invented=invented) for side, serial in sides)
    bands = (*twin_bands(order), *(corrected_bands(signed) if signed else ()))
    about = about_order(shop.name, order, invented=invented, bands=bands, names=names)
    attachments = (attached(signed.taken.envelope),) if signed else ()
    return document("Release tag", about, (Tags(tags),), subject="Release tag of a magneto", attachments=attachments)


def _tag(
    shop: ShopDetails,
    order: WorkOrder,
    names: Names,
    title: str,
    magneto: tuple[Side, str],
    signed: VerifiedRecord | None,
    *,
    invented: bool,
) -> Tag:
    ended = tuple(band.text for band in ending_bands(order))
    said = tuple(band.text for band in corrected_bands(signed)) if signed else (NOT_SIGNED,)
    return Tag(
        title=f"Release tag: magneto {magneto[1]}"[:120],
        big=_big(order, signed),
        blocks=(
            Entries(tuple(_facts(shop, order, title, magneto)), 2),
            Entries(tuple(_work(order, names))),
            *_signature(signed),
            plain(NO_FORM, quiet=True),
        ),
        bands=(*((INVENTED_TAG,) if invented else ()), *ended, *said),
        height_mm=105.0,
    )


def _big(order: WorkOrder, signed: VerifiedRecord | None) -> str:
    """Return the big words: released only where the order is approved, and in ink or by a record."""
    refused = any(one.move in (Move.NOT_APPROVE, Move.VOID) for one in order.passages)
    if refused or (signed is not None and signed.taken.record.kind is RecordKind.NOT_APPROVED):
        return REFUSED
    return RELEASED if signed is not None and order.state in (OrderState.APPROVED, OrderState.CLOSED) else NOT_YET


def _facts(shop: ShopDetails, order: WorkOrder, title: str, magneto: tuple[Side, str]) -> Iterator[Entry]:
    side, serial = magneto
    plate = (order.taken_in.intake.plate(side) if order.taken_in else None) or Plate(side)
    fitted = next((one.part_number for one in order.engine.magnetos if one.side is side), "")
    yield Entry("part number", plate.part_number or fitted or None)
    yield Entry("serial number", serial)
    yield Entry("hand of rotation", plate.hand or None)
    yield Entry("since overhaul, h", plate.since_overhaul or None)
    yield Entry("came from", f"{aircraft_words(order)}, {side} magneto")
    yield Entry("engine", engine_words(order))
    yield Entry("job", title)
    yield Entry("order", order_name(order.number), code=True)
    yield Entry("shop", shop.name)
    if shop.is_station:
        yield Entry("station certificate", shop.station_certificate)


def _work(order: WorkOrder, names: Names) -> Iterator[Entry]:
    """Yield the cards that were done, by which data, by whom and until when."""
    cards = "; ".join(f"{card.task.title} ({card.task.id}, rev {card.task.revision})" for card in order.cards)
    confirmed = [card.data_confirmed for card in order.cards if card.data_confirmed]
    data = dict.fromkeys(one for said in confirmed for one in said.documents)
    hands = dict.fromkeys(one.by for one in order.passages if one.move is Move.SUBMIT)
    yield Entry("work", cards)
    yield Entry("data", "; ".join(data) or "none named")
    yield Entry("done by", "; ".join(dict.fromkeys(names.person(one.person) for one in hands)) or None)
    yield Entry("finished on", day_words(max(one.at for one in hands).date()) if hands else None)


def _signature(signed: VerifiedRecord | None) -> tuple[Block, ...]:
    """Return the approval in words with key, seal and code, or the lines for the pen."""
    if signed is None:
        pen = ("approved for return to service: signature", "date", "printed name", "certificate no. and kind")
        return (Entries(tuple(Entry(line, None) for line in pen), 2),)
    record, envelope = signed.taken.record, signed.taken.envelope
    when = moment_words(datetime.fromisoformat(record.at))
    lines = tuple(
        plain(text)
        for signer, signature in zip(record.signers, envelope.signatures, strict=True)
        for text in (
            f"Signed electronically by {signer.name}, {signed_as(signer)}, {when}: {signer.meaning}",
            f"Key {grouped(signature.public_key.hex()[:16])}.",
        )
    )
    seal = plain(f"Record {envelope.number}, record seal {grouped(envelope.digest[:16])}.")
    return (Seal(qr_content(record.shop_id, signed), (*lines, seal), 32.0),)
