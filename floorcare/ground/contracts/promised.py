"""The zones a contract makes promises about, and how those promises stand today."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from floorcare.ground.rules.slip import slip_unknown
from floorcare.ground.rules.wear_dues import READ_STATIONS
from floorcare.ground.schedule.branch_year import survey_branch
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.schedule.years import year_of
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.promise import PromiseKind, PromiseLine, promised_gloss
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.books.meters import NO_METERS, Meters
from floorcare.ground.wear.pooled import Pooled

ZoneKey = tuple[str, str]
"""(site code, zone code)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PromisedZone:
    """A zone with the lines one contract promises about it in one term."""

    book: SiteBook
    zone: ZoneBook
    lines: tuple[PromiseLine, ...]

    @property
    def key(self) -> ZoneKey:
        """(site code, zone code)."""
        return self.book.site.code, self.zone.zone.code

    @property
    def spoken(self) -> str:
        """How contract and customer speak of it."""
        return self.book.spoken(self.zone.zone)

    def appearance(self, day: date) -> PromiseLine | None:
        """This contract's promise of the look in force on that day; the latest term wins."""
        found = None
        for line in self.lines:
            if line.kind is PromiseKind.APPEARANCE and line.starts_on <= day <= line.ends_on:
                found = line
        return found

    def surface(self, surfaces: Mapping[str, Surface], day: date) -> Surface:
        """What the zone is made of on that day, else as it last was."""
        return surfaces[self.zone.zone.span_about(day).surface]


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseStanding:
    """How a term's promises stand today, in zones.

    below : today's estimate lies below the promised gloss.
    guarded : slip holds back every gloss treatment.
    slip_unknown : slip is promised and was never tested by a method that counts: neither kept nor
        broken.
    evidence : (evidence class, zones) of those with a promised look.
    """

    below: int
    guarded: int
    evidence: tuple[tuple[str, int], ...]
    slip_unknown: int = 0


def promised_zones(
    books: Iterable[SiteBook], contract: str, first: date, last: date
) -> tuple[PromisedZone, ...]:
    """The zones with a line of that contract which holds on any day from first to last.

    Source: arithmetic; terms are days both included.
    """
    found = []
    for book in books:
        for zone in book.zones:
            lines = tuple(
                line
                for line in zone.promises
                if line.contract == contract and line.starts_on <= last and line.ends_on >= first
            )
            if lines:
                found.append(PromisedZone(book=book, zone=zone, lines=lines))
    return tuple(found)


def promised_spans(books: Iterable[SiteBook]) -> dict[str, tuple[date, date]]:
    """Every contract code that promise lines name, with their first and last day, by code.

    Source: arithmetic over the lines.
    """
    spans: dict[str, tuple[date, date]] = {}
    for book in books:
        for zone in book.zones:
            for line in zone.promises:
                first, last = spans.get(line.contract, (line.starts_on, line.ends_on))
                spans[line.contract] = (min(first, line.starts_on), max(last, line.ends_on))
    return dict(sorted(spans.items()))


def promised_gu(line: PromiseLine, surface: Surface) -> float | None:
    """The gloss a line promises on that surface, None where it names no reference.

    Source: as the rules reckon it, ground/trade/promise.
    """
    return promised_gloss(line, reading_error(surface.law, READ_STATIONS))


def conditions(
    branches: Iterable[Branch],
    books: Sequence[SiteBook],
    visits: Sequence[Visit],
    surfaces: Mapping[str, Surface],
    pooled: Mapping[str, Pooled],
    today: date,
    meters: Meters = NO_METERS,
) -> dict[ZoneKey, ZoneOutlook]:
    """Every zone's condition today under what stands.

    Parameters
    ----------
    books : of the sites asked about; a zone's condition does not depend on the other sites.
    visits : of these sites.
    surfaces, pooled : by the surface's code.
    meters : the meters readings name, and the bridges between them.

    Source: the estimate and forecast of ground/schedule/branch_year.
    """
    found: dict[ZoneKey, ZoneOutlook] = {}
    for branch in branches:
        year = year_of(
            branch,
            books=books,
            visits=visits,
            surfaces=surfaces,
            pooled=pooled,
            meters=meters,
            today=today,
        )
        found.update({(o.site, o.zone): o for o in survey_branch(year)})
    return found


def below_promise(
    zone: PromisedZone, outlook: ZoneOutlook, surfaces: Mapping[str, Surface], today: date
) -> bool:
    """Whether today's estimate lies below what this contract promises today.

    Source: comparison only; the estimate is of the state the promise refers to.
    """
    line = zone.appearance(today)
    promised = promised_gu(line, zone.surface(surfaces, today)) if line else None
    return promised is not None and outlook.gloss_gu is not None and outlook.gloss_gu < promised


def promise_standing(
    zones: Iterable[PromisedZone],
    outlooks: Mapping[ZoneKey, ZoneOutlook],
    surfaces: Mapping[str, Surface],
    today: date,
) -> PromiseStanding:
    """How the promises on these zones stand today.

    Source: counts of the zones' conditions.
    """
    below = guarded = unknown = 0
    evidence: Counter[str] = Counter()
    for zone in zones:
        outlook = outlooks.get(zone.key)
        if outlook is None:
            continue  # its care has ended, or has not begun
        guarded += outlook.guarded
        promised = any(line.kind is PromiseKind.SLIP for line in zone.lines)
        unknown += promised and slip_unknown(zone.zone, today)
        if zone.appearance(today) is not None:
            evidence[outlook.evidence.value] += 1
            below += below_promise(zone, outlook, surfaces, today)
    return PromiseStanding(
        below=below,
        guarded=guarded,
        evidence=tuple(sorted(evidence.items())),
        slip_unknown=unknown,
    )
