from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.visit import VisitState
from tests.store.sample import NOW, added, plan, portfolio, visit

NIGHT = date(2026, 3, 12)
FIRST = replace(visit("NORTH", NIGHT), uuid="0a1b2c3d-0000-5000-8000-000000000001")


@pytest.fixture
def named(store):
    """Asks for a visit by words, among these visits."""

    def ask(words: str, *visits):
        with store.work(writes=True) as work:
            work.put_portfolio(portfolio(), who="t", now=NOW)
            kept = visits or (FIRST,)
            work.put_plan(
                plan(added=len(kept)),
                visits=kept,
                changes=tuple(map(added, kept)),
                unplaced=(),
                revisions={},
                who="t",
                now=NOW,
            )
            return work.visit_named(words.split())

    return ask


@pytest.mark.parametrize(
    "words",
    [
        "NORTH 2026-03-12",
        "NORTH 2026-03-12 22:00",
        "0a1b2c",
        "0A1B2C3D-0000",
        FIRST.uuid,
    ],
)
def test_a_visit_is_named_by_site_and_night_or_by_the_beginning_of_its_id(named, words):
    assert named(words) == FIRST


def test_of_two_on_one_night_the_start_tells_which(named):
    late = replace(FIRST, uuid="0a1b2c3d-0000-5000-8000-000000000002", starts_minute=1500)
    assert named("NORTH 2026-03-12 01:00", FIRST, late) == late
    with pytest.raises(NotKnown, match=r"several visits on 2026-03-12; add the start, 22:00 or 01"):
        named("NORTH 2026-03-12", FIRST, late)
    with pytest.raises(NotKnown, match='"0a1b2c" begins several visits: 0a1b2c3d-0000'):
        named("0a1b2c", FIRST, late)


def test_one_called_off_is_meant_only_where_there_is_no_other(named):
    off = replace(FIRST, uuid="ffffffff-1", state=VisitState.CANCELLED)
    assert named("NORTH 2026-03-12", FIRST, off) == FIRST
    assert named("NORTH 2026-03-12", off) == off


def test_a_night_without_a_visit_names_those_near_it(named):
    near = replace(FIRST, uuid="near-it", night=NIGHT + timedelta(days=7))
    with pytest.raises(NotKnown, match="visits near it: 2026-03-12, 2026-03-19"):
        named("NORTH 2026-03-13", FIRST, near)
    with pytest.raises(NotKnown, match="none near it; is that the site's code"):
        named("NOWHERE 2026-03-12")
    with pytest.raises(NotKnown, match='There is no visit "abcdef"'):
        named("abcdef")


@pytest.mark.parametrize(
    "words", ["NORTH", "a%_", "NORTH March", "NORTH 2026-03-12 late", "a b c d"]
)
def test_words_that_name_no_visit_are_told_how_to(named, words):
    with pytest.raises(NotUnderstood, match="name it by site and night"):
        named(words)


def test_a_percent_sign_is_no_pattern(named):
    with pytest.raises(NotKnown):
        named("0a%2c3")
