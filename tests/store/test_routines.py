from dataclasses import replace
from datetime import date

from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from tests.store.sample import LATER, NOW, portfolio, site_book, with_zone

RECOAT = Routine(
    work=Work.RECOAT,
    rule="FREQ=MONTHLY;INTERVAL=6",
    starts_on=date(2025, 9, 1),
    performer=Performer.US,
    proof=Proof.ASSUMED,
    about_days=14,
    minutes=240,
    promised=True,
)


def put(work, *routines, now=LATER):
    work.put_portfolio(portfolio(with_zone(site_book(), routines=routines)), who="t", now=now)
    return work.books()[0].zones[0].routines


def test_routines_come_back_as_they_were_sorted_by_start(store):
    clean = replace(
        RECOAT,
        work=Work.CLEAN,
        rule="FREQ=DAILY",
        starts_on=date(2024, 1, 1),
        ends_on=date(2026, 12, 31),
        except_on=(date(2025, 12, 25), date(2025, 1, 1)),
        performer=Performer.SITE_TEAM,
        minutes=None,
        promised=False,
    )
    with store.work(writes=True) as work:
        assert put(work, RECOAT, clean) == (clean, RECOAT)


def test_a_newer_last_done_date_leaves_one_rhythm(store):
    newer = replace(RECOAT, starts_on=date(2026, 3, 1))
    with store.work(writes=True) as work:
        put(work, RECOAT, now=NOW)
        assert put(work, newer) == (replace(RECOAT, ends_on=date(2026, 2, 28)), newer)


def test_a_last_done_date_put_right_to_an_earlier_one_leaves_one_rhythm(store):
    earlier = replace(RECOAT, starts_on=date(2025, 8, 1))
    with store.work(writes=True) as work:
        put(work, RECOAT, now=NOW)
        assert put(work, earlier) == (earlier,)
        assert put(work, RECOAT) == (replace(earlier, ends_on=date(2025, 8, 31)), RECOAT)


def test_two_rhythms_of_one_work_named_together_both_stand(store):
    spring = replace(RECOAT, starts_on=date(2025, 4, 1))
    with store.work(writes=True) as work:
        assert put(work, spring, RECOAT) == (spring, RECOAT)
        assert put(work, spring, RECOAT) == (spring, RECOAT)
