"""The first week: each visit goes to the first crew that fits, a plain rule that plans no routes.

Visits are taken in order: those that stand, then by the latest night of their lines. Each keeps
its night and goes into the earliest gap of the first crew that fits; what is placed is not moved
again. So the week may miss a fit that another order would find; it never breaks a constraint.
"""

from dataclasses import dataclass
from datetime import date

from floorcare.ground.crews import misfits as said_why
from floorcare.ground.crews.access import Access, access_of, why_no_access
from floorcare.ground.crews.machines import kinds_entered, kinds_needed, machines_for
from floorcare.ground.crews.roster import Nights, crew_nights, crew_order
from floorcare.ground.crews.slot import Slot, best_slot, with_stop
from floorcare.ground.crews.week import (
    DAY,
    BranchWeek,
    CrewNight,
    Misfit,
    MisfitKind,
    Unfitted,
    WeekFit,
)
from floorcare.ground.trade.visit import Commitment, Visit

EASE = {kind: rank for rank, kind in enumerate(MisfitKind)}
"""How easily a misfit is mended, the most easily first. Assumption; it only chooses which crew is
named as the nearest."""


@dataclass(frozen=True, slots=True)
class _Trial:
    """What came of asking one crew; it takes the visit where there are no misfits."""

    crew: str
    night: CrewNight | None
    slot: Slot | None
    machines: tuple[str, ...]
    misfits: tuple[Misfit, ...]


def fit_week(week: BranchWeek) -> WeekFit:
    """Put a branch's visits on crew-nights, and say of each that does not fit why not."""
    nights = crew_nights(week)
    unfitted: list[Unfitted] = []
    for visit in sorted(week.visits, key=_order):
        trials = []
        access = access_of(visit, week.site(visit))
        for crew in crew_order(week, visit):
            trial = _try(week, visit, access, crew, nights)
            trials.append(trial)
            if trial.night is not None and trial.slot is not None and not trial.misfits:
                key = trial.night.crew, trial.night.on
                nights[key] = with_stop(trial.night, visit, trial.slot, trial.machines)
                break
        else:
            unfitted.append(_unfitted(week, visit, trials))
    return WeekFit(
        nights=tuple(sorted(nights.values(), key=lambda n: (n.on, n.crew))),
        unfitted=tuple(sorted(unfitted, key=lambda u: (u.visit.night, u.visit.site, u.visit.uuid))),
        unchecked=_unchecked(week),
    )


def _order(visit: Visit) -> tuple[bool, bool, date, date, str, str]:
    latest = min(line.due.latest for line in visit.lines)
    fixed = visit.commitment is Commitment.HOUR
    return not fixed, not visit.stands, latest, visit.night, visit.site, visit.uuid


def _try(
    week: BranchWeek, visit: Visit, access: tuple[Access, ...], crew: str, nights: Nights
) -> _Trial:
    found = list(said_why.paper_misfits(week, visit))
    if not access:
        found.append(said_why.no_access(visit, why_no_access(visit, week.site(visit))))
        return _Trial(crew, None, None, (), tuple(found))
    night = _night_of(week, visit, access, crew, nights)
    if night is None:
        name = next((c.name for c in week.own_crews if c.code == crew), "")
        found.append(said_why.no_shift(week, visit, access, name))
        return _Trial(crew, None, None, (), tuple(found))
    if night.people < visit.people:
        found.append(said_why.too_few(visit, night))
    found += said_why.qualification_misfits(week, visit, night)
    slot = best_slot(week, visit, access, night, nights)
    machines, lacks = machines_for(week, visit, night, nights.values(), fuel=slot.access.fuel)
    found += [said_why.no_machine(lack, night) for lack in lacks]
    found += said_why.time_misfits(week, visit, night, slot)
    return _Trial(crew, night, slot, machines, tuple(found))


def _night_of(
    week: BranchWeek, visit: Visit, access: tuple[Access, ...], crew: str, nights: Nights
) -> CrewNight | None:
    """The crew's night that can serve the visit's: its own date's, else the evening before's."""
    if not week.own_crews:
        return nights.get((crew, visit.night))
    for on in (visit.night, visit.night - DAY):
        night = nights.get((crew, on))
        if night is not None and any(_meets(night, each) for each in access):
            return night
    return None


def _meets(night: CrewNight, access: Access) -> bool:
    if night.starts_at is None or night.ends_at is None:
        return True
    return night.starts_at < access.closes_at and access.opens_at < night.ends_at


def _unfitted(week: BranchWeek, visit: Visit, trials: list[_Trial]) -> Unfitted:
    """The visit with what keeps the nearest crew from it: fewest misfits, then easiest mended."""
    if not trials:
        why = f"branch {week.branch.code} has no crew"
        mend = f"a crew of {visit.people} for the branch"
        return Unfitted(visit=visit, crew="", why=why, mend=mend)
    nearest = min(trials, key=_distance)
    return Unfitted(
        visit=visit,
        crew=nearest.crew,
        why="; ".join(dict.fromkeys(m.why for m in nearest.misfits)),
        mend="; ".join(dict.fromkeys(m.mend for m in nearest.misfits)),
    )


def _distance(trial: _Trial) -> tuple[int, int, int]:
    """How far a crew is from a visit; hours nobody would stretch so far are as good as no shift."""
    lacking = trial.slot.lacking if trial.slot is not None else 0
    far = EASE[MisfitKind.SHIFT] if lacking > said_why.MOST_STRETCH_MINUTES else 0
    return (
        max(far, *(EASE[misfit.kind] for misfit in trial.misfits)),
        len(trial.misfits),
        sum(misfit.short for misfit in trial.misfits),
    )


def _unchecked(week: BranchWeek) -> tuple[str, ...]:
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
