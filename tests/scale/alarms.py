"""How often alarms ring when they should, and when not: `python -m tests.scale.alarms`.

Invented fleets live through 30 months. In the last twelve something changes in some zones; a
planner looks once a month. Prints what it does and, as the last line, one JSON object.
"""

import argparse
import json
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from floorcare.ground.trade.surface import Effect
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.simulate import AS_THE_LAW, Departure, read_stations, simulate
from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind, Limits, Watched
from floorcare.ground.wear.watch.alarms import look, ring
from floorcare.ground.wear.watch.later import cut_at
from floorcare.ground.wear.watch.meter_watch import meter_alarms
from tests.ground.wear.fleets import BURNISH, LAW, RECOAT, REPOLISH

FIRST, LOOKS_FROM, LAST = date(2024, 7, 1), date(2026, 1, 20), date(2026, 12, 20)
DAYS = (LAST - FIRST).days + 1
CHANGES_FROM = (date(2025, 12, 21) - FIRST).days
"""Whatever changes does so within a month from here, so that each change is watched for a year."""
DEPARTING = Departure(haze_exponent=0.85, exposure_cv=0.4, spill_chance=0.004)
READ_SOON_SHARE = 0.6
"""Coats that are read within ten days, as a contractor would."""
WEAK = Effect(haze_kept=1.0 - (1.0 - BURNISH.haze_kept) / 3.0)
WORKS = (Work.REPOLISH, Work.RECOAT, Work.BURNISH)
GROUPS = {
    "clean": 3,
    "traffic x1.5": 1,
    "traffic x2": 1,
    "traffic x0.5": 1,
    "burnish a third": 1,
    "recoat without effect": 1,
}
"""Kinds of zones and how many times as many as of the others."""
DRIFTS = {
    "no drift": 0.0,
    "drift 1 GU a year": 1.0,
    "drift 2 GU a year": 2.0,
    "drift 3 GU a year": 3.0,
    "step 2 GU": 2.0,
}
METER_ZONES = 40
BUSY = 1.0
"""Thousand passes a day from which a zone counts as busy."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """A fleet as the contractor knows it, and what changed in it.

    columns : all readings to the last day; group : (Z,), place in GROUPS.
    changed_on : (Z,), day index of the change, -1 for none.
    """

    columns: WearColumns
    group: Whole
    changed_on: Whole


def make_case(zones: int, seed: int, departure: Departure, a_year: int, *, clean: bool) -> Case:
    """Zones of every group, each read `a_year` times a year and after most coats."""
    random = np.random.default_rng(seed)
    kinds = np.repeat(np.arange(len(GROUPS)), [zones * times for times in GROUPS.values()])
    group = np.zeros(zones, dtype=np.int64) if clean else kinds
    count, names = group.size, list(GROUPS)
    day = np.arange(DAYS)
    busy = np.exp(random.uniform(np.log(0.1), np.log(6.0), count))
    passes = busy[:, None] * np.where(day % 7 < 5, 1.1, 0.75)
    passes = passes * random.uniform(0.8, 1.2, (count, DAYS))
    changed_on = CHANGES_FROM + random.integers(0, 30, count)
    after = day >= changed_on[:, None]
    turn = (day[None, :] + random.integers(0, 7, count)[:, None]) % 7
    since = day[None, :] - random.integers(60, 300, count)[:, None]
    recoat = (since >= 0) & (since % random.integers(150, 300, count)[:, None] == 0)
    repolish = day[None, :] == random.integers(DAYS // 3, 3 * DAYS, count)[:, None]
    burnish = (turn == 0) | (turn == 3)
    failed = recoat & after & (group == names.index("recoat without effect"))[:, None]
    failed &= np.cumsum(failed, axis=1) == 1
    weak = burnish & after & (group == names.index("burnish a third"))[:, None]
    times = np.ones((count, 1))
    for name, factor in (("traffic x1.5", 1.5), ("traffic x2", 2.0), ("traffic x0.5", 0.5)):
        times[group == names.index(name)] = factor
    u_haze, u_rest, counted = _rates(random, count)
    truth = simulate(
        LAW,
        thousand_passes=passes * np.where(after, times, 1.0),
        treatments=(
            (REPOLISH, repolish),
            (RECOAT, recoat & ~failed),
            (BURNISH, burnish & ~weak),
            (WEAK, weak),
        ),
        u_haze=u_haze,
        u_rest=u_rest,
        level=np.log(random.uniform(35.0, 65.0, count)),
        seed=seed + 1,
        departure=departure,
    )
    zone, read_on = _rounds(random, recoat | repolish, a_year)
    late = random.random(zone.size) < 0.5
    gloss, _ = read_stations(
        truth, LAW, zone=zone, day=read_on, after_burnish=late, stations=5, seed=seed + 2
    )
    changed_on[group == names.index("clean")] = -1
    coat = group == names.index("recoat without effect")
    changed_on[coat] = np.where(failed.any(axis=1), failed.argmax(axis=1), -1)[coat]
    return Case(
        columns=WearColumns(
            thousand_passes=passes,
            treatments=((REPOLISH, repolish), (RECOAT, recoat), (BURNISH, burnish)),
            reading_zone=zone,
            reading_day=read_on,
            reading_ln=np.log(gloss).mean(axis=1),
            reading_stations=np.full(zone.size, 5),
            reading_after_burnish=late,
            counted=counted,
            opening=np.zeros(count, dtype=np.int64),
            opening_about_days=np.zeros(count),
            start_day=np.zeros(count, dtype=np.int64),
        ),
        group=group,
        changed_on=changed_on,
    )


def _rates(random: np.random.Generator, count: int) -> tuple[Floats, Floats, Flags]:
    counted = random.random(count) < 0.6
    sd = np.where(counted, LAW.rate_sd_counted, LAW.rate_sd_assumed)
    one, other = random.standard_normal((2, count))
    c = LAW.rate_correlation
    return sd * one, sd * (c * one + np.sqrt(1 - c * c) * other), counted


def _rounds(random: np.random.Generator, coated: Flags, a_year: int) -> tuple[Whole, Whole]:
    """Zone and day of every round, sorted: day 0, evenly with some luck, and soon after coats."""
    zones, days = coated.shape
    gap = 365.25 / a_year
    regular = np.arange(0.0, days, gap)[None, :] + random.uniform(0, 16, (zones, 1))
    regular = (regular + random.uniform(-8, 8, regular.shape)).astype(np.int64)
    regular[:, 0] = 0
    read = np.zeros((zones, days), dtype=np.bool_)
    z, place = np.nonzero((regular >= 0) & (regular < days))
    read[z, regular[z, place]] = True
    z, on = np.nonzero(coated)
    soon = on + random.integers(3, 11, on.size)
    kept = (random.random(on.size) < READ_SOON_SHARE) & (soon < days)
    read[z[kept], soon[kept]] = True
    zone, day = np.nonzero(read)
    return zone, day


def months() -> Iterator[date]:
    """The days on which the planner looks."""
    on = LOOKS_FROM
    while on <= LAST:
        yield on
        on = (on.replace(day=1) + timedelta(days=32)).replace(day=on.day)


def watched_on(columns: WearColumns, on: date, instrument: tuple[str, ...]) -> Watched:
    """What the planner knows that day."""
    today = (on - FIRST).days
    known = cut_at(columns, today)
    return Watched(
        fit=estimate(known, LAW),
        zones=tuple(f"S/{zone}" for zone in range(columns.zones)),
        instrument=tuple(
            code
            for code, day in zip(instrument, columns.reading_day.tolist(), strict=True)
            if day <= today
        ),
        works=WORKS,
        today=on,
    )


def zone_study(case: Case, limits: Limits) -> dict[str, object]:
    """Hits, delays and false alarms of the zones' watches over a year of looks."""
    names = list(GROUPS)
    hit: dict[int, tuple[int, str]] = {}
    ringing: set[tuple[int, str]] = set()
    false = {"traffic": 0, "burnish": 0, "coat": 0}
    for on in months():
        today = (on - FIRST).days
        watched = watched_on(case.columns, on, ("M",) * case.columns.reading_ln.size)
        now: set[tuple[int, str]] = set()
        for alarm in ring([watched], limits):
            if alarm.kind is AlarmKind.INSTRUMENT:
                continue
            zone, what = int(alarm.zones[0][2:]), _what(alarm)
            now.add((zone, what))
            changed = int(case.changed_on[zone])
            if changed < 0 and case.group[zone] == 0 and (zone, what) not in ringing:
                false[what] += 1
            slower = alarm.seen > alarm.expected
            wanted = names[case.group[zone]] == "traffic x0.5"
            if 0 <= changed < today and slower == wanted:
                hit.setdefault(zone, (today - changed, what))
        ringing = now
    clean = int((case.group == 0).sum())
    coats = np.zeros((case.columns.zones, DAYS), dtype=np.bool_)
    for _, done in case.columns.treatments[:2]:
        coats |= done
    coated = int(coats[case.group == 0][:, (LOOKS_FROM - FIRST).days - 100 :].sum())
    found: dict[str, object] = {
        "clean_zone_years": clean,
        "false_traffic_per_100_zone_years": round(100 * false["traffic"] / clean, 2),
        "false_burnish_per_100_zone_years": round(100 * false["burnish"] / clean, 2),
        "treatments_watched": coated,
        "false_per_100_treatments": round(100 * false["coat"] / max(coated, 1), 2),
    }
    right = {"burnish a third": "burnish", "recoat without effect": "coat"}
    for place, name in enumerate(names[1:], start=1):
        mine = [z for z in np.flatnonzero(case.group == place).tolist() if case.changed_on[z] >= 0]
        if name == "recoat without effect":
            # a coat of the last weeks could not be seen to fail by anybody
            mine = [z for z in mine if case.changed_on[z] < DAYS - 90]
        delays = [hit[z][0] for z in mine if z in hit]
        named = [z for z in mine if z in hit and hit[z][1] == right.get(name, "traffic")]
        busy = [z for z in mine if case.columns.thousand_passes[z].mean() >= BUSY]
        found[name] = {
            "zones": len(mine),
            "hit_rate": round(len(delays) / max(len(mine), 1), 3),
            "hit_rate_busy": round(sum(z in hit for z in busy) / max(len(busy), 1), 3),
            "named_right": round(len(named) / max(len(delays), 1), 3),
            "median_delay_days": float(np.median(delays)) if delays else None,
        }
    return found


