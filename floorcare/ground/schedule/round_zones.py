"""The zones of a fleet that a reading round may read, and how near each lies to its promise."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import READ_STATIONS, Outlook
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.forecast import walk_ahead
from floorcare.ground.wear.model import Floats, FloorState, ln_gloss
from floorcare.ground.wear.reading_rounds import ZoneToRead


def zones_to_read(
    fleet: Fleet, cases: Sequence[ZoneCase], ahead: Outlook, on: date
) -> tuple[ZoneToRead, ...]:
    """Every zone with a promised look, as a round on that day would find it.

    Parameters
    ----------
    fleet, cases : the same zones in the same order.
    ahead : their outlook under routine and standing visits.
    on : the round's day, today or later within the outlook.

    Raises
    ------
    ValueError : the day lies outside the outlook.
    """
    days = (on - fleet.today).days
    if not 0 <= days <= ahead.course.days:
        raise ValueError(f"a round on {on}: allowed {fleet.today} to {ahead.course.days} days on")
    ln = _seen_ln(fleet, ahead, days)
    mean = ln.mean(axis=1) - np.log(ahead.promise_gu)
    sd = ln.std(axis=1) * fleet.band_scale
    found = []
    for z, case in enumerate(cases):
        line = case.appearance
        if line is None:
            continue
        rounds = fleet.rounds[z]
        known = bool(rounds) and bool(np.isfinite(mean[z]))
        found.append(
            ZoneToRead(
                site=case.site,
                zone=case.book.zone.code,
                age_days=(on - rounds[-1].on).days if rounds else None,
                margin_ln=float(mean[z]) if known else None,
                sd_ln=float(sd[z]) if known else None,
                reading_sd_ln=reading_error(
                    fleet.fit.law, len(case.book.stations) or READ_STATIONS
                ),
                confidence=line.confidence,
            )
        )
    return tuple(found)


def _seen_ln(fleet: Fleet, ahead: Outlook, days: int) -> Floats:
    """(Z, K) ln gloss of that day's evening, in the state each zone's promise refers to."""
    kept = ahead.seen_haze_kept[:, None]
    course, draws = ahead.course, fleet.draws
    base, shock, state = draws.level, draws.shock, draws.state
    plan = tuple((effect, mask[:, :days]) for _, effect, mask in course.treatments)
    for _, evening in walk_ahead(draws, course.law, course.thousand_passes[:, :days], plan):
        base, shock, state = evening.base, evening.shock, evening.state
    seen = FloorState(haze=state.haze * kept, film=state.film, scratch=state.scratch)
    return base + shock * kept + ln_gloss(seen, course.law)
