from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from floorcare.ground.trade.book import Portfolio, withdrawal_of
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.store.changes import MOST, field_text
from floorcare.store.merge import RowChange
from tests.store.means import CALL, CREW, with_means
from tests.store.sample import LATER, gloss, portfolio, site_book, with_zone


def changes(counts, kind):
    return [(c.what, c.key, c.fields) for c in counts[kind].changes]


def test_an_added_row_is_told_by_its_key_alone(put):
    put(portfolio())
    counts = put(portfolio(with_zone(site_book(), readings=(gloss(date(2026, 3, 1), 47.0),))))
    assert counts["readings"].changes == (
        RowChange(
            kind="readings",
            key="NORTH/LANE/P1 2026-03-01 10:00 gloss 60° M1 after burnish",
            what="added",
        ),
    )
    assert counts["sites"].changes == ()


def test_a_changed_row_is_told_with_each_value_before_and_after(put):
    put(portfolio())
    book = site_book()
    moved = replace(book.site, name="New name", latitude=52.52, notice_days=14)
    counts = put(portfolio(replace(book, site=moved)), now=LATER)
    assert changes(counts, "sites") == [
        (
            "changed",
            "NORTH",
            (
                ("name", "North hall", "New name"),
                ("latitude", "", "52.52"),
                ("notice_days", "7", "14"),
            ),
        )
    ]


def test_what_belongs_elsewhere_is_told_by_its_code_and_not_by_its_number(put):
    put(portfolio())
    book = site_book()
    elsewhere = replace(book.site.branches[0], branch="WEST")
    counts = put(portfolio(replace(book, site=replace(book.site, branches=(elsewhere,)))))
    assert changes(counts, "branches of sites") == [
        ("changed", "NORTH 2024-01-01", (("branch", "EAST", "WEST"),))
    ]


def test_a_later_word_is_told_as_added_and_what_it_ends_as_ended(put):
    put(portfolio())
    more = TrafficRow(kind="foot", per_day=2500.0, counted=True, from_on=date(2026, 2, 1))
    counts = put(portfolio(with_zone(site_book(), traffic=(more,))), now=LATER)
    assert changes(counts, "traffic") == [
        ("ended", "NORTH/LANE foot 2024-01-01", (("to_on", "", "2026-01-31"),)),
        ("added", "NORTH/LANE foot 2026-02-01", ()),
    ]


def test_a_row_taken_back_is_told_with_when(put):
    put(with_means())
    counts = put(Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", CALL),)), now=LATER)
    assert changes(counts, "calls") == [
        ("withdrawn", CALL.uuid, (("withdrawn", "", "2026-03-09 14:02 UTC"),))
    ]


def test_what_the_program_knows_better_is_told_as_outranked_and_counted_apart(put):
    put(portfolio())
    counted = TrafficRow(kind="foot", per_day=777.0, counted=True, from_on=date(2024, 1, 1))
    put(portfolio(with_zone(site_book(), traffic=(counted,))), origin="program")
    counts = put(portfolio(), now=LATER)
    assert changes(counts, "traffic") == [
        ("outranked", "NORTH/LANE foot 2024-01-01", (("per_day", "777", "1800"),))
    ]
    figures = counts["traffic"]
    assert (figures.changed, figures.unchanged, figures.outranked) == (0, 1, 1)


def test_all_are_counted_and_five_hundred_of_a_kind_are_told_changed_ones_first(put):
    days = [date(2020, 1, 1).replace(year=2000 + n // 12, month=1 + n % 12) for n in range(600)]
    put(portfolio(with_zone(site_book(), readings=tuple(gloss(d, 50.0) for d in days[:2]))))
    values = [51.0, *(50.0 for _ in days[1:])]
    many = tuple(gloss(day, value) for day, value in zip(days, values, strict=True))
    figures = put(portfolio(with_zone(site_book(), readings=many)), now=LATER)["readings"]
    assert (figures.added, figures.changed, figures.unchanged) == (598, 1, 1)
    assert len(figures.changes) == MOST
    assert [c.what for c in figures.changes[:2]] == ["changed", "added"]


def test_weekdays_and_clock_are_told_as_people_say_them(put):
    put(with_means())
    shift = replace(CREW.shifts[0], ends_minute=300)
    counts = put(Portfolio(crews=(replace(CREW, shifts=(shift,)),)), now=LATER)
    assert changes(counts, "shifts") == [
        ("changed", "EAST-1 Mon,Tue,Wed,Thu 21:30", (("ends_minute", "05:30", "05:00"),))
    ]


@pytest.mark.parametrize(
    ("column", "value", "said"),
    [
        ("to_on", None, ""),
        ("from_on", date.min, ""),
        ("from_on", date(2026, 3, 2), "2026-03-02"),
        ("counted", True, "yes"),
        ("counted", False, "no"),
        ("per_day", 1800.0, "1800"),
        ("area_m2", 420.5, "420.5"),
        ("amount", Decimal("1450.05"), "1450.05"),
        ("about_days", 10, "10"),
        ("geometry_deg", 0, ""),
        ("starts_minute", 5, "00:05"),
        ("withdrawn_at", datetime(2026, 3, 2, 9, 30, tzinfo=UTC), "2026-03-02 09:30 UTC"),
        ("site_id", 7, "NORTH"),
        ("site_id", 8, ""),
    ],
)
def test_a_value_is_told_as_people_read_it(column, value, said):
    assert field_text(column, value, {"site_id": {7: "NORTH"}}) == said
