from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.zone import Zone, ZoneSpan
from tests.builders import a_zone


def a_span(first: date, last: date | None, area_m2: float = 100.0) -> ZoneSpan:
    return ZoneSpan(
        from_on=first,
        to_on=last,
        surface="polished_concrete",
        area_m2=area_m2,
        traffic=TrafficLevel.LIGHT,
    )


def test_a_zone_has_the_values_of_the_day_asked_for() -> None:
    before = a_span(date(2025, 1, 1), date(2025, 6, 30), 100.0)
    after = a_span(date(2025, 7, 1), date(2025, 12, 31), 150.0)
    zone = replace(a_zone(), spans=(before, after))
    assert zone.span_on(date(2025, 6, 30)) is before
    assert zone.span_on(date(2025, 7, 1)) is after
    assert zone.span_on(date(2024, 12, 31)) is None
    assert zone.span_on(date(2026, 1, 1)) is None
    assert zone.span_about(date(2025, 6, 30)) is before
    assert zone.span_about(date(2024, 12, 31)) is zone.span_about(date(2026, 1, 1)) is after
    assert (zone.starts_on, zone.ends_on) == (date(2025, 1, 1), date(2025, 12, 31))


def test_a_zone_under_care_has_no_last_day() -> None:
    assert a_zone().ends_on is None


def test_a_zone_without_values_is_refused() -> None:
    with pytest.raises(ValueError, match="no values"):
        Zone(code="LANE", area="HALL", name="Lane", spans=())


def test_an_area_nobody_could_walk_and_a_span_that_ends_before_it_starts_are_refused() -> None:
    with pytest.raises(ValueError, match=r"0\.1 to 1,000,000"):
        a_zone(area_m2=-5.0)
    with pytest.raises(ValueError, match="before it starts"):
        a_span(date(2026, 1, 2), date(2026, 1, 1))
    assert a_zone(area_m2=None).spans[0].area_m2 is None
