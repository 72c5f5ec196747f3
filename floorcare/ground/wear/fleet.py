"""All zones of one surface, from their books to sampled floors today."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from floorcare.findings import Finding
from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening
from floorcare.ground.wear.books.book_doubts import BelievedBook, believed_book, stations_by_site
from floorcare.ground.wear.books.from_books import (
    ORDER_IN_A_NIGHT,
    counted,
    known_spread_days,
    routine_dates,
    runs_by_itself,
    thousand_passes,
    treatment_masks,
    whole_zone_dates,
    zone_start,
)
from floorcare.ground.wear.books.grades import GradeLooks, fit_with_grades, grade_looks
from floorcare.ground.wear.books.judged import gross_findings
from floorcare.ground.wear.books.meters import (
    NEW_METER,
    NO_METERS,
    Meters,
    calibration_findings,
    mixed_findings,
    unbridged_findings,
)
from floorcare.ground.wear.books.proof import less_certain, unproven_sd
from floorcare.ground.wear.books.zone_read import ZoneRead, read_zone
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.draws import DRAWS, Draws, draw
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.evidence import EvidenceClass, evidence_classes
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.pooled import Pooled, class_of
from floorcare.ground.wear.prior import prior_from

FRESHLY_WORKED_DAYS = 7
"""Work so recent explains that a floor is read "after burnish". Assumption."""

ASKED_DAYS = 180
"""A gross reading is asked about for so long. Assumption."""

OPENING_CODE: Mapping[Opening, OpeningCode] = {
    Opening.FRESH: OpeningCode.FRESH,
    Opening.DATED: OpeningCode.DATED,
    Opening.ABOUT: OpeningCode.ABOUT,
    Opening.UNKNOWN: OpeningCode.UNKNOWN,
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FleetColumns:
    """What the books of one surface's zones hold, laid out for estimate and learning.

    columns : Z zones.
    zone_class : (Z,), the class each is pooled with.
    first : the first day of the columns.
    rounds : believed gloss rounds of each zone as they were read, in rising date; the readings of
        the columns begin with them, zone by zone.
    grades : appearance grades of each zone.
    unproven_sd : (Z,), see `unproven_sd`.
    findings : what a person is asked about the readings.
    """

    columns: WearColumns
    zone_class: Whole
    first: date
    rounds: tuple[tuple[RoundValue, ...], ...]
    grades: GradeLooks
    unproven_sd: Floats
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fleet:
    """Zones of one surface with what the readings say of them; every tuple has one entry a zone.

    keys : (site code, zone code).
    rounds : believed gloss rounds, gross ones taken out, in rising date.
    fit : its law is the surface's with what was learned of its noise; forecasts take it from here.
    band_scale : (Z,), factor that makes a zone's band honest, 1 where nothing was learned.
    evidence : how much stands behind each.
    findings : what a person is asked about the readings.
    """

    surface: Surface
    today: date
    keys: tuple[tuple[str, str], ...]
    books: tuple[ZoneBook, ...]
    rounds: tuple[tuple[RoundValue, ...], ...]
    fit: Fit
    band_scale: Floats
    draws: Draws
    evidence: tuple[EvidenceClass, ...]
    findings: tuple[Finding, ...]

    @property
    def measured(self) -> Flags:
        """(Z,): zones whose wear can be planned from readings."""
        has = (EvidenceClass.MEASURED, EvidenceClass.SPARSE)
        return np.array([e in has for e in self.evidence], dtype=bool)


def fit_fleet(
    zones: Sequence[tuple[str, ZoneBook]],
    surface: Surface,
    today: date,
    *,
    draws: int = DRAWS,
    pooled: Pooled | None = None,
    meters: Meters = NO_METERS,
    laid: FleetColumns | None = None,
) -> Fleet:
    """Estimate every zone of a surface from its book.

    Parameters
    ----------
    zones : (site code, book) pairs, in the order of the answer; at least one.
    today : last day of history; readings dated later are left out.
    draws : sampled floors a zone.
    pooled : what the surface's zones have in common; None for the surface's own figures.
    meters : the meters readings name, and the bridges between them.
    laid : what `fleet_columns` made of just these, where it was asked for before.

    Source: see `estimate` and `draw`.
    """
    laid = laid or fleet_columns(zones, surface, today, meters=meters)
    law = surface.law if pooled is None else pooled.law(surface.law)
    if pooled is None:
        prior, scale = prior_from(law, laid.columns.counted), np.ones(len(zones))
    else:
        prior, scale = pooled.prior(laid.zone_class), pooled.band_scale[laid.zone_class]
    prior = less_certain(prior, laid.unproven_sd)
    fit = fit_with_grades(estimate(laid.columns, law, prior), prior, laid.grades)
    keys = tuple((site, book.zone.code) for site, book in zones)
    # an old misreading has been asked about often enough; the fit goes on without it
    old = fit.columns.reading_day < fit.columns.days - ASKED_DAYS
    asked = gross_findings(
        replace(fit, gross=fit.gross & ~old), tuple(f"{s}/{z}" for s, z in keys), laid.first
    )
    graded = np.array([any(r.measure is Measure.GRADE for r in b.readings) for _, b in zones])
    return Fleet(
        surface=surface,
        today=today,
        keys=keys,
        books=tuple(book for _, book in zones),
        rounds=_without_gross(laid.rounds, fit),
        fit=fit,
        band_scale=scale,
        draws=draw(fit, draws, band_scale=scale),
        evidence=evidence_classes(fit, graded),
        findings=(*laid.findings, *asked),
    )


def fleet_columns(
    zones: Sequence[tuple[str, ZoneBook]],
    surface: Surface,
    today: date,
    *,
    meters: Meters = NO_METERS,
) -> FleetColumns:
    """The zones of a surface, judged and laid out, before anything is estimated.

    Readings are judged by the surface's own errors, so that what a fleet taught changes neither
    what is believed nor what is asked.

    Parameters
    ----------
    zones : (site code, book) pairs, in the order of the answer; at least one.
    today : last day of history; readings dated later are left out.
    meters : the meters readings name, and the bridges between them.

    Raises
    ------
    ValueError : no zones.

    Source: see `read_zone` and `class_of`.
    """
    if not zones:
        raise ValueError("a fleet needs at least one zone")
    stations = stations_by_site(zones)
    believed = [
        believed_book(f"{site}/{book.zone.code}", book, stations[site]) for site, book in zones
    ]
    books = [each.book for each in believed]
    starts = [zone_start(book, today) for book in books]
    first = min(starts)
    known = meters.known_on(today)
    read = [
        read_zone(f"{site}/{book.zone.code}", book, surface, known, first, today)
        for (site, _), book in zip(zones, books, strict=True)
    ]
    columns = _columns(books, surface, first, (today - first).days + 1, starts, read)
    levels = [book.zone.span_about(today).traffic for book in books]
    return FleetColumns(
        columns=columns,
        zone_class=class_of(levels, columns.counted),
        first=first,
        rounds=tuple(each.judged.believed for each in read),
        grades=grade_looks([each.judged.aside for each in read], first),
        unproven_sd=unproven_sd(books, surface, today),
        findings=_asked_of(believed, read, known, today),
    )


def _asked_of(
    believed: Sequence[BelievedBook], read: Sequence[ZoneRead], meters: Meters, today: date
) -> tuple[Finding, ...]:
    """What is asked about books and readings, and once a fleet about the meters behind them."""
    recent = today - timedelta(days=ASKED_DAYS)
    readings = (r for each in read for r in each.spoken.readings)
    return (
        *(finding for each in believed for finding in each.findings),
        *(finding for each in read for finding in each.judged.findings),
        *unbridged_findings(u for each in read for u in each.spoken.unbridged),
        *mixed_findings(r for each in read for r in each.spoken.mixed),
        *calibration_findings(readings, meters, recent),
    )


def _columns(
    books: Sequence[ZoneBook],
    surface: Surface,
    first: date,
    days: int,
    starts: Sequence[date],
    read: Sequence[ZoneRead],
) -> WearColumns:
    """The columns; a meter's epochs stand behind all treatments, turned rounds behind all read."""
    rounds = [(*each.judged.believed, *each.judged.turned) for each in read]
    masks = treatment_masks(
        books, surface, first, days, extra=unrecorded_burnishes(books, surface, rounds)
    )
    treatments = [(effect, mask) for _, effect, mask in masks]
    epochs = np.zeros((len(books), days), dtype=np.bool_)
    for z, each in enumerate(read):
        epochs[z, [max(0, (on - first).days) for on in each.spoken.epochs]] = True
    if epochs.any():
        treatments.append((NEW_METER, epochs))
    flat = [(z, r) for z, each in enumerate(read) for r in each.judged.believed]
    flat += [(z, r) for z, each in enumerate(read) for r in each.judged.turned]
    return WearColumns(
        thousand_passes=thousand_passes(books, first, days),
        treatments=tuple(treatments),
        reading_zone=np.array([z for z, _ in flat], dtype=np.int64),
        reading_day=np.array([(r.on - first).days for _, r in flat], dtype=np.int64),
        reading_ln=np.log(np.array([r.value for _, r in flat], dtype=float)),
        reading_stations=np.array([r.stations for _, r in flat], dtype=np.int64),
        reading_after_burnish=np.array(
            [r.state is SurfaceState.AFTER_BURNISH for _, r in flat], dtype=bool
        ),
        counted=counted(books),
        extra_sd=np.array([r.more_sd for _, r in flat], dtype=float),
        opening=np.array([OPENING_CODE[b.zone.opening] for b in books], dtype=np.int64),
        opening_about_days=np.array([known_spread_days(b) for b in books], dtype=float),
        start_day=np.array([(start - first).days for start in starts], dtype=np.int64),
    )


