from datetime import date

import pytest

from floorcare.ground.trade.crew import Absence, Crew, CrewMember, Qualification, Shift, Worker
from tests.builders import DAY, TODAY, WEEKNIGHTS


def a_shift(starts: int = 22 * 60, ends: int = 6 * 60, **more: object) -> Shift:
    whole = {"weekdays": WEEKNIGHTS, "starts_minute": starts, "ends_minute": ends, **more}
    return Shift(**whole)  # type: ignore[arg-type]


def test_a_qualification_holds_from_its_first_day_to_its_last() -> None:
    lift = Qualification(name="lift truck", from_on=date(2025, 3, 1), expires_on=date(2026, 2, 28))
    days = (date(2025, 2, 28), date(2025, 3, 1), date(2026, 2, 28), date(2026, 3, 1))
    assert [lift.holds_on(day) for day in days] == [False, True, True, False]


def test_a_qualification_without_expiry_never_runs_out() -> None:
    first_aid = Qualification(name="first aid", from_on=date(2020, 1, 1))
    assert first_aid.holds_on(date(2060, 1, 1))
    assert not first_aid.holds_on(date(2019, 12, 31))


def test_a_worker_holds_what_one_of_several_papers_of_that_name_covers() -> None:
    old = Qualification(name="badge", from_on=date(2024, 1, 1), expires_on=date(2024, 12, 31))
    new = Qualification(name="badge", from_on=date(2026, 1, 1))
    worker = Worker(code="W1", name="Ada K.", branch="EAST", qualifications=(old, new))
    days = (date(2024, 6, 1), date(2025, 6, 1), date(2026, 6, 1))
    assert [worker.holds("badge", day) for day in days] == [True, False, True]
    assert not worker.holds("Badge of another site", date(2024, 6, 1))


def test_a_worker_is_with_the_branch_between_joining_and_leaving() -> None:
    worker = Worker(code="W1", name="Ada K.", branch="EAST", from_on=TODAY, to_on=TODAY + 2 * DAY)
    assert [worker.works_on(TODAY + n * DAY) for n in (-1, 0, 2, 3)] == [False, True, True, False]
    assert Worker(code="W2", name="Bo L.", branch="EAST").works_on(date(1990, 1, 1))


def test_a_shift_over_midnight_is_as_long_as_the_clock_says_and_ends_the_next_morning() -> None:
    night, day = a_shift(22 * 60, 6 * 60), a_shift(8 * 60, 16 * 60 + 30)
    assert (night.minutes, night.last_minute) == (480, 30 * 60)
    assert (day.minutes, day.last_minute) == (510, 16 * 60 + 30)
    whole = a_shift(18 * 60, 18 * 60)
    assert (whole.minutes, whole.last_minute) == (1440, 42 * 60)


def test_a_shift_belongs_to_the_date_it_starts_on() -> None:
    shift = a_shift(weekdays=frozenset({4}))
    friday = date(2026, 3, 6)
    assert shift.starts_on(friday)
    assert not shift.starts_on(friday + DAY), "its hours after midnight are Friday's"


def test_a_shift_holds_between_its_dates() -> None:
    shift = a_shift(from_on=TODAY, to_on=TODAY + DAY)
    assert [shift.starts_on(TODAY + n * DAY) for n in (-3, 0, 1, 2)] == [False, True, True, False]


@pytest.mark.parametrize("weekdays", [frozenset(), frozenset({7}), frozenset({-1, 2})])
def test_a_shift_on_no_weekday_is_refused(weekdays: frozenset[int]) -> None:
    with pytest.raises(ValueError, match="needs weekdays 0"):
        a_shift(weekdays=weekdays)


@pytest.mark.parametrize("minutes", [-1, 480, 900])
def test_a_break_that_leaves_no_work_is_refused(minutes: int) -> None:
    with pytest.raises(ValueError, match=f"break of {minutes} min in a shift of 480"):
        a_shift(break_minutes=minutes)
    assert a_shift(break_minutes=479).break_minutes == 479


def test_a_crew_has_the_members_and_the_first_shift_of_the_day() -> None:
    early, late = a_shift(weekdays=frozenset({0})), a_shift(20 * 60, 4 * 60)
    crew = Crew(
        code="E1",
        branch="EAST",
        name="East 1",
        members=(
            CrewMember(worker="W1", from_on=date(2025, 1, 1), to_on=TODAY),
            CrewMember(worker="W2", from_on=date(2025, 1, 1)),
            CrewMember(worker="W3", from_on=TODAY + DAY),
        ),
        shifts=(early, late),
    )
    assert crew.members_on(TODAY) == ("W1", "W2")
    assert crew.members_on(TODAY + DAY) == ("W2", "W3")
    assert crew.members_on(date(2024, 12, 31)) == ()
    assert crew.shift_on(TODAY) is early, "a Monday"
    assert crew.shift_on(TODAY + DAY) is late
    assert crew.shift_on(TODAY + 5 * DAY) is None


@pytest.mark.parametrize(
    "backwards",
    [
        lambda: Qualification(name="q", from_on=date(2026, 3, 2), expires_on=date(2026, 3, 1)),
        lambda: CrewMember(worker="W", from_on=date(2026, 3, 2), to_on=date(2026, 3, 1)),
        lambda: Worker(
            code="W", name="W", branch="B", from_on=date(2026, 3, 2), to_on=date(2026, 3, 1)
        ),
    ],
)
def test_days_of_people_that_run_backwards_are_refused(backwards):
    with pytest.raises(ValueError, match="before it starts"):
        backwards()


def test_an_absent_worker_works_on_neither_end_of_the_absence() -> None:
    away = Absence(from_on=TODAY, to_on=TODAY + DAY, why="sick")
    worker = Worker(code="W1", name="Ada K.", branch="EAST", absences=(away,))
    assert [worker.works_on(TODAY + n * DAY) for n in (-1, 0, 1, 2)] == [True, False, False, True]
