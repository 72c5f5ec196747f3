"""A backtest with plain figures, for the tests of what is said of one."""

from dataclasses import replace
from datetime import date

from floorcare.ground.wear.forecast import LEVELS
from floorcare.ground.wear.trial.backtest import HORIZONS, Score
from floorcare.ground.wear.trial.rivals import RIVALS
from floorcare.services.backtest_wear import Backtest, ForecastHeld, GroupScore


def scored(
    readings: int, *, forecasts: int = 100, inside: tuple[float, ...] = (0.51, 0.79, 0.88)
) -> Score:
    """A score of so many readings."""
    return Score(
        readings=readings,
        forecasts=forecasts,
        mean_error_gu=1.81,
        bias_gu=-0.02,
        inside=inside,
        rivals_gu=(3.1, 3.8, 3.4, 2.1),
    )


def group(kind: str, name: str, readings: int, forecasts: int = 100) -> GroupScore:
    """A group of so many readings, at all horizons alike."""
    one = scored(readings, forecasts=forecasts)
    return GroupScore(kind=kind, name=name, whole=one, horizons=(one,) * len(HORIZONS))


FORECAST = ForecastHeld(
    surface="polished_concrete",
    zone="MARKET/LANE",
    traffic="heavy",
    counted=True,
    evidence="measured",
    origin=date(2026, 1, 31),
    read_on=date(2026, 2, 20),
    days_ahead=20,
    state="after cleaning",
    stations=3,
    read_gu=47.25,
    forecast_gu=48.5,
    lows=(47.5, 46.5, 46.0),
    highs=(49.5, 50.5, 51.0),
    rivals=(49.0, 48.0, 47.75, 48.25),
)
BACKTEST = Backtest(
    today=date(2026, 3, 2),
    months=12,
    origins=(date(2025, 3, 7), date(2026, 1, 31)),
    levels=LEVELS,
    rivals=RIVALS,
    days_ahead=HORIZONS,
    whole=group("", "all", 472, 1269),
    groups=(
        group("surface", "polished_concrete", 463),
        group("surface", "terrazzo", 9),
        group("class", "heavy, counted", 472),
        group("evidence", "measured", 472),
    ),
    without=2,
    forecasts=(FORECAST,),
)
_NONE = Score(
    readings=0, forecasts=0, mean_error_gu=None, bias_gu=None, inside=None, rivals_gu=None
)
EMPTY = replace(
    BACKTEST,
    whole=GroupScore(kind="", name="all", whole=_NONE, horizons=(_NONE,) * len(HORIZONS)),
    groups=(),
    forecasts=(),
    without=0,
)
