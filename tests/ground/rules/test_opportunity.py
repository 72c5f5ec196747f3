from collections import Counter
from datetime import date

from floorcare.ground.rules.opportunity import decision_weekday, opportunities
from floorcare.ground.worktime.site_time import Night
from tests.builders import DAY, TODAY, WEEKNIGHTS, a_night

WEDNESDAYS = "123456789"
"""A site code whose decisions fall on Wednesdays."""


def nights(shut: date | None = None) -> list[Night]:
    dates = (TODAY + ahead * DAY for ahead in range(1, 71))
    return [a_night(on) for on in dates if on.weekday() in WEEKNIGHTS and on != shut]


def monday_of(on: date) -> date:
    return on - on.weekday() * DAY


def test_there_is_one_night_of_decision_a_week_and_always_the_same_weekday() -> None:
    found = opportunities(WEDNESDAYS, nights(), WEEKNIGHTS)
    assert list(found) == sorted(found)
    weeks = Counter(monday_of(on) for on in found)
    assert set(weeks.values()) == {1}
    assert len(weeks) == len({monday_of(n.on) for n in nights()})
    # the first and the last week may be cut before or after their Wednesday
    assert {on.weekday() for on in found[1:-1]} == {2}


def test_a_site_keeps_its_weekday_whatever_other_sites_there_are() -> None:
    # the published check value of CRC-32, 0xCBF43926 for "123456789", leaves 2 when divided by 5
    assert decision_weekday(WEDNESDAYS, WEEKNIGHTS) == 2
    assert decision_weekday(WEDNESDAYS, frozenset({1, 3, 5, 6, 4})) == 4


def test_sites_are_spread_over_the_week() -> None:
    spread = Counter(decision_weekday(f"SITE-{n}", WEEKNIGHTS) for n in range(200))
    assert set(spread) == set(WEEKNIGHTS)
    assert max(spread.values()) < 2 * 200 / 5


def test_a_shut_weekday_gives_its_week_the_nearest_open_night() -> None:
    usual = opportunities(WEDNESDAYS, nights(), WEEKNIGHTS)
    gone = usual[3]
    found = opportunities(WEDNESDAYS, nights(shut=gone), WEEKNIGHTS)
    assert [on for on in found if on != found[3]] == [on for on in usual if on != gone]
    assert monday_of(found[3]) == monday_of(gone)
    assert abs((found[3] - gone).days) == 1


def test_only_nights_on_which_a_crew_goes_out_count() -> None:
    found = opportunities(WEDNESDAYS, nights(), frozenset({5}))
    assert found == ()
    found = opportunities(WEDNESDAYS, nights(), frozenset({2}))
    assert {on.weekday() for on in found} == {2}


def test_two_windows_on_one_date_are_one_opportunity() -> None:
    twice = sorted([*nights(), *nights()], key=lambda night: night.on)
    assert opportunities(WEDNESDAYS, twice, WEEKNIGHTS) == opportunities(
        WEDNESDAYS, nights(), WEEKNIGHTS
    )
