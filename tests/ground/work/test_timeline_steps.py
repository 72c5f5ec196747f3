from dataclasses import replace

import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.timeline_steps import Leg, TimedLine, sequence_key, zone_legs
from floorcare.store.surfaces import load_surfaces

SURFACES = load_surfaces()
CONCRETE = SURFACES["polished_concrete"]


def real(zone: str, work: Work, area_m2: float) -> TimedLine:
    return TimedLine(zone=zone, work=work, rung=CONCRETE.methods[work], area_m2=area_m2)


def test_zones_come_as_they_are_named_and_works_as_the_trade_does_them():
    lines = (real("B", Work.BURNISH, 90.0), real("A", Work.CLEAN, 80.0), real("B", Work.CLEAN, 9.0))
    zones = zone_legs(lines)
    assert [zone.zone for zone in zones] == ["B", "A"]
    works = [leg.work for leg in zones[0].legs]
    assert works == sorted(works, key=sequence_key)
    assert set(works) == {Work.CLEAN, Work.BURNISH}


def test_a_densifier_is_kept_wet_and_a_coat_dries():
    (densified,) = zone_legs((real("A", Work.DENSIFY, 100.0),))
    wet = [leg for leg in densified.legs if leg.stays_wet]
    assert [(leg.name, leg.wait) for leg in wet] == [("Spread the densifier and keep it wet", 30)]
    (coated,) = zone_legs((real("A", Work.RECOAT, 100.0),))
    assert not any(leg.stays_wet for leg in coated.legs)
    assert max(leg.wait for leg in coated.legs) == 30


def test_the_last_step_of_a_method_is_followed_by_drying_on_every_surface():
    for surface in SURFACES.values():
        for work, rung in surface.methods.items():
            line = TimedLine(zone="A", work=work, rung=rung, area_m2=50.0)
            (zone,) = zone_legs((line,))
            assert not zone.legs[-1].stays_wet


def test_hand_work_is_shared_and_a_machine_is_not():
    by_hand = Leg(Work.CLEAN, "mop", 30, 1, 0, "", True)
    assert [by_hand.minutes(hands) for hands in (1, 2, 4)] == [30, 15, 8]
    for_two = Leg(Work.STRIP, "strip", 30, 2, 0, "rotary", False)
    assert [for_two.minutes(hands) for hands in (1, 2)] == [60, 30]


def test_typed_minutes_make_one_leg_with_the_methods_last_wait():
    (zone,) = zone_legs((replace(real("A", Work.DEEP_SCRUB, 100.0), minutes=90),))
    assert [(leg.clock, leg.wait, leg.shared) for leg in zone.legs] == [(90, 30, True)]


def test_minutes_typed_as_none_at_all_are_refused():
    with pytest.raises(ValueError, match="allowed 1 or more"):
        TimedLine(zone="A", work=Work.CLEAN, minutes=0)
