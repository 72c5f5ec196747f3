"""Machines shared out: one crew at a time, what stands on a site there, what was told again."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.crews.holders import holders, machines_for_wish
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.treatment import Work
from tests.ground.crews.weeks import TUESDAY, a_machine, a_visit, a_week
from tests.store.sample import NOW

BURNISHER, SCRUBBER = a_machine("BU-1"), a_machine("SC-1", "scrubber")


def shared(week):
    nights = rested(week, crew_nights(week))
    wishes = wishes_of(week, nights)
    return nights, wishes, holders(week, wishes, nights)


def with_it(held, code):
    return {key for key, codes in held.items() if code in codes}


def test_no_machine_is_with_two_crews_whose_shifts_overlap():
    week = a_week(
        a_visit(work=Work.RECOAT),
        a_visit("SOUTH", work=Work.RECOAT),
        machines=(BURNISHER, SCRUBBER),
    )
    nights, _, held = shared(week)
    for code in ("BU-1", "SC-1"):
        keys = sorted(with_it(held, code))
        assert keys
        for one in keys:
            assert not any(nights[one].meets(nights[k]) for k in keys if k != one)


def test_what_a_visit_needs_is_taken_together_and_told_by_kind():
    week = a_week(a_visit(work=Work.RECOAT), machines=(BURNISHER, SCRUBBER))
    nights, (wish,), held = shared(week)
    able = [
        key
        for key in wish.crews
        if machines_for_wish(week, wish, nights[key], held, fuel=False) is not None
    ]
    assert able
    assert set(machines_for_wish(week, wish, nights[able[0]], held, fuel=False)) == {"BU-1", "SC-1"}
    assert machines_for_wish(week, wish, nights[able[0]], {}, fuel=False) is None


def test_a_machine_on_a_site_serves_that_site():
    there = a_machine("BU-9", site="SOUTH")
    week = a_week(a_visit(work=Work.BURNISH), machines=(there,))
    nights, (wish,), held = shared(week)
    key = sorted(wish.crews)[0]
    assert machines_for_wish(week, wish, nights[key], held, fuel=False) is None


def test_a_fuel_machine_only_where_one_may_run():
    gas = replace(BURNISHER, fuel="propane")
    week = a_week(a_visit(work=Work.BURNISH), machines=(gas,))
    nights, (wish,), held = shared(week)
    keys = with_it(held, "BU-1")
    fuel = any(c.access.fuel for c in wish.chances)
    assert bool(keys) == fuel
    for key in keys:
        assert machines_for_wish(week, wish, nights[key], held, fuel=False) is None


def test_what_a_kept_week_told_a_crew_to_take_it_takes_again():
    visit = a_visit(work=Work.RECOAT, latest=TUESDAY + timedelta(days=3))
    for crew in ("A", "B"):
        told = Assignment(
            visit=visit.uuid,
            crew=crew,
            on=TUESDAY,
            starts_at=NOW,
            ends_at=NOW,
            machines=("BU-1", "SC-1"),
        )
        week = a_week(visit, machines=(BURNISHER, SCRUBBER), assigned=(told,))
        _, _, held = shared(week)
        assert set(held[crew, TUESDAY]) == {"BU-1", "SC-1"}


def test_kinds_never_entered_and_unnamed_crews_ask_for_nothing():
    assert shared(a_week(a_visit(work=Work.RECOAT)))[2] == {}
    unnamed = a_week(a_visit(work=Work.RECOAT), crews=(), workers=(), machines=(BURNISHER,))
    assert shared(unnamed)[2] == {}
