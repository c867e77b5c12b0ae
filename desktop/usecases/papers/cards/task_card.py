"""The task card of a readings file as a document: steps with cautions, readings, results, findings, signatures."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from desktop.core.rules.rule import Severity
from desktop.core.rules.rulebook import SaidFinding, nothing_stops
from desktop.core.shop.cards.task_card import Step as CardStep
from desktop.core.shop.cards.task_card import TaskCard, steps_for
from desktop.core.shop.orders.card_facts import facts_of
from desktop.core.timing.results import MagnetoResult, Worked
from desktop.core.words import housing_words, is_good, timing_words, verdict_words, where_words
from desktop.usecases.check_readings import CheckedCard
from desktop.usecases.dial import View, dial
from desktop.usecases.magneto_drawing import magneto_drawing
from desktop.usecases.magnified import magnified
from desktop.usecases.papers.cards.capture import Capture
from desktop.usecases.papers.cards.captures import capture_blocks
from desktop.usecases.papers.frame import BLANK, Printing, stamped
from desktop.usecases.papers.heading import GOVERNING, INVENTED, CardHeading, data_facts, identity_facts
from reports.document import (
    Band,
    Beside,
    Block,
    Caution,
    Document,
    Fact,
    Facts,
    Finding,
    FindingWeight,
    Foot,
    Head,
    Heading,
    Initials,
    KeepTogether,
    Paragraph,
    Picture,
    Result,
    Run,
    SignatureBox,
    Signatures,
    Step,
    plain,
)
from reports.drawing import Drawing

WEIGHT: dict[Severity, FindingWeight] = {Severity.STOPS: "stop", Severity.EXPLAIN: "ask", Severity.NOTE: "note"}
WORD = {Severity.STOPS: "Stops.", Severity.EXPLAIN: "Reason needed.", Severity.NOTE: "Note."}
ON_PAPER = 0.834 * 25.4 / 72  # millimetres a point, shrunk so that words of 9 points stay above 7.5
MOST_SIGNS = 40
HOLD = "HOLD: do not go on before the inspector has signed."
STOPS = "Stops: not to be approved"
REASON_LINE = "Reason: " + "_" * 70


@dataclass(frozen=True, slots=True)
class CardPrint:
    """What is printed beside the readings: which card, whose job, empty or filled, and the time in words."""

    card: TaskCard
    heading: CardHeading
    blank: bool
    printed: str


def task_card_paper(checked: CheckedCard, what: CardPrint) -> Document:
    """Return the task card as a document, with its check code."""
    card = what.card
    name = f"{card.id} rev {card.revision}"
    paper = Document(
        title=f"Task card {card.id}: {card.title}",
        subject="Task card for magneto timing",
        language="en",
        head=Head(
            title=f"Task card {card.id}: {card.title}",
            card=_running_head(what, name),
            lines=(
                Paragraph((Run("order "), Run(what.heading.order or "________________", code=True))),
                plain(_magnetos_named(checked.worked), quiet=True),
            ),
            governing=GOVERNING,
            banner=INVENTED if what.heading.invented else "",
            bands=tuple(_bands(checked, what)),
        ),
        foot=Foot(
            shop=what.heading.shop or "",
            order=f"order {what.heading.order}" if what.heading.order else "",
            card=f"card {name}",
        ),
        blocks=tuple(_blocks(checked, what)),
    )
    return stamped(paper, Printing(what.printed))


def _bands(checked: CheckedCard, what: CardPrint) -> Iterator[Band]:
    if what.blank:
        yield Band(BLANK, loud=True)
    elif not nothing_stops(checked.findings):
        yield Band(STOPS, loud=True)


def _magnetos_named(worked: Worked) -> str:
    if len(worked.magnetos) > 1:
        return "both magnetos" + (" in one housing" if worked.card.one_housing else "")
    return f"{worked.magnetos[0].magneto.side} magneto"


def _blocks(checked: CheckedCard, what: CardPrint) -> Iterator[Block]:
    worked = checked.worked
    yield identity_facts(worked, what.heading)
    yield from data_facts(worked)
    yield plain(what.card.scheme, quiet=True)
    for number, step in enumerate(steps_for(what.card, facts_of(worked.card)), 1):
        yield _step(str(number), step, worked, blank=what.blank)
    if not what.blank:
        for result in worked.magnetos:
            yield verdict_block(worked, result)
        yield from _findings(checked.findings)
    yield KeepTogether(tuple(_end(checked, what)))


def _end(checked: CheckedCard, what: CardPrint) -> Iterator[Block]:
    """Yield what is signed, with the verdict above it, so that no signature stands alone on a page."""
    if what.blank:
        yield plain("These readings are not checked yet. Enter them and check before anybody approves.", bold=True)
    else:
        magnetos = checked.worked.magnetos
        verdicts = [f"{result.magneto.side.capitalize()} magneto: {verdict_words(result)}." for result in magnetos]
        yield plain(" ".join([*verdicts, _stands(checked.findings)]), bold=True)
    yield Facts(tuple(Fact("" if line else "remarks and discrepancies", None, span=4) for line in range(2)))
    yield _signatures(stopped=not what.blank and not nothing_stops(checked.findings))


def _step(number: str, step: CardStep, worked: Worked, *, blank: bool) -> Step:
    body = capture_blocks(step, Capture(number, worked, blank))
    remarks = [step.description] if step.description else []
    initials = [Initials("second person" if step.second else "mechanic")] if step.initials else []
    if step.inspector:
        initials.append(Initials("inspector"))
    return Step(
        number=number,
        instruction=step.instruction,
        boxes=tuple(Caution(box.kind.value, box.text) for box in step.boxes),
        body=body,
        initials=tuple(initials),
        remark=" ".join(remarks),
        hold=hold_line() if step.inspector else None,
    )


def hold_line(accepted: str = "") -> Paragraph:
    """Return the words of a step that the inspector must see; ``accepted`` says who accepted it, empty before."""
    return Paragraph((Run(HOLD, bold=True), *((Run(f" {accepted}"),) if accepted else ())))


def verdict_block(worked: Worked, result: MagnetoResult) -> KeepTogether:
    """Return the verdict on one magneto with its dial, and the housing to turn where it is turned."""
    side = result.magneto.side.capitalize()
    lines: list[Paragraph] = []
    if result.timing:
        lines.append(plain(timing_words(worked.card, result.timing, result.magneto.nominal)))
        lines += [plain(words) for words in housing_words(result)]
    else:
        lines.append(plain("No timing counts as left. The findings say why."))
    verdict = Result(
        verdict=f"{side} magneto. {verdict_words(result)}",
        shape="closed" if is_good(result.verdict) else "crossed",
        lines=tuple(lines),
    )
    beside: list[Block] = [picture_of(magnified(worked, result, View.PROPELLER))]
    housing = magneto_drawing(result)
    if housing is not None:
        beside.append(picture_of(housing))
    return KeepTogether((verdict, Beside(picture_of(dial(worked, result, View.PROPELLER)), tuple(beside))))


def picture_of(drawing: Drawing) -> Picture:
    """Return a drawing as large as paper has room for and its words can be read."""
    return Picture(drawing, drawing.width * ON_PAPER, drawing.height * ON_PAPER)


def _findings(findings: Sequence[SaidFinding]) -> Iterator[Block]:
    """Yield the findings; the heading and how the card stands never part from the first of them."""
    blocks = [_finding(finding) for finding in findings]
    yield KeepTogether((Heading("Findings"), plain(_stands(findings), bold=True), *blocks[:1]))
    yield from blocks[1:]


def _stands(findings: Sequence[SaidFinding]) -> str:
    if nothing_stops(findings):
        return "Nothing in these readings stops the card. This is no statement of airworthiness."
    return "Not to be approved while something stops."


def _finding(finding: SaidFinding) -> Finding:
    return Finding(
        weight=WEIGHT[finding.severity],
        word=WORD[finding.severity],
        sentence=finding.sentence,
        source=f"{where_words(finding.where).capitalize()}. {finding.source}",
        reason=REASON_LINE if finding.severity is Severity.EXPLAIN else "",
    )


def _signatures(*, stopped: bool) -> Signatures:
    """Return the blocks to sign; while something stops, only a disapproval can be signed."""
    last = SignatureBox("Approved for return to service", "With respect to the work performed only.")
    if stopped:
        last = SignatureBox("Not approved", "Something stops: see the findings. The list of discrepancies was given.")
    return Signatures(
        (
            SignatureBox("Mechanic", "I did the work above as described."),
            SignatureBox("Inspector", "I inspected the work above and accept it."),
            last,
        )
    )


def _running_head(what: CardPrint, name: str) -> str:
    """Say on every page whose card it is: a loose page has an owner."""
    order = what.heading.order or "__________"
    registration = (what.heading.aircraft or "__________").split(",")[0][:MOST_SIGNS]
    return f"order {order[:MOST_SIGNS]}   {registration}   card {name}"
