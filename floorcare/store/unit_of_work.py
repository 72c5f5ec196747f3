"""One block of work on the store: reads, writes, and one commit at the end or nothing at all."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING

from sqlalchemy import Connection, false, select, update

from floorcare.ground.crews.week_change import WeekEdit
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.book import Portfolio, SiteBook
from floorcare.ground.trade.contract import Contract
from floorcare.ground.trade.crew import Crew, Worker
from floorcare.ground.trade.equipment import (
    Instrument,
    MeterBridge,
    OwnedMachine,
    Rate,
    StockEntry,
    Supply,
)
from floorcare.ground.trade.people import CallReceived, Contact, Person
from floorcare.ground.trade.site import Branch, Customer, Site, TravelLeg
from floorcare.ground.trade.visit import Plan, PlanChange, Unplaced, Visit
from floorcare.ground.wear.books.meters import Meters
from floorcare.store import rows
from floorcare.store.assignments import assignments_of, hold_assignment
from floorcare.store.books import books_of
from floorcare.store.calls import calls_of
from floorcare.store.columns import FOLDER, PROGRAM
from floorcare.store.contacts import contacts_of, people_of
from floorcare.store.contracts import contracts_of
from floorcare.store.crews import crews_of
from floorcare.store.customers import branches_of, customers_of, revisions_of
from floorcare.store.entries import answer_of, put_entry
from floorcare.store.history import HistoryEntry, history_of
from floorcare.store.installations import Installation, installation_of
from floorcare.store.instruments import bridges_of, instruments_of
from floorcare.store.machines import machines_of
from floorcare.store.merge import PutCount, Writer
from floorcare.store.named_visits import visit_named
from floorcare.store.plans import put_plan, standing_plan_of, unplaced_of
from floorcare.store.portfolio import put_portfolio
from floorcare.store.prior_versions import (
    VersionMade,
    prior_version_of,
    prior_versions_of,
    put_prior_version,
)
from floorcare.store.sites import sites_of
from floorcare.store.stock import rates_of, stock_of
from floorcare.store.supplies import supplies_of
from floorcare.store.travel_legs import legs_of
from floorcare.store.visit_edits import VisitEdit, put_edit, version_seen, visit_versions
from floorcare.store.visit_marks import VisitMark, visit_marks_of, visit_uuids_at
from floorcare.store.visits import VisitEvent, events_of, visits_of
from floorcare.store.weeks import put_week
from floorcare.store.workers import workers_of

if TYPE_CHECKING:
    from floorcare.ground.wear.pooled import Pooled, PriorVersion


class UnitOfWork:
    """A block of work; made by `Store.work`, over at its commit."""

    def __init__(self, connection: Connection, *, writes: bool) -> None:
        self._connection = connection
        self._writes = writes
        self._over = False
        table = rows.installation
        if writes:
            # A write of no row: whoever may not write is told now and not after their work.
            connection.execute(update(table).values(id=table.c.id).where(false()))
        else:
            # A reader's moment begins with its first statement, so here and not some time later.
            connection.execute(select(table.c.id)).close()

    def installation(self) -> Installation:
        """Which installation this is."""
        return installation_of(self._reading())

    def customers(self) -> tuple[Customer, ...]:
        """Every customer, sorted by code."""
        return customers_of(self._reading())

    def branches(self) -> tuple[Branch, ...]:
        """Every branch, sorted by code."""
        return branches_of(self._reading())

    def sites(self) -> tuple[Site, ...]:
        """Every site without its zones, sorted by code."""
        return tuple(sites_of(self._reading(), None).values())

    def books(
        self, sites: Collection[str] | None = None, *, records: bool = True
    ) -> tuple[SiteBook, ...]:
        """The books of these sites, or of all, sorted by code; without records, no readings."""
        return books_of(self._reading(), sites, records=records)

    def contacts(self) -> tuple[Contact, ...]:
        """Every contact, sorted by code."""
        return contacts_of(self._reading())

    def people(self) -> tuple[Person, ...]:
        """Everybody who uses the program, sorted by code."""
        return people_of(self._reading())

    def workers(self) -> tuple[Worker, ...]:
        """Every worker with what they hold and when they are away, sorted by code."""
        return workers_of(self._reading())

    def crews(self) -> tuple[Crew, ...]:
        """Every crew with its members and shifts, sorted by code."""
        return crews_of(self._reading())

    def machines(self) -> tuple[OwnedMachine, ...]:
        """Every machine with its places and outages, sorted by code."""
        return machines_of(self._reading())

    def instruments(self) -> tuple[Instrument, ...]:
        """Every instrument with its calibrations, sorted by code."""
        return instruments_of(self._reading())

    def bridges(self) -> tuple[MeterBridge, ...]:
        """Every bridge between meters, sorted by the two codes and the day."""
        return bridges_of(self._reading())

    def meters(self) -> Meters:
        """The instruments and their bridges, as what turns readings into wear reads them."""
        return Meters(instruments=self.instruments(), bridges=self.bridges())

    def legs(self) -> tuple[TravelLeg, ...]:
        """Every typed drive, sorted by branch, where it leaves and where it arrives."""
        return legs_of(self._reading())

    def stock(self) -> tuple[StockEntry, ...]:
        """Every stock entry, sorted by branch, material and day."""
        return stock_of(self._reading())

    def supplies(self) -> tuple[Supply, ...]:
        """How every branch buys its materials, sorted by branch and material."""
        return supplies_of(self._reading())

    def rates(self) -> tuple[Rate, ...]:
        """Every rate of ours, sorted by branch, kind, what it prices and first day."""
        return rates_of(self._reading())

    def contracts(self) -> tuple[Contract, ...]:
        """Every contract, whole, sorted by code."""
        return contracts_of(self._reading())

    def calls(self) -> tuple[CallReceived, ...]:
        """Every call that was not taken back, by when it was received."""
        return calls_of(self._reading())

    def revisions(self) -> dict[str, int]:
        """The inputs' revision of every branch; it rises whenever a plan would read otherwise."""
        return revisions_of(self._reading())

    def put_portfolio(
        self, portfolio: Portfolio, *, who: str, now: datetime, origin: str = FOLDER
    ) -> dict[str, PutCount]:
        """Bring a portfolio in by natural keys; what it leaves out stays as it is.

        Parameters
        ----------
        origin : "folder", or "program" for what was entered in the program, which outranks it.

        Returns
        -------
        By the word of each kind that was brought, how many and which rows were changed.
        """
        writer = Writer(connection=self._writing(), who=who, now=now, origin=origin)
        return put_portfolio(writer, portfolio)

    def answer(self, uuid: str, digest: str) -> str | None:
        """The answer an outside entry was given, None where it never came in.

        Raises
        ------
        Clash : it came in with another content.
        """
        return answer_of(self._reading(), uuid, digest)

    def put_entry(self, uuid: str, who: str, digest: str, answer: str, now: datetime) -> str:
        """Keep an outside entry and its answer; one that came in before keeps its first answer.

        Raises
        ------
        Clash : it came in before with another content.
        """
        return put_entry(self._writing(), uuid, who, digest, answer, now)

    def visits(
        self,
        *,
        sites: Collection[str] | None = None,
        first: date | None = None,
        last: date | None = None,
    ) -> tuple[Visit, ...]:
        """Visits from the first night to the last, cancelled ones too, by night, site and UUID."""
        return visits_of(self._reading(), sites=sites, first=first, last=last)

    def standing_plan(self) -> Plan | None:
        """The latest plan, None before the first."""
        return standing_plan_of(self._reading())

    def visit_marks(self, first: date) -> tuple[VisitMark, ...]:
        """Visits of that night or later that are not cancelled, in brief, sorted by UUID."""
        return visit_marks_of(self._reading(), first)

    def visit_uuids(self, sites: Collection[str]) -> frozenset[str]:
        """The UUID of every visit there ever was at these sites."""
        return visit_uuids_at(self._reading(), sites)

    def unplaced(self) -> tuple[Unplaced, ...]:
        """What the latest plan could not place."""
        return unplaced_of(self._reading())

    def put_plan(
        self,
        plan: Plan,
        *,
        visits: tuple[Visit, ...],
        changes: tuple[PlanChange, ...],
        unplaced: tuple[Unplaced, ...],
        revisions: Mapping[str, int],
        who: str,
        now: datetime,
    ) -> None:
        """Write a plan that changed something; a `Clash` where its inputs changed meanwhile."""
        put_plan(
            self._writing(),
            plan,
            visits=visits,
            changes=changes,
            unplaced=unplaced,
            revisions=revisions,
            who=who,
            now=now,
        )

    def prior_version(self) -> "PriorVersion | None":
        """The latest pooled values, None before anything was learned."""
        return prior_version_of(self._reading())

    def pooled(self) -> "Mapping[str, Pooled]":
        """The latest pooled values by surface; none before anything was learned."""
        latest = self.prior_version()
        return latest.surfaces if latest is not None else {}

    def prior_versions(self) -> tuple[VersionMade, ...]:
        """Every version of the pooled values, oldest first: numbers and dates."""
        return prior_versions_of(self._reading())

    def add_prior_version(
        self, surfaces: "Mapping[str, Pooled]", *, learned_on: date, who: str, now: datetime
    ) -> "PriorVersion":
        """Add pooled values, by surface, as the next version; plans read it from then on.

        Parameters
        ----------
        learned_on : last day of the readings behind them.
        """
        writer = Writer(connection=self._writing(), who=who, now=now)
        return put_prior_version(writer, surfaces, learned_on)

    def visit_named(self, words: Sequence[str]) -> Visit:
        """The visit of a site and night (and start), or of the beginning of its UUID.

        Raises
        ------
        NotKnown : there is no such visit, or there are several.
        """
        return visit_named(self._reading(), words)

    def visit_versions(self, uuids: Iterable[str]) -> dict[str, int]:
        """How often each of the visits was written; it rises with every change."""
        return visit_versions(self._reading(), uuids)

    def version_seen(self, visit: Visit, seen: int | None) -> int:
        """The visit's version; a `Clash` where it is another than the one somebody saw."""
        return version_seen(self._reading(), visit, seen)

    def put_visit(self, edit: VisitEdit, *, who: str, now: datetime) -> int:
        """Write one visit as a person changed it; a `Clash` where it changed since it was read.

        Returns
        -------
        Its version from now on.
        """
        writer = Writer(connection=self._writing(), who=who, now=now, origin=PROGRAM)
        return put_edit(writer, edit)

    def assignments(self, first: date, last: date) -> tuple[Assignment, ...]:
        """Who goes to the visits of the nights between two days, by crew and start."""
        return assignments_of(self._reading(), first, last)

    def hold_assignment(self, uuid: str, *, held: bool) -> bool:
        """Pin a visit to its crew and night, or let it go; False where it has no crew."""
        return hold_assignment(self._writing(), uuid, held=held)

    def put_week(
        self, edit: WeekEdit, versions: Mapping[str, int], *, who: str, now: datetime
    ) -> None:
        """Keep a branch's week; a `Clash` where one of its visits changed since it was read."""
        writer = Writer(connection=self._writing(), who=who, now=now, origin=PROGRAM)
        put_week(writer, edit, versions)

    def visit_events(self, uuid: str) -> tuple[VisitEvent, ...]:
        """What happened to a visit, oldest first."""
        return events_of(self._reading(), uuid)

    def history(self, limit: int = 50) -> tuple[HistoryEntry, ...]:
        """The latest entries of the account, newest first."""
        return history_of(self._reading(), limit)

    def commit(self) -> None:
        """Keep what was written; nothing may follow in this block."""
        self._writing().commit()
        self._over = True

    def _reading(self) -> Connection:
        if self._over:
            raise RuntimeError("this unit of work is over: it was committed")
        return self._connection

    def _writing(self) -> Connection:
        if not self._writes:
            raise RuntimeError("this unit of work was opened for reading: open it with writes=True")
        return self._reading()
