from datetime import date, timedelta

from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.trial.known_then import book_then
from tests.builders import a_book, a_zone

DAY = date(2026, 2, 2)
LATER = DAY + timedelta(days=1)


def done(on):
    return TreatmentDone(work=Work.RECOAT, done_on=on)


def walked(per_day, from_on, to_on=None, *, counted=True):
    return TrafficRow(kind="foot", per_day=per_day, counted=counted, from_on=from_on, to_on=to_on)


def test_what_is_dated_later_was_not_known():
    book = a_book(zone=a_zone(from_on=date(2025, 1, 1)), done=(done(DAY), done(LATER)))
    then = book_then(book, DAY)
    assert then.done == (done(DAY),)
    assert then.readings == tuple(r for r in book.readings if r.taken_on <= DAY)
    assert 0 < len(then.readings) < len(book.readings)


def test_a_zone_is_unknown_before_its_care():
    book = a_book(zone=a_zone(from_on=LATER))
    assert book_then(book, DAY) is None
    assert book_then(book, LATER) is not None


def test_a_count_that_ended_later_was_not_made_yet_and_a_level_had_no_end():
    rows = (
        walked(100, date(2026, 1, 1), DAY),
        walked(200, date(2026, 1, 10), LATER),
        walked(300, date(2026, 1, 20), LATER, counted=False),
        walked(400, date(2026, 1, 25)),
        walked(500, LATER),
    )
    then = book_then(a_book(zone=a_zone(from_on=date(2025, 1, 1)), traffic=rows), DAY)
    assert [(row.per_day, row.to_on) for row in then.traffic] == [
        (100, DAY),
        (300, None),
        (400, None),
    ]


def test_nobody_knew_yet_that_care_would_end():
    book = a_book(zone=a_zone(from_on=date(2025, 1, 1), to_on=LATER))
    assert book_then(book, DAY).zone.ends_on is None
    assert book_then(book, LATER).zone.ends_on == LATER
