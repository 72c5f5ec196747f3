from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pytest

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import (
    Outlook,
    forecast,
    unkept_promises,
    walked_dues,
    wear_rungs,
)
from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    a_zone,
    look_promised,
    polished,
    read_down,
    slip_read,
)

DRAWS = 48


def fleet_of(*cases: ZoneCase) -> Fleet:
    zones = [(case.site, case.book) for case in cases]
    return fit_fleet(zones, polished(), TODAY, draws=DRAWS)


def dues_of(case: ZoneCase, **more: object) -> tuple[Due, ...]:
    fleet = fleet_of(case)
    days = (case.last_on - TODAY).days + 14
    return walked_dues(fleet, [case], forecast(fleet, [case], days), [0], **more)[0]  # type: ignore[arg-type]


@lru_cache(maxsize=1)
def usual() -> tuple[ZoneCase, Fleet, Outlook, tuple[Due, ...]]:
    case = a_case(a_book(readings=read_down(49.5)))
    fleet = fleet_of(case)
    ahead = forecast(fleet, [case], 194)
    return case, fleet, ahead, walked_dues(fleet, [case], ahead, [0])[0]


def test_the_wear_ladder_is_what_changes_wear_from_mild_to_hard() -> None:
    works = [rung.work for rung in wear_rungs(polished())]
    assert works == [
        Work.BURNISH,
        Work.FINE_BURNISH,
        Work.RECOAT,
        Work.REPOLISH,
        Work.FULL_RESTORATION,
    ]


def test_the_outlook_says_when_the_look_is_likely_to_be_lost() -> None:
    _, _, ahead, _ = usual()
    assert ahead.promise_gu[0] == pytest.approx(48.0)
    assert 1 <= ahead.early[0] <= ahead.median[0] <= ahead.late[0]
    assert ahead.early[0] < 60


def test_a_due_s_target_is_its_latest_night_and_it_may_come_forward_by_its_rung_s_days() -> None:
    case, _, _, dues = usual()
    assert dues
    for due in dues:
        assert due.target == due.latest
        assert due.target in case.opportunities
        forward = polished().methods[due.work].forward_days
        assert due.earliest == max(TODAY + DAY, due.target - forward * DAY)
        assert due.target <= case.last_on


def test_only_the_first_due_tells_of_reading_and_dates() -> None:
    _, _, _, dues = usual()
    assert "gloss 50 GU on 24 February 2026" in dues[0].reason.inside
    assert "likely to pass 80%" in dues[0].reason.inside
    assert len(dues) >= 2
    for due in dues[1:]:
        assert "24 February" not in due.reason.inside
        assert "with a probability of only" in due.reason.inside


def test_a_milder_reference_state_is_seen_with_less_haze() -> None:
    book = a_book(promises=(look_promised(reference_state=SurfaceState.AFTER_CLEANING),))
    case = a_case(book)
    lying = forecast(fleet_of(case), [case], 100)
    assert lying.seen_haze_kept[0] == 1.0
    assert usual()[2].seen_haze_kept[0] == polished().methods[Work.BURNISH].effect.haze_kept


def test_a_zone_s_outlook_and_dues_do_not_depend_on_the_other_zones() -> None:
    cases = [
        a_case(a_book("A", readings=read_down(49.5))),
        a_case(
            a_book("B", readings=read_down(55.0, fall=2.0), routines=()), site="SOUTH", every=10
        ),
        a_case(a_book("C", readings=read_down(30.0), promises=(look_promised(36.0),))),
    ]
    fleet = fleet_of(*cases)
    ahead = forecast(fleet, cases, 194)
    together = walked_dues(fleet, cases, ahead, [0, 1, 2])
    assert all(together[z] for z in range(3))
    for z, case in enumerate(cases):
        assert dues_of(case) == together[z]
    # and the order of the zones changes nothing either
    back = cases[::-1]
    fleet = fleet_of(*back)
    turned = walked_dues(fleet, back, forecast(fleet, back, 194), [0, 1, 2])
    assert [turned[2 - z] for z in range(3)] == [together[z] for z in range(3)]


def test_the_zones_not_asked_for_get_no_dues() -> None:
    case, fleet, ahead, _ = usual()
    assert walked_dues(fleet, [case], ahead, []) == {}


def failed_rung(**more: object) -> ZoneBook:
    done = TreatmentDone(work=Work.FINE_BURNISH, done_on=TODAY - 10 * DAY)
    return a_book(readings=read_down(46.0, fall=1.2), **{"done": (done,), **more})


def test_evidence_asks_for_the_next_rung_on_the_first_night() -> None:
    case = a_case(failed_rung())
    due = dues_of(case)[0]
    assert (due.work, due.target) == (Work.RECOAT, case.opportunities[0])
    assert due.reason.rule == "evidence outranks forecast"
    late = replace(
        case.book, done=(TreatmentDone(work=Work.FINE_BURNISH, done_on=TODAY - 27 * DAY),)
    )
    assert dues_of(a_case(late))[0].reason.rule != "evidence outranks forecast"


