"""``sparkwright new SHOP``: a new, empty shop file."""

from pathlib import Path

import click

from desktop import shop_assembly


@click.command("new")
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--name", help="The shop's name. [default: the file's name]")
@click.option("--person", help="The first person, who keeps the records. [default: whoever is logged in]")
@click.option("--initials", help="The initials by which the shop knows that person. [default: made from the name]")
def command(shop: Path, name: str | None, person: str | None, initials: str | None) -> None:
    """Make SHOP, a new shop file. Nothing that is there is ever overwritten."""
    who = person or shop_assembly.usual_person()
    short = initials or "".join(word[0] for word in who.split()).upper()
    shop_assembly.make_shop(shop, name or shop.stem, who, short)
    click.echo(f"The shop file {shop} is made. {who} ({short}) keeps its records. Open it: sparkwright open {shop}")
