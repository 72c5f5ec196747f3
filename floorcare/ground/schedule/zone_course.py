"""One zone's gloss over time: what was read, how it fell, and how it is likely to go on.

The gloss is that of the evening, in the state the zone's promise refers to, so that it may be held
against the promise; the plan of work is the zone's routine with every visit planned so far.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.wear_dues import Outlook
from floorcare.ground.schedule.course import (
    CourseBand,
    CourseReading,
    CourseRhythm,
    CourseTick,
    ZoneCourse,
)
from floorcare.ground.schedule.treated import as_treatments
from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.routine import Proof
from floorcare.ground.trade.surface import NO_EFFECT
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.trade.visit import Visit
from floorcare.ground.wear.books.from_books import (
    runs_by_itself,
    thousand_passes,
    treatment_masks,
    whole_zone_dates,
)
from floorcare.ground.wear.draws import Draws
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.forecast import LEVELS, Plan, walk_ahead
from floorcare.ground.wear.model import Floats, FloorState, ln_gloss
from floorcare.ground.wear.past import past_gloss
from floorcare.ground.worktime.recurrence import typical_gap_days

PAST_DAYS = 364
"""A course looks back over so many days."""
AHEAD_DAYS = 182
"""A course looks ahead over so many days: further, a band says little. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorToday:
    """What the readings say of a zone's floor today; every figure None where nobody read it.

    haze, film, scratch : the middle of the sampled floors: scuffs that survive cleaning 0..1,
        protector left 0..1, micro-scratching from 0 upwards.
    haze_times, wear_times : so many times as fast as its surface usually does the zone gains haze,
        and loses film and finish.
    bands : (level, low, high) in GU, in the state the promise refers to.
    """

    haze: float | None = None
    film: float | None = None
    scratch: float | None = None
    haze_times: float | None = None
    wear_times: float | None = None
    bands: tuple[tuple[float, float, float], ...] = ()


def floors_today(fleet: Fleet, ahead: Outlook) -> tuple[FloorToday, ...]:
    """State, rates and bands of every zone of a fleet, in its order."""
    gloss = _seen_today(fleet.draws, fleet, ahead.seen_haze_kept)
    tails = [(1.0 - level) / 2.0 for level in LEVELS]
    low = np.quantile(gloss, tails, axis=1)
    high = np.quantile(gloss, [1.0 - tail for tail in tails], axis=1)
    state = fleet.draws.state
    middle = [np.median(part, axis=1) for part in (state.haze, state.film, state.scratch)]
    times = np.exp(fleet.fit.mean[:, :2])
    return tuple(
        FloorToday(
            haze=float(middle[0][z]),
            film=float(middle[1][z]),
            scratch=float(middle[2][z]),
            haze_times=float(times[z, 0]),
            wear_times=float(times[z, 1]),
            bands=tuple(
                (level, float(low[at, z]), float(high[at, z])) for at, level in enumerate(LEVELS)
            ),
        )
        if fleet.rounds[z] and np.isfinite(gloss[z]).all()
        else FloorToday()
        for z in range(len(fleet.keys))
    )


def zone_courses(
    fleet: Fleet, cases: Sequence[ZoneCase], ahead: Outlook, visits: Sequence[Visit]
) -> tuple[ZoneCourse, ...]:
    """The course of every zone of a fleet, in its order.

    Parameters
    ----------
    fleet, cases : the same zones in the same order.
    ahead : for the promise and the state it refers to.
    visits : every visit planned for tonight or later that is not cancelled.
    """
    coming = [_coming(case, visits) for case in cases]
    past = past_gloss(fleet.fit, ahead.seen_haze_kept)[:, -PAST_DAYS - 1 :]
    quantiles = _ahead(fleet, ahead.seen_haze_kept, cases, coming)
    return tuple(
        _course(fleet, case, z, coming[z], float(ahead.promise_gu[z]), past[z], quantiles[:, z])
        for z, case in enumerate(cases)
    )


def _coming(case: ZoneCase, visits: Sequence[Visit]) -> tuple[TreatmentDone, ...]:
    """The zone's lines of visits to come, as treatments."""
    span = case.book.zone.span_about(case.today)
    lines = as_treatments(visits, case.key, span.area_m2, case.today)
    return tuple(line for line in lines if line.work in TREATMENTS)


def _ahead(
    fleet: Fleet,
    seen_haze_kept: Floats,
    cases: Sequence[ZoneCase],
    coming: Sequence[Sequence[TreatmentDone]],
) -> Floats:
    """(1 + 2 × levels, Z, days + 1): median, lower and upper edges in GU, today first."""
    tomorrow = fleet.today + timedelta(days=1)
    laid = [
        (z, work, on)
        for z, case in enumerate(cases)
        for work in sorted({part.work for part in coming[z]})
        for on in whole_zone_dates(_known(case, coming[z]), work)
        if on >= tomorrow
    ]
    masks = treatment_masks(
        fleet.books, fleet.surface, tomorrow, AHEAD_DAYS, recorded=False, extra=laid
    )
    plan: Plan = tuple((effect, mask) for _, effect, mask in masks)
    tails = [(1.0 - level) / 2.0 for level in LEVELS]
    wanted = [0.5, *tails, *(1.0 - tail for tail in tails)]
    found = np.empty((len(wanted), len(fleet.keys), AHEAD_DAYS + 1))
    found[:, :, 0] = np.quantile(_seen_today(fleet.draws, fleet, seen_haze_kept), wanted, axis=1)
    passes = thousand_passes(fleet.books, tomorrow, AHEAD_DAYS)
    law, kept = fleet.fit.law, seen_haze_kept[:, None]
    for day, (_, evening) in enumerate(walk_ahead(fleet.draws, law, passes, plan), start=1):
        ln = evening.base + evening.shock * kept + ln_gloss(_looked_at(evening.state, kept), law)
        found[:, :, day] = np.quantile(np.exp(ln), wanted, axis=1)
    return found


