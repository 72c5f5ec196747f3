"""A first week: a branch's visits on crew-nights, as a timetable, crew lists and crew calendars.

Nothing is written: the week is a function of what is stored, and comes out the same when asked for
again. Every answer is gone over by a checker of its own before anybody sees it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.first_fit import fit_week as fit_branch
from floorcare.ground.crews.week import (
    DAY,
    BranchWeek,
    CrewNight,
    CrewStop,
    Unfitted,
    WeekFit,
    minute_of,
)
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Agreement, Plan, Visit
from floorcare.ground.units.area import us_gal_from_l
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.quantities import quantities, tools_used
from floorcare.ground.worktime.night import format_minute, instant
from floorcare.ground.worktime.window import weekdays_text
from floorcare.services.sheets import (
    BEFORE_ANY_PLAN,
    CalendarEvent,
    CalendarSheet,
    Units,
    WeekLists,
)
from floorcare.services.visit_sheets import branches_asked, state_said, visit_sheet, visits_of
from floorcare.services.week_sheet import (
    CrewNightSheet,
    CrewPapers,
    FittedWeek,
    StopSheet,
    UnfittedNote,
    WeekSheet,
)
from floorcare.store.open import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class _Desk:
    """What the papers of one branch's week are written from."""

    week: BranchWeek
    fit: WeekFit
    nights: tuple[CrewNight, ...]
    customers: Mapping[str, str]
    cautions: Mapping[str, str]
    domain: str
    as_of: str

    @property
    def branch(self) -> Branch:
        return self.week.branch


def fit_week(
    store: Store,
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
    *,
    starts_on: date,
    branch: str = "",
) -> tuple[FittedWeek, ...]:
    """Every branch's week from its first day, or that of the branch asked for.

    Raises
    ------
    NotKnown : there is no such branch.
    """
    with store.work() as work:
        branches = work.branches()
        customers = {c.code: c.name for c in work.customers()}
        books = work.books()
        visits = work.visits(first=starts_on - DAY, last=starts_on + 7 * DAY)
        crews, workers, machines = work.crews(), work.workers(), work.machines()
        plan = work.standing_plan()
        domain = work.installation().domain
    weeks = []
    for each in branches_asked(branches, branch):
        week = BranchWeek(
            branch=each,
            starts_on=starts_on,
            books=_books(each, books, starts_on),
            visits=visits_of(each, books, visits),
            surfaces=surfaces,
            crews=crews,
            workers=workers,
            machines=machines,
        )
        weeks.append(_papers(_desk(week, customers, cautions, domain, plan)))
    return tuple(weeks)


def _books(branch: Branch, books: Sequence[SiteBook], starts_on: date) -> dict[str, SiteBook]:
    """The books of every site the branch serves in the week or on the days beside it."""
    days = [starts_on + step * DAY for step in range(-1, 8)]
    return {
        book.site.code: book
        for book in books
        if any(book.site.branch_on(day) == branch.code for day in days)
    }


def _desk(
    week: BranchWeek,
    customers: Mapping[str, str],
    cautions: Mapping[str, str],
    domain: str,
    plan: Plan | None,
) -> _Desk:
    fit = fit_branch(week)
    broken = broken_constraints(week, fit)
    if broken:
        raise RuntimeError(f"the week of {week.branch.code} breaks its rules: {'; '.join(broken)}")
    return _Desk(
        week=week,
        fit=fit,
        nights=fit.shown(week),
        customers=customers,
        cautions=cautions,
        domain=domain,
        as_of=f"the plan of {said(plan.made_at.date())}" if plan else "no plan yet",
    )


def _papers(desk: _Desk) -> FittedWeek:
    crews = dict.fromkeys((night.crew, night.name) for night in desk.nights)
    going = {night.crew for night in desk.nights if night.stops}
    return FittedWeek(
        sheet=_week_sheet(desk, sorted(crews)),
        crews=tuple(
            CrewPapers(
                crew=code, name=name, lists=_lists(desk, code), calendar=_calendar(desk, code, name)
            )
            for code, name in sorted(crews)
            if code in going
        ),
    )


