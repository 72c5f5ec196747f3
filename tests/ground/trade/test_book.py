from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_site_book, look_promised, slip_promised


def test_a_promise_holds_on_both_ends_of_its_term_and_not_beside_it() -> None:
    line = look_promised(starts_on=date(2026, 1, 1), ends_on=date(2026, 12, 31))
    book = a_book(promises=(line,))
    kind = PromiseKind.APPEARANCE
    assert book.promise_on(date(2026, 1, 1), kind) is line
    assert book.promise_on(date(2026, 12, 31), kind) is line
    assert book.promise_on(date(2025, 12, 31), kind) is None
    assert book.promise_on(date(2027, 1, 1), kind) is None


def test_the_latest_of_two_terms_wins_and_kinds_are_not_mixed() -> None:
    old, new, slip = look_promised(60.0), look_promised(55.0, starts_on=TODAY), slip_promised()
    book = a_book(promises=(old, slip, new))
    assert book.promise_on(TODAY - DAY, PromiseKind.APPEARANCE) is old
    assert book.promise_on(TODAY, PromiseKind.APPEARANCE) is new
    assert book.promise_on(TODAY, PromiseKind.SLIP) is slip
    assert book.promise_on(TODAY, PromiseKind.RESPONSE) is None


def test_a_site_finds_its_zones_by_code() -> None:
    site = a_site_book("NORTH", a_book("LANE"), a_book("EDGE"))
    found = site.zone("EDGE")
    assert found is not None
    assert found.zone.code == "EDGE"
    assert site.zone("HALL") is None


@pytest.mark.parametrize("share", [0.0, -0.1, 1.01])
def test_a_treatment_of_none_or_more_than_all_of_a_zone_is_refused(share: float) -> None:
    done = TreatmentDone(work=Work.BURNISH, done_on=TODAY)
    with pytest.raises(ValueError, match="allowed above 0 up to 1"):
        replace(done, share=share)
