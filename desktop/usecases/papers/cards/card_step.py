"""One step of an order's card on paper: boxes before it, what it captures, and what was written, by whom and when."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from desktop.core import typed_text
from desktop.core.shop.cards.task_card import Step as CardStep
from desktop.core.shop.orders.order_card import StepDone
from desktop.core.shop.sheets.sheet_fit import leads_by_firing_order
from desktop.core.shop.sheets.sheet_set import SheetSet
from desktop.core.timing.readings import Side
from desktop.usecases.papers.cards.capture import FILLED_COLUMNS, Capture
from desktop.usecases.papers.cards.captures import PART_ROWS, capture_blocks
from desktop.usecases.papers.cards.task_card import hold_line
from desktop.usecases.records.sections.card_sections import CardToSay
from reports.document import (
    Block,
    Caution,
    Column,
    Fact,
    Facts,
    Initials,
    Paragraph,
    ReadingRow,
    ReadingTable,
    Run,
    Step,
    Table,
    plain,
)

ANSWERS = ("choice", "cut")
NOT_APPLICABLE = "n/a"
_RUN_UPS = {"run-up as found": "run-up"}


@dataclass(frozen=True, slots=True)
class StepPaper:
    """A step with the card that it is on, its number there, and the limits of its reading in words.

    ``inspector`` are the initials of who accepted the card, ``accepted`` says when and in which record; empty before.
    """

    said: CardToSay
    sheets: SheetSet
    number: str
    step: CardStep
    limit: str
    blank: bool
    inspector: str = ""
    accepted: str = ""

    @property
    def done(self) -> StepDone | None:
        """What was written at the step; nothing on an empty card."""
        return None if self.blank else self.said.card.done(self.step.id)


def step_block(paper: StepPaper) -> Step:
    """Return a step with its boxes for initials: empty ones for the pencil, or who put them and when."""
    step, done = paper.step, paper.done
    return Step(
        number=paper.number,
        instruction=step.instruction,
        boxes=tuple(Caution(box.kind.value, box.text) for box in step.boxes),
        body=tuple(_body(paper)),
        initials=tuple(_initials(step, done, paper.inspector)),
        remark="\n".join(text for text in (" ".join(_remarks(paper.step)), _done_words(paper)) if text),
        hold=hold_line(paper.accepted) if step.inspector else None,
    )


def _initials(step: CardStep, done: StepDone | None, inspector: str) -> Iterator[Initials]:
    who = "second person" if step.second else "mechanic"
    if step.initials:
        text = "" if done is None else f"{NOT_APPLICABLE} {done.by.person}" if done.skipped else done.by.person
        yield Initials(who, text)
    if step.inspector:
        yield Initials("inspector", inspector)


def _remarks(step: CardStep) -> Iterator[str]:
    if step.side:
        yield f"{step.side.capitalize()} magneto."
    if step.description:
        yield step.description
    if step.board:
        yield f"Safe-state board: {step.board}."


def _done_words(paper: StepPaper) -> str:
    done = paper.done
    return f"{'Left out' if done.skipped else 'Done'}: {paper.said.names.stamp(done.by)}" if done else ""


def _body(paper: StepPaper) -> Iterator[Block]:
    done = paper.done
    if done is not None and done.skipped:
        yield Paragraph((Run(f"{NOT_APPLICABLE}. Reason: ", bold=True), Run(done.text)))
    else:
        yield from _captured(paper, done)
        if done and done.tools:
            tools = "\n".join(paper.said.names.tool(tool) for tool in done.tools)
            yield plain(f"{'Tool' if len(done.tools) == 1 else 'Tools'}: {tools}")
    if not paper.blank:
        yield from _earlier(paper)
    elif paper.step.may_skip:
        yield Facts((Fact(f"{NOT_APPLICABLE}, because", None, span=4),))


def _captured(paper: StepPaper, done: StepDone | None) -> Iterator[Block]:
    step, number = paper.step, paper.number
    text = done.text if done else ""
    if step.capture in ANSWERS:
        what = "Answer" if step.capture == "choice" else "The engine cut at OFF"
        yield _table(ReadingRow(f"{number}.1", what, reading=text, choices=step.choices or ("yes", "no")))
    elif step.capture == "reading":
        yield _table(_reading(paper, text))
    elif step.capture == "part" and not text:
        yield _parts()
    elif step.capture == "text" and not text:
        yield Facts((Fact("written here", None, span=4),))
    elif step.capture == "tool" and done is None:
        yield Facts(tuple(Fact("tools by their numbers" if line == 0 else "", None, span=4) for line in range(2)))
    elif step.capture == "leads":
        yield from _leads(paper, done)
    else:
        yield from _worked_out(paper)
        if text:
            yield plain(text)


def _reading(paper: StepPaper, text: str) -> ReadingRow:
    step = paper.step
    allowed = paper.sheets.limit_for(step.limit, step.side)
    value = typed_text.number(typed_text.tidied(text)) if text else None
    said = f"limits: {paper.limit}" if paper.limit else ""
    if value is not None and allowed is not None:
        said += "; within" if allowed.holds(value) else "; OUTSIDE"
    unit = step.unit or (allowed.unit if allowed else "")
    what = (step.limit or "reading").capitalize() + ("" if unit else ", with its unit")
    return ReadingRow(f"{paper.number}.1", what, reading=text, unit=unit, worked_out=said)


def _worked_out(paper: StepPaper) -> Iterator[Block]:
    """Yield the tables of timing, torque and run-up, each reading with who took it."""
    checked = paper.said.state.checked
    if checked is None:
        return
    names = paper.said.names
    marks = tuple(
        (taken.path, names.stamp(taken.by) + (f", {names.tool(taken.tool)}" if taken.tool else ""))
        for taken in paper.said.card.taken
    )
    step = replace(paper.step, capture=_RUN_UPS.get(paper.step.capture, paper.step.capture))
    yield from capture_blocks(step, Capture(paper.number, checked.worked, paper.blank, () if paper.blank else marks))


def _earlier(paper: StepPaper) -> Iterator[Block]:
    """Yield what was confirmed before and taken again, the oldest first."""
    names = paper.said.names
    for done in paper.said.card.earlier:
        if done.step == paper.step.id:
            parts = [done.text, *(names.tool(tool) for tool in done.tools)]
            said = "; ".join(part for part in parts if part) or "confirmed"
            word = "Earlier, left out: " if done.skipped else "Earlier: "
            yield Paragraph((Run(f"{word}{said} ({names.stamp(done.by)})", quiet=True),), small=True)


def _leads(paper: StepPaper, done: StepDone | None) -> Iterator[Block]:
    """Yield the leads by firing order, from the engine's sheet or from the readings; boxes where they are traced."""
    engine, checked = paper.sheets.engine, paper.said.state.checked
    sides = {magneto.magneto.side for magneto in checked.worked.magnetos} if checked else set(Side)
    leads = leads_by_firing_order(engine) if engine else ()
    if leads:
        rows = [
            (lead.side.value, str(lead.electrode), str(lead.cylinder), lead.plug)
            for lead in leads
            if lead.side in sides
        ]
    else:
        firings = checked.worked.firing if checked else ()
        rows = [
            (side.value, str(one.electrode), str(one.cylinder), "") for side in Side if side in sides for one in firings
        ]
    columns = (
        Column("magneto", 1.0),
        Column("electrode", 0.8, numbers=True),
        Column("cylinder", 0.8, numbers=True),
        Column("plug", 1.0),
    )
    if done is None:
        traced = Column("traced by", 1.4)
        yield Table(
            (*columns, traced), tuple((*row, None) for row in rows), empty="The firing order is not known here."
        )
    else:
        yield Table(columns, tuple(rows), empty="The firing order is not known here.")
        if done.text:
            yield plain(done.text)


def _parts() -> Table:
    columns = (
        Column("off or on", 1),
        Column("part number", 2),
        Column("serial or batch", 2),
        Column("quantity", 1),
        Column("paper", 2),
    )
    return Table(columns, ((None,) * len(columns),) * PART_ROWS)


def _table(row: ReadingRow) -> ReadingTable:
    return ReadingTable((row,), FILLED_COLUMNS)
