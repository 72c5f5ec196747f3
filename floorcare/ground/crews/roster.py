"""Who goes out: the crew-nights of a branch, from its crews or from its bare numbers."""

from datetime import date, timedelta

from floorcare.ground.crews.week import DAY, BranchWeek, CrewNight
from floorcare.ground.trade.crew import Crew
from floorcare.ground.trade.visit import Visit
from floorcare.ground.worktime.night import instant

Nights = dict[tuple[str, date], CrewNight]
"""Crew-nights by crew and date."""


def crew_nights(week: BranchWeek) -> Nights:
    """Every crew-night that may serve a visit of the week or of the days beside it, still empty.

    A branch without crews of its own sends as many unnamed ones as its record says, on its nights.
    """
    days = [week.starts_on + step * DAY for step in range(-2, 8)]
    if week.own_crews:
        out = [night for crew in week.own_crews for on in days if (night := _out(week, crew, on))]
    else:
        out = [
            CrewNight(
                crew=_unnamed(week, number),
                name=f"crew {number}",
                on=on,
                people=week.branch.crew_size,
                longest_minutes=week.branch.shift_minutes,
            )
            for number in range(1, week.branch.crews + 1)
            for on in days
            if on.weekday() in week.branch.weekdays
        ]
    return {(night.crew, night.on): night for night in out}


def _out(week: BranchWeek, crew: Crew, on: date) -> CrewNight | None:
    shift = crew.shift_on(on)
    if shift is None:
        return None
    codes = set(crew.members_on(on))
    workers = sorted(
        (w for w in week.workers if w.code in codes and w.works_on(on)), key=lambda w: w.code
    )
    starts_at = instant(on, shift.starts_minute, week.branch.time_zone)
    ends_at = instant(on, shift.last_minute, week.branch.time_zone)
    minutes = (ends_at - starts_at) // timedelta(minutes=1)
    return CrewNight(
        crew=crew.code,
        name=crew.name,
        on=on,
        people=len(workers),
        longest_minutes=max(0, minutes - shift.break_minutes),
        break_minutes=shift.break_minutes,
        workers=tuple(workers),
        starts_at=starts_at,
        ends_at=ends_at,
    )


def crew_order(week: BranchWeek, visit: Visit) -> tuple[str, ...]:
    """Codes of the crews in the order in which they are tried: last there first, then by code."""
    last = last_there(week, visit)
    return tuple(sorted(crew_codes(week), key=lambda code: code != last))


def crew_codes(week: BranchWeek) -> tuple[str, ...]:
    """Codes of the branch's crews; unnamed ones are numbered."""
    named = tuple(crew.code for crew in week.own_crews)
    return named or tuple(_unnamed(week, n) for n in range(1, week.branch.crews + 1))


def crew_nights_of(nights: Nights, crew: str) -> list[CrewNight]:
    """A crew's nights in order."""
    return sorted((n for (code, _), n in nights.items() if code == crew), key=lambda n: n.on)


def _unnamed(week: BranchWeek, number: int) -> str:
    return f"{week.branch.code}-{number}"


def last_there(week: BranchWeek, visit: Visit) -> str:
    """The crew that last treated a zone of the site, by code or name as it was typed, else ""."""
    names = {crew.code: crew.name for crew in week.own_crews}
    known = {name.casefold(): code for code, name in names.items()}
    known |= {code.casefold(): code for code in names}
    done = [
        (treatment.done_on, code)
        for zone in week.books[visit.site].zones
        for treatment in zone.done
        if treatment.done_on < visit.night
        and (code := known.get(treatment.performer.strip().casefold()))
    ]
    latest = max((on for on, _ in done), default=None)
    return min((code for on, code in done if on == latest), default="")
