"""How a shop file is brought back, step by step, for somebody who has nothing but this paper."""

from collections.abc import Iterator

from desktop.core.records.sealed.envelope import shown
from desktop.usecases.papers.frame import About, Printing, document
from reports.document import (
    Block,
    Caution,
    Document,
    Heading,
    Paragraph,
    Run,
    plain,
)
from reports.document_text import Entries, Entry, NumberedList

KEEP = (
    "Erase nothing: the present file is kept aside under another name, and may be needed. Never work on a copy as if "
    "it were the shop file: two files that both grow cannot be joined again."
)
INTRO = (
    "When the shop file is lost, damaged or was changed by somebody, and on a new machine: do these steps in their "
    "order. Words in capitals stand for your own files and secrets. A path with spaces is written between quotation "
    "marks; on this page they stand around what the window says. Print this again after each copy that leaves the "
    "house."
)
FIND = (
    "Find the newest copy, in the folder that is named above or on what the shop carries away. Its name bears day and "
    "time."
)
LOOK = (
    "Open a terminal. Look whether the copy is sound, and whether the record seal of this paper belongs to it. The "
    "number of records is this paper's or a larger one:"
)
READ = (
    'Press "Restore a copy", and name COPY: it is verified first. Read what was found. Tick "Take the older copy all '
    'the same" only when there is no newer one. At "New shop file", where that is asked, write SHOP.'
)
SIGN = (
    'At "Records keeper", choose who signs. At "Secret", type SECRET. Press "Restore this copy": the shop opens, and '
    "says where the file before is kept."
)
BRING = (
    "Bring the copy back. SECRET is asked for, that of a records keeper; of several, add --by and the initials. Type "
    "the second line only when the first says that the copy lacks something, and there is no newer one:"
)
Step = tuple[str, str]
"""What is done, and the commands that are typed for it, a line each."""
FIRST: tuple[Step, ...] = (
    ("Stop working: close Sparkwright on every machine that uses the shop file.", ""),
    (FIND, ""),
    ("On a new machine, install Sparkwright first, as its README says under Run it.", ""),
    (LOOK, "sparkwright verify COPY --head SEAL"),
)
WINDOW, WINDOW_STEPS = (
    "In the window",
    (
        ("Begin; where a shop opens, press Ctrl+8:", "sparkwright open"),
        (READ, ""),
        (SIGN, ""),
    ),
)
TYPED, TYPED_STEPS = (
    "Or at the command line, instead of 5 to 7",
    ((BRING, "sparkwright restore COPY SHOP\nsparkwright restore COPY SHOP --older"),),
)
AFTER, AFTER_STEPS = (
    "Afterwards",
    (
        ("Look whether everything is there, and at the machine:", "sparkwright verify SHOP\nsparkwright doctor SHOP"),
        ("Enter again what was written after the copy was made. Papers in the binder show what it was.", ""),
    ),
)
SEAL = "record seal now (SEAL)"


def restore_paper(about: About, place: str, printing: Printing) -> Document:
    """Return the instructions, one page long; ``place`` is the folder of the copies, empty when none is set."""
    return document(
        "How to bring the shop file back", about, tuple(_blocks(place, printing)), subject="Restore instructions"
    )


def _blocks(place: str, printing: Printing) -> Iterator[Block]:
    yield plain(INTRO)
    yield Caution("caution", KEEP)
    yield Entries(
        (
            Entry("shop file's own id", printing.file_id or None, code=True),
            Entry("copies lie in", place or None),
        )
    )
    yield Entries(
        (
            Entry("records now", str(printing.count)),
            Entry(SEAL, shown(printing.head) or "none yet", code=True),
            Entry("copies elsewhere", None),
            Entry("records keeper", None),
        ),
        2,
    )
    number = 1
    for title, steps in (("Step by step", FIRST), (WINDOW, WINDOW_STEPS), (TYPED, TYPED_STEPS), (AFTER, AFTER_STEPS)):
        yield Heading(title, 3)
        yield NumberedList(tuple(_step(words, command) for words, command in steps), number)
        number += len(steps)


def _step(words: str, command: str) -> Paragraph:
    return Paragraph((Run(words), Run(f"\n{command}", code=True))) if command else plain(words)
