"""A visit put on a crew or a night by hand: the week in which it may go nowhere else."""

from dataclasses import replace
from datetime import date, datetime

from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.week import DAY, BranchWeek, Unfitted, WeekFit
from floorcare.ground.crews.wishes import wish_of
from floorcare.ground.trade.assignment import Assignment
from floorcare.ground.trade.visit import Commitment, Visit, VisitState
from floorcare.ground.worktime.night import instant


def pinned(week: BranchWeek, visit: Visit, *, crew: str, night: date) -> BranchWeek:
    """The week with a visit bound to a night, and to a crew where one is named.

    Parameters
    ----------
    crew : the crew's code, "" for whichever suits.
    """
    firm = Commitment.NIGHT if visit.commitment is Commitment.WEEK else visit.commitment
    moved = replace(visit, night=night, commitment=firm)
    visits = tuple(moved if one.uuid == visit.uuid else one for one in week.visits)
    others = tuple(one for one in week.assigned if one.visit != visit.uuid)
    bare = replace(week, visits=visits, assigned=others)
    if not crew:
        return bare
    nights = rested(bare, crew_nights(bare))
    tried = [_bound(bare, moved, crew, on) for on in (night, night - DAY, night + DAY)]
    able = (one for one in tried if wish_of(one, moved, nights).chances)
    return next(able, tried[0])


def why_not_placed(fit: WeekFit, visit: Visit) -> Unfitted | None:
    """Why a visit has no crew in a fitted week, None where it has one."""
    return next((one for one in fit.unfitted if one.visit.uuid == visit.uuid), None)


def held_with_crew(visit: Visit, *, held: bool, now: datetime) -> Visit:
    """The visit pinned to its night for plans too, or free again."""
    return replace(
        visit,
        state=VisitState.HELD if held else VisitState.PROPOSED,
        commitment=Commitment.NIGHT if held else Commitment.WEEK,
        sequence=visit.sequence + 1,
        changed_at=now,
    )


def _bound(week: BranchWeek, visit: Visit, crew: str, on: date) -> BranchWeek:
    at = instant(visit.night, visit.starts_minute, week.site(visit).time_zone)
    bound = Assignment(visit=visit.uuid, crew=crew, on=on, starts_at=at, ends_at=at, held=True)
    return replace(week, assigned=(*week.assigned, bound))
