"""Why a visit has no crew, and the nearest change that would give it one."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.misfits import another_crew
from floorcare.ground.crews.roster import Nights, crew_order
from floorcare.ground.crews.trial import EASE, Trial, distance, try_crew, unfitted_by
from floorcare.ground.crews.week import (
    BranchWeek,
    Cause,
    CrewNight,
    MisfitKind,
    Unfitted,
    night_said,
)
from floorcare.ground.crews.wishes import Wish, nights_asked
from floorcare.ground.trade.site import Branch, Site

MOST_NAMED = 3
"""So many visits or crew-nights are named in a reason. Assumption, for the reader's sake."""


def explained(week: BranchWeek, nights: Nights, left: Sequence[Wish]) -> tuple[Unfitted, ...]:
    """Each visit without a crew with its cause, reason, mend and nearest change.

    Parameters
    ----------
    nights : every crew-night with its stops, the breaks not yet placed.
    left : what found no crew.

    In order of night and site.
    """
    found = [_explained(week, nights, wish) for wish in left]
    return tuple(sorted(found, key=lambda u: (u.visit.night, u.visit.site, u.visit.uuid)))


def _explained(week: BranchWeek, nights: Nights, wish: Wish) -> Unfitted:
    visit = wish.visit
    trials = list(_trials(week, wish, nights))
    bare = unfitted_by(week, visit, trials)
    if not trials:
        return replace(bare, cause=Cause.NO_CREW_NIGHT, nearest=bare.mend)
    nearest = min(trials, key=distance)
    cause, reason = _cause(week, wish, nights, nearest)
    if not nearest.misfits:
        # the bare hours would do: it is the rest, or that it is bound to another crew
        why = "no crew that may go is out within the hours that leave it its rest"
        mend = another_crew(week, visit, access_of(visit, week.site(visit)))
        told = "; ".join([*reason, why])
        return replace(bare, why=told, mend=mend, cause=cause, nearest=mend)
    why = "; ".join(dict.fromkeys([*reason, *(m.why for m in nearest.misfits)]))
    return replace(bare, why=why, cause=cause, nearest=_nearest_change(week, trials, nearest))


def _trials(week: BranchWeek, wish: Wish, nights: Nights) -> Iterable[Trial]:
    """Every crew asked for every night the visit may have."""
    for on in nights_asked(week, wish.visit):
        there = replace(wish.visit, night=on)
        access = access_of(there, week.site(there))
        if not access and on != wish.visit.night:
            continue
        for crew in crew_order(week, there):
            if wish.now is not None and wish.now.held and crew != wish.now.crew:
                continue
            yield try_crew(week, there, access, crew, nights)


def _cause(week: BranchWeek, wish: Wish, nights: Nights, nearest: Trial) -> tuple[Cause, list[str]]:
    allowed = [nights[key] for key in sorted(wish.crews, key=lambda k: (k[1], k[0]))]
    if not allowed:
        return Cause.NO_CREW_NIGHT, []
    firm = [
        (night, stop) for night in allowed for stop in night.stops if stop.held or stop.visit.stands
    ]
    if firm and _fits_without(week, wish, nights, firm_only=True):
        named = "; ".join(
            f"{stop.visit.site} with {night.name} on {night_said(night.on)}"
            for night, stop in firm[:MOST_NAMED]
        )
        return Cause.CLASH, [f"it clashes with what is held: {named}"]
    if _fits_without(week, wish, nights, firm_only=False) or not nearest.misfits:
        return Cause.CAPACITY, [_full(week, wish, allowed)]
    if all(m.kind is MisfitKind.MACHINE for m in nearest.misfits):
        return Cause.CAPACITY, [_full(week, wish, allowed)]
    return Cause.NO_CREW_NIGHT, []


def _fits_without(week: BranchWeek, wish: Wish, nights: Nights, *, firm_only: bool) -> bool:
    """Whether it would have a crew were all that is held, or all stops, gone from its nights."""

    def stays(night: CrewNight) -> CrewNight:
        kept = (s for s in night.stops if firm_only and not (s.held or s.visit.stands))
        stops = tuple(kept)
        return replace(night, stops=stops, home_minutes=night.home_minutes if stops else 0)

    emptied = {key: stays(night) if key in wish.crews else night for key, night in nights.items()}
    return any(not trial.misfits for trial in _trials(week, wish, emptied))


def _full(week: BranchWeek, wish: Wish, allowed: Sequence[CrewNight]) -> str:
    """How full the crew-nights are that may take it."""
    site = week.site(wish.visit)
    drives = week.drive(week.branch, site) + week.drive(site, week.branch)
    has = sum(night.longest_minutes for night in allowed)
    taken = sum(
        (night.home_at - night.leaves_at).total_seconds() / 60 for night in allowed if night.stops
    )
    one = len(allowed) == 1
    return (
        f"the {'only crew-night' if one else f'{len(allowed)} crew-nights'} that may take it "
        f"{'has' if one else 'have'} {taken:.0f} of {has} min taken; it needs "
        f"{wish.visit.minutes} min on site and {drives} of drive"
    )


def _nearest_change(week: BranchWeek, trials: Sequence[Trial], nearest: Trial) -> str:
    """The one change that alone would place it, the most easily made; else all the nearest's."""
    alone = [trial for trial in trials if len(trial.misfits) == 1 and trial.night is not None]
    if not alone:
        return "; ".join(dict.fromkeys(m.mend for m in nearest.misfits))
    trial = min(alone, key=lambda t: (EASE[t.misfits[0].kind], t.misfits[0].short, t.crew))
    added = _added_drive(week, trial)
    night = trial.night
    where = f" ({night.name}, {night_said(night.on)}{added})" if night is not None else ""
    return f"{trial.misfits[0].mend}{where}"


def _added_drive(week: BranchWeek, trial: Trial) -> str:
    """What it would add to the crew's drive."""
    slot, night = trial.slot, trial.night
    if slot is None or night is None:
        return ""
    places: list[Branch | Site] = [
        week.branch,
        *(week.site(s.visit) for s in night.stops),
        week.branch,
    ]
    straight = week.drive(places[slot.at], places[slot.at + 1]) if night.stops else 0
    more = slot.travel_minutes + slot.onward_minutes - straight
    return f", {more} min more drive" if more > 0 else ""
