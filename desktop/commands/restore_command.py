"""``sparkwright restore COPY SHOP``: a copy put in the place of a shop file, which is kept aside."""

from pathlib import Path

import click

from desktop import copy_assembly, shop_assembly
from desktop.commands.upkeep import Progress, hidden_secret
from desktop.usecases.records.copies.backup import restore, restored_words


@click.command("restore")
@click.argument("copy", type=click.Path(path_type=Path))
@click.argument("shop", type=click.Path(path_type=Path))
@click.option(
    "--by", "keeper", default="", help="The initials of the records keeper who signs. [default: the only one]"
)
@click.option("--older", is_flag=True, help="Take a copy that lacks something, after it was told what.")
@click.option("--unsealed", is_flag=True, help="Take a plain copy of a shop file, which bears no seal of its own.")
def command(copy: Path, shop: Path, keeper: str, *, older: bool, unsealed: bool) -> None:
    """Verify COPY, keep SHOP aside under another name, and put COPY in its place. Nothing is erased.

    It asks for the secret of a records keeper, and the restore becomes a signed record. From a pipe, the secret is the
    first line.
    """
    done = restore(
        copy_assembly.copy_desk(),
        shop_assembly.SystemClock(),
        copy_assembly.RestoreSigning(keeper),
        hidden_secret,
        copy,
        shop,
        Progress(),
        takes_older=older,
        takes_unsealed=unsealed,
    )
    click.echo(restored_words(shop, done))
