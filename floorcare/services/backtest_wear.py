"""Forecast the readings of the last months from what was known before them, and hold them against
what was read."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.reading import RoundValue, SurfaceState
from floorcare.ground.trade.surface import Surface
from floorcare.ground.wear.books.from_books import thousand_passes, treatment_masks
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.books.meters import Meters
from floorcare.ground.wear.books.site_year import site_year
from floorcare.ground.wear.fleet import Fleet, fit_fleet, fleet_columns, unrecorded_burnishes
from floorcare.ground.wear.forecast import LEVELS, Plan, bands
from floorcare.ground.wear.learn import learn
from floorcare.ground.wear.model import Flags, Floats
from floorcare.ground.wear.trial.backtest import (
    FARTHEST_DAYS,
    HORIZONS,
    NEAR_DAYS,
    HeldAgainst,
    Score,
    by_horizon,
    joined,
    origins,
    reading_bands,
    score,
)
from floorcare.ground.wear.trial.known_then import book_then
from floorcare.ground.wear.trial.rivals import RIVALS, LooksAhead, rival_forecasts
from floorcare.store.open import Store

Key = tuple[str, str]
Tell = Callable[[int, int], None]


def silent(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastHeld:
    """One reading forecast from one origin, beside its rivals; GU.

    zone : SITE/ZONE.
    lows, highs : bands of 50, 80 and 90 %, the reading's own error in them.
    rivals : in the order of `RIVALS`.
    """

    surface: str
    zone: str
    traffic: str
    counted: bool
    evidence: str
    origin: date
    read_on: date
    days_ahead: int
    state: str
    stations: int
    read_gu: float
    forecast_gu: float
    lows: tuple[float, ...]
    highs: tuple[float, ...]
    rivals: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupScore:
    """The score of forecasts that have something in common.

    kind : "surface", "class" (traffic and footfall) or "evidence"; "" for all.
    whole : up to 90 days ahead; horizons : each group of days, beyond 90 as well.
    """

    kind: str
    name: str
    whole: Score
    horizons: tuple[Score, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Backtest:
    """How far off the forecast was on one's own history, and whether its bands were honest.

    days_ahead : the groups of days the horizons are.
    origins : days that were forecast from.
    without : hidden readings of zones that had none before any origin near enough, not forecast.
    """

    today: date
    months: int
    origins: tuple[date, ...]
    levels: tuple[float, ...]
    rivals: tuple[str, ...]
    days_ahead: tuple[tuple[int, int], ...]
    whole: GroupScore
    groups: tuple[GroupScore, ...]
    without: int
    forecasts: tuple[ForecastHeld, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hidden:
    """Readings by zone, oldest first, with a number each; `asked` are the zones that count."""

    books: Mapping[Key, ZoneBook]
    meters: Meters
    rounds: Mapping[Key, tuple[tuple[int, RoundValue], ...]]
    asked: frozenset[Key]


def backtest_wear(
    store: Store,
    surfaces: Mapping[str, Surface],
    *,
    today: date,
    months: int = 12,
    surface: str = "",
    sites: Sequence[str] = (),
    tell: Tell = silent,
) -> Backtest:
    """Forecast every reading of the last months from origins every thirty days before it.

    Parameters
    ----------
    surfaces : by code.
    today : last day of the readings held against.
    months : how far back the origins go.
    surface : only zones of this one.
    sites : only zones of these; their fleets are all zones still.
    tell : told (done, total) origins.

    Raises
    ------
    NotKnown : there is no such surface or site.
    """
    if surface and surface not in surfaces:
        raise NotKnown(f'There is no surface "{surface}"; there are {", ".join(sorted(surfaces))}.')
    with store.work() as work:
        books, meters = work.books(), work.meters()
    hidden = _hidden(books, meters, surfaces, today, sites)
    days = origins(today, months)
    parts: list[HeldAgainst] = []
    told: list[ForecastHeld] = []
    for done, origin in enumerate(days):
        tell(done, len(days))
        for code, zones in _then(hidden, origin).items():
            if surface in ("", code):
                part, rows = _from_origin(hidden, zones, surfaces[code], origin, today)
                parts.append(part)
                told.extend(rows)
    tell(len(days), len(days))
    return _answer(hidden, joined(parts), told, today, months, days, surface)


def _hidden(
    books: Iterable[SiteBook],
    meters: Meters,
    surfaces: Mapping[str, Surface],
    today: date,
    sites: Sequence[str],
) -> _Hidden:
    of_sites = {book.site.code: book for book in books}
    for code in sites:
        if code not in of_sites:
            there = ", ".join(sorted(of_sites)) or "none"
            raise NotKnown(f'There is no site "{code}"; there are {there}.')
    by_surface: dict[str, list[tuple[str, ZoneBook]]] = defaultdict(list)
    for site, book in of_sites.items():
        for zone in book.zones:
            if zone.zone.starts_on <= today:
                code = zone.zone.span_about(today).surface
                by_surface[code].append((site, replace(zone, seasons=book.seasons)))
    rounds: dict[Key, tuple[tuple[int, RoundValue], ...]] = {}
    known: dict[Key, ZoneBook] = {}
    number = 0
    for code, zones in sorted(by_surface.items()):
        believed = fleet_columns(zones, surfaces[code], today, meters=meters).rounds
        for (site, zone), of_zone in zip(zones, believed, strict=True):
            key = (site, zone.zone.code)
            known[key] = zone
            rounds[key] = tuple(enumerate(of_zone, start=number))
            number += len(of_zone)
    asked = frozenset(key for key in known if not sites or key[0] in sites)
    return _Hidden(books=known, meters=meters, rounds=rounds, asked=asked)


def _then(hidden: _Hidden, origin: date) -> dict[str, list[tuple[str, ZoneBook]]]:
    """(site code, book as it stood) of every zone then under care, by its surface then."""
    of_site: dict[str, list[ZoneBook]] = defaultdict(list)
    for (site, _), book in hidden.books.items():
        then = book_then(book, origin)
        if then is not None and then.zone.span_on(origin) is not None:
            of_site[site].append(then)
    found: dict[str, list[tuple[str, ZoneBook]]] = {}
    for site, zones in of_site.items():
        by_month = site_year(zones, origin)
        for zone in zones:
            laid = replace(zone, by_month=by_month)
            found.setdefault(laid.zone.span_about(origin).surface, []).append((site, laid))
    return dict(sorted(found.items()))


def _from_origin(
    hidden: _Hidden,
    zones: Sequence[tuple[str, ZoneBook]],
    surface: Surface,
    origin: date,
    today: date,
) -> tuple[HeldAgainst, list[ForecastHeld]]:
    """Forecasts of one surface from one origin, as rows to score and to show."""
    last = min(today, origin + timedelta(days=FARTHEST_DAYS))
    laid = fleet_columns(zones, surface, origin, meters=hidden.meters)
    read_before = np.bincount(laid.columns.reading_zone, minlength=len(zones)) > 0
    coming = [
        (z, number, r)
        for z, (site, book) in enumerate(zones)
        if (site, book.zone.code) in hidden.asked and read_before[z]
        for number, r in hidden.rounds[site, book.zone.code]
        if origin < r.on <= last and _same_floor(hidden.books[site, book.zone.code], surface, r.on)
    ]
    if not coming:
        return joined(()), []
    pooled = learn(laid.columns, surface.law, laid.zone_class)
    fleet = fit_fleet(zones, surface, origin, pooled=pooled, laid=laid)
    # always as far, so that no forecast depends on which readings came or were asked for
    tomorrow = origin + timedelta(days=1)
    passes = thousand_passes([book for _, book in zones], tomorrow, FARTHEST_DAYS)
    plan = _work_recorded(hidden, zones, surface, origin)
    held = _held(fleet, coming, passes, plan)
    seen = np.isfinite(held.forecast_gu) & np.isfinite(held.rivals_gu).all(axis=0)
    held = _rows(held, seen)
    kept = [row for row, there in zip(coming, seen.tolist(), strict=True) if there]
    return held, _told(fleet, kept, held)


def _same_floor(book: ZoneBook, surface: Surface, day: date) -> bool:
    span = book.zone.span_on(day)
    return span is not None and span.surface == surface.code


def _work_recorded(
    hidden: _Hidden,
    zones: Sequence[tuple[str, ZoneBook]],
    surface: Surface,
    origin: date,
) -> Plan:
    """Treatments after the origin as they were recorded, routines as they are believed to run."""
    books = [hidden.books[site, book.zone.code] for site, book in zones]
    rounds = [
        [r for _, r in hidden.rounds[site, book.zone.code] if r.on > origin] for site, book in zones
    ]
    masks = treatment_masks(
        books,
        surface,
        origin + timedelta(days=1),
        FARTHEST_DAYS,
        extra=unrecorded_burnishes(books, surface, rounds),
    )
    return tuple((effect, mask) for _, effect, mask in masks)


def _held(
    fleet: Fleet, coming: Sequence[tuple[int, int, RoundValue]], passes: Floats, plan: Plan
) -> HeldAgainst:
    law = fleet.fit.law
    zone = np.array([z for z, _, _ in coming], dtype=np.int64)
    days = np.array([(r.on - fleet.today).days for _, _, r in coming], dtype=np.int64)
    after = np.array([r.state is SurfaceState.AFTER_BURNISH for _, _, r in coming], dtype=bool)
    early = bands(fleet.draws, law, passes, plan)
    late = bands(fleet.draws, law, passes, plan, after=True) if after.any() else early
    median, lower, upper = (
        np.where(after, getattr(late, name)[..., zone, days - 1], of_day[..., zone, days - 1])
        for name, of_day in (
            ("median", early.median),
            ("lower", early.lower),
            ("upper", early.upper),
        )
    )
    error = np.array([reading_error(law, r.stations) for _, _, r in coming])
    lower, upper = reading_bands(median, lower, upper, error)
    return HeldAgainst(
        reading=np.array([number for _, number, _ in coming], dtype=np.int64),
        days_ahead=days,
        read_gu=np.array([r.value for _, _, r in coming], dtype=float),
        forecast_gu=median,
        lower_gu=lower,
        upper_gu=upper,
        rivals_gu=rival_forecasts(
            fleet.fit.columns,
            fleet.surface.law,
            passes,
            plan,
            LooksAhead(zone=zone, days_ahead=days, after=after),
        ),
    )


def _rows(held: HeldAgainst, where: Flags) -> HeldAgainst:
    return HeldAgainst(**{name: getattr(held, name)[..., where] for name in HeldAgainst.__slots__})


def _told(
    fleet: Fleet, coming: Sequence[tuple[int, int, RoundValue]], held: HeldAgainst
) -> list[ForecastHeld]:
    rows = []
    for n, (z, _, r) in enumerate(coming):
        site, code = fleet.keys[z]
        rows.append(
            ForecastHeld(
                surface=fleet.surface.code,
                zone=f"{site}/{code}",
                traffic=fleet.books[z].zone.span_about(fleet.today).traffic.value,
                counted=bool(fleet.fit.columns.counted[z]),
                evidence=fleet.evidence[z].value,
                origin=fleet.today,
                read_on=r.on,
                days_ahead=int(held.days_ahead[n]),
                state=r.state.value,
                stations=r.stations,
                read_gu=float(held.read_gu[n]),
                forecast_gu=float(held.forecast_gu[n]),
                lows=tuple(held.lower_gu[:, n].tolist()),
                highs=tuple(held.upper_gu[:, n].tolist()),
                rivals=tuple(held.rivals_gu[:, n].tolist()),
            )
        )
    return rows


def _answer(
    hidden: _Hidden,
    held: HeldAgainst,
    told: list[ForecastHeld],
    today: date,
    months: int,
    days: tuple[date, ...],
    surface: str,
) -> Backtest:
    everything = np.ones(held.reading.size, dtype=bool)
    groups = [
        _group(held, kind, name, np.array([n == name for n in names], dtype=bool))
        for kind, names in (
            ("surface", [row.surface for row in told]),
            ("class", [class_said(row.traffic, row.counted) for row in told]),
            ("evidence", [row.evidence for row in told]),
        )
        for name in sorted(set(names))
    ]
    forecast = set(held.reading.tolist())
    without = sum(
        1
        for key in hidden.asked
        for number, r in hidden.rounds[key]
        if days and r.on > days[0] and number not in forecast
        if surface in ("", hidden.books[key].zone.span_about(r.on).surface)
    )
    return Backtest(
        today=today,
        months=months,
        origins=days,
        levels=LEVELS,
        rivals=RIVALS,
        days_ahead=HORIZONS,
        whole=_group(held, "", "all", everything),
        groups=tuple(groups),
        without=without,
        forecasts=tuple(told),
    )


def _group(held: HeldAgainst, kind: str, name: str, where: Flags) -> GroupScore:
    return GroupScore(
        kind=kind,
        name=name,
        whole=score(held, where & (held.days_ahead <= NEAR_DAYS)),
        horizons=by_horizon(held, where),
    )


def class_said(traffic: str, counted: bool) -> str:
    """A class in words: traffic level and where its footfall is from."""
    return f"{traffic}, {'counted' if counted else 'by level'}"