def _known(case: ZoneCase, coming: Sequence[TreatmentDone]) -> tuple[TreatmentDone, ...]:
    """Parts done and parts to come, none twice: what stands for tonight is in the book already."""
    tonight = {(part.visit, part.work, part.done_on) for part in case.book.done if part.visit}
    new = (p for p in coming if (p.visit, p.work, p.done_on) not in tonight)
    return (*case.book.done, *new)


def _seen_today(draws: Draws, fleet: Fleet, seen_haze_kept: Floats) -> Floats:
    kept = seen_haze_kept[:, None]
    ln = ln_gloss(_looked_at(draws.state, kept), fleet.fit.law)
    gloss: Floats = np.exp(draws.level + draws.shock * kept + ln)
    return gloss


def _looked_at(state: FloorState, haze_kept: Floats) -> FloorState:
    return FloorState(haze=state.haze * haze_kept, film=state.film, scratch=state.scratch)


def _course(
    fleet: Fleet,
    case: ZoneCase,
    row: int,
    coming: Sequence[TreatmentDone],
    promise_gu: float,
    past: Floats,
    quantiles: Floats,
) -> ZoneCourse:
    today, line = case.today, case.appearance
    first_on, last_on = today - timedelta(days=PAST_DAYS), today + timedelta(days=AHEAD_DAYS)
    lived = past[np.isfinite(past)].tolist()
    promised = line is not None and np.isfinite(promise_gu)
    known = np.isfinite(quantiles).all()
    count = len(LEVELS)
    return ZoneCourse(
        site=case.site,
        zone=case.book.zone.code,
        today=today,
        first_on=first_on,
        last_on=last_on,
        past_from=today - timedelta(days=max(0, len(lived) - 1)),
        past_gu=tuple(lived),
        median_gu=tuple(quantiles[0].tolist()) if known else (),
        bands=tuple(
            CourseBand(
                level=level,
                low_gu=tuple(quantiles[1 + at].tolist()),
                high_gu=tuple(quantiles[1 + count + at].tolist()),
            )
            for at, level in enumerate(LEVELS)
            if known
        ),
        readings=_readings(fleet, row, first_on),
        ticks=_ticks(case, coming, first_on, last_on),
        rhythms=_rhythms(case),
        state=line.reference_state if line and promised else SurfaceState.AFTER_CLEANING,
        promise_gu=promise_gu if promised else None,
        reference_gu=line.reference_gu if line and promised else None,
        promised_from=line.starts_on if line and promised else None,
        promised_to=line.ends_on if line and promised else None,
    )


def _readings(fleet: Fleet, row: int, first_on: date) -> tuple[CourseReading, ...]:
    columns = fleet.fit.columns
    day_0 = fleet.today - timedelta(days=columns.days - 1)
    found = []
    mine = (columns.reading_zone == row) & ~columns.graded
    for reading in np.flatnonzero(mine).tolist():
        on = day_0 + timedelta(days=int(columns.reading_day[reading]))
        after = bool(columns.reading_after_burnish[reading])
        if on >= first_on:
            found.append(
                CourseReading(
                    on=on,
                    gloss_gu=float(np.exp(columns.reading_ln[reading])),
                    state=SurfaceState.AFTER_BURNISH if after else SurfaceState.AFTER_CLEANING,
                    stations=int(columns.reading_stations[reading]),
                    gross=bool(fleet.fit.gross[reading]),
                )
            )
    return tuple(sorted(found, key=lambda r: (r.on, r.state, r.gloss_gu)))


def _ticks(
    case: ZoneCase, coming: Sequence[TreatmentDone], first_on: date, last_on: date
) -> tuple[CourseTick, ...]:
    everything = _known(case, coming)
    whole = {(t.work, on) for t in everything for on in whole_zone_dates(everything, t.work)}
    ticks = {
        CourseTick(
            on=t.done_on,
            work=t.work,
            planned=bool(t.visit) and t.done_on >= case.today,
            completes=(t.work, t.done_on) in whole,
            about=t.known is DateKnown.ABOUT,
        )
        for t in everything
        if first_on <= t.done_on <= last_on and t.work in TREATMENTS
    }
    return tuple(sorted(ticks, key=lambda t: (t.on, TREATMENTS.index(t.work), t.planned, t.about)))


def _rhythms(case: ZoneCase) -> tuple[CourseRhythm, ...]:
    found = []
    for routine in case.book.routines:
        rung = case.surface.rung(routine.work)
        wears = rung is not None and rung.effect != NO_EFFECT
        if wears and runs_by_itself(routine) and routine.proof is not Proof.KNOWN_MISSED:
            found.append(
                CourseRhythm(
                    work=routine.work,
                    every_days=typical_gap_days(routine.rule),
                    from_on=routine.starts_on,
                    to_on=routine.ends_on,
                )
            )
    return tuple(sorted(found, key=lambda r: (-TREATMENTS.index(r.work), r.from_on)))
