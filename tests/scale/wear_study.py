"""Errors, bands and first days below promise of the wear model on invented floors."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from floorcare.ground.wear import study
from floorcare.ground.wear.trial.regression import regression_forecast
from tests.scale.departing import Floors, World, make_floors
from tests.scale.plain_regression import plain_regression

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

DAYS = (30, 60, 90)
HORIZON = 180
"""First passage is looked for in so many days: half a year of work."""
PROMISED_SHARE = 0.80
"""Of the first reading; the trade's usual allowed loss is a fifth (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seen:
    """What happened to the zones of one case, pooled over seeds; (N, 3) at 30, 60, 90 days.

    error, known_error : GU, of the model, of one who knows state and rates.
    rival_error, mixed_error : of the pooled regression, and of the backtest's strongest rival.
    inside : truth in the 90 % band.
    zone_class : (N,), traffic × 2 + counted.
    alive, crossed : (N,), above promise today; and below it within the horizon.
    early, late, known_early, known_late : (N,), the first day below lies before or after 5–95 %.
    """

    error: Floats
    known_error: Floats
    rival_error: Floats
    mixed_error: Floats
    inside: Flags
    zone_class: NDArray[np.int64]
    alive: Flags
    crossed: Flags
    early: Flags
    late: Flags
    known_early: Flags
    known_late: Flags


def look(
    world: World, *, zones: int, seed: int, readings: int, first_seen: int = 0, rival: bool = True
) -> Seen:
    """Let one fleet live, estimate it and hold the forecasts against what came."""
    floors = make_floors(
        zones=zones,
        seed=seed,
        readings=readings,
        ahead=HORIZON,
        world=world,
        first_seen=first_seen,
    )
    fit = study.estimate(**floors.given)
    median, low, high = study.forecast(fit, DAYS)
    column = np.array(DAYS) - 1
    truth, known = floors.before[:, column], floors.known[:, column]
    given = (fit.wear.columns, study.LAW, fit.footfall_ahead, fit.plan, DAYS)
    rivals = plain_regression(*given) if rival else np.full(truth.shape, np.nan)
    mixed = regression_forecast(*given) if rival else rivals
    promise = PROMISED_SHARE * _first_reading(floors, zones)
    days = study.first_below(fit, promise, HORIZON)
    below = floors.seen[:, 1:] < promise[:, None]
    first = _first_day(below)
    futures = np.sort(_first_day(floors.known_futures < promise[:, None, None]), axis=1)
    edges = np.round(np.array([0.05, 0.95]) * futures.shape[1] - 0.5).astype(int)
    alive = floors.seen[:, 0] >= promise
    return Seen(
        error=np.abs(median - truth),
        known_error=np.abs(known - truth),
        rival_error=np.abs(rivals - truth),
        mixed_error=np.abs(mixed - truth),
        inside=(low <= truth) & (truth <= high),
        zone_class=2 * floors.given["traffic"] + floors.given["counted"],
        alive=alive,
        crossed=alive & np.isfinite(first),
        early=first < days[:, 0],
        late=first > days[:, 2],
        known_early=first < futures[:, edges[0]],
        known_late=first > futures[:, edges[1]],
    )


def _first_reading(floors: Floors, zones: int) -> Floats:
    """(Z,) GU; the reference is agreed on the fresh floor."""
    first = np.empty(zones)
    first[floors.given["zone"][::-1]] = floors.given["value"][::-1]
    return first


def _first_day(below: Flags) -> Floats:
    """Days until first below along the last axis, 1 for the first; inf for never."""
    return np.where(below.any(axis=-1), below.argmax(axis=-1) + 1.0, np.inf)


def together(parts: list[Seen]) -> Seen:
    """Several seeds as one."""
    return Seen(
        **{
            field.name: np.concatenate([getattr(part, field.name) for part in parts])
            for field in fields(Seen)
        }
    )


def figures(seen: Seen) -> dict[str, object]:
    """The figures of a case."""
    mae, known = seen.error.mean(axis=0), seen.known_error.mean(axis=0)
    out = seen.early | seen.late
    known_out = seen.known_early | seen.known_late
    found: dict[str, object] = {
        "mae": by_day(mae),
        "mae_over_irreducible": by_day(mae / known),
        "mae_over_regression": by_day(mae / seen.rival_error.mean(axis=0)),
        "mae_over_mixed_regression": by_day(mae / seen.mixed_error.mean(axis=0)),
        "coverage": by_day(seen.inside.mean(axis=0)),
        "coverage_by_class": {
            name: rounded(seen.inside[seen.zone_class == place].mean())
            for place, name in enumerate(CLASS_NAMES)
        },
        "zones": int(seen.alive.size),
        "alive": int(seen.alive.sum()),
        "crossed": int(seen.crossed.sum()),
    }
    for name, wrong, early, late in (
        ("", out, seen.early, seen.late),
        ("known_", known_out, seen.known_early, seen.known_late),
    ):
        found |= {
            f"{name}crossing_coverage": rounded(1.0 - wrong[seen.alive].mean()),
            f"{name}crossed_coverage": rounded(1.0 - wrong[seen.crossed].mean()),
            f"{name}early": rounded(early[seen.alive].mean()),
            f"{name}late": rounded(late[seen.alive].mean()),
        }
    return found


CLASS_NAMES = tuple(
    f"{level}, {source}"
    for level in ("light", "moderate", "heavy", "extreme")
    for source in ("assumed", "counted")
)


def by_day(values: Floats) -> dict[str, float | None]:
    """A figure for each horizon."""
    return {str(day): rounded(value) for day, value in zip(DAYS, values, strict=True)}


def rounded(value: float) -> float | None:
    """Three decimals; None where there is nothing to average."""
    return None if np.isnan(value) else round(float(value), 3)
