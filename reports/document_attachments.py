"""Files inside the file of a paper, such as the sealed record beside its print."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file inside the file, such as the sealed record: its name without a folder, its bytes, its media type."""

    name: str
    data: bytes
    mime: str
    says: str = ""

    def __post_init__(self) -> None:
        """Refuse a name that would leave the folder into which somebody saves it, and a type that is none."""
        signs = set(self.name)
        if not self.name.strip(". ") or signs & set('/\\:*?"<>|') or not self.name.isprintable():
            raise ValueError("an attachment's name is a plain file name without a folder")
        kind, _, rest = self.mime.partition("/")
        if not (kind and rest and self.mime.isascii() and self.mime.isprintable()):
            raise ValueError('an attachment has a media type such as "application/json"')


def refuse_doubles(attachments: tuple[Attachment, ...]) -> None:
    """Refuse attachments of one name: a reader would show only one of them."""
    if len({attachment.name for attachment in attachments}) != len(attachments):
        raise ValueError("attachments of one paper have different names")
