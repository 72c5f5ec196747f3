"""Every zone's condition today against its promise, and how long it is likely to keep it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.slip import slip_guard
from floorcare.ground.rules.wear_dues import Outlook
from floorcare.ground.wear.evidence import EvidenceClass
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.model import FloorState, ln_gloss

BAND = 0.90
"""Share of the sampled floors inside the band shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneOutlook:
    """One zone's condition.

    read_gu, read_on : last believed round.
    gloss_gu, low_gu, high_gu : estimated gloss now with its 90 % band, in the state the promise
        refers to; None without readings.
    promise_gu, reference_gu : None where no look is promised.
    early_days, median_days, late_days : days to the first break under the routine alone; None
        where not forecast, inf where not within the horizon.
    guarded : slip holds back every gloss treatment.
    """

    site: str
    zone: str
    evidence: EvidenceClass
    read_gu: float | None
    read_on: date | None
    gloss_gu: float | None
    low_gu: float | None
    high_gu: float | None
    promise_gu: float | None
    reference_gu: float | None
    early_days: float | None
    median_days: float | None
    late_days: float | None
    guarded: bool


def zone_outlooks(
    fleet: Fleet, cases: Sequence[ZoneCase], ahead: Outlook
) -> tuple[ZoneOutlook, ...]:
    """The condition of every zone of a fleet, in its order.

    Assumption: bands are quantiles of the sampled floors.
    """
    kept = ahead.seen_haze_kept[:, None]
    state = fleet.draws.state
    seen = FloorState(haze=state.haze * kept, film=state.film, scratch=state.scratch)
    gloss = np.exp(fleet.draws.level + fleet.draws.shock * kept + ln_gloss(seen, fleet.fit.law))
    tail = (1.0 - BAND) / 2.0
    middle, low, high = np.quantile(gloss, [0.5, tail, 1.0 - tail], axis=1)
    found = []
    for z, case in enumerate(cases):
        rounds = fleet.rounds[z]
        line = case.appearance
        forecast = bool(fleet.measured[z]) and np.isfinite(ahead.promise_gu[z])
        found.append(
            ZoneOutlook(
                site=case.site,
                zone=case.book.zone.code,
                evidence=fleet.evidence[z],
                read_gu=rounds[-1].value if rounds else None,
                read_on=rounds[-1].on if rounds else None,
                gloss_gu=_number(middle[z]),
                low_gu=_number(low[z]),
                high_gu=_number(high[z]),
                promise_gu=_number(ahead.promise_gu[z]),
                reference_gu=line.reference_gu if line else None,
                early_days=float(ahead.early[z]) if forecast else None,
                median_days=float(ahead.median[z]) if forecast else None,
                late_days=float(ahead.late[z]) if forecast else None,
                guarded=slip_guard(case.book, case.today) is not None,
            )
        )
    return tuple(found)


def _number(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None
