"""The ignition leads by firing order: a drawing of the engine, and a table in which a second person traces them."""

from collections.abc import Iterator

from desktop.core.shop.sheets.sheet_choices import Configuration
from desktop.core.shop.sheets.sheet_fit import Lead, leads_by_firing_order
from desktop.core.shop.sheets.sheets import EngineSheet, sheet_words
from desktop.usecases.papers.cards.leads_drawing import leads_drawing
from desktop.usecases.papers.frame import About, document
from reports.document import (
    Block,
    Caution,
    Column,
    Document,
    KeepTogether,
    Picture,
    SignatureBox,
    Signatures,
    Table,
    plain,
)
from reports.drawing import Drawing

MM_A_POINT = 0.834 * 25.4 / 72  # a drawing's words of 9 points stay above 7.5 on paper
LIVE = (
    "Every propeller is live. Plug leads off, their ends secured away from plug holes and hands, before anybody traces."
)
SCHEMATIC = (
    "This drawing shows which electrode goes to which plug, not where a cylinder sits: opposed engines are numbered in "
    "more than one way. The engine's data say where No. 1 is."
)
RADIAL = "Seen from the rear, No. 1 at the top. The engine's data govern."
DASHED = " Dashed circles: front row."
UNKNOWN = "The firing order is not on the limits sheet of this job."


def leads_paper(engine: EngineSheet, about: About) -> Document:
    """Return the leads of an engine: electrode numbers are the sparking order (FAA-H-8083-32B p. 4-6)."""
    return document(
        "Ignition leads by firing order", about, tuple(_blocks(engine)), subject="Ignition leads of an engine"
    )


def _blocks(engine: EngineSheet) -> Iterator[Block]:
    leads = leads_by_firing_order(engine)
    drawing = leads_drawing(leads, engine.configuration)
    yield plain(f"Limits sheet: {sheet_words(engine)}.")
    yield Caution("warning", LIVE)
    if drawing is None:
        yield plain(UNKNOWN, bold=True)
    else:
        yield KeepTogether((plain(f"Firing order {_order(leads)}.", bold=True), _picture(drawing, engine, leads)))
    columns = (
        Column("magneto", 0.9),
        Column("electrode", 0.8, numbers=True),
        Column("cylinder", 0.8, numbers=True),
        Column("plug", 0.9),
        Column("traced by", 1.3),
        Column("second person", 1.3),
    )
    rows = tuple((lead.side.value, str(lead.electrode), str(lead.cylinder), lead.plug, None, None) for lead in leads)
    yield Table(columns, rows, "Each lead traced from the distributor to its plug", UNKNOWN)
    yield Signatures(
        (
            SignatureBox("Traced by", "I traced each lead by hand from its electrode to its plug."),
            SignatureBox("Second person", "I traced each lead again, and did not fit them."),
        )
    )


def _picture(drawing: Drawing, engine: EngineSheet, leads: tuple[Lead, ...]) -> Picture:
    is_radial = engine.configuration == Configuration.RADIAL
    two_rows = is_radial and len({lead.cylinder for lead in leads}) % 2 == 0
    caption = (RADIAL + (DASHED if two_rows else "")) if is_radial else SCHEMATIC
    return Picture(drawing, drawing.width * MM_A_POINT, drawing.height * MM_A_POINT, caption)


def _order(leads: tuple[Lead, ...]) -> str:
    first = leads[0].side
    return "-".join(str(lead.cylinder) for lead in leads if lead.side is first)
