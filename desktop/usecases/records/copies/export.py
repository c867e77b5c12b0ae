"""Taking the records out: a folder from which anybody can read and check them without this program.

Everything in it is made from what was signed, and nothing says when it was taken out: the same shop gives the same
bytes. Records that were changed are taken out as they stand: whoever checks the folder sees that too.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from desktop.core.errors import Refusal
from desktop.core.records.keys.key_spans import key_spans
from desktop.core.records.kinds import PEOPLE_KINDS
from desktop.core.records.sealed.canonical import NotARecord, read_record
from desktop.core.records.sealed.chain import Taken
from desktop.core.records.sealed.record_line import line_of
from desktop.core.records.sealed.signatures import Verifies
from desktop.core.records.sealed.stored import StoredRow, envelope_of
from desktop.core.shop.orders.order_line import order_name
from desktop.usecases.papers.records.verified import verified_records
from desktop.usecases.records.checking.check_pace import verify_at_pace
from desktop.usecases.records.checking.verify import Verified
from desktop.usecases.records.copies.copy_ports import Pace, never_stops
from desktop.usecases.records.copies.export_ports import ExportDesk, ExportFile
from desktop.usecases.records.signing.ports import ShopToCheck

RECORD_COLUMNS = (
    *("number", "kind", "subject", "order", "card", "person", "name", "time", "about"),
    *("record seal", "record seal before"),
)
READING_COLUMNS = ("number", "section", "label", "text")
STOPPED = "Stopped. Nothing was taken out."
Rows = Callable[[], Iterator[StoredRow]]


@dataclass(frozen=True, slots=True)
class Exported:
    """What was taken out: how many records and files, and what the check of the shop found."""

    records: int
    files: int
    verified: Verified
    order: int


class _Way:
    """How far an export is: first its check, then a step for each print. Raise Refusal when somebody stops."""

    def __init__(self, pace: Pace, prints: int) -> None:
        self._pace, self._prints = pace, prints
        self._checks = self._printed = 0

    def checked(self, done: int, of: int) -> bool:
        """Say how far the check is; False when somebody stops."""
        self._checks = of
        return self._pace(done, of + self._prints)

    def printed(self) -> None:
        """Say that one print more is made."""
        self._printed += 1
        of = self._checks + self._prints
        if not self._pace(min(self._checks + self._printed, of), of):
            raise Refusal(STOPPED)


def export_shop(
    shop: ShopToCheck,
    verifies: Verifies,
    desk: ExportDesk,
    folder: Path,
    order: int = 0,
    pace: Pace = never_stops,
) -> Exported:
    """Write the records of a shop into a new folder; with ``order`` those about that order, and those about people.

    Prints are made only when every record is sound. Raise Refusal for an order that nothing is about, when the folder
    cannot be made, and when somebody stops; then nothing is left of it.
    """
    way = _Way(pace, len(shop.listed()))
    verified = verify_at_pace(shop, verifies, way.checked)
    if verified is None:
        raise Refusal(STOPPED)
    chosen = _chosen(shop, order) if order else None

    def rows() -> Iterator[StoredRow]:
        return (row for row in shop.stored_rows() if chosen is None or row.number in chosen)

    files = desk.write(folder, export_files(shop, verifies, desk, verified, rows, order, way.printed))
    return Exported(verified.count if chosen is None else len(chosen), files, verified, order)


def exported_words(folder: Path, exported: Exported) -> str:
    """Say what was taken out, and how it is checked."""
    count = "1 record" if exported.records == 1 else f"{exported.records} records"
    of = f" of {order_name(exported.order)} and of people" if exported.order else ""
    said = (
        f"{folder} holds {count}{of} in {exported.files} files. Check it with: python -I {folder / 'verify_records.py'}"
    )
    if exported.verified.is_sound:
        return said
    return f"{said}\nThe records are taken out as they stand, without prints, for not all of them are sound."


def export_files(
    shop: ShopToCheck,
    verifies: Verifies,
    desk: ExportDesk,
    verified: Verified,
    rows: Rows,
    order: int = 0,
    step: Callable[[], None] = lambda: None,
) -> Iterator[ExportFile]:
    """Yield the files of an export; each is made while it is written, so that a large shop need not fit into memory.

    ``step`` is called after each print.
    """
    text = desk.text
    yield ExportFile("shop.json", (text.shop(shop.shop_id, verified.count, verified.head, order),))
    yield ExportFile("records.jsonl", map(text.record, rows()))
    yield ExportFile("records.csv", text.table(_record_rows(rows)))
    yield ExportFile("readings.csv", text.table(_reading_rows(rows)))
    yield ExportFile("public-keys.txt", _key_lines(rows))
    yield from desk.fixed
    if verified.is_sound:
        listed = {line.number: line for line in shop.listed()}
        wanted = {row.number for row in rows()}
        all_ = verified_records(shop.stored_rows(), shop.shop_id, verifies, listed)
        for name, data in desk.papers(tuple(one for one in all_ if one.number in wanted)):
            yield ExportFile(f"papers/{name}", (data,))
            step()


def _chosen(shop: ShopToCheck, order: int) -> frozenset[int]:
    """Return the numbers of the records about an order, of those about one of these, and of those about people."""
    about: set[int] = set()
    people: set[int] = set()
    for taken in _readable(shop.stored_rows):
        line = taken.line
        if line.order == order or about.intersection(line.about):
            about.add(line.number)
        elif taken.record.kind in PEOPLE_KINDS:
            people.add(line.number)
    if not about:
        raise Refusal(f"No record is about {order_name(order)}. Look the order up, or export all records.")
    return frozenset(about | people)


def _readable(rows: Rows) -> Iterator[Taken]:
    """Yield what can be read, sound or not."""
    for row in rows():
        try:
            envelope, record = envelope_of(row), read_record(row.content)
        except NotARecord:
            continue
        yield Taken(envelope, record, line_of(envelope, record))


def _record_rows(rows: Rows) -> Iterator[tuple[str, ...]]:
    yield RECORD_COLUMNS
    for taken in _readable(rows):
        line, envelope = taken.line, taken.envelope
        about = " ".join(map(str, line.about))
        place = (str(line.number), line.kind, line.subject, str(line.order), str(line.card))
        yield (*place, line.person, line.name, line.at, about, envelope.digest, envelope.previous)


def _reading_rows(rows: Rows) -> Iterator[tuple[str, ...]]:
    yield READING_COLUMNS
    for taken in _readable(rows):
        for section in taken.record.sections:
            for row in section.rows:
                yield (str(taken.line.number), section.title, row.label, row.text)


def _key_lines(rows: Rows) -> Iterator[bytes]:
    yield b"Whose key counted from which record to which. Only the records themselves are signed: see format.txt.\n\n"
    for span in key_spans((taken.line.number, taken.record) for taken in _readable(rows)):
        until = f"ended by record {span.until}" if span.until else "in use"
        yield f"{span.key}  {span.person}, {span.name}: from record {span.since}, {until}\n".encode()
