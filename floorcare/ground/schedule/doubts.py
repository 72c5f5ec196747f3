"""What a branch's plan has to leave out or cannot know, said so that somebody can mend it."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from floorcare.findings import Finding
from floorcare.ground.rules.calls import homeless_calls
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.surface import Surface
from floorcare.ground.worktime.holidays import known_years


def under_care(zone: ZoneBook, today: date) -> bool:
    """Whether a zone's care has not ended."""
    return zone.zone.ends_on is None or zone.zone.ends_on >= today


def surface_of(zone: ZoneBook, today: date) -> str:
    """The code of the surface a zone has today, of its first one before its care begins."""
    return (zone.zone.span_on(today) or zone.zone.spans[0]).surface


def keeps_holidays(book: SiteBook) -> bool:
    """Whether a site is shut on the public holidays of its country."""
    return book.site.holidays == "shut" and book.site.country != ""


def doubts_of(
    books: Sequence[SiteBook],
    surfaces: Mapping[str, Surface],
    calls: Iterable[CallReceived],
    today: date,
    last_on: date,
) -> list[Finding]:
    """All of it, for the sites of a branch over its horizon."""
    return [*unknown_holidays(books, today, last_on), *left_out(books, surfaces, calls, today)]


def left_out(
    books: Iterable[SiteBook],
    surfaces: Mapping[str, Surface],
    calls: Iterable[CallReceived],
    today: date,
) -> list[Finding]:
    """Zones whose surface nobody can read, and calls that name no zone: the rest is planned."""
    found: list[Finding] = []
    calls = tuple(calls)
    for book in books:
        site = book.site.code
        zones = [zone for zone in book.zones if under_care(zone, today)]
        mine = [call for call in calls if call.site == site]
        found += homeless_calls(mine, [zone.zone.code for zone in zones])
        found += [
            Finding(
                problem=f"{site}/{zone.zone.code} is not planned: its surface has no file that can "
                "be read",
                value=surface_of(zone, today),
                allowed=", ".join(sorted(surfaces)),
                mend="put the file right, or give the zone another surface",
                weight="asks",
            )
            for zone in zones
            if surface_of(zone, today) not in surfaces
        ]
    return found


def unknown_holidays(books: Iterable[SiteBook], today: date, last_on: date) -> list[Finding]:
    """Countries whose public holidays are not known to the end of the horizon, once each."""
    sites: dict[str, list[str]] = {}
    for book in books:
        if keeps_holidays(book):
            sites.setdefault(book.site.country, []).append(book.site.code)
    wanted = range(today.year, last_on.year + 1)
    return [
        Finding(
            problem=f"public holidays of {country} are not known for {', '.join(map(str, lacking))}"
            f", so {', '.join(codes)} are planned as if there were none",
            allowed="a year of the table",
            mend="enter those days as shut days",
            weight="asks",
        )
        for country, codes in sorted(sites.items())
        if (lacking := sorted(set(wanted) - set(known_years(country, wanted))))
    ]
