from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from reports.document import Attachment
from reports.document_labels import LABEL_SIZES, Label, LabelSheet
from reports.document_text import plain
from reports.render import render
from tests.reports.reading_back import paper
from tests.reports.sample_papers import SEALED, maintenance_entry

OTHER = Attachment("a copy é \u0416.csv", bytes(range(256)) * 40, "text/csv")


def test_that_what_is_attached_comes_out_byte_for_byte() -> None:
    document = replace(paper(plain("text")), attachments=(SEALED, OTHER))
    reader = PdfReader(BytesIO(render(document, "letter")))
    assert reader.attachments == {SEALED.name: [SEALED.data], OTHER.name: [OTHER.data]}
    assert list(reader.attachments) == sorted((SEALED.name, OTHER.name))


def test_that_an_attachment_says_its_kind_its_size_and_what_it_is() -> None:
    reader = PdfReader(BytesIO(render(maintenance_entry(), "letter")))
    (attached,) = reader.attachment_list
    assert attached.subtype == "/application/json"
    assert attached.size == len(SEALED.data)
    assert attached.description == "the sealed record"


def test_that_a_sheet_of_labels_carries_files_too() -> None:
    sheet = LabelSheet("L", "s", "en", LABEL_SIZES[0], (Label((plain("x"),)),), attachments=(SEALED,))
    assert PdfReader(BytesIO(render(sheet, "letter"))).attachments == {SEALED.name: [SEALED.data]}


def test_that_the_same_paper_with_attachments_gives_the_same_bytes_and_another_gives_others() -> None:
    document = maintenance_entry()
    assert render(document, "letter") == render(maintenance_entry(), "letter")
    other = replace(document, attachments=(replace(SEALED, data=b"{}"),))
    assert render(other, "letter") != render(document, "letter")


@pytest.mark.parametrize("name", ["", " ", "..", "a/b.json", "a\\b", "C:x", 'a"b', "a\nb", "a\u202eb", "a*"])
def test_that_a_name_that_leaves_its_folder_or_hides_signs_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="plain file name"):
        Attachment(name, b"", "text/plain")


@pytest.mark.parametrize("mime", ["", "text", "/plain", "text/", "t\u00e9xt/plain", "text/pl\nain"])
def test_that_a_media_type_that_is_none_is_refused(mime: str) -> None:
    with pytest.raises(ValueError, match="media type"):
        Attachment("a.txt", b"", mime)


def test_that_two_attachments_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="different names"):
        replace(maintenance_entry(), attachments=(SEALED, SEALED))
