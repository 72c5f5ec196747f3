"""Plan the year: load, decide branch by branch, and write the difference from what stood."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from floorcare.errors import Clash, NotKnown
from floorcare.findings import Finding
from floorcare.ground.rules.cost import BranchCosts, costs_by_branch
from floorcare.ground.schedule.branch_year import Decision
from floorcare.ground.schedule.difference import Difference, together
from floorcare.ground.schedule.gather import SiteNights
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.schedule.plan_digest import plan_digest
from floorcare.ground.schedule.settled_year import (
    Naming,
    SettledYear,
    becomes,
    must_be_looked_at,
    same_unplaced,
    settled_year,
    unplaced_key,
)
from floorcare.ground.schedule.sites_look import BranchYear, SitesLook, look_at_sites
from floorcare.ground.schedule.urgent import UrgentFloor, most_urgent
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.site import Branch, TravelLeg
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import ChangeKind, Plan, PlanChange, Unplaced, Visit, VisitState
from floorcare.ground.wear.books.meters import Meters
from floorcare.ground.wear.pooled import PriorVersion
from floorcare.store.open import Store
from floorcare.store.visit_marks import VisitMark, mark_of

Tell = Callable[[int, int], None]
WEEKS = 52
"""The horizon, where nobody asks for another."""
CHUNK_SITES = 40
"""Sites looked at together: enough to be quick, few enough to tell how far it is. Assumption."""


def silent(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YearAccount:
    """What a plan came to; `written` is False for a dry run and where nothing changed.

    alone : the sites planned, where not every site was; the figures are of these.
    """

    written: bool
    today: date
    last_on: date
    sites: int
    zones: int
    visits: int
    lines: int
    late: int
    changes: tuple[PlanChange, ...]
    unplaced: tuple[Unplaced, ...]
    urgent: tuple[UrgentFloor, ...]
    outlooks: tuple[ZoneOutlook, ...]
    findings: tuple[Finding, ...]
    over_before: int
    over_after: int
    saved_minutes: int
    alone: tuple[str, ...] = ()

    def count(self, kind: ChangeKind) -> int:
        """How many visits were added, moved, merged, changed, dropped or kept."""
        return sum(1 for change in self.changes if change.kind is kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What is asked: see `plan_year`."""

    surfaces: Mapping[str, Surface]
    today: date
    last_on: date
    now: datetime
    keep_notice: bool
    sites: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Snapshot:
    """One moment of the store: everything a plan is made from.

    branches, books, standing, known : of the branches planned; books of sites that are not among
        `sites` are without records.
    sites : to be decided; None for every site.
    nights : by site, as far as they are known.
    marks : every visit from today on, of any branch.
    homes : the branch of each site there is, "" where none serves it.
    """

    installation: str
    branches: tuple[Branch, ...]
    books: tuple[SiteBook, ...]
    sites: frozenset[str] | None
    standing: tuple[Visit, ...]
    known: frozenset[str]
    marks: tuple[VisitMark, ...]
    homes: Mapping[str, str]
    nights: dict[str, SiteNights]
    unplaced: tuple[Unplaced, ...]
    plan: Plan | None
    prior: PriorVersion | None
    meters: Meters
    calls: tuple[CallReceived, ...]
    costs: Mapping[str, BranchCosts]
    legs: tuple[TravelLeg, ...]
    revisions: dict[str, int]


def plan_year(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    now: datetime,
    who: str,
    weeks: int = WEEKS,
    keep_notice: bool = False,
    dry_run: bool = False,
    tell: Tell = silent,
    sites: Collection[str] = (),
) -> YearAccount:
    """Plan every branch's year and write what changed, in one transaction.

    Parameters
    ----------
    surfaces : by code.
    today, now : the plan's day, and the UTC instant it is written at.
    weeks : length of the horizon.
    keep_notice : what is newly proposed keeps the sites' notice days, unless it presses.
    dry_run : decide and account, write nothing.
    tell : told (done, total) sites.
    sites : plan only these and level their branches, where the plan that stands is of the same day,
        horizon and pooled values; every other site would come out as it stands.

    Raises
    ------
    Clash : the inputs changed while the plan was made, twice in a row.
    NotKnown : there is no such site.
    """
    asked = _Asked(
        surfaces=surfaces,
        today=today,
        last_on=today + timedelta(weeks=weeks),
        now=now,
        keep_notice=keep_notice,
        sites=frozenset(sites),
    )
    try:
        return _made(store, asked, who, tell, dry_run=dry_run)
    except Clash:
        # somebody recorded something meanwhile: decide once more with it
        return _made(store, asked, who, tell, dry_run=dry_run)


