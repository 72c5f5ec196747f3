import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.evidence import Evidence
from floorcare.ground.rules.walk import NEVER, WalkTerms
from floorcare.ground.rules.walk_terms import CAP_WAITS_DAYS, walk_terms
from floorcare.ground.rules.wear_dues import forecast, wear_rungs
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.fleet import fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    a_zone,
    look_promised,
    polished,
    read_down,
    slip_read,
)

DAYS = 194
"""The days of `a_case` and a fortnight."""
WORKS = [rung.work for rung in wear_rungs(polished())]


def terms_of(
    case: ZoneCase,
    evidence: Evidence | None = None,
    barred: frozenset[Work] = frozenset(),
    slack: float = 0.0,
) -> WalkTerms:
    fleet = fit_fleet([(case.site, case.book)], polished(), TODAY, draws=8)
    rungs = wear_rungs(fleet.surface)
    return walk_terms(fleet, [case], [evidence], rungs, DAYS, [barred], np.array([slack]))


def evidence_of(case: ZoneCase) -> Evidence | None:
    fleet = fit_fleet([(case.site, case.book)], polished(), TODAY, draws=8)
    return forecast(fleet, [case], DAYS).evidence[0]


def coated(fixed: tuple[tuple[Work, int], ...] = ()) -> ZoneCase:
    """A floor whose coat is 700 days old, 30 short of the cap."""
    book = a_book(
        zone=a_zone(from_on=TODAY - 720 * DAY),
        done=(TreatmentDone(work=Work.RECOAT, done_on=TODAY - 700 * DAY),),
        readings=read_down(58.0, fall=0.1),
        promises=(look_promised(40.0),),
    )
    laid = tuple((work, TODAY + day * DAY) for work, day in fixed)
    return a_case(book, days=DAYS, fixed=laid)


def test_nights_and_confidence_are_the_case_s_own() -> None:
    case = a_case(a_book(readings=read_down(49.5)), days=60)
    terms = terms_of(case, slack=0.05)
    nights = [TODAY + (int(day) + 1) * DAY for day in np.flatnonzero(terms.opportunity[0])]
    assert nights == list(case.opportunities)
    assert case.appearance is not None
    assert terms.confidence[0] == case.appearance.confidence - 0.05
    assert terms.coat_limit == polished().coat_limit


def test_a_rung_barred_or_done_by_routine_is_never_allowed() -> None:
    case = a_case(a_book(readings=read_down(49.5)))
    free = terms_of(case)
    barred = terms_of(case, barred=frozenset({Work.REPOLISH}))
    at = WORKS.index(Work.REPOLISH)
    assert free.allowed_from[0, at] < NEVER
    assert barred.allowed_from[0, at] == NEVER
    assert (np.delete(barred.allowed_from[0], at) == np.delete(free.allowed_from[0], at)).all()


def test_a_guarded_zone_is_allowed_nothing() -> None:
    readings = (*read_down(46.0), slip_read(TODAY - 3 * DAY, 0.35))
    assert (terms_of(a_case(a_book(readings=readings))).allowed_from == NEVER).all()


def test_a_cap_waits_only_so_long_for_a_coat_that_is_laid() -> None:
    at = WORKS.index(Work.RECOAT)
    tomorrow_based = 29
    assert terms_of(coated()).cap_day[0, at] == tomorrow_based
    soon = tomorrow_based + CAP_WAITS_DAYS
    waits = terms_of(coated(fixed=((Work.RECOAT, soon + 1),)))
    assert waits.cap_day[0, at] == soon + 730
    too_late = terms_of(coated(fixed=((Work.RECOAT, soon + 2),)))
    assert too_late.cap_day[0, at] == tomorrow_based


def test_evidence_forces_its_rung_unless_a_visit_stands_for_it_or_a_harder_one() -> None:
    book = a_book(
        readings=read_down(46.0, fall=1.2),
        done=(TreatmentDone(work=Work.FINE_BURNISH, done_on=TODAY - 10 * DAY),),
    )
    case = a_case(book)
    against = evidence_of(case)
    assert against is not None
    at = WORKS.index(against.rung)
    assert terms_of(case, against).forced.tolist() == [at]
    for stands, forced in ((at, -1), (at + 1, -1), (at - 1, at)):
        ahead = TreatmentDone(work=WORKS[stands], done_on=TODAY + 3 * DAY)
        assert terms_of(a_case(book, standing=(ahead,)), against).forced.tolist() == [forced]
