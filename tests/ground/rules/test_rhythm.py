from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.rhythm import COVERED_DAYS, OVERDUE_SLACK_DAYS, cap_dues, rhythm_dues
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import BEGUN, DAY, TODAY, a_book, a_case, a_zone, routinely

QUARTERLY = "FREQ=MONTHLY;INTERVAL=3"


def done(work: Work, on: date) -> TreatmentDone:
    return TreatmentDone(work=work, done_on=on)


def case_of(*routines: Routine, days: int = 365, **book: object) -> ZoneCase:
    return a_case(a_book(routines=routines, **book), days=days)


def targets(dues: tuple[Due, ...]) -> list[date]:
    return [due.target for due in dues]


def test_our_own_habit_runs_on_from_when_it_was_last_done() -> None:
    habit = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2025, 7, 1))
    on_time = case_of(habit, done=(done(Work.RECOAT, date(2026, 1, 1)),))
    assert targets(rhythm_dues(on_time))[:2] == [date(2026, 4, 1), date(2026, 7, 1)]
    late = case_of(habit, done=(done(Work.RECOAT, date(2026, 1, 20)),))
    assert targets(rhythm_dues(late))[:2] == [date(2026, 4, 20), date(2026, 7, 20)]


def test_a_promised_rhythm_keeps_its_dates_however_late_the_last_one_was() -> None:
    sold = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2025, 7, 1), promised=True)
    for last in (date(2026, 1, 1), date(2026, 1, 20)):
        case = case_of(sold, done=(done(Work.RECOAT, last),))
        assert targets(rhythm_dues(case))[:2] == [date(2026, 4, 1), date(2026, 7, 1)]


def test_a_promised_date_close_behind_the_last_time_is_met_by_it() -> None:
    sold = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2025, 7, 1), promised=True)
    # done ten days early: that was the April date
    case = case_of(sold, done=(done(Work.RECOAT, date(2026, 2, 27)),), days=200)
    assert targets(rhythm_dues(case)) == [date(2026, 7, 1)]


@pytest.mark.parametrize("promised", [True, False])
def test_overdue_work_comes_on_the_first_night_once_with_a_few_days_for_company(
    promised: bool,
) -> None:
    rhythm = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2025, 7, 1), promised=promised)
    case = case_of(rhythm, done=(done(Work.RECOAT, date(2025, 7, 1)),))
    first, second, *_ = rhythm_dues(case)
    assert (first.earliest, first.target) == (case.first_night, case.first_night)
    assert first.latest == case.first_night + OVERDUE_SLACK_DAYS * DAY
    assert first.reason.inside.endswith("was due 1 January 2026.")
    # the promise goes on by its dates, the habit from the night it is made good
    assert second.target == (date(2026, 4, 1) if promised else date(2026, 6, 3))


def test_work_may_come_a_tenth_of_its_gap_early_or_late_but_no_more_than_a_fortnight() -> None:
    for rule, slack in ((QUARTERLY, 9), ("FREQ=YEARLY", 14), ("FREQ=WEEKLY;INTERVAL=2", 1)):
        habit = routinely(Work.RECOAT, rule, starts_on=TODAY - 3 * DAY)
        due = rhythm_dues(case_of(habit, days=400))[0]
        assert due.target - due.earliest == slack * DAY
        assert due.latest - due.target == slack * DAY


def test_standing_rounds_and_what_others_do_are_no_dues() -> None:
    ours = routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU")
    theirs = routinely(Work.RECOAT, QUARTERLY, by=Performer.OTHER)
    team = routinely(Work.CLEAN, "FREQ=DAILY", by=Performer.SITE_TEAM)
    assert rhythm_dues(case_of(ours, theirs, team)) == ()
    fortnightly = routinely(
        Work.BURNISH, "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU", starts_on=TODAY - 6 * DAY
    )
    assert len(rhythm_dues(case_of(fortnightly, days=100))) == 7


def test_a_visit_that_stands_moves_the_habit_on() -> None:
    habit = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2026, 1, 1))
    ahead = done(Work.RECOAT, date(2026, 4, 10))
    case = a_case(a_book(routines=(habit,)), days=365, standing=(ahead,))
    assert targets(rhythm_dues(case))[0] == date(2026, 7, 10)


def stood(*nights: date, promised: bool = False) -> list[date]:
    """Targets of a quarterly recoat, last done on 1 January, with visits standing on these."""
    rhythm = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2025, 7, 1), promised=promised)
    book = a_book(routines=(rhythm,), done=(done(Work.RECOAT, date(2026, 1, 1)),))
    ahead = tuple(done(Work.RECOAT, on) for on in nights)
    return targets(rhythm_dues(a_case(book, days=365, standing=ahead)))


def test_a_visit_that_stands_far_off_leaves_what_comes_before_it_due() -> None:
    spring, summer, autumn = date(2026, 4, 1), date(2026, 7, 1), date(2026, 10, 1)
    assert stood()[:3] == [spring, summer, autumn]
    assert stood(autumn)[:3] == [spring, summer, date(2027, 1, 1)]
    assert stood(date(2026, 7, 8))[:2] == [spring, date(2026, 10, 8)]
    assert stood(summer, date(2026, 4, 6)) == [autumn, date(2027, 1, 1)]
    assert stood(date(2026, 7, 8), promised=True)[:2] == [spring, autumn]


