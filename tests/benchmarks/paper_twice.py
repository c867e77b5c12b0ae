"""A full card printed by our own pieces, and the same words as bare reportlab flowables, timed in one run.

`python -m tests.benchmarks.paper_twice` prints both times and their ratio, and fails above 2.0. It is no pytest test:
it measures this machine.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, KeepTogether, SimpleDocTemplate, Spacer, Table, TableStyle
from reportlab.platypus import Paragraph as BareParagraph

from reports.document import Caution, Checklist, Document, Facts, Foot, Head, ReadingRow, ReadingTable, Step, Tick
from reports.document_text import Fact, plain
from reports.fonts import font_name, register_fonts
from reports.render import render
from reports.text import lay

STEPS, ROUNDS, MOST = 60, 7, 2.0
_TEXT = ParagraphStyle("text", fontName="sparkwright-text", fontSize=9, leading=12)
_BOLD = ParagraphStyle("bold", parent=_TEXT, fontName="sparkwright-text-bold", fontSize=10.5, leading=14)
_SMALL = ParagraphStyle("small", parent=_TEXT, fontSize=7.5, leading=10)


def card(number: int) -> Document:
    """Give a card of many steps with cautions, readings and ticks; each number has words of its own."""
    steps = tuple(
        Step(
            f"{at}",
            f"Turn the propeller with rotation until the light of card {number} shows the points opening, time {at}.",
            (Caution("warning", f"Every propeller is live, step {at} of {number}. Take off all plug leads."),),
            (
                ReadingTable(
                    tuple(
                        ReadingRow(
                            f"{at}.{row}", f"Light came at {number}", "337", f"{330 + row}.5", "°", "23.5° BTDC", "RV"
                        )
                        for row in range(1, 5)
                    )
                ),
                Checklist((Tick(f"Switch to OFF after reading {at} of {number}", "ticked", "RV"),)),
                plain(
                    f"The contact surface at step {at} of {number} showed a light blue film that a clean card took off."
                ),
            ),
        )
        for at in range(1, STEPS + 1)
    )
    facts = Facts(tuple(Fact(f"label {at}", f"value {at} of {number}") for at in range(8)))
    return Document("Card", "for a measurement", "en", Head("Card", "card"), Foot("shop", "card"), (facts, *steps))


def bare(document: Document) -> bytes:
    """Print the same words with the library's own paragraphs and tables, one flowable for each of our blocks."""
    flow: list[Flowable] = []
    for block in document.blocks:
        if isinstance(block, Facts):
            pairs = [(BareParagraph(escape(fact.label), _SMALL), _words(fact.value or "")) for fact in block.items]
            flow.append(_table([[list(pair) for pair in pairs[at : at + 4]] for at in (0, 4)]))
        elif isinstance(block, Step):
            flow.append(KeepTogether(_bare_step(block)))
    file = BytesIO()
    SimpleDocTemplate(file, invariant=1, initialFontName=font_name("text")).build(flow)
    return file.getvalue()


def _bare_step(step: Step) -> list[Flowable]:
    parts: list[Flowable] = [_table([["WARNING", _words(box.text)]], framed=True) for box in step.boxes]
    parts.append(BareParagraph(escape(f"{step.number} {step.instruction}"), _BOLD))
    for block in step.body:
        if isinstance(block, ReadingTable):
            rows: list[list[Any]] = [
                [
                    _words(text)
                    for text in (
                        row.number,
                        row.what,
                        row.target,
                        row.reading + row.unit,
                        row.worked_out,
                        row.initials or "",
                    )
                ]
                for row in block.rows
            ]
            parts.append(_table([["", "", "target", "reading", "worked out", "initials"], *rows]))
        elif isinstance(block, Checklist):
            parts.append(_table([["x", _words(row.text), _words(row.initials or "")] for row in block.rows]))
        else:
            parts.append(_words("".join(run.text for run in getattr(block, "runs", ()))))
    return [*parts, Spacer(1, 8)]


def _words(text: str) -> BareParagraph:
    return BareParagraph(escape(text), _TEXT)


def _table(rows: Sequence[list[Any]], *, framed: bool = False) -> Table:
    edge = ("BOX", (0, 0), (-1, -1), 1.2, "black") if framed else ("LINEBELOW", (0, 0), (-1, -1), 0.5, "grey")
    return Table(rows, style=TableStyle([("FONT", (0, 0), (-1, -1), "sparkwright-text", 9), edge]))


def main() -> None:
    """Measure both in turn, best of some rounds, each round with fresh words; print and judge."""
    register_fonts()
    render(card(0), "letter")
    bare(card(0))
    ours: list[float] = []
    theirs: list[float] = []
    for number in range(1, ROUNDS + 1):
        document = card(number)
        lay.cache_clear()
        begin = time.perf_counter()
        render(document, "letter")
        middle = time.perf_counter()
        bare(document)
        theirs.append(time.perf_counter() - middle)
        ours.append(middle - begin)
    ratio = min(ours) / min(theirs)
    print(f"ours {min(ours) * 1000:.0f} ms, bare flowables {min(theirs) * 1000:.0f} ms, ratio {ratio:.2f}")
    print(f"at most {MOST}: {'held' if ratio <= MOST else 'NOT held'}")
    sys.exit(0 if ratio <= MOST else 1)


if __name__ == "__main__":
    main()
