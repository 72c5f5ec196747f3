import pytest

from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.timeline import timeline
from floorcare.ground.work.timeline_closings import ISOLATION_MINUTES, closings_of
from floorcare.ground.work.timeline_steps import Leg, PhaseKind, Placed, TimedLine, ZoneLegs
from floorcare.store.surfaces import load_surfaces

CONCRETE = load_surfaces()["polished_concrete"]


def leg(clock: int, wait: int = 0, *, stays_wet: bool = False) -> Leg:
    return Leg(Work.DENSIFY, "step", clock, 1, wait, "", True, stays_wet)


def test_a_zones_phases_run_from_isolation_to_reopening_and_name_the_zones_worked_in_meanwhile():
    zones = (
        ZoneLegs("A", (leg(10, 30, stays_wet=True), leg(10, 60))),
        ZoneLegs("B", (leg(35),)),
    )
    placing = ((Placed(0, 10, 1), Placed(45, 55, 1)), (Placed(10, 45, 1),))
    first, second = closings_of(zones, placing)
    told = [(p.kind, p.starts_minute, p.ends_minute, p.used_in) for p in first.phases]
    assert told == [
        (PhaseKind.ISOLATION, -ISOLATION_MINUTES, 0, ()),
        (PhaseKind.WORK, 0, 10, ()),
        (PhaseKind.WET, 10, 40, ("B",)),
        (PhaseKind.IDLE, 40, 45, ("B",)),
        (PhaseKind.WORK, 45, 55, ()),
        (PhaseKind.DRY, 55, 115, ()),
    ]
    told = [(p.kind, p.used_in) for p in second.phases]
    assert told == [(PhaseKind.ISOLATION, ("A",)), (PhaseKind.WORK, ())]
    assert (first.closes_minute, first.reopens_minute) == (-ISOLATION_MINUTES, 115)


@pytest.mark.parametrize("people", [1, 2, 3])
def test_the_phases_of_a_real_night_leave_no_gap_and_keep_every_wait(people):
    lines = tuple(
        TimedLine(zone=zone, work=work, rung=CONCRETE.methods[work], area_m2=140.0)
        for zone, work in (("A", Work.DENSIFY), ("B", Work.RECOAT), ("C", Work.BURNISH))
    )
    for closing in timeline(lines, starts_minute=1320, people=people):
        ends = [closing.closes_minute, *(p.ends_minute for p in closing.phases)]
        assert [p.starts_minute for p in closing.phases] == ends[:-1]
        assert ends[-1] == closing.reopens_minute
        kinds = [p.kind for p in closing.phases]
        assert kinds[0] is PhaseKind.ISOLATION
        assert kinds.count(PhaseKind.WORK) == len(closing.steps)
        waits = [p for p in closing.phases if p.kind in (PhaseKind.WET, PhaseKind.DRY)]
        assert sum(p.ends_minute - p.starts_minute for p in waits) == sum(
            s.waits_until_minute - s.ends_minute for s in closing.steps
        )


def test_a_part_of_a_visit_for_each_of_two_crews_closes_each_zone_once():
    lines = tuple(
        TimedLine(zone=zone, work=Work.RECOAT, rung=CONCRETE.methods[Work.RECOAT], area_m2=150.0)
        for zone in "ABCD"
    )
    together = timeline(lines, starts_minute=1320, people=2)
    parts = [
        timeline(tuple(line for line in lines if line.zone in zones), starts_minute=at, people=2)
        for zones, at in (("AB", 1320), ("CD", 1380))
    ]
    assert [c.zone for part in parts for c in part] == [c.zone for c in together]
    assert max(c.reopens_minute for c in parts[0]) < max(c.reopens_minute for c in together)
    shifted = [c.reopens_minute - 60 for c in parts[1]]
    assert shifted == [c.reopens_minute for c in parts[0]]
