"""The demo's shop begins: people, secrets, tools, limits sheets; and what changes there over the years."""

from dataclasses import replace
from datetime import date

from desktop.core.shop.people.people import Person
from desktop.core.shop.sheets.sheet_paths import sheet_groups
from desktop.core.shop.sheets.sheets import Sheet
from desktop.demo.crew import Crew
from desktop.files.demo_shop import DemoEarlier, DemoShop
from desktop.usecases.records.keys.people import enrol_again, enrol_person, withdraw_person
from desktop.usecases.records.signing.sign_lists import sign_comparison, sign_tool, sign_transcription
from desktop.usecases.shop.lists.keep_lists import keep_person
from desktop.usecases.shop.lists.keep_settings import keep_details
from desktop.usecases.shop.lists.sheets import import_sheet

COMPARES = "IS"
"""Who compares the sheets that the records keeper transcribes."""


def begin_shop(crew: Crew, demo: DemoShop, sheets: tuple[Sheet, ...]) -> None:
    """Put the first people, the tools and the sheets into a new shop, everything signed that is signed there."""
    keeper = demo.person[0]
    for person in demo.person:
        if person.since <= demo.begins:
            come(crew, demo, person, keeper.id)
    keep_details(crew.shop, crew.new(keeper.id), demo.details)
    for tool in demo.tool:
        sign_tool(crew.desk, crew.new(keeper.id), tool, crew.secrets[keeper.id])
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
    keep_person(crew.shop, crew.new(keeper, person.version), replace(person, until=left.until))
    enrol_again(crew.desk, crew.new(keeper), left.person, demo.secrets[keeper])
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