def _what(alarm: Alarm) -> str:
    if alarm.kind is AlarmKind.TRAFFIC:
        return "traffic"
    return "burnish" if alarm.work == Work.BURNISH.value else "coat"


def meter_study(
    fleets: int, seed: int, departure: Departure, meters: int, a_year: int, limits: Limits
) -> dict[str, object]:
    """Hits, delays and false alarms of the instruments' watch, fleets of 40 zones, over a year."""
    found: dict[str, object] = {}
    for name, size in DRIFTS.items():
        delays: list[int] = []
        false = instrument_years = 0
        for fleet in range(fleets):
            case = make_case(METER_ZONES, seed + 10 * fleet, departure, a_year, clean=True)
            columns = case.columns
            code = np.random.default_rng(seed + 10 * fleet + 5).integers(
                0, meters, columns.reading_ln.size
            )
            instrument = tuple("AB"[c] for c in code.tolist())
            begun = columns.reading_day - (CHANGES_FROM + 15)
            grown = np.where(begun >= 0, 1.0 if name.startswith("step") else begun / 365.25, 0.0)
            # downwards, as soiled optics read; GU at the level of the reading itself
            gloss = np.exp(columns.reading_ln) - size * grown * (code == 0)
            drifted = replace(columns, reading_ln=np.log(gloss))
            hit, others = _year_of_looks(drifted, instrument, limits)
            if size and hit:
                delays.append(hit)
            false += others + (0 if size else bool(hit))
            instrument_years += meters - bool(size)
        if size:
            found[name] = {
                "hit_rate": round(len(delays) / fleets, 3),
                "median_delay_days": float(np.median(delays)) if delays else None,
                "other_meter_named": round(false / fleets, 3),
            }
        else:
            found["false_per_instrument_year"] = round(false / instrument_years, 3)
            found["instrument_years"] = instrument_years
    return found


