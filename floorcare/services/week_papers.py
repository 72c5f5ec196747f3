"""A fitted week as papers: the timetable, and of every crew its lists and its calendar."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from floorcare.ground.crews.load_out import BranchLoadOut, LoadOut, branch_load_out
from floorcare.ground.crews.week import (
    BranchWeek,
    CrewNight,
    CrewStop,
    Unfitted,
    WeekFit,
    minute_of,
    night_said,
)
from floorcare.ground.crews.week_change import Placing, WeekChange
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.trade.equipment import Supply
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.visit import Agreement, Visit
from floorcare.ground.units.area import us_gal_from_l
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.work.quantities import quantities, tools_used
from floorcare.ground.worktime.night import format_minute, instant
from floorcare.ground.worktime.window import weekdays_text
from floorcare.services.load_out_sheet import LoadOutSheet, load_out_sheet
from floorcare.services.sheets import (
    BEFORE_ANY_PLAN,
    CalendarEvent,
    CalendarSheet,
    Units,
    WeekLists,
)
from floorcare.services.visit_sheets import state_said, visit_sheet
from floorcare.services.week_sheet import (
    ChangeNote,
    CrewNightSheet,
    CrewPapers,
    FittedWeek,
    StopSheet,
    UnfittedNote,
    WeekSheet,
)
from floorcare.store.languages import ENGLISH, language_for


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What the papers of one branch's week are written from."""

    week: BranchWeek
    fit: WeekFit
    nights: tuple[CrewNight, ...]
    customers: Mapping[str, str]
    cautions: Mapping[str, str]
    domain: str
    as_of: str
    changes: tuple[WeekChange, ...] = ()
    written: bool = False
    supplies: tuple[Supply, ...] = ()

    @property
    def branch(self) -> Branch:
        return self.week.branch


def week_papers(desk: Desk) -> FittedWeek:
    """The timetable of a branch's week and the papers of every crew with a visit."""
    crews = dict.fromkeys((night.crew, night.name) for night in desk.nights)
    load = branch_load_out(desk.week, desk.nights, supplies=desk.supplies)
    going = {night.crew for night in load.nights}
    return FittedWeek(
        sheet=_week_sheet(desk, sorted(crews)),
        findings=desk.fit.findings,
        load_out=_load_out(desk, load.nights, week=load),
        crews=tuple(
            CrewPapers(
                crew=code,
                name=name,
                lists=_lists(desk, code),
                calendar=_calendar(desk, code, name),
                load_out=_load_out(desk, tuple(n for n in load.nights if n.crew == code)),
                languages=_languages(desk, code),
            )
            for code, name in sorted(crews)
            if code in going
        ),
    )


def _week_sheet(desk: Desk, crews: Sequence[tuple[str, str]]) -> WeekSheet:
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
        changes=tuple(_change_note(change) for change in desk.changes),
        stopped_by=desk.fit.stopped_by,
        written=desk.written,
        as_of=desk.as_of,
        units=desk.branch.units,
    )


def _night_sheet(desk: Desk, night: CrewNight) -> CrewNightSheet:
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
        break_minute=clock(night.break_at) if night.stops else None,
        break_minutes=night.break_minutes if night.break_at is not None else 0,
        overtime_minutes=night.overtime_minutes,
        stops=tuple(_stop_sheet(desk, night, stop) for stop in night.stops),
    )


def _stop_sheet(desk: Desk, night: CrewNight, stop: CrewStop) -> StopSheet:
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
        part=f"crew {stop.part} of {stop.parts}" if stop.parts > 1 else "",
        held=stop.held,
        moved_from=_moved_from(desk, visit),
    )


def _minute_there(desk: Desk, stop: CrewStop) -> int:
    """The minute of the visit's own night at which it begins, by the site's clock."""
    visit = stop.visit
    return minute_of(visit.night, stop.starts_at, desk.week.site(visit).time_zone)


def _works(visit: Visit) -> tuple[str, ...]:
    zones: dict[str, list[str]] = {}
    for line in visit.lines:
        zones.setdefault(line.work.value, []).append(line.zone)
    return tuple(f"{work} {', '.join(codes)}" for work, codes in zones.items())


def _machine_names(desk: Desk, stop: CrewStop) -> tuple[str, ...]:
    names = {machine.code: machine.name for machine in desk.week.machines}
    return tuple(f"{names[code]} {code}" for code in stop.machines)


def _note(desk: Desk, unfitted: Unfitted) -> UnfittedNote:
    visit = unfitted.visit
    return UnfittedNote(
        uuid=visit.uuid,
        site=visit.site,
        site_name=desk.week.site(visit).name,
        night=visit.night,
        works=_works(visit),
        why=unfitted.why,
        mend=unfitted.mend,
        cause=unfitted.cause.value if unfitted.cause is not None else "",
        nearest=unfitted.nearest,
    )


def _moved_from(desk: Desk, visit: Visit) -> date | None:
    """The night of the plan where the week chose another."""
    planned = next((v.night for v in desk.week.visits if v.uuid == visit.uuid), visit.night)
    return planned if planned != visit.night else None


def _change_note(change: WeekChange) -> ChangeNote:
    return ChangeNote(
        uuid=change.visit,
        site=change.site,
        kinds=change.kinds or ("drive or machines",),
        before=_placing_said(change.before),
        after=_placing_said(change.after),
    )


def _placing_said(placing: Placing | None) -> str:
    if placing is None:
        return "no crew"
    clock = format_minute(placing.starts_minute)
    return f"{' and '.join(placing.crews)}, {night_said(placing.night)} {clock}"


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


def _lists(desk: Desk, crew: str) -> WeekLists:
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


def _languages(desk: Desk, crew: str) -> tuple[str, ...]:
    """Languages besides English that somebody of the crew reads first, as far as we have them."""
    first = {
        language_for(worker.languages[0])
        for night in desk.nights
        if night.crew == crew and night.stops
        for worker in night.workers
        if worker.languages
    }
    return tuple(sorted(first - {ENGLISH}))


def _load_out(
    desk: Desk, nights: tuple[LoadOut, ...], *, week: BranchLoadOut | None = None
) -> LoadOutSheet:
    """What goes in the vans, night by night; the branch's also summed over the week."""
    return load_out_sheet(desk.branch, desk.week.starts_on, nights, week=week, as_of=desk.as_of)


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


def _calendar(desk: Desk, crew: str, name: str) -> CalendarSheet:
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


def _event(desk: Desk, night: CrewNight, stop: CrewStop) -> CalendarEvent:
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


def _takes(desk: Desk, stop: CrewStop) -> Iterator[str]:
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
