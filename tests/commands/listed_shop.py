"""A shop file with a signed limits sheet, a signed tool, and an order whose cards were issued with the sheets."""

from datetime import date
from pathlib import Path

from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.tools import Care, Lamp, Tool
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from desktop.files.sheets import demo_sheets
from desktop.usecases.records.signing.sign_lists import sign_comparison, sign_tool, sign_transcription
from desktop.usecases.shop.cards.issue_job import NewJob, cards_of, issue_job, sheets_that_fit
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.lists.sheets import import_sheet
from desktop.usecases.shop.orders.open_order import open_order
from tests.usecases.papers.paper_floor import _NEW as TWIN_ORDER
from tests.usecases.papers.paper_floor import opened_paper_shop
from tests.usecases.records.acting_floor import PHRASES

TOOL = Tool("L-7", "timing light", Care.CALIBRATED, date(2032, 1, 31), "S-1", Lamp.ON)


def listed_shop(place: Path) -> None:
    """Make the shop and close it."""
    floor = opened_paper_shop(place, new=True)
    floor.staffed()
    for sheet in demo_sheets():
        groups = [name for name, _ in sheet_groups(sheet)]
        import_sheet(floor.shop, floor.by("KEEP", 0), sheet)
        sign_transcription(floor.desk, floor.by("KEEP", 1), sheet.id, PHRASES["KEEP"])
        sign_comparison(floor.desk, floor.by("ROLF", 2), sheet.id, groups, PHRASES["ROLF"])
    sign_tool(floor.desk, floor.by("KEEP"), TOOL, PHRASES["KEEP"])
    number = int(open_order(floor.shop, floor.by("DESK"), TWIN_ORDER).key)
    job = next(job for job in builtin_jobs() if job.id == "periodic-timing")
    sheets = sheets_that_fit(demo_sheets(), see_order(floor.file, number))
    new = NewJob(cards_of(job, builtin_cards()), job.id, sheets, is_current=True, mechanic="MECH")
    issue_job(floor.shop, floor.seen("DESK", number), number, new)
    floor.file.close()
