"""Signs that are not seen stand as codes in what is signed; a record that was signed with one stays readable.

The fillers and selectors are the printable ones of Unicode's Default_Ignorable_Code_Point (DerivedCoreProperties.txt of
the Unicode Character Database, section of that name); that the empty pattern of Braille (U+2800) is drawn as nothing
says its chart.
"""

import unicodedata
from dataclasses import replace

import pytest

from desktop.core.records.keys.enrolment import is_said_of, person_in, person_section, signer_of
from desktop.core.records.record import Row, Section, is_seen, rows_of, text_trouble, visible
from desktop.core.records.sealed.canonical import canonical_bytes, read_record
from desktop.core.records.sealed.chain import check_chain
from desktop.core.shop.people.people import Right
from tests.core.records.pens import KEEP, MEANING, SHOP_ID, SINCE, RealVerifier, SignedShop

UNSEEN = (0x034F, 0x115F, 0x1160, 0x17B4, 0x180B, 0x2800, 0x3164, 0xFE00, 0xFE0F, 0xFFA0, 0x1D159, 0xE0100, 0xE01EF)


@pytest.mark.parametrize("number", UNSEEN)
def test_that_a_sign_that_is_not_seen_stands_as_a_code(number: int) -> None:
    sign = chr(number)
    assert sign.isprintable()  # that is why it needs looking for
    assert not is_seen(sign)
    assert rows_of("Wrong in it", f"0.015{sign}in") == (Row("Wrong in it", f"0.015[U+{number:04X}]in"),)
    assert visible(visible(f"a{sign}b")) == visible(f"a{sign}b")


@pytest.mark.parametrize("text", ["Zwölf Eulen", "日本", "24.5° BTDC", "→ ● ½", "👍🏻", "é", "한글"])
def test_that_signs_that_are_seen_stay_as_they_are(text: str) -> None:
    assert visible(text) == unicodedata.normalize("NFC", text)
    assert all(map(is_seen, visible(text)))


def test_that_a_record_that_was_signed_with_such_a_sign_stays_sound() -> None:
    row = Row("Remark", "heart \u2764\ufe0f")
    assert text_trouble(row.text) is None
    shop = SignedShop().with_people()
    shop.submit(1, 1, row)
    old = replace(KEEP, id="OLD", name="Kit\u3164Eeper", rights=(Right.RECORDS,), since=SINCE)
    rows = tuple(Row(one.label, one.text.replace("[U+3164]", "\u3164")) for one in person_section(old).rows)
    record = replace(shop.records[0], sections=(Section("Person", rows),), subject="person OLD")
    assert person_in(record) == old
    assert is_said_of(old, replace(signer_of(old, MEANING), name="Kit\u3164Eeper"))
    assert not is_said_of(old, replace(signer_of(old, MEANING), name="Kit Eeper"))
    assert check_chain(shop.rows, SHOP_ID, RealVerifier()).problems == []
    assert read_record(canonical_bytes(shop.records[-1])) == shop.records[-1]
