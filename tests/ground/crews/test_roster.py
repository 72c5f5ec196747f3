from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.crews.roster import crew_nights, crew_nights_of, crew_order
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.crew import CrewMember
from floorcare.ground.trade.treatment import Work
from tests.builders import a_book
from tests.ground.crews.weeks import (
    MONDAY,
    TUESDAY,
    a_crew,
    a_place,
    a_shift,
    a_visit,
    a_week,
    a_worker,
)


def test_a_crew_is_out_on_the_nights_of_its_shift_with_who_is_in_it():
    moved = replace(
        a_crew("A", "ann"),
        members=(
            CrewMember(worker="ann", from_on=date(2025, 1, 1), to_on=MONDAY),
            CrewMember(worker="ada", from_on=TUESDAY),
        ),
        shifts=(a_shift(weekdays=frozenset({0, 1})),),
    )
    nights = crew_nights(a_week(crews=(moved,)))
    out = {on: [w.code for w in night.workers] for (_, on), night in nights.items()}
    # two Mondays and two Tuesdays lie within the week and the days beside it
    assert out[MONDAY] == ["ann"]
    assert out[TUESDAY] == ["ada"]
    assert {on.weekday() for on in out} == {0, 1}


def test_a_shift_is_as_long_as_it_truly_lasts():
    everyday = frozenset(range(7))
    crew = a_crew("A", "ann", shifts=(a_shift(weekdays=everyday),))
    nights = crew_nights(a_week(crews=(crew,)))
    saturday = date(2026, 3, 7)
    assert nights["A", saturday].longest_minutes == 450 - 60
    assert nights["A", MONDAY].longest_minutes == 450


def test_somebody_nobody_knows_or_who_has_left_does_not_go():
    workers = (a_worker("ann", to_on=MONDAY),)
    nights = crew_nights(a_week(crews=(a_crew("A", "ann", "ghost"),), workers=workers))
    assert nights["A", MONDAY].people == 1
    assert nights["A", TUESDAY].people == 0


def test_without_crews_as_many_unnamed_ones_go_out_on_the_branchs_nights():
    nights = crew_nights(a_week(crews=()))
    assert {(n.crew, n.name, n.people, n.longest_minutes) for n in nights.values()} == {
        ("EAST-1", "crew 1", 2, 480),
        ("EAST-2", "crew 2", 2, 480),
    }
    assert all(on.weekday() < 5 for _, on in nights)
    assert all(night.starts_at is None for night in nights.values())


def done(performer: str, on: date) -> TreatmentDone:
    return TreatmentDone(work=Work.RECOAT, done_on=on, performer=performer)


def order(*treatments: TreatmentDone) -> tuple[str, ...]:
    place = a_place(zones=(a_book(done=treatments),))
    return crew_order(a_week(places=(place,)), a_visit())


def test_crews_are_asked_by_code_but_the_one_last_there_first():
    january, february = date(2026, 1, 5), date(2026, 2, 2)
    assert order() == ("A", "B")
    assert order(done("B", january)) == ("B", "A")
    assert order(done("B CREW", january), done("somebody", february)) == ("B", "A")
    assert order(done("B", january), done("a crew", february)) == ("A", "B")
    assert order(done("B", TUESDAY + timedelta(days=1))) == ("A", "B")


def test_unnamed_crews_are_asked_by_number():
    assert crew_order(a_week(crews=()), a_visit()) == ("EAST-1", "EAST-2")


def test_a_crews_nights_come_in_order():
    nights = crew_nights(a_week())
    mine = crew_nights_of(nights, "A")
    assert [n.on for n in mine] == sorted(n.on for n in mine)
    assert {n.crew for n in mine} == {"A"}
    assert any(n.on == MONDAY for n in mine)
