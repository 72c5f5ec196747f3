"""Access windows: the weekdays and hours in which a site may be worked, and what they permit."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.ground.worktime.night import DAY_MINUTES

WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
EVERY_DAY = frozenset(range(7))
PERMITS = ("loud", "wet", "dust", "fuel machine")


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessWindow:
    """When a site may be worked, week by week. A window belongs to the date it starts.

    weekdays : days it starts on, Monday 0 to Sunday 6.
    starts_minute : 0 to 1439.
    ends_minute : 0 to 1440; at or before the start it is the next day's clock.
    permits : what may be done, out of `PERMITS`.
    from_on, to_on : first and last date it starts on, None for no end.
    """

    weekdays: frozenset[int]
    starts_minute: int
    ends_minute: int
    permits: frozenset[str] = frozenset()
    from_on: date | None = None
    to_on: date | None = None

    def __post_init__(self) -> None:
        if not self.weekdays or not self.weekdays <= EVERY_DAY:
            raise ValueError(f"weekdays {sorted(self.weekdays)}: allowed one or more of 0 to 6")
        if not 0 <= self.starts_minute < DAY_MINUTES:
            raise ValueError(f"starts at minute {self.starts_minute}: allowed 0 to 1439")
        if not 0 <= self.ends_minute <= DAY_MINUTES:
            raise ValueError(f"ends at minute {self.ends_minute}: allowed 0 to 1440")
        unknown = sorted(self.permits.difference(PERMITS))
        if unknown:
            raise ValueError(f"permits {', '.join(unknown)}: allowed {', '.join(PERMITS)}")
        if self.from_on and self.to_on and self.to_on < self.from_on:
            raise ValueError(f"ends {self.to_on} before it starts {self.from_on}")

    @property
    def minutes(self) -> int:
        """Nominal length in minutes, 1 to 1440; the same clock twice is a whole day."""
        return self.last_minute - self.starts_minute

    @property
    def last_minute(self) -> int:
        """The end counted from the midnight of the start date; above 1440 the next morning."""
        crosses = self.ends_minute <= self.starts_minute
        return self.ends_minute + DAY_MINUTES if crosses else self.ends_minute

    def starts_on(self, on: date) -> bool:
        """Whether the window starts on a date.

        Assumption: a night belongs to the date it starts, as crews write it.
        """
        return (
            on.weekday() in self.weekdays
            and (self.from_on is None or self.from_on <= on)
            and (self.to_on is None or on <= self.to_on)
        )


def week_of(day: date) -> date:
    """The Monday of a day's week.

    >>> week_of(date(2026, 3, 8)).isoformat()
    '2026-03-02'

    Source: ISO 8601, a week begins on its Monday.
    """
    return day - timedelta(days=day.weekday())


def parse_weekdays(text: str) -> frozenset[int]:
    """Weekdays (Monday 0) from words: "Mo-Fr", "Sa,Su", "MO TU", "Tuesday", "daily".

    >>> sorted(parse_weekdays("Fr-Mo"))
    [0, 4, 5, 6]

    Raises
    ------
    ValueError : a word that is no weekday.

    Source: two-letter names of RFC 5545 (MO to SU), longer English names likewise.
    """
    words = text.strip().replace("–", "-")
    if words.casefold() in ("daily", "every day"):
        return EVERY_DAY
    found: set[int] = set()
    for part in re.split(r"[,;/\s]+", re.sub(r"\s*-\s*", "-", words).strip(",;/ ")):
        first, dash, last = part.partition("-")
        start = _weekday(first, text)
        end = _weekday(last, text) if dash else start
        found.update((start + step) % 7 for step in range((end - start) % 7 + 1))
    return frozenset(found)


def _weekday(word: str, text: str) -> int:
    name = word.casefold().removesuffix("s")
    for day, full in enumerate(WEEKDAY_NAMES):
        if len(name) >= 2 and full.casefold().startswith(name):
            return day
    raise ValueError(f'"{text[:40]}" names no weekdays; write such as "Mo-Fr", "Sa,Su" or "daily"')


def weekdays_text(weekdays: Iterable[int]) -> str:
    """Weekdays in short words, runs of three and more joined.

    >>> weekdays_text({0, 1, 2, 3, 4}), weekdays_text({5, 6}), weekdays_text(range(7))
    ('Mo-Fr', 'Sa,Su', 'daily')

    Source: two-letter names of RFC 5545.
    """
    days = sorted(set(weekdays))
    if len(days) == 7:
        return "daily"
    runs: list[list[int]] = []
    for day in days:
        if runs and day == runs[-1][-1] + 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    names = [[WEEKDAY_NAMES[day][:2] for day in run] for run in runs]
    return ",".join(f"{r[0]}-{r[-1]}" if len(r) > 2 else ",".join(r) for r in names)