def _week_sheet(desk: _Desk, crews: Sequence[tuple[str, str]]) -> WeekSheet:
    week = desk.week
    placed = [stop.visit for night in desk.fit.nights for stop in night.stops]
    return WeekSheet(
        starts_on=week.starts_on,
        contractor="",
        branch=desk.branch.name,
        branch_code=desk.branch.code,
        placed=sum(1 for visit in placed if week.holds(visit)),
        crews=tuple(crews),
        nights=tuple(_night_sheet(desk, night) for night in desk.nights),
        unfitted=tuple(_note(desk, u) for u in desk.fit.unfitted if week.holds(u.visit)),
        notes=(*desk.fit.unchecked, *_rounds_note(week)),
        as_of=desk.as_of,
        units=desk.branch.units,
    )


def _night_sheet(desk: _Desk, night: CrewNight) -> CrewNightSheet:
    def clock(at: datetime | None) -> int | None:
        return None if at is None else minute_of(night.on, at, desk.branch.time_zone)

    return CrewNightSheet(
        crew=night.crew,
        name=night.name,
        on=night.on,
        people=night.people,
        workers=tuple(worker.name for worker in night.workers),
        starts_minute=clock(night.starts_at),
        ends_minute=clock(night.ends_at),
        leaves_minute=clock(night.leaves_at) if night.stops else None,
        home_minute=clock(night.home_at) if night.stops else None,
        stops=tuple(_stop_sheet(desk, night, stop) for stop in night.stops),
    )


def _stop_sheet(desk: _Desk, night: CrewNight, stop: CrewStop) -> StopSheet:
    visit, site, zone = stop.visit, desk.week.site(stop.visit), desk.branch.time_zone
    planned = instant(visit.night, visit.starts_minute, site.time_zone)
    starts = minute_of(night.on, stop.starts_at, zone)
    its_own = _minute_there(desk, stop)
    site_clock = ""
    if format_minute(its_own) != format_minute(starts):
        ends = minute_of(visit.night, stop.ends_at, site.time_zone)
        site_clock = f"{format_minute(its_own)} to {format_minute(ends)}"
    return StopSheet(
        uuid=visit.uuid,
        site=visit.site,
        site_name=site.name,
        night=visit.night,
        starts_minute=starts,
        ends_minute=minute_of(night.on, stop.ends_at, zone),
        travel_minutes=stop.travel_minutes,
        planned_minute=minute_of(night.on, planned, zone),
        people=visit.people,
        state=state_said(visit),
        stands=visit.stands,
        works=_works(visit),
        machines=_machine_names(desk, stop),
        site_clock=site_clock,
    )


def _minute_there(desk: _Desk, stop: CrewStop) -> int:
    """The minute of the visit's own night at which it begins, by the site's clock."""
    visit = stop.visit
    return minute_of(visit.night, stop.starts_at, desk.week.site(visit).time_zone)


def _works(visit: Visit) -> tuple[str, ...]:
    zones: dict[str, list[str]] = {}
    for line in visit.lines:
        zones.setdefault(line.work.value, []).append(line.zone)
    return tuple(f"{work} {', '.join(codes)}" for work, codes in zones.items())


def _machine_names(desk: _Desk, stop: CrewStop) -> tuple[str, ...]:
    names = {machine.code: machine.name for machine in desk.week.machines}
    return tuple(f"{names[code]} {code}" for code in stop.machines)


def _note(desk: _Desk, unfitted: Unfitted) -> UnfittedNote:
    visit = unfitted.visit
    return UnfittedNote(
        uuid=visit.uuid,
        site=visit.site,
        site_name=desk.week.site(visit).name,
        night=visit.night,
        works=_works(visit),
        why=unfitted.why,
        mend=unfitted.mend,
    )


def _rounds_note(week: BranchWeek) -> Iterator[str]:
    """Our standing rounds take crew time too, and no crew is named for them."""
    sites = {
        code
        for code, book in week.books.items()
        for zone in book.zones
        if zone.zone.span_on(week.starts_on) is not None
        for routine in zone.routines
        if routine.performer is Performer.US
        and runs_by_itself(routine)
        and routine_dates(routine, week.starts_on, week.last_on)
    }
    if sites:
        yield (
            f"Our standing rounds at {', '.join(sorted(sites))} run besides; no crew is named for "
            "them and their time is not taken off any shift."
        )