def _made(store: Store, asked: _Asked, who: str, tell: Tell, *, dry_run: bool) -> YearAccount:
    snapshot, years = _planned(store, asked, tell)
    decisions = [year.decision for year in years]
    found = together([year.found for year in years])
    unplaced = _unplaced(snapshot, decisions)
    write = not dry_run and not (found.empty and same_unplaced(unplaced, snapshot.unplaced))
    if write:
        plan = _plan(snapshot, found, unplaced, asked, who)
        _write(store, snapshot, plan, found, unplaced)
    return _account(snapshot, decisions, found, unplaced, write, asked)


def _planned(store: Store, asked: _Asked, tell: Tell) -> tuple[_Snapshot, list[SettledYear]]:
    """What the store held, and every branch's year; sites the asked ones push are planned too."""
    while True:
        snapshot = _load(store, asked)
        years = _settled(snapshot, asked, tell)
        beyond = frozenset().union(*(year.beyond for year in years))
        if not beyond:
            return snapshot, years
        asked = replace(asked, sites=asked.sites | beyond)


def _load(store: Store, asked: _Asked) -> _Snapshot:
    today = asked.today
    with store.work() as work:
        plan, prior, sites = work.standing_plan(), work.prior_version(), work.sites()
        homes = {site.code: site.branch_on(today) for site in sites}
        for code in sorted(asked.sites - set(homes)):
            raise NotKnown("there is no such site", where=f"site {code}")
        made_for = (today, asked.last_on, prior.number if prior else None)
        alone = bool(asked.sites) and (
            plan is not None and made_for == (plan.today, plan.last_on, plan.prior_version)
        )
        served = {homes[code] for code in asked.sites if homes[code]} if alone else None
        mine = {code for code in homes if homes[code] in served} if served is not None else None
        visits = work.visits(sites=mine, first=today if alone else None)
        standing = tuple(
            v for v in visits if v.night >= today and v.state is not VisitState.CANCELLED
        )
        snapshot = _Snapshot(
            installation=work.installation().uuid,
            branches=tuple(b for b in work.branches() if served is None or b.code in served),
            books=work.books(mine, records=not alone),
            sites=asked.sites if alone else None,
            standing=standing,
            known=work.visit_uuids(mine) if mine is not None else frozenset(v.uuid for v in visits),
            marks=work.visit_marks(today) if alone else tuple(mark_of(v) for v in standing),
            homes=homes,
            nights={},
            unplaced=work.unplaced(),
            plan=plan,
            prior=prior,
            meters=work.meters(),
            calls=work.calls(),
            costs=costs_by_branch(work.branches(), work.rates(), work.contracts(), today),
            legs=work.legs(),
            revisions=work.revisions(),
        )
        if not alone:
            return snapshot
        years = [_year(snapshot, branch, asked) for branch in snapshot.branches]
        needed = asked.sites.union(
            *(must_be_looked_at(year, snapshot.unplaced, snapshot.nights) for year in years)
        )
        whole = {book.site.code: book for book in work.books(needed)}
        books = tuple(whole.get(book.site.code, book) for book in snapshot.books)
        return replace(snapshot, books=books, sites=needed)


def _year(snapshot: _Snapshot, branch: Branch, asked: _Asked) -> BranchYear:
    return year_of(
        branch,
        books=snapshot.books,
        visits=snapshot.standing,
        surfaces=asked.surfaces,
        pooled=snapshot.prior.surfaces if snapshot.prior else {},
        meters=snapshot.meters,
        calls=snapshot.calls,
        keep_notice=asked.keep_notice,
        costs=snapshot.costs[branch.code],
        legs=snapshot.legs,
        today=asked.today,
        last_on=asked.last_on,
        planned_to=snapshot.plan.last_on if snapshot.plan else None,
    )


def _settled(snapshot: _Snapshot, asked: _Asked, tell: Tell) -> list[SettledYear]:
    """Every branch's year, a branch at a time."""
    naming = Naming(installation=snapshot.installation, known=snapshot.known, now=asked.now)
    years = [_year(snapshot, branch, asked) for branch in snapshot.branches]
    alone = snapshot.sites
    chosen = [
        [b.site.code for b in year.books if alone is None or b.site.code in alone] for year in years
    ]
    total, done = sum(map(len, chosen)), 0
    tell(0, total)
    settled = []
    for year, codes in zip(years, chosen, strict=True):
        looks: list[SitesLook] = []
        for start in range(0, len(codes), CHUNK_SITES):
            part = codes[start : start + CHUNK_SITES]
            looks.append(look_at_sites(year, part, snapshot.nights))
            done += len(part)
            if start + CHUNK_SITES < len(codes):
                tell(done, total)
        settled.append(settled_year(year, looks, naming))
        tell(done, total)
    return settled


