"""Work drawn to the counter-nights a customer offered for it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, Stub, clock_minutes
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import VisitLine
from floorcare.ground.worktime.site_time import Night


def on_offered_nights(
    stubs: Sequence[Stub],
    site: SiteNights,
    surfaces: Mapping[str, Surface],
    beside: Sequence[Stub] = (),
) -> tuple[Stub, ...]:
    """The visits with work drawn to its counter-nights: whole, joined to another, or by itself.

    Parameters
    ----------
    stubs : the site's visits in the making.
    surfaces : the surface of each zone code.
    beside : visits of the site that stay as they stand; their nights are taken.

    A counter-night counts where it lies in the work's window, or, where the work is late already,
    no later than late work is placed. Work that was begun on another night or would pass other work
    of its zone stays where it is.
    """
    if not site.answers.offered:
        return tuple(stubs)
    found = list(stubs)
    for stub in stubs:
        wishing = [line for line in stub.lines if _may_wish(line, stub, site)]
        zones = {line.zone for line in wishing}
        lines = tuple(line for line in stub.lines if line.zone in zones)
        for night in _candidates(wishing, stub, site):
            drawn = _drawn(stub, lines, night, [*found, *beside], site, surfaces)
            if drawn is not None:
                gone, made = drawn
                found = [one for one in found if one not in gone] + made
                break
    return tuple(sorted(found, key=lambda s: (s.night.on, s.night.starts_minute)))


def _may_wish(line: VisitLine, stub: Stub, site: SiteNights) -> bool:
    whole = line.minutes == line.due.minutes
    met = site.answers.wishes(stub.night.on, line)
    return whole and not met and any(site.answers.wishes(n.on, line) for n in site.nights)


def _candidates(wishing: Sequence[VisitLine], stub: Stub, site: SiteNights) -> list[Night]:
    """The counter-nights of these lines, those inside every window first, then the earliest."""
    if not wishing:
        return []
    earliest = max(line.due.earliest for line in wishing)
    latest = min(line.due.latest for line in wishing)
    last = latest if stub.night.on <= latest else latest + timedelta(days=LATE_DAYS)
    nights = [
        night
        for night in site.nights
        if earliest <= night.on <= last and all(site.answers.wishes(night.on, p) for p in wishing)
    ]
    return sorted(nights, key=lambda n: (n.on > latest, n.on, -n.minutes))


def _drawn(
    stub: Stub,
    lines: tuple[VisitLine, ...],
    night: Night,
    others: Sequence[Stub],
    site: SiteNights,
    surfaces: Mapping[str, Surface],
) -> tuple[list[Stub], list[Stub]] | None:
    """(visits that go, visits that come) where the lines can be done that night."""
    rest = [one for one in others if one is not stub]
    if any(_passes(one, lines, stub.night.on, night.on) for one in rest):
        return None
    there = next((one for one in rest if one.night.on == night.on), None)
    if there is not None:
        # only a visit in the making may take more on; one that stands is somebody's word
        joined = None if there.earliest == there.latest else (*there.lines, *lines)
        made = joined and _made(there, joined, there.night, site, surfaces)
        gone = [stub, there]
    else:
        whole = len(lines) == len(stub.lines) or stub.earliest <= night.on <= stub.latest
        lines = stub.lines if whole else lines
        made = _made(stub, lines, night, site, surfaces)
        gone = [stub]
    if not made:
        return None
    left = tuple(line for line in stub.lines if line not in lines)
    stays = _made(stub, left, stub.night, site, surfaces) if left else None
    return gone, [made, *([stays] if stays else [])]


def _passes(other: Stub, lines: Sequence[VisitLine], before: date, after: date) -> bool:
    """Whether the lines would change places with other work on their zones."""
    zones = {line.zone for line in lines}
    between = min(before, after) <= other.night.on <= max(before, after)
    return between and any(line.zone in zones for line in other.lines)


def _made(
    stub: Stub,
    lines: tuple[VisitLine, ...],
    night: Night,
    site: SiteNights,
    surfaces: Mapping[str, Surface],
) -> Stub | None:
    """The visit with these lines on a night, None where they do not fit there."""
    marked = tuple(
        replace(line, due=replace(line.due, recheck=night.on > line.due.latest)) for line in lines
    )
    earliest = max(line.due.earliest for line in lines)
    latest = min(line.due.latest for line in lines)
    inside = earliest <= night.on <= latest
    made = replace(
        stub,
        night=night,
        lines=marked,
        earliest=earliest if inside else night.on,
        latest=latest if inside else night.on,
        minutes=clock_minutes(marked, site.people, surfaces),
    )
    fits = made.needs <= night.permits and made.minutes <= site.room(night)
    return made if fits and site.answers.takes(night.on, marked) else None
