"""What weeks are made from and how they are kept; the week's use-cases stand on it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from floorcare.ground.crews.assign import USUAL_SEARCH, assign_weeks
from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.routes.side_by_side import Search
from floorcare.ground.crews.week import DAY, BranchWeek, WeekFit
from floorcare.ground.crews.week_change import WeekEdit, week_edit
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.travel import Travel
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.book import Portfolio, SiteBook
from floorcare.ground.trade.equipment import Supply
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Plan, Visit, VisitState
from floorcare.services.visit_sheets import branches_asked, visits_of
from floorcare.services.week_papers import Desk, week_papers
from floorcare.services.week_sheet import FittedWeek
from floorcare.store.columns import PROGRAM
from floorcare.store.open import Store

Twist = Callable[[BranchWeek], BranchWeek]
"""What is changed in a week before it is fitted."""


TO_DO = (VisitState.PROPOSED, VisitState.HELD, VisitState.STARTED)
"""States of a visit that is still to be done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekAsked:
    """Which week, of which branch, for whom.

    starts_on : its first day.
    branch : a branch's code, "" for all.
    today : nights up to it are past and stay as they are.
    write : keep the week as it comes out.
    search : how long is searched.
    workers : how many branches are searched at once.
    """

    starts_on: date
    today: date
    who: str
    now: datetime
    branch: str = ""
    write: bool = False
    search: Search = USUAL_SEARCH
    workers: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class WeeksRead:
    """The weeks of the branches asked for, and what their papers need beside them.

    versions : of every visit of each branch's week, as it was read.
    """

    weeks: tuple[BranchWeek, ...]
    versions: Mapping[str, Mapping[str, int]]
    customers: Mapping[str, str]
    domain: str
    plan: Plan | None
    supplies: tuple[Supply, ...] = ()


def read_weeks(store: Store, surfaces: Mapping[str, Surface], asked: WeekAsked) -> WeeksRead:
    """Everything a branch's week is fitted from.

    Raises
    ------
    NotKnown : there is no such branch.
    """
    starts_on = asked.starts_on
    first, last = starts_on - DAY, starts_on + 7 * DAY
    with store.work() as work:
        books = work.books()
        visits = work.visits(first=first, last=last)
        assigned = work.assignments(first, last)
        legs, supplies = work.legs(), work.supplies()
        # of all branches: each week takes its own out of it
        bare: dict[str, Any] = {
            "starts_on": starts_on,
            "surfaces": surfaces,
            "crews": work.crews(),
            "workers": work.workers(),
            "machines": work.machines(),
            "rates": work.rates(),
            "today": asked.today,
        }
        branches = branches_asked(work.branches(), asked.branch)
        customers = {c.code: c.name for c in work.customers()}
        plan, domain = work.standing_plan(), work.installation().domain
        versions = work.visit_versions([visit.uuid for visit in visits])
    given = {one.visit for one in assigned}
    # what is over and had no crew is no work any more
    wanted = tuple(v for v in visits if v.state in TO_DO or v.uuid in given)
    weeks = []
    for each in branches:
        mine = visits_of(each, books, wanted)
        own = _assigned_to(mine, assigned)
        travel, near = Travel.of(each.code, legs), _books(each, books, starts_on)
        week = BranchWeek(branch=each, books=near, visits=mine, assigned=own, travel=travel, **bare)
        weeks.append(week)
    return WeeksRead(
        weeks=tuple(weeks),
        versions={
            week.branch.code: {v.uuid: versions[v.uuid] for v in week.visits if week.holds(v)}
            for week in weeks
        },
        customers=customers,
        domain=domain,
        plan=plan,
        supplies=supplies,
    )


def fit_weeks(weeks: Sequence[BranchWeek], asked: WeekAsked) -> tuple[WeekFit, ...]:
    """The weeks put on crews, each gone over by the checker before anybody sees it."""
    fits = assign_weeks(weeks, asked.search, workers=asked.workers)
    for week, fit in zip(weeks, fits, strict=True):
        broken = broken_constraints(week, fit)
        if broken:
            what = "; ".join(broken)
            raise RuntimeError(f"the week of {week.branch.code} breaks its rules: {what}")
    return fits


def answer_weeks(
    store: Store,
    read: WeeksRead,
    fits: Sequence[tuple[BranchWeek, WeekFit]],
    asked: WeekAsked,
    cautions: Mapping[str, str],
    *,
    note: Portfolio | None = None,
    hold: frozenset[str] = frozenset(),
) -> tuple[FittedWeek, ...]:
    """The papers of the weeks, and the weeks kept where that was asked.

    Parameters
    ----------
    fits : each week as it stands, and as it was fitted with what was changed beforehand.
    note : what is to be kept with it: who is away, what is out of order.
    hold : UUIDs of visits that are pinned to the crew and night they have now.

    Raises
    ------
    Clash : a visit changed since it was read; nothing is written.
    """
    as_of = f"the plan of {said(read.plan.made_at.date())}" if read.plan else "no plan yet"
    edits = [week_edit(week, fit, now=asked.now, hold=hold) for week, fit in fits]
    if asked.write:
        write_weeks(store, read, edits, asked, note)
    return tuple(
        week_papers(
            Desk(
                week=week,
                fit=fit,
                nights=fit.shown(week),
                customers=read.customers,
                cautions=cautions,
                domain=read.domain,
                as_of=as_of,
                changes=edit.changes,
                written=asked.write or edit.empty,
                supplies=read.supplies,
            )
        )
        for (week, fit), edit in zip(fits, edits, strict=True)
    )


def write_weeks(
    store: Store,
    read: WeeksRead,
    edits: Sequence[WeekEdit],
    asked: WeekAsked,
    note: Portfolio | None = None,
) -> None:
    """Keep what changed, all branches in one transaction; nothing where nothing did."""
    if note is None and all(edit.empty for edit in edits):
        return
    with store.work(writes=True) as work:
        if note is not None:
            work.put_portfolio(note, who=asked.who, now=asked.now, origin=PROGRAM)
        for edit in edits:
            if not edit.empty:
                work.put_week(edit, read.versions[edit.branch], who=asked.who, now=asked.now)
        work.commit()


def twisted(read: WeeksRead, twist: Twist) -> WeeksRead:
    """The same weeks with something changed in each before it is fitted."""
    return replace(read, weeks=tuple(twist(week) for week in read.weeks))


def _assigned_to(visits: Sequence[Visit], assigned: Sequence[Assignment]) -> tuple[Assignment, ...]:
    named = {visit.uuid for visit in visits}
    return tuple(one for one in assigned if one.visit in named)


def _books(branch: Branch, books: Sequence[SiteBook], starts_on: date) -> dict[str, SiteBook]:
    """The books of every site the branch serves in the week or on the days beside it."""
    days = [starts_on + step * DAY for step in range(-1, 8)]
    return {
        book.site.code: book
        for book in books
        if any(book.site.branch_on(day) == branch.code for day in days)
    }