def test_evidence_is_not_answered_twice_where_a_visit_stands_for_it() -> None:
    for stands, rule in ((Work.RECOAT, False), (Work.REPOLISH, False), (Work.FINE_BURNISH, True)):
        ahead = TreatmentDone(work=stands, done_on=TODAY + 3 * DAY)
        dues = dues_of(a_case(failed_rung(), standing=(ahead,), days=40))
        assert ("evidence outranks forecast" in {d.reason.rule for d in dues}) == rule


def test_a_guarded_zone_is_due_for_no_rung() -> None:
    readings = (*read_down(46.0), slip_read(TODAY - 3 * DAY, 0.35))
    assert dues_of(a_case(a_book(readings=readings))) == ()
    assert dues_of(a_case(a_book(readings=read_down(46.0)))) != ()


def test_a_rung_that_has_no_night_at_the_site_is_barred() -> None:
    case, _, _, free = usual()
    barred = dues_of(case, barred={0: {free[0].work}})
    assert free[0].work not in {due.work for due in barred}


def test_with_slack_work_comes_later() -> None:
    case, _, _, free = usual()
    slacker = dues_of(case, slack={0: 0.2})
    assert not slacker or slacker[0].target > free[0].target


def test_new_concrete_is_not_treated_before_its_age_not_even_early() -> None:
    poured = TODAY - 20 * DAY
    zone = a_zone(from_on=poured, poured_on=poured)
    readings = read_down(47.0, rounds=2, last_on=TODAY - 2 * DAY, fall=0.2)
    readings = tuple(r for r in readings if r.taken_on >= poured)
    dues = dues_of(a_case(a_book(zone=zone, readings=readings), days=60))
    assert dues
    assert min(due.earliest for due in dues) >= poured + 28 * DAY
    # without a pour the same floor is due at once
    older = a_zone(from_on=poured)
    assert (
        dues_of(a_case(a_book(zone=older, readings=readings), days=60))[0].earliest == TODAY + DAY
    )


def test_a_cap_waits_for_a_coat_that_is_laid_soon_after_it() -> None:
    done = (TreatmentDone(work=Work.RECOAT, done_on=TODAY - 700 * DAY),)
    zone = a_zone(from_on=TODAY - 720 * DAY)
    fine = a_book(
        zone=zone, done=done, readings=read_down(58.0, fall=0.1), promises=(look_promised(40.0),)
    )
    capped = dues_of(a_case(fine, days=90))
    assert [(d.work, d.reason.rule) for d in capped] == [(Work.RECOAT, "calendar cap")]
    cap_on = TODAY + 30 * DAY
    assert capped[0].target <= cap_on < capped[0].target + 7 * DAY
    assert "(730 days)" in capped[0].reason.inside
    waiting = a_case(fine, days=90, fixed=((Work.RECOAT, TODAY + 60 * DAY),))
    assert dues_of(waiting) == ()
    too_late = a_case(fine, days=90, fixed=((Work.RECOAT, cap_on + 43 * DAY),))
    assert [d.work for d in dues_of(too_late)] == [Work.RECOAT]


def test_a_floor_that_keeps_its_look_is_due_for_nothing() -> None:
    book = a_book(readings=read_down(58.0, fall=0.0), promises=(look_promised(40.0),))
    assert dues_of(a_case(book, days=120)) == ()


def test_where_no_look_is_promised_the_outlook_is_silent() -> None:
    case = a_case(a_book(promises=()))
    ahead = forecast(fleet_of(case), [case], 60)
    assert np.isnan(ahead.promise_gu[0])
    assert np.isnan(ahead.early[0])
    assert ahead.evidence == (None,)
    assert case.book.promise_on(TODAY, PromiseKind.APPEARANCE) is None


def test_a_promise_out_of_reach_is_named_and_not_chased_every_week() -> None:
    case = a_case(a_book(zone=a_zone(area_m2=50.0), readings=read_down(36.0, fall=0.2)))
    fleet = fleet_of(case)
    ahead = forecast(fleet, [case], 194)
    found = unkept_promises(fleet, [case], ahead, [0])
    assert len(found) == 1
    assert "NORTH/LANE is out of reach" in found[0].problem
    assert found[0].weight == "asks"
    dues = walked_dues(fleet, [case], ahead, [0])[0]
    hard = [due.target for due in dues if due.work is Work.REPOLISH]
    assert hard
    assert all((later - first).days >= 45 for first, later in pairwise(hard))


def test_a_promise_within_reach_raises_no_question() -> None:
    case, fleet, ahead, _ = usual()
    assert unkept_promises(fleet, [case], ahead, [0]) == ()
    assert unkept_promises(fleet, [case], ahead, []) == ()
