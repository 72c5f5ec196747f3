from dataclasses import replace
from datetime import date

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.seasons import (
    SEASON_FACT,
    SEASON_RULES,
    drawn_before_seasons,
    season_dues,
    spans_of,
)
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import DAY, TODAY, a_book, a_case, a_due, a_zone, polished, routinely

GRIT = Season(name="grit", from_month=11, from_day=1, to_month=3, to_day=31, factor=1.5)
"""Over the new year; today, 2 March 2026, lies in it."""
LEAVES = Season(name="leaves", from_month=5, from_day=1, to_month=5, to_day=31, factor=1.2)


def a_site(*seasons: Season, days: int = 180, **more: object) -> ZoneCase:
    own = {"routines": (), "promises": (), "seasons": seasons, **more}
    return a_case(a_book(**own), days=days)


def due_on(on: date, work: Work = Work.RECOAT, **more: object) -> Due:
    return a_due(work, target=on, **more)  # type: ignore[arg-type]


def test_spans_run_over_the_new_year_and_only_those_that_touch_count() -> None:
    assert spans_of(GRIT, TODAY, TODAY) == ((date(2025, 11, 1), date(2026, 3, 31)),)
    assert spans_of(GRIT, date(2026, 4, 1), date(2026, 10, 31)) == ()
    assert spans_of(GRIT, date(2026, 3, 31), date(2026, 11, 1)) == (
        (date(2025, 11, 1), date(2026, 3, 31)),
        (date(2026, 11, 1), date(2027, 3, 31)),
    )
    assert spans_of(LEAVES, TODAY, date(2026, 12, 31)) == ((date(2026, 5, 1), date(2026, 5, 31)),)


def test_a_29th_of_february_ends_on_the_28th_in_other_years() -> None:
    leap = Season(name="salt", from_month=12, from_day=1, to_month=2, to_day=29, factor=2.0)
    assert spans_of(leap, date(2026, 2, 1), date(2026, 2, 1))[0][1] == date(2026, 2, 28)
    assert spans_of(leap, date(2028, 2, 1), date(2028, 2, 1))[0][1] == date(2028, 2, 29)


def test_a_coat_due_early_in_a_season_is_laid_on_the_last_opportunity_before_it() -> None:
    case = a_site(LEAVES)
    before = max(on for on in case.opportunities if on < date(2026, 5, 1))
    (drawn,) = drawn_before_seasons(case, [due_on(date(2026, 5, 20))])
    assert (drawn.target, drawn.latest) == (before, before)
    forward = polished().methods[Work.RECOAT].forward_days
    assert drawn.earliest == before - forward * DAY
    assert drawn.reason.rule == "promise at confidence"
    assert drawn.reason.inside == "recoat is due; laid before leaves comes in from 1 May 2026."
    assert (SEASON_FACT, "leaves") in drawn.reason.facts
    assert drawn.reason.rejected[-1] == ("recoat on 2026-05-20", "lies in the season of leaves")


def test_what_is_due_outside_a_season_late_in_it_or_is_no_coat_stays() -> None:
    long = replace(LEAVES, to_month=8)
    (rule,) = [rule for rule in SEASON_RULES if rule.before]
    late = date(2026, 5, 1) + rule.within_days * DAY
    for stays in (
        due_on(date(2026, 4, 30)),
        due_on(late),
        due_on(date(2026, 5, 20), Work.BURNISH),
        due_on(date(2026, 9, 1)),
    ):
        assert drawn_before_seasons(a_site(long), [stays]) == (stays,)
    assert drawn_before_seasons(a_site(long), [due_on(late - DAY)])[0].target < date(2026, 5, 1)


def test_a_season_that_has_begun_draws_nothing() -> None:
    begun = replace(LEAVES, from_month=3, from_day=1, to_month=4, to_day=30)
    due = due_on(TODAY + 9 * DAY)
    assert drawn_before_seasons(a_site(begun), [due]) == (due,)


def test_a_promised_rhythm_keeps_its_dates_and_our_own_does_not() -> None:
    rhythm = due_on(date(2026, 5, 20), rule="set rhythm")
    for promised in (True, False):
        habit = routinely(Work.RECOAT, "FREQ=YEARLY", promised=promised)
        (found,) = drawn_before_seasons(a_site(LEAVES, routines=(habit,)), [rhythm])
        assert (found == rhythm) is promised


def test_new_concrete_is_not_coated_before_its_age_for_any_season() -> None:
    poured = a_zone(from_on=TODAY, poured_on=date(2026, 4, 20))
    due = due_on(date(2026, 5, 20))
    assert drawn_before_seasons(a_site(LEAVES, zone=poured), [due]) == (due,)


def test_a_deep_scrub_follows_the_end_of_a_season_within_four_weeks() -> None:
    (due,) = season_dues(a_site(GRIT), ())
    assert (due.work, due.earliest, due.latest) == (
        Work.DEEP_SCRUB,
        date(2026, 4, 1),
        date(2026, 4, 28),
    )
    assert due.target == date(2026, 4, 1)
    assert due.reason.rule == "season"
    assert due.reason.inside == (
        "Deep scrub for Hall B: grit is over on 31 March 2026; what it carried in comes out within "
        "28 days."
    )


def test_a_season_that_ended_lately_is_made_good_and_one_long_over_is_not() -> None:
    def over(days: int) -> tuple[Due, ...]:
        end = TODAY - days * DAY
        season = replace(GRIT, to_month=end.month, to_day=end.day)
        return season_dues(a_site(season), ())

    (due,) = over(20)
    assert (due.target, due.latest) == (TODAY + DAY, TODAY + 8 * DAY)
    assert over(29) == ()


def test_the_same_work_or_a_harder_one_answers_a_season() -> None:
    on = date(2026, 4, 10)
    for work in (Work.DEEP_SCRUB, Work.REPOLISH, Work.STRIP):
        assert season_dues(a_site(GRIT), [due_on(on, work)]) == ()
        stands = TreatmentDone(work=work, done_on=on)
        assert season_dues(replace(a_site(GRIT), standing=(stands,)), ()) == ()
    assert len(season_dues(a_site(GRIT), [due_on(on, Work.RECOAT)])) == 1
    assert len(season_dues(a_site(GRIT), [due_on(on + 30 * DAY, Work.DEEP_SCRUB)])) == 1


def test_without_a_season_a_method_or_care_in_it_nothing_is_due() -> None:
    assert season_dues(a_site(), ()) == ()
    methods = {w: r for w, r in polished().methods.items() if w is not Work.DEEP_SCRUB}
    bare = replace(a_site(GRIT), surface=replace(polished(), methods=methods))
    assert season_dues(bare, ()) == ()
    new = a_site(GRIT, zone=a_zone(from_on=date(2026, 4, 5)))
    assert season_dues(new, ()) == ()
    assert season_dues(a_site(GRIT, days=20), ()) == ()
