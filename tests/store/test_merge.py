from datetime import date

import pytest
from sqlalchemy import func, select

from floorcare.errors import NotUnderstood
from floorcare.store import rows
from floorcare.store.customers import CUSTOMERS
from floorcare.store.merge import Writer, ids_by, in_parts, insert_rows, merge
from floorcare.store.traffic import TRAFFIC
from tests.store.sample import LATER, NOW, portfolio, site_book


@pytest.fixture
def connection(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(site_book(zones=("LANE", "EDGE"))), who="t", now=NOW)
        yield work._writing()


def bring(connection, kind, incoming, now=NOW, **more):
    return merge(Writer(connection=connection, who="t", now=now, **more), kind, incoming)


def figures(merged):
    return (merged.count.added, merged.count.changed, merged.count.unchanged)


def foot(connection, *incoming):
    """Bring traffic of the lane in and say what it then reads."""
    lane = ids_by(connection, rows.zone.c.code)["LANE"]
    listed = [(lane, "foot", first, last, per_day, True) for first, last, per_day in incoming]
    merged = bring(connection, TRAFFIC, listed, LATER)
    c = rows.traffic_row.c
    stands = connection.execute(
        select(c.from_on, c.to_on, c.per_day)
        .where(c.zone_id == lane, c.withdrawn_at.is_(None))
        .order_by(c.from_on)
    )
    return merged, [tuple(row) for row in stands]


def test_new_changed_and_unchanged_are_told_apart(connection):
    merged = bring(connection, CUSTOMERS, [("MARKET", "New name"), ("DEPOT", "Depot")])
    assert figures(merged) == (1, 1, 0)
    assert merged.parents == {"MARKET", "DEPOT"}
    assert merged.before == (
        {"key": {"code": "MARKET"}, "changed": {"name": ["The Market Halls", "New name"]}},
    )
    again = bring(connection, CUSTOMERS, [("MARKET", "New name"), ("DEPOT", "Depot")])
    assert figures(again) == (0, 0, 2)
    assert again.keys == ()


def test_the_same_thing_twice_counts_once(connection):
    assert figures(bring(connection, CUSTOMERS, [("D", "Depot"), ("D", "Depot")])) == (
        1,
        0,
        0,
    )


def test_two_things_of_one_name_that_differ_are_refused(connection):
    with pytest.raises(NotUnderstood, match=r"two customers named alike differ \(D\)"):
        bring(connection, CUSTOMERS, [("D", "Depot"), ("D", "Other")])


def test_what_is_left_out_stays(connection):
    bring(connection, CUSTOMERS, [("DEPOT", "Depot")])
    assert set(ids_by(connection, rows.customer.c.code)) == {"MARKET", "DEPOT"}


def test_a_later_word_ends_what_ran_on_the_day_before(connection):
    merged, stands = foot(connection, (date(2026, 2, 1), None, 2500.0))
    assert stands == [
        (date(2024, 1, 1), date(2026, 1, 31), 1800.0),
        (date(2026, 2, 1), None, 2500.0),
    ]
    assert figures(merged) == (1, 1, 0)
    merged, again = foot(connection, (date(2026, 2, 1), None, 2500.0))
    assert again == stands
    assert figures(merged) == (0, 0, 1)


def test_a_word_about_the_same_days_and_earlier_withdraws_what_stood(connection):
    _, stands = foot(connection, (date(2023, 1, 1), None, 900.0))
    assert stands == [(date(2023, 1, 1), None, 900.0)]
    kept = connection.scalar(
        select(func.count()).where(rows.traffic_row.c.withdrawn_at.is_not(None))
    )
    assert kept == 1


def test_what_was_withdrawn_comes_back_when_it_is_named_again(connection):
    foot(connection, (date(2023, 1, 1), None, 900.0))
    _, stands = foot(connection, (date(2024, 1, 1), None, 1800.0))
    assert stands == [
        (date(2023, 1, 1), date(2023, 12, 31), 900.0),
        (date(2024, 1, 1), None, 1800.0),
    ]


def test_days_that_do_not_meet_leave_each_other_alone(connection):
    _, stands = foot(connection, (date(2022, 1, 1), date(2023, 12, 31), 900.0))
    assert stands == [
        (date(2022, 1, 1), date(2023, 12, 31), 900.0),
        (date(2024, 1, 1), None, 1800.0),
    ]


def test_other_zones_and_kinds_are_left_alone(connection):
    lane = ids_by(connection, rows.zone.c.code)["LANE"]
    trolley = [(lane, "trolley", date(2020, 1, 1), None, 40.0, False)]
    assert figures(bring(connection, TRAFFIC, trolley, LATER)) == (1, 0, 0)
    assert connection.scalar(select(func.count()).where(rows.traffic_row.c.to_on.is_not(None))) == 0


def test_rows_go_in_as_their_types_say(connection):
    c = rows.shut_day.c
    site = ids_by(connection, rows.site.c.code)["NORTH"]
    day = date(2026, 5, 1)
    insert_rows(
        connection,
        rows.shut_day,
        ("why", "to_on", "from_on", "site_id"),
        [("fair", day, day, site)],
    )
    assert connection.execute(
        select(c.site_id, c.from_on, c.to_on, c.why).where(c.from_on == day)
    ).all() == [(site, day, day, "fair")]
    insert_rows(connection, rows.shut_day, ("why",), [])


def test_many_ids_are_asked_for_in_parts():
    parts = list(in_parts(range(12_001)))
    assert [len(part) for part in parts] == [5000, 5000, 2001]
    assert list(in_parts([])) == []


def test_ids_are_found_by_one_column_or_several(connection):
    site = ids_by(connection, rows.site.c.code)["NORTH"]
    assert set(ids_by(connection, rows.zone.c.site_id, rows.zone.c.code)) == {
        (site, "EDGE"),
        (site, "LANE"),
    }
