from __future__ import annotations

import struct
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.ttfonts import TTFontFile

from reports.document import Run
from reports.fonts import face_of, missing_signs, split_by_face
from reports.signs import FACE_FILES, Face, font_bytes, has_sign, read_character_table, signs_of, visible_code

FACES: tuple[Face, ...] = tuple(FACE_FILES)


@pytest.mark.parametrize("face", FACES)
def test_that_our_reading_of_a_face_agrees_with_the_pdf_librarys(face: Face) -> None:
    theirs = set(TTFontFile(BytesIO(font_bytes(face))).charToGlyph)
    assert signs_of(face) == theirs - {0xFFFF}


def test_that_letters_the_trade_uses_are_not_missing() -> None:
    assert (
        missing_signs(
            "23.5\u00b0 BTDC \u00b1 0.46, \u2264 \u2265 \u2192 \u2190 \u2713 \u2610 \u2611 \u00bd \u03a9 \u00e9\u00fc"
            "\u0142\u017d\u03b2\n"
        )
        == ()
    )


@pytest.mark.parametrize(
    "sign",
    [
        "\t",
        "\r",
        "\x00",
        "\x7f",
        "\x85",
        "\u200b",
        "\u00ad",
        "\u202e",
        "\ufeff",
        "\u2028",
        "\ue000",
        "\ud800",
        "\u0416",
        "\u2717",
        "\U0001f600",
    ],
)
def test_that_a_sign_which_paper_cannot_show_is_missing(sign: str) -> None:
    assert missing_signs(f"a{sign}b") == (sign,)
    assert split_by_face(sign, "text") == (("code", visible_code(sign)),)


def test_that_missing_signs_come_once_each_in_the_order_of_the_text() -> None:
    assert missing_signs("\u0431a\u0430\u0431\t") == ("\u0431", "\u0430", "\t")


def test_that_single_signs_go_to_the_other_face_and_the_rest_stays() -> None:
    assert split_by_face("a\u2192b", "text-bold") == (("text-bold", "a"), ("code-bold", "\u2192"), ("text-bold", "b"))
    assert split_by_face("\u017d1", "code") == (("text", "\u017d"), ("code", "1"))
    assert split_by_face("", "text") == ()


@pytest.mark.parametrize(
    ("run", "face"),
    [
        (Run("a"), "text"),
        (Run("a", bold=True), "text-bold"),
        (Run("a", italic=True), "text-italic"),
        (Run("a", bold=True, italic=True), "text-bold"),
        (Run("a", code=True), "code"),
        (Run("a", code=True, bold=True), "code-bold"),
    ],
)
def test_that_a_run_chooses_its_face(run: Run, face: Face) -> None:
    assert face_of(run) == face


@given(st.text(max_size=60), st.sampled_from(FACES))
def test_that_every_piece_of_any_text_is_set_in_a_face_that_has_it(text: str, face: Face) -> None:
    parts = split_by_face(text, face)
    assert all(has_sign(chosen, sign) for chosen, part in parts for sign in part)
    missing = set(missing_signs(text)) | ({"\n"} & set(text))
    assert "".join(part for _, part in parts) == "".join(visible_code(s) if s in missing else s for s in text)


def test_that_a_table_of_groups_is_read_and_an_unknown_form_passed_over() -> None:
    groups = struct.pack(">HHLLL", 12, 0, 28, 0, 1) + struct.pack(">LLL", 65, 67, 1)
    other = struct.pack(">HHH", 6, 6, 0)
    directory = struct.pack(">HH", 0, 2) + struct.pack(">HHL", 3, 10, 20) + struct.pack(">HHL", 1, 0, 20 + len(groups))
    font = struct.pack(">LHHHH", 0x10000, 1, 0, 0, 0) + struct.pack(">4sLLL", b"cmap", 0, 28, 0)
    assert read_character_table(font + directory + groups + other) == frozenset({65, 66, 67})
