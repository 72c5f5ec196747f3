"""Gaps filled: what the search left out and a crew has room and a free machine for after all.

Machines are shared out before the routes are known. Where a route does not need what it was given,
another visit may have it.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.holders import Key
from floorcare.ground.crews.roster import Nights, crew_order
from floorcare.ground.crews.slot import with_stop
from floorcare.ground.crews.trial import Trial, try_crew
from floorcare.ground.crews.week import BranchWeek
from floorcare.ground.crews.wishes import Wish, nights_asked
from floorcare.ground.crews.worth import night_cost, worth_of
from floorcare.ground.trade.visit import Commitment


def filled(
    week: BranchWeek, nights: Nights, late: dict[Key, list[datetime]], left: Sequence[Wish]
) -> list[Wish]:
    """Put what was left where it fits, worth most first; what still has no crew comes back.

    Parameters
    ----------
    nights, late : the crew-nights, and of each stop the latest start; both are added to.
    """
    still = []
    for wish in sorted(left, key=lambda w: (-worth_of(w.visit, week.last_on), w.visit.uuid)):
        trial = _fitting(week, wish, nights) if week.own_crews else None
        if trial is None or trial.night is None or trial.slot is None:
            still.append(wish)
            continue
        key, at = (trial.night.crew, trial.night.on), trial.slot.at
        visit = replace(wish.visit, night=trial.on or wish.visit.night)
        longer = with_stop(trial.night, visit, trial.slot, trial.machines)
        stops = list(longer.stops)
        held = wish.now is not None and wish.now.held
        stops[at] = replace(stops[at], part=wish.part, parts=wish.parts, held=held)
        nights[key] = replace(longer, stops=tuple(stops))
        last = trial.slot.access.closes_at - timedelta(minutes=visit.minutes)
        fixed = visit.commitment is Commitment.HOUR
        late.setdefault(key, []).insert(at, trial.slot.starts_at if fixed else last)
    return still


def _fitting(week: BranchWeek, wish: Wish, nights: Nights) -> Trial | None:
    """The first crew that takes it as it is, on the night that costs least."""
    asked = nights_asked(week, wish.visit)
    for on in sorted(asked, key=lambda on: (night_cost(wish.visit, on), on)):
        there = replace(wish.visit, night=on)
        access = access_of(there, week.site(there))
        if not access:
            continue
        for crew in crew_order(week, there):
            trial = try_crew(week, there, access, crew, nights)
            key = (trial.crew, trial.night.on) if trial.night is not None else None
            if not trial.misfits and key in wish.crews:
                return replace(trial, on=on)
    return None
