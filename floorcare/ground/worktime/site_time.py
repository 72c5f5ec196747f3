"""Working time of a site: which nights there are, how long they truly are, why others are not."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from floorcare.ground.worktime.night import DAY_MINUTES, check_zone, length_minutes
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import WEEKDAY_NAMES, AccessWindow

_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Night:
    """One stretch of working time; a night belongs to the date it starts.

    on : the site's own date.
    starts_minute, ends_minute : by the wall clock; above 1440 the next morning.
    minutes : true length, an hour less or more where the clocks change.
    permits : what may be done: "loud", "wet", "dust", "fuel machine".
    """

    on: date
    starts_minute: int
    ends_minute: int
    minutes: int
    permits: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteTime:
    """When a site may be worked.

    zone : IANA time zone.
    windows : access windows; two on one date make two nights.
    shut : days that are not worked, whole.
    holidays : public holidays with their names, not worked either.
    blackouts : hours taken out of every window they touch; their `permits` mean nothing.
    """

    zone: str
    windows: tuple[AccessWindow, ...]
    shut: tuple[ShutDay, ...] = ()
    holidays: Mapping[date, str] = field(default_factory=dict)
    blackouts: tuple[AccessWindow, ...] = ()

    def __post_init__(self) -> None:
        check_zone(self.zone)

    def nights(self, first: date, last: date) -> tuple[Night, ...]:
        """The nights that start from `first` to `last`, both included, in order of their start.

        A closed day has no night, and one that would run into it ends at its midnight. Of a
        night cut by blackout hours the longest piece stays, the earlier of two equal ones.

        Assumption: a closed day is not worked at all, so the night before it ends at midnight.
        """
        days = (first + _DAY * step for step in range((last - first).days + 1))
        return tuple(night for on in days for night in self._nights_of(on))

    def longest(self, first: date, last: date) -> int:
        """True minutes of the longest night from `first` to `last`, 0 where there is none.

        Source: lengths through UTC by the IANA time zone database.
        """
        return max((night.minutes for night in self.nights(first, last)), default=0)

    def why_closed(self, on: date) -> str:
        """Why no night starts on a date, or "" where one does.

        Assumption: the reasons are looked for in this order: shut, holiday, window, blackout.
        """
        closed = self.closed_why(on)
        if closed:
            return closed
        starting = [w for w in self.windows if w.starts_on(on)]
        if not starting:
            day = WEEKDAY_NAMES[on.weekday()]
            if any(on.weekday() in w.weekdays for w in self.windows):
                return f"access on {day}s is given for other dates only"
            return f"no access window on {day}s"
        if self._nights_of(on):
            return ""
        if self.blackouts:
            return "blackout hours leave nothing of the night"
        return "the change of clocks leaves nothing of the night"

    def closed_why(self, on: date) -> str:
        """Why a date is not worked at all, a shut day or a public holiday; "" where it may be.

        Source: the site's own shut days and its holidays.
        """
        for shut in self.shut:
            if shut.covers(on):
                return f"shut: {shut.why}" if shut.why else "shut"
        if on in self.holidays:
            return f"public holiday: {self.holidays[on]}"
        return ""

    def _nights_of(self, on: date) -> tuple[Night, ...]:
        windows = [w for w in self.windows if w.starts_on(on)]
        if not windows or self.closed_why(on):
            return ()
        found: list[Night] = []
        for window in windows:
            ends_minute = window.last_minute
            if ends_minute > DAY_MINUTES and self.closed_why(on + _DAY):
                ends_minute = DAY_MINUTES
            pieces = [
                (length_minutes(on, start, end, self.zone), start, end)
                for start, end in self._pieces(on, window.starts_minute, ends_minute)
            ]
            minutes, start, end = max(pieces, key=lambda p: (p[0], -p[1]), default=(0, 0, 0))
            if minutes:
                found.append(
                    Night(
                        on=on,
                        starts_minute=start,
                        ends_minute=end,
                        minutes=minutes,
                        permits=window.permits,
                    )
                )
        return tuple(
            sorted(found, key=lambda n: (n.starts_minute, n.ends_minute, sorted(n.permits)))
        )

    def _pieces(self, on: date, starts: int, ends: int) -> Iterator[tuple[int, int]]:
        """What blackout hours leave of a stretch, in order."""
        taken = sorted(
            (blackout.starts_minute + shift, blackout.last_minute + shift)
            for blackout in self.blackouts
            for day, shift in ((on - _DAY, -DAY_MINUTES), (on, 0), (on + _DAY, DAY_MINUTES))
            if blackout.starts_on(day)
        )
        for taken_from, taken_to in taken:
            if min(taken_from, ends) > starts:
                yield starts, min(taken_from, ends)
            starts = max(starts, taken_to)
        if ends > starts:
            yield starts, ends
