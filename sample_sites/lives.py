"""What really happened to the invented floors: who walked there, what was done, how they wore.

Everything is drawn from one seed, each zone from its own stream, so that a change to one zone
leaves the draws of the others as they were.
"""

import zlib
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from places import (
    AS_OF,
    MISSED_SINCE,
    MORE_PEOPLE,
    OWN_RHYTHMS,
    SEASONS,
    SITES,
    SPRING_RECOATS,
    InventedSite,
    InventedZone,
)

from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.surface import Surface, WearLaw
from floorcare.ground.trade.traffic import FOOTFALL_OF_LEVEL, TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.model import Flags, Floats, FloorState, ln_gloss, treat
from floorcare.ground.wear.simulate import Truth, simulate
from floorcare.ground.worktime.every import every_to_rule
from floorcare.ground.worktime.recurrence import Recurrence
from floorcare.ground.worktime.window import parse_weekdays

SEED = 20261123
AXIS_FROM = date(2024, 1, 1)
"""First simulated day, before any floor of the sample was last polished."""
DAYS = (AS_OF - AXIS_FROM).days + 1
NOBODY_WORKS = ((1, 1), (7, 4), (10, 3), (12, 24), (12, 25), (12, 26), (12, 31))
"""Days of the year on which nobody treats or reads a floor."""
WEAR_WORK_UNTIL = date(2026, 9, 13)
"""The planner left; since then only routines and own rhythms were done, and work has piled up."""
SHORTEST_COAT_DAYS = 75
"""Where the last coat lived shorter, the next work is a re-polish."""
MISSED_SHARE = {"reported": 0.05, "confirmed": 0.01}
ORDER = (Work.FULL_RESTORATION, Work.STRIP, Work.REPOLISH, Work.DEEP_SCRUB, Work.RECOAT)
ORDER_IN_A_NIGHT = (*ORDER, Work.FINE_BURNISH, Work.BURNISH)
CLIMBS = {
    "polished_concrete": (Work.BURNISH, Work.RECOAT, Work.REPOLISH),
    "terrazzo": (Work.BURNISH, Work.RECOAT, Work.REPOLISH),
    "natural_stone": (Work.BURNISH, Work.FINE_BURNISH, Work.REPOLISH),
    "coated_resilient": (Work.BURNISH, Work.RECOAT, Work.STRIP),
}
"""What was done as a floor wore, mildest first; the last renews it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lives:
    """The truth of Z zones over DAYS days.

    u_haze, u_rest : (Z,), true ln rate factors.
    passes : (Z, DAYS), true weighted passes a day, as a counter would see them.
    done : work to (Z, DAYS), what truly reached the floor; burnishes included.
    truth : what the floors came to.
    seen_gu : (Z, DAYS), gloss in the state the promise refers to: as a routine burnish would
        show it, or as it lies where the zone has no routine burnish.
    """

    u_haze: Floats
    u_rest: Floats
    passes: Floats
    done: dict[Work, Flags]
    truth: Truth
    seen_gu: Floats


def stream(*words: str) -> np.random.Generator:
    """The random stream of a thing, by its words alone."""
    return np.random.Generator(np.random.PCG64([SEED, *(zlib.crc32(w.encode()) for w in words)]))


def day_of(on: date) -> int:
    """The column of a date."""
    return (on - AXIS_FROM).days


def date_of(day: int) -> date:
    """The date of a column."""
    return AXIS_FROM + timedelta(days=day)


def site_of(zone: InventedZone) -> InventedSite:
    """The zone's site."""
    return next(site for site in SITES if site.code == zone.site)


def nobody_there(zone: InventedZone, on: date) -> bool:
    """Whether the site is shut or the zone is being refurbished."""
    shut = any(first <= on <= last for first, last, _ in site_of(zone).shut)
    return shut or (zone.closed is not None and zone.closed[0] <= on <= zone.closed[1])


def work_weekdays(zone: InventedZone, needs: Collection[str] = ()) -> tuple[int, ...]:
    """Weekdays on which a crew would come: Tuesday to Thursday, or Saturday where only it may."""
    allowed = {
        weekday
        for nights, _, _, permits in site_of(zone).windows
        if set(needs) <= set(permits.split(", "))
        for weekday in parse_weekdays(nights)
    }
    return tuple(sorted(allowed & {1, 2, 3} or allowed & {5}))


def next_work_night(zone: InventedZone, on: date, needs: Collection[str] = ()) -> date:
    """The first night from a date on that permits what is needed; one must be able to come."""
    weekdays = work_weekdays(zone, needs)
    if not weekdays:
        raise ValueError(f"{zone.site} never permits {', '.join(needs)}")
    while not _is_open(zone, on, weekdays):
        on += timedelta(days=1)
    return on


def is_work_night(zone: InventedZone, on: date) -> bool:
    """Whether a crew could have come that night."""
    return _is_open(zone, on, work_weekdays(zone))


def _is_open(zone: InventedZone, on: date, weekdays: tuple[int, ...]) -> bool:
    holiday = (on.month, on.day) in NOBODY_WORKS
    return on.weekday() in weekdays and not holiday and not nobody_there(zone, on)


