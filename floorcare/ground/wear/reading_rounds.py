"""What to read next within so many minutes.

First what was never read or not for long, then where a reading would decide whether a zone is due,
most worth a minute first, then the oldest.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from math import sqrt
from statistics import NormalDist

from floorcare.ground.wear.evidence import MEASURED_WITHIN_DAYS

ZONE_MINUTES = 7
"""A round's minutes a zone. Source: 6 to 8, common practice, no source."""
SITE_MINUTES = 5
"""A round's minutes a site besides its zones. Source: common practice, no source."""
LONGEST_UNREAD_DAYS = MEASURED_WITHIN_DAYS
"""Unread for so long, a zone comes first. Assumption: its evidence would no longer be measured."""
NEVER_READ_DAYS = 365
"""A zone never read counts as unread for so long. Assumption."""
UNREAD_SHARE = 0.5
"""Share of a round's minutes for zones unread for too long. Assumption, tried in a study."""
LEAST_CHANCE = 0.01
"""A reading decides nothing where it would move a zone past its limit less often. Assumption."""

_NORMAL = NormalDist()


class RoundReason(StrEnum):
    """Why a zone is read on a round."""

    FIRST = "first reading"
    UNREAD_LONG = "unread for too long"
    DECIDES = "a reading may decide whether it is due"
    OLDEST = "next oldest"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundCost:
    """What a reading round costs: minutes for each zone, and for each site besides."""

    zone_minutes: int = ZONE_MINUTES
    site_minutes: int = SITE_MINUTES

    def __post_init__(self) -> None:
        if self.zone_minutes < 1 or self.site_minutes < 0:
            raise ValueError(
                f"{self.zone_minutes} minutes a zone and {self.site_minutes} a site: allowed 1 and"
                " more, 0 and more"
            )

    def minutes(self, zones: Iterable["ZoneToRead"]) -> int:
        """Minutes of a round of these zones, each site counted once."""
        sites = [zone.site for zone in zones]
        return self.zone_minutes * len(sites) + self.site_minutes * len(set(sites))


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneToRead:
    """A zone that may be read.

    site, zone : codes.
    age_days : days since its last believed round, None where it was never read.
    margin_ln : mean of ln gloss less ln promise; None without promise or readings.
    sd_ln : sd of that gloss in ln, None likewise.
    reading_sd_ln : error of one round of its stations in ln, above 0.
    confidence : q of its promise, 0.5 to 0.99.
    """

    site: str
    zone: str
    age_days: int | None
    margin_ln: float | None = None
    sd_ln: float | None = None
    reading_sd_ln: float = 0.03
    confidence: float = 0.75

    def __post_init__(self) -> None:
        if self.age_days is not None and self.age_days < 0:
            raise ValueError(f"read {-self.age_days} days after the round: allowed 0 days and more")
        if self.reading_sd_ln <= 0 or (self.sd_ln is not None and self.sd_ln < 0):
            raise ValueError("a reading's error must be above 0, the gloss's not below")
        if not 0.5 <= self.confidence <= 0.99:
            raise ValueError(f"confidence {self.confidence:g}: allowed 0.5 to 0.99")


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneChosen:
    """A zone of a round, and why it is in it."""

    zone: ZoneToRead
    reason: RoundReason


def age_worth(zone: ZoneToRead) -> float:
    """Days since a zone was read.

    Assumption: a zone never read counts as unread for a year.
    """
    return float(NEVER_READ_DAYS if zone.age_days is None else zone.age_days)


def reading_worth(zone: ZoneToRead) -> float:
    """How far past its limit a reading is expected to move a zone's gloss, in ln.

    The zone is due where the margin lies below z_q·sd. A reading of error r moves the margin by a
    normal step of sd t = sd²/√(sd² + r²); with d the way to the limit in t, the worth is
    t·(φ(d) − d·Φ(−d)). Zero where the step passes the limit too seldom, or nothing is known.

    Source: the expected gain of a normal observation (Raiffa & Schlaifer 1961, ch. 5); the limit
    is taken as it lies before the reading.
    Assumption: passing less often than in one of a hundred cases decides nothing.
    """
    if zone.margin_ln is None or not zone.sd_ln:
        return 0.0
    step = zone.sd_ln**2 / sqrt(zone.sd_ln**2 + zone.reading_sd_ln**2)
    if step <= 0:  # an sd so small that its square vanishes
        return 0.0
    limit = _NORMAL.inv_cdf(zone.confidence) * zone.sd_ln
    far = abs(zone.margin_ln - limit) / step
    passes = _NORMAL.cdf(-far)
    return step * (_NORMAL.pdf(far) - far * passes) if passes >= LEAST_CHANCE else 0.0


