import numpy as np
import pytest

from floorcare.ground.wear.watch.alarms import look
from floorcare.ground.wear.watch.meter_watch import (
    MeterOffset,
    MeterOffsets,
    meter_alarms,
    read_with,
)
from tests.ground.wear.watched import CHANGED, Changed, watched_fleet


def test_meters_that_read_true_are_silent():
    alarms, offsets = meter_alarms([look(watched_fleet())], 3.5)
    assert (alarms, offsets) == ((), MeterOffsets())


@pytest.mark.parametrize(("code", "off"), [("A", -0.05), ("B", 0.06)])
def test_the_meter_that_is_off_is_named_with_its_size_and_the_other_it_was_compared_with(code, off):
    (alarm,), offsets = meter_alarms([look(watched_fleet(Changed(meter_ln={code: off})))], 3.5)
    assert alarm.instrument == code
    assert alarm.against == tuple({"A", "B"} - {code})
    assert (alarm.seen > alarm.expected) == (off > 0)
    assert [found.instrument for found in offsets.found] == [code]


def test_a_meter_that_reads_two_zones_is_not_judged():
    watched = watched_fleet(Changed(meter_ln={"A": -0.05}), zones=2)
    assert meter_alarms([look(watched)], 3.5)[0] == ()


def test_one_meter_alone_rings_when_all_zones_fall_far():
    watched = watched_fleet(Changed(meter_ln={"A": -0.1, "B": -0.1}))
    alone = type(watched)(
        fit=watched.fit,
        zones=watched.zones,
        instrument=("A",) * len(watched.instrument),
        works=watched.works,
        today=watched.today,
    )
    (alarm,), _ = meter_alarms([look(alone)], 3.5)
    assert (alarm.instrument, alarm.against) == ("A", ())
    assert "did all these floors change" in alarm.asks


def test_offsets_reach_the_readings_of_their_meter_from_their_day_on():
    watched = watched_fleet(zones=2)
    looked = look(watched)
    since = watched.date_of(CHANGED)
    step = MeterOffset(instrument="A", since=since, ln=-0.05, grows=False)
    slope = MeterOffset(instrument="A", since=since, ln=-0.05, grows=True)
    mine = read_with(watched, looked.later, "A") & (looked.later.day >= CHANGED)
    assert mine.any()
    at_once = MeterOffsets(found=(step,)).at(watched, looked.later)
    assert np.array_equal(at_once != 0, mine)
    assert set(np.unique(at_once)) == {-0.05, 0.0}
    grown = MeterOffsets(found=(slope,)).at(watched, looked.later)
    years = (looked.later.day[mine] - CHANGED) / 365.25
    assert grown[mine] == pytest.approx(-0.05 * years)


def test_doubt_is_as_large_as_what_was_found():
    watched = watched_fleet(zones=1)
    since = watched.today.replace(year=watched.today.year - 1)
    grows = MeterOffset(instrument="A", since=since, ln=-0.03, grows=True)
    step = MeterOffset(instrument="B", since=since, ln=0.04, grows=False)
    assert MeterOffsets().doubt_ln(watched) == 0.0
    assert MeterOffsets(found=(grows, step)).doubt_ln(watched) == pytest.approx(0.05, rel=0.01)
