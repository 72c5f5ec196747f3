"""Reading rounds of the invented floors: when they were read, with what, and what was typed."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from math import exp, log, sqrt

import numpy as np
from lives import (
    CLIMBS,
    Lives,
    acceptance_day,
    date_of,
    day_of,
    is_work_night,
    nobody_there,
    site_of,
    stream,
)
from places import AS_OF, InventedZone

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.trade.treatment import Work

GAP_DAYS = {"twice a quarter": 45.6, "monthly": 30.4}
LEFT_OUT_SHARE = 0.05
"""Rounds nobody got round to."""
METER_AWAY = {"KINO": (date(2026, 1, 20), date(2026, 5, 3))}
"""A site whose meter was away, so that a stretch of its readings is missing."""
STATION_SHARE = 0.8
"""Share of the station error that belongs to the spot and stays; the rest is new each time."""
METERS = {"TARNHILL": ("GM-11", "GM-12"), "FLOHRTAL": ("GM-21",)}
READERS = {"TARNHILL": ("Ines", "Theo", "R.K."), "FLOHRTAL": ("Jana", "Lutz", "M.W.")}
MISTYPED = ("MUSEUM/FOYER-DOOR", date(2025, 12, 1))
"""Zone of three stations, and the day from which its next round has one value a tenth too small."""
SLIP_TESTS = (
    # SITE/ZONE, taken on, state, method, values
    ("CONCOURSE/RAMP", date(2024, 12, 4), "wet DCOF", (0.52, 0.50, 0.51)),
    ("CONCOURSE/RAMP", date(2025, 6, 11), "wet DCOF", (0.49, 0.50, 0.48)),
    ("CONCOURSE/RAMP", date(2026, 5, 13), "wet DCOF", (0.47, 0.46, 0.48)),
    ("CONCOURSE/RAMP", date(2026, 11, 11), "wet DCOF", (0.43, 0.42, 0.44)),
    ("KLINIK/MAIN-DOOR", date(2024, 12, 10), "pendulum PTV", (46, 45, 47)),
    ("KLINIK/MAIN-DOOR", date(2025, 11, 18), "pendulum PTV", (43, 44, 42)),
    ("KLINIK/MAIN-DOOR", date(2026, 10, 20), "pendulum PTV", (41, 40, 42)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One zone read on one day.

    values : GU by station, as typed.
    gross : the meter was out, or the floor dirty.
    mistyped : station whose value lost its decimal place, "" for none.
    """

    zone: InventedZone
    on: date
    minute: int
    after_burnish: bool
    values: tuple[float, ...]
    meter: str
    reader: str
    witness: str
    gross: bool
    mistyped: str

    @property
    def state(self) -> str:
        """The floor's state in the word of the file."""
        return "after burnish" if self.after_burnish else "after cleaning"


def station_codes(zone: InventedZone) -> tuple[str, ...]:
    """The zone's stations; one nobody reads has none."""
    return tuple(f"S{n + 1}" for n in range(zone.stations)) if zone.read else ()


def rounds_of(zone: InventedZone, z: int, lives: Lives, law: WearLaw) -> Iterator[Round]:
    """Every round of one zone, first the one its promise refers to."""
    if not zone.read:
        return
    random = stream(zone.key, "readings")
    offset = random.standard_normal(zone.stations)
    offset *= STATION_SHARE * law.station_sd
    offset -= offset.mean()
    own_sd = law.station_sd * sqrt(1.0 - STATION_SHARE**2)
    mistyping = zone.key == MISTYPED[0]
    for number, (day, burnished) in enumerate(_days(zone, z, lives)):
        branch = site_of(zone).branch
        meters, readers = METERS[branch], READERS[branch]
        picked, minute = int(random.integers(len(meters))), int(random.integers(0, 90))
        reader, witnessed = int(random.integers(len(readers))), random.random() < 0.12
        common, own = random.standard_normal(), random.standard_normal(zone.stations)
        gross = bool(random.random() < law.gross_share) and number > 0
        error = law.instrument_sd * common + own_sd * own + offset
        if gross:
            spread = sqrt(law.instrument_sd**2 + law.station_sd**2 / zone.stations)
            error += law.gross_factor * spread * common
        truth = lives.truth.after if burnished else lives.truth.before
        values = [round(exp(log(truth[z, day]) + e), 1) for e in error]
        wrong = ""
        if mistyping and date_of(day) >= MISTYPED[1]:
            values[1], wrong, mistyping, gross = round(values[1] / 10, 1), "S2", False, True
        yield Round(
            zone=zone,
            on=date_of(day),
            minute=20 * 60 + 45 + minute,
            after_burnish=burnished,
            values=tuple(values),
            meter=meters[picked],
            reader=readers[reader],
            witness="P.H." if witnessed else "",
            gross=gross,
            mistyped=wrong,
        )


def _days(zone: InventedZone, z: int, lives: Lives) -> list[tuple[int, bool]]:
    """Days of the zone's rounds, and whether they were read after a burnish."""
    random = stream(zone.key, "rounds")
    burnished = lives.done[Work.BURNISH][z] & bool(zone.burnish)
    accepted = acceptance_day(zone, burnished)
    wanted = [float(accepted)]
    gap = GAP_DAYS[zone.read]
    while wanted[-1] + gap < day_of(AS_OF) - 3:
        wanted.append(wanted[-1] + gap)
    days = [(accepted, bool(burnished[accepted]))]
    for want in wanted[1:]:
        at = int(want + random.uniform(-8.0, 8.0))
        left_out, dry = random.random() < LEFT_OUT_SHARE, random.random() < 0.25
        if not left_out and (found := _near(zone, min(at, day_of(AS_OF) - 3), burnished, dry)):
            days.append(found)
    _, middle, renewing = CLIMBS[zone.surface]
    treated = lives.done[middle][z] | lives.done[renewing][z]
    for night in np.flatnonzero(treated[accepted:]) + accepted:
        found = _near(zone, int(night) + 5, burnished, False)
        if random.random() < 0.6 and found and night < found[0] < day_of(AS_OF):
            days = [each for each in days if abs(each[0] - found[0]) > 10 or each[0] == accepted]
            days.append(found)
    kept: list[tuple[int, bool]] = []
    for each in sorted(days):
        if not kept or each[0] - kept[-1][0] > 4:
            kept.append(each)
    return kept


def _near(
    zone: InventedZone, at: int, burnished: np.ndarray, as_cleaned: bool
) -> tuple[int, bool] | None:
    """The day nearest to the wanted one that suits a round."""
    for step in sorted(range(-4, 5), key=lambda s: (abs(s), s)):
        day = at + step
        if not 0 <= day < day_of(AS_OF):
            continue
        on = date_of(day)
        away = METER_AWAY.get(zone.site)
        if nobody_there(zone, on) or (away and away[0] <= on <= away[1]):
            continue
        if zone.burnish and not as_cleaned and burnished[day]:
            return day, True
        if (as_cleaned or not zone.burnish) and is_work_night(zone, on) and not burnished[day]:
            return day, False
    return None


def slip_rows() -> Iterator[tuple[str, date, str, str, float]]:
    """Slip readings as (SITE/ZONE, taken on, method, station, value)."""
    for key, on, method, values in SLIP_TESTS:
        for number, value in enumerate(values):
            yield key, on, method, f"S{number + 1}", value
