from dataclasses import replace
from datetime import date

from floorcare.ground.schedule.answers import SiteAnswers
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.offered import on_offered_nights
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import DAY, TODAY, a_night, nights_of, polished
from tests.ground.schedule.stood import NIGHT, due_about

SURFACES = {"LANE": polished(), "EDGE": polished()}


def site(*offered: tuple[date, str, Work], days: range = range(1, 60)) -> SiteNights:
    found = nights_of([a_night(TODAY + d * DAY) for d in days])
    return replace(found, answers=SiteAnswers(offered=frozenset(offered)))


def drawn(nights: SiteNights, *dues: Due) -> list[tuple[date, tuple[str, ...]]]:
    gathered, left = gather(dues, nights, SURFACES)
    assert left == ()
    return told(on_offered_nights(gathered, nights, SURFACES))


def told(stubs: tuple[Stub, ...]) -> list[tuple[date, tuple[str, ...]]]:
    return [(stub.night.on, tuple(f"{p.zone} {p.work}" for p in stub.lines)) for stub in stubs]


OFFER = NIGHT + 3 * DAY


def test_a_visit_goes_to_its_counter_night_inside_its_window() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    assert drawn(nights, due_about()) == [(OFFER, ("LANE recoat",))]
    assert drawn(site(), due_about()) == [(NIGHT, ("LANE recoat",))], "else to its target"


def test_of_two_counter_nights_the_earlier_is_taken_and_one_outside_the_window_is_not() -> None:
    early, late = NIGHT - 2 * DAY, NIGHT + 20 * DAY
    two = site((OFFER, "LANE", Work.RECOAT), (early, "LANE", Work.RECOAT))
    assert drawn(two, due_about()) == [(early, ("LANE recoat",))]
    assert drawn(site((late, "LANE", Work.RECOAT)), due_about()) == [(NIGHT, ("LANE recoat",))]


def test_work_that_shares_the_window_comes_along_and_work_that_does_not_stays() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    edge = due_about(zone="EDGE", work=Work.BURNISH)
    assert drawn(nights, due_about(), edge) == [(OFFER, ("EDGE burnish", "LANE recoat"))]
    tight = due_about(zone="EDGE", work=Work.BURNISH, latest=NIGHT)
    assert drawn(nights, due_about(), tight) == [
        (NIGHT, ("EDGE burnish",)),
        (OFFER, ("LANE recoat",)),
    ]


def test_on_a_night_with_a_visit_in_the_making_it_joins_that_one() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    there = due_about(zone="EDGE", work=Work.BURNISH, earliest=NIGHT + DAY, target=OFFER)
    apart = due_about(latest=NIGHT)
    assert len(drawn(site(), apart, there)) == 2
    late = replace(apart, latest=NIGHT + 4 * DAY, target=NIGHT)
    stubs = (*gather([late], nights, SURFACES)[0], *gather([there], nights, SURFACES)[0])
    assert told(on_offered_nights(stubs, nights, SURFACES)) == [
        (OFFER, ("EDGE burnish", "LANE recoat"))
    ]


def test_a_night_on_which_another_visit_stands_is_left_to_it() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    (standing,) = gather(
        [due_about(zone="EDGE", work=Work.BURNISH, earliest=OFFER, target=OFFER, latest=OFFER)],
        nights,
        SURFACES,
    )[0]
    stubs, _ = gather([due_about()], nights, SURFACES)
    assert told(on_offered_nights(stubs, nights, SURFACES, [standing])) == [
        (NIGHT, ("LANE recoat",))
    ]


def test_it_passes_no_other_work_of_its_zone() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    stubs, _ = gather([due_about()], nights, SURFACES)
    other = replace(stubs[0], night=a_night(NIGHT + 2 * DAY))
    assert told(on_offered_nights(stubs, nights, SURFACES, [other])) == [(NIGHT, ("LANE recoat",))]


def test_late_work_goes_to_a_counter_night_that_is_late_too_and_stays_marked() -> None:
    overdue = due_about(TODAY + 2 * DAY, earliest=TODAY - 5 * DAY, latest=TODAY + 3 * DAY)
    offer = TODAY + 12 * DAY
    nights = site((offer, "LANE", Work.RECOAT), days=range(6, 60))
    gathered, _ = gather([overdue], nights, SURFACES)
    assert gathered[0].night.on == TODAY + 6 * DAY
    (stub,) = on_offered_nights(gathered, nights, SURFACES)
    assert stub.night.on == offer
    assert stub.earliest == stub.latest == offer
    assert all(line.due.recheck for line in stub.lines)


def test_a_counter_night_too_short_for_the_work_is_passed_over() -> None:
    nights = site((OFFER, "LANE", Work.RECOAT))
    short = tuple(replace(n, minutes=30) if n.on == OFFER else n for n in nights.nights)
    assert drawn(replace(nights, nights=short), due_about()) == [(NIGHT, ("LANE recoat",))]
