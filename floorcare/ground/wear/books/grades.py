"""Appearance grades beside gloss: each an interval of the fresh floor's gloss, not a number of GU.

A grade says between which photo cards a floor looked. Where the gloss readings of the zone already
say so it changes nothing; where they say otherwise it pulls to the nearer edge, weakly. Without a
gloss reading there is nothing it could be a share of, and it says nothing of gloss.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil, floor, inf, log
from typing import Any

import numpy as np

from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.wear.columns import READING_COLUMNS, WearColumns
from floorcare.ground.wear.estimate import Fit, estimate
from floorcare.ground.wear.model import Flags, Floats, FloorState, Whole, ln_gloss
from floorcare.ground.wear.prior import Prior
from floorcare.ground.wear.sight import LEVEL

GRADE_FROM = (0.0, 0.55, 0.70, 0.80, 0.90)
"""Least share of the fresh floor's gloss that earns each grade, 1 to 5. Assumption."""
GRADE_SD = 0.10
"""How far an eye misses the edge of a photo card, sd of ln gloss. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GradeLooks:
    """Appearance grades of zones, one row a zone, day and state.

    zone, day : (G,), as in the wear columns; after : (G,), looked at after that day's treatments.
    low, high : (G,), the interval as ln share of the fresh gloss; -inf or inf where open.
    """

    zone: Whole
    day: Whole
    after: Flags
    low: Floats
    high: Floats

    def rows(self, index: Flags | Whole) -> "GradeLooks":
        """Some of them.

        Assumption: none.
        """
        return GradeLooks(
            zone=self.zone[index],
            day=self.day[index],
            after=self.after[index],
            low=self.low[index],
            high=self.high[index],
        )


def grade_interval(grade: float) -> tuple[float, float]:
    """The interval of a grade as ln share of the fresh gloss; a grade between two spans both.

    Parameters
    ----------
    grade : 1 (worn out) to 5 (as just polished).

    >>> [round(share, 3) for share in grade_interval(4)]
    [-0.223, -0.105]
    >>> grade_interval(5)[1], grade_interval(1)[0]
    (inf, -inf)

    Raises
    ------
    ValueError : no grade from 1 to 5.

    Assumption: the limits above.
    """
    if not 1.0 <= grade <= 5.0:
        raise ValueError(f"grade {grade:g}: allowed 1 to 5")
    least, above = GRADE_FROM[floor(grade) - 1], (*GRADE_FROM, inf)[ceil(grade)]
    return (log(least) if least > 0 else -inf), (log(above) if above < inf else inf)


def grade_looks(rounds: Sequence[Sequence[RoundValue]], first: date) -> GradeLooks:
    """The grades among the rounds of each zone.

    Parameters
    ----------
    rounds : of each zone, any measure and state.
    first : the first day of the columns.

    Assumption: a wet floor looks better than it is, and is left out.
    """
    found = [
        (z, (r.on - first).days, r.state is SurfaceState.AFTER_BURNISH, *grade_interval(r.value))
        for z, of_zone in enumerate(rounds)
        for r in of_zone
        if r.measure is Measure.GRADE and r.state is not SurfaceState.WET
    ]
    table = np.array(found, dtype=np.float64).reshape(-1, 5)
    return GradeLooks(
        zone=table[:, 0].astype(np.int64),
        day=table[:, 1].astype(np.int64),
        after=table[:, 2].astype(np.bool_),
        low=table[:, 3],
        high=table[:, 4],
    )


def fit_with_grades(fit: Fit, prior: Prior, looks: GradeLooks) -> Fit:
    """The fit with what grades say beside its gloss readings.

    Each grade is held against what the gloss readings foretell for its day. Inside its interval it
    has no say; outside it enters as a reading at the nearer edge with `GRADE_SD` besides.

    Parameters
    ----------
    fit : from gloss alone; given back as it is where no grade has a say.
    prior : as the fit was made with.

    Assumption: grades count only from a zone's first gloss reading on; limits and sd above.
    """
    known = looks.rows(_after_gloss(fit.columns, looks))
    if not known.zone.size:
        return fit
    edge = _nearer_edges(fit, prior, known)
    outside = np.isfinite(edge)
    if not outside.any():
        return fit
    columns = _with_rows(fit.columns, known.rows(outside), edge[outside])
    return estimate(columns, fit.law, prior)


def _after_gloss(columns: WearColumns, looks: GradeLooks) -> Flags:
    """(G,), looks that come after the first usable gloss reading of their zone."""
    first = np.full(columns.zones, np.iinfo(np.int64).max)
    used = np.flatnonzero(columns.usable)
    moment = 2 * columns.reading_day[used] + columns.reading_after_burnish[used]
    np.minimum.at(first, columns.reading_zone[used], moment)
    later: Flags = 2 * looks.day + looks.after > first[looks.zone]
    return later


def _nearer_edges(fit: Fit, prior: Prior, looks: GradeLooks) -> Floats:
    """(G,) ln GU of the edge each grade pulls to; NaN where its zone's gloss lies inside."""
    zones = np.unique(looks.zone)
    fresh = fit.mean[:, LEVEL] + ln_gloss(FloorState.fresh(1, fit.law), fit.law)
    here = _among(looks, zones)
    columns = _with_rows(fit.columns.rows(zones), here, fresh[looks.zone])
    alone = estimate(columns, fit.law, prior.of(zones), hidden=columns.graded)
    off = alone.residual * np.hypot(alone.foretold_sd, alone.error_sd)
    foretold = (columns.reading_ln - off)[columns.graded]
    low, high = fresh[looks.zone] + looks.low, fresh[looks.zone] + looks.high
    return np.where(foretold < low, low, np.where(foretold > high, high, np.nan))


def _among(looks: GradeLooks, zones: Whole) -> GradeLooks:
    """The looks with each zone named by its place among `zones`, ascending.

    Assumption: every zone of the looks is among them.
    """
    return replace(looks, zone=np.searchsorted(zones, looks.zone))


def _with_rows(columns: WearColumns, looks: GradeLooks, ln: Floats) -> WearColumns:
    """The columns with a graded row behind the readings for each look."""
    count = looks.zone.size
    more: dict[str, Any] = {
        "reading_zone": looks.zone,
        "reading_day": looks.day,
        "reading_ln": ln,
        "reading_stations": np.ones(count, dtype=np.int64),
        "reading_after_burnish": looks.after,
        "extra_sd": np.full(count, GRADE_SD),
        "is_grade": np.ones(count, dtype=np.bool_),
    }
    before = {name: getattr(columns, name) for name in READING_COLUMNS}
    before |= {"extra_sd": columns.more_sd, "is_grade": columns.graded}
    longer: dict[str, Any] = {
        name: np.concatenate([column, more[name]]) for name, column in before.items()
    }
    return replace(columns, **longer)
