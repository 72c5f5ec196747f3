"""Room in a crew's night: where between its stops a visit could go, and what is lacking there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal

from floorcare.ground.crews.access import Access
from floorcare.ground.crews.week import (
    DAY,
    BranchWeek,
    CrewNight,
    CrewStop,
    fixed_start,
)
from floorcare.ground.trade.site import Branch, Site
from floorcare.ground.trade.visit import Visit

LackKind = Literal["hour", "access", "next", "back"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """Minutes lacking: to the agreed hour, before access closes, to the next stop, to be back."""

    kind: LackKind
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One place for a visit in a crew's night; it fits where nothing is lacking.

    at : how many stops come before it.
    travel_minutes, onward_minutes : drive to it, and from it to the next stop or home.
    reached_at : earliest arrival at the site.
    """

    at: int
    access: Access
    travel_minutes: int
    onward_minutes: int
    reached_at: datetime
    starts_at: datetime
    ends_at: datetime
    lacks: tuple[Lack, ...]

    @property
    def lacking(self) -> int:
        """All minutes lacking."""
        return sum(lack.minutes for lack in self.lacks)


Nights = Mapping[tuple[str, date], CrewNight]


def best_slot(
    week: BranchWeek, visit: Visit, access: tuple[Access, ...], night: CrewNight, nights: Nights
) -> Slot:
    """The earliest slot that fits; where none does, the one in which least is lacking.

    Parameters
    ----------
    access : one stretch or more.
    nights : all crew-nights, since one night of a crew may not run into its next.
    """
    found = [slot for each in access for slot in _slots(week, visit, each, night, nights)]
    for slot in found:
        if not slot.lacks:
            return slot
    # what is wedged between two stops is no crew's nearest: nobody would mend it there
    open_ended = [s for s in found if all(lack.kind != "next" for lack in s.lacks)]
    return min(open_ended, key=lambda slot: slot.lacking)


def with_stop(night: CrewNight, visit: Visit, slot: Slot, machines: tuple[str, ...]) -> CrewNight:
    """The night with the visit in its slot; the other stops keep their times."""
    stop = CrewStop(
        visit=visit,
        travel_minutes=slot.travel_minutes,
        starts_at=slot.starts_at,
        ends_at=slot.ends_at,
        machines=machines,
    )
    before, after = night.stops[: slot.at], night.stops[slot.at :]
    if not after:
        return replace(night, stops=(*before, stop), home_minutes=slot.onward_minutes)
    following = replace(after[0], travel_minutes=slot.onward_minutes)
    return replace(night, stops=(*before, stop, following, *after[1:]))


def _slots(
    week: BranchWeek, visit: Visit, access: Access, night: CrewNight, nights: Nights
) -> Iterator[Slot]:
    site = week.site(visit)
    fixed = fixed_start(visit, site)
    places: list[Branch | Site] = [
        week.branch,
        *(week.site(stop.visit) for stop in night.stops),
        week.branch,
    ]
    for at in range(len(night.stops) + 1):
        travel = week.drive(places[at], site)
        onward = week.drive(site, places[at + 1])
        if at:
            leaves = night.stops[at - 1].ends_at
        else:
            leaves = _out_from(night, nights, (fixed or access.opens_at) - _minutes(travel))
        reached = leaves + _minutes(travel)
        starts = fixed or max(access.opens_at, reached)
        ends = starts + _minutes(visit.minutes)
        short: dict[LackKind, int] = {
            "hour": _over(reached, starts),
            "access": _over(ends, access.closes_at) + _over(access.opens_at, starts),
        }
        if at < len(night.stops):
            short["next"] = _over(ends + _minutes(onward), night.stops[at].starts_at)
        else:
            back_by = _back_by(night, nights, starts - _minutes(travel))
            short["back"] = _over(ends + _minutes(onward), back_by)
        yield Slot(
            at=at,
            access=access,
            travel_minutes=travel,
            onward_minutes=onward,
            reached_at=reached,
            starts_at=starts,
            ends_at=ends,
            lacks=tuple(Lack(kind=k, minutes=m) for k, m in short.items() if m),
        )


def _out_from(night: CrewNight, nights: Nights, wished: datetime) -> datetime:
    """When the crew can leave the branch for a stop before all others."""
    if night.starts_at is not None:
        leaves = night.starts_at
    elif night.stops:
        leaves = night.home_at - _minutes(night.longest_minutes)
    else:
        leaves = wished
    eve = nights.get((night.crew, night.on - DAY))
    return max(leaves, eve.home_at) if eve is not None and eve.stops else leaves


def _back_by(night: CrewNight, nights: Nights, leaves: datetime) -> datetime:
    """When the crew must be back at the branch after a stop behind all others."""
    back_by = night.back_by
    if back_by is None:
        leaves = night.leaves_at if night.stops else leaves
        back_by = leaves + _minutes(night.longest_minutes)
    morrow = nights.get((night.crew, night.on + DAY))
    return min(back_by, morrow.leaves_at) if morrow is not None and morrow.stops else back_by


def _minutes(minutes: int) -> timedelta:
    return timedelta(minutes=minutes)


def _over(late: datetime, limit: datetime) -> int:
    """Whole minutes by which one instant lies after another, 0 where it does not."""
    return max(0, (late - limit) // timedelta(minutes=1))
