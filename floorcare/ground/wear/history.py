"""A zone's history as steps: exposure since the last step, then a treatment or a reading.

Zones have different numbers of steps. They are lined up so that the s-th step of every zone that
has one is taken at once: the zones with most steps stand first, those still walking are a prefix.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import NO_EFFECT, Effect, WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Rates,
    Whole,
    factors_of,
    ln_gloss,
    wear_by,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lineup:
    """Rows of many zones, lined up by their rank within the zone.

    zone_order : (Z,), zones with most rows first.
    active : (S,), how many zones have an s-th row.
    rows : (N,), the row numbers, rank by rank, within a rank in zone order.
    """

    zone_order: Whole
    active: Whole
    rows: Whole

    def ranks(self) -> Iterator[Whole]:
        """The row numbers of the first rows of all zones, then of the second, …

        Assumption: row k of a rank belongs to the k-th zone of `zone_order`.
        """
        at = 0
        for count in self.active.tolist():
            yield self.rows[at : at + count]
            at += count


def line_up(zone: Whole, zones: int) -> Lineup:
    """Line up rows that are sorted by zone and, within a zone, by time.

    Parameters
    ----------
    zone : (N,), the zone of each row, ascending.
    zones : how many zones there are, those without rows included.

    Assumption: none; a zone's rows keep their order.
    """
    count = np.bincount(zone, minlength=zones)
    zone_order = np.argsort(-count, kind="stable")
    position = np.empty(zones, dtype=np.int64)
    position[zone_order] = np.arange(zones)
    rank = np.arange(zone.size) - (np.cumsum(count) - count)[zone]
    return Lineup(
        zone_order=zone_order, active=np.bincount(rank), rows=np.lexsort((position[zone], rank))
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Steps:
    """The history of Z zones in N steps, sorted by zone and time; the last of each zone is today.

    lineup : the steps by rank.
    exposure : (N,), thousand passes since the zone's last step, ageing included.
    days : (N,), days lived since the zone's last step.
    effect : (N,), row of `factors`; the last row does nothing.
    reading : (N,), index of the reading taken at this step, before its effect, or -1.
    factors : (effects + 1, 5), haze kept, film kept, film added, scratch kept, scratch added.
    readings : how many readings the columns have, used or not.
    """

    lineup: Lineup
    exposure: Floats
    days: Floats
    effect: Whole
    reading: Whole
    factors: Floats
    readings: int


def steps_of(columns: WearColumns, law: WearLaw) -> Steps:
    """The columns' history as steps.

    Assumption: the order within a day is exposure, reading, treatments, reading after them.
    """
    zones, days, kinds = columns.zones, columns.days, len(columns.treatments)
    lived = np.arange(days)[None, :] >= columns.start_day[:, None]
    # Each row: zone, day, order within the day, effect, reading.
    nothing = kinds
    parts = []
    for kind, (_, done) in enumerate(columns.treatments):
        zone, day = np.nonzero(done & lived)
        flat = np.ones_like(zone)
        parts.append((zone, day, (1 + kind) * flat, kind * flat, -flat))
    read = np.flatnonzero(columns.usable)
    flat = np.ones_like(read)
    late = np.where(columns.reading_after_burnish[read], 1 + kinds, 0)
    parts.append(
        (columns.reading_zone[read], columns.reading_day[read], late, nothing * flat, read)
    )
    flat = np.ones(zones, dtype=np.int64)
    parts.append((np.arange(zones), (days - 1) * flat, (2 + kinds) * flat, nothing * flat, -flat))
    zone, day, order, effect, reading = (
        np.concatenate([part[i] for part in parts]).astype(np.int64) for i in range(5)
    )
    sort = np.lexsort((order, day, zone))
    zone, day = zone[sort], day[sort]
    first = np.r_[True, zone[1:] != zone[:-1]]
    passed = np.cumsum(np.where(lived, columns.thousand_passes + law.ageing, 0.0), axis=1)
    return Steps(
        lineup=line_up(zone, zones),
        exposure=_since_last(passed[zone, day], first),
        days=_since_last((day - columns.start_day[zone] + 1).astype(np.float64), first),
        effect=effect[sort],
        reading=reading[sort],
        factors=np.array(
            [_row(effect) for effect, _ in columns.treatments] + [_row(NO_EFFECT)], dtype=np.float64
        ),
        readings=columns.reading_ln.size,
    )


def _row(effect: Effect) -> tuple[float, ...]:
    by = factors_of(effect)
    return (by.haze_kept, by.film_kept, by.film_added, by.scratch_kept, by.scratch_added)


def _since_last(running: Floats, first: Flags) -> Floats:
    before = np.r_[0.0, running[:-1]]
    return running - np.where(first, 0.0, before)


def walk(
    steps: Steps, opening: FloorState, rates: Rates, law: WearLaw
) -> tuple[Floats, FloorState]:
    """Live through the history under one or many assumptions a zone.

    Parameters
    ----------
    opening, rates : (Z, P), P assumptions (draws, or shifted parameters) of each zone.

    Returns
    -------
    (R, P) ln gloss at each reading relative to the level (NaN for readings not used), and the
    state (Z, P) today after all history.

    Assumption: as `wear_by` and `treat`.
    """
    order = steps.lineup.zone_order
    at_reading = np.full((steps.readings, opening.haze.shape[1]), np.nan)
    haze, film, scratch = opening.haze[order], opening.film[order], opening.scratch[order]
    own = rates.rows(order)
    for rows in steps.lineup.ranks():
        here = slice(0, rows.size)
        now = wear_by(
            FloorState(haze=haze[here], film=film[here], scratch=scratch[here]),
            own.rows(here),
            law,
            steps.exposure[rows, None],
        )
        reading = steps.reading[rows]
        read = reading >= 0
        if read.any():
            at_reading[reading[read]] = ln_gloss(now.rows(read), law)
        by = steps.factors[steps.effect[rows]]
        haze[here] = now.haze * by[:, 0, None]
        film[here] = now.film * by[:, 1, None] + by[:, 2, None]
        scratch[here] = now.scratch * by[:, 3, None] + by[:, 4, None]
    back = np.argsort(order)
    return at_reading, FloorState(haze=haze[back], film=film[back], scratch=scratch[back])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Transit:
    """How the two walks get from one reading to the next: w gains variance, e is also cut.

    drift_var : variance w gains.
    shock_kept : factor on e.
    shock_var : variance e gains, cuts counted.
    """

    drift_var: Floats
    shock_kept: Floats
    shock_var: Floats


def transits(steps: Steps, law: WearLaw) -> tuple[Transit, Transit]:
    """The walks' way to each reading (R,) from the one before it, and to today (Z,).

    Assumption: independent daily increments; a treatment leaves `haze_kept` of the shock walk.
    """
    zones = steps.lineup.zone_order.size
    to_reading = np.zeros((3, steps.readings))
    so_far = np.zeros((3, zones))
    so_far[1] = 1.0
    for rows in steps.lineup.ranks():
        here = so_far[:, : rows.size]
        here[0] += law.drift_sd**2 * steps.days[rows]
        here[2] += law.shock_sd**2 * steps.days[rows]
        reading = steps.reading[rows]
        read = reading >= 0
        to_reading[:, reading[read]] = here[:, read]
        here[:, read] = np.array([[0.0], [1.0], [0.0]])
        kept = steps.factors[steps.effect[rows], 0]
        here[1] *= kept
        here[2] *= kept**2
    today = so_far[:, np.argsort(steps.lineup.zone_order)]
    return _transit(to_reading), _transit(today)


def _transit(columns: Floats) -> Transit:
    return Transit(drift_var=columns[0], shock_kept=columns[1], shock_var=columns[2])
