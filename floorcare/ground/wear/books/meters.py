"""Readings of several meters brought into the language of one, and where a new one began."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from floorcare.findings import Finding
from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.equipment import Instrument, MeterBridge
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import MEASURE_RANGE, Measure, Reading, SurfaceState
from floorcare.ground.trade.surface import Effect

EPOCH_LEVEL_SD = 0.03
"""How far a meter without a bridge may read from the one before it, sd of ln gloss. Assumption:
1.5 GU at 50 GU."""
NEW_METER = Effect(level_sd=EPOCH_LEVEL_SD)
"""A meter without a bridge as the wear columns know it: nothing done to the floor."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Meters:
    """The contractor's meters and the bridges between them."""

    instruments: tuple[Instrument, ...] = ()
    bridges: tuple[MeterBridge, ...] = ()

    def known_on(self, day: date) -> "Meters":
        """The meters with the bridges made up to a day.

        Assumption: a bridge is known from the day it was made.
        """
        return replace(self, bridges=tuple(b for b in self.bridges if b.on <= day))


NO_METERS = Meters()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unbridged:
    """A zone's meter that no chain of bridges joins to the one before it, and its first day."""

    zone: str
    before: str
    meter: str
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class OneLanguage:
    """A zone's readings as its main meter would have read them.

    epochs : days on which another meter may have moved the level.
    unbridged : the meters behind them.
    mixed : readings left out, taken in one round with those of a meter that no bridge joins.
    """

    readings: tuple[Reading, ...]
    epochs: tuple[date, ...] = ()
    unbridged: tuple[Unbridged, ...] = ()
    mixed: tuple[Reading, ...] = ()


@dataclass(slots=True)
class _Bridges:
    """Bridges by pair, and what was found of chains so far."""

    of: Mapping[str, Mapping[str, list[tuple[date, float]]]]
    found: dict[tuple[str, str, date], float | None] = field(default_factory=dict)

    @classmethod
    def of_meters(cls, bridges: Iterable[MeterBridge]) -> "_Bridges":
        of: defaultdict[str, defaultdict[str, list[tuple[date, float]]]]
        of = defaultdict(lambda: defaultdict(list))
        for b in sorted(bridges, key=lambda b: (b.on, b.first, b.second)):
            of[b.first][b.second].append((b.on, b.offset_gu))
            of[b.second][b.first].append((b.on, -b.offset_gu))
        return cls(of)

    def offset(self, meter: str, main: str, day: date) -> float | None:
        """GU to add to a reading of that day by `meter` to read it as `main` would, None where no
        chain of bridges joins them; fewest bridges first."""
        key = (meter, main, day)
        if key not in self.found:
            self.found[key] = self._walked(meter, main, day)
        return self.found[key]

    def _walked(self, meter: str, main: str, day: date) -> float | None:
        reached, edge = {meter: 0.0}, [meter]
        while edge and main not in reached:
            following = []
            for here in edge:
                for there, made in sorted(self.of.get(here, {}).items()):
                    if there not in reached:
                        reached[there] = reached[here] + _on(made, day)
                        following.append(there)
            edge = following
        return reached.get(main)


def _on(made: Sequence[tuple[date, float]], day: date) -> float:
    """The latest bridge up to a day, else the first one after it."""
    earlier = [offset for on, offset in made if on <= day]
    return earlier[-1] if earlier else made[0][1]


def main_meter(book: ZoneBook, geometry_deg: int) -> str:
    """The meter a zone's gloss is spoken of in: that of the agreed reference, else the one most
    of its readings name, of two as common the earlier; "" where none is named.

    Assumption: a reference was read with the meter of that day's readings.
    """
    named = [r for r in book.readings if r.instrument and _is_gloss(r, geometry_deg)]
    agreed = {
        line.reference_on
        for line in book.promises
        if line.kind is PromiseKind.APPEARANCE and line.reference_gu is not None
    }
    of_reference = [r for r in named if r.taken_on in agreed]
    # Counter keeps the order in which meters were first seen
    count = Counter(r.instrument for r in of_reference or named)
    return max(count, key=lambda code: count[code]) if count else ""


def _is_gloss(r: Reading, geometry_deg: int) -> bool:
    return r.measure is Measure.GLOSS and r.geometry_deg == geometry_deg


def in_one_language(
    zone: str, readings: Sequence[Reading], main: str, geometry_deg: int, meters: Meters
) -> OneLanguage:
    """A zone's readings as its main meter would have read them.

    Gloss at the main angle by a bridged meter is moved by the bridge's offset; a meter that no
    bridge joins keeps its own language, and the level may have moved where it takes over. Other
    measures, other angles and readings that name no meter stay as they are.

    Parameters
    ----------
    readings : of the zone, in any order.
    main : the zone's main meter, see `main_meter`.
    meters : bridges known.

    Assumption: a bridge holds at every gloss, and until the next one; a bridge made after the
    reading serves where none was made before.
    """
    if len({r.instrument for r in readings if r.instrument} - {main}) == 0:
        return OneLanguage(readings=tuple(readings))
    bridges = _Bridges.of_meters(meters.bridges)
    low, high = MEASURE_RANGE[Measure.GLOSS]
    spoken: list[Reading] = []
    language: list[str] = []
    for r in readings:
        speaks, value = main, r.value
        if r.instrument and r.instrument != main and _is_gloss(r, geometry_deg):
            offset = bridges.offset(r.instrument, main, r.taken_on)
            if offset is None:
                speaks = _neighbour(bridges, r.instrument)
            elif value > 0:
                value = min(high, max(low, value + offset))
        spoken.append(r if value == r.value else replace(r, value=value))
        language.append(speaks)
    if set(language) == {main}:
        return OneLanguage(readings=tuple(spoken))
    return _parted(zone, spoken, language, geometry_deg)


