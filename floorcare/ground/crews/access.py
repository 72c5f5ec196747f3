"""When a site lets a visit in: the access of its night, in instants."""

from dataclasses import dataclass
from datetime import date, datetime

from floorcare.ground.trade.site import Site
from floorcare.ground.trade.visit import Visit, needs_of
from floorcare.ground.worktime.holidays import known_years, public_holidays
from floorcare.ground.worktime.night import instant
from floorcare.ground.worktime.site_time import SiteTime


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """One stretch in which a visit may be on site, UTC, and whether a fuel machine may run."""

    opens_at: datetime
    closes_at: datetime
    fuel: bool


def access_of(visit: Visit, site: Site) -> tuple[Access, ...]:
    """The stretches of the visit's night that permit its work, in order."""
    needs = needs_of(visit.lines)
    return tuple(
        Access(
            opens_at=instant(night.on, night.starts_minute, site.time_zone),
            closes_at=instant(night.on, night.ends_minute, site.time_zone),
            fuel="fuel machine" in night.permits,
        )
        for night in _time(site, visit.night).nights(visit.night, visit.night)
        if needs <= night.permits
    )


def why_no_access(visit: Visit, site: Site) -> str:
    """Why the visit's night has no such stretch."""
    closed = _time(site, visit.night).why_closed(visit.night)
    if closed:
        return closed
    return f"no access that permits {', '.join(sorted(needs_of(visit.lines)))} work"


def _time(site: Site, on: date) -> SiteTime:
    keeps = site.country and site.holidays == "shut"
    years = known_years(site.country, (on.year, on.year + 1)) if keeps else ()
    return SiteTime(
        zone=site.time_zone,
        windows=site.windows,
        shut=site.shut_days,
        holidays=public_holidays(site.country, site.region, years) if keeps else {},
    )
