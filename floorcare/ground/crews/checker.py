"""The checker: goes over a fitted week from the bare records, trusting nothing of how it was made.

It shares with the rule only the clock, the table of holidays, the drive between two places and the
two limits of overtime and rest.
"""

from collections import Counter
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import combinations, pairwise

from floorcare.ground.crews.week import BranchWeek, CrewNight, CrewStop, WeekFit
from floorcare.ground.crews.wishes import MOST_OVERTIME, REST_MINUTES
from floorcare.ground.trade.answer import NightWord
from floorcare.ground.trade.crew import Crew
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.site import Site
from floorcare.ground.trade.visit import Commitment, Visit
from floorcare.ground.worktime.holidays import known_years, public_holidays
from floorcare.ground.worktime.night import instant
from floorcare.ground.worktime.site_time import SiteTime


def broken_constraints(week: BranchWeek, fit: WeekFit) -> tuple[str, ...]:
    """Every constraint that a fitted week breaks, in plain words; none where it holds.

    Parameters
    ----------
    week : what the week was to be fitted from.
    fit : the answer.
    """
    found = list(_each_visit_once(week, fit))
    found += [f"{u.visit.site}: no reason or mend" for u in fit.unfitted if not (u.why and u.mend)]
    crews = {crew.code: crew for crew in week.crews if crew.branch == week.branch.code}
    for night in fit.nights:
        name = f"crew {night.crew} on {night.on}"
        found += [f"{name}: {problem}" for problem in _night(week, night, crews)]
    found += _machines_shared(fit)
    found += _own_nights_apart(fit)
    found += _rest_kept(fit)
    found += _what_stands_stays(week, fit)
    return tuple(found)


def _each_visit_once(week: BranchWeek, fit: WeekFit) -> Iterator[str]:
    placed = [stop.visit for night in fit.nights for stop in night.stops]
    told: Counter[tuple[str, str, str]] = Counter()
    seen: Counter[str] = Counter()
    for visit in (*placed, *(u.visit for u in fit.unfitted)):
        seen[visit.uuid] += 1
        told.update((visit.uuid, line.zone, line.work) for line in visit.lines)
    for visit in week.visits:
        lines = Counter((visit.uuid, line.zone, line.work) for line in visit.lines)
        whole = len(visit.lines) == 0 and seen[visit.uuid] == 1
        if not whole and any(told.pop(line, 0) != times for line, times in lines.items()):
            yield f"visit {visit.uuid} is not placed or listed just once"
        seen.pop(visit.uuid, None)
    for uuid in dict.fromkeys([*seen, *(line[0] for line in told)]):
        yield f"visit {uuid} is none of the week's"


def _night(week: BranchWeek, night: CrewNight, crews: dict[str, Crew]) -> Iterator[str]:
    if crews:
        yield from _entered_crew(week, night, crews)
    else:
        yield from _unnamed_crew(week, night)
    for stop in night.stops:
        name = stop.visit.site
        yield from (f"{name}: {problem}" for problem in _access(week, stop))
        yield from (f"{name}: {problem}" for problem in _people(week, night, stop))
        if crews:
            yield from (f"{name}: {problem}" for problem in _machines(week, night, stop))
    yield from _route(week, night)


def _entered_crew(week: BranchWeek, night: CrewNight, crews: dict[str, Crew]) -> Iterator[str]:
    crew = crews.get(night.crew)
    shift = crew.shift_on(night.on) if crew is not None else None
    if crew is None or shift is None:
        yield "no such shift"
        return
    zone = week.branch.time_zone
    begins, ends = (instant(night.on, m, zone) for m in (shift.starts_minute, shift.last_minute))
    if (night.starts_at, night.ends_at) != (begins, ends):
        yield "other hours than its shift's"
    going = {
        w.code for w in week.workers if w.code in crew.members_on(night.on) and w.works_on(night.on)
    }
    if {w.code for w in night.workers} != going or night.people != len(going):
        yield "other people than are in the crew and work that day"
    if night.stops:
        first, last = night.stops[0], night.stops[-1]
        if first.starts_at - _drive(week, None, first) < begins:
            yield "leaves before the shift begins"
        home = last.ends_at + _drive(week, last, None)
        yield from _break_taken(week, night, shift.break_minutes, home)
        if night.break_at is None or night.break_at >= home:
            home += timedelta(minutes=shift.break_minutes)
        if home > ends + timedelta(minutes=MOST_OVERTIME):
            yield "is back later than its shift and the overtime allowed"


