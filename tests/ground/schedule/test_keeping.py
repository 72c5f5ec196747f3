from dataclasses import replace

import pytest

from floorcare.ground.rules.catalogue import RULES
from floorcare.ground.schedule.keeping import (
    EARLIER_DAYS,
    LATER_DAYS,
    NEAR_DAYS,
    WALKED_RULES,
    standing_dues,
    still_good,
)
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import DAY, TODAY, a_due
from tests.store.sample import visit


def due(days: int, work: Work = Work.RECOAT, **more: object) -> Due:
    target = TODAY + days * DAY
    return a_due(work, earliest=target - 5 * DAY, target=target, **more)  # type: ignore[arg-type]


def good(stands: int, fresh: int, **more: object) -> bool:
    standing = [(TODAY + stands * DAY, due(stands, **more))]
    return still_good(standing, [due(fresh)], TODAY) != ()


def test_the_walked_rules_are_rules_of_the_catalogue() -> None:
    assert {rule.name for rule in RULES} >= WALKED_RULES


def test_far_off_a_small_shift_of_the_forecast_moves_nothing() -> None:
    assert good(100, 100)
    assert good(100, 100 - EARLIER_DAYS)
    assert not good(100, 99 - EARLIER_DAYS)
    assert good(100, 100 + LATER_DAYS)
    assert not good(100, 101 + LATER_DAYS)


def test_near_by_a_standing_night_must_not_be_later_than_the_fresh_latest() -> None:
    assert good(NEAR_DAYS, NEAR_DAYS)
    assert not good(NEAR_DAYS, NEAR_DAYS - 1)
    assert not good(NEAR_DAYS + 1, NEAR_DAYS)
    assert good(NEAR_DAYS + EARLIER_DAYS + 1, NEAR_DAYS + 1)
    assert good(10, 20)


def test_what_came_late_for_want_of_a_night_stands_as_late_as_it_is() -> None:
    assert not good(30, 20)
    assert good(30, 20, recheck=True)


def test_another_kind_of_work_is_planned_anew_but_one_burnish_is_as_good_as_another() -> None:
    assert not good(50, 50, work=Work.REPOLISH)
    stands = [(TODAY + 50 * DAY, due(50, Work.BURNISH))]
    assert still_good(stands, [due(50, Work.FINE_BURNISH)], TODAY) != ()


def test_where_nothing_stands_or_nothing_is_due_nothing_is_kept() -> None:
    assert still_good([], [due(9)], TODAY) == ()
    assert still_good([(TODAY + 9 * DAY, due(9))], [], TODAY) == ()


def test_all_that_stands_is_kept_with_the_first_and_windows_reach_back_to_their_nights() -> None:
    first = (TODAY + 60 * DAY, due(60))
    early = (TODAY + 110 * DAY, due(120, Work.REPOLISH))
    kept = still_good([first, early], [due(62)], TODAY)
    assert [on for on, _ in kept] == [first[0], early[0]]
    assert kept[0][1] == first[1]
    assert kept[1][1].earliest == early[0]
    assert kept[1][1].target == early[1].target


def test_the_dues_that_stand_are_the_walked_ones_of_the_zone_in_order_of_night() -> None:
    recoat, polish = due(20), due(90, Work.REPOLISH)
    other = due(20, Work.RECOAT, zone="EDGE")
    reading = due(20, Work.READING_ROUND, rule="reading round")
    visits = [
        visit("NORTH", TODAY + 90 * DAY, polish),
        visit("NORTH", TODAY + 20 * DAY, recoat, other, reading),
        visit("SOUTH", TODAY + 10 * DAY, due(10, site="SOUTH")),
    ]
    assert standing_dues(visits, "NORTH", "LANE") == (
        (TODAY + 20 * DAY, recoat),
        (TODAY + 90 * DAY, polish),
    )


def test_parts_of_one_work_are_one_due_done_by_its_last_night() -> None:
    work = due(20)
    visits = [visit("NORTH", TODAY + n * DAY, work) for n in (19, 18, 20)]
    assert standing_dues(visits, "NORTH", "LANE") == ((TODAY + 20 * DAY, work),)


def test_the_rest_of_a_work_begun_is_not_kept_besides() -> None:
    visits = [visit("NORTH", TODAY + 20 * DAY, due(20)), visit("NORTH", TODAY + 90 * DAY, due(90))]
    left = standing_dues(visits, "NORTH", "LANE", {Work.RECOAT})
    assert [on for on, _ in left] == [TODAY + 90 * DAY]


@pytest.mark.parametrize("rule", sorted({rule.name for rule in RULES} - WALKED_RULES))
def test_what_is_due_by_the_calendar_is_no_walked_due(rule: str) -> None:
    base = due(20)
    by_calendar = replace(base, reason=replace(base.reason, rule=rule))
    assert standing_dues([visit("NORTH", base.target, by_calendar)], "NORTH", "LANE") == ()


def test_nothing_stands_after_a_zones_care_has_ended() -> None:
    visits = [visit("NORTH", TODAY + n * DAY, due(n)) for n in (20, 90)]
    found = standing_dues(visits, "NORTH", "LANE", ends_on=TODAY + 89 * DAY)
    assert [on for on, _ in found] == [TODAY + 20 * DAY]
