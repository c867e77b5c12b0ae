"""``sparkwright paper SHOP ORDER -o FILE``: a paper of a shop as PDF."""

from pathlib import Path

import click

from desktop import assembly, paper_assembly, shop_assembly
from desktop.commands.order_numbers import order_number
from desktop.core.errors import Refusal
from desktop.files.papers_out import write_paper
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.fitting import fitted
from desktop.usecases.papers.kinds import CARD, IN_THE_SHOP, KINDS, NAMED, PaperKind, kind_named
from desktop.usecases.ports import PaperSize

NO_ORDER = "-"


@click.command("paper")
@click.argument("shop", type=click.Path(path_type=Path))
@click.argument("order")
@click.option("--kind", "name", default=CARD.name, show_default=True, help="A kind from 'sparkwright papers'.")
@click.option("--card", type=click.IntRange(1), help="The number of the card on the order. [default: the newest]")
@click.option("--of", default="", help="The sheet, serial number, person or record that the paper is about.")
@click.option("--size", type=click.Choice(["letter", "a4"]), help="Paper size. [default: the shop's]")
@click.option("--label", default="", help="The size of label, for entry-labels. [default: the usual one of the size]")
@click.option("--start", type=click.IntRange(1), default=1, show_default=True, help="The first label that is free.")
@click.option("--reprint", is_flag=True, help="Say across the head that it was printed before.")
@click.option("--replace", "replace_file", is_flag=True, help="Write over a file of that name.")
@click.option("-o", "--output", "out", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
def command(
    shop: Path,
    order: str,
    name: str,
    card: int | None,
    of: str,
    size: PaperSize | None,
    label: str,
    start: int,
    out: Path,
    *,
    reprint: bool,
    replace_file: bool,
) -> None:
    """Print a paper of ORDER in SHOP, such as W-0001, as PDF. Status 0 once written, 2 when it cannot be made.

    ORDER is "-" for a paper that belongs to the shop: roster, due, sheet, drift and the like.
    """
    kind = _kind(name)
    asked = Asked(kind, _order(kind, order), card or 0, of, label, start, reprint)
    if kind in {one for one in KINDS if one.of in NAMED} and not of.strip():
        raise Refusal(f"A paper of this kind is about {kind.of}. Name it with --of.")
    _refuse_place(out, shop, replace=replace_file)
    with shop_assembly.shop_at(shop) as opened:
        lines = paper_assembly.paper_desk(opened).records().lines()
        asked = fitted(asked, opened.store.people(), lines)
        printed = assembly.time_in_words(opened.clock.now())
        ready = paper_assembly.PaperErrand(opened, size).made(asked, printed)
        write_paper(out, ready.pdf)
        paper_assembly.remember(opened, ready.note)


def _kind(name: str) -> PaperKind:
    kind = kind_named(name)
    if kind is None:
        names = ", ".join(one.name for one in KINDS)
        raise Refusal(f'There is no kind of paper "{name}". Choose one of: {names}.')
    return kind


def _order(kind: PaperKind, order: str) -> int:
    """Return the number of an order as typed; 0 for a paper that belongs to none."""
    if order == NO_ORDER:
        if kind.of in IN_THE_SHOP or kind.name == "record":
            return 0
        raise Refusal(f"A paper of this kind is about {kind.of}. Name the order, such as W-0001.")
    return order_number(order)


def _refuse_place(out: Path, shop: Path, *, replace: bool) -> None:
    if out.exists() and shop.exists() and out.samefile(shop):
        raise Refusal(f"{out}: this is the shop file itself. Choose another place for the paper.")
    if out.exists() and not replace:
        raise Refusal(f"{out} is there already and stays as it is. Choose another name, or add --replace.")