@dataclass(slots=True)
class _Round:
    """A round being filled: what is left of its minutes and where it goes already."""

    cost: RoundCost
    left: int
    sites: set[str] = field(default_factory=set)
    chosen: list[ZoneChosen] = field(default_factory=list)

    def price(self, site: str, zones: int) -> int:
        """Minutes of so many more zones at a site."""
        there = 0 if site in self.sites else self.cost.site_minutes
        return there + zones * self.cost.zone_minutes

    def take(self, zones: Sequence[ZoneToRead], reason: RoundReason) -> None:
        """Take zones of one site in."""
        self.left -= self.price(zones[0].site, len(zones))
        self.sites.add(zones[0].site)
        for zone in zones:
            why = RoundReason.FIRST if zone.age_days is None else reason
            self.chosen.append(ZoneChosen(zone=zone, reason=why))


def choose_round(
    zones: Iterable[ZoneToRead],
    *,
    budget_minutes: int,
    cost: RoundCost | None = None,
    longest_unread_days: int = LONGEST_UNREAD_DAYS,
    unread_share: float = UNREAD_SHARE,
    worth: Callable[[ZoneToRead], float] = reading_worth,
) -> tuple[ZoneChosen, ...]:
    """The zones to read within a budget, in the order they were chosen.

    Zones never read or not for too long have up to a share of the minutes; then those whose reading
    is worth something; then the oldest of what is left. Each time it is the zones of one site that
    are worth most a minute, the site's own minutes shared among them; ties go by code.

    Parameters
    ----------
    budget_minutes : for the whole round, travel between sites not counted.
    cost : None for the usual minutes a zone and a site.
    longest_unread_days : from so many days a zone is unread for too long.
    unread_share : share of the minutes kept for such zones, 0 to 1; at least one of them is read.
    worth : of one reading, 0 for none.

    Raises
    ------
    ValueError : a zone is given twice.

    Assumption: greedy; a fuller round may exist where a zone just fails to fit.
    """
    waiting = tuple(zones)
    if len({(zone.site, zone.zone) for zone in waiting}) < len(waiting):
        raise ValueError("a zone is given twice; allowed once each")
    cost = cost or RoundCost()
    reading = _Round(cost, budget_minutes)
    unread = [z for z in waiting if z.age_days is None or z.age_days >= longest_unread_days]
    one = cost.zone_minutes + cost.site_minutes
    kept = budget_minutes - max(int(unread_share * budget_minutes), one)
    _fill(reading, unread, age_worth, RoundReason.UNREAD_LONG, kept=max(0, kept))
    _fill(reading, waiting, worth, RoundReason.DECIDES)
    _fill(reading, unread, age_worth, RoundReason.UNREAD_LONG)
    _fill(reading, waiting, age_worth, RoundReason.OLDEST)
    return tuple(reading.chosen)


def _fill(
    reading: _Round,
    zones: Iterable[ZoneToRead],
    worth: Callable[[ZoneToRead], float],
    reason: RoundReason,
    kept: int = 0,
) -> None:
    """Take in, again and again, the zones of one site worth most a minute; leave `kept` minutes."""
    taken = {(chosen.zone.site, chosen.zone.zone) for chosen in reading.chosen}
    ranked = sorted(
        ((worth(z), z) for z in zones if (z.site, z.zone) not in taken),
        key=lambda pair: (-pair[0], pair[1].site, pair[1].zone),
    )
    by_site: dict[str, list[tuple[float, ZoneToRead]]] = {}
    for value, zone in ranked:
        if value > 0:
            by_site.setdefault(zone.site, []).append((value, zone))
    while True:
        best: tuple[float, str, int] | None = None
        for site in sorted(by_site):
            total = 0.0
            for count, (value, _) in enumerate(by_site[site], start=1):
                price, total = reading.price(site, count), total + value
                if price <= reading.left - kept and (best is None or total / price > best[0]):
                    best = total / price, site, count
        if best is None:
            return
        _, site, count = best
        reading.take([zone for _, zone in by_site[site][:count]], reason)
        by_site[site] = by_site[site][count:]
