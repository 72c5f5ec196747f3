"""Learn from every reading what the zones of each surface have in common, for plans to read."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from math import exp

import numpy as np

from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.surface import Surface
from floorcare.ground.wear.books.site_year import with_site_year
from floorcare.ground.wear.fleet import fleet_columns
from floorcare.ground.wear.learn import learn
from floorcare.ground.wear.model import Whole
from floorcare.ground.wear.pooled import CLASSES, LEVELS, Noise, Pooled, PriorVersion
from floorcare.store.open import Store

SAME = 1e-9
"""Pooled values that differ by no more are the same."""

NINE_IN_TEN_SD = 1.645
"""Nine in ten zones lie so many sd to either side of their class's mean. Source: normal law."""

Tell = Callable[[int, int], None]


def silent(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassLearned:
    """Zones of one traffic level and source of footfall.

    zones_there, zones_read : zones of the class; those with readings behind what was learned.
    haze_times, wear_times : how many times as fast as the surface's own rates a zone of the class
        gains haze, and loses film and finish; low and high hold nine in ten of its zones.
    hidden : recent readings that were hidden and forecast.
    inside : share of them inside the 90 % band as the model gave it, None where none was hidden.
    band_scale : factor that makes the bands honest.
    """

    traffic: str
    counted: bool
    zones_there: int
    zones_read: int
    haze_times: float
    haze_low: float
    haze_high: float
    wear_times: float
    wear_low: float
    wear_high: float
    hidden: int
    inside: float | None
    band_scale: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoiseLearned:
    """One of a surface's errors or walks, in ln gloss: as learned, and as its file has it."""

    name: str
    learned: float
    own: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceLearned:
    """What the zones of one surface taught; a row for each class, also those without a zone."""

    surface: str
    name: str
    zones: int
    classes: tuple[ClassLearned, ...]
    noise: tuple[NoiseLearned, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WearLearned:
    """What learning came to.

    written : False for a dry run, and where nothing was learned that was not known.
    same : the values are those of the version that stood.
    number, learned_on : of the version plans read from now on; in a dry run of the one this would
        have become; None where there is no zone to learn from.
    before : number of the version that stood, None for none.
    """

    written: bool
    same: bool
    number: int | None
    learned_on: date | None
    before: int | None
    surfaces: tuple[SurfaceLearned, ...]


def learn_wear(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    now: datetime,
    who: str,
    dry_run: bool = False,
    tell: Tell = silent,
) -> WearLearned:
    """Pool every branch's zones by surface and keep what they teach as the next version.

    Parameters
    ----------
    surfaces : by code.
    today : last day of the readings learned from.
    now : the UTC instant it is written at.
    dry_run : learn and account, write nothing.
    tell : told (done, total) surfaces.
    """
    with store.work() as work:
        books, before, meters = work.books(), work.prior_version(), work.meters()
    pooled: dict[str, Pooled] = {}
    told: list[SurfaceLearned] = []
    fleets = _by_surface(books, today)
    for done, (code, zones) in enumerate(fleets.items()):
        tell(done, len(fleets))
        surface = surfaces[code]
        laid = fleet_columns(zones, surface, today, meters=meters)
        pooled[code] = learn(laid.columns, surface.law, laid.zone_class)
        told.append(_surface_told(surface, pooled[code], laid.zone_class))
    tell(len(fleets), len(fleets))
    same = before is not None and _same(pooled, before.surfaces)
    write = bool(pooled) and not same and not dry_run
    if write:
        with store.work(writes=True) as work:
            made = work.add_prior_version(pooled, learned_on=today, who=who, now=now)
            work.commit()
        number = made.number
    else:
        number = _number(before, same)
    learned_on = before.learned_on if before is not None and same else today
    return WearLearned(
        written=write,
        same=same,
        number=number if pooled else None,
        learned_on=learned_on if pooled else None,
        before=before.number if before is not None else None,
        surfaces=tuple(told),
    )


def _number(before: PriorVersion | None, same: bool) -> int:
    """The number of the version that stands, or of the one that would be next."""
    if before is None:
        return 1
    return before.number if same else before.number + 1


def _by_surface(books: Iterable[SiteBook], today: date) -> dict[str, list[tuple[str, ZoneBook]]]:
    """(site code, book) of every zone ever under care, by what it is made of today."""
    found: dict[str, list[tuple[str, ZoneBook]]] = {}
    for book in books:
        for zone in with_site_year(book, today).zones:
            code = zone.zone.span_about(today).surface
            found.setdefault(code, []).append((book.site.code, replace(zone, seasons=book.seasons)))
    return dict(sorted(found.items()))


def _same(one: Mapping[str, Pooled], other: Mapping[str, Pooled]) -> bool:
    return one.keys() == other.keys() and all(_same_values(one[code], other[code]) for code in one)


def _same_values(one: Pooled, other: Pooled) -> bool:
    columns = (c.name for c in fields(Pooled) if c.name != "noise")
    return all(
        np.allclose(getattr(one, c), getattr(other, c), rtol=0.0, atol=SAME, equal_nan=True)
        for c in columns
    ) and all(
        abs(getattr(one.noise, name) - getattr(other.noise, name)) <= SAME
        for name in Noise.__slots__
    )


def _surface_told(surface: Surface, pooled: Pooled, zone_class: Whole) -> SurfaceLearned:
    there = np.bincount(zone_class, minlength=CLASSES)
    return SurfaceLearned(
        surface=surface.code,
        name=surface.name,
        zones=int(zone_class.size),
        classes=tuple(_class_told(pooled, c, int(there[c])) for c in range(CLASSES)),
        noise=tuple(
            NoiseLearned(
                name=name,
                learned=float(getattr(pooled.noise, name)),
                own=float(getattr(surface.law, name)),
            )
            for name in Noise.__slots__
        ),
    )


def _class_told(pooled: Pooled, c: int, there: int) -> ClassLearned:
    haze, haze_sd = float(pooled.mean_haze[c]), float(pooled.sd_haze[c])
    rest, rest_sd = float(pooled.mean_rest[c]), float(pooled.sd_rest[c])
    inside = float(pooled.inside[c])
    return ClassLearned(
        traffic=LEVELS[c // 2].value,
        counted=c % 2 == 1,
        zones_there=there,
        zones_read=int(pooled.zones[c]),
        haze_times=exp(haze),
        haze_low=exp(haze - NINE_IN_TEN_SD * haze_sd),
        haze_high=exp(haze + NINE_IN_TEN_SD * haze_sd),
        wear_times=exp(rest),
        wear_low=exp(rest - NINE_IN_TEN_SD * rest_sd),
        wear_high=exp(rest + NINE_IN_TEN_SD * rest_sd),
        hidden=int(pooled.hidden[c]),
        inside=None if np.isnan(inside) else inside,
        band_scale=float(pooled.band_scale[c]),
    )