def test_a_visit_that_stands_half_a_gap_late_is_not_waited_for() -> None:
    assert stood(date(2026, 5, 14))[0] == date(2026, 8, 14)
    assert stood(date(2026, 5, 20))[:2] == [date(2026, 4, 1), date(2026, 8, 20)]


def test_typed_minutes_outrank_the_rates() -> None:
    typed = routinely(Work.RECOAT, QUARTERLY, minutes=77)
    assert {due.minutes for due in rhythm_dues(case_of(typed))} == {77}


def test_a_rhythm_ends_with_its_last_day_and_leaves_its_exceptions_out() -> None:
    habit = routinely(
        Work.RECOAT,
        "FREQ=MONTHLY",
        starts_on=date(2026, 2, 25),
        ends_on=date(2026, 6, 1),
        except_on=(date(2026, 4, 25),),
    )
    assert targets(rhythm_dues(case_of(habit))) == [date(2026, 3, 25), date(2026, 5, 25)]


def test_a_habit_s_milder_work_is_left_out_near_a_harder_one_but_a_promised_date_is_kept() -> None:
    monthly = routinely(Work.BURNISH, "FREQ=MONTHLY", starts_on=date(2026, 2, 10))
    recoat = routinely(Work.RECOAT, "FREQ=YEARLY", starts_on=date(2025, 7, 10))

    def burnishes(habit: Routine) -> list[date]:
        dues = rhythm_dues(case_of(habit, recoat, days=240))
        return [due.target for due in dues if due.work is Work.BURNISH]

    tenths = [date(2026, month, 10) for month in range(3, 11)]
    near = [day for day in tenths if abs((day - date(2026, 7, 10)).days) <= COVERED_DAYS]
    assert len(near) == 3
    assert burnishes(monthly) == [day for day in tenths if day not in near]
    assert burnishes(replace(monthly, promised=True)) == tenths
    # cleaning is not made needless by a coat
    clean = routinely(Work.CLEAN, "FREQ=MONTHLY", starts_on=date(2026, 2, 10))
    dues = rhythm_dues(case_of(clean, recoat, days=240))
    assert [due.target for due in dues if due.work is Work.CLEAN] == tenths


def test_even_a_set_rhythm_waits_for_the_age_of_new_concrete() -> None:
    poured = TODAY - 5 * DAY
    zone = a_zone(from_on=poured, poured_on=poured)
    fortnightly = routinely(Work.BURNISH, "FREQ=WEEKLY;INTERVAL=2", starts_on=poured)
    dues = rhythm_dues(case_of(fortnightly, zone=zone, days=60))
    assert min(due.earliest for due in dues) == poured + 28 * DAY
    assert targets(dues)[0] == poured + 28 * DAY
    assert len(set(targets(dues))) == len(dues)
    scrub = routinely(Work.CLEAN, "FREQ=WEEKLY;INTERVAL=2", starts_on=poured)
    assert targets(rhythm_dues(case_of(scrub, zone=zone, days=60)))[0] == poured + 14 * DAY


def test_the_reason_names_the_rhythm_and_doubts_a_date_known_about() -> None:
    about = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2026, 1, 1), about_days=10)
    due = rhythm_dues(case_of(about))[0]
    assert due.reason.inside == (
        "Protector coat for Hall B: our own rhythm, last done 1 January 2026 or thereabouts, "
        "due 1 April 2026."
    )
    sold = routinely(Work.RECOAT, QUARTERLY, starts_on=date(2026, 1, 1), promised=True)
    assert "promised rhythm" in rhythm_dues(case_of(sold))[0].reason.inside


def capped(case: ZoneCase, rhythm: tuple[Due, ...] = ()) -> tuple[Due, ...]:
    return cap_dues(case, (Work.BURNISH, Work.RECOAT, Work.REPOLISH), rhythm)


def test_without_wear_and_rhythm_the_calendar_cap_asks() -> None:
    case = a_case(a_book(routines=(), done=(done(Work.RECOAT, date(2024, 6, 1)),)), days=365)
    dues = capped(case)
    assert [due.work for due in dues] == [Work.RECOAT]
    assert dues[0].target == date(2026, 6, 1)  # 730 days after
    assert dues[0].reason.rule == "calendar cap"
    assert dues[0].reason.inside == (
        "Protector coat for Hall B: last done 1 June 2024; at the latest by 1 June 2026 "
        "(730 days), even where wear is slow."
    )


def test_a_cap_that_ran_out_comes_on_the_first_night() -> None:
    case = a_case(a_book(routines=(), done=(done(Work.RECOAT, date(2023, 6, 1)),)))
    assert capped(case)[0].target == case.first_night


def test_a_rung_is_not_capped_where_its_own_rhythm_or_a_harder_rung_s_comes() -> None:
    burnish = routinely(Work.BURNISH, "FREQ=MONTHLY")
    case = case_of(burnish, zone=a_zone(from_on=BEGUN))
    rhythm = rhythm_dues(case)
    assert [due.work for due in capped(case, rhythm)] == []
    habit = routinely(Work.REPOLISH, "FREQ=YEARLY", starts_on=date(2025, 5, 1))
    old = case_of(habit, done=(done(Work.RECOAT, date(2024, 6, 1)),))
    assert capped(old, rhythm_dues(old)) == ()


def test_a_missed_routine_does_not_hold_the_cap_back() -> None:
    missed = routinely(Work.BURNISH, "FREQ=WEEKLY", proof=Proof.KNOWN_MISSED)
    case = case_of(missed)
    assert Work.BURNISH in [due.work for due in capped(case)]
