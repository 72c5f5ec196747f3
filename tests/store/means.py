"""People, crews, machines, meters, prices, contracts and a call, added to the small portfolio."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

from floorcare.ground.trade.book import Portfolio, SiteBook
from floorcare.ground.trade.contract import (
    Contract,
    Exclusion,
    FeeKind,
    FeeLine,
    RenewalKind,
    Term,
)
from floorcare.ground.trade.crew import Absence, Crew, CrewMember, Qualification, Shift, Worker
from floorcare.ground.trade.equipment import (
    Calibration,
    Instrument,
    MachinePlace,
    MeterBridge,
    OwnedMachine,
    Rate,
    RateKind,
    StockEntry,
    StockMove,
    Supply,
)
from floorcare.ground.trade.make_up import FloorMakeUp, Season
from floorcare.ground.trade.people import (
    CallKind,
    CallReceived,
    Contact,
    Person,
    RequirementKind,
    Role,
    SiteRequirement,
)
from floorcare.ground.trade.site import TravelLeg
from tests.store.sample import portfolio, site_book, with_zone

HIRED = date(2025, 5, 1)
WORKER = Worker(
    code="VALE",
    name="R. Vale",
    branch="EAST",
    languages=("de", "en"),
    qualifications=(
        Qualification(name="site induction", from_on=HIRED, expires_on=date(2026, 12, 31)),
        Qualification(name="work at height", from_on=HIRED),
    ),
    from_on=HIRED,
    absences=(Absence(from_on=date(2026, 2, 2), to_on=date(2026, 2, 13), why="leave"),),
)
OTHER_WORKER = Worker(code="MOSS", name="B. Moss", branch="EAST")
CREW = Crew(
    code="EAST-1",
    branch="EAST",
    name="First van",
    members=(
        CrewMember(worker="MOSS", from_on=HIRED),
        CrewMember(worker="VALE", from_on=HIRED, to_on=date(2026, 8, 31)),
    ),
    shifts=(
        Shift(
            weekdays=frozenset({0, 1, 2, 3}), starts_minute=1290, ends_minute=330, break_minutes=30
        ),
    ),
)
MACHINE = OwnedMachine(
    code="B-7",
    kind="burnisher",
    name="Burnisher 7",
    places=(
        MachinePlace(branch="EAST", site="", from_on=HIRED, to_on=date(2026, 1, 31)),
        MachinePlace(branch="", site="SOUTH", from_on=date(2026, 2, 1)),
    ),
    fuel="propane",
    out_of_order=((date(2026, 3, 9), date(2026, 3, 13)),),
)
METERS = (
    Instrument(
        code="M1",
        name="Gloss meter 1",
        measure="gloss",
        serial="G-1001",
        calibrations=(Calibration(done_on=HIRED, valid_to=date(2026, 4, 30)),),
    ),
    Instrument(code="M2", name="Gloss meter 2", measure="gloss"),
)
BRIDGE = MeterBridge(first="M1", second="M2", on=date(2026, 1, 12), offset_gu=-1.5, stations=6)
STOCK = StockEntry(
    branch="EAST",
    material="protector",
    on=date(2026, 1, 5),
    move=StockMove.COUNTED,
    quantity=37.5,
)
RATE = Rate(
    branch="EAST",
    kind=RateKind.LABOUR_HOUR,
    amount=Decimal("31.10"),
    currency="EUR",
    from_on=date(2026, 1, 1),
)
TERM = Term(
    starts_on=date(2024, 1, 1),
    ends_on=date(2027, 12, 31),
    our_notice_days=90,
    their_notice_days=60,
    renewal=RenewalKind.OPTION,
    cap_on=date(2029, 12, 31),
    fees=(
        FeeLine(kind=FeeKind.MONTHLY, amount=Decimal("1450.05")),
        FeeLine(kind=FeeKind.PER_WORK, amount=Decimal("0.35"), site="NORTH", work="recoat"),
    ),
)
CONTRACT = Contract(
    code="C-1",
    customer="MARKET",
    name="Floors of the halls",
    currency="EUR",
    terms=(TERM,),
    exclusions=(
        Exclusion(
            site="NORTH",
            zone="",
            from_on=date(2026, 2, 2),
            to_on=date(2026, 2, 6),
            cause="strike",
            evidence="letter of 30 January",
        ),
        Exclusion(
            site="NORTH",
            zone="LANE",
            from_on=date(2026, 2, 9),
            to_on=date(2026, 2, 9),
            cause="burst pipe",
        ),
    ),
)
CONTACT = Contact(
    code="LOW",
    customer="MARKET",
    name="A. Low",
    site="NORTH",
    role="facility manager",
    email="low@market.example",
    phone="030 5550100",
)
PERSON = Person(code="anna", name="Anna", role=Role.PLANNER, email="anna@care.example")
CALL = CallReceived(
    uuid="0a6f0f0e-55cc-4c36-9a3e-0d7ff1c8b001",
    site="NORTH",
    zone="LANE",
    kind=CallKind.STAIN,
    received_at=datetime(2026, 3, 1, 7, 15, tzinfo=UTC),
    reported_by="A. Low",
    text="Red wine by the pillar",
    spot_m2=1.5,
)
SEASON = Season(name="grit", from_month=11, from_day=15, to_month=3, to_day=15, factor=2.5)
REQUIREMENT = SiteRequirement(
    kind=RequirementKind.INDUCTION, name="site induction", each_worker=True
)
MAKE_UP = FloorMakeUp(
    from_on=date(2024, 1, 1),
    grit=800,
    exposure_class="B",
    densifier="lithium, as told",
    joints_m=64.0,
    obstruction_share=0.1,
)


def north() -> SiteBook:
    """The hall with what it asks for, its season and what its floor is made of."""
    book = with_zone(site_book(), make_ups=(MAKE_UP,))
    return replace(book, requirements=(REQUIREMENT,), seasons=(SEASON,))


LEG = TravelLeg(branch="EAST", leaves="", reaches="NORTH", minutes=28, km=19.5)
SUPPLY = Supply(branch="EAST", material="protector", pack=10.0, lead_days=7, reserve=5.0)


def with_means() -> Portfolio:
    """The small portfolio, whole."""
    return replace(
        portfolio(north(), site_book("SOUTH", "WEST")),
        contacts=(CONTACT,),
        people=(PERSON, Person(code="vale", name="R. Vale", role=Role.CREW, worker="VALE")),
        workers=(OTHER_WORKER, WORKER),
        crews=(CREW,),
        machines=(MACHINE,),
        instruments=METERS,
        bridges=(BRIDGE,),
        stock=(STOCK,),
        supplies=(SUPPLY,),
        legs=(LEG,),
        rates=(RATE,),
        contracts=(CONTRACT,),
        calls=(CALL,),
    )
