"""Later readings held against a forecast made without them.

A row is a zone together with the last day known of it: its readings up to that day make the
forecast, the later ones are set apart and compared. One zone may stand in many rows.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import Effect, WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.draws import Draws, draw
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.model import Flags, Floats, Whole, expose, ln_gloss, treat
from floorcare.ground.wear.prior import Prior

PLACES = 12
"""At most so many later readings are compared, the first ones. Assumption: a year of months."""
DRAWS_APART = 48
"""Draws a row; only their mean and spread are used. Assumption."""

ROWS_TOGETHER = 2048
"""Rows forecast at once, for the memory's sake; no row depends on another."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Later:
    """N rows and the readings set apart from each, J places a row, oldest first.

    zone, known_to : (N,), the zone and the last day whose readings make the forecast.
    reading : (N, J), index among the columns' readings, -1 where there is none.
    day : (N, J), its day, -1 where there is none.
    before : (N,), readings the forecast rests on.
    """

    zone: Whole
    known_to: Whole
    reading: Whole
    day: Whole
    before: Whole

    @property
    def there(self) -> Flags:
        """(N, J), places that hold a reading."""
        return self.reading >= 0

    def rows(self, index: Flags | slice) -> "Later":
        """Some of the rows.

        Assumption: rows stand on axis 0.
        """
        return Later(
            zone=self.zone[index],
            known_to=self.known_to[index],
            reading=self.reading[index],
            day=self.day[index],
            before=self.before[index],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Supposed:
    """What is supposed to have happened after the last known day.

    passes_times : factor on all passes.
    effects : what each treatment did, in the columns' order; None as the surface says.
    first_left_out : the treatments of the first day after the last known one did nothing.
    """

    passes_times: float = 1.0
    effects: tuple[Effect, ...] | None = None
    first_left_out: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Expected:
    """ln gloss expected at the readings set apart, without their own error.

    ln : (N, J), NaN where there is no reading or nothing to expect it from.
    covariance : (N, J, J), of that expectation; 0 at empty places.
    """

    ln: Floats
    covariance: Floats


def set_apart(columns: WearColumns, zone: Whole, known_to: Whole, last: Whole) -> Later:
    """The rows' later readings.

    Parameters
    ----------
    zone, known_to : (N,), the rows.
    last : (N,), last day whose readings are compared.

    Assumption: the first 12 of them say enough.
    """
    usable = np.flatnonzero(columns.usable & ~columns.graded)
    order = np.lexsort(
        (
            columns.reading_after_burnish[usable],
            columns.reading_day[usable],
            columns.reading_zone[usable],
        )
    )
    reading = usable[order]
    row, pick = _pairs(columns.reading_zone[reading], zone, columns.zones)
    reading = reading[pick]
    day = columns.reading_day[reading]
    known = day <= known_to[row]
    before = np.bincount(row[known], minlength=zone.size)
    later = ~known & (day <= last[row])
    row, reading, day = row[later], reading[later], day[later]
    place = _rank(row)
    width = min(int(place.max(initial=-1)) + 1, PLACES)
    held = np.full((2, zone.size, width), -1, dtype=np.int64)
    kept = place < width
    held[:, row[kept], place[kept]] = reading[kept], day[kept]
    return Later(
        zone=zone,
        known_to=known_to,
        reading=held[0],
        day=held[1],
        before=before,
    )


def _pairs(of_reading: Whole, of_row: Whole, zones: int) -> tuple[Whole, Whole]:
    """Every (row, reading) of one zone; readings come sorted by zone."""
    count = np.bincount(of_reading, minlength=zones)
    first = np.cumsum(count) - count
    many = count[of_row]
    row = np.repeat(np.arange(of_row.size), many)
    within = np.arange(row.size) - np.repeat(np.cumsum(many) - many, many)
    return row, first[of_row][row] + within


def _rank(row: Whole) -> Whole:
    """Position of each entry among those of its row; entries come sorted by row."""
    first = np.searchsorted(row, row, side="left")
    return np.arange(row.size) - first


def known_columns(columns: WearColumns, zone: Whole, known_to: Whole) -> WearColumns:
    """The rows as columns of their own: each zone as it stood on its last known day.

    Parameters
    ----------
    zone, known_to : (N,), the rows; every row's last known day becomes the columns' last.

    Assumption: what happened before the columns' first day is in the zone's opening state.
    """
    days = int(known_to.max(initial=0)) + 1
    late = days - 1 - known_to
    day = np.arange(days)[None, :] - late[:, None]
    lived, day = day >= 0, np.maximum(day, 0)
    by = zone[:, None]
    order = np.lexsort((columns.reading_day, columns.reading_zone))
    row, pick = _pairs(columns.reading_zone[order], zone, columns.zones)
    reading = order[pick]
    known = (columns.reading_day[reading] <= known_to[row]) & columns.usable[reading]
    row, reading = row[known], reading[known]
    return WearColumns(
        thousand_passes=np.where(lived, columns.thousand_passes[by, day], 0.0),
        treatments=tuple((effect, done[by, day] & lived) for effect, done in columns.treatments),
        **columns.of_readings(reading)
        | {"reading_zone": row, "reading_day": columns.reading_day[reading] + late[row]},
        counted=columns.counted[zone],
        opening=columns.opening[zone],
        opening_about_days=columns.opening_about_days[zone],
        start_day=np.minimum(columns.start_day[zone] + late, days - 1),
    )


def expect(
    columns: WearColumns,
    law: WearLaw,
    later: Later,
    supposed: Sequence[Supposed],
    prior: Prior | None = None,
) -> tuple[Expected, ...]:
    """What the readings set apart should have been, under each supposition.

    Parameters
    ----------
    columns : Z zones, all readings; those after a row's last known day do not enter its forecast.
    prior : belief about the rates, one value a zone; None for the surface's own.

    Source: `estimate` and `draw`; the walks ahead are added as covariances, which is exact.
    """
    parts = []
    for start in range(0, max(later.zone.size, 1), ROWS_TOGETHER):
        some = later.rows(slice(start, start + ROWS_TOGETHER))
        known = known_columns(columns, some.zone, some.known_to)
        own = None if prior is None else prior.of(some.zone)
        draws = draw(estimate(known, law, own), DRAWS_APART)
        parts.append([_live_on(columns, law, some, draws, each) for each in supposed])
    return tuple(
        Expected(
            ln=np.concatenate([part.ln for part in of_one]),
            covariance=np.concatenate([part.covariance for part in of_one]),
        )
        for of_one in zip(*parts, strict=True)
    )


def _live_on(
    columns: WearColumns, law: WearLaw, later: Later, draws: Draws, supposed: Supposed
) -> Expected:
    """All draws of all rows lived on, day by day; rows with the farthest reading stand first."""
    horizon = np.where(later.there, later.day - later.known_to[:, None], 0).max(axis=1, initial=0)
    order = np.argsort(-horizon, kind="stable")
    zone, known_to, horizon = later.zone[order], later.known_to[order], horizon[order]
    day_read, reading = later.day[order], later.reading[order]
    after = columns.reading_after_burnish[reading] & (reading >= 0)
    rates, state = draws.rates.rows(order), draws.state.rows(order)
    level, shock = draws.level[order], draws.shock[order]
    ln = np.full((*later.reading.shape, draws.count), np.nan)
    walk = _ShockWalk.begun(*later.reading.shape)
    moved, moved_at = np.zeros(zone.size), np.zeros(later.reading.shape)
    effects = supposed.effects or tuple(effect for effect, _ in columns.treatments)
    for ahead in range(1, int(horizon.max(initial=0)) + 1):
        live = slice(0, int(np.searchsorted(-horizon, -ahead, side="right")))
        day, rates, shock = known_to[live] + ahead, rates.rows(live), shock[live]
        passes = columns.thousand_passes[zone[live], day] * supposed.passes_times
        state = expose(state.rows(live), rates, law, passes[:, None])
        walk.go_on(live, law.shock_sd)
        reads = day_read[live] == day[:, None]
        for late in (False, True):
            rows, places = np.nonzero(reads & (after[live] == late))
            if rows.size:
                ln[rows, places] = level[rows] + shock[rows] + ln_gloss(state.rows(rows), law)
                walk.read(rows, places)
                moved_at[rows, places] = moved[rows]
            if late or (ahead == 1 and supposed.first_left_out):
                continue
            for effect, (_, done) in zip(effects, columns.treatments, strict=True):
                treated = done[zone[live], day]
                if treated.any():
                    state = treat(state, effect, treated[:, None])
                    kept = np.where(treated, effect.haze_kept, 1.0)
                    shock = shock * kept[:, None]
                    walk.cut(live, kept)
                    moved[live] += np.where(treated, effect.level_sd**2, 0.0)
    back = np.argsort(order)
    walked = walk.covariance + np.minimum(moved_at[:, :, None], moved_at[:, None, :])
    return _gathered(ln[back], walked[back], law, later)


@dataclass(slots=True, kw_only=True, eq=False)
class _ShockWalk:
    """Spread of the haze-shock walk ahead: its own, and with what was read of it before."""

    variance: Floats
    with_read: Floats
    covariance: Floats

    @classmethod
    def begun(cls, rows: int, places: int) -> "_ShockWalk":
        return cls(
            variance=np.zeros(rows),
            with_read=np.zeros((rows, places)),
            covariance=np.zeros((rows, places, places)),
        )

    def go_on(self, live: slice, shock_sd: float) -> None:
        self.variance[live] += shock_sd**2

    def cut(self, live: slice, kept: Floats) -> None:
        self.variance[live] *= kept**2
        self.with_read[live] *= kept[:, None]

    def read(self, rows: Whole, places: Whole) -> None:
        self.covariance[rows, places] = self.with_read[rows]
        self.covariance[rows, :, places] = self.with_read[rows]
        self.covariance[rows, places, places] = self.variance[rows]
        self.with_read[rows, places] = self.variance[rows]


def _gathered(ln: Floats, shock: Floats, law: WearLaw, later: Later) -> Expected:
    """Mean and covariance (draws, shocks and jumps of the level, drift) at every place."""
    mean = ln.mean(axis=2)
    off = np.nan_to_num(ln - mean[:, :, None])
    ahead = np.maximum(later.day - later.known_to[:, None], 0).astype(np.float64)
    drift = law.drift_sd**2 * np.minimum(ahead[:, :, None], ahead[:, None, :])
    there = np.isfinite(mean)
    both = there[:, :, None] & there[:, None, :]
    spread = np.einsum("njk,nik->nji", off, off) / (ln.shape[2] - 1) + shock + drift
    return Expected(ln=mean, covariance=np.where(both, spread, 0.0))


def cut_at(columns: WearColumns, today: int) -> WearColumns:
    """The columns as they stood at the end of a day.

    Parameters
    ----------
    today : day index; zones whose life begins later stand on it without history.

    Assumption: nobody knew of later readings, counts or work.
    """
    kept = columns.reading_day <= today
    return replace(
        columns,
        thousand_passes=columns.thousand_passes[:, : today + 1],
        treatments=tuple((effect, done[:, : today + 1]) for effect, done in columns.treatments),
        **columns.of_readings(kept),
        start_day=np.minimum(columns.start_day, today),
    )
