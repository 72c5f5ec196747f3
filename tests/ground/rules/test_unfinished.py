import pytest

from floorcare.ground.rules.unfinished import unfinished_dues
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_case


def part(share: float, ago: int, work: Work = Work.REPOLISH) -> TreatmentDone:
    return TreatmentDone(work=work, done_on=TODAY - ago * DAY, share=share)


def test_the_rest_of_a_treatment_begun_follows_from_tomorrow_on() -> None:
    dues = unfinished_dues(a_case(a_book(done=(part(0.25, 3), part(0.25, 2)))))
    assert len(dues) == 1
    due = dues[0]
    assert due.work is Work.REPOLISH
    assert due.earliest == due.target == due.latest == TODAY + DAY
    assert due.area_m2 == pytest.approx(200.0)
    assert due.reason.rule == "work begun"
    assert due.reason.inside == (
        "Re-polish for Hall B: begun on 27 February 2026, 50% of the zone is covered; "
        "the rest follows."
    )


def test_what_covers_nine_tenths_is_finished() -> None:
    assert unfinished_dues(a_case(a_book(done=(part(0.5, 3), part(0.4, 2))))) == ()
    assert unfinished_dues(a_case(a_book(done=(part(1.0, 2),)))) == ()


def test_what_was_begun_long_ago_is_no_longer_gone_on_with() -> None:
    assert len(unfinished_dues(a_case(a_book(done=(part(0.5, 14),))))) == 1
    assert unfinished_dues(a_case(a_book(done=(part(0.5, 15),)))) == ()


def test_parts_that_stand_are_not_planned_twice() -> None:
    ahead = TreatmentDone(work=Work.REPOLISH, done_on=TODAY + 2 * DAY, share=0.5)
    case = a_case(a_book(done=(part(0.5, 2),)), standing=(ahead,))
    assert unfinished_dues(case) == ()
    less = TreatmentDone(work=Work.REPOLISH, done_on=TODAY + 2 * DAY, share=0.2)
    due = unfinished_dues(a_case(a_book(done=(part(0.5, 2),)), standing=(less,)))[0]
    assert due.area_m2 == pytest.approx(120.0)


def test_two_works_begun_are_two_dues() -> None:
    book = a_book(done=(part(0.5, 2), part(0.3, 1, Work.BURNISH)))
    assert [due.work for due in unfinished_dues(a_case(book))] == [Work.BURNISH, Work.REPOLISH]
