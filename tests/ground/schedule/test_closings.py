from datetime import date, timedelta

from floorcare.findings import Reason
from floorcare.ground.schedule.closings import (
    attendances,
    surface_of,
    true_closings,
    visit_closings,
)
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit, VisitLine
from tests.builders import a_book, a_site_book, polished

SURFACES = {"polished_concrete": polished()}


def recoat_on(night: date, starts_minute: int = 1320) -> Visit:
    """A visit that recoats 120 m² of the lane."""
    due = Due(
        site="NORTH",
        zone="LANE",
        work=Work.RECOAT,
        earliest=night,
        target=night,
        latest=night,
        minutes=300,
        area_m2=120.0,
        needs=frozenset(),
        reason=Reason(rule="set rhythm", inside="Due.", customer="Due."),
    )
    line = VisitLine(zone="LANE", work=Work.RECOAT, minutes=300, area_m2=120.0, due=due)
    return Visit(
        uuid="v",
        site="NORTH",
        night=night,
        starts_minute=starts_minute,
        minutes=240,
        people=2,
        lines=(line,),
    )


def test_on_an_ordinary_night_the_clock_shows_the_true_length():
    (closing,) = visit_closings(
        recoat_on(date(2026, 3, 3)), a_site_book("NORTH", a_book()), SURFACES
    )
    assert closing.closes_minute < closing.starts_minute < closing.ends_minute
    assert closing.ends_minute <= closing.reopens_minute


def test_a_reopening_behind_the_spring_change_is_shown_an_hour_later_and_in_autumn_earlier():
    # New York: 2:00 becomes 3:00 on 8 March 2026, and 2:00 becomes 1:00 on 1 November 2026
    visit = recoat_on(date(2026, 3, 7), starts_minute=1500)
    book = a_site_book("NORTH", a_book())
    ordinary = visit_closings(recoat_on(date(2026, 3, 3), 1500), book, SURFACES)[0]
    spring = visit_closings(visit, book, SURFACES)[0]
    autumn = visit_closings(recoat_on(date(2026, 10, 31), 1500), book, SURFACES)[0]
    assert ordinary.reopens_minute > 1440 + 120  # the work runs over two in the morning
    assert spring.reopens_minute == ordinary.reopens_minute + 60
    assert autumn.reopens_minute == ordinary.reopens_minute - 60
    assert spring.closes_minute == ordinary.closes_minute
    assert spring.steps[-1].ends_minute == spring.ends_minute


def test_a_zone_whose_care_has_ended_keeps_its_last_surface():
    book = a_book()
    assert surface_of(book, recoat_on(date(2099, 1, 1)), SURFACES) is SURFACES["polished_concrete"]


def test_a_crew_of_the_week_comes_at_its_own_hour_and_for_its_part():
    book, visit = a_site_book("NORTH", a_book()), recoat_on(date(2026, 3, 3))
    (planned,) = attendances(visit, book.site)
    assert planned.zones == frozenset()
    crews = [
        Assignment(
            visit=uuid,
            crew="N-1",
            on=visit.night,
            starts_at=planned.arrives_at + timedelta(hours=hours),
            ends_at=planned.arrives_at + timedelta(hours=hours + 3),
            part=part,
            parts=2,
            zones=zones,
        )
        for uuid, hours, part, zones in (
            ("v", 2, 2, ("LANE",)),
            ("v", 1, 1, ("ELSEWHERE",)),
            ("other", 0, 1, ()),
        )
    ]
    came = attendances(visit, book.site, crews)
    assert [sorted(crew.zones) for crew in came] == [["ELSEWHERE"], ["LANE"]]
    assert came[1].arrives_at == planned.arrives_at + timedelta(hours=2)
    assert true_closings(visit, book, SURFACES, ("ELSEWHERE",)) == ()
    assert true_closings(visit, book, SURFACES, ("LANE",)) == true_closings(visit, book, SURFACES)
