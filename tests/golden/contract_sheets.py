"""The invented contract's term that the golden history and reminder calendar are made from."""

from datetime import UTC, date, datetime
from decimal import Decimal

from floorcare.ground.contracts.history import RhythmCount, RowKind, TermRow, WorkCount
from floorcare.ground.contracts.lines import PromiseRow
from floorcare.ground.contracts.promised import PromiseStanding
from floorcare.ground.contracts.terms import TermState
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.contract import Exclusion, FeeKind, FeeLine, RenewalKind
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import Work
from floorcare.services.sheets import CalendarEvent, CalendarSheet
from floorcare.services.show_contracts import ContractHistory, ContractList, TermSummary

ON = date(2026, 3, 2)
FIRST, LAST = date(2025, 1, 1), date(2026, 12, 31)
CHANGED = datetime(2026, 2, 20, 9, 0, tzinfo=UTC)
FEES = (
    FeeLine(kind=FeeKind.MONTHLY, amount=Decimal("1850.00")),
    FeeLine(kind=FeeKind.PER_WORK, amount=Decimal("0.125"), site="MARKET", work="recoat"),
)

TERM = TermSummary(
    contract="K-7",
    name="Care of the market floors",
    customer="EASTHOLM",
    customer_name="Eastholm Markets",
    entered=True,
    starts_on=FIRST,
    ends_on=LAST,
    state=TermState.IN_FORCE,
    then="renews by itself, to 31 December 2028, unless notice is given",
    renewal=RenewalKind.AUTOMATIC,
    our_notice_on=date(2026, 11, 1),
    our_notice_in=244,
    their_notice_on=date(2026, 5, 1),
    their_notice_in=60,
    currency="EUR",
    fees=FEES,
    zones=2,
    standing=PromiseStanding(below=1, guarded=1, evidence=(("measured", 2),)),
)
LOOSE = TermSummary(
    contract="K-9",
    name="",
    customer="TIDES",
    customer_name="Tides Trust",
    entered=False,
    starts_on=FIRST,
    ends_on=LAST,
    state=TermState.IN_FORCE,
    then="no contract entered",
    zones=1,
    standing=PromiseStanding(below=0, guarded=0, evidence=(("assumed", 1),)),
)
LISTED = ContractList(on=ON, terms=(TERM, LOOSE))


def lane(on: date, kind: RowKind, work: Work, **more: object) -> TermRow:
    """A row of the main lane."""
    own = {"site": "MARKET", "zone": "LANE-1", "zone_name": "Hall B, main lane", **more}
    return TermRow(on=on, kind=kind, work=work, **own)  # type: ignore[arg-type]


