from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.traffic import TrafficLevel, TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening, ZoneSpan
from floorcare.ground.wear.books.from_books import (
    LONGEST_HISTORY_DAYS,
    ORDER_IN_A_NIGHT,
    counted,
    known_spread_days,
    routine_dates,
    runs_by_itself,
    share_begun,
    thousand_passes,
    treatment_masks,
    whole_zone_dates,
    zone_start,
)
from tests.builders import BEGUN, DAY, TODAY, a_book, a_zone, polished, routinely


def done(days_ago: int, share: float = 1.0, work: Work = Work.RECOAT, **more: object):  # type: ignore[no-untyped-def]
    on = TODAY - days_ago * DAY
    return TreatmentDone(work=work, done_on=on, share=share, **more)  # type: ignore[arg-type]


def passes(days: int = 10, **book: object) -> list[float]:
    found = thousand_passes([a_book(**{"routines": (), **book})], TODAY, days)  # type: ignore[arg-type]
    assert found.shape == (1, days)
    return [round(float(each), 6) for each in found[0]]


def row(per_day: float, first: int, last: int | None, kind: str = "foot") -> TrafficRow:
    return TrafficRow(
        kind=kind,
        per_day=per_day,
        counted=True,
        from_on=TODAY + first * DAY,
        to_on=None if last is None else TODAY + last * DAY,
    )


def test_without_counts_the_level_of_the_day_s_span_is_walked() -> None:
    spans = (
        ZoneSpan(
            from_on=BEGUN,
            to_on=TODAY + 2 * DAY,
            surface="polished_concrete",
            area_m2=400.0,
            traffic=TrafficLevel.LIGHT,
        ),
        ZoneSpan(
            from_on=TODAY + 3 * DAY,
            surface="polished_concrete",
            area_m2=400.0,
            traffic=TrafficLevel.EXTREME,
        ),
    )
    zone = replace(a_zone(), spans=spans)
    assert passes(6, zone=zone) == [0.12, 0.12, 0.12, 6.0, 6.0, 6.0]


def test_before_care_began_the_first_known_level_is_the_best_guess() -> None:
    zone = a_zone(from_on=TODAY + 3 * DAY, traffic=TrafficLevel.MODERATE)
    assert passes(5, zone=zone) == [0.5] * 5


def test_traffic_rows_outrank_the_level_on_their_days_and_their_kinds_add_up_by_weight() -> None:
    traffic = (row(1000, 2, None), row(100, 4, None, "trolley"), row(10, 5, None, "lift truck"))
    assert passes(7, traffic=traffic) == [2.0, 2.0, 1.0, 1.0, 1.2, 1.4, 1.4]


def test_after_the_last_count_the_floor_is_walked_as_it_last_was() -> None:
    traffic = (row(3000, 0, 1), row(800, 2, 4), row(100, 3, 4, "pallet truck"))
    assert passes(8, traffic=traffic) == [3.0, 3.0, 0.8, 1.3, 1.3, 1.3, 1.3, 1.3]


def test_a_gap_between_counts_is_walked_as_its_level_says() -> None:
    assert passes(6, traffic=(row(500, 0, 1), row(700, 4, 5))) == [0.5, 0.5, 2.0, 2.0, 0.7, 0.7]


def grit(first: date, last: date, factor: float) -> Season:
    return Season(
        name="grit",
        from_month=first.month,
        from_day=first.day,
        to_month=last.month,
        to_day=last.day,
        factor=factor,
    )


def test_a_season_s_factor_multiplies_its_own_days_only() -> None:
    season = grit(TODAY + 2 * DAY, TODAY + 4 * DAY, 1.5)
    assert passes(7, seasons=(season,)) == [2.0, 2.0, 3.0, 3.0, 3.0, 2.0, 2.0]
    counts = (row(1000, 0, 2), row(400, 3, 6))
    found = passes(7, seasons=(season,), traffic=counts)
    assert found == [1.0, 1.0, 1.5, 0.6, 0.6, 0.4, 0.4]


