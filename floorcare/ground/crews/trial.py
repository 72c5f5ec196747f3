"""One crew asked for one visit on one night: what it would take, or all that keeps it from it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from floorcare.ground.crews import misfits as said_why
from floorcare.ground.crews.access import Access, why_no_access
from floorcare.ground.crews.machines import machines_for
from floorcare.ground.crews.roster import Nights
from floorcare.ground.crews.slot import Slot, best_slot
from floorcare.ground.crews.week import DAY, BranchWeek, CrewNight, Misfit, MisfitKind, Unfitted
from floorcare.ground.trade.visit import Visit

EASE = {kind: rank for rank, kind in enumerate(MisfitKind)}
"""How easily a misfit is mended, the most easily first. Assumption; it only chooses which crew is
named as the nearest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """What came of asking one crew; it takes the visit where there are no misfits.

    on : the site's night it was asked for, None for the visit's own.
    """

    crew: str
    night: CrewNight | None = None
    slot: Slot | None = None
    machines: tuple[str, ...] = ()
    misfits: tuple[Misfit, ...] = ()
    on: date | None = None


def try_crew(
    week: BranchWeek, visit: Visit, access: tuple[Access, ...], crew: str, nights: Nights
) -> Trial:
    """What a crew would need to take a visit on its night, beside the stops it has.

    Parameters
    ----------
    access : the stretches of the visit's night that permit its work; none where it is closed.
    nights : every crew-night with the stops so far.
    """
    found = list(said_why.paper_misfits(week, visit))
    if not access:
        found.append(said_why.no_access(visit, why_no_access(visit, week.site(visit))))
        return Trial(crew=crew, misfits=tuple(found))
    night = _night_of(week, visit, access, crew, nights)
    if night is None:
        name = next((c.name for c in week.own_crews if c.code == crew), "")
        found.append(said_why.no_shift(week, visit, access, name))
        return Trial(crew=crew, misfits=tuple(found))
    if night.people < visit.people:
        found.append(said_why.too_few(visit, night))
    found += said_why.qualification_misfits(week, visit, night)
    slot = best_slot(week, visit, access, night, nights)
    machines, lacks = machines_for(week, visit, night, nights.values(), fuel=slot.access.fuel)
    found += [said_why.no_machine(lack, night) for lack in lacks]
    found += said_why.time_misfits(week, visit, night, slot)
    return Trial(crew=crew, night=night, slot=slot, machines=machines, misfits=tuple(found))


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


def distance(trial: Trial) -> tuple[int, int, int]:
    """How far a crew is from a visit; hours nobody would stretch so far are as good as no shift.

    Source: the order of `EASE`.
    """
    lacking = trial.slot.lacking if trial.slot is not None else 0
    far = EASE[MisfitKind.SHIFT] if lacking > said_why.MOST_STRETCH_MINUTES else 0
    return (
        max([far, *(EASE[misfit.kind] for misfit in trial.misfits)]),
        len(trial.misfits),
        sum(misfit.short for misfit in trial.misfits),
    )


def unfitted_by(week: BranchWeek, visit: Visit, trials: Sequence[Trial]) -> Unfitted:
    """The visit with what keeps the nearest crew from it: fewest misfits, then easiest mended."""
    if not trials:
        why = f"branch {week.branch.code} has no crew"
        mend = f"a crew of {visit.people} for the branch"
        return Unfitted(visit=visit, crew="", why=why, mend=mend)
    nearest = min(trials, key=distance)
    return Unfitted(
        visit=visit,
        crew=nearest.crew,
        why="; ".join(dict.fromkeys(m.why for m in nearest.misfits)),
        mend="; ".join(dict.fromkeys(m.mend for m in nearest.misfits)),
    )