def _unnamed_crew(week: BranchWeek, night: CrewNight) -> Iterator[str]:
    branch = week.branch
    if night.on.weekday() not in branch.weekdays:
        yield "the branch sends no crew out that night"
    if night.crew not in {f"{branch.code}-{n + 1}" for n in range(branch.crews)}:
        yield "the branch has no such crew"
    if night.people != branch.crew_size:
        yield f"{night.people} people and not {branch.crew_size}"
    if night.stops:
        first, last = night.stops[0], night.stops[-1]
        leaves = first.starts_at - _drive(week, None, first)
        home = last.ends_at + _drive(week, last, None)
        if home - leaves > timedelta(minutes=branch.shift_minutes + MOST_OVERTIME):
            yield "is out for longer than a shift and the overtime allowed"


def _break_taken(week: BranchWeek, night: CrewNight, minutes: int, home: datetime) -> Iterator[str]:
    """The break lies between two stops, or on the way home, and nothing else goes on in it."""
    if night.break_at is None:
        return  # taken at the end; the caller reckons it there
    begins, ends = night.break_at, night.break_at + timedelta(minutes=minutes)
    if night.break_minutes != minutes:
        yield f"a break of {night.break_minutes} min and not {minutes}"
    if begins >= home:
        return
    before = [stop for stop in night.stops if stop.ends_at <= begins]
    after = [stop for stop in night.stops if stop.starts_at >= ends]
    if len(before) + len(after) != len(night.stops):
        yield "its break falls into a visit"
    elif before and after:
        drive = _drive(week, before[-1], after[0])
        if before[-1].ends_at + drive + timedelta(minutes=minutes) > after[0].starts_at:
            yield "its break and the drive do not both fit between two visits"


def _route(week: BranchWeek, night: CrewNight) -> Iterator[str]:
    before: CrewStop | None = None
    for stop in night.stops:
        drive = _drive(week, before, stop)
        if timedelta(minutes=stop.travel_minutes) != drive:
            yield f"{stop.visit.site}: the drive to it is {drive}"
        if before is not None and before.ends_at + drive > stop.starts_at:
            yield f"{stop.visit.site}: begins before the crew can be there"
        before = stop
    if before is not None and timedelta(minutes=night.home_minutes) != _drive(week, before, None):
        yield "the drive home is not what it takes"


def _drive(week: BranchWeek, start: CrewStop | None, end: CrewStop | None) -> timedelta:
    here = week.books[start.visit.site].site if start else week.branch
    there = week.books[end.visit.site].site if end else week.branch
    if start is not None and end is not None and start.visit.site == end.visit.site:
        return timedelta(0)
    return timedelta(minutes=week.travel.minutes(here, there))


def _access(week: BranchWeek, stop: CrewStop) -> Iterator[str]:
    visit, site = stop.visit, week.books[stop.visit.site].site
    if stop.ends_at - stop.starts_at != timedelta(minutes=visit.minutes):
        yield f"on site for other than {visit.minutes} min"
    needs = {need for line in visit.lines for need in line.due.needs}
    if not any(needs <= permits for permits in _permits(site, stop)):
        yield "outside the access of its night"
    agreed = instant(visit.night, visit.starts_minute, site.time_zone)
    if visit.commitment is Commitment.HOUR and stop.starts_at != agreed:
        yield "not at its agreed hour"


