"""Visit lists of a week, a branch at a time: what each crew carries into the night."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Unplaced
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.worktime.window import WEEKDAY_NAMES
from floorcare.services.sheets import RoutineLine, UnplacedNote, WeekLists
from floorcare.services.visit_sheets import branches_asked, visit_sheet, visits_of
from floorcare.store.open import Store


def list_week(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    *,
    starts_on: date,
    branch: str = "",
) -> tuple[WeekLists, ...]:
    """The visit lists of a week from its first day, one for each branch asked for ("" for all).

    Raises
    ------
    NotKnown : there is no such branch.
    """
    last = starts_on + timedelta(days=6)
    with store.work() as work:
        branches = work.branches()
        customers = {c.code: c.name for c in work.customers()}
        books = work.books()
        visits = work.visits(first=starts_on, last=last)
        unplaced = work.unplaced()
        plan = work.standing_plan()
    by_code = {b.site.code: b for b in books}
    lists = []
    for each in branches_asked(branches, branch):
        mine = {b.site.code: b for b in books if b.site.branch_on(starts_on) == each.code}
        lists.append(
            WeekLists(
                starts_on=starts_on,
                contractor="",
                branch=each.name,
                sheets=tuple(
                    visit_sheet(v, by_code[v.site], each, customers, surfaces, cautions)
                    for v in visits_of(each, books, visits)
                ),
                routines=_routines(mine, starts_on, last),
                unplaced=_unplaced(unplaced, set(mine), last),
                as_of=f"the plan of {said(plan.made_at.date())}" if plan else "no plan yet",
                units=each.units,
            )
        )
    return tuple(lists)


def _routines(books: Mapping[str, SiteBook], first: date, last: date) -> tuple[RoutineLine, ...]:
    """The week's routine, zones of one site with the same rhythm together."""
    found: dict[tuple[str, str, str, str], int] = {}
    names = {code: book.site.name for code, book in books.items()}
    for code, book in sorted(books.items()):
        for zone in book.zones:
            if zone.zone.span_on(first) is None:
                continue  # its care has ended, or has not begun
            for routine in zone.routines:
                days = routine_dates(routine, first, last)
                # what comes more rarely is planned, and stands among the visits
                if days and runs_by_itself(routine):
                    key = (code, _days_said(days), routine.work.value, _who(routine))
                    found[key] = found.get(key, 0) + 1
    return tuple(
        RoutineLine(
            site=code,
            site_name=names[code],
            weekdays=days,
            work=f"{work}, {zones} zone{'s' if zones > 1 else ''}",
            who=who,
        )
        for (code, days, work, who), zones in found.items()
    )


def _days_said(days: Sequence[date]) -> str:
    if len(days) == 7:
        return "daily"
    return ", ".join(WEEKDAY_NAMES[day.weekday()][:3] for day in days)


def _who(routine: Routine) -> str:
    return f"{routine.performer.value}, {routine.proof.value}"


def _unplaced(
    unplaced: Sequence[Unplaced], sites: set[str], last: date
) -> tuple[UnplacedNote, ...]:
    """What found no night and is wanted by the end of this week; the rest has time."""
    return tuple(
        UnplacedNote(
            site=u.due.site,
            zone=f"{u.due.site}/{u.due.zone}",
            work=u.due.work.value,
            why=u.why,
            mend=u.mend,
        )
        for u in unplaced
        if u.due.site in sites and u.due.target <= last
    )
