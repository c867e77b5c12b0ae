"""Papers that are made at once, and of which everything is written down: for windows and view-models without a shop."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event

from desktop.core.errors import Refusal
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.stable_set import PaperThere
from desktop.viewmodels.paper.paper_needs import Listed, Made, Outcome, Pace, PaperNeeds, Take, WhichLog
from reports.pages import Page

WHITE = Page(8, 8, 24, b"\xff" * 192)
PAPERS = (
    PaperThere("W-0012-work-order", Asked(kinds.WORK_ORDER, 12), "Work order"),
    PaperThere("W-0012-card-01-T4", Asked(kinds.CARD, 12, 1), "Card 1: Time the magnetos"),
    PaperThere("W-0012-summary", Asked(kinds.SUMMARY, 12), "Summary for the inspector", "No card is issued yet."),
    PaperThere("W-0012-entry-labels", Asked(kinds.ENTRY_LABELS, 12), "Maintenance entry on labels"),
    PaperThere("W-0012-tools", Asked(kinds.TOOLS, 12), "Tool list"),
)
LABELS, NOT_YET = 3, 2
LEFT = WhichLog("left", "E-77")


@dataclass
class FakePress:
    """Makes papers. ``gate`` holds the worker before each paper while it is not set; ``refuses`` is a kind that fails.

    ``full`` says that nothing can be written.
    """

    papers: tuple[PaperThere, ...] = PAPERS
    log: WhichLog | None = None
    refuses: kinds.PaperKind | None = None
    gate: Event = field(default_factory=Event)
    made: list[tuple[object, str]] = field(default_factory=list)
    written: list[Path] = field(default_factory=list)
    remembered: list[object] = field(default_factory=list)
    full: bool = False

    def __post_init__(self) -> None:
        self.gate.set()

    def needs(self) -> PaperNeeds:
        """Return what prints."""
        return PaperNeeds(
            self.make,
            self.each,
            lambda _pdf, _dots: (WHITE, WHITE),
            lambda _order: Listed("W-0012", self.papers, self.log),
            self.write,
            self.remembered.append,
            lambda: "letter",
        )

    def make(self, thing: object, size: str, _dots: float) -> Made:
        """Make one paper; its PDF names what it is, how often something was made before it, and the size."""
        self.gate.wait(20)
        if isinstance(thing, Asked) and thing.kind is self.refuses:
            raise Refusal(f"{thing.kind.title} cannot be made.")
        self.made.append((thing, size))
        name = thing.kind.name if isinstance(thing, Asked) else "list"
        return Made(f"%PDF {name} {len(self.made)} {size}".encode(), (WHITE,), f"code of {name}")

    def each(self, things: Sequence[object], size: str, dots: float, take: Take) -> Callable[[Pace], Outcome]:
        """Return the work that makes many."""

        def work(pace: Pace) -> Outcome:
            done = 0
            try:
                for thing in things:
                    if not pace(done, len(things)) or not take(done, self.make(thing, size, dots)):
                        break
                    done += 1
                pace(done, len(things))
            except Refusal as refusal:
                return Outcome(done, len(things), refusal.sentence)
            return Outcome(done, len(things))

        return work

    def write(self, place: Path, _pdf: bytes) -> None:
        """Write a paper down."""
        if self.full:
            raise Refusal("The disk is full.")
        self.written.append(place)