def _permits(site: Site, stop: CrewStop) -> list[frozenset[str]]:
    """What each access permits that the stop lies in from its start to its end."""
    on = stop.visit.night
    shut = site.holidays == "shut" and site.country != ""
    years = known_years(site.country, (on.year, on.year + 1)) if shut else ()
    names = public_holidays(site.country, site.region, years) if shut else {}
    time = SiteTime(zone=site.time_zone, windows=site.windows, shut=site.shut_days, holidays=names)
    return [
        night.permits
        for night in time.nights(on, on)
        if instant(on, night.starts_minute, site.time_zone) <= stop.starts_at
        and stop.ends_at <= instant(on, night.ends_minute, site.time_zone)
    ]


def _people(week: BranchWeek, night: CrewNight, stop: CrewStop) -> Iterator[str]:
    visit = stop.visit
    if night.people < visit.people:
        yield f"{night.people} people for {visit.people}"
    if (visit.night - night.on).days not in (-1, 0, 1):
        yield "a night that is not the crew's"
    for asked in week.books[visit.site].requirements:
        if asked.each_worker:
            for worker in night.workers:
                if not any(
                    q.name == asked.name
                    and q.from_on <= visit.night
                    and (q.expires_on is None or q.expires_on >= visit.night)
                    for q in worker.qualifications
                ):
                    yield f"{worker.code} lacks {asked.name}"
        elif asked.expires_on is not None and asked.expires_on < visit.night:
            yield f"{asked.name} has run out"


def _machines(week: BranchWeek, night: CrewNight, stop: CrewStop) -> Iterator[str]:
    owned = {machine.code: machine for machine in week.machines}
    taken = [owned[code] for code in stop.machines if code in owned]
    if len(taken) != len(stop.machines):
        yield "takes a machine nobody owns"
    for machine in taken:
        yield from _machine_there(week, night, stop, machine)
    entered = {m.kind for m in week.machines if any(_is_ours(week, m, at) for at in m.places)}
    zones = {zone.zone.code: zone.zone for zone in week.books[stop.visit.site].zones}
    needed = set()
    for line in stop.visit.lines:
        span = zones[line.zone].span_about(stop.visit.night)
        rung = week.surfaces[span.surface].methods.get(line.work)
        needed |= {step.machine for step in rung.steps if step.machine} if rung else set()
    if sorted(m.kind for m in taken) != sorted(needed & entered):
        yield "does not take one machine of each kind its methods use"


def _is_ours(week: BranchWeek, machine: OwnedMachine, place: object) -> bool:
    return any(
        at is place and (at.site in week.books if at.site else at.branch == week.branch.code)
        for at in machine.places
    )


def _machine_there(
    week: BranchWeek, night: CrewNight, stop: CrewStop, machine: OwnedMachine
) -> Iterator[str]:
    at = [
        p for p in machine.places if p.from_on <= night.on and (not p.to_on or night.on <= p.to_on)
    ]
    if not at or at[0].site not in ("", stop.visit.site):
        yield f"{machine.code} stands elsewhere"
    elif not at[0].site and at[0].branch != week.branch.code:
        yield f"{machine.code} stands at another branch"
    if any(first <= night.on <= last for first, last in machine.out_of_order):
        yield f"{machine.code} is out of order"
    site = week.books[stop.visit.site].site
    if machine.fuel and not any("fuel machine" in permits for permits in _permits(site, stop)):
        yield f"{machine.code} burns {machine.fuel} where no fuel machine may run"


def _machines_shared(fit: WeekFit) -> Iterator[str]:
    users: dict[str, set[int]] = {}
    for at, night in enumerate(fit.nights):
        for stop in night.stops:
            for code in stop.machines:
                users.setdefault(code, set()).add(at)
    for code, nights in sorted(users.items()):
        for first, second in combinations(sorted(nights), 2):
            one, other = fit.nights[first], fit.nights[second]
            if one.crew != other.crew and _shifts_overlap(one, other):
                yield f"{code} is with crew {one.crew} and with crew {other.crew} on {one.on}"


