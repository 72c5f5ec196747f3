"""An invented contract, and a zone of it with a year behind and visits ahead."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from floorcare.ground.contracts.promised import PromisedZone
from floorcare.ground.trade.book import DateKnown, SiteBook, TreatmentDone
from floorcare.ground.trade.contract import (
    Contract,
    Exclusion,
    FeeKind,
    FeeLine,
    RenewalKind,
    Term,
)
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit
from tests.builders import look_promised, slip_promised, slip_read
from tests.store.sample import due, gloss, site_book, visit, with_zone

TODAY = date(2026, 3, 2)
DAY = timedelta(days=1)
FIRST, LAST = date(2025, 3, 1), date(2027, 2, 28)
FEES = (
    FeeLine(kind=FeeKind.MONTHLY, amount=Decimal("1850.00")),
    FeeLine(kind=FeeKind.PER_WORK, amount=Decimal("0.125"), site="NORTH", work="recoat"),
)
FAIR = Exclusion(
    site="NORTH",
    zone="",
    from_on=date(2025, 6, 1),
    to_on=date(2025, 6, 14),
    cause="trade fair",
    evidence="letter of 2 May",
)


def a_term(
    starts_on: date = FIRST,
    ends_on: date = LAST,
    *,
    ours: int = 90,
    theirs: int = 60,
    renewal: RenewalKind = RenewalKind.AUTOMATIC,
    cap_on: date | None = None,
) -> Term:
    return Term(
        starts_on=starts_on,
        ends_on=ends_on,
        our_notice_days=ours,
        their_notice_days=theirs,
        renewal=renewal,
        cap_on=cap_on,
        fees=FEES,
    )


def a_contract(*terms: Term, code: str = "C-1") -> Contract:
    return Contract(
        code=code,
        customer="MARKET",
        name="Care of the halls",
        currency="EUR",
        terms=terms or (a_term(),),
        exclusions=(FAIR,),
    )


def answer_promised(hours: int = 24) -> PromiseLine:
    return PromiseLine(
        contract="C-1",
        kind=PromiseKind.RESPONSE,
        starts_on=FIRST,
        ends_on=LAST,
        response_hours=hours,
    )


def a_book() -> SiteBook:
    """A lane with rounds after burnish and after cleaning, a slip test, and a coat about dated."""
    after_cleaning = replace(
        gloss(date(2025, 9, 8), 54.0), state=SurfaceState.AFTER_CLEANING, reader="", station="P2"
    )
    return with_zone(
        site_book("NORTH"),
        readings=(
            gloss(date(2025, 2, 1), 60.0),
            gloss(date(2025, 6, 2), 57.0),
            replace(gloss(date(2025, 6, 2), 55.0, station="P2"), reader="A. Moor"),
            after_cleaning,
            slip_read(date(2025, 10, 6), 0.52),
            slip_read(date(2025, 10, 6), 0.44, station="P2"),
        ),
        done=(
            TreatmentDone(work=Work.RECOAT, done_on=date(2025, 2, 1)),
            TreatmentDone(
                work=Work.RECOAT,
                done_on=date(2025, 11, 15),
                known=DateKnown.ABOUT,
                about_days=15,
                performer="us",
            ),
        ),
        promises=(
            look_promised(starts_on=FIRST, ends_on=LAST),
            slip_promised(starts_on=FIRST, ends_on=LAST),
            answer_promised(),
        ),
    )


def a_promised_zone(book: SiteBook | None = None) -> PromisedZone:
    book = book or a_book()
    return PromisedZone(book=book, zone=book.zones[0], lines=book.zones[0].promises)


def a_visit(night: date, *dues: Due, site: str = "NORTH") -> Visit:
    """A visit on any night, whenever its work was wanted."""
    return visit(site, night, *(dues or (due(site),)))
