from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from floorcare.ground.schedule.comparison import parts as compare_parts
from floorcare.ground.schedule.comparison.parts import BELIEF_DRAWS, READ_EVERY_DAYS, round_hours
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import line_minutes
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_site_book,
    polished,
    routinely,
    slip_promised,
    slip_read,
)
from tests.ground.schedule.compared import FUTURES, a_year, busy, parts_of, quiet


def test_zones_that_cannot_be_compared_stand_apart_with_the_reason():
    slippery = busy("WET", readings=(*busy().readings, slip_read(TODAY - 3 * DAY, 0.30)))
    slippery = replace(slippery, promises=(*slippery.promises, slip_promised()))
    site = a_site_book(
        "NORTH", busy("LANE"), a_book("NEVER", readings=()), a_book("FREE", promises=()), slippery
    )
    parts, apart = parts_of(a_year(site))
    assert [zone for part in parts for zone in part.zones] == ["NORTH/LANE"]
    whys = [why for one in apart for why in one.why]
    assert sorted(whys) == [
        "guarded for slip",
        "no look promised against a reference",
        "no readings to go by",
    ]


def test_the_calendar_of_a_zone_apart_is_counted_once():
    habit = routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", starts_on=TODAY)
    _, (apart,) = parts_of(a_year(a_site_book("NORTH", a_book(readings=(), routines=(habit,)))))
    coat = line_minutes(polished().methods[Work.RECOAT], 400.0).minutes
    burnish = line_minutes(polished().methods[Work.BURNISH], 400.0).minutes
    # coats after 10 and 20 weeks; the burnish's cap has run out already
    assert apart.minutes.tolist() == [2 * coat + burnish]
    assert apart.nights.sum() == 3


def test_a_zone_is_read_once_a_quarter_on_its_own_opportunities():
    (part,), _ = parts_of(a_year(days=365))
    read = np.flatnonzero(part.reading_nights[0])
    assert part.opportunity[0, read].all()
    assert len(read) == 4
    assert (abs(np.diff(read) - READ_EVERY_DAYS) <= 7).all()


def test_belief_and_futures_are_different_draws():
    (part,), _ = parts_of(a_year())
    believed, true = part.belief().floor.level, part.futures.level
    assert believed.shape == (FUTURES, BELIEF_DRAWS)
    assert not np.isin(true, believed).any()


def test_parts_change_nothing_but_memory(monkeypatch):
    site = a_site_book("NORTH", busy("EDGE"), busy("LANE"), quiet("WALL"))
    (whole,), _ = parts_of(a_year(site))
    monkeypatch.setattr(compare_parts, "PART_ZONES", 1)
    parts, _ = parts_of(a_year(site))
    assert [part.zones for part in parts] == [(zone,) for zone in whole.zones]
    for row, part in enumerate(parts):
        assert np.array_equal(part.futures.level[0], whole.futures.level[row])
        assert np.array_equal(part.calendar.gap_days[:, 0], whole.calendar.gap_days[:, row])
        assert np.array_equal(part.terms.cap_day[0], whole.terms.cap_day[row])


def test_nothing_is_worked_after_the_end_of_care():
    zone = replace(busy().zone, spans=(replace(busy().zone.spans[0], to_on=TODAY + 50 * DAY),))
    (part,), _ = parts_of(a_year(a_site_book("NORTH", busy(zone=zone))))
    assert part.futures.care_days.tolist() == [50]
    assert np.flatnonzero(part.opportunity[0]).max() < 50


def test_prices_taken_as_standard_are_those_of_works_that_may_be_done():
    (part,), _ = parts_of(a_year())
    assert "protector" in part.standard
    assert "protector_remover" not in part.standard


def test_standing_rounds_are_counted_in_hours_over_the_span():
    year = a_year(a_site_book("NORTH", a_book()), days=28)
    each = line_minutes(polished().methods[Work.BURNISH], 400.0).minutes
    hours = round_hours(year, TODAY + DAY, TODAY + timedelta(days=28))
    assert hours == pytest.approx(8 * each / 60)
