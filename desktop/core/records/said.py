"""The words of a record: the text that is confirmed before signing, made from the same value as the bytes."""

from collections.abc import Iterator

from desktop.core.records.record import SPLIT, Record, Signer

INDENT = "  "


def said_lines(record: Record) -> tuple[str, ...]:
    """Return the record in lines: everything that its bytes hold, and nothing else.

    A line of a section is indented; its title stands alone on a line; every other line begins with a fixed word. So no
    text of a record can pass for another part of it, and from the lines the record could be made again.
    """
    return tuple(_lines(record))


def _lines(record: Record) -> Iterator[str]:
    yield _line("Record", record.kind)
    yield _line("Shop", record.shop_name)
    yield _line("The shop's own id", record.shop_id)
    yield _line("Subject", record.subject)
    yield _line("Time", record.at)
    for about in record.about:
        yield _line("About record", str(about.number))
        yield _line("Its record seal", about.digest)
    for section in record.sections:
        yield section.title
        for row in section.rows:
            yield INDENT + _line(row.label, row.text)
    for key in record.keys:
        yield _line("Key of", key.person)
        yield _line("It is", key.public_key_hex)
    for place, signer in enumerate(record.signers):
        yield from _signer_lines("Signed by" if place == 0 else "Countersigned by", signer)


def _signer_lines(word: str, signer: Signer) -> Iterator[str]:
    yield _line(word, signer.person)
    yield _line("Name", signer.name)
    if signer.certificate_number:
        yield _line("Certificate number", signer.certificate_number)
    if signer.certificate_kind:
        yield _line("Certificate kind", signer.certificate_kind)
    for right in signer.rights:
        yield _line("Right", right)
    yield _line("Meaning", signer.meaning)


def _line(label: str, text: str) -> str:
    return f"{label}{SPLIT}{text}"
