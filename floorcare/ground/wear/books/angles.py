"""Gloss read at another angle than the zone's own, turned into it where the zone taught how.

Where a zone was read at two angles on the same days, ln gloss at one is a straight line of ln gloss
at the other. Days with only the other angle then speak too, with the line's own error besides.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import exp, log, sqrt

import numpy as np

from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.trade.surface import WearLaw

LEAST_DAYS_BOTH = 4
"""So many rounds at both angles teach a line; with fewer the other angle stays aside.
Assumption."""
SLOPE_MEAN, SLOPE_SD = 1.0, 0.5
"""What is believed of a line's slope before: gloss falls at both angles alike. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleLine:
    """ln gloss at the main angle = middle_main + slope × (ln gloss at the other − middle_other).

    slope_sd : of the slope; scatter_sd : of a round at the main angle about the line, ln gloss.
    rounds : at both angles, behind it.
    """

    middle_main: float
    middle_other: float
    slope: float
    slope_sd: float
    scatter_sd: float
    rounds: int

    def at(self, ln_other: float) -> tuple[float, float]:
        """ln gloss at the main angle, and the sd of a round read there about it.

        Source: prediction from a straight line (Draper & Smith, Applied Regression Analysis, 3rd
        ed. 1998, section 3.1).
        """
        apart = ln_other - self.middle_other
        of_line = self.scatter_sd**2 / self.rounds + (self.slope_sd * apart) ** 2
        return self.middle_main + self.slope * apart, sqrt(self.scatter_sd**2 + of_line)


def angle_line(ln_main: Sequence[float], ln_other: Sequence[float], error: float) -> AngleLine:
    """The line through rounds read at both angles.

    Parameters
    ----------
    ln_main, ln_other : ln gloss of each, at least three rounds.
    error : sd of one round's reading error; two of them the scatter is never believed to be below.

    Raises
    ------
    ValueError : fewer than three rounds.

    Source: least squares with a normal prior on the slope (Rao, Linear Statistical Inference, 2nd
    ed. 1973, 4a.11).
    """
    y, x = np.asarray(ln_main), np.asarray(ln_other)
    if y.size < 3 or y.shape != x.shape:
        raise ValueError(f"{y.size} rounds at both angles: allowed 3 or more")
    apart, off = x - x.mean(), y - y.mean()
    squares, across = float(apart @ apart), float(apart @ off)
    variance = 2.0 * error**2
    for _ in range(2):
        known = squares / variance + 1.0 / SLOPE_SD**2
        slope = (across / variance + SLOPE_MEAN / SLOPE_SD**2) / known
        left = off - slope * apart
        variance = max(2.0 * error**2, float(left @ left) / (y.size - 2))
    return AngleLine(
        middle_main=float(y.mean()),
        middle_other=float(x.mean()),
        slope=slope,
        slope_sd=1.0 / sqrt(squares / variance + 1.0 / SLOPE_SD**2),
        scatter_sd=sqrt(variance),
        rounds=int(y.size),
    )


def at_main_angle(
    rounds: Sequence[RoundValue], main: Mapping[str, int], law: WearLaw
) -> tuple[RoundValue, ...]:
    """Rounds at another angle as the zone's main angle would have read them.

    Only of days and states without a round at the main angle, and only where the zone was read at
    both often enough; each carries the line's error in `more_sd`.

    Parameters
    ----------
    rounds : of any zones, measures and states; wet floors and zeros are left alone.
    main : the main angle of each zone.
    law : the surface's law, for the reading error.

    Assumption: a zone's line holds through coats and polishes.
    """
    gloss = [
        r
        for r in rounds
        if r.measure is Measure.GLOSS and r.state is not SurfaceState.WET and r.value > 0
    ]
    both, alone = _beside(gloss, main)
    turned: list[RoundValue] = []
    for key, of_angle in alone.items():
        pairs = both.get(key, [])
        if len(pairs) < LEAST_DAYS_BOTH:
            continue
        stations = min(min(a.stations, b.stations) for a, b in pairs)
        line = angle_line(
            [log(a.value) for a, _ in pairs],
            [log(b.value) for _, b in pairs],
            _error(law, stations),
        )
        for r in of_angle:
            ln, sd = line.at(log(r.value))
            error = _error(law, r.stations)
            more = sqrt(max(error**2, sd**2 - error**2))
            turned.append(replace(r, value=exp(ln), geometry_deg=main[r.zone], more_sd=more))
    # a day read at two other angles counts once, by the better line
    best: dict[tuple[str, date, SurfaceState], RoundValue] = {}
    for r in sorted(turned, key=lambda r: r.more_sd):
        best.setdefault(_when(r), r)
    return tuple(best.values())


def _beside(
    gloss: Sequence[RoundValue], main: Mapping[str, int]
) -> tuple[
    Mapping[tuple[str, int], list[tuple[RoundValue, RoundValue]]],
    Mapping[tuple[str, int], list[RoundValue]],
]:
    """Rounds at another angle by zone and angle: with the main one beside them, and alone."""
    own = {_when(r): r for r in gloss if r.geometry_deg == main[r.zone]}
    both: defaultdict[tuple[str, int], list[tuple[RoundValue, RoundValue]]] = defaultdict(list)
    alone: defaultdict[tuple[str, int], list[RoundValue]] = defaultdict(list)
    for r in gloss:
        if r.geometry_deg != main[r.zone]:
            there = own.get(_when(r))
            if there is None:
                alone[r.zone, r.geometry_deg].append(r)
            else:
                both[r.zone, r.geometry_deg].append((there, r))
    return both, alone


def _when(r: RoundValue) -> tuple[str, date, SurfaceState]:
    return r.zone, r.on, r.state


def _error(law: WearLaw, stations: int) -> float:
    return sqrt(law.instrument_sd**2 + law.station_sd**2 / stations)
