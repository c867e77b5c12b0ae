"""Any record that can be built, for Hypothesis."""

from datetime import datetime, timedelta, timezone

from hypothesis import strategies as st

from desktop.core.records.record import (
    SPLIT,
    About,
    PersonKey,
    Record,
    RecordKind,
    Row,
    Section,
    Signer,
    time_text,
    visible,
)

TEXTS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12).map(visible).filter(bool)
LABELS = TEXTS.filter(lambda text: SPLIT not in text)
HEX = st.binary(min_size=32, max_size=32).map(bytes.hex)
TIMES = st.builds(
    lambda time, minutes: time_text(time.replace(tzinfo=timezone(timedelta(minutes=minutes)))),
    st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1)),  # noqa: DTZ001 - the offset is put in above
    st.integers(-14 * 60, 14 * 60),
)
MAYBE = st.just("") | TEXTS
SIGNERS = st.builds(Signer, TEXTS, TEXTS, MAYBE, MAYBE, st.lists(TEXTS, max_size=3).map(tuple), TEXTS)
ROWS = st.lists(st.builds(Row, LABELS, TEXTS), max_size=3).map(tuple)
SECTIONS = st.lists(st.builds(Section, LABELS, ROWS), max_size=3).map(tuple)


@st.composite
def records(draw: st.DrawFn) -> Record:
    """Draw any record."""
    signers = draw(st.lists(SIGNERS, min_size=1, max_size=3, unique_by=lambda one: one.person))
    return Record(
        draw(st.sampled_from(RecordKind)),
        draw(TEXTS),
        draw(TEXTS),
        draw(TIMES),
        draw(TEXTS),
        signers[0],
        tuple(draw(st.lists(st.builds(About, st.integers(1, 10**18), HEX), max_size=2))),
        draw(SECTIONS),
        tuple(draw(st.lists(st.builds(PersonKey, TEXTS, HEX), max_size=2))),
        tuple(signers[1:]),
    )
