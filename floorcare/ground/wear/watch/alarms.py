"""Alarms: readings that say a floor, a meter or a treatment is no longer what it was.

Three watches over a fit and its readings. An alarm asks a person for a look; it moves no estimate
and no plan.
"""

from collections.abc import Sequence
from itertools import zip_longest
from math import exp

import numpy as np

from floorcare.ground.trade.surface import Effect
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.model import Whole
from floorcare.ground.wear.watch.alarm import (
    Alarm,
    AlarmKind,
    Limits,
    Looked,
    Watched,
    days_asked_about,
)
from floorcare.ground.wear.watch.alarm_words import said
from floorcare.ground.wear.watch.later import Expected, Supposed, expect, set_apart
from floorcare.ground.wear.watch.meter_watch import MeterOffsets, meter_alarms
from floorcare.ground.wear.watch.watches import Apart, hold_against, in_doubt, mean_errors, support

TIMES_WALKED = (0.5, 1.75)
"""Changes of traffic that are tried. Assumption."""
BURNISH_WORK = 1 / 3
"""Share of its work that a routine burnish is supposed to do where it fails. Assumption."""
FEWEST_BEFORE = 3
"""A forecast is compared only where it rests on so many readings. Assumption."""
TREATED_WITHIN_DAYS, SEEN_WITHIN_DAYS = 180, 120
"""Treatments so recent are watched, by readings so soon after them. Assumption."""
LONE_BURNISH_DAYS = 14
"""A burnish with none so shortly before it is a treatment of its own. Assumption."""


def look(watched: Watched) -> Looked:
    """Set every zone's later readings against what was to be expected of them.

    Assumption: a change of traffic is one of all passes; a burnish that fails leaves two thirds of
    its work undone.
    """
    columns = watched.columns
    asked = [watched.day_of(on) for on in days_asked_about(watched.today)]
    rows = [
        (zone, place) for place, day in enumerate(asked) if day > 0 for zone in range(columns.zones)
    ]
    zone = np.array([zone for zone, _ in rows], dtype=np.int64)
    since = np.array([place for _, place in rows], dtype=np.int64)
    known_to = np.array([asked[place] - 1 for place in since.tolist()], dtype=np.int64)
    later = set_apart(columns, zone, known_to, np.full(zone.size, columns.days - 1))
    kept = (later.before >= FEWEST_BEFORE) & later.there.any(axis=1)
    later = later.rows(kept)
    tried = (
        Supposed(),
        *(Supposed(passes_times=times) for times in TIMES_WALKED),
        Supposed(effects=_weak_burnish(columns, watched.works)),
    )
    expected, *changed = expect(columns, watched.fit.law, later, tried, watched.prior)
    return Looked(
        of=watched, later=later, since=since[kept], expected=expected, changed=tuple(changed)
    )


def _weak_burnish(columns: WearColumns, works: Sequence[Work]) -> tuple[Effect, ...]:
    # A meter's epoch stands behind the works, without one.
    return tuple(
        Effect(haze_kept=1.0 - BURNISH_WORK * (1.0 - effect.haze_kept))
        if work is Work.BURNISH
        else effect
        for (effect, _), work in zip_longest(columns.treatments, works)
    )


def zone_alarms(looked: Looked, offsets: MeterOffsets, limits: Limits) -> list[tuple[float, Alarm]]:
    """Zones that fall faster or slower than their rates say, or whose routine burnish fails.

    Parameters
    ----------
    offsets : what instruments were found to read off.

    Returns
    -------
    (evidence above its limit, alarm), at most one a zone.

    Source: likelihood ratio of a forecast with and without the change (Neyman & Pearson 1933).
    """
    of, law = looked.of, looked.of.fit.law
    corrected, doubt = offsets.at(of, looked.later), offsets.doubt_ln(of)
    unchanged, *changed = (
        in_doubt(hold_against(of.columns, law, looked.later, each, corrected), doubt)
        for each in (looked.expected, *looked.changed)
    )
    odds = np.stack([support(each, unchanged, law) for each in changed])
    above = odds - limits.zone
    found: dict[int, tuple[float, Alarm]] = {}
    for row in np.flatnonzero((above >= 0).any(axis=0)).tolist():
        which = int(above[:, row].argmax())
        zone, over = int(looked.later.zone[row]), float(above[which, row])
        if zone in found and found[zone][0] >= over:
            continue
        since = days_asked_about(of.today)[int(looked.since[row])]
        expected, seen, errors = _typical(unchanged, looked.expected, row)
        fails = which == len(TIMES_WALKED)
        alarm = Alarm(
            kind=AlarmKind.TREATMENT if fails else AlarmKind.TRAFFIC,
            zones=(of.zones[zone],),
            since=since,
            work=Work.BURNISH.value if fails else "",
            strength=float(odds[which, row]),
            expected=expected,
            seen=seen,
            errors=errors,
        )
        found[zone] = over, said(alarm, counted=bool(of.columns.counted[zone]))
    return list(found.values())


