"""The estimator on published paths of wear that cross a threshold.

Sources: W. Q. Meeker & L. A. Escobar (1998), Statistical Methods for Reliability Data, Wiley,
chapter 13 (GaAs lasers; fatigue cracks in Alloy A after Hudak et al. (1978), AFML-TR-78-40); the
`luminosity` set of the R package SMRD.data. What each file shows stands in expected_values.json
beside it.
"""

import csv
import json
from collections import defaultdict
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.ahead import first_day_below, gloss_ahead
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.estimate import Fit, before_readings, estimate
from floorcare.ground.wear.history import Transit, line_up
from floorcare.ground.wear.learn import learn
from floorcare.ground.wear.pooled import Pooled
from floorcare.ground.wear.sight import Sight, see, slopes
from floorcare.ground.wear.solve import LEVEL_LN_MEAN, Solved, log_evidence, solve
from tests.ground.wear.fleets import LAW

Paths = dict[int, tuple[np.ndarray, np.ndarray]]

STRAIGHT = replace(
    LAW,
    ageing=0.0,
    film_rate=0.0,
    finish_floor=0.0,
    haze_loss=0.0,
    film_gloss=0.0,
    film_scratch_share=0.0,
    instrument_sd=0.01,
    station_sd=0.0,
    first_reading_sd=0.01,
    gross_share=0.01,
)
"""The law without haze, film and finish floor: ln gloss falls by the scratch rate a thousand."""
TOP = 4.0
"""ln gloss where a path begins; any other would do."""
OWN_CLASS = 3


@pytest.fixture(scope="module")
def folder(reference_folder: Path) -> Path:
    return reference_folder / "degradation"


@pytest.fixture(scope="module")
def shown(folder: Path) -> dict[str, Any]:
    """What the files show."""
    found: dict[str, Any] = json.loads((folder / "expected_values.json").read_text("utf-8"))
    return found


def _paths(file: Path, unit: str, time: str, value: str) -> Paths:
    rows = defaultdict(list)
    with file.open(encoding="utf-8", newline="") as lines:
        for line in csv.DictReader(lines):
            rows[int(line[unit])].append((float(line[time]), float(line[value])))
    return {name: tuple(np.array(rows[name]).T) for name in sorted(rows)}  # type: ignore[misc]


# ---- straight lines by least squares -----------------------------------------------------------


def _lines(paths: Paths) -> tuple[np.ndarray, np.ndarray]:
    """Constant and slope of each path: our filter and least squares, no walks, next to no prior.

    Values are taken a thousandfold smaller, so that the level's prior sd is 2,000 of them.
    """
    zone = np.repeat(np.arange(len(paths)), [time.size for time, _ in paths.values()])
    time, value = (np.concatenate(column) for column in zip(*paths.values(), strict=True))
    zones, count = len(paths), zone.size
    still = [
        Transit(drift_var=np.zeros(n), shock_kept=np.ones(n), shock_var=np.zeros(n))
        for n in (count, zones)
    ]
    nobody = see(_columns({0: (np.ones(1), np.ones(1))}, 1, np.ones(1)), STRAIGHT).looks
    sight = Sight(
        looks=nobody,
        at=np.arange(count),
        today=np.arange(zones),
        lineup=line_up(zone, zones),
        reading=np.arange(count),
        zone=zone,
        ln=LEVEL_LN_MEAN + 1e-3 * value,
        variance=np.full(count, 1e-6),
        to_reading=still[0],
        to_today=still[1],
    )
    scale = time.max()
    nought = np.zeros((1, zones))
    solved: Solved = solve(
        sight,
        np.zeros(count),
        time[None] / scale,
        nought,
        sight.variance,
        nought,
        np.full((zones, 1, 1), 1e-12),
    )
    return (solved.walks[0] - LEVEL_LN_MEAN) / 1e-3, solved.mean[0] / scale / 1e-3


def test_filtered_straight_lines_cross_at_the_published_pseudo_failure_times(
    folder: Path, shown: dict[str, Any]
) -> None:
    """Meeker & Escobar (1998), chapter 13: 15 lasers, 10 % rise of current, times in hours.

    Our filter with a constant and a slope to be found is the least-squares line of each laser;
    tolerance: the published rounding to one hour.
    """
    laser = shown["gaas_laser"]
    paths = _paths(folder / "gaas_laser.csv", "unit", "hours", "increase")
    constant, slope = _lines(paths)
    crossing = (laser["threshold"] - constant) / slope
    assert sum(time.size for time, _ in paths.values()) == 255
    assert np.round(crossing).tolist() == laser["published_pseudo_failure_times_hours"]
    assert constant == pytest.approx([unit["intercept"] for unit in laser["units"]], abs=1e-5)


