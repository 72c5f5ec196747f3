"""A small invented portfolio, a due, a visit and a plan for the store's tests."""

from dataclasses import replace
from datetime import UTC, date, datetime
from uuid import UUID, uuid5

from floorcare.findings import Reason
from floorcare.ground.trade.book import DateKnown, Portfolio, SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Customer, Site
from floorcare.ground.trade.traffic import TrafficLevel, TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import (
    ChangeKind,
    Due,
    Plan,
    PlanChange,
    Unplaced,
    Visit,
    VisitLine,
)
from floorcare.ground.trade.zone import Opening, Station, Zone, ZoneSpan
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
LATER = datetime(2026, 3, 9, 14, 2, tzinfo=UTC)
INSTALLATION = "5f0c7a4e-6f0b-4f0e-9a53-0d3c5b6a7f10"
START = date(2024, 1, 1)


def gloss(on: date, value: float, *, zone: str = "LANE", station: str = "P1") -> Reading:
    return Reading(
        zone=zone,
        station=station,
        taken_on=on,
        taken_minute=600,
        measure=Measure.GLOSS,
        value=value,
        state=SurfaceState.AFTER_BURNISH,
        geometry_deg=60,
        instrument="M1",
        reader="R. Vale",
    )


def zone_book(code: str = "LANE") -> ZoneBook:
    return ZoneBook(
        zone=Zone(
            code=code,
            area="HALL",
            name=f"Hall, {code.lower()}",
            spans=(
                ZoneSpan(
                    from_on=START,
                    surface="polished_concrete",
                    area_m2=420.5,
                    traffic=TrafficLevel.HEAVY,
                ),
            ),
            exposure="lane",
            opening=Opening.ABOUT,
            polished_on=date(2023, 5, 1),
            about_days=30,
        ),
        stations=(Station(code="P1", note="door"), Station(code="P2")),
        readings=(
            gloss(date(2025, 3, 1), 58.0, zone=code),
            gloss(date(2025, 6, 1), 55.0, zone=code),
            gloss(date(2025, 9, 1), 52.5, zone=code, station=""),
        ),
        done=(
            TreatmentDone(
                work=Work.RECOAT, done_on=date(2025, 2, 1), known=DateKnown.ABOUT, about_days=10
            ),
        ),
        traffic=(TrafficRow(kind="foot", per_day=1800.0, counted=True, from_on=START),),
        routines=(
            Routine(
                work=Work.BURNISH,
                rule="FREQ=WEEKLY;BYDAY=TU,FR",
                starts_on=START,
                performer=Performer.US,
                proof=Proof.CONFIRMED,
                except_on=(date(2025, 12, 26),),
            ),
        ),
        promises=(
            PromiseLine(
                contract="C-1",
                kind=PromiseKind.APPEARANCE,
                starts_on=START,
                ends_on=date(2027, 12, 31),
                reference_gu=60.0,
                reference_on=START,
            ),
        ),
    )


def site_book(
    code: str = "NORTH", branch: str = "EAST", zones: tuple[str, ...] = ("LANE",)
) -> SiteBook:
    return SiteBook(
        site=Site(
            code=code,
            customer="MARKET",
            name=f"{code.title()} hall",
            time_zone="Europe/Berlin",
            branches=(BranchSpan(branch=branch, from_on=START),),
            country="DE",
            region="BE",
            windows=(
                AccessWindow(
                    weekdays=frozenset({0, 1, 2, 3, 4}),
                    starts_minute=1320,
                    ends_minute=360,
                    permits=frozenset({"wet", "loud"}),
                ),
            ),
            shut_days=(
                ShutDay(from_on=date(2026, 12, 24), to_on=date(2027, 1, 1), why="inventory"),
            ),
        ),
        areas=(Area(code="HALL", name="Hall"),),
        zones=tuple(zone_book(zone) for zone in sorted(zones)),
    )


def portfolio(*books: SiteBook) -> Portfolio:
    return Portfolio(
        customers=(Customer(code="MARKET", name="The Market Halls"),),
        branches=(
            Branch(code="EAST", name="East", time_zone="Europe/Berlin"),
            Branch(code="WEST", name="West", time_zone="America/Chicago", units="US"),
        ),
        books=books or (site_book(), site_book("SOUTH", "WEST")),
    )


def with_zone(book: SiteBook, **changes: object) -> SiteBook:
    """The book with its first zone's book altered."""
    first, *rest = book.zones
    return replace(book, zones=(replace(first, **changes), *rest))  # type: ignore[arg-type]


def due(site: str = "NORTH", zone: str = "LANE", target: date = date(2026, 3, 12)) -> Due:
    return Due(
        site=site,
        zone=zone,
        work=Work.RECOAT,
        earliest=date(2026, 3, 9),
        target=target,
        latest=max(date(2026, 3, 26), target),
        minutes=240,
        area_m2=420.5,
        needs=frozenset({"wet", "loud"}),
        reason=Reason(
            rule="ladder",
            inside="Gloss 47 GU on 3 March, 83 % of the reference.",
            customer="The protector is renewed before it wears through.",
            facts=(("gloss_gu", 47.0), ("days", 9), ("reference_on", "2024-01-01"), ("doi", None)),
            rejected=(("burnish", "would hold six days"),),
        ),
    )


def visit(site: str = "NORTH", night: date = date(2026, 3, 12), *dues: Due) -> Visit:
    lines = dues or (due(site, target=night),)
    return Visit(
        uuid=str(uuid5(UUID(INSTALLATION), site)),
        site=site,
        night=night,
        starts_minute=1320,
        minutes=150,
        people=2,
        lines=tuple(
            VisitLine(zone=d.zone, work=d.work, minutes=d.minutes, area_m2=d.area_m2, due=d)
            for d in lines
        ),
        changed_at=NOW,
    )


def plan(**counts: int) -> Plan:
    none = dict.fromkeys(("added", "moved", "merged", "changed", "dropped", "kept", "unplaced"), 0)
    return Plan(
        made_at=NOW,
        made_by="planner",
        today=NOW.date(),
        last_on=date(2027, 3, 1),
        digest="d1",
        **{**none, **counts},
    )


def change(kind: ChangeKind, of: Visit, before: date | None, after: date | None) -> PlanChange:
    return PlanChange(
        kind=kind, visit=of.uuid, site=of.site, night_before=before, night_after=after, why="due"
    )


def added(of: Visit) -> PlanChange:
    return change(ChangeKind.ADDED, of, None, of.night)


def not_placed() -> Unplaced:
    return Unplaced(due=due(zone=""), why="no open night", mend="open one night before 26 March")