def unrecorded_burnishes(
    books: Sequence[ZoneBook], surface: Surface, rounds: Sequence[Sequence[RoundValue]]
) -> list[tuple[int, Work, date]]:
    """(zone, burnish, day) of readings "after burnish" that no work of the week before explains.

    Assumption: whoever wrote that the floor was read after a burnish saw it burnished.
    """
    if surface.rung(Work.BURNISH) is None:
        return []
    fresh = timedelta(days=FRESHLY_WORKED_DAYS)
    found = []
    for z, book in enumerate(books):
        seen = [r.on for r in rounds[z] if r.state is SurfaceState.AFTER_BURNISH]
        worked = {day for work in ORDER_IN_A_NIGHT for day in whole_zone_dates(book.done, work)}
        for routine in book.routines:
            if seen and routine.work in ORDER_IN_A_NIGHT and runs_by_itself(routine):
                worked.update(routine_dates(routine, min(seen) - fresh, max(seen)))
        found += [
            (z, Work.BURNISH, day)
            for day in seen
            if not any(day - fresh <= on <= day for on in worked)
        ]
    return found


def _without_gross(
    rounds: Sequence[tuple[RoundValue, ...]], fit: Fit
) -> tuple[tuple[RoundValue, ...], ...]:
    gross = iter(fit.gross.tolist())
    return tuple(tuple(r for r in of_zone if not next(gross)) for of_zone in rounds)
