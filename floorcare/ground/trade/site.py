"""Customers, branches, sites and areas: whose floors, where, and when they may be worked."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow

RESERVE_SHARE = 0.12
"""Share of a branch's week kept free for calls. Assumption, editable per branch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Customer:
    """Who the floors belong to."""

    code: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """An operating base of the contractor.

    crews, crew_size : how many crews go out on one night, and how many people are in each.
    shift_minutes : paid minutes of one person's night, travel included.
    weekdays : nights on which crews go out, Monday 0.
    reserve_share : share of the capacity kept for calls, 0..0.9.
    units : what people at this branch read, "metric" or "US".
    currency : ISO 4217 code of its prices.
    """

    code: str
    name: str
    time_zone: str
    country: str = ""
    region: str = ""
    latitude: float | None = None
    longitude: float | None = None
    crews: int = 1
    crew_size: int = 2
    shift_minutes: int = 480
    weekdays: frozenset[int] = frozenset({0, 1, 2, 3, 4})
    reserve_share: float = RESERVE_SHARE
    units: Literal["metric", "US"] = "metric"
    currency: str = "USD"

    def __post_init__(self) -> None:
        if not 0 <= self.crews <= 500:
            raise ValueError(f"{self.crews} crews: allowed 0 to 500")
        if not 1 <= self.crew_size <= 50:
            raise ValueError(f"crew of {self.crew_size}: allowed 1 to 50")
        if not 30 <= self.shift_minutes <= 960:
            raise ValueError(f"shift of {self.shift_minutes} minutes: allowed 30 to 960")
        if not 0 <= self.reserve_share <= 0.9:
            raise ValueError(f"reserve share {self.reserve_share:g}: allowed 0 to 0.9")


@dataclass(frozen=True, slots=True, kw_only=True)
class TravelLeg:
    """The drive from one place to another, as somebody measured it; it outranks the map.

    leaves, reaches : codes of sites, "" for the branch itself.
    km : length of the road, None where only the minutes are known.
    """

    branch: str
    leaves: str
    reaches: str
    minutes: int
    km: float | None = None

    def __post_init__(self) -> None:
        if self.leaves == self.reaches:
            raise ValueError("a drive leads from one place to another")
        if self.minutes < 0:
            raise ValueError(f"{self.minutes} minutes of drive: allowed 0 or more")
        if self.km is not None and not self.km >= 0:
            raise ValueError(f"{self.km:g} km of drive: allowed 0 or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchSpan:
    """The branch that serves a site from one day to another (to_on None: still)."""

    branch: str
    from_on: date
    to_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A building or part of one under care.

    time_zone : IANA name; every planned night is a date of this zone.
    country, region : ISO 3166 codes for public holidays; "" for none.
    holidays : whether a public holiday's night is shut or may be worked.
    notice_days : days the customer is told ahead.
    windows, shut_days : when work may be done, and when the site is shut to us.
    branches : which branch serves it, over time.
    """

    code: str
    customer: str
    name: str
    time_zone: str
    branches: tuple[BranchSpan, ...]
    address: str = ""
    country: str = ""
    region: str = ""
    latitude: float | None = None
    longitude: float | None = None
    holidays: Literal["shut", "worked"] = "shut"
    notice_days: int = 7
    access_note: str = ""
    windows: tuple[AccessWindow, ...] = ()
    shut_days: tuple[ShutDay, ...] = ()

    def branch_on(self, day: date) -> str:
        """Code of the branch serving the site on that day, "" if none does."""
        for span in self.branches:
            if span.from_on <= day and (span.to_on is None or day <= span.to_on):
                return span.branch
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """What contract and customer name, e.g. "Hall B"; holds zones."""

    code: str
    name: str
