"""Whatever can be recorded comes back from the store as it was; a second time changes nothing."""

import shutil
import sqlite3
import tempfile
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorcare.findings import Reason
from floorcare.ground.trade.book import DateKnown, Portfolio, SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import Policy, PromiseKind, PromiseLine
from floorcare.ground.trade.reading import (
    GLOSS_GEOMETRIES,
    MEASURE_RANGE,
    Measure,
    Reading,
    SurfaceState,
)
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Customer, Site
from floorcare.ground.trade.traffic import PASS_WEIGHT, TrafficLevel, TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import (
    Agreement,
    ChangeKind,
    Commitment,
    Due,
    Origin,
    Plan,
    PlanChange,
    Visit,
    VisitLine,
    VisitState,
)
from floorcare.ground.trade.zone import Opening, Station, Zone, ZoneSpan
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import PERMITS, AccessWindow
from floorcare.store.open import open_store
from floorcare.store.readings import reading_order
from floorcare.store.sites import window_order
from floorcare.store.upgrade import create_or_upgrade
from tests.property.means_strategies import with_means

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
LATER = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
MEANS = ("contacts", "people", "workers", "crews", "machines", "instruments", "bridges")
MEANS += ("stock", "rates", "contracts", "calls")

codes = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.\-]{0,6}", fullmatch=True)
names = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=12)
days = st.dates(date(2000, 1, 1), date(2060, 1, 1))
minutes = st.integers(0, 1439)


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


