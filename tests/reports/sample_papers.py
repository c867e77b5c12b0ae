"""Sample papers with invented data, one for each kind of block that a timing card does not have."""

from __future__ import annotations

from reports.document import Attachment, Band, Document, Foot, Head, Paper
from reports.document_labels import LABEL_SIZES, Label, LabelSheet, PenLine
from reports.document_pictures import picture_of_height
from reports.document_signing import CheckCode, ElectronicSignature, SignatureBox, Signatures
from reports.document_steps import Caution
from reports.document_tables import Column, Table
from reports.document_tags import BigWords, Tag, Tags
from reports.document_text import (
    EmptyState,
    Entries,
    Entry,
    Fact,
    Facts,
    Heading,
    NumberedList,
    Paragraph,
    Run,
    Space,
    plain,
)
from reports.drawing import Circle, Drawing, Line, Shape, Stroke, Words
from tests.reports.sample import GOVERNING, timing_card

HEAD_DIGEST = "9a41c07be2d8551600f3aa17c0de5b1277e0bb6d4ac1f29e83d5c0a1b2e4f607"
DIGEST = "41f0c9d2775e0b3ac8816f3d20b4e5a97c6d1e8f0a2b3c4d5e6f708192a3b4c5"
QR = f"shop 3f9c1a70-22b4-4c1d-9e0a-5d6f7a8b9c0d\nrecord 412 of 431\nhead {HEAD_DIGEST}\ndigest {DIGEST}"
SEALED = Attachment(
    "record-412.json", b'{"kind":"card accepted","number":412}', "application/json", "the sealed record"
)

FOOT = Foot(
    "Pinyon Flat Aero Works (invented)",
    "card T4",
    "printed 14 Oct 2026 15:02 MDT",
    (("file", "3f9c1a70"), ("record", "412 of 431"), ("head", "9a41c07be2d85516")),
    "order W-0417",
    "rev 2",
)
MECHANIC = ElectronicSignature(
    "Mechanic",
    "I did the work above as described.",
    "Rhea Vance",
    "14 Oct 2026 14:40 MDT (UTC-6)",
    "b07c 51e9 22d4 8a06",
    "9a41c07be2d85516",
    "3120077",
    "mechanic, powerplant",
)
INSPECTOR = ElectronicSignature(
    "Inspector",
    "I inspected the work above and accept it.",
    "Lars Ødegård-Țepeș",
    "14 Oct 2026 15:01 MDT (UTC-6)",
    "77aa 0d13 e4f9 4c20",
    "41f0c9d2775e0b3a",
    "2880415",
    "repairman",
    "The same person did the work: rechecked, since the shop has one person.",
)
RETURN = SignatureBox("Approved for return to service", "With respect to the work performed only.", code="7KQ4-M2ZD")


def _document(title: str, *blocks: object, bands: tuple[Band, ...] = (), foot: Foot = FOOT) -> Document:
    head = Head(
        title,
        "order W-0417   N-XX04   card T4 rev 2",
        (Paragraph((Run("order "), Run("W-0417", code=True))), plain("left engine, left magneto", quiet=True)),
        GOVERNING,
        bands=bands,
    )
    return Document(title, "for a test", "en-US", head, foot, blocks, attachments=(SEALED,))  # type: ignore[arg-type]


def maintenance_entry() -> Document:
    """Give an entry with electronic signatures, check code and QR code, superseded and printed again."""
    return _document(
        "Maintenance entry",
        Entries(
            (
                Entry("aircraft", "N-XX04, Tarn 210, no. 31"),
                Entry("engine", "Harl 6-300, no. 0118, left"),
                Entry("total time", "2 104.6 h"),
                Entry("tachometer", "1 388.2"),
                Entry("work completed on", "14 Oct 2026"),
                Entry("order", "W-0417", code=True),
                Entry("data", "HM-6, section 5-20, revision 9 of 3 Mar 2026"),
                Entry("log", None),
            ),
            2,
        ),
        Heading("Work performed"),
        plain(
            "Replaced the left magneto and timed it to the engine at 23.5° BTDC (limits 22.0° to 24.0°). As found "
            "26.0° BTDC. Both magnetos synchronised, 0.5° apart. Ground run: drops 65 and 70 rpm, no leak found."
        ),
        Heading("Discrepancies", 2),
        NumberedList(
            (
                plain("Lead of cylinder 4, lower plug, chafed at the baffle. Replaced, order W-0417."),
                plain("Engine mount, upper right isolator cracked. Declined by the customer on 13 Oct 2026."),
            )
        ),
        Heading("Directives complied with", 3),
        EmptyState("No directive was complied with on this order."),
        Signatures((MECHANIC, INSPECTOR, RETURN)),
        CheckCode("7KQ4-M2ZD", QR, (plain("Record 412 of shop file 3f9c1a70.", quiet=True),)),
        bands=(
            Band("Invented data: demonstration only"),
            Band("Reprint"),
            Band("Superseded by record 420", loud=True),
            Band("Corrected by record 414", loud=True),
        ),
    )