def _neighbour(bridges: _Bridges, meter: str) -> str:
    """One name for all meters that bridges join: the first by code."""
    reached, edge = {meter}, [meter]
    while edge:
        beyond = {there for here in edge for there in bridges.of.get(here, {})}
        edge = sorted(beyond - reached)
        reached.update(edge)
    return min(reached)


def _parted(
    zone: str, readings: Sequence[Reading], language: Sequence[str], geometry_deg: int
) -> OneLanguage:
    """Rounds in order of time, each in one language; a change of language opens an epoch."""
    rounds: defaultdict[tuple[date, bool], Counter[str]] = defaultdict(Counter)
    meter: dict[str, str] = {}
    for r, speaks in zip(readings, language, strict=True):
        if r.instrument and _is_gloss(r, geometry_deg) and r.state is not SurfaceState.WET:
            rounds[r.taken_on, r.state is SurfaceState.AFTER_BURNISH][speaks] += 1
            meter.setdefault(speaks, r.instrument)
    taken: dict[tuple[date, bool], str] = {}
    epochs, unbridged = [], []
    last: tuple[tuple[date, bool], str] | None = None
    for at in sorted(rounds):
        count = rounds[at]
        now = min(count, key=lambda code: (last is None or code != last[1], -count[code], code))
        if last is not None and now != last[1]:
            (day_before, after), earlier = last
            epochs.append(max(day_before + timedelta(days=after), at[0] - timedelta(days=1)))
            unbridged.append(
                Unbridged(zone=zone, before=meter[earlier], meter=meter[now], on=at[0])
            )
        taken[at], last = now, (at, now)
    kept: list[Reading] = []
    mixed: list[Reading] = []
    for r, speaks in zip(readings, language, strict=True):
        at = (r.taken_on, r.state is SurfaceState.AFTER_BURNISH)
        named = r.instrument and _is_gloss(r, geometry_deg) and at in taken
        (mixed if named and speaks != taken[at] else kept).append(r)
    return OneLanguage(
        readings=tuple(kept),
        epochs=tuple(epochs),
        unbridged=tuple(unbridged),
        mixed=tuple(mixed),
    )


def unbridged_findings(unbridged: Iterable[Unbridged]) -> tuple[Finding, ...]:
    """Meters that took over without a bridge, each pair asked about once.

    Assumption: one bridge joins the two meters in every zone.
    """
    pairs: defaultdict[tuple[str, str], list[Unbridged]] = defaultdict(list)
    for each in unbridged:
        one, other = sorted((each.before, each.meter))
        pairs[one, other].append(each)
    findings = []
    for seen in pairs.values():
        first = min(seen, key=lambda each: (each.on, each.zone))
        zones = len({each.zone for each in seen})
        others = f" and {zones - 1} zones more" if zones > 2 else " and 1 zone more"
        findings.append(
            _asks(
                f"no bridge joins meter {first.meter} to {first.before}, which it followed in"
                f" zone {first.zone}{others if zones > 1 else ''}, first on {first.on}; the gloss"
                " of those zones is less certain since",
                first.meter,
                mend=f"read {first.before} and {first.meter} at the same stations on one day and"
                " enter the bridge",
            )
        )
    return tuple(findings)


def mixed_findings(mixed: Iterable[Reading]) -> tuple[Finding, ...]:
    """Rounds read with two meters that no bridge joins, each zone said once.

    Assumption: the meter the zone was read with before is the one believed.
    """
    first: dict[str, Reading] = {}
    for r in sorted(mixed, key=lambda r: (r.taken_on, r.taken_minute)):
        first.setdefault(r.zone, r)
    return tuple(
        _asks(
            f"zone {zone} was read on {r.taken_on} with {r.instrument} beside another meter that"
            " no bridge joins to it; what it read is kept but not used",
            f"{r.value:.1f} GU",
            mend="enter the bridge between the two meters: their offset at the same stations",
        )
        for zone, r in first.items()
    )


def calibration_findings(
    readings: Iterable[Reading], meters: Meters, since: date
) -> tuple[Finding, ...]:
    """Meters that read gloss without a calibration, each said once; they are believed still.

    Parameters
    ----------
    since : older readings are no longer asked about.

    Assumption: a lapsed calibration is no reason to doubt a meter, but to have it checked.
    """
    known = {meter.code: meter for meter in meters.instruments}
    lapsed: defaultdict[str, list[date]] = defaultdict(list)
    for r in readings:
        meter = known.get(r.instrument)
        if meter is None or r.measure is not Measure.GLOSS or r.taken_on < since:
            continue
        if not meter.calibrated_on(r.taken_on):
            lapsed[r.instrument].append(r.taken_on)
    return tuple(
        _asks(
            f"no calibration of meter {code} covers"
            f" {'1 reading' if len(days) == 1 else f'{len(days):,} readings'}, first on {min(days)}"
            f", last on {max(days)}; they are used",
            code,
            mend="enter the calibration, or have the meter calibrated",
        )
        for code, days in sorted(lapsed.items())
    )


def _asks(problem: str, value: str, *, mend: str) -> Finding:
    return Finding(problem=problem, value=value, mend=mend, weight="asks")
