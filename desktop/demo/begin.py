"""The demo's shop begins: people, secrets, tools, limits sheets; and what changes there over the years."""

from dataclasses import replace
from datetime import date, timedelta

from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheets import Sheet
from desktop.core.shop.tools import Tool
from desktop.demo.crew import Crew
from desktop.files.demo_shop import DemoEarlier, DemoShop
from desktop.usecases.records.keys.people import change_person, enrol_person, withdraw_person
from desktop.usecases.records.signing.sign_lists import sign_comparison, sign_tool, sign_transcription
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.keep_settings import keep_details
from desktop.usecases.shop.lists.sheets import import_sheet

COMPARES = "IS"
"""Who compares the sheets that the records keeper transcribes."""
BEFORE_DUE, YEAR = timedelta(days=14), timedelta(days=365)
"""How long before its day a tool is calibrated again, for another year."""


def begin_shop(crew: Crew, demo: DemoShop, sheets: tuple[Sheet, ...]) -> None:
    """Put the first people, the tools and the sheets into a new shop, everything signed that is signed there."""
    keeper = demo.person[0]
    for person in demo.person:
        if person.since <= demo.begins:
            come(crew, demo, person, keeper.id)
    keep_details(crew.shop, crew.new(keeper.id), demo.details)
    for tool in demo.tool:
        first = next((one for day, one in calibrations(demo, tool) if day == demo.begins), tool)
        sign_tool(crew.desk, crew.new(keeper.id), first, crew.secrets[keeper.id])
    earlier = {one.sheet: one for one in demo.earlier}
    for sheet in sheets:
        take_sheet(crew, before_that(sheet, earlier.get(sheet.id)), keeper.id)


def come(crew: Crew, demo: DemoShop, person: Person, keeper: str) -> None:
    """Put somebody on the roster and enrol them under the secret that they chose."""
    keep_person(crew.shop, crew.new(keeper), person)
    secret = "" if person.id == keeper else demo.secrets[keeper]
    enrol_person(crew.desk, crew.new(keeper), person.id, demo.secrets[person.id], secret)


def leave(crew: Crew, demo: DemoShop, keeper: str) -> None:
    """Let somebody leave: the last day is put on the roster and signed, and the key is withdrawn, signed."""
    left = demo.left
    person = next(one for one in crew.store.people() if one.id == left.person)
    gone = replace(person, until=left.until)
    change_person(crew.desk, crew.new(keeper, person.version), gone, demo.secrets[keeper])
    withdraw_person(crew.desk, crew.new(keeper), left.person, left.reason, demo.secrets[keeper])


def take_sheet(crew: Crew, sheet: Sheet, keeper: str) -> None:
    """Take a sheet in, or its next revision; it is transcribed by one person and compared by another."""
    life = crew.store.sheet_life(sheet.id)
    version = import_sheet(crew.shop, crew.new(keeper, life.version if life else 0), sheet).version
    version = sign_transcription(crew.desk, crew.new(keeper, version), sheet.id, crew.secrets[keeper]).version
    groups = [name for name, _ in sheet_groups(sheet)]
    sign_comparison(crew.desk, crew.new(COMPARES, version), sheet.id, groups, crew.secrets[COMPARES])


def before_that(sheet: Sheet, earlier: DemoEarlier | None) -> Sheet:
    """Return a sheet as its document was when the shop began."""
    if earlier is None or sheet.document is None:
        return sheet
    return replace(sheet, document=replace(sheet.document, revision=earlier.revision, date=earlier.date))


def new_revisions(crew: Crew, sheets: tuple[Sheet, ...], keeper: str, day: date) -> None:
    """Revise each sheet whose document has had a new revision up to a day."""
    for sheet in sheets:
        life = crew.store.sheet_life(sheet.id)
        newest = sheet.document.date if sheet.document else None
        is_new = life is not None and life.sheet.document != sheet.document
        if is_new and newest is not None and date.fromisoformat(newest) <= day:
            take_sheet(crew, sheet, keeper)


def calibrations(demo: DemoShop, tool: Tool) -> tuple[tuple[date, Tool], ...]:
    """Return a tool as it was calibrated each year, with the day: the first of the shop, then before it was due.

    The last is the tool as it stands in the file. Nothing for a tool that is not calibrated, and for one that is out of
    date at the end: nobody used it.
    """
    if tool.due is None or tool.is_out_of_date(demo.visit[-1].on + YEAR):
        return ()
    years = range(demo.begins.year, tool.due.year + 1)
    dues = [due for due in (tool.due.replace(year=year) for year in years) if due > demo.begins]
    days = (demo.begins, *(due - BEFORE_DUE for due in dues[:-1]))
    return tuple((day, replace(tool, due=due)) for day, due in zip(days, dues, strict=True))


def calibrate(crew: Crew, tool: Tool, keeper: str) -> None:
    """Put the new day on the list, signed."""
    kept = next(one for one in crew.store.tools() if one.id == tool.id)
    sign_tool(crew.desk, crew.new(keeper, kept.version), tool, crew.secrets[keeper])
