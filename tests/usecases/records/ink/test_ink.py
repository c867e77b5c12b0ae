"""A print that comes back signed with ink counts only when it says what the order says now."""

from collections.abc import Callable
from datetime import date, timedelta

import pytest

from desktop.core.errors import ChangedElsewhere, Refusal
from desktop.core.records.sealed.check_code import check_code
from desktop.core.records.sealed.draft_seal import draft_seal
from desktop.core.shop.orders.changes import what_changed
from desktop.core.shop.orders.ink import InkSigned, Printed, Scan, ScanKind
from desktop.core.shop.orders.order import WorkOrder
from desktop.files.shop_json import ShopJson
from desktop.usecases.records.ink.ink import note_print, record_ink, scan_kept
from desktop.usecases.records.ink.ink_ports import InkDesk
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.ports import Answer, ShopWork
from tests.usecases.shop.shop_floor import Floor

SCAN = Scan(ScanKind.PNG, b"a picture")
DAY = date(2031, 3, 4)


class FakeInk:
    """Prints and scans in memory."""

    def __init__(self) -> None:
        self.scans: dict[str, Scan] = {}
        self.prints: list[Printed] = []

    def within(self, _work: ShopWork) -> "FakeInk":
        return self

    def put_scan(self, scan: Scan) -> None:
        self.scans[scan.digest] = scan

    def scan(self, digest: str) -> Scan | None:
        return self.scans.get(digest)

    def note_printed(self, printed: Printed) -> None:
        self.prints.append(printed)

    def printed_with(self, code: str) -> tuple[Printed, ...]:
        return tuple(one for one in reversed(self.prints) if one.code == code)


class RemarksOnly:
    """A paper that says the remarks of its card, and nothing else."""

    def code_of(self, order: WorkOrder, card: int, paper: str) -> str:
        said = [remark.text for one in order.cards for remark in one.remarks if card in (0, one.number)]
        return check_code([paper, str(order.number), str(card), *said])


class InkFloor(Floor):
    """The hands that print and record."""

    def __init__(self) -> None:
        super().__init__()
        self.ink = FakeInk()
        self.desk = InkDesk(self.shop, self.ink, RemarksOnly())
        self.with_card()

    def printed(self, card: int = 1, paper: str = "card") -> str:
        """Print a paper and return its code."""
        code = RemarksOnly().code_of(self.order(), card, paper)
        note_print(self.desk, Printed(code, 1, card, paper, self.order().version))
        return code

    def record(self, code: str, signer: str = "Mel Chan", day: date = DAY, card: int = 1, **more: object) -> Answer:
        """Record a print that came back."""
        request = self.by("DESK")
        return record_ink(self.desk, request, 1, card, "card", signer, day, code, **more)  # type: ignore[arg-type]


@pytest.fixture
def floor() -> InkFloor:
    return InkFloor()


def refused(act: Callable[[], object]) -> str:
    with pytest.raises(Refusal) as caught:
        act()
    return caught.value.sentence


def test_that_a_print_of_the_present_content_is_recorded_with_its_scan(floor: InkFloor) -> None:
    code = floor.printed()
    answer = floor.record(code.lower().replace("-", " "), "  Mel   Chan ", scan=SCAN)
    (ink,) = floor.order().inks
    assert (ink.paper, ink.order, ink.card, ink.signer, ink.day, ink.code) == ("card", 1, 1, "Mel Chan", DAY, code)
    assert (ink.scan, ink.by.person, answer.version) == (SCAN.digest, "DESK", floor.order().version)
    assert scan_kept(floor.desk, ink.scan) == SCAN
    assert floor.store.changes_since(1, answer.version - 1)[0].said == ("paper signed with ink 1 added",)
    floor.record(code, "Ines Spohr")
    assert [one.signer for one in floor.order().inks] == ["Mel Chan", "Ines Spohr"]


def test_that_the_same_request_and_the_same_signer_record_once(floor: InkFloor) -> None:
    code, request = floor.printed(), floor.by("DESK")
    answers = {record_ink(floor.desk, request, 1, 1, "card", "Mel Chan", DAY, code) for _ in range(2)}
    assert len(answers) == len(floor.order().inks) == 1
    assert refused(lambda: floor.record(code)) == "That Mel Chan signed this print is recorded already."


