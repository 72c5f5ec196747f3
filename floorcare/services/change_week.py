"""A week changed by hand: a visit given to a crew or a night, a sick call, a machine down, an
overrun; what else has to move is shown, and kept only where that is asked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from floorcare.errors import NotAllowed, NotKnown
from floorcare.ground.crews.pin import held_with_crew, pinned, why_not_placed
from floorcare.ground.crews.roster import crew_codes
from floorcare.ground.crews.week import BranchWeek, WeekFit
from floorcare.ground.trade.answer import Manner, Said
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.crew import Absence
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.worktime.window import week_of
from floorcare.services.week_ground import (
    Twist,
    WeekAsked,
    WeeksRead,
    answer_weeks,
    fit_weeks,
    read_weeks,
    twisted,
)
from floorcare.services.week_sheet import FittedWeek
from floorcare.store.open import Store
from floorcare.store.visit_edits import VisitEdit

MOST_OVERRUN = 720
"""Minutes a visit may run over."""
_One = TypeVar("_One")


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitHeld:
    """A visit pinned to its crew and night, or free again."""

    visit: str
    site: str
    night: date
    crew: str
    held: bool


def give_visit(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    asked: WeekAsked,
    *,
    words: Sequence[str],
    crew: str = "",
    to: date | None = None,
) -> tuple[FittedWeek, ...]:
    """Give a visit to a crew, or to another night, and hold it there; the others make room.

    Parameters
    ----------
    words : site, night and perhaps start; or the beginning of its UUID.
    crew : the crew's code, "" for whichever suits.
    to : the night, None for the one it has.

    Raises
    ------
    NotKnown : no such visit or crew.
    NotAllowed : it cannot be done there, with what would help.
    """
    with store.work() as work:
        visit = work.visit_named(words)
    night = to or visit.night
    read = _read_for(store, surfaces, asked, visit, night)
    week = read.weeks[0]
    if crew and crew not in crew_codes(week):
        there = ", ".join(crew_codes(week))
        raise NotKnown(f'Branch {week.branch.code} has no crew "{crew}"; there are {there}.')
    changed = pinned(week, visit, crew=crew, night=night)
    fit = fit_weeks([changed], asked)[0]
    why = why_not_placed(fit, visit)
    if why is not None:
        raise NotAllowed(
            f"{visit.site} cannot be done {_where(crew, night)}: {why.why}. "
            f"Would help: {why.nearest or why.mend}."
        )
    return answer_weeks(store, read, [(week, fit)], asked, cautions, hold=frozenset({visit.uuid}))


def hold_visit(store: Store, asked: WeekAsked, *, words: Sequence[str], held: bool) -> VisitHeld:
    """Pin a visit to its crew and night, or let it go again.

    Raises
    ------
    NotKnown : no such visit.
    NotAllowed : it has no crew yet, or is past.
    """
    with store.work(writes=True) as work:
        visit = work.visit_named(words)
        if not visit.crew:
            raise NotAllowed(
                f"{visit.site} on {visit.night} has no crew yet: write its week first, "
                "floorcare week --write."
            )
        if visit.night < asked.today:
            raise NotAllowed(f"{visit.site} on {visit.night} is past.")
        after = held_with_crew(visit, held=held, now=asked.now)
        edit = VisitEdit(
            kind="held" if held else "released",
            before=visit,
            after=after,
            said=Said(by=asked.who, how=Manner.OFFICE, on=asked.today, why="with its crew"),
            version=work.version_seen(visit, None),
        )
        work.hold_assignment(visit.uuid, held=held)
        work.put_visit(edit, who=asked.who, now=asked.now)
        work.commit()
    return VisitHeld(
        visit=visit.uuid, site=visit.site, night=visit.night, crew=visit.crew, held=held
    )


def note_absence(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    asked: WeekAsked,
    *,
    worker: str,
    first: date,
    last: date,
    why: str = "",
) -> tuple[FittedWeek, ...]:
    """A worker does not come for some days: the week without them.

    Raises
    ------
    NotKnown : there is no such worker.
    """
    with store.work() as work:
        known = {one.code: one for one in work.workers()}
    one = _known("worker", worker, known)
    away = replace(one, absences=(*one.absences, Absence(from_on=first, to_on=last, why=why)))

    def twist(week: BranchWeek) -> BranchWeek:
        return replace(week, workers=tuple(away if w.code == worker else w for w in week.workers))

    read = read_weeks(store, surfaces, replace(asked, branch=away.branch))
    # only the new row: what the folder knows of the worker stays the folder's
    new = replace(one, qualifications=(), absences=away.absences[-1:])
    note = Portfolio(workers=(new,))
    return _twisted(store, read, twist, asked, cautions, note=note)


def note_outage(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    asked: WeekAsked,
    *,
    machine: str,
    first: date,
    last: date,
) -> tuple[FittedWeek, ...]:
    """A machine is out of order for some days: the week without it.

    Raises
    ------
    NotKnown : there is no such machine.
    """
    with store.work() as work:
        known = {one.code: one for one in work.machines()}
    one = _known("machine", machine, known)
    down = replace(one, out_of_order=(*one.out_of_order, (first, last)))

    def twist(week: BranchWeek) -> BranchWeek:
        return replace(
            week, machines=tuple(down if m.code == machine else m for m in week.machines)
        )

    read = read_weeks(store, surfaces, asked)
    new = replace(one, places=(), out_of_order=down.out_of_order[-1:])
    return _twisted(store, read, twist, asked, cautions, note=Portfolio(machines=(new,)))


def note_overrun(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    asked: WeekAsked,
    *,
    words: Sequence[str],
    minutes: int,
) -> tuple[FittedWeek, ...]:
    """A visit takes so many minutes more than planned: what comes after it that night.

    Raises
    ------
    NotKnown : no such visit.
    NotAllowed : more minutes than a night has, or the crew cannot stay for them.
    """
    if not 0 < minutes <= MOST_OVERRUN:
        raise NotAllowed(f"{minutes} min over: allowed 1 to {MOST_OVERRUN}.")
    with store.work() as work:
        visit = work.visit_named(words)

    def twist(week: BranchWeek) -> BranchWeek:
        return replace(
            week,
            visits=tuple(
                replace(one, minutes=one.minutes + minutes) if one.uuid == visit.uuid else one
                for one in week.visits
            ),
        )

    read = _read_for(store, surfaces, asked, visit, visit.night)
    return _twisted(store, read, twist, asked, cautions)


def _twisted(
    store: Store,
    read: WeeksRead,
    twist: Twist,
    asked: WeekAsked,
    cautions: Mapping[str, str],
    *,
    note: Portfolio | None = None,
) -> tuple[FittedWeek, ...]:
    """The weeks fitted with the change in them, set against those that stand."""
    fits = fit_weeks(twisted(read, twist).weeks, asked)
    pairs: list[tuple[BranchWeek, WeekFit]] = list(zip(read.weeks, fits, strict=True))
    return answer_weeks(store, read, pairs, asked, cautions, note=note)


def _read_for(
    store: Store,
    surfaces: Mapping[str, Surface],
    asked: WeekAsked,
    visit: Visit,
    night: date,
) -> WeeksRead:
    """The week of the night, of the branch that serves the visit's site then.

    Raises
    ------
    NotAllowed : no branch serves it, or the visit lies in another week.
    """
    starts_on = week_of(night)
    if week_of(visit.night) != starts_on:
        raise NotAllowed(
            f"{visit.site} stands on {visit.night}, in another week: move it there first with "
            f"floorcare visits move."
        )
    with store.work() as work:
        sites = {site.code: site for site in work.sites()}
    branch = sites[visit.site].branch_on(night)
    if not branch:
        raise NotAllowed(f"No branch serves {visit.site} on {night}.")
    return read_weeks(store, surfaces, replace(asked, starts_on=starts_on, branch=branch))


def _known(kind: str, code: str, known: Mapping[str, _One]) -> _One:
    """The worker or machine of this code.

    Raises
    ------
    NotKnown : there is none.
    """
    if code not in known:
        raise NotKnown(f'There is no {kind} "{code}"; there are {", ".join(sorted(known))}.')
    return known[code]


def _where(crew: str, night: date) -> str:
    return f"by {crew} on {night}" if crew else f"on {night}"
