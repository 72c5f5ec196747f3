from datetime import date

import pytest

from floorcare.ground.rules.evidence import Evidence
from floorcare.ground.rules.reasons import (
    CUSTOMER_WHY,
    WORK_NAMED,
    cap_reason,
    customer_sentence,
    days_said,
    evidence_reason,
    promise_reason,
    rejected_rungs,
    said,
)
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.treatment import Work
from tests.builders import polished

RUNGS = wear_rungs(polished())
NAN = float("nan")


def a_promise_reason(**more: object):  # type: ignore[no-untyped-def]
    own = {
        "rung": polished().methods[Work.RECOAT],
        "area": "Hall B",
        "rule": "promise at confidence",
        "promise_gu": 48.0,
        "reference_gu": 60.0,
        "last_reading": (50.0, date(2026, 3, 3)),
        "passes_between": (date(2026, 3, 20), date(2026, 4, 9)),
        "kept_probability": 0.71,
        "next_on": date(2026, 4, 2),
        "today": date(2026, 3, 12),
        "rejected": (("burnish", "would hold six days, worth taking from 14"),),
        **more,
    }
    return promise_reason(**own)  # type: ignore[arg-type]


def test_every_kind_of_work_has_a_name() -> None:
    assert set(WORK_NAMED) == set(Work)
    assert all(name[0].isupper() for name in WORK_NAMED.values())


@pytest.mark.parametrize("work", list(Work))
def test_the_customer_is_told_what_is_done_and_never_that_a_breach_is_expected(work: Work) -> None:
    sentence = customer_sentence(work, "Hall B")
    assert sentence.startswith(f"{WORK_NAMED[work]} for Hall B: ")
    assert sentence.endswith(".")
    assert not sentence.endswith("..")
    for word in ("break", "below", "promise", "GU", "breach", "fail"):
        assert word.lower() not in sentence.lower()


def test_each_rung_has_a_why_of_its_own() -> None:
    assert set(polished().ladder) <= set(CUSTOMER_WHY)
    assert len(set(CUSTOMER_WHY.values())) == len(CUSTOMER_WHY)


def test_dates_and_days_are_written_as_they_are_said() -> None:
    assert said(date(2026, 11, 26)) == "26 November 2026"
    assert days_said(0.9, 14) == "less than a day"
    assert days_said(1, 14) == "one day"
    assert days_said(12, 14) == "twelve days"
    assert days_said(13, 14) == "13 days"
    assert days_said(20, 14) == "20 days or more"


def test_the_inside_sentence_says_reading_share_dates_and_what_was_rejected() -> None:
    assert a_promise_reason().inside == (
        "Protector coat for Hall B: gloss 50 GU on 3 March 2026, 83% of reference; likely to pass "
        "80% between 20 March 2026 and 9 April 2026; burnish alone would hold six days, worth "
        "taking from 14."
    )


def test_a_later_due_says_the_probability_instead() -> None:
    reason = a_promise_reason(passes_between=None, rejected=())
    assert reason.inside == (
        "Protector coat for Hall B: forecast to keep 48 GU until 2 April 2026 with a probability "
        "of only 71%."
    )


def test_a_break_within_one_day_is_no_span() -> None:
    one = date(2026, 3, 20)
    inside = a_promise_reason(passes_between=(one, one), rejected=()).inside
    assert inside.endswith("likely to pass 80% by 20 March 2026.")


def test_a_break_of_tomorrow_is_most_likely_behind_the_floor() -> None:
    one = date(2026, 3, 13)
    inside = a_promise_reason(passes_between=(one, one), rejected=()).inside
    assert inside.endswith("most likely below 80% already.")


def test_an_edge_beyond_the_horizon_has_no_date() -> None:
    late = a_promise_reason(passes_between=(date(2026, 3, 20), None), rejected=()).inside
    assert late.endswith("likely to pass 80% from 20 March 2026 on.")
    both = a_promise_reason(passes_between=(None, None), rejected=()).inside
    assert both.endswith("may pass 80% within the year.")


def test_the_numbers_stand_as_data() -> None:
    reason = a_promise_reason()
    assert dict(reason.facts) == {
        "promise GU": 48.0,
        "reference GU": 60.0,
        "last reading GU": 50.0,
        "last reading on": "2026-03-03",
        "probability kept": 0.71,
    }
    assert reason.rejected == (("burnish", "would hold six days, worth taking from 14"),)


def test_each_milder_rung_is_rejected_with_its_own_why() -> None:
    found = rejected_rungs(RUNGS, 3, (2.0, NAN, 60.0, 400.0, NAN), escaped=False, until_next=7)
    assert found == (
        ("burnish", "would hold two days, and the next opportunity is 7 days off"),
        ("fine burnish", "not allowed yet, or its coats are used up"),
        ("recoat", "would hold 60 days, worth taking from 45"),
    )
    escaped = rejected_rungs(RUNGS, 3, (2.0, 3.0, 60.0, 400.0, NAN), escaped=True, until_next=7)
    assert escaped[2] == ("recoat", "would hold 60 days, less than a quarter of a re-polish's life")
    assert rejected_rungs(RUNGS, 0, (9.0, NAN, NAN, NAN, NAN), escaped=False, until_next=7) == ()


def test_evidence_names_the_rung_done_the_reading_and_what_was_promised() -> None:
    evidence = Evidence(
        rung=Work.RECOAT,
        after=Work.FINE_BURNISH,
        done_on=date(2026, 2, 2),
        read_on=date(2026, 2, 9),
        read_gu=44.4,
        promise_gu=48.0,
    )
    reason = evidence_reason(evidence, "Hall B")
    assert reason.rule == "evidence outranks forecast"
    assert reason.inside == (
        "Protector coat for Hall B: fine burnish on 2 February 2026 left 44 GU on "
        "9 February 2026, still below the promised 48; the next rung is due."
    )
    assert reason.customer == customer_sentence(Work.RECOAT, "Hall B")


def test_a_cap_says_when_it_was_last_done_or_that_nobody_knows() -> None:
    rung = polished().methods[Work.RECOAT]
    today = date(2026, 3, 12)
    known = cap_reason(rung, "Hall B", date(2024, 6, 1), date(2026, 6, 1), today)
    assert "last done 1 June 2024; at the latest by 1 June 2026" in known.inside
    planned = cap_reason(rung, "Hall B", date(2026, 4, 1), date(2028, 4, 1), today)
    assert "planned to be done 1 April 2026" in planned.inside
    unknown = cap_reason(rung, "Hall B", None, date(2026, 6, 1), today)
    assert "not done since care began" in unknown.inside
    assert dict(unknown.facts)["last done on"] is None


def test_where_no_opportunity_follows_the_sentence_is_still_whole() -> None:
    alone = a_promise_reason(passes_between=None, next_on=None, rejected=(), kept_probability=0.61)
    assert alone.inside.endswith("GU with a probability of only 61%.")
