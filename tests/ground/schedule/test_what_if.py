from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.schedule.branch_year import BranchYear, survey_branch
from floorcare.ground.schedule.what_if import next_treatment, only_zone, what_ifs
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from tests.builders import (
    TODAY,
    a_book,
    a_branch,
    a_site_book,
    a_zone,
    look_promised,
    polished,
    read_down,
)


def a_year(*zones) -> BranchYear:
    return BranchYear(
        branch=a_branch(),
        books=(a_site_book("NORTH", *zones),),
        surfaces={"polished_concrete": polished()},
        standing=(),
        today=TODAY,
        last_on=TODAY + timedelta(weeks=40),
    )


@pytest.fixture(scope="module")
def answers():
    year = only_zone(a_year(a_book(), a_book("EDGE", zone=a_zone("EDGE"))), "NORTH", "LANE")
    outlook = survey_branch(year)[0]
    return next_treatment(year), {one.supposed: one for one in what_ifs(year, outlook)}


def test_only_the_zone_asked_about_is_left(answers):
    year = only_zone(a_year(a_book(), a_book("EDGE", zone=a_zone("EDGE"))), "NORTH", "EDGE")
    assert [z.zone.code for z in year.books[0].zones] == ["EDGE"]
    assert year.standing == ()


def test_a_zone_alone_is_due_as_it_is_among_others(answers):
    due, _ = answers
    both = next_treatment(a_year(a_book(), a_book("EDGE", zone=a_zone("EDGE"), readings=())))
    assert (due.work, due.target) == (both.work, both.target)


def test_what_wears_more_never_puts_the_next_treatment_off(answers):
    due, supposed = answers
    sooner = next(w for words, w in supposed.items() if "below the estimate" in words)
    later = next(w for words, w in supposed.items() if "above the estimate" in words)
    more = next(w for words, w in supposed.items() if "more footfall" in words)
    less = next(w for words, w in supposed.items() if "less footfall" in words)
    end = date.max
    assert (sooner.by or end) <= due.target <= (later.by or end)
    assert (more.by or end) <= due.target <= (less.by or end)
    assert (sooner.by or end) < (later.by or end)


def test_more_confidence_asks_no_later(answers):
    due, supposed = answers
    surer = next(w for words, w in supposed.items() if words.startswith("the look kept with 90%"))
    bolder = next(w for words, w in supposed.items() if words.startswith("the look kept with 60%"))
    assert surer.by <= due.target <= (bolder.by or date.max)


def test_the_past_stays_as_it_was_counted():
    counted = TrafficRow(kind="foot", per_day=900.0, counted=True, from_on=date(2025, 6, 2))
    year = only_zone(a_year(a_book(traffic=(counted,))), "NORTH", "LANE")
    outlook = survey_branch(year)[0]
    for one in what_ifs(year, outlook):
        if "footfall" in one.supposed:
            assert one.work in {None, *Work}
    changed = survey_branch(
        replace(
            year,
            books=(
                replace(
                    year.books[0],
                    zones=(
                        replace(
                            year.books[0].zones[0],
                            traffic=(
                                replace(counted, to_on=TODAY - timedelta(days=1)),
                                replace(counted, from_on=TODAY, per_day=1125.0),
                            ),
                        ),
                    ),
                ),
            ),
        )
    )[0]
    # one more day of traffic is all the estimate of today may differ by
    assert changed.gloss_gu == pytest.approx(outlook.gloss_gu, abs=0.05)


def test_a_floor_nobody_reads_has_no_reading_to_suppose():
    book = a_book(readings=(), promises=(look_promised(),), routines=())
    year = only_zone(a_year(book), "NORTH", "LANE")
    supposed = [w.supposed for w in what_ifs(year, survey_branch(year)[0])]
    assert not any("reading" in words for words in supposed)
    assert any("footfall" in words for words in supposed)


def test_a_supposed_reading_is_taken_where_the_floor_was_read_before():
    year = only_zone(a_year(a_book(readings=read_down(55.0))), "NORTH", "LANE")
    words = [w.supposed for w in what_ifs(year, survey_branch(year)[0])]
    assert sum("GU today" in w for w in words) == 2