def maybe(values: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | values


def many(values: st.SearchStrategy, key, order=None, *, least: int = 0, most: int = 3):
    """Up to `most` values with different natural keys, in the order in which the store tells."""
    listed = st.lists(values, unique_by=key, min_size=least, max_size=most)
    return listed.map(lambda found: tuple(sorted(found, key=order or key)))


@st.composite
def runs(draw: st.DrawFn) -> dict[str, date | None]:
    """From a day to a later one, or without an end."""
    first = draw(days)
    last = draw(maybe(st.dates(first, date(2070, 1, 1))))
    return {"from_on": first, "to_on": last}


spans = st.builds(
    lambda run, **values: ZoneSpan(**run, **values),
    runs(),
    surface=codes,
    area_m2=maybe(numbers(0.1, 1_000_000)),
    traffic=st.sampled_from(TrafficLevel),
    place=st.sampled_from(["level", "ramp", "wet-plus", "outdoor"]),
)
traffic = st.builds(
    lambda run, **values: TrafficRow(**run, **values),
    runs(),
    kind=st.sampled_from(sorted(PASS_WEIGHT)),
    per_day=numbers(0, 1_000_000),
    counted=st.booleans(),
)
treatments = st.builds(
    TreatmentDone,
    work=st.sampled_from(Work),
    done_on=days,
    known=st.sampled_from(DateKnown),
    about_days=st.integers(0, 365),
    share=numbers(0.01, 1),
    performer=names,
)
routines = st.builds(
    Routine,
    work=st.sampled_from(Work),
    rule=st.sampled_from(["FREQ=DAILY", "FREQ=WEEKLY;BYDAY=TU,FR"]),
    starts_on=days,
    performer=st.sampled_from(Performer),
    proof=st.sampled_from(Proof),
    ends_on=maybe(days),
    except_on=st.lists(days, max_size=3).map(tuple),
    minutes=maybe(st.integers(1, 1000)),
    about_days=st.integers(0, 60),
    promised=st.booleans(),
)
promises = st.builds(
    lambda ends, **values: PromiseLine(ends_on=max(ends, values["starts_on"]), **values),
    days,
    contract=codes,
    kind=st.sampled_from(PromiseKind),
    starts_on=days,
    reference_gu=maybe(numbers(1, 200)),
    reference_on=maybe(days),
    reference_state=st.sampled_from(SurfaceState),
    loss_share=numbers(0.02, 0.9),
    confidence=numbers(0.5, 0.99),
    policy=st.sampled_from(Policy),
    slip_method=names,
    slip_limit=maybe(numbers(0, 150)),
    response_hours=maybe(st.integers(1, 500)),
)
windows = st.builds(
    lambda run, **values: AccessWindow(**run, **values),
    runs() | st.just({"from_on": None, "to_on": None}),
    weekdays=st.frozensets(st.integers(0, 6), min_size=1),
    starts_minute=minutes,
    ends_minute=minutes,
    permits=st.frozensets(st.sampled_from(PERMITS)),
)
shut_days = st.builds(
    lambda first, last, why: ShutDay(from_on=min(first, last), to_on=max(first, last), why=why),
    days,
    days,
    names,
)


@st.composite
def readings(draw: st.DrawFn, zone: str, stations: tuple[Station, ...]) -> Reading:
    measure = draw(st.sampled_from(Measure))
    return Reading(
        zone=zone,
        station=draw(st.sampled_from(["", *(s.code for s in stations)])),
        taken_on=draw(days),
        taken_minute=draw(minutes),
        measure=measure,
        value=draw(numbers(*MEASURE_RANGE[measure])),
        state=draw(st.sampled_from(SurfaceState)),
        geometry_deg=draw(st.sampled_from(GLOSS_GEOMETRIES)) if measure is Measure.GLOSS else 0,
        method=draw(st.sampled_from(["", "pendulum PTV"])),
        instrument=draw(st.sampled_from(["", "M1", "M2"])),
        reader=draw(names),
        witness=draw(names),
    )


@st.composite
def zone_books(draw: st.DrawFn, areas: tuple[Area, ...]) -> ZoneBook:
    code = draw(codes)
    stations = draw(many(st.builds(Station, code=codes, note=names), lambda s: s.code))
    return ZoneBook(
        zone=Zone(
            code=code,
            area=draw(st.sampled_from(["", *(a.code for a in areas)])),
            name=draw(names),
            spans=draw(many(spans, lambda s: s.from_on, least=1)),
            exposure=draw(names),
            opening=draw(st.sampled_from(Opening)),
            polished_on=draw(maybe(days)),
            about_days=draw(st.integers(0, 400)),
            poured_on=draw(maybe(days)),
            parents=draw(st.lists(codes, max_size=2).map(tuple)),
        ),
        stations=stations,
        readings=draw(many(readings(code, stations), reading_order, most=5)),
        done=draw(many(treatments, lambda d: (d.done_on, d.work))),
        traffic=draw(many(traffic, lambda t: (t.from_on, t.kind))),
        routines=draw(many(routines, lambda r: (r.starts_on, r.work))),
        promises=draw(many(promises, lambda p: (p.starts_on, p.contract, p.kind))),
    )


@st.composite
def site_books(draw: st.DrawFn, customers: tuple[str, ...], branches: tuple[str, ...]) -> SiteBook:
    areas = draw(many(st.builds(Area, code=codes, name=names), lambda a: a.code))
    served = st.builds(
        lambda run, branch: BranchSpan(branch=branch, **run), runs(), st.sampled_from(branches)
    )
    return SiteBook(
        site=Site(
            code=draw(codes),
            customer=draw(st.sampled_from(customers)),
            name=draw(names),
            time_zone=draw(st.sampled_from(["Europe/Berlin", "Pacific/Apia"])),
            branches=draw(many(served, lambda s: s.from_on)),
            address=draw(names),
            country=draw(st.sampled_from(["", "DE"])),
            region=draw(st.sampled_from(["", "BE"])),
            latitude=draw(maybe(numbers(-90, 90))),
            longitude=draw(maybe(numbers(-180, 180))),
            holidays=draw(st.sampled_from(["shut", "worked"])),
            notice_days=draw(st.integers(0, 60)),
            access_note=draw(names),
            windows=draw(many(windows, window_order)),
            shut_days=draw(many(shut_days, lambda d: d.from_on)),
        ),
        areas=areas,
        zones=draw(many(zone_books(areas), lambda z: z.zone.code)),
    )


@st.composite
def portfolios(draw: st.DrawFn) -> Portfolio:
    def by_code(thing):
        return thing.code

    customers = draw(many(st.builds(Customer, code=codes, name=names), by_code, least=1, most=2))
    branch = st.builds(
        Branch,
        code=codes,
        name=names,
        time_zone=st.just("Europe/Berlin"),
        crews=st.integers(0, 500),
        weekdays=st.frozensets(st.integers(0, 6)),
        reserve_share=numbers(0, 0.9),
        units=st.sampled_from(["metric", "US"]),
    )
    branches = draw(many(branch, by_code, least=1, most=2))
    book = site_books(tuple(c.code for c in customers), tuple(b.code for b in branches))
    return Portfolio(
        customers=customers,
        branches=branches,
        books=draw(many(book, lambda b: b.site.code, most=2)),
    )


@st.composite
def visits(draw: st.DrawFn, uuid: str) -> Visit:
    def due() -> Due:
        earliest, target, latest = sorted(draw(st.tuples(days, days, days)))
        fact = st.tuples(names, names | numbers(-1e9, 1e9) | st.integers(-9, 10**12) | st.none())
        reason = Reason(
            rule=draw(names),
            inside=draw(names),
            customer=draw(names),
            facts=tuple(draw(st.lists(fact, max_size=3))),
            rejected=tuple(draw(st.lists(st.tuples(names, names), max_size=2))),
        )
        return Due(
            site="S",
            zone=draw(st.sampled_from(["", "Z"])),
            work=draw(st.sampled_from(Work)),
            earliest=earliest,
            target=target,
            latest=latest,
            minutes=draw(st.integers(0, 5000)),
            area_m2=draw(maybe(numbers(0.1, 1e6))),
            needs=draw(st.frozensets(st.sampled_from(PERMITS))),
            reason=reason,
            recheck=draw(st.booleans()),
        )

    dues = [due() for _ in range(draw(st.integers(0, 3)))]
    return Visit(
        uuid=uuid,
        site="S",
        night=draw(days),
        starts_minute=draw(st.integers(0, 2879)),
        minutes=draw(st.integers(0, 2000)),
        people=draw(st.integers(1, 20)),
        lines=tuple(
            VisitLine(zone=d.zone, work=d.work, minutes=d.minutes, area_m2=d.area_m2, due=d)
            for d in dues
        ),
        state=draw(st.sampled_from(VisitState)),
        commitment=draw(st.sampled_from(Commitment)),
        agreement=draw(st.sampled_from(Agreement)),
        origin=draw(st.sampled_from(Origin)),
        sequence=draw(st.integers(0, 99)),
        changed_at=draw(st.datetimes(datetime(2000, 1, 1), timezones=st.just(UTC))),  # noqa: DTZ001
    )


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("made") / "floorcare.db"
    create_or_upgrade(str(path), NOW)
    return path


def dump(path: Path) -> list[str]:
    raw = sqlite3.connect(path)
    lines = list(raw.iterdump())
    raw.close()
    return lines


@settings(max_examples=40, deadline=None)
@given(loaded=portfolios().flatmap(with_means))
def test_a_portfolio_comes_back_as_it_was_and_twice_changes_nothing(made_once, loaded):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(shutil.copy(made_once, Path(folder) / "floorcare.db"))
        store = open_store(str(path))
        with store.work(writes=True) as work:
            work.put_portfolio(loaded, who="t", now=NOW)
            work.commit()
        with store.work() as work:
            assert work.customers() == loaded.customers
            assert work.branches() == loaded.branches
            assert work.books() == loaded.books
            for name in MEANS:
                assert getattr(work, name)() == getattr(loaded, name), name
        before = dump(path)
        with store.work(writes=True) as work:
            counts = work.put_portfolio(loaded, who="t", now=LATER)
            work.commit()
        assert all(count.added == count.changed == 0 for count in counts.values())
        assert dump(path) == before
        store.close()


@settings(max_examples=40, deadline=None)
@given(first=visits("v"), then=visits("v"))
def test_a_visit_comes_back_as_it_was_and_its_new_version_likewise(made_once, first, then):
    span = ZoneSpan(from_on=date(2024, 1, 1), surface="s", area_m2=1.0, traffic=TrafficLevel.LIGHT)
    zone = ZoneBook(zone=Zone(code="Z", area="", name="Z", spans=(span,)))
    site = Site(code="S", customer="C", name="S", time_zone="UTC", branches=())
    loaded = Portfolio(
        customers=(Customer(code="C", name="C"),), books=(SiteBook(site=site, zones=(zone,)),)
    )
    made = Plan(
        made_at=NOW,
        made_by="t",
        today=NOW.date(),
        last_on=date(2027, 3, 1),
        digest="d",
        **dict.fromkeys(("added", "moved", "merged", "changed", "dropped", "kept", "unplaced"), 0),
    )
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(str(shutil.copy(made_once, Path(folder) / "floorcare.db")))
        with store.work(writes=True) as work:
            work.put_portfolio(loaded, who="t", now=NOW)
            before = None
            for kind, version in ((ChangeKind.ADDED, first), (ChangeKind.MOVED, then)):
                change = PlanChange(
                    kind=kind,
                    visit="v",
                    site="S",
                    night_before=before,
                    night_after=version.night,
                    why="due",
                )
                work.put_plan(
                    replace(made, added=1),
                    visits=(version,),
                    changes=(change,),
                    unplaced=(),
                    revisions={},
                    who="t",
                    now=NOW,
                )
                assert work.visits() == (version,)
                before = version.night
        store.close()
