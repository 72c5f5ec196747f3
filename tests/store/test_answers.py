from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.treatment import Work
from floorcare.store import rows
from floorcare.store.answers import put_answers, reopen_night
from floorcare.store.dues import Places
from floorcare.store.merge import ids_by
from floorcare.store.visits import visit_ids
from tests.store.sample import LATER, NOW, added, plan, portfolio, visit

NIGHT = date(2026, 3, 12)


def said(word=NightWord.REFUSED, night=NIGHT, zone="LANE", work=Work.RECOAT) -> NightAnswer:
    return NightAnswer(zone=zone, work=work, night=night, word=word, said_on=NOW.date())


@pytest.fixture
def kept(store):
    """Keeps what was said about NORTH's visit; gives a way to read and to reopen."""
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        both = (visit("NORTH", NIGHT), visit("SOUTH", NIGHT))
        work.put_plan(
            plan(added=2),
            visits=both,
            changes=tuple(map(added, both)),
            unplaced=(),
            revisions={},
            who="t",
            now=NOW,
        )
        connection = work._writing()
        places = Places(
            sites=ids_by(connection, rows.site.c.code),
            zones=ids_by(connection, rows.zone.c.site_id, rows.zone.c.code),
        )

        def put(*answers):
            (visit_id,) = visit_ids(connection, [both[0].uuid]).values()
            put_answers(connection, visit_id, "NORTH", answers, places, NOW)

        def answers():
            return {book.site.code: book.answers for book in work.books()}

        def reopen(night, *zones):
            reopen_night(connection, places.site("NORTH"), night, set(zones), LATER)

        yield put, answers, reopen


def test_what_was_said_stands_in_the_site_s_book_in_order(kept):
    put, answers, _ = kept
    offered = said(NightWord.OFFERED, date(2026, 3, 10))
    whole = replace(said(zone="", work=Work.WALK), night=date(2026, 3, 11))
    put(said(), offered, whole)
    assert answers() == {"NORTH": (offered, whole, said()), "SOUTH": ()}


def test_saying_nothing_writes_nothing(kept):
    put, answers, _ = kept
    put()
    assert answers()["NORTH"] == ()


def test_a_night_reopened_is_refused_no_longer_for_those_zones_and_offers_stay(kept):
    put, answers, reopen = kept
    other, offered = said(night=date(2026, 3, 13)), said(NightWord.OFFERED)
    whole = said(zone="", work=Work.WALK)
    put(said(), other, offered, whole)
    reopen(NIGHT, "LANE")
    assert set(answers()["NORTH"]) == {other, offered, whole}
    reopen(NIGHT, "")
    assert set(answers()["NORTH"]) == {other, offered}
    reopen(other.night, "EDGE")
    assert set(answers()["NORTH"]) == {other, offered}
