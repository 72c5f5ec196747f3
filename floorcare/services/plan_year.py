"""Plan the year: load, decide branch by branch, and write the difference from what stood."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from hashlib import sha256

from floorcare.errors import Clash
from floorcare.findings import Finding
from floorcare.ground.schedule.branch_year import BranchYear, Decision, decide_branch
from floorcare.ground.schedule.difference import Difference, difference
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.schedule.urgent import UrgentFloor, most_urgent
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import ChangeKind, Plan, PlanChange, Unplaced, Visit, VisitState
from floorcare.store.open import Store

Tell = Callable[[int, int], None]
WEEKS = 52
"""The horizon, where nobody asks for another."""

MOST_LOOKS = 3
"""A plan is looked at again so often at most until a look changes nothing. Assumption."""


def silent(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YearAccount:
    """What a plan came to; `written` is False for a dry run and where nothing changed."""

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

    def count(self, kind: ChangeKind) -> int:
        """How many visits were added, moved, merged, changed, dropped or kept."""
        return sum(1 for change in self.changes if change.kind is kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Snapshot:
    """One moment of the store: everything a plan is made from."""

    installation: str
    branches: tuple[Branch, ...]
    books: tuple[SiteBook, ...]
    standing: tuple[Visit, ...]
    known: frozenset[str]
    unplaced: tuple[Unplaced, ...]
    plan: Plan | None
    revisions: dict[str, int]


def plan_year(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    now: datetime,
    who: str,
    weeks: int = WEEKS,
    dry_run: bool = False,
    tell: Tell = silent,
) -> YearAccount:
    """Plan every branch's year and write what changed, in one transaction.

    Parameters
    ----------
    surfaces : by code.
    today, now : the plan's day, and the UTC instant it is written at.
    weeks : length of the horizon.
    dry_run : decide and account, write nothing.
    tell : told (done, total) branches.

    Raises
    ------
    Clash : the inputs changed while the plan was made, twice in a row.
    """
    last_on = today + timedelta(weeks=weeks)
    for again in (False, True):
        snapshot = _load(store, today)
        decisions, found = _settled(snapshot, surfaces, today, last_on, now, tell)
        unplaced = _unplaced(decisions)
        plan = _plan(snapshot, found, unplaced, surfaces, today, last_on, who, now)
        write = not dry_run and not (found.empty and _same(unplaced, snapshot.unplaced))
        if write:
            try:
                _write(store, snapshot, plan, found, unplaced)
            except Clash:
                if again:
                    raise
                continue  # somebody recorded something meanwhile: decide once more with it
        return _account(snapshot, decisions, found, unplaced, write, today, last_on)
    raise AssertionError("the second turn either returns or raises")


def _load(store: Store, today: date) -> _Snapshot:
    with store.work() as work:
        visits = work.visits()
        return _Snapshot(
            installation=work.installation().uuid,
            branches=work.branches(),
            books=work.books(),
            standing=tuple(
                v for v in visits if v.night >= today and v.state is not VisitState.CANCELLED
            ),
            known=frozenset(v.uuid for v in visits),
            unplaced=work.unplaced(),
            plan=work.standing_plan(),
            revisions=work.revisions(),
        )


def _settled(
    snapshot: _Snapshot,
    surfaces: Mapping[str, Surface],
    today: date,
    last_on: date,
    now: datetime,
    tell: Tell,
) -> tuple[list[Decision], Difference]:
    """Decisions that a further look at them would not change, and the difference they make.

    Work that was placed late, or on another night than it was walked for, may let a fresh look mend
    more. So the plan is looked at again as if it stood already, and what mends it is taken over.
    """
    planned_to = snapshot.plan.last_on if snapshot.plan else None
    decisions = _decide(snapshot, snapshot.standing, planned_to, surfaces, today, last_on, tell)
    found = _difference(snapshot, decisions, now)
    for _ in range(MOST_LOOKS):
        if found.empty:
            break
        becoming = _becoming(snapshot, found)
        looked = _decide(snapshot, becoming, last_on, surfaces, today, last_on, silent)
        same = _same(_unplaced(looked), _unplaced(decisions))
        if same and _difference(snapshot, looked, now).empty:
            break
        # set against what stands in the store, not against the look before
        decisions = [
            replace(new, movable=old.movable, over_before=old.over_before)
            for old, new in zip(decisions, looked, strict=True)
        ]
        found = _difference(snapshot, decisions, now)
    return decisions, found


def _unplaced(decisions: list[Decision]) -> tuple[Unplaced, ...]:
    return tuple(u for d in decisions for u in d.unplaced)


def _decide(
    snapshot: _Snapshot,
    standing: tuple[Visit, ...],
    planned_to: date | None,
    surfaces: Mapping[str, Surface],
    today: date,
    last_on: date,
    tell: Tell,
) -> list[Decision]:
    decisions = []
    tell(0, len(snapshot.branches))
    for done, branch in enumerate(snapshot.branches, start=1):
        books = tuple(b for b in snapshot.books if b.site.branch_on(today) == branch.code)
        sites = {b.site.code for b in books}
        decisions.append(
            decide_branch(
                BranchYear(
                    branch=branch,
                    books=books,
                    surfaces=surfaces,
                    standing=tuple(v for v in standing if v.site in sites),
                    today=today,
                    last_on=last_on,
                    planned_to=planned_to,
                )
            )
        )
        tell(done, len(snapshot.branches))
    return decisions


def _difference(snapshot: _Snapshot, decisions: list[Decision], now: datetime) -> Difference:
    return difference(
        [stub for d in decisions for stub in d.stubs],
        [visit for d in decisions for visit in d.movable],
        people={site: people for d in decisions for site, people in d.people.items()},
        installation=snapshot.installation,
        known=snapshot.known,
        now=now,
    )


def _same(unplaced: tuple[Unplaced, ...], before: tuple[Unplaced, ...]) -> bool:
    def keys(found: tuple[Unplaced, ...]) -> list[tuple[str, str, str, date, str]]:
        return sorted((u.due.site, u.due.zone, u.due.work, u.due.target, u.why) for u in found)

    return keys(unplaced) == keys(before)


def _becoming(snapshot: _Snapshot, found: Difference) -> tuple[Visit, ...]:
    """The visits that stand once the difference is written."""
    after = {visit.uuid: visit for visit in (*snapshot.standing, *found.altered)}
    return tuple(v for v in after.values() if v.state is not VisitState.CANCELLED)


def _digest(
    snapshot: _Snapshot, surfaces: Mapping[str, Surface], today: date, last_on: date
) -> str:
    """What a plan was made from, in one line that can be compared."""
    parts = [
        today.isoformat(),
        last_on.isoformat(),
        *(f"{branch}={revision}" for branch, revision in sorted(snapshot.revisions.items())),
        *sorted(f"{v.uuid}:{v.sequence}:{v.state}:{v.agreement}" for v in snapshot.standing),
        *(f"{code}:{_told(surfaces[code])}" for code in sorted(surfaces)),
    ]
    return sha256("\n".join(parts).encode()).hexdigest()


def _told(surface: Surface) -> str:
    """A surface as text in one fixed order; its sets have none of their own."""
    rungs = [
        f"{work}:{rung.effect}:{rung.worthwhile_hold_days}:{rung.forward_days}:{rung.cap_days}:"
        f"{rung.min_age_days}:{sorted(rung.needs)}:{rung.steps}"
        for work, rung in surface.methods.items()
    ]
    return f"{surface.law}|{surface.ladder}|{surface.coat_limit}|{surface.escape_share}|{rungs}"


def _plan(
    snapshot: _Snapshot,
    found: Difference,
    unplaced: tuple[Unplaced, ...],
    surfaces: Mapping[str, Surface],
    today: date,
    last_on: date,
    who: str,
    now: datetime,
) -> Plan:
    kinds = [change.kind for change in found.changes]
    return Plan(
        made_at=now,
        made_by=who,
        today=today,
        last_on=last_on,
        digest=_digest(snapshot, surfaces, today, last_on),
        added=kinds.count(ChangeKind.ADDED),
        moved=kinds.count(ChangeKind.MOVED),
        merged=kinds.count(ChangeKind.MERGED),
        changed=kinds.count(ChangeKind.CHANGED),
        dropped=kinds.count(ChangeKind.DROPPED),
        kept=kinds.count(ChangeKind.KEPT),
        unplaced=len(unplaced),
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
            revisions=snapshot.revisions,
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
    today: date,
    last_on: date,
) -> YearAccount:
    proposed = _becoming(snapshot, found)
    outlooks = tuple(outlook for d in decisions for outlook in d.outlooks)
    served = {site for d in decisions for site in d.people}
    homeless = tuple(
        Finding(
            problem=f"site {book.site.code} has no branch on {today}, so it is not planned",
            allowed=", ".join(branch.code for branch in snapshot.branches),
            mend="give it a branch from that day on",
            weight="asks",
        )
        for book in snapshot.books
        if book.site.code not in served
    )
    return YearAccount(
        written=written,
        today=today,
        last_on=last_on,
        sites=len(served),
        zones=len(outlooks),
        visits=len(proposed),
        lines=sum(len(visit.lines) for visit in proposed),
        late=sum(1 for v in proposed for line in v.lines if v.night > line.due.latest),
        changes=found.changes,
        unplaced=unplaced,
        urgent=most_urgent(
            [(visit.night, line) for visit in proposed for line in visit.lines],
            unplaced,
            outlooks,
        ),
        outlooks=outlooks,
        findings=(*homeless, *(finding for d in decisions for finding in d.findings)),
        over_before=sum(d.over_before for d in decisions),
        over_after=sum(d.over_after for d in decisions),
        saved_minutes=sum(d.saved_minutes for d in decisions),
    )
