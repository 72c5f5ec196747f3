"""A site's year: learned from a whole year of counts, laid into zones nobody counts."""

from datetime import date, timedelta

import numpy as np
import pytest

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.wear.books.from_books import thousand_passes
from floorcare.ground.wear.books.site_year import site_year, with_site_year
from tests.builders import DAY, a_book, a_site_book

TODAY = date(2026, 3, 2)


def month_row(
    year: int, month: int, per_day: float, kind: str = "foot", **more: object
) -> TrafficRow:
    first = date(year, month, 1)
    last = (first + timedelta(days=31)).replace(day=1) - DAY
    whole: dict[str, object] = {"counted": True, "from_on": first, "to_on": last, **more}
    return TrafficRow(kind=kind, per_day=per_day, **whole)  # type: ignore[arg-type]


def a_year(size: float = 1000.0, *, december: float = 2.0) -> tuple[TrafficRow, ...]:
    return tuple(
        month_row(2025, month, size * (december if month == 12 else 1.0)) for month in range(1, 13)
    )


def counted(*rows: TrafficRow, code: str = "A") -> ZoneBook:
    return a_book(code, traffic=rows)


def test_the_busy_month_stands_out_and_the_year_keeps_its_mean() -> None:
    year = site_year([counted(*a_year()), a_book("B")], TODAY)
    assert sum(year) == pytest.approx(12.0)
    assert year[11] / year[0] == pytest.approx(2.0)
    assert year[:11] == pytest.approx([12.0 / 13.0] * 11)


def test_counted_zones_weigh_the_same_however_busy() -> None:
    zones = [counted(*a_year(100.0)), counted(*a_year(9000.0, december=1.0), code="B")]
    assert site_year(zones, TODAY)[11] == pytest.approx((24.0 / 13.0 + 1.0) / 2.0)


def test_kinds_of_traffic_are_weighed() -> None:
    trucks = month_row(2025, 12, 50.0, "lift truck")
    year = site_year([counted(*a_year(december=1.0), trucks)], TODAY)
    assert year[11] / year[0] == pytest.approx(2.0)


def test_less_than_a_year_of_counts_or_what_is_to_come_teaches_nothing() -> None:
    rows = a_year()
    assert site_year([counted(*rows[:11])], TODAY) == ()
    short = month_row(2025, 12, 900.0, from_on=date(2025, 12, 19))
    assert site_year([counted(*rows[:11], short)], TODAY) == ()
    assert site_year([counted(*rows)], date(2025, 12, 30)) == ()
    levels = tuple(month_row(2025, m, 900.0, counted=False) for m in range(1, 13))
    assert site_year([counted(*levels)], TODAY) == ()
    assert site_year([counted(*(month_row(2025, m, 0.0) for m in range(1, 13)))], TODAY) == ()
    old = tuple(month_row(2022, m, 900.0) for m in range(1, 13))
    assert site_year([counted(*old)], TODAY) == ()
    assert site_year([], TODAY) == ()


def test_a_zone_by_level_is_walked_by_the_site_s_year_and_a_counted_one_as_counted() -> None:
    site = with_site_year(a_site_book("NORTH", counted(*a_year()), a_book("B")), TODAY)
    passes = thousand_passes(site.zones, date(2025, 11, 30), 3)
    assert passes[0] == pytest.approx([1.0, 2.0, 2.0])
    assert passes[1] == pytest.approx(2.0 * np.array([12.0, 24.0, 24.0]) / 13.0)
    plain = thousand_passes([a_book("B")], date(2025, 11, 30), 3)
    assert plain[0].tolist() == [2.0] * 3