def _paris(exponent: float) -> float:
    """Paris' law a(t)^k = a₀^k + k·C·π^(m/2)·t is straight in a^k with k = 1 − m/2."""
    return 1.0 - exponent / 2.0


def test_cracks_under_paris_law_cross_where_they_were_seen_to(
    folder: Path, shown: dict[str, Any]
) -> None:
    """Alloy A, 1.6 inches, each specimen's exponent as the file's own fit gives it: of 12 specimens
    that got there within 1 % of where they did, of 9 that did not after the last reading; crossing
    and C·π^(m/2) within 1 and 3 % of those fits, which hold a(0) at 0.9 inches where ours does not.
    """
    crack = shown["alloy_a_crack"]
    paths = _paths(folder / "alloy_a_crack.csv", "specimen", "megacycles", "inches")
    power = np.array([_paris(unit["m"]) for unit in crack["specimens"]])
    by_unit = dict(zip(paths, power, strict=True))
    constant, slope = _lines({unit: (t, a ** by_unit[unit]) for unit, (t, a) in paths.items()})
    crossing = (crack["threshold"] ** power - constant) / slope
    seen = [unit["observed_crossing_interpolated"] for unit in crack["specimens"]]
    failed = np.array([crossed is not None for crossed in seen])
    assert failed.sum() == crack["failed_before_0_12"]
    observed = np.array([crossed for crossed in seen if crossed is not None])
    assert crossing[failed] == pytest.approx(observed, rel=0.01)
    assert (crossing[~failed] > 0.12).all()
    own = np.array([unit["pseudo_crossing_megacycles"] for unit in crack["specimens"]])
    assert crossing == pytest.approx(own, rel=0.01)
    of_fits = np.array([unit["C_pi_half_m"] for unit in crack["specimens"]])
    assert slope / power == pytest.approx(of_fits, rel=0.03)


# ---- the whole estimator: learned from first halves, held against second halves ------------------


