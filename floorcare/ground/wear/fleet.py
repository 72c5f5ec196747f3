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
from floorcare.ground.wear.columns import OpeningCode, WearColumns
from floorcare.ground.wear.draws import DRAWS, Draws, draw
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.evidence import EvidenceClass, evidence_classes
from floorcare.ground.wear.from_books import (
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
from floorcare.ground.wear.judged import gross_findings, judge_rounds
from floorcare.ground.wear.model import Flags

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
class Fleet:
    """Zones of one surface with what the readings say of them; every tuple has one entry a zone.

    keys : (site code, zone code).
    rounds : believed gloss rounds, gross ones taken out, in rising date.
    evidence : how much stands behind each.
    findings : what a person is asked about the readings.
    """

    surface: Surface
    today: date
    keys: tuple[tuple[str, str], ...]
    books: tuple[ZoneBook, ...]
    rounds: tuple[tuple[RoundValue, ...], ...]
    fit: Fit
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
) -> Fleet:
    """Estimate every zone of a surface from its book.

    Parameters
    ----------
    zones : (site code, book) pairs, in the order of the answer; at least one.
    today : last day of history; readings dated later are left out.
    draws : sampled floors a zone.

    Source: see `estimate` and `draw`.
    """
    if not zones:
        raise ValueError("a fleet needs at least one zone")
    books = [book for _, book in zones]
    starts = [zone_start(book, today) for book in books]
    first = min(starts)
    days = (today - first).days + 1
    rounds: list[tuple[RoundValue, ...]] = []
    findings: list[Finding] = []
    for site, book in zones:
        believed, asked = _judged(site, book, surface, first, today)
        rounds.append(believed)
        findings.extend(asked)
    columns = _columns(books, surface, first, days, starts, rounds)
    fit = estimate(columns, surface.law)
    keys = tuple((site, book.zone.code) for site, book in zones)
    # an old misreading has been asked about often enough; the fit goes on without it
    fresh = replace(fit, gross=fit.gross & (columns.reading_day >= days - ASKED_DAYS))
    findings.extend(gross_findings(fresh, tuple(f"{s}/{z}" for s, z in keys), first))
    graded = np.array([any(r.measure is Measure.GRADE for r in b.readings) for b in books])
    return Fleet(
        surface=surface,
        today=today,
        keys=keys,
        books=tuple(books),
        rounds=_without_gross(rounds, fit),
        fit=fit,
        draws=draw(fit, draws),
        evidence=evidence_classes(fit, graded),
        findings=tuple(findings),
    )


def _judged(
    site: str, book: ZoneBook, surface: Surface, first: date, today: date
) -> tuple[tuple[RoundValue, ...], tuple[Finding, ...]]:
    """One zone's rounds inside the day axis, and what is asked about them."""
    name = f"{site}/{book.zone.code}"
    readings = tuple(replace(r, zone=name) for r in book.readings if first <= r.taken_on <= today)
    resets = {
        day
        for work, rung in surface.methods.items()
        if rung.resets_reading or work in (Work.BURNISH, Work.FINE_BURNISH)
        for day in whole_zone_dates(book.done, work)
    }
    for routine in book.routines:
        if routine.work in (Work.BURNISH, Work.FINE_BURNISH) and runs_by_itself(routine):
            resets.update(routine_dates(routine, first, today))
    judged = judge_rounds(readings, surface.law, {name: tuple(sorted(resets))})
    return judged.believed, judged.findings


def _columns(
    books: Sequence[ZoneBook],
    surface: Surface,
    first: date,
    days: int,
    starts: Sequence[date],
    rounds: Sequence[tuple[RoundValue, ...]],
) -> WearColumns:
    masks = treatment_masks(
        books, surface, first, days, extra=unrecorded_burnishes(books, surface, rounds)
    )
    flat = [(z, r) for z, of_zone in enumerate(rounds) for r in of_zone]
    return WearColumns(
        thousand_passes=thousand_passes(books, first, days),
        treatments=tuple((effect, mask) for _, effect, mask in masks),
        reading_zone=np.array([z for z, _ in flat], dtype=np.int64),
        reading_day=np.array([(r.on - first).days for _, r in flat], dtype=np.int64),
        reading_ln=np.log(np.array([r.value for _, r in flat], dtype=float)),
        reading_stations=np.array([r.stations for _, r in flat], dtype=np.int64),
        reading_after_burnish=np.array(
            [r.state is SurfaceState.AFTER_BURNISH for _, r in flat], dtype=bool
        ),
        counted=counted(books),
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
