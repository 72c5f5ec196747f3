"""Small fleets in which one known thing changed, as the watches look at them."""

from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from floorcare.ground.trade.surface import Effect
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.simulate import read_stations, simulate
from floorcare.ground.wear.watch.alarm import Watched
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH

TODAY = date(2026, 11, 20)
DAYS = 560
CHANGED = DAYS - 150
"""Day from which something is otherwise than recorded."""
COATED = DAYS - 100
"""Day on which every zone is recoated, as recorded."""
STEADY = replace(
    LAW, drift_sd=0.0005, shock_sd=0.001, instrument_sd=0.005, station_sd=0.02, gross_share=0.01
)
"""A law so quiet that a change of one in twenty shows."""
WORKS = (Work.REPOLISH, Work.RECOAT, Work.BURNISH)


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """What truly happened since CHANGED in some zones, and what nobody recorded.

    times_walked : by zone; weak_burnish, not_coated : zones.
    meter_ln : by instrument, ln gloss it reads off since then.
    misread : (zone, reading of that zone counted from its last, factor).
    """

    times_walked: dict[int, float] = field(default_factory=dict)
    weak_burnish: tuple[int, ...] = ()
    not_coated: tuple[int, ...] = ()
    meter_ln: dict[str, float] = field(default_factory=dict)
    misread: tuple[tuple[int, int, float], ...] = ()


def watched_fleet(changed: Changed | None = None, *, zones: int = 6, seed: int = 1) -> Watched:
    """Busy zones, burnished twice a week, coated once, read monthly by two meters in turn."""
    changed = changed or Changed()
    random = np.random.default_rng(seed)
    day = np.arange(DAYS)
    late = day >= CHANGED
    passes = np.full((zones, DAYS), 3.0)
    times = np.ones((zones, DAYS))
    for zone, factor in changed.times_walked.items():
        times[zone, late] = factor
    turn = (day[None, :] + np.arange(zones)[:, None]) % 7
    burnish = (turn == 0) | (turn == 3)
    recoat = np.broadcast_to(day == COATED, (zones, DAYS)).copy()
    never = np.zeros((zones, DAYS), dtype=np.bool_)
    weak, coated = never.copy(), recoat.copy()
    weak[list(changed.weak_burnish)] = burnish[list(changed.weak_burnish)] & late
    coated[list(changed.not_coated)] = False
    truth = simulate(
        STEADY,
        thousand_passes=passes * times,
        treatments=(
            (REPOLISH, never),
            (RECOAT, coated),
            (BURNISH, burnish & ~weak),
            (Effect(haze_kept=0.77), weak),
        ),
        u_haze=0.1 * random.standard_normal(zones),
        u_rest=0.1 * random.standard_normal(zones),
        level=np.log(random.uniform(50.0, 60.0, zones)),
        seed=seed + 1,
    )
    read_on = np.arange(0, DAYS, 26)
    zone, on = np.repeat(np.arange(zones), read_on.size), np.tile(read_on, zones)
    before = np.zeros(zone.size, dtype=np.bool_)
    gloss, _ = read_stations(
        truth,
        STEADY,
        zone=zone,
        day=on,
        after_burnish=before,
        stations=5,
        seed=seed + 2,
        gross_share=0.0,
    )
    ln = np.log(gloss).mean(axis=1)
    meters = np.array(["A", "B"])[(np.arange(zone.size) + zone) % 2]
    for code, off in changed.meter_ln.items():
        ln = ln + np.where((meters == code) & (on >= CHANGED), off, 0.0)
    for misread, from_last, factor in changed.misread:
        ln[np.flatnonzero(zone == misread)[-from_last]] += np.log(factor)
    columns = WearColumns(
        thousand_passes=passes,
        treatments=((REPOLISH, never), (RECOAT, recoat), (BURNISH, burnish)),
        reading_zone=zone,
        reading_day=on,
        reading_ln=ln,
        reading_stations=np.full(zone.size, 5),
        reading_after_burnish=before,
        counted=np.ones(zones, dtype=np.bool_),
        opening=np.zeros(zones, dtype=np.int64),
        opening_about_days=np.zeros(zones),
        start_day=np.zeros(zones, dtype=np.int64),
    )
    return Watched(
        fit=estimate(columns, STEADY),
        zones=tuple(f"MILL/Z{number}" for number in range(zones)),
        instrument=tuple(meters.tolist()),
        works=WORKS,
        today=TODAY,
        done_by={(number, COATED): "crew 2, visit 018f3c2a-77b0" for number in range(zones)},
    )
