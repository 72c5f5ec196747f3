import numpy as np
import pytest

from floorcare.ground.rules.wear_dues import forecast
from floorcare.ground.schedule.outlook import zone_outlooks
from floorcare.ground.schedule.round_zones import zones_to_read
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.zone import Station
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.fleet import fit_fleet
from floorcare.ground.wear.reading_rounds import reading_worth
from tests.builders import DAY, TODAY, a_book, a_case, look_promised, polished, read_down

STATIONS = tuple(Station(code=f"P{n}") for n in range(3))


def looked_at(*cases, on=TODAY):
    fleet = fit_fleet([(c.site, c.book) for c in cases], polished(), TODAY, draws=64)
    ahead = forecast(fleet, cases, 100)
    return zones_to_read(fleet, cases, ahead, on), zone_outlooks(fleet, cases, ahead)


def test_a_zone_is_seen_as_its_outlook_sees_it():
    (zone,), (outlook,) = looked_at(a_case(a_book(stations=STATIONS)))
    assert (zone.site, zone.zone, zone.age_days) == ("NORTH", "LANE", 6)
    assert outlook.gloss_gu
    assert outlook.promise_gu
    assert outlook.low_gu
    assert outlook.high_gu
    assert zone.margin_ln == pytest.approx(np.log(outlook.gloss_gu / outlook.promise_gu), abs=0.01)
    width = np.log(outlook.high_gu / outlook.low_gu)
    assert zone.sd_ln == pytest.approx(width / (2 * 1.645), rel=0.3)
    assert zone.confidence == 0.75
    assert zone.reading_sd_ln == reading_error(polished().law, 3)


def test_a_zone_without_a_promised_look_is_left_out_and_one_never_read_has_nothing_known():
    cases = (
        a_case(a_book("NEW", readings=())),
        a_case(a_book("FREE", promises=())),
        a_case(a_book("LANE")),
    )
    (new, lane), _ = looked_at(*cases)
    assert (new.zone, new.age_days, new.margin_ln, new.sd_ln) == ("NEW", None, None, None)
    assert (lane.zone, lane.age_days) == ("LANE", 6)


def test_a_promise_without_a_reference_leaves_the_margin_open():
    (zone,), _ = looked_at(a_case(a_book(promises=(look_promised(None),))))
    assert (zone.age_days, zone.margin_ln) == (6, None)


def test_on_a_later_day_the_floor_is_older_lower_and_less_sure():
    case = a_case(
        a_book(promises=(look_promised(reference_state=SurfaceState.AFTER_CLEANING),), routines=())
    )
    (now,), _ = looked_at(case)
    (later,), _ = looked_at(case, on=TODAY + 60 * DAY)
    assert later.age_days == 66
    assert now.margin_ln is not None
    assert later.margin_ln is not None
    assert later.margin_ln < now.margin_ln
    assert now.sd_ln is not None
    assert later.sd_ln is not None
    assert later.sd_ln > now.sd_ln


def test_a_zone_near_its_promise_is_worth_a_reading_and_a_bright_one_is_not():
    near = a_book("NEAR", readings=read_down(48.0))
    bright = a_book("BRIGHT", readings=read_down(64.0))
    zones, _ = looked_at(a_case(near), a_case(bright))
    worth = {zone.zone: reading_worth(zone) for zone in zones}
    assert worth["NEAR"] > 0
    assert worth["BRIGHT"] == 0


@pytest.mark.parametrize("days", [-1, 101])
def test_a_day_outside_the_outlook_is_refused(days):
    with pytest.raises(ValueError, match="allowed"):
        looked_at(a_case(), on=TODAY + days * DAY)