def _year_of_looks(
    columns: WearColumns, instrument: tuple[str, ...], limits: Limits
) -> tuple[int, int]:
    """Days from the change to the first alarm of meter A (0 for none), and alarms of the other."""
    hit, others = 0, 0
    for on in list(months())[1::2]:
        looked = look(watched_on(columns, on, instrument))
        for alarm in meter_alarms([looked], limits.instrument)[0]:
            if alarm.instrument == "A":
                hit = hit or (on - FIRST).days - CHANGES_FROM - 15
            else:
                others = 1
    return hit, others


def main(arguments: list[str]) -> None:
    """Run the study and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--zones", type=int, default=60, help="of each kind of change")
    parser.add_argument("--fleets", type=int, default=6, help="of 40 zones, for instruments")
    parser.add_argument("--a-year", type=int, default=8, help="rounds a zone and year")
    parser.add_argument("--part", choices=("all", "zones", "meters"), default="all")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args(arguments)
    limits = Limits()
    answer: dict[str, object] = dict(vars(given))
    began = time.perf_counter()
    for kind, departure in (("as the law", AS_THE_LAW), ("departing", DEPARTING)):
        if given.part != "meters":
            case = make_case(given.zones, given.seed, departure, given.a_year, clean=False)
            answer[kind] = found = zone_study(case, limits)
            print(f"{kind}: {found}", flush=True)
        for meters in (2, 1) if given.part != "zones" else ():
            seen = meter_study(given.fleets, given.seed, departure, meters, given.a_year, limits)
            answer[f"{kind}, {meters} meters"] = seen
            print(f"{kind}, {meters} meters: {seen}", flush=True)
    answer["seconds"] = round(time.perf_counter() - began, 1)
    print(json.dumps(answer))


if __name__ == "__main__":
    main(sys.argv[1:])