def test_two_seasons_on_one_day_grind_together_and_come_again_every_year() -> None:
    salt = grit(TODAY - 60 * DAY, TODAY, 2.0)
    seasons = (salt, grit(TODAY, TODAY + DAY, 1.5))
    year = passes(367, seasons=seasons)
    assert year[:3] == [6.0, 3.0, 2.0]
    assert (year[365], year[366]) == (6.0, 3.0)
    assert year[200] == 2.0
    assert year[320] == 4.0, "salt from January on, a year later"
    assert sum(year) == pytest.approx(367 * 2.0 + 2 * 4.0 + 2 * 1.0 + 60 * 2.0)


def test_a_season_leaves_other_zones_alone() -> None:
    books = [a_book(seasons=(grit(TODAY, TODAY, 3.0),)), a_book()]
    assert thousand_passes(books, TODAY, 2).tolist() == [[6.0, 2.0], [2.0, 2.0]]


def test_one_counted_row_makes_a_zone_counted() -> None:
    guessed = replace(row(500, 0, None), counted=False)
    books = [a_book(), a_book(traffic=(guessed,)), a_book(traffic=(guessed, row(1, 0, 1)))]
    assert counted(books).tolist() == [False, False, True]


def test_parts_within_a_fortnight_make_a_whole_on_the_day_of_the_part_that_completes_it() -> None:
    def on(ago: int) -> date:
        return TODAY - ago * DAY

    assert whole_zone_dates([done(20, 0.5), done(10, 0.4)], Work.RECOAT) == (on(10),)
    assert whole_zone_dates([done(10, 0.4), done(20, 0.5)], Work.RECOAT) == (on(10),)
    assert whole_zone_dates([done(20, 0.5), done(10, 0.39)], Work.RECOAT) == ()
    assert whole_zone_dates([done(24, 0.5), done(10, 0.5)], Work.RECOAT) == (on(10),)
    assert whole_zone_dates([done(25, 0.5), done(10, 0.5)], Work.RECOAT) == ()
    assert whole_zone_dates([done(9, 0.5), done(8), done(7, 0.5)], Work.RECOAT) == (on(8),)
    assert whole_zone_dates([done(9), done(8, work=Work.BURNISH)], Work.BURNISH) == (on(8),)


def test_thirds_that_add_up_to_nine_tenths_in_binary_count_as_whole() -> None:
    assert len(whole_zone_dates([done(n, 0.3) for n in (3, 2, 1)], Work.RECOAT)) == 1


def test_the_share_begun_is_what_recent_parts_cover_and_nothing_once_whole() -> None:
    assert share_begun([done(3, 0.25), done(2, 0.25)], Work.RECOAT, TODAY) == pytest.approx(0.5)
    assert share_begun([done(3, 0.5), done(2, 0.5)], Work.RECOAT, TODAY) == 0
    assert share_begun([done(15, 0.5)], Work.RECOAT, TODAY) == 0
    assert share_begun([done(14, 0.5)], Work.RECOAT, TODAY) == 0.5
    assert share_begun([done(9), done(2, 0.5)], Work.RECOAT, TODAY) == 0.5
    assert share_begun([done(2, 0.5)], Work.BURNISH, TODAY) == 0


def test_a_zone_s_life_begins_with_its_polish_where_that_is_dated_else_with_its_care() -> None:
    polish = BEGUN - 200 * DAY
    for opening, start in (
        (Opening.DATED, polish),
        (Opening.ABOUT, polish),
        (Opening.FRESH, BEGUN),
        (Opening.UNKNOWN, BEGUN),
    ):
        book = a_book(zone=a_zone(opening=opening, polished_on=polish))
        assert zone_start(book, TODAY) == start


def test_history_is_followed_for_three_years_at_most_and_never_begins_after_today() -> None:
    old = a_book(zone=a_zone(from_on=date(2010, 1, 1)))
    assert zone_start(old, TODAY) == TODAY - LONGEST_HISTORY_DAYS * DAY
    assert zone_start(a_book(zone=a_zone(from_on=TODAY + 30 * DAY)), TODAY) == TODAY
    poured = a_zone(poured_on=BEGUN + 9 * DAY)
    assert zone_start(a_book(zone=poured), TODAY) == BEGUN + 9 * DAY