def burnish_spans(zone: InventedZone) -> Iterator[tuple[date, date | None, str]]:
    """First day, last day and proof of each stretch of the zone's routine burnish."""
    if not zone.burnish:
        return
    first = max(zone.fresh_on, zone.from_on) if zone.opening == "unknown" else zone.fresh_on
    first += timedelta(days=-first.weekday() % 7)
    if zone.closed is not None:
        yield first, zone.closed[0] - timedelta(days=1), zone.proof
        first = zone.closed[1] + timedelta(days=1)
        first += timedelta(days=-first.weekday() % 7)
    stopped = MISSED_SINCE.get(zone.key)
    yield first, stopped - timedelta(days=1) if stopped else None, zone.proof
    if stopped:
        yield stopped, None, "known missed"


def dropped_dates(zone: InventedZone, first: date, last: date | None) -> tuple[date, ...]:
    """Dates of the routine burnish that fall on shut days, those to come included."""
    rule = Recurrence(rule=every_to_rule(zone.burnish, first), starts_on=first, ends_on=last)
    return tuple(on for shut in site_of(zone).shut for on in rule.dates(shut[0], shut[1]))


def rhythm_dates(every: str, first: date, last: date | None = None) -> tuple[date, ...]:
    """The dates of a rhythm up to the end of the sample."""
    rule = Recurrence(rule=every_to_rule(every, first), starts_on=first, ends_on=last)
    return rule.dates(first, AS_OF)


def live(zones: Sequence[InventedZone], surface: Surface) -> Lives:
    """Let the zones of one surface live from AXIS_FROM to the end of the sample."""
    law = surface.law
    rates = np.array([_rates(zone, law) for zone in zones])
    passes = np.array([_passes(zone) for zone in zones])
    ground = np.array([_ground(zone) for zone in zones])
    order = tuple(work for work in ORDER_IN_A_NIGHT if work in surface.methods)
    done = {work: np.zeros((len(zones), DAYS), dtype=bool) for work in order}
    seed = SEED if surface.code == "polished_concrete" else SEED + zlib.crc32(surface.code.encode())
    renewing = CLIMBS[surface.code][-1]
    for z, zone in enumerate(zones):
        done[made_by(surface)][z, day_of(zone.fresh_on)] = True
        done[Work.BURNISH][z] = _burnishes(zone)
        for work, on in _by_rhythm(zone, surface):
            done[work][z, day_of(on)] = True
        if zone.closed is not None:
            needs = surface.methods[renewing].needs
            night = next_work_night(zone, zone.closed[1] + timedelta(days=1), needs)
            done[renewing][z, day_of(night)] = True
    level = np.log([stream(zone.key, "level").uniform(50.0, 61.0) for zone in zones])
    burnish = surface.methods[Work.BURNISH].effect
    kept = np.array([[burnish.haze_kept if zone.burnish else 1.0] for zone in zones])
    while True:
        truth = simulate(
            law,
            thousand_passes=passes * ground / 1000.0,
            treatments=tuple((surface.methods[w].effect, done[w]) for w in order),
            u_haze=rates[:, 0],
            u_rest=rates[:, 1],
            level=level,
            seed=seed,
        )
        lives = Lives(
            u_haze=rates[:, 0],
            u_rest=rates[:, 1],
            passes=passes,
            done=done,
            truth=truth,
            seen_gu=seen(truth, law, kept),
        )
        if not _look_after(zones, lives, surface):
            return lives


def made_by(surface: Surface) -> Work:
    """The treatment that makes a floor of this surface new."""
    new = Work.FULL_RESTORATION
    return new if new in surface.methods else CLIMBS[surface.code][-1]


def acceptance_day(zone: InventedZone, burnished: Flags) -> int:
    """The day the zone was first read under its contract, on a burnish where it has any."""
    first = day_of(zone.from_on) + int(stream(zone.key, "acceptance").integers(3, 13))
    if zone.burnish and burnished[first:].any():
        return first + int(np.argmax(burnished[first:]))
    while not is_work_night(zone, date_of(first)):
        first += 1
    return first


def _rates(zone: InventedZone, law: WearLaw) -> tuple[float, float]:
    one, other = stream(zone.key, "rates").standard_normal(2)
    sd, rho = law.rate_sd_counted, law.rate_correlation
    return sd * float(one), sd * float(rho * one + np.sqrt(1.0 - rho**2) * other)


def _passes(zone: InventedZone) -> Floats:
    """True weighted passes of every day: mean, week, season, and a day's own luck."""
    random = stream(zone.key, "passes")
    drawn = FOOTFALL_OF_LEVEL[TrafficLevel(zone.traffic)] * np.exp(0.22 * random.standard_normal())
    week = np.array(site_of(zone).week)
    dates = [date_of(day) for day in range(DAYS)]
    weekly = np.array([week[on.weekday()] for on in dates]) / week.mean()
    season = 1.0 + 0.10 * np.cos(2.0 * np.pi * np.arange(DAYS) / 365.25)
    luck = random.gamma(40.0, 1.0 / 40.0, DAYS)
    passes: Floats = (zone.passes or float(drawn)) * weekly * season * luck
    if zone.key in MORE_PEOPLE:
        since, factor = MORE_PEOPLE[zone.key]
        passes[day_of(since) :] *= factor
    passes[[day for day, on in enumerate(dates) if nobody_there(zone, on)]] = 0.0
    return passes


