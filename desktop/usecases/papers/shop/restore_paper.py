"""How a shop file is brought back, step by step, for somebody who has nothing but this paper."""

from collections.abc import Iterator

from desktop.core.records.sealed.envelope import shown
from desktop.usecases.papers.frame import About, Printing, document
from reports.document import (
    Block,
    Caution,
    Document,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Run,
    plain,
)
from reports.document_text import Entries, Entry, NumberedList

NEVER = "Never work on a copy as if it were the shop file. Two files that both grow cannot be joined again."
KEEP = "Erase nothing. The present file is kept aside under another name, and may be needed."
FIND = (
    "Find the newest copy. Copies lie in the folder that is named above, and on whatever the shop carries away. The "
    "name of a copy bears its day and time."
)
COMPARE = (
    "Compare what it says with this paper. The number of records is this paper's or a larger one. Ask whether the "
    "record seal of this paper belongs to the copy:"
)
BRING = (
    "Bring the copy back. COPY is the copy, SHOP the place of the shop file. The secret of a records keeper is asked "
    "for, and the restore becomes a signed record:"
)
OLDER = (
    "When it says that the copy lacks something that the present file has, read what that is. Take another copy, or "
    "say that you take the older one:"
)
STEPS: tuple[tuple[str, str], ...] = (
    ("Stop working: close Sparkwright on every machine that uses the shop file.", ""),
    (FIND, ""),
    ("On a new machine, install Sparkwright first, as its page says.", ""),
    ("Open a terminal in the folder of the copy, and look whether the copy is sound:", "sparkwright verify COPY"),
    (COMPARE, "sparkwright verify COPY --head SEAL"),
    (BRING, "sparkwright restore COPY SHOP"),
    (OLDER, "sparkwright restore COPY SHOP --older"),
    (
        "Look whether everything is there, and at the installation:",
        "sparkwright verify SHOP\nsparkwright doctor SHOP",
    ),
    ("Enter again what was written after the copy was made. Papers in the binder show what it was.", ""),
)
WORDS = "Words in capitals stand for your own files. A path with spaces is written between quotation marks."


def restore_paper(about: About, place: str, printing: Printing) -> Document:
    """Return the instructions; ``place`` is the folder of the copies, empty when none is set."""
    return document(
        "How to bring the shop file back", about, tuple(_blocks(place, printing)), subject="Restore instructions"
    )


def _blocks(place: str, printing: Printing) -> Iterator[Block]:
    yield plain(
        "When the shop file is lost, damaged or was changed by somebody: do these steps in their order. Nothing else "
        f"is needed than this paper, a copy, and a machine on which Sparkwright is installed. {WORDS}"
    )
    yield Caution("caution", KEEP)
    yield Caution("caution", NEVER)
    yield Entries(
        (
            Entry("shop file's own id", printing.file_id or None, code=True),
            Entry("copies lie in", place or None),
            Entry("a copy outside of the house", None),
            Entry("records keeper, telephone", None),
        )
    )
    yield Heading("Step by step", 2)
    yield NumberedList(tuple(_step(words, command) for words, command in STEPS))
    yield Heading("The file as it was when this was printed: print it again after each copy that leaves the house", 3)
    yield _file(printing)
    yield Facts(
        (
            Fact("restored by", None, span=2),
            Fact("date", None),
            Fact("from the copy of", None),
        )
    )


def _step(words: str, command: str) -> Paragraph:
    return Paragraph((Run(words), Run(f"\n{command}", code=True))) if command else plain(words)


def _file(printing: Printing) -> Entries:
    """Return the count of records and the seal of the last, as they were when the paper was printed."""
    return Entries(
        (
            Entry("records", str(printing.count)),
            Entry("record seal of the last (SEAL)", shown(printing.head) or "none yet", code=True),
        ),
        2,
    )
