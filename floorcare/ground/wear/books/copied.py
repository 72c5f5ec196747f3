"""Series of station values that look copied: alike where chance hardly makes them so."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import pi, sqrt

from floorcare.ground.trade.reading import Measure, Reading, SurfaceState

LEAST_VALUES = 3
"""Fewer values than this say nothing about copying. Assumption."""
SPREAD_BETWEEN_ROUNDS = 0.10
"""Sd of a station from round to round, as a share of its value. Assumption."""
SPREAD_BETWEEN_STATIONS = 0.05
"""Sd of stations of one round, as a share of their value; as the wear law's. Assumption."""
MOST_BY_LUCK = 0.01
"""Series are asked about where luck makes such a likeness less often than this. Assumption."""
_LEAST_SD = 0.5


RoundKey = tuple[str, date, Measure, int, SurfaceState]
"""What makes readings one round: zone, day, measure, geometry and state."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StationSeries:
    """The values of one round, station by station.

    stations, values : as many of each, in the order of the stations.
    """

    key: RoundKey
    stations: tuple[str, ...]
    values: tuple[float, ...]

    @property
    def zone(self) -> str:
        """SITE/ZONE."""
        return self.key[0]

    @property
    def on(self) -> date:
        """The day it was read."""
        return self.key[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeSeries:
    """A series that looks copied: from `other`, or from one value where that is None."""

    series: StationSeries
    other: StationSeries | None


def round_key(zone: str, reading: Reading) -> RoundKey:
    """The round a reading belongs to; `zone` is SITE/ZONE.

    Assumption: what is read of a zone on one day in one state is one round.
    """
    r = reading
    return (zone, r.taken_on, r.measure, r.geometry_deg, r.state)


def station_series(readings: Mapping[str, Iterable[Reading]]) -> tuple[StationSeries, ...]:
    """The series of readings by their zone, SITE/ZONE, in the order of zone and day.

    Only gloss read at stations makes a series.

    Assumption: grades and slip repeat by nature, and say nothing about copying.
    """
    rounds: defaultdict[RoundKey, list[Reading]] = defaultdict(list)
    for zone, of in readings.items():
        for reading in of:
            if reading.measure is Measure.GLOSS and reading.station:
                rounds[round_key(zone, reading)].append(reading)
    series = []
    for key in sorted(rounds):
        ordered = sorted(rounds[key], key=lambda r: (r.station, r.taken_minute))
        stations = tuple(reading.station for reading in ordered)
        values = tuple(reading.value for reading in ordered)
        series.append(StationSeries(key=key, stations=stations, values=values))
    return tuple(series)


def find_alike(
    new: Sequence[StationSeries], known: Iterable[StationSeries]
) -> tuple[AlikeSeries, ...]:
    """New series whose values are all one, or those of another round in the same order.

    Parameters
    ----------
    new : series just typed or read from an export, each held against all others too.
    known : series that are kept already.

    Returns
    -------
    At most one likeness for each new series, in their order; of two new ones that are alike the
    later is named.

    Assumption: station values are normal and independent, with the spreads above; a likeness is
    told where fewer than MOST_BY_LUCK of such would come about in as many comparisons.
    """
    by_values: defaultdict[tuple[float, ...], list[StationSeries]] = defaultdict(list)
    compared = 0
    for series in known:
        by_values[series.values].append(series)
        compared += 1
    found = []
    for series in sorted(new, key=lambda s: s.on):
        if len(series.values) >= LEAST_VALUES:
            others = [o for o in by_values[series.values] if o.key != series.key]
            if others and chance_alike(series.values) * max(1, compared) < MOST_BY_LUCK:
                found.append(AlikeSeries(series=series, other=_nearest(series, others)))
            elif len(set(series.values)) == 1 and chance_all_one(series.values) < MOST_BY_LUCK:
                found.append(AlikeSeries(series=series, other=None))
        by_values[series.values].append(series)
        compared += 1
    place = {series.key: at for at, series in enumerate(new)}
    return tuple(sorted(found, key=lambda alike: place[alike.series.key]))


def chance_alike(values: Sequence[float]) -> float:
    """The chance that another round shows the same values by luck.

    Assumption: two normal values of sd s, read to d, are the same with chance d / (2 s √π).
    """
    return _same(values, SPREAD_BETWEEN_ROUNDS) ** len(values)


def chance_all_one(values: Sequence[float]) -> float:
    """The chance that a round's stations all show one value by luck.

    Assumption: as for two rounds, with the spread between stations.
    """
    return _same(values, SPREAD_BETWEEN_STATIONS) ** (len(values) - 1)


def _same(values: Sequence[float], spread: float) -> float:
    """Chance that one value comes out the same again, at most 1."""
    sd = max(_LEAST_SD, spread * sum(map(abs, values)) / len(values))
    return min(1.0, _read_to(values) / (2 * sd * sqrt(pi)))


def _read_to(values: Sequence[float]) -> float:
    """The last decimal the values are read to: 1, 0.1, 0.01 or 0.001."""
    for decimals in range(3):
        if all(abs(value - round(value, decimals)) < 1e-9 for value in values):
            return 10.0**-decimals
    return 0.001


def _nearest(series: StationSeries, others: Sequence[StationSeries]) -> StationSeries:
    """The likeliest one it was copied from: of its own zone first, then the nearest day."""
    return min(others, key=lambda o: (o.zone != series.zone, abs((o.on - series.on).days), o.zone))
