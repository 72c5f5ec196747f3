"""The rule of thumb: each visit goes to the first crew that fits, as on a board; no routes.

Visits are taken in order: those that stand, then by the latest night of their lines. Each keeps
its night and goes into the earliest gap of the first crew that fits; what is placed is not moved
again. So the week may miss a fit that another order would find; it never breaks a constraint.
"""

from datetime import date

from floorcare.ground.crews import misfits as said_why
from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.machines import kinds_entered, kinds_needed
from floorcare.ground.crews.roster import crew_nights, crew_order
from floorcare.ground.crews.slot import with_stop
from floorcare.ground.crews.trial import try_crew, unfitted_by
from floorcare.ground.crews.week import BranchWeek, Unfitted, WeekFit
from floorcare.ground.trade.visit import Commitment, Visit


def fit_week(week: BranchWeek) -> WeekFit:
    """Put a branch's visits on crew-nights, and say of each that does not fit why not."""
    nights = crew_nights(week)
    unfitted: list[Unfitted] = []
    for visit in sorted(week.visits, key=_order):
        trials = []
        access = access_of(visit, week.site(visit))
        for crew in crew_order(week, visit):
            trial = try_crew(week, visit, access, crew, nights)
            trials.append(trial)
            if trial.night is not None and trial.slot is not None and not trial.misfits:
                key = trial.night.crew, trial.night.on
                nights[key] = with_stop(trial.night, visit, trial.slot, trial.machines)
                break
        else:
            unfitted.append(unfitted_by(week, visit, trials))
    return WeekFit(
        nights=tuple(sorted(nights.values(), key=lambda n: (n.on, n.crew))),
        unfitted=tuple(sorted(unfitted, key=lambda u: (u.visit.night, u.visit.site, u.visit.uuid))),
        unchecked=unchecked_of(week),
    )


def _order(visit: Visit) -> tuple[bool, bool, date, date, str, str]:
    latest = min(line.due.latest for line in visit.lines)
    fixed = visit.commitment is Commitment.HOUR
    return not fixed, not visit.stands, latest, visit.night, visit.site, visit.uuid


def unchecked_of(week: BranchWeek) -> tuple[str, ...]:
    """What was taken for granted because it was not entered, each once."""
    said = []
    if not week.own_crews:
        branch = week.branch
        said.append(
            f"No crew is entered for branch {branch.code}: {branch.crews} unnamed "
            f"{'crew' if branch.crews == 1 else 'crews'} of {branch.crew_size} for "
            f"{branch.shift_minutes} min a night {'is' if branch.crews == 1 else 'are'} taken, "
            "each from the drive to its first visit; machines are not checked."
        )
        asked: dict[str, set[str]] = {}
        for code in {visit.site for visit in week.visits}:
            for one in week.books[code].requirements:
                if one.each_worker:
                    asked.setdefault(one.name, set()).add(code)
        if asked:
            said.append(said_why.unchecked_said("Asked of each worker and not checked", asked))
        return tuple(said)
    entered = kinds_entered(week)
    lacking = {
        kind.code: kind.name
        for visit in week.visits
        for kind in kinds_needed(week, visit)
        if kind.code not in entered
    }
    if lacking:
        names = "; ".join(lacking[code] for code in sorted(lacking))
        said.append(f"No machine is entered of these kinds, so they are not checked: {names}.")
    return tuple(said)