def parts_list() -> Document:
    """Give a table of two pages with a title, and one without rows."""
    rows = tuple(
        (
            f"{n}",
            f"Gasket, flange, size {n % 7}",
            f"batch 88-{n}",
            f"{n * 0.75:.2f}",
            f"release note {5000 + n}",
        )
        for n in range(1, 61)
    )
    columns = (
        Column("no.", 0.4, numbers=True),
        Column("part", 2.2),
        Column("serial or batch", 1.2),
        Column("quantity", 0.8, numbers=True),
        Column("paper", 1.4),
    )
    return _document(
        "Parts off and on",
        Table(columns[1:], (), title="Parts taken off", empty="No parts were taken off."),
        Table(columns, rows, title="Parts put on"),
        bands=(Band("Not approved", loud=True),),
    )


def long_remark() -> Document:
    """Give a remark of many lines between a heading and a list."""
    sentence = "The contact surface of the left breaker showed a light blue film that a clean card took off. "
    return _document(
        "Summary of the order",
        Heading("Remark of the mechanic"),
        plain(sentence * 70),
        Heading("Remarks of the inspector", 2),
        NumberedList(tuple(plain(sentence * (n % 4 + 1)) for n in range(12)), 9),
    )


def leads() -> Drawing:
    """Give an engine of six cylinders with its leads, seen from above."""
    shapes: list[Shape] = [Line(150.0, 20.0, 150.0, 160.0, Stroke("heavy"))]
    for cylinder in range(6):
        side, row = cylinder % 2, cylinder // 2
        x, y = (90.0 if side else 210.0), 40.0 + row * 45.0
        shapes += [
            Circle(x, y, 14.0, Stroke("medium")),
            Words(x, y + 3.2, f"{cylinder + 1}", 9.0, "middle", bold=True),
            Line(x + (14.0 if side else -14.0), y, 150.0, 150.0, Stroke("thin", dashed=True)),
        ]
    return Drawing(300.0, 175.0, tuple(shapes), "six cylinders and their leads")


def leads_paper() -> Document:
    """Give a drawing in the flow with a caption, as the paper of ignition leads has it."""
    return _document(
        "Ignition leads by firing order",
        plain("Trace each lead by hand from the distributor to its plug; a second person reads the list."),
        picture_of_height(leads(), 80.0, "seen from above, propeller on top; firing order 1-4-5-2-3-6"),
        Facts((Fact("traced by", None), Fact("read by", None), Fact("date", None, span=2))),
    )


def tags() -> Document:
    """Give a removed-parts tag and a tag for the propeller on one page."""
    removed = Tag(
        "Removed part",
        "DO NOT INSTALL",
        (
            Entries(
                (
                    Entry("part", "Magneto Corrin M6L"),
                    Entry("serial number", "7741"),
                    Entry("taken off", "N-XX04, left engine, left"),
                    Entry("order", "W-0417", code=True),
                    Entry("reason", "500 h inspection due"),
                    Entry("by, date", None),
                ),
                1,
            ),
        ),
        ("Invented data",),
    )
    propeller = Tag(
        "Safe-state tag for the propeller",
        "DO NOT TURN THE PROPELLER",
        (
            Caution("warning", "Every propeller is live. A magneto is loose: a turned blade can start the engine."),
            Entries((Entry("hung up by", None), Entry("order", "W-0417", code=True)), 2),
        ),
        ("Invented data",),
    )
    return _document("Tags of the order", Tags((removed, propeller)))


def hangar() -> Document:
    """Give a sheet for the hangar wall."""
    return _document(
        "Safe-state board",
        BigWords("SWITCH OFF"),
        BigWords("STARTER DISABLED, BATTERY OFF"),
        BigWords("ALL PLUG LEADS OFF AND SECURED AWAY FROM THE HANDS OF WHOEVER TURNS THE PROPELLER"),
        Space(4.0),
        Caution("note", "An order cannot close while one of these is not normal."),
        plain("Set by Rhea Vance, 14 Oct 2026 08:12 MDT."),
    )


def label_sheet(at: int = 0, start: int = 3) -> LabelSheet:
    """Give a sheet of labels for a logbook."""
    small = LABEL_SIZES[at].height < 40.0
    entry = Label(
        (
            Paragraph((Run("N-XX04, Harl 6-300 no. 0118 left, 2 104.6 h"),), small=True),
            Paragraph((Run("Left magneto timed to 23.5° BTDC, limits 22.0° to 24.0°."),), small=True),
        ),
        "" if small else "14 Oct 2026, order W-0417",
        () if small else (PenLine("signature"), PenLine("certificate no. and kind")),
        () if small else ("Invented data",),
    )
    return LabelSheet("Labels", "for a test", "en-US", LABEL_SIZES[at], (entry,) * 4, start, "Pinyon Flat")


PICTURES: dict[str, tuple[Paper, int]] = {
    "entry": (maintenance_entry(), 0),
    "parts-first": (parts_list(), 0),
    "parts-next": (parts_list(), 1),
    "remark-next": (long_remark(), 1),
    "leads": (leads_paper(), 0),
    "tags": (tags(), 0),
    "hangar": (hangar(), 0),
    "labels-letter": (label_sheet(0), 0),
    "labels-a4": (label_sheet(3), 0),
    "labels-small": (label_sheet(2, 7), 0),
    "card-blank": (timing_card(filled=False), 0),
    "card-filled": (timing_card(filled=True), 0),
    "card-filled-next": (timing_card(filled=True), 1),
}
