"""Shut days of a site: add or take back a day or a run of days, and say which visits fall in it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.schedule.night_checks import NightGround, fallen_in
from floorcare.ground.schedule.sites_look import BranchYear
from floorcare.ground.schedule.travel import Travel
from floorcare.ground.trade.book import Portfolio, SiteBook, withdrawal_of
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit, VisitState
from floorcare.ground.worktime.shut import ShutDay
from floorcare.store.columns import PROGRAM
from floorcare.store.open import Store
from floorcare.store.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class ShutRow:
    """Days on which a site is shut, both included."""

    site: str
    from_on: date
    to_on: date
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FallenVisit:
    """A visit that its night no longer takes; `stands` says that no plan will move it."""

    visit: str
    night: date
    state: str
    agreement: str
    stands: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShutChanged:
    """What became of shut days; `written` is False where they stood so already."""

    written: bool
    withdrawn: bool
    shut: ShutRow
    fallen: tuple[FallenVisit, ...] = ()


def list_shut(store: Store, *, site: str = "", first: date) -> tuple[ShutRow, ...]:
    """Shut days that end on `first` or later, by site and day; of one site or of all.

    Raises
    ------
    NotKnown : there is no such site.
    """
    with store.work() as work:
        sites = work.sites()
    if site and site not in {one.code for one in sites}:
        raise NotKnown(f'There is no site "{site}".')
    return tuple(
        ShutRow(site=one.code, from_on=day.from_on, to_on=day.to_on, why=day.why)
        for one in sites
        if site in ("", one.code)
        for day in one.shut_days
        if day.to_on >= first
    )


def shut_site(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    site: str,
    shut: ShutDay,
    today: date,
    who: str,
    now: datetime,
) -> ShutChanged:
    """Shut a site for some days, in one transaction; the next plan moves what falls in them.

    Days entered here outrank the folder's that begin on the same day.

    Raises
    ------
    NotKnown : there is no such site.
    """
    with store.work(writes=True) as work:
        book = _book(work, site)
        counts = work.put_portfolio(_only(book, shut), who=who, now=now, origin=PROGRAM)
        written = any(count.added or count.changed for count in counts.values())
        fallen = _fallen(work, surfaces, book, shut, today)
        work.commit()
    return ShutChanged(written=written, withdrawn=False, shut=_row(site, shut), fallen=fallen)


def open_site(store: Store, *, site: str, from_on: date, who: str, now: datetime) -> ShutChanged:
    """Take back the shut days of a site that begin on a day, in one transaction.

    Raises
    ------
    NotKnown : there is no such site, or no shut day of it begins then.
    """
    with store.work(writes=True) as work:
        book = _book(work, site)
        shut = next((day for day in book.site.shut_days if day.from_on == from_on), None)
        if shut is None:
            begin = ", ".join(day.from_on.isoformat() for day in book.site.shut_days) or "none"
            raise NotKnown(f"No shut day of {site} begins on {from_on}; it has {begin}.")
        back = (withdrawal_of(site, "", shut),)
        work.put_portfolio(Portfolio(withdrawn=back), who=who, now=now, origin=PROGRAM)
        work.commit()
    return ShutChanged(written=True, withdrawn=True, shut=_row(site, shut))


def _book(work: UnitOfWork, site: str) -> SiteBook:
    books = work.books([site])
    if not books:
        known = ", ".join(one.code for one in work.sites())
        raise NotKnown(f'There is no site "{site}"; there are {known}.')
    return books[0]


def _only(book: SiteBook, shut: ShutDay) -> Portfolio:
    """The shut days alone; what else the site has is left as it stands."""
    for day in book.site.shut_days:
        if day.from_on != shut.from_on and day.from_on <= shut.from_on and shut.to_on <= day.to_on:
            raise NotUnderstood(
                f"{book.site.code} is shut from {day.from_on} to {day.to_on} already ({day.why})."
            )
    site = replace(book.site, windows=(), shut_days=(shut,))
    return Portfolio(books=(SiteBook(site=site),))


def _row(site: str, shut: ShutDay) -> ShutRow:
    return ShutRow(site=site, from_on=shut.from_on, to_on=shut.to_on, why=shut.why)


def _fallen(
    work: UnitOfWork,
    surfaces: Mapping[str, Surface],
    book: SiteBook,
    shut: ShutDay,
    today: date,
) -> tuple[FallenVisit, ...]:
    """Visits of the site, proposed or held, that their nights take no longer."""
    site = book.site
    days = (*(day for day in site.shut_days if day.from_on != shut.from_on), shut)
    visits = work.visits(sites=[site.code], first=today)
    fallen: list[Visit] = []
    for branch in work.branches():
        mine = tuple(
            visit
            for visit in visits
            if visit.state in (VisitState.PROPOSED, VisitState.HELD)
            and site.branch_on(visit.night) == branch.code
        )
        year = BranchYear(
            branch=branch,
            books=(replace(book, site=replace(site, shut_days=days)),),
            surfaces=surfaces,
            standing=mine,
            today=today,
            last_on=max(today, shut.to_on),
            travel=Travel.of(branch.code, work.legs()),
        )
        fallen += fallen_in(mine, NightGround(year=year), shut.from_on, shut.to_on)
    return tuple(
        FallenVisit(
            visit=v.uuid,
            night=v.night,
            state=v.state.value,
            agreement=v.agreement.value,
            stands=v.stands,
        )
        for v in sorted(fallen, key=lambda v: (v.night, v.uuid))
    )
