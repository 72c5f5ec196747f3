import pytest

from floorcare.ground.schedule.round_minutes import round_minutes
from floorcare.ground.trade.routine import Performer, Routine
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_branch, a_site_book, a_zone, polished, routinely

TUESDAYS = "FREQ=WEEKLY;BYDAY=TU"


def minutes(*routines: Routine, days: int = 13, **more: object) -> dict[int, int]:
    """Crew-minutes by days from today, a Monday."""
    zone = a_book(routines=routines, **more)
    found = round_minutes(
        (a_site_book("NORTH", zone),),
        {"polished_concrete": polished()},
        a_branch(),
        today=TODAY,
        first=TODAY,
        last=TODAY + days * DAY,
    )
    return {(on - TODAY).days: each for on, each in sorted(found.items())}


def test_our_own_round_takes_its_minutes_shared_by_one_crew_on_each_of_its_nights() -> None:
    assert minutes(routinely(Work.BURNISH, TUESDAYS, minutes=61)) == {1: 31, 8: 31}
    assert minutes(routinely(Work.BURNISH, TUESDAYS, minutes=61), days=1) == {1: 31}


def test_rounds_of_one_night_add_up() -> None:
    both = (
        routinely(Work.BURNISH, TUESDAYS, minutes=60),
        routinely(Work.CLEAN, "FREQ=WEEKLY;BYDAY=TU,WE", minutes=40),
    )
    assert minutes(*both) == {1: 50, 2: 20, 8: 50, 9: 20}


@pytest.mark.parametrize("who", [Performer.SITE_TEAM, Performer.OTHER])
def test_others_rounds_and_rare_ones_take_nothing(who: Performer) -> None:
    assert minutes(routinely(Work.BURNISH, TUESDAYS, by=who, minutes=60)) == {}
    assert minutes(routinely(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10", minutes=60)) == {}


def test_a_round_without_minutes_is_reckoned_by_its_method_or_by_plain_minutes() -> None:
    by_rate = minutes(routinely(Work.BURNISH, TUESDAYS))
    assert by_rate[1] > 0
    half = a_zone(area_m2=200.0)
    assert minutes(routinely(Work.BURNISH, TUESDAYS), zone=half)[1] < by_rate[1]


def test_a_zone_out_of_care_asks_for_no_round() -> None:
    gone = a_zone(to_on=TODAY - DAY)
    assert minutes(routinely(Work.BURNISH, TUESDAYS, minutes=60), zone=gone) == {}