def _typical(apart: Apart, expected: Expected, row: int) -> tuple[float, float, float]:
    """Expected and seen GU at the reading in the middle, and errors over all."""
    places = np.flatnonzero(apart.there[row])
    off = apart.off[row, places]
    middle = places[np.argsort(off, kind="stable")[(off.size - 1) // 2]]
    gloss = float(expected.ln[row, middle])
    return exp(gloss), exp(gloss + float(apart.off[row, middle])), float(mean_errors(apart)[row])


def treatment_alarms(
    watched: Watched, offsets: MeterOffsets, limits: Limits
) -> list[tuple[float, Alarm]]:
    """Treatments after which the floor reads as if they had not been done.

    Returns
    -------
    (evidence above its limit, alarm), one a zone and night.

    Source: likelihood ratio of a forecast with and without the treatment (Neyman & Pearson 1933).
    """
    columns, law = watched.columns, watched.fit.law
    zone, day, kind, until = treatments_to_watch(columns)
    later = set_apart(columns, zone, day - 1, until)
    # a meter's epoch stands behind the works; nobody did it
    kept = (kind < len(watched.works)) & (later.before >= FEWEST_BEFORE)
    kept &= later.there.sum(axis=1) >= 2
    later, day, kind = later.rows(kept), day[kept], kind[kept]
    if not later.zone.size:
        return []
    tried = (Supposed(), Supposed(first_left_out=True))
    done, left_out = expect(columns, law, later, tried, watched.prior)
    corrected = offsets.at(watched, later)
    doubt = offsets.doubt_ln(watched)
    unchanged, undone = (
        in_doubt(hold_against(columns, law, later, each, corrected), doubt)
        for each in (done, left_out)
    )
    odds = support(undone, unchanged, law)
    raised = np.nanmax(np.where(later.there, done.ln - left_out.ln, 0.0), axis=1) > 0
    found = []
    for row in np.flatnonzero(raised & (odds >= limits.treatment)).tolist():
        at = int(later.zone[row]), int(day[row])
        expected, seen, errors = _typical(unchanged, done, row)
        alarm = Alarm(
            kind=AlarmKind.TREATMENT,
            zones=(watched.zones[at[0]],),
            since=watched.date_of(at[1]),
            work=watched.works[int(kind[row])].value,
            done_by=watched.done_by.get(at, ""),
            strength=float(odds[row]),
            expected=expected,
            seen=seen,
            errors=errors,
        )
        over = float(odds[row]) - limits.treatment
        found.append((over, said(alarm, counted=bool(columns.counted[at[0]]))))
    return found


def treatments_to_watch(columns: WearColumns) -> tuple[Whole, Whole, Whole, Whole]:
    """Recent treatments beyond the routine: zone, day, which treatment, last day to look at it.

    Assumption: what coats, strips or polishes always counts, a burnish where none stood in the
    fortnight before; it is looked at until the next such treatment, at most for 120 days.
    """
    rows: dict[tuple[int, int], int] = {}
    for kind, (effect, done) in enumerate(columns.treatments):
        if not effect.treats:
            continue
        lasting = effect != Effect(haze_kept=effect.haze_kept)
        zone, day = np.nonzero(done)
        lone = np.ones(zone.size, dtype=np.bool_)
        lone[1:] = (zone[1:] != zone[:-1]) | (day[1:] - day[:-1] > LONE_BURNISH_DAYS)
        chosen = lone | lasting
        for at in zip(zone[chosen].tolist(), day[chosen].tolist(), strict=True):
            rows.setdefault(at, kind)
    order = sorted(rows)
    until = []
    for (zone_, day_), following in zip(order, [*order[1:], (-1, 0)], strict=True):
        last = min(day_ + SEEN_WITHIN_DAYS, columns.days - 1)
        until.append(min(last, following[1] - 1) if following[0] == zone_ else last)
    table = np.array(
        [(z, d, rows[z, d], u) for (z, d), u in zip(order, until, strict=True)], dtype=np.int64
    ).reshape(-1, 4)
    oldest = max(1, columns.days - TREATED_WITHIN_DAYS)
    zone, day, kind, last = table[table[:, 1] >= oldest].T
    return zone, day, kind, last


def ring(watched: Sequence[Watched], limits: Limits | None = None) -> tuple[Alarm, ...]:
    """Every alarm over the fleets of one day, one for each cause, instruments first.

    What an instrument reads off is taken from its readings before the zones are looked at; of
    several alarms of one zone the strongest is said.

    Parameters
    ----------
    watched : fleets of one day that share their instruments, each of one surface.

    Raises
    ------
    ValueError : fleets of different days.

    Assumption: limits as measured on invented fleets.
    """
    limits = limits or Limits()
    if len({each.today for each in watched}) > 1:
        raise ValueError("fleets watched together must be of one day")
    looks = [look(each) for each in watched]
    meters, offsets = meter_alarms(looks, limits.instrument)
    strongest: dict[str, tuple[float, Alarm]] = {}
    for looked in looks:
        found = zone_alarms(looked, offsets, limits)
        found += treatment_alarms(looked.of, offsets, limits)
        for over, alarm in found:
            zone = alarm.zones[0]
            if zone not in strongest or over > strongest[zone][0]:
                strongest[zone] = over, alarm
    return (*meters, *(strongest[zone][1] for zone in sorted(strongest)))
