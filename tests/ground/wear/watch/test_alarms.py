import numpy as np
import pytest

from floorcare.ground.wear.watch.alarm import AlarmKind, Limits
from floorcare.ground.wear.watch.alarms import look, ring, treatments_to_watch
from floorcare.ground.wear.watch.later import cut_at
from tests.ground.wear.fleets import BURNISH, RECOAT, make_fleet
from tests.ground.wear.watched import CHANGED, COATED, Changed, watched_fleet


def test_nothing_rings_where_nothing_changed():
    for seed in (1, 2):
        assert ring([watched_fleet(seed=seed)]) == ()


def test_a_zone_walked_twice_as_much_rings_and_its_neighbours_do_not():
    watched = watched_fleet(Changed(times_walked={2: 2.5}))
    (alarm,) = ring([watched])
    assert alarm.zones == ("MILL/Z2",)
    assert alarm.seen < alarm.expected - 1.0
    assert alarm.errors < -3.0
    assert abs((alarm.since - watched.date_of(CHANGED)).days) < 220


def test_a_zone_walked_half_as_much_rings_as_wearing_more_slowly():
    (alarm,) = ring([watched_fleet(Changed(times_walked={5: 0.3}))])
    assert (alarm.kind, alarm.zones) == (AlarmKind.TRAFFIC, ("MILL/Z5",))
    assert alarm.seen > alarm.expected
    assert "more slowly" in alarm.says


def test_a_coat_that_did_not_hold_rings_with_its_night_and_crew():
    watched = watched_fleet(Changed(not_coated=(1,)))
    (alarm,) = ring([watched])
    assert (alarm.kind, alarm.zones, alarm.work) == (
        AlarmKind.TREATMENT,
        ("MILL/Z1",),
        "recoat",
    )
    assert alarm.since == watched.date_of(COATED)
    assert alarm.done_by == "crew 2, visit 018f3c2a-77b0"
    assert alarm.done_by in str(alarm)


def test_a_routine_burnish_that_does_part_of_its_work_rings():
    (alarm,) = ring([watched_fleet(Changed(weak_burnish=(4,)))])
    assert alarm.zones == ("MILL/Z4",)
    assert alarm.seen < alarm.expected


def test_one_cause_is_said_once_even_where_coat_and_traffic_both_show():
    alarms = ring([watched_fleet(Changed(not_coated=(1,), times_walked={1: 2.0}))])
    assert [alarm.zones for alarm in alarms] == [("MILL/Z1",)]


@pytest.mark.parametrize(("factor", "from_last"), [(0.1, 1), (0.8, 2), (1.25, 1), (10.0, 4)])
def test_a_single_gross_reading_does_not_ring(factor: float, from_last: int):
    assert ring([watched_fleet(Changed(misread=((3, from_last, factor),)))]) == ()


def test_a_meter_that_reads_low_is_said_once_and_no_zone_is_blamed_for_it():
    (alarm,) = ring([watched_fleet(Changed(meter_ln={"A": -0.06}))])
    assert (alarm.kind, alarm.instrument) == (AlarmKind.INSTRUMENT, "A")
    assert len(alarm.zones) == 6
    assert alarm.expected - alarm.seen == pytest.approx(0.06 * alarm.expected, rel=0.35)


def test_fleets_of_two_surfaces_are_watched_together():
    changed = Changed(meter_ln={"B": 0.05})
    both = ring([watched_fleet(changed, zones=2), watched_fleet(changed, zones=2, seed=9)])
    assert [alarm.instrument for alarm in both] == ["B"]
    assert ring([watched_fleet(changed, zones=2)], Limits(zone=99, treatment=99)) == ()


def test_fleets_of_different_days_are_refused():
    watched = watched_fleet(zones=1)
    other = type(watched)(
        fit=watched.fit,
        zones=watched.zones,
        instrument=watched.instrument,
        works=watched.works,
        today=watched.date_of(0),
    )
    with pytest.raises(ValueError, match="one day"):
        ring([watched, other])


def test_zones_without_readings_or_history_stay_silent():
    from floorcare.ground.wear.estimate import estimate

    watched = watched_fleet(zones=2)
    young = cut_at(watched.columns, 5)
    fit = estimate(young, watched.fit.law)
    kept = np.flatnonzero(watched.columns.reading_day <= 5)
    small = type(watched)(
        fit=fit,
        zones=watched.zones,
        instrument=tuple(watched.instrument[i] for i in kept.tolist()),
        works=watched.works,
        today=watched.today,
    )
    assert ring([small]) == ()


def test_every_row_looked_at_rests_on_enough_readings_and_holds_later_ones():
    looked = look(watched_fleet(zones=2))
    assert (looked.later.before >= 3).all()
    assert looked.later.there.any(axis=1).all()
    assert (looked.later.day[looked.later.there] > 0).all()


def test_coats_are_watched_and_routine_burnishes_are_not():
    fleet = make_fleet(zones=20, days=400, ahead=0, seed=3, readings=4)
    zone, day, kind, last = treatments_to_watch(fleet.columns)
    effects = [effect for effect, _ in fleet.columns.treatments]
    assert zone.size > 5
    assert {effects[k] for k in kind.tolist()} <= {e for e in effects if e != BURNISH}
    assert RECOAT in {effects[k] for k in kind.tolist()}
    assert (last > day - 1).all()
    assert (day >= 400 - 180).all()


def test_a_rare_burnish_is_watched():
    watched = watched_fleet(zones=1)
    columns = watched.columns
    burnish = columns.treatments[2][1]
    burnish[:] = False
    burnish[0, [columns.days - 90, columns.days - 20]] = True
    _, day, kind, _ = treatments_to_watch(columns)
    assert [k for d, k in zip(day.tolist(), kind.tolist(), strict=True) if d != COATED] == [2, 2]