def _unplaced(snapshot: _Snapshot, decisions: Sequence[Decision]) -> tuple[Unplaced, ...]:
    """What has no night, of every branch; what had none before keeps the words it had."""
    before = {unplaced_key(one): one for one in snapshot.unplaced}
    planned = {site for decision in decisions for site in decision.people}
    found = [one for decision in decisions for one in decision.unplaced]
    if snapshot.sites is not None:
        elsewhere = {site for site, home in snapshot.homes.items() if home} - planned
        found += [one for one in snapshot.unplaced if one.due.site in elsewhere]
    told = (before.get(unplaced_key(one), one) for one in found)
    return tuple(sorted(told, key=unplaced_key))


def _plan(
    snapshot: _Snapshot,
    found: Difference,
    unplaced: tuple[Unplaced, ...],
    asked: _Asked,
    who: str,
) -> Plan:
    kinds = [change.kind for change in found.changes]
    served = {branch.code for branch in snapshot.branches}
    elsewhere = sum(
        1
        for mark in snapshot.marks
        if snapshot.homes[mark.site] not in {"", *served}
        and mark.is_movable(asked.today, asked.last_on)
    )
    return Plan(
        made_at=asked.now,
        made_by=who,
        today=asked.today,
        last_on=asked.last_on,
        digest=_digest(snapshot, asked),
        added=kinds.count(ChangeKind.ADDED),
        moved=kinds.count(ChangeKind.MOVED),
        merged=kinds.count(ChangeKind.MERGED),
        changed=kinds.count(ChangeKind.CHANGED),
        dropped=kinds.count(ChangeKind.DROPPED),
        kept=kinds.count(ChangeKind.KEPT) + elsewhere,
        unplaced=len(unplaced),
        prior_version=snapshot.prior.number if snapshot.prior else None,
    )


def _digest(snapshot: _Snapshot, asked: _Asked) -> str:
    return plan_digest(
        [
            asked.today.isoformat(),
            asked.last_on.isoformat(),
            f"learned {snapshot.prior.number if snapshot.prior else 0}",
            *(("notice kept",) if asked.keep_notice else ()),
            *(f"{branch}={revision}" for branch, revision in sorted(snapshot.revisions.items())),
        ],
        (f"{v.uuid}:{v.sequence}:{v.state}:{v.agreement}" for v in snapshot.marks),
        asked.surfaces,
    )


def _write(
    store: Store,
    snapshot: _Snapshot,
    plan: Plan,
    found: Difference,
    unplaced: tuple[Unplaced, ...],
) -> None:
    with store.work(writes=True) as work:
        work.put_plan(
            plan,
            visits=found.altered,
            changes=found.changes,
            unplaced=unplaced,
            revisions={b.code: snapshot.revisions[b.code] for b in snapshot.branches},
            who=plan.made_by,
            now=plan.made_at,
        )
        work.commit()


def _account(
    snapshot: _Snapshot,
    decisions: list[Decision],
    found: Difference,
    unplaced: tuple[Unplaced, ...],
    written: bool,
    asked: _Asked,
) -> YearAccount:
    alone = snapshot.sites
    unplaced = tuple(one for one in unplaced if alone is None or one.due.site in alone)
    proposed = [v for v in becomes(snapshot.standing, found) if alone is None or v.site in alone]
    outlooks = tuple(outlook for d in decisions for outlook in d.outlooks)
    served = {site for d in decisions for site in d.people}
    homeless = tuple(
        Finding(
            problem=f"site {book.site.code} has no branch on {asked.today}, so it is not planned",
            allowed=", ".join(branch.code for branch in snapshot.branches),
            mend="give it a branch from that day on",
            weight="asks",
        )
        for book in snapshot.books
        if book.site.code not in served and alone is None
    )
    return YearAccount(
        written=written,
        today=asked.today,
        last_on=asked.last_on,
        sites=len(served if alone is None else served & alone),
        zones=len(outlooks),
        visits=len(proposed),
        lines=sum(len(visit.lines) for visit in proposed),
        late=sum(1 for v in proposed for line in v.lines if v.night > line.due.latest),
        changes=tuple(c for c in found.changes if alone is None or c.site in alone),
        unplaced=unplaced,
        urgent=most_urgent(
            [(v.night, line) for v in proposed for line in v.lines], unplaced, outlooks
        ),
        outlooks=outlooks,
        findings=tuple(dict.fromkeys((*homeless, *(f for d in decisions for f in d.findings)))),
        over_before=sum(d.over_before for d in decisions),
        over_after=sum(d.over_after for d in decisions),
        saved_minutes=sum(d.saved_minutes for d in decisions),
        alone=tuple(sorted(alone or ())),
    )
