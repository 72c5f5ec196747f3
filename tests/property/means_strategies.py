"""Arbitrary people, crews, machines, meters, prices, contracts and calls of a given portfolio."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from hypothesis import strategies as st

from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.contract import (
    Contract,
    Exclusion,
    FeeKind,
    FeeLine,
    RenewalKind,
    Term,
)
from floorcare.ground.trade.crew import Crew, CrewMember, Qualification, Shift, Worker
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
from floorcare.store.contracts import exclusion_order, fee_order
from floorcare.store.crews import member_order, shift_order
from floorcare.store.requirements import requirement_order
from floorcare.store.stock import rate_order, stock_order

codes = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_.\-]{0,6}", fullmatch=True)
names = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=12)
days = st.dates(date(2000, 1, 1), date(2060, 1, 1))
instants = st.datetimes(datetime(2000, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
amounts = st.decimals(0, 10**12, allow_nan=False, allow_infinity=False, places=None)
Order = Callable[[Any], Any]


def maybe(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | values


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


def many(values: st.SearchStrategy[Any], order: Order, *, most: int = 3) -> st.SearchStrategy[Any]:
    """Up to `most` values of different keys, in the order in which the store tells them."""
    listed = st.lists(values, unique_by=order, max_size=most)
    return listed.map(lambda found: tuple(sorted(found, key=order)))


def by_code(thing: Any) -> str:
    return str(thing.code)


def run(
    kind: Callable[..., Any], /, first: str = "from_on", last: str = "to_on", **fields: Any
) -> Any:
    """A record from a day to a later one, or without an end."""

    def build(starts: date, length: int | None, values: dict[str, Any]) -> Any:
        ends = None if length is None else starts + timedelta(days=length)
        return kind(**{first: starts, last: ends}, **values)

    return st.builds(build, days, maybe(st.integers(0, 4000)), st.fixed_dictionaries(fields))


requirements = many(
    st.builds(
        SiteRequirement,
        kind=st.sampled_from(RequirementKind),
        name=names,
        each_worker=st.booleans(),
        expires_on=maybe(days),
    ),
    requirement_order,
)
seasons = many(
    st.builds(
        Season,
        name=names,
        from_month=st.integers(1, 12),
        from_day=st.integers(1, 29),
        to_month=st.integers(1, 12),
        to_day=st.integers(1, 29),
        factor=numbers(1, 10),
    ),
    lambda season: season.name,
)
make_ups = many(
    st.builds(
        FloorMakeUp,
        from_on=days,
        grit=maybe(st.integers(16, 20_000)),
        exposure_class=st.sampled_from(["", "A", "B", "C"]),
        densifier=names,
        protector=names,
        joints_m=maybe(numbers(0, 1e5)),
        edges_m=maybe(numbers(0, 1e5)),
        obstruction_share=numbers(0, 1),
        moisture=names,
    ),
    lambda make_up: make_up.from_on,
)
qualifications = many(
    run(Qualification, last="expires_on", name=names), lambda held: (held.name, held.from_on)
)
shifts = many(
    run(
        Shift,
        weekdays=st.frozensets(st.integers(0, 6), min_size=1),
        starts_minute=st.integers(0, 1439),
        ends_minute=st.integers(0, 1440),
    ),
    shift_order,
)
terms = many(
    st.builds(
        lambda starts, length, cap, **values: Term(
            starts_on=starts,
            ends_on=starts + timedelta(days=length),
            cap_on=None if cap is None else starts + timedelta(days=length + cap),
            **values,
        ),
        days,
        st.integers(0, 2000),
        maybe(st.integers(0, 2000)),
        our_notice_days=st.integers(0, 730),
        their_notice_days=st.integers(0, 730),
        renewal=st.sampled_from(RenewalKind),
    ),
    lambda term: term.starts_on,
)


@st.composite
def with_means(draw: st.DrawFn, loaded: Portfolio) -> Portfolio:
    """The portfolio with everything a contractor has beside sites, naming what it holds."""
    branches = st.sampled_from([branch.code for branch in loaded.branches])
    customers = st.sampled_from([customer.code for customer in loaded.customers])
    sites = [book.site.code for book in loaded.books]
    somewhere = st.sampled_from(["", *sites])
    people = draw(_people(customers, branches, somewhere))
    return replace(
        loaded,
        books=tuple(draw(_floors(book)) for book in loaded.books),
        **people,
        crews=draw(_crews(branches, [worker.code for worker in people["workers"]])),
        **draw(_equipment(branches, somewhere)),
        contracts=draw(_contracts(customers, loaded)) if sites else (),
        calls=draw(_calls(loaded)) if sites else (),
    )


@st.composite
def _floors(draw: st.DrawFn, book: Any) -> Any:
    return replace(
        book,
        requirements=draw(requirements),
        seasons=draw(seasons),
        zones=tuple(replace(zone, make_ups=draw(make_ups)) for zone in book.zones),
    )


@st.composite
def _people(draw: st.DrawFn, customers: Any, branches: Any, sites: Any) -> dict[str, Any]:
    contact = st.builds(
        Contact,
        code=codes,
        customer=customers,
        name=names,
        site=sites,
        role=names,
        email=names,
        phone=names,
    )
    worker = run(
        Worker,
        code=codes,
        name=names,
        branch=branches,
        languages=st.sampled_from([("en",), ("de", "en"), ()]),
        qualifications=qualifications,
    )
    contacts, workers = draw(many(contact, by_code)), draw(many(worker, by_code))
    person = st.builds(
        Person,
        code=codes,
        name=names,
        role=st.sampled_from(Role),
        email=names,
        worker=st.sampled_from(["", *map(by_code, workers)]),
        contact=st.sampled_from(["", *map(by_code, contacts)]),
    )
    return {"contacts": contacts, "workers": workers, "people": draw(many(person, by_code))}


def _crews(branches: Any, workers: list[str]) -> st.SearchStrategy[Any]:
    members = st.just(())
    if workers:
        members = many(run(CrewMember, worker=st.sampled_from(workers)), member_order)
    crew = st.builds(
        Crew,
        code=codes,
        branch=branches,
        name=names,
        members=members,
        shifts=shifts,
    )
    return many(crew, by_code)


def _stands(*, branch: str, site: str, **span: Any) -> MachinePlace:
    """A machine stands on the site where there is one, else at the branch."""
    return MachinePlace(branch="" if site else branch, site=site, **span)


@st.composite
def _equipment(draw: st.DrawFn, branches: Any, sites: Any) -> dict[str, Any]:
    outages = st.tuples(days, st.integers(0, 90)).map(lambda o: (o[0], o[0] + timedelta(days=o[1])))
    machine = st.builds(
        OwnedMachine,
        code=codes,
        kind=names,
        name=names,
        places=many(run(_stands, branch=branches, site=sites), lambda place: place.from_on),
        fuel=names,
        out_of_order=many(outages, lambda outage: outage[0]),
    )
    calibration = st.builds(
        lambda done, valid: Calibration(done_on=done, valid_to=done + timedelta(days=valid)),
        days,
        st.integers(0, 800),
    )
    meter = st.builds(
        Instrument,
        code=codes,
        name=names,
        measure=names,
        serial=names,
        calibrations=many(calibration, lambda one: one.done_on),
    )
    meters = draw(many(meter, by_code))
    pairs = [(a.code, b.code) for a in meters for b in meters if a is not b]
    bridge = st.builds(
        lambda pair, **values: MeterBridge(first=pair[0], second=pair[1], **values),
        st.sampled_from(pairs or [("", "")]),
        on=days,
        offset_gu=numbers(-20, 20),
        stations=st.integers(1, 50),
    )
    bridges = many(bridge, lambda b: (b.first, b.second, b.on))
    entry = st.builds(
        StockEntry,
        branch=branches,
        material=names,
        on=days,
        move=st.sampled_from(StockMove),
        quantity=numbers(0, 1e6),
        unit=names,
    )
    rate = run(
        Rate,
        branch=branches,
        kind=st.sampled_from(RateKind),
        amount=amounts,
        currency=st.sampled_from(["EUR", "USD"]),
        what=names,
    )
    return {
        "machines": draw(many(machine, by_code)),
        "instruments": meters,
        "bridges": draw(bridges) if pairs else (),
        "stock": draw(many(entry, stock_order)),
        "rates": draw(many(rate, rate_order)),
    }


def _places(loaded: Portfolio) -> st.SearchStrategy[tuple[str, str]]:
    """(site, zone) of the portfolio, the zone "" for the site as a whole."""
    found = [(book.site.code, "") for book in loaded.books]
    found += [(book.site.code, zone.zone.code) for book in loaded.books for zone in book.zones]
    return st.sampled_from(found)


@st.composite
def _contracts(draw: st.DrawFn, customers: Any, loaded: Portfolio) -> Any:
    fee = st.builds(
        FeeLine,
        kind=st.sampled_from(FeeKind),
        amount=amounts,
        site=st.sampled_from(["", *(book.site.code for book in loaded.books)]),
        work=st.sampled_from(["recoat", "burnish"]),
    )
    exclusion = st.builds(
        lambda place, first, length, **values: Exclusion(
            site=place[0],
            zone=place[1],
            from_on=first,
            to_on=first + timedelta(days=length),
            **values,
        ),
        _places(loaded),
        days,
        st.integers(0, 60),
        cause=names,
        evidence=names,
    )
    contract = st.builds(
        Contract,
        code=codes,
        customer=customers,
        name=names,
        currency=st.sampled_from(["EUR", "USD"]),
        terms=terms,
        exclusions=many(exclusion, exclusion_order),
    )
    with_fees = [
        replace(one, terms=tuple(replace(t, fees=draw(many(fee, fee_order))) for t in one.terms))
        for one in draw(many(contract, by_code, most=2))
    ]
    return tuple(with_fees)


def _call(
    place: tuple[str, str], open_minutes: int | None, received_at: datetime, **values: Any
) -> CallReceived:
    closed_at = None if open_minutes is None else received_at + timedelta(minutes=open_minutes)
    return CallReceived(
        site=place[0], zone=place[1], received_at=received_at, closed_at=closed_at, **values
    )


def _calls(loaded: Portfolio) -> st.SearchStrategy[Any]:
    call = st.builds(
        _call,
        _places(loaded),
        uuid=st.uuids().map(str),
        kind=st.sampled_from(CallKind),
        received_at=instants,
        reported_by=names,
        text=names,
        spot_m2=maybe(numbers(0, 1e4)),
        open_minutes=maybe(st.integers(0, 100_000)),
    )
    return many(call, lambda one: (one.received_at, one.uuid))