def seasons_of(site: str) -> tuple[Season, ...]:
    """The seasons of a site."""
    return tuple(
        Season(
            name=name,
            from_month=first[0],
            from_day=first[1],
            to_month=last[0],
            to_day=last[1],
            factor=factor,
        )
        for at, name, first, last, factor in SEASONS
        if at == site
    )


def _ground(zone: InventedZone) -> Floats:
    """How many times each day's traffic wears because of what is carried in with it."""
    times = np.ones(DAYS)
    for season in seasons_of(zone.site):
        times[[day for day in range(DAYS) if season.covers(date_of(day))]] *= season.factor
    return times


def _burnishes(zone: InventedZone) -> Flags:
    """The routine burnishes that truly were done."""
    random = stream(zone.key, "burnish")
    was_done = np.zeros(DAYS, dtype=bool)
    for first, last, proof in burnish_spans(zone):
        if proof == "known missed":
            continue
        for on in rhythm_dates(zone.burnish, first, last):
            missed = random.random() < MISSED_SHARE[proof]
            was_done[day_of(on)] = not missed and not nobody_there(zone, on)
    return was_done


def _by_rhythm(zone: InventedZone, surface: Surface) -> Iterator[tuple[Work, date]]:
    """Treatments done at a rhythm of the contractor's own, a few nights late now and then."""
    random = stream(zone.key, "rhythm")
    rows = [(work, every, first) for key, work, every, first, _ in OWN_RHYTHMS if key == zone.key]
    if zone.key in SPRING_RECOATS:
        rows.append(("recoat", "yearly", date(2025, 4, 8)))
    for work, every, first in rows:
        for on in rhythm_dates(every, first):
            late = 0 if on == first else int(random.integers(0, 6))
            needs = surface.methods[Work(work)].needs
            night = next_work_night(zone, on + timedelta(days=late), needs)
            if night < AS_OF - timedelta(days=2) and zone.poured_on is None:
                yield Work(work), night


def seen(truth: Truth, law: WearLaw, kept: Floats) -> Floats:
    """Gloss (Z, DAYS) with so much (Z, 1) of haze and shocks left."""
    state = FloorState(haze=truth.haze * kept, film=truth.film, scratch=truth.scratch)
    gloss_gu: Floats = np.exp(truth.level + truth.shock * kept + ln_gloss(state, law))
    return gloss_gu


def _look_after(zones: Sequence[InventedZone], lives: Lives, surface: Surface) -> bool:
    """Give each zone the next treatment wear or calendar asked for; False where none did."""
    changed = False
    _, middle, renewing = CLIMBS[surface.code]
    for z, zone in enumerate(zones):
        if zone.policy != "gentlest":
            continue
        random = stream(zone.key, "policy")
        accepted = acceptance_day(zone, lives.done[Work.BURNISH][z])
        reference = lives.seen_gu[z, accepted]
        limit = (0.80 + random.uniform(0.01, 0.05)) * reference
        last = max([accepted, *_treated(zone, lives, z, surface)])
        by_calendar = last + int(random.integers(330, 620))
        low = np.flatnonzero(lives.seen_gu[z, last + 21 : by_calendar] < limit)
        asked = last + 21 + int(low[0]) if low.size else by_calendar
        if asked >= DAYS:
            continue
        delay = timedelta(days=int(random.integers(4, 18)))
        work = _rung(lives, surface, z, asked, reference) if low.size else middle
        if work is Work.BURNISH and zone.burnish:
            work = middle
        if last > accepted and asked - last < SHORTEST_COAT_DAYS:
            work = renewing
        if not work_weekdays(zone, surface.methods[work].needs):
            work = middle
        night = next_work_night(zone, date_of(asked) + delay, surface.methods[work].needs)
        if night > WEAR_WORK_UNTIL:
            continue
        lives.done[work][z, day_of(night)] = True
        changed = True
    return changed


def _treated(zone: InventedZone, lives: Lives, z: int, surface: Surface) -> list[int]:
    """Days on which the zone was treated beyond its routine."""
    _, middle, renewing = CLIMBS[surface.code]
    beyond = lives.done[middle][z] | lives.done[renewing][z]
    if not zone.burnish:
        beyond = beyond | lives.done[Work.BURNISH][z]
    days: list[int] = np.flatnonzero(beyond).tolist()
    return days


def _rung(lives: Lives, surface: Surface, z: int, day: int, reference_gu: float) -> Work:
    """The mildest rung that brings nine tenths of the reference back."""
    *milder, renewing = CLIMBS[surface.code]
    for work in milder:
        after = treat(lives.truth.state(day).rows(np.array([z])), surface.methods[work].effect)
        level = lives.truth.level[z, day]
        if np.exp(level + ln_gloss(after, surface.law))[0] > 0.9 * reference_gu:
            return work
    return renewing