def _columns(paths: Paths, known: int, exposure: np.ndarray) -> WearColumns:
    """The first `known` steps of each path, time in steps; a value at step 0 stands on the eve."""
    zones = len(paths)
    zone, day, fall = [], [], []
    for place, (time, value) in enumerate(paths.values()):
        step = np.round(time).astype(np.int64)
        early = step <= known
        zone.append(np.full(early.sum(), place))
        day.append(step[early] - 1)
        fall.append(value[early])
    count = sum(part.size for part in zone)
    return WearColumns(
        thousand_passes=np.tile(exposure[:known], (zones, 1)),
        treatments=(),
        reading_zone=np.concatenate(zone),
        reading_day=np.concatenate(day),
        reading_ln=TOP - np.concatenate(fall),
        reading_stations=np.ones(count, dtype=np.int64),
        reading_after_burnish=np.ones(count, dtype=bool),
        counted=np.ones(zones, dtype=bool),
        opening=np.zeros(zones, dtype=np.int64),
        opening_about_days=np.zeros(zones),
        start_day=np.zeros(zones, dtype=np.int64),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Foretold:
    """What the first half of each path says of the second.

    ends : units with a reading on the last step; held : those whose band holds it.
    early, inside, late : units not yet across, by where they crossed (or did not) against 5–95 %.
    evidence : ln density of the first halves, up to a constant.
    """

    ends: int
    held: int
    early: int
    inside: int
    late: int
    evidence: float


def _foretold(
    paths: Paths, *, threshold: float, known: int, steps: int, rate: float, power: float = 1.0
) -> Foretold:
    """Pool, estimate and forecast: paths of (steps, fall) that begin near 0 and rise.

    Parameters
    ----------
    rate : a usual fall a unit of exposure, where pooling begins.
    power : exposure by then grows with steps to this power.
    """
    exposure = np.diff(np.arange(steps + 1.0) ** power)
    columns = _columns(paths, known, exposure)
    law = replace(STRAIGHT, scratch_rate=rate)
    own_class = np.full(columns.zones, OWN_CLASS)
    pooled: Pooled = learn(columns, law, own_class)
    fit = estimate(columns, pooled.law(law), pooled.prior(own_class))
    ahead = np.tile(exposure[known:], (columns.zones, 1))
    median, lower, upper = gloss_ahead(fit, ahead, (), np.array([steps - known]))
    promise = np.full(columns.zones, np.exp(TOP - threshold))
    days = first_day_below(fit, ahead, (), promise, seen_haze_kept=1.0, draws=512)
    held = ends = early = inside = late = 0
    for place, (time, fall) in enumerate(paths.values()):
        last = np.flatnonzero(np.round(time) == steps)
        if last.size:
            sd = np.hypot(np.log(upper / lower)[place, 0] / 3.29, fit.law.instrument_sd)
            off = TOP - fall[last[0]] - np.log(median[place, 0])
            ends, held = ends + 1, held + int(abs(off) <= 1.645 * sd)
        below = np.flatnonzero(fall >= threshold)
        crossed = np.round(time[below[0]]) - known if below.size else np.inf
        if crossed > 0:
            early += int(crossed < days[place, 0])
            late += int(crossed > days[place, 2])
            inside += int(days[place, 0] <= crossed <= days[place, 2])
    return Foretold(
        ends=ends,
        held=held,
        early=early,
        inside=inside,
        late=late,
        evidence=_evidence(fit, pooled, own_class, columns),
    )


def _evidence(fit: Fit, pooled: Pooled, own_class: np.ndarray, columns: WearColumns) -> float:
    law: WearLaw = fit.law
    at = fit.mean[:, :2].T
    ln, slope = slopes(columns, law, fit.sight, at)
    start, known = before_readings(pooled.prior(own_class), 2)
    variance = fit.sight.variance / fit.weight
    return float(log_evidence(fit.sight, ln, slope, at, variance, start, known).sum())


def test_lasers_second_halves_are_held_where_textbook_intervals_fail(
    folder: Path, shown: dict[str, Any]
) -> None:
    """Least-squares 90 % prediction intervals from the first 2000 h hold the reading at 4000 h in 7
    of 15 lasers. Ours, with a walk and pooled slopes, in 11; the day 10 % is passed, or that it is
    not within 4000 h, lies in the 5–95 % interval of 14. (At 90 % one expects 13 or 14; 11 or fewer
    come of true 90 % intervals once in 18 times.)"""
    laser = shown["gaas_laser"]
    paths = _paths(folder / "gaas_laser.csv", "unit", "hours", "increase")
    tenths = {unit: (hours / 250.0, 0.1 * rise) for unit, (hours, rise) in paths.items()}
    found = _foretold(tenths, threshold=1.0, known=8, steps=16, rate=0.05)
    assert laser["threshold"] == 10
    assert laser["pi90_extrapolation_2000_to_4000_coverage"] == [7, 15]
    assert found.ends == 15
    assert found.held >= 11
    assert found.early + found.inside + found.late == 15
    assert found.inside >= 14


def test_cracks_second_halves_are_held(folder: Path, shown: dict[str, Any]) -> None:
    """From the first 0.06 Mcycles: length at 0.12 in the 90 % band of 11 of the 13 specimens read
    then, the passing of 1.6 inches, or that it is not by then, in the 5–95 % interval of 20 of 21.
    (13 longest-lived of 21, chosen by surviving, so less than 90 % is to be expected of them.)"""
    crack = shown["alloy_a_crack"]
    power = _paris(crack["two_stage_mean_m"])  # one for all, as pooling takes them alike
    paths = _paths(folder / "alloy_a_crack.csv", "specimen", "megacycles", "inches")

    def fall(length: np.ndarray | float) -> Any:
        return crack["start"] ** power - length**power

    straight = {unit: (cycles / 0.01, fall(a)) for unit, (cycles, a) in paths.items()}
    found = _foretold(
        straight, threshold=float(fall(crack["threshold"])), known=6, steps=12, rate=0.055
    )
    assert found.ends >= crack["right_censored"]
    assert found.held >= found.ends - 2
    assert found.early + found.inside + found.late == len(crack["specimens"]) == 21
    assert found.inside >= 20


def test_luminosity_is_foretold_once_the_evidence_has_chosen_its_time_scale(
    folder: Path, shown: dict[str, Any]
) -> None:
    """ln luminosity is no straight line in hours: so taken, the last reading lies in 6 of 25 bands.
    The evidence of the first halves alone prefers the square root of time by more than 30 nats;
    under it the last reading lies in 20 of 25, and of the 10 units still above 0.70 the passing
    (or its absence) in the 5–95 % interval of 8, none too late. Under-coverage is stated, not
    hidden: the published set gives no cause for the slowing."""
    light = shown["luminosity_65C"]
    paths = _paths(folder / "luminosity_65C.csv", "unit", "hours", "luminosity")
    seen = [unit["first_reading_at_or_below_0_70"] for unit in light["units"]]
    falls = {unit: (hours / 336.0, -np.log(value)) for unit, (hours, value) in paths.items()}
    found = {
        power: _foretold(
            falls,
            threshold=-float(np.log(light["threshold"])),
            known=14,
            steps=29,
            rate=0.25 / 14**power,
            power=power,
        )
        for power in (0.5, 1.0)
    }
    above = sum(crossed is None or crossed > 14 * 336 for crossed in seen)
    for one in found.values():
        assert one.ends == 25
        assert one.early + one.inside + one.late == above == 10
    assert found[0.5].evidence > found[1.0].evidence + 30.0
    assert found[0.5].held >= 20
    assert found[1.0].held <= 8
    assert found[0.5].inside >= 8
    assert found[0.5].late == 0
