from dataclasses import replace

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import forecast, walked_dues
from floorcare.ground.schedule.gather import SiteNights
from floorcare.ground.schedule.zone_dues import LOOK_BEYOND_DAYS, FleetDues, dues_of_fleet
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from tests.builders import (
    ALL_PERMITS,
    DAY,
    TODAY,
    a_book,
    a_case,
    a_night,
    a_zone,
    look_promised,
    nights_of,
    polished,
    read_down,
    routinely,
    slip_promised,
)
from tests.store.sample import visit

DAYS = 150
RECOATED = routinely(Work.RECOAT, "FREQ=MONTHLY;INTERVAL=2", starts_on=TODAY - 20 * DAY)


def worn(code: str = "LANE", *, every: int = 7, **more: object) -> ZoneCase:
    book = a_book(code, **{"readings": read_down(49.5), **more})
    return a_case(book, days=DAYS, every=every)


def every_night(permits: frozenset[str] = ALL_PERMITS, *, loud_on: int | None = None) -> SiteNights:
    """All nights for all work; with `loud_on` only that weekday's for loud work."""
    on = [TODAY + n * DAY for n in range(1, DAYS + 30)]
    quiet = permits - {"loud"}
    loud = [permits if loud_on in (None, day.weekday()) else quiet for day in on]
    return nights_of([a_night(day, permits=p) for day, p in zip(on, loud, strict=True)])


def fleet_of(*cases: ZoneCase) -> Fleet:
    return fit_fleet([(c.site, c.book) for c in cases], polished(), TODAY, draws=48)


def found(
    *cases: ZoneCase, nights: SiteNights | None = None, movable: tuple[Visit, ...] = ()
) -> FleetDues:
    return dues_of_fleet(
        fleet_of(*cases),
        cases,
        {"NORTH": nights or every_night()},
        movable,
        TODAY + DAYS * DAY,
    )


def walked_of(dues: tuple[Due, ...]) -> list[Due]:
    return [due for due in dues if due.reason.rule == "promise at confidence"]


def once_walked(case: ZoneCase) -> tuple[Due, ...]:
    fleet = fleet_of(case)
    ahead = forecast(fleet, [case], DAYS + LOOK_BEYOND_DAYS)
    return walked_dues(fleet, [case], ahead, [0])[0]


def test_only_read_floors_with_the_gentlest_policy_are_walked() -> None:
    cases = (
        worn("A"),
        worn("B", readings=()),
        worn("C", promises=(look_promised(policy=Policy.AS_AGREED),)),
        worn("D", promises=()),
    )
    result = found(*cases)
    assert set(result.dues) == {case.key for case in cases}
    assert result.by_wear == {("NORTH", "A")}
    for code in "BCD":
        assert walked_of(result.dues["NORTH", code]) == []
    assert walked_of(result.dues["NORTH", "A"])


def test_a_set_rhythm_happens_whatever_wear_asks_and_wear_asks_less_for_it() -> None:
    plain, set_rhythm = found(worn()), found(worn(routines=(*a_book().routines, RECOATED)))
    rules = [due.reason.rule for due in set_rhythm.dues["NORTH", "LANE"]]
    assert rules.count("set rhythm") == 2
    with_it = walked_of(set_rhythm.dues["NORTH", "LANE"])
    without = walked_of(plain.dues["NORTH", "LANE"])
    assert len(with_it) < len(without)


def test_a_treatment_that_changes_the_surface_is_tested_where_slip_is_promised() -> None:
    case = worn(promises=(look_promised(), slip_promised()))
    dues = found(case).dues[case.key]
    changing = [d for d in dues if (r := polished().rung(d.work)) and r.changes_surface]
    tests = [d for d in dues if d.reason.rule == "slip retest"]
    assert changing
    assert [d.target for d in tests] == [d.target for d in changing]


def test_where_every_target_can_be_met_one_walk_is_enough() -> None:
    case = worn(every=28)  # so far apart that no due is drawn to another's night
    dues = tuple(walked_of(found(case).dues[case.key]))
    assert dues == once_walked(case)
    assert len(dues) >= 2


def test_later_dues_are_walked_from_the_night_an_earlier_one_is_really_done() -> None:
    case = worn()
    first = once_walked(case)[0]
    assert "loud" in first.needs
    # loud work only on the weekday before the target's, so it is gathered a night early
    weekday = (first.target - DAY).weekday()
    dues = walked_of(found(case, nights=every_night(loud_on=weekday)).dues[case.key])
    assert dues[0] == replace(first, target=first.target - DAY)
    early = replace(case, fixed=((first.work, first.target - DAY),))
    again = [d for d in once_walked(early) if d.target > first.target - DAY]
    assert [(d.work, d.target) for d in dues[1:]] == [(d.work, d.target) for d in again]


def test_a_rung_the_site_has_no_night_for_is_told_and_done_without() -> None:
    case = worn(readings=read_down(46.0))
    free = walked_of(found(case).dues[case.key])
    assert any(due.work is Work.REPOLISH for due in free)
    dustless = every_night(frozenset({"wet", "loud"}))
    dues = walked_of(found(case, nights=dustless).dues[case.key])
    polish = [due for due in dues if due.work is Work.REPOLISH]
    assert len(polish) == 1
    assert len(dues) > 1
    assert all("dust" not in due.needs for due in dues if due not in polish)


def test_a_zone_keeps_what_stands_while_a_fresh_look_agrees_with_it() -> None:
    case = worn(every=28)
    fresh = once_walked(case)
    moved = [
        replace(d, earliest=d.earliest - 2 * DAY, target=d.target - 2 * DAY, latest=d.latest)
        for d in fresh
    ]
    stands = tuple(visit("NORTH", due.target, due) for due in moved)
    kept = walked_of(found(case, movable=stands).dues[case.key])
    assert kept[: len(moved)] == moved
    assert len(kept) == len(moved)
    far = tuple(visit("NORTH", d.target - 40 * DAY, d) for d in fresh)
    assert walked_of(found(case, movable=far).dues[case.key]) == list(fresh)


def test_work_too_long_for_one_night_is_due_once_and_waited_for() -> None:
    case = worn(readings=read_down(46.0), zone=a_zone(area_m2=800.0))
    first = once_walked(case)[0]
    assert first.work is Work.REPOLISH
    result = walked_of(found(case, nights=every_night()).dues[case.key])
    polish = [due for due in result if due.work is Work.REPOLISH]
    assert polish == [first]
    # it takes a fortnight, and no coat is laid on the floor that is being polished
    assert min(due.target for due in result if due is not polish[0]) > first.target + 40 * DAY


def test_a_due_that_goes_with_a_milder_one_s_night_is_due_on_that_night() -> None:
    case = worn(readings=read_down(47.6))
    _, _, fine, coat, *_ = once_walked(case)
    assert (fine.work, coat.work) == (Work.FINE_BURNISH, Work.RECOAT)
    assert coat.earliest <= fine.target < coat.target
    dues = walked_of(found(case).dues[case.key])
    assert (Work.RECOAT, fine.target) in {(due.work, due.target) for due in dues}
    assert (Work.FINE_BURNISH, fine.target) not in {(due.work, due.target) for due in dues}
