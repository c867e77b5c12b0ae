"""Scans of paper that was signed with ink: gone, changed or nobody's, each said in a sentence that names its place."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from desktop.core.shop.orders.ink import InkSigned
from desktop.core.shop.stamp import Stamp
from desktop.usecases.records.checking.check_pace import verify_at_pace
from desktop.usecases.records.checking.verify import verify_shop
from desktop.usecases.records.copies.copy_ports import never_stops
from tests.core.records.pens import RealVerifier
from tests.usecases.records.shop_to_check import FakeFile

BY = Stamp("DESK", datetime(2031, 3, 4, 9, 30, tzinfo=UTC))
FIRST, SECOND = "1" * 64, "2" * 64
INK = InkSigned("card", 2, 1, "Mel Chan", date(2031, 3, 4), "7KQM-X2RT", FIRST, BY)
MEND = "Take it from the newest copy that is sound, or scan the paper again."
CARD = 'Card 1 of order 2, the paper "card" signed with ink by Mel Chan'


@pytest.fixture
def file() -> FakeFile:
    """A shop with a scan of a card's paper, and a paper about the whole order without one."""
    file = FakeFile()
    whole = replace(INK, paper="labels", card=0, scan="")
    file.kept[2] = replace(file.kept[2], inks=(INK, whole))
    file.kept_scans = {FIRST: True}
    return file


def said(file: FakeFile) -> list[str]:
    found = verify_shop(file, RealVerifier())
    assert found == verify_at_pace(file, RealVerifier(), never_stops)
    return [problem.sentence for problem in found.problems]


def test_that_a_scan_that_is_as_it_was_kept_is_sound(file: FakeFile) -> None:
    assert said(file) == []


def test_that_a_scan_that_is_gone_is_said_with_order_and_card(file: FakeFile) -> None:
    file.kept_scans = {}
    assert said(file) == [f"{CARD}: its scan is gone. {MEND}"]
    file.kept[2] = replace(file.kept[2], inks=(replace(INK, card=0),))
    assert said(file) == [f'Order 2, the paper "card" signed with ink by Mel Chan: its scan is gone. {MEND}']


def test_that_a_scan_that_was_changed_is_said_with_order_and_card(file: FakeFile) -> None:
    file.kept_scans = {FIRST: False}
    assert said(file) == [f"{CARD}: its scan is not as it was kept. {MEND}"]


def test_that_a_scan_to_which_nobody_refers_is_said(file: FakeFile) -> None:
    file.kept_scans[SECOND] = True
    name = "The scan 2222222222222222 belongs to no card and no order"
    assert said(file) == [f"{name}: no paper that was signed with ink refers to it. Another program put it there."]


def test_that_nobody_s_scan_is_not_told_while_an_order_cannot_be_read(file: FakeFile) -> None:
    file.unreadable = {2}
    assert said(file) == ["Order 2: The shop file holds a damaged order."]
    file.unreadable = set()
    file.kept[2] = replace(file.kept[2], number=3)
    assert "Order 2 is kept under a number that is not its own." in said(file)
    assert not [sentence for sentence in said(file) if "scan" in sentence]