def test_what_is_weekly_or_oftener_and_what_others_do_runs_by_itself() -> None:
    assert runs_by_itself(routinely(Work.BURNISH, "FREQ=WEEKLY"))
    assert runs_by_itself(routinely(Work.BURNISH, "FREQ=DAILY"))
    assert not runs_by_itself(routinely(Work.BURNISH, "FREQ=WEEKLY;INTERVAL=2"))
    for who in (Performer.SITE_TEAM, Performer.OTHER):
        assert runs_by_itself(routinely(Work.BURNISH, "FREQ=YEARLY", by=who))


def test_a_routine_is_believed_to_run_unless_it_is_known_to_be_missed() -> None:
    weekly = routinely(
        Work.BURNISH,
        "FREQ=WEEKLY;BYDAY=TU",
        ends_on=date(2026, 3, 24),
        except_on=(date(2026, 3, 10),),
    )
    span = (date(2026, 3, 3), date(2026, 4, 30))
    believed = (date(2026, 3, 3), date(2026, 3, 17), date(2026, 3, 24))
    for proof in (Proof.CONFIRMED, Proof.REPORTED, Proof.ASSUMED):
        assert routine_dates(replace(weekly, proof=proof), *span) == believed
    assert routine_dates(replace(weekly, proof=Proof.KNOWN_MISSED), *span) == ()


def test_masks_come_in_the_order_of_a_night_what_takes_off_before_what_lays_on() -> None:
    masks = treatment_masks([a_book()], polished(), TODAY, 10)
    works = [work for work, _, _ in masks]
    assert works == list(ORDER_IN_A_NIGHT)
    order = [Work.REPOLISH, Work.STRIP, Work.RECOAT, Work.BURNISH]
    assert [work for work in works if work in order] == order
    for work, effect, mask in masks:
        assert effect == polished().methods[work].effect
        assert mask.shape == (1, 10)
        assert mask.dtype == np.bool_


def test_a_treatment_without_effect_on_wear_has_no_mask() -> None:
    works = [work for work, _, _ in treatment_masks([a_book()], polished(), TODAY, 3)]
    assert Work.CLEAN not in works
    assert Work.DENSIFY not in works


def on_days(work: Work, **more: object) -> list[list[int]]:
    books = [
        a_book("A", done=(done(-2), done(-4, 0.5), done(-6, 0.5)), routines=()),
        a_book("B", routines=(routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=FR"),)),
        a_book("C", routines=(routinely(Work.BURNISH, "FREQ=MONTHLY;BYMONTHDAY=5"),)),
    ]
    for each, _, mask in treatment_masks(books, polished(), TODAY, 12, **more):  # type: ignore[arg-type]
        if each is work:
            return [np.flatnonzero(row).tolist() for row in mask]
    raise AssertionError(work)


def test_masks_hold_whole_treatments_routines_that_run_by_themselves_and_what_is_laid_on_top() -> (
    None
):
    assert on_days(Work.RECOAT) == [[2, 6], [], []]
    assert on_days(Work.BURNISH) == [[], [4, 11], []]
    assert on_days(Work.RECOAT, recorded=False) == [[], [], []]
    extra = [(2, Work.RECOAT, TODAY + 3 * DAY), (2, Work.RECOAT, TODAY + 300 * DAY)]
    assert on_days(Work.RECOAT, extra=extra) == [[2, 6], [], [3]]


def test_a_date_is_known_as_badly_as_the_widest_doubt_that_was_typed() -> None:
    about = done(90, known=DateKnown.ABOUT, about_days=21)
    sure = done(60, known=DateKnown.KNOWN, about_days=99)
    assert known_spread_days(a_book(done=(sure,))) == 0
    assert known_spread_days(a_book(done=(about, sure))) == 21
    zone = a_zone(opening=Opening.ABOUT, about_days=30, polished_on=BEGUN)
    assert known_spread_days(a_book(zone=zone, done=(about,))) == 30