ROWS = (
    lane(
        date(2025, 3, 15),
        RowKind.DONE,
        Work.RECOAT,
        known=DateKnown.ABOUT,
        about_days=15,
        performer="us",
        share=1.0,
    ),
    lane(
        date(2025, 6, 2),
        RowKind.READ,
        Work.READING_ROUND,
        performer="R. Vale",
        measure="gloss 60°",
        value=53.24,
        stations=5,
        state=SurfaceState.AFTER_BURNISH,
        reference_share=0.9411,
    ),
    lane(
        date(2025, 6, 2),
        RowKind.READ,
        Work.READING_ROUND,
        zone="ENTRANCE",
        zone_name="Hall B, entrance",
        performer="A. Moor",
        measure="gloss 60°",
        value=41.0,
        stations=3,
        state=SurfaceState.AFTER_CLEANING,
    ),
    lane(
        date(2025, 9, 1),
        RowKind.DONE,
        Work.REPOLISH,
        performer="us",
        share=0.4,
        visit="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c21",
    ),
    lane(
        date(2025, 10, 6),
        RowKind.READ,
        Work.SLIP_TEST,
        zone="ENTRANCE",
        zone_name="Hall B, entrance",
        performer="R. Vale",
        measure="wet DCOF",
        value=0.43,
        stations=3,
        state=SurfaceState.WET,
        limit=0.45,
        passes=False,
    ),
    lane(
        date(2026, 2, 17),
        RowKind.UNREPORTED,
        Work.BURNISH,
        share=1.0,
        visit="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c22",
    ),
    lane(
        date(2026, 3, 4),
        RowKind.PLANNED,
        Work.RECOAT,
        share=1.0,
        visit="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c01",
    ),
    lane(
        date(2026, 3, 4),
        RowKind.PLANNED,
        Work.BURNISH,
        zone="ENTRANCE",
        zone_name="Hall B, entrance",
        share=1.0,
        visit="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c01",
    ),
)
CALENDAR = CalendarSheet(
    name="Contract K-7, Eastholm Markets",
    domain="care.example",
    revision=1,
    revised_at=CHANGED,
    as_of=CHANGED.date(),
    description="Last days for notice, and the end of each term.",
    events=tuple(
        CalendarEvent(
            uid=f"6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c{number}",
            night=on,
            sequence=1,
            changed_at=CHANGED,
            summary=f"{summary}: K-7, Eastholm Markets",
            description=("Care of the market floors.",),
            categories=("contract",),
        )
        for number, on, summary in (
            (31, date(2026, 5, 1), "Last day for the customer's notice"),
            (32, date(2026, 11, 1), "Last day for our notice"),
            (33, LAST, "Term ends"),
        )
    ),
)
HISTORY = ContractHistory(
    on=ON,
    summary=TERM,
    terms=(
        (date(2023, 1, 1), date(2024, 12, 31), TermState.ENDED),
        (FIRST, LAST, TermState.IN_FORCE),
    ),
    sites=(("MARKET", "Market Hall East"), ("ANNEX", "Market Annex")),
    promises=(
        PromiseRow(
            zone="MARKET",
            zone_name="Market Hall East, all 2 zones",
            kind=PromiseKind.RESPONSE,
            promised="answer to a call within 24 h",
            starts_on=FIRST,
            ends_on=LAST,
        ),
        PromiseRow(
            zone="MARKET/LANE-1",
            zone_name="Hall B, main lane",
            kind=PromiseKind.APPEARANCE,
            promised="gloss at least 45.3 GU, 80% of 56.6 GU",
            starts_on=FIRST,
            ends_on=LAST,
            reference_gu=56.6,
            reference_on=date(2024, 12, 20),
            reference_state="after burnish",
            promised_gu=45.28,
            policy="gentlest",
            confidence=0.75,
            read="44.1 GU",
            read_on=date(2026, 2, 27),
            gloss_gu=43.6,
            low_gu=41.0,
            high_gu=46.2,
            evidence="measured",
            is_below=True,
        ),
        PromiseRow(
            zone="MARKET/ENTRANCE",
            zone_name="Hall B, entrance",
            kind=PromiseKind.SLIP,
            promised="wet DCOF at least 0.45, ramp",
            starts_on=FIRST,
            ends_on=LAST,
            read="wet DCOF 0.43",
            read_on=date(2025, 10, 6),
            is_guarded=True,
        ),
    ),
    exclusions=(
        Exclusion(
            site="MARKET",
            zone="LANE-1",
            from_on=date(2025, 7, 1),
            to_on=date(2025, 7, 14),
            cause="stalls rebuilt by the customer",
            evidence="letter of 24 June",
        ),
        Exclusion(
            site="MARKET",
            zone="",
            from_on=date(2025, 12, 20),
            to_on=date(2025, 12, 26),
            cause="holiday fair",
        ),
    ),
    rows=ROWS,
    works=(
        WorkCount(work=Work.BURNISH, planned=1, unreported=1),
        WorkCount(work=Work.RECOAT, done=1, planned=1),
        WorkCount(work=Work.REPOLISH, part_done=1),
        WorkCount(work=Work.READING_ROUND, done=2),
        WorkCount(work=Work.SLIP_TEST, done=1),
    ),
    rhythms=(
        RhythmCount(
            site="MARKET",
            work=Work.CLEAN,
            performer=Performer.SITE_TEAM,
            proof=Proof.REPORTED,
            zones=2,
            so_far=426,
            to_come=304,
        ),
    ),
    planned_to=date(2027, 2, 26),
    calendar=CALENDAR,
)
