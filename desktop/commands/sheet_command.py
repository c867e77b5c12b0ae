"""``sparkwright sheet SHOP list | import FILE | export ID``: the limits sheets of a shop."""

from pathlib import Path

import click

from desktop import shop_assembly
from desktop.core.errors import Refusal
from desktop.core.shop.orders.who_may import Deed, rights_for, why_not
from desktop.core.shop.people.people import Person
from desktop.files.papers_out import write_paper
from desktop.files.sheets import read_whole_sheet, write_sheet
from desktop.files.toml_text import read_file
from desktop.usecases.shop.lists.sheets import import_sheet, list_sheets, see_sheet
from desktop.usecases.shop.ports import Request, Shop


@click.group("sheet", no_args_is_help=False)
@click.argument("shop", type=click.Path(path_type=Path))
@click.pass_context
def command(ctx: click.Context, shop: Path) -> None:
    """List the limits sheets of SHOP, take one in from a file, or write one out.

    A sheet is transcribed from a document and is never approved data: the document is.
    """
    ctx.obj = shop


@command.command("list")
@click.pass_obj
def list_all(shop: Path) -> None:
    """List the sheets: id, revision, how far it is, the current revision, document."""
    with shop_assembly.shop_at(shop) as opened:
        lines = list_sheets(opened.store)
    for line in lines:
        current = f"revision {line.current} is current" if line.current else "none is current"
        words = (line.id, f"revision {line.revision} {line.state}", current, line.document)
        click.echo("  ".join(words) + ("  INVENTED" if line.invented else ""))


@command.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--by", "initials", help="The initials of who takes it in. [default: the one who may]")
@click.pass_obj
def take_in(shop: Path, file: Path, initials: str | None) -> None:
    """Take the sheet in FILE in as a draft: a new sheet, or the next revision of one that is compared."""
    sheet = read_whole_sheet(read_file(file))
    with shop_assembly.shop_at(shop) as opened:
        life = opened.store.sheet_life(sheet.id)
        who = initials or _only_one(opened).id
        import_sheet(opened, Request(shop_assembly.new_id(), who, life.version if life else 0), sheet)
        kept = see_sheet(opened.store, sheet.id).sheet
    click.echo(
        f"Sheet {kept.id}, revision {kept.revision}, is in the shop as a draft. "
        "Look it over, finish the transcription, and have a second person compare it with its document."
    )


@command.command("export")
@click.argument("sheet_id", metavar="ID")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="The file to write. [default: the screen]")
@click.pass_obj
def write_out(shop: Path, sheet_id: str, output: Path | None) -> None:
    """Write the newest revision of the sheet ID as TOML, a draft or not."""
    with shop_assembly.shop_at(shop) as opened:
        data = write_sheet(see_sheet(opened.store, sheet_id).sheet)
    if output is None:
        click.echo(data, nl=False)
    else:
        write_paper(output, data)


def _only_one(shop: Shop) -> Person:
    """Return the one person who may write sheets. Raise Refusal when there is not exactly one."""
    today = shop.clock.now().date()
    able = [person for person in shop.store.people() if why_not(person, Deed.WRITE_SHEET, today) is None]
    if len(able) != 1:
        right = " or ".join(rights_for(Deed.WRITE_SHEET))
        raise Refusal(f"{len(able)} people may write limits sheets. Name one who is a {right} with --by INITIALS.")
    return able[0]
