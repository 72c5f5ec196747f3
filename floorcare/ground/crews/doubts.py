"""What of a week's crews, machines and visits a person should look at, each with its mend."""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from itertools import pairwise

from floorcare.findings import Finding
from floorcare.ground.crews.roster import Nights, crew_nights_of
from floorcare.ground.crews.week import BranchWeek, night_said
from floorcare.ground.crews.wishes import REST_MINUTES, Wish, longest_stay
from floorcare.ground.rules.reasons import said


def week_findings(week: BranchWeek, nights: Nights, wishes: Sequence[Wish]) -> tuple[Finding, ...]:
    """Crews without shifts or people, short rests, machines in two places, visits too long.

    The rest of the week is planned whatever is found here.
    """
    return (
        *_crews(week, nights),
        *_rests(nights),
        *_machines(week),
        *_too_long(week, nights, wishes),
    )


def _asks(problem: str, mend: str) -> Finding:
    return Finding(problem=problem, mend=mend, weight="asks")


def _crews(week: BranchWeek, nights: Nights) -> Iterator[Finding]:
    for crew in week.own_crews:
        mine = crew_nights_of(nights, crew.code)
        if not crew.shifts:
            yield _asks(
                f"crew {crew.code} has no shift, so it is given nothing",
                f"a row for {crew.code} in shifts.csv",
            )
        for night in mine:
            if not night.people:
                yield _asks(
                    f"nobody of crew {crew.code} works on {night_said(night.on)}",
                    f"a row for {crew.code} in crew_members.csv, or no shift on that day",
                )


def _rests(nights: Nights) -> Iterator[Finding]:
    for crew in sorted({code for code, _ in nights}):
        for one, then in pairwise(crew_nights_of(nights, crew)):
            if one.ends_at is None or then.starts_at is None:
                continue
            rest = (then.starts_at - one.ends_at) // timedelta(minutes=1)
            if rest < REST_MINUTES:
                yield _asks(
                    f"the shifts of {one.name} leave {rest // 60} h {rest % 60:02} min of rest "
                    f"before {night_said(then.on)}; {REST_MINUTES // 60} h are wanted",
                    "other hours in shifts.csv; what the law and your agreement ask outranks ours",
                )


def _machines(week: BranchWeek) -> Iterator[Finding]:
    for machine in sorted(week.machines, key=lambda m: m.code):
        placed = sorted(machine.places, key=lambda p: p.from_on)
        for one, then in pairwise(placed):
            if one.to_on is None or then.from_on <= one.to_on:
                yield _asks(
                    f"machine {machine.code} stands at {one.site or one.branch} and at "
                    f"{then.site or then.branch} from {said(then.from_on)} on; the first is taken",
                    f"the day it left {one.site or one.branch} in machine_places.csv",
                )


def _too_long(week: BranchWeek, nights: Nights, wishes: Sequence[Wish]) -> Iterator[Finding]:
    for wish in wishes:
        visit = wish.visit
        if wish.chances or wish.parts > 1 or not week.holds(visit):
            continue
        stay = longest_stay(week, visit, nights.values())
        if 0 < stay < visit.minutes:
            yield _asks(
                f"the visit to {visit.site} on {night_said(visit.night)} takes {visit.minutes} min "
                f"on site and no crew can stay longer than {stay}",
                "a longer shift, more people in a crew, or the zone treated in two nights",
            )