def _lists(desk: _Desk, crew: str) -> WeekLists:
    """The visit lists of one crew, in the order of its stops and with its hours."""
    nights = [night for night in desk.nights if night.crew == crew and night.stops]
    stops = [stop for night in nights for stop in night.stops]
    return WeekLists(
        starts_on=desk.week.starts_on,
        contractor=desk.branch.name,
        branch=_crew_said(nights),
        sheets=tuple(
            visit_sheet(
                replace(stop.visit, starts_minute=_minute_there(desk, stop)),
                desk.week.books[stop.visit.site],
                desk.branch,
                desk.customers,
                desk.week.surfaces,
                desk.cautions,
            )
            for stop in stops
        ),
        as_of=desk.as_of,
        units=desk.branch.units,
    )


def _crew_said(nights: Sequence[CrewNight]) -> str:
    """The crew with who is in it, and their days where somebody is not in it all week."""
    days: dict[str, list[int]] = {}
    for night in nights:
        for worker in night.workers:
            days.setdefault(worker.name, []).append(night.on.weekday())
    people = [
        name if len(on) == len(nights) else f"{name} {weekdays_text(on)}"
        for name, on in days.items()
    ]
    return f"{nights[0].name} ({'; '.join(people)})" if people else nights[0].name


def _calendar(desk: _Desk, crew: str, name: str) -> CalendarSheet:
    """A crew's week as timed events; people are not named in it."""
    stops = [(night, stop) for night in desk.nights if night.crew == crew for stop in night.stops]
    changed = [s.visit.changed_at for _, s in stops if s.visit.changed_at is not None]
    revised_at = max(changed, default=BEFORE_ANY_PLAN)
    return CalendarSheet(
        name=f"{desk.branch.name}, {name}",
        domain=desk.domain,
        revision=sum(1 + stop.visit.sequence for _, stop in stops),
        revised_at=revised_at,
        as_of=revised_at.date(),
        description=f"Visits of {name} in the week of {said(desk.week.starts_on)}.",
        events=tuple(_event(desk, night, stop) for night, stop in stops),
    )


def _event(desk: _Desk, night: CrewNight, stop: CrewStop) -> CalendarEvent:
    visit, site = stop.visit, desk.week.site(stop.visit)
    leaves = stop.starts_at - timedelta(minutes=stop.travel_minutes)
    clock = format_minute(minute_of(night.on, leaves, desk.branch.time_zone))
    return CalendarEvent(
        uid=visit.uuid,
        night=visit.night,
        sequence=visit.sequence,
        changed_at=visit.changed_at or BEFORE_ANY_PLAN,
        summary=f"{site.name}: {'; '.join(_works(visit))}",
        starts_at=stop.starts_at,
        ends_at=stop.ends_at,
        description=(
            f"Set out by {clock}, {stop.travel_minutes} min drive.",
            *_takes(desk, stop),
            *((f"Access: {site.access_note}",) if site.access_note else ()),
            f"State: {state_said(visit)}.",
        ),
        location=", ".join(part for part in (site.name, site.address) if part),
        latitude=site.latitude,
        longitude=site.longitude,
        categories=tuple(sorted({line.work.value for line in visit.lines})),
        proposed=not visit.stands,
        asked=visit.agreement is Agreement.ASKED,
    )


def _takes(desk: _Desk, stop: CrewStop) -> Iterator[str]:
    """What to load: machines by name, pads and tools, products with their quantity."""
    machines = _machine_names(desk, stop)
    if machines:
        yield f"Machines: {', '.join(machines)}."
    tools: dict[str, None] = {}
    litres: dict[str, float] = {}
    zones = {zone.zone.code: zone for zone in desk.week.books[stop.visit.site].zones}
    for line in stop.visit.lines:
        surface = surface_of(zones[line.zone], stop.visit, desk.week.surfaces)
        rung = surface.rung(line.work)
        if rung is None:
            continue
        tools.update(dict.fromkeys(tool.name for tool in tools_used(surface, rung)))
        for product in quantities(surface, rung, line.area_m2):
            litres[product.name] = litres.get(product.name, 0.0) + product.litres
    if tools:
        yield f"Pads and tools: {', '.join(tools)}."
    if litres:
        yield f"Products: {', '.join(_volume(n, v, desk.branch.units) for n, v in litres.items())}."


def _volume(name: str, litres: float, units: Units) -> str:
    if units == "US":
        return f"{name} {us_gal_from_l(litres):.2f} gal"
    return f"{name} {litres:.1f} L"