def test_that_an_outdated_print_is_refused_with_what_was_changed_since(floor: InkFloor) -> None:
    code, version = floor.printed(), floor.order().version
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "The lead was chafed.")
    sentence = refused(lambda: floor.record(code))
    assert sentence == (
        f"This print says what was so at version {version} of W-0001, and it is version {version + 1} now. "
        "Changed since: card 1: in work; card 1: remark 1 added. Print it again and have the new print signed."
    )
    assert floor.order().inks == ()
    floor.record(floor.printed())
    assert len(floor.order().inks) == 1


def test_that_many_changes_are_cut_in_a_refusal(floor: InkFloor) -> None:
    code = floor.printed()
    for number in range(25):
        write_remark(floor.shop, floor.by("MECH"), 1, 1, f"Remark {number}.")
    assert "card 1: remark 19 added; and 6 more. Print it again" in refused(lambda: floor.record(code))


def test_that_a_print_that_is_outdated_by_the_program_itself_is_refused(floor: InkFloor) -> None:
    other = check_code(["as an older program said it"])
    note_print(floor.desk, Printed(other, 1, 1, "card", floor.order().version))
    assert "Changed since: nothing on the order, but on what the paper is made from" in refused(
        lambda: floor.record(other)
    )


def test_that_a_code_of_another_paper_says_of_which(floor: InkFloor) -> None:
    assert 'is that of another paper: "entry" of W-0001. Record it there.' in refused(
        lambda: floor.record(floor.printed(0, "entry"))
    )
    floor.with_card()
    assert '"card" of card 2 of W-0001. Record it there.' in refused(lambda: floor.record(floor.printed(2)))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"code": "7KQM-X2RT"}, "No print with the code 7KQM-X2RT is known. Compare it with the paper sign by sign."),
        ({"code": "7KQM-X2R"}, "This is no check code: '7KQM-X2R'. Copy its 8 letters and digits from the paper"),
        ({"code": "0" * 99}, f"This is no check code: '{'0' * 40}'."),
        ({"signer": " - "}, "Nobody is named."),
        ({"signer": "x" * 121}, "The name has 121 signs, and 120 is the most."),
        ({"signer": "Mel\u202eChan"}, "an invisible sign (U+202E)"),
        ({"day": DAY + timedelta(days=1)}, "The day 2031-03-05 is still to come."),
        ({"day": DAY - timedelta(days=1)}, "On 2031-03-03 the order was not open yet; it was opened on 2031-03-04."),
        ({"card": 9}, "W-0001 has no card 9."),
    ],
)
def test_that_what_cannot_be_recorded_is_refused_and_nothing_is_kept(
    more: dict[str, object], said: str, floor: InkFloor
) -> None:
    before = floor.order()
    words = {"code": floor.printed(), "scan": SCAN, **more}
    assert said in refused(lambda: floor.record(**words))  # type: ignore[arg-type]
    assert floor.order() == before


def test_that_only_front_desk_and_records_keeper_record_and_only_what_they_saw(floor: InkFloor) -> None:
    code = floor.printed()
    assert "may not do this: record a paper signed with ink" in refused(
        lambda: record_ink(floor.desk, floor.by("MECH"), 1, 1, "card", "Mel Chan", DAY, code)
    )
    old = floor.by("DESK")
    write_remark(floor.shop, floor.by("MECH"), 1, 1, "The lead was chafed.")
    with pytest.raises(ChangedElsewhere, match="remark 1 added"):
        record_ink(floor.desk, old, 1, 1, "card", "Mel Chan", DAY, code)
    record_ink(floor.desk, floor.by("KEEP"), 1, 0, "entry", "Ada Uthor", DAY, floor.printed(0, "entry"))
    assert [one.card for one in floor.order().inks] == [0]


def test_that_a_scan_that_is_not_there_is_refused(floor: InkFloor) -> None:
    assert "There is no such scan in this shop file." in refused(lambda: scan_kept(floor.desk, "0" * 64))


def test_that_ink_changes_no_seal_of_a_draft_and_travels_as_text(floor: InkFloor) -> None:
    before = floor.order()
    floor.record(floor.printed(), scan=SCAN)
    after = floor.order()
    assert draft_seal(after) == draft_seal(before)
    assert what_changed(before, after) == ("paper signed with ink 1 added",)
    written = ShopJson().write_order(after)
    assert ShopJson().read_order(written.text, dict(written.cards).__getitem__) == after
    assert '"inks":[{' in written.text
    assert isinstance(after.inks[0], InkSigned)