def _own_nights_apart(fit: WeekFit) -> Iterator[str]:
    for one, other in combinations((n for n in fit.nights if n.stops), 2):
        if one.crew == other.crew and _overlap(one, other):
            yield f"crew {one.crew} is out twice at once, on {one.on} and {other.on}"
    for night in fit.nights:
        for before, after in pairwise(night.stops):
            if after.starts_at < before.ends_at:
                yield f"crew {night.crew} on {night.on}: two visits at once"


def _rest_kept(fit: WeekFit) -> Iterator[str]:
    """Overtime never eats into the rest before the crew's next night."""
    by_crew: dict[str, list[CrewNight]] = {}
    for night in sorted((n for n in fit.nights if n.stops), key=lambda n: n.leaves_at):
        by_crew.setdefault(night.crew, []).append(night)
    rest = timedelta(minutes=REST_MINUTES)
    for crew, nights in by_crew.items():
        for one, then in pairwise(nights):
            back, leaves = one.home_at, then.leaves_at
            if one.ends_at is not None and then.starts_at is not None:
                back, leaves = max(back, one.ends_at), then.starts_at
                if one.ends_at + rest > leaves and back <= one.ends_at:
                    continue  # the shifts themselves are that close; nothing was added to them
            if back + rest > leaves:
                yield f"crew {crew} is out again on {then.on} before it has rested"


def _what_stands_stays(week: BranchWeek, fit: WeekFit) -> Iterator[str]:
    """Nights that stand are kept, held crews too; others move within their own bounds."""
    asked = {visit.uuid: visit for visit in week.visits}
    held = {one.visit: one for one in week.assigned if one.held}
    for night in fit.nights:
        for stop in night.stops:
            visit = asked.get(stop.visit.uuid)
            if visit is None:
                continue
            pinned = held.get(visit.uuid)
            if pinned is not None and (pinned.crew, pinned.on) != (night.crew, night.on):
                yield f"{visit.site}: held with crew {pinned.crew} on {pinned.on} and moved"
            if stop.visit.night == visit.night:
                continue
            if visit.stands or not week.holds(visit):
                yield f"{visit.site}: stands on {visit.night} and was moved"
            yield from _moved_well(week, visit, stop.visit.night)


def _moved_well(week: BranchWeek, visit: Visit, on: date) -> Iterator[str]:
    if not week.starts_on <= on <= week.last_on:
        yield f"{visit.site}: moved out of the week"
    if week.today is not None and on <= week.today:
        yield f"{visit.site}: moved into the past"
    if on < max(line.due.earliest for line in visit.lines):
        yield f"{visit.site}: moved before its work is due"
    refused = {
        (answer.night, answer.zone)
        for answer in week.books[visit.site].answers
        if answer.word is NightWord.REFUSED
    }
    if any((on, line.zone) in refused for line in visit.lines):
        yield f"{visit.site}: moved to a night that was refused"


def _shifts_overlap(one: CrewNight, other: CrewNight) -> bool:
    if None in (one.starts_at, one.ends_at, other.starts_at, other.ends_at):
        return _overlap(one, other)
    return one.starts_at < other.ends_at and other.starts_at < one.ends_at  # type: ignore[operator]


def _overlap(one: CrewNight, other: CrewNight) -> bool:
    (leaves, home), (other_leaves, other_home) = _out(one), _out(other)
    return leaves < other_home and other_leaves < home


def _out(night: CrewNight) -> tuple[datetime, datetime]:
    first, last = night.stops[0], night.stops[-1]
    return (
        first.starts_at - timedelta(minutes=first.travel_minutes),
        last.ends_at + timedelta(minutes=night.home_minutes),
    )
