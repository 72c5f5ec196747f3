"""Forecasts held against the readings that came: origins, bands of a reading, scores.

A row is one hidden reading forecast from one origin; a reading stands in a row for every origin
before it that is near enough.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from floorcare.ground.wear.forecast import LEVELS
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.trial.rivals import RIVALS

BETWEEN_ORIGINS_DAYS = 30
"""Days from one origin to the next. Assumption."""
MONTH_DAYS = 30.4375
"""A twelfth of a year of 365.25 days."""
FARTHEST_DAYS = 180
"""No reading is forecast from further back. Assumption."""
HORIZONS = ((1, 30), (31, 60), (61, 90), (91, FARTHEST_DAYS))
"""Days ahead taken together; the last group is told apart and counts in no total."""
NEAR_DAYS = 90
"""Totals are over readings up to so many days ahead. Assumption: as far as a plan leans on them."""
FEW_READINGS = 10
"""Fewer hidden readings than this say little. Assumption."""
BAND_OFF = 0.05
"""A 90 % band is called honest when it holds the readings within so much of 0.90. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeldAgainst:
    """N forecasts and the readings that came; GU.

    reading : (N,), which hidden reading, the same number wherever it is forecast again.
    days_ahead : (N,), from the origin.
    read_gu, forecast_gu : (N,).
    lower_gu, upper_gu : (levels, N), bands of the reading, its own error in them.
    rivals_gu : (rivals, N), in the order of `RIVALS`.
    """

    reading: Whole
    days_ahead: Whole
    read_gu: Floats
    forecast_gu: Floats
    lower_gu: Floats
    upper_gu: Floats
    rivals_gu: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """How far off forecasts were.

    readings : hidden readings; forecasts : of them, one from each origin.
    mean_error_gu : mean absolute error; None, as all that follow, where nothing was hidden.
    bias_gu : mean of forecast less reading.
    inside : share of readings inside the bands of 50, 80 and 90 %.
    rivals_gu : mean absolute error of each rival, in the order of `RIVALS`.
    """

    readings: int
    forecasts: int
    mean_error_gu: float | None
    bias_gu: float | None
    inside: tuple[float, ...] | None
    rivals_gu: tuple[float, ...] | None

    @property
    def few(self) -> bool:
        """Whether so few readings stand behind it that it says little."""
        return self.readings < FEW_READINGS


def origins(today: date, months: int) -> tuple[date, ...]:
    """Days to forecast from, oldest first, each with at least one interval of later days.

    Parameters
    ----------
    months : how far back, >= 1.

    Assumption: every 30 days, the last 30 days ago.
    """
    reach = round(months * MONTH_DAYS)
    back = range(BETWEEN_ORIGINS_DAYS, max(reach, BETWEEN_ORIGINS_DAYS) + 1, BETWEEN_ORIGINS_DAYS)
    return tuple(today - timedelta(days=days) for days in reversed(back))


def reading_bands(
    median_gu: Floats, lower_gu: Floats, upper_gu: Floats, error: Floats
) -> tuple[Floats, Floats]:
    """Bands of the reading itself, (levels, N) each, from bands of the gloss.

    Parameters
    ----------
    median_gu : (N,); lower_gu, upper_gu : (levels, N), in the order of `LEVELS`.
    error : (N,), sd of the reading in ln gloss.

    Assumption: gloss and reading error are independent and near normal in ln, so that half widths
    add in squares; gross readings are not in it.
    """
    from scipy.special import ndtri

    edge = ndtri(0.5 + np.array(LEVELS) / 2.0)[:, None] * error
    down = np.hypot(np.log(median_gu / lower_gu), edge)
    up = np.hypot(np.log(upper_gu / median_gu), edge)
    return median_gu * np.exp(-down), median_gu * np.exp(up)


def score(held: HeldAgainst, where: Flags) -> Score:
    """The score of some rows.

    Parameters
    ----------
    where : (N,), the rows that count.

    Assumption: every forecast counts once, so that a reading counts from each origin before it.
    """
    rows = np.flatnonzero(where)
    if not rows.size:
        return Score(
            readings=0, forecasts=0, mean_error_gu=None, bias_gu=None, inside=None, rivals_gu=None
        )
    read = held.read_gu[rows]
    off = held.forecast_gu[rows] - read
    inside = (held.lower_gu[:, rows] <= read) & (read <= held.upper_gu[:, rows])
    apart = np.abs(held.rivals_gu[:, rows] - read).mean(axis=1)
    return Score(
        readings=int(np.unique(held.reading[rows]).size),
        forecasts=int(rows.size),
        mean_error_gu=float(np.abs(off).mean()),
        bias_gu=float(off.mean()),
        inside=tuple(inside.mean(axis=1).tolist()),
        rivals_gu=tuple(apart.tolist()),
    )


def by_horizon(held: HeldAgainst, where: Flags) -> tuple[Score, ...]:
    """A score for each of `HORIZONS`.

    Parameters
    ----------
    where : (N,), the rows that count.

    Assumption: see `score`.
    """
    return tuple(
        score(held, where & (held.days_ahead >= first) & (held.days_ahead <= last))
        for first, last in HORIZONS
    )


def joined(parts: Sequence[HeldAgainst]) -> HeldAgainst:
    """Rows of many origins and surfaces one after the other.

    Assumption: their readings are numbered through.
    """

    def end_to_end(name: str) -> Floats:
        return np.concatenate([getattr(part, name) for part in parts], axis=-1)

    if not parts:
        return no_rows()
    return HeldAgainst(
        reading=end_to_end("reading").astype(np.int64),
        days_ahead=end_to_end("days_ahead").astype(np.int64),
        **{name: end_to_end(name) for name in HeldAgainst.__slots__ if name.endswith("_gu")},
    )


def no_rows() -> HeldAgainst:
    """Nothing was hidden.

    Assumption: none.
    """
    none, whole = np.zeros(0), np.zeros(0, dtype=np.int64)
    return HeldAgainst(
        reading=whole,
        days_ahead=whole,
        read_gu=none,
        forecast_gu=none,
        lower_gu=np.zeros((len(LEVELS), 0)),
        upper_gu=np.zeros((len(LEVELS), 0)),
        rivals_gu=np.zeros((len(RIVALS), 0)),
    )
