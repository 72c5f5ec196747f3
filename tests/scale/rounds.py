"""Which zones to read, rule against rule: `python -m tests.scale.rounds [--zones N] [--seed S]`.

A year of invented floors with a reading round every four weeks, on a quarter and on half of the
minutes that reading every zone would take; every rule reads the same floors with the same errors.
Prints what it does and, as the last line, one JSON object.
"""

import argparse
import json
import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.draws import draw
from floorcare.ground.wear.estimate import estimate
from floorcare.ground.wear.forecast import ROUTINE_HAZE_KEPT, Plan, walk_ahead
from floorcare.ground.wear.model import Flags, Floats, FloorState, Whole, ln_gloss
from floorcare.ground.wear.reading_rounds import (
    RoundCost,
    ZoneChosen,
    ZoneToRead,
    age_worth,
    choose_round,
)
from floorcare.ground.wear.simulate import AS_THE_LAW, Departure, read_stations
from tests.ground.wear.fleets import LAW, make_fleet

CONFIDENCE = 0.75
HISTORY_DAYS, ROUND_DAYS, ROUNDS = 365, 28, 13
HISTORY_READINGS, STATIONS = 4, 5
ZONES_A_SITE = 4
NEAR_LN = 0.10
NEVER_DAYS = 10_000
DEPARTING = Departure(haze_exponent=0.85, exposure_cv=0.4, spill_chance=0.004)
KINDS = {"as the law": AS_THE_LAW, "departing": DEPARTING}
BUDGETS = {"a quarter": 0.25, "half": 0.5}
READING_SD = sqrt(LAW.instrument_sd**2 + LAW.station_sd**2 / STATIONS)

Rule = Callable[[tuple[ZoneToRead, ...], int], tuple[ZoneChosen, ...]]


def one_by_one(zones: tuple[ZoneToRead, ...], budget: int) -> tuple[ZoneChosen, ...]:
    """Oldest first without a thought for sites: each as its own round, while minutes last."""
    cost, chosen = RoundCost(), list[ZoneChosen]()
    for zone in sorted(zones, key=lambda z: (-age_worth(z), z.site, z.zone)):
        if cost.minutes(c.zone for c in chosen) + cost.zone_minutes + cost.site_minutes <= budget:
            chosen += choose_round([zone], budget_minutes=budget)
    return tuple(chosen)


def variance_fall(zone: ZoneToRead) -> float:
    """Sd of the step by which a reading moves the estimate, wherever the promise lies."""
    sd = zone.sd_ln or 0.0
    return sd**2 / sqrt(sd**2 + zone.reading_sd_ln**2)


def by(**choosing: object) -> Rule:
    """The chooser with some of its settings changed."""
    return lambda zones, budget: choose_round(zones, budget_minutes=budget, **choosing)  # type: ignore[arg-type]


RULES: dict[str, Rule] = {
    "nothing read": lambda _zones, _budget: (),
    "oldest, one by one": one_by_one,
    "oldest": by(longest_unread_days=NEVER_DAYS, worth=age_worth),
    "variance": by(longest_unread_days=NEVER_DAYS, worth=variance_fall),
    "near the promise": by(longest_unread_days=NEVER_DAYS),
    "mixed": by(),
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floors:
    """Z invented floors over history and one year, and every reading a rule might take.

    promise_ln : (Z,); seen_ln : (Z, D), the true ln gloss as after a routine burnish.
    read_ln, read_after : (Z, rounds), a reading on each round's day.
    """

    columns: WearColumns
    thousand_passes: Floats
    plan: Plan
    promise_ln: Floats
    seen_ln: Floats
    site: tuple[str, ...]
    read_ln: Floats
    read_after: Flags


def seen_ln(level: Floats, shock: Floats, state: FloorState) -> Floats:
    """Ln gloss as after a routine burnish."""
    kept = ROUTINE_HAZE_KEPT
    seen = FloorState(haze=state.haze * kept, film=state.film, scratch=state.scratch)
    return level + shock * kept + ln_gloss(seen, LAW)


def invent(zones: int, seed: int, departure: Departure) -> Floors:
    """Floors at sites of about four zones, their promises 10 to 28 % below the fresh level."""
    ahead = ROUND_DAYS * ROUNDS + 1
    fleet = make_fleet(
        zones=zones,
        days=HISTORY_DAYS,
        ahead=ahead,
        seed=seed,
        readings=HISTORY_READINGS,
        departure=departure,
    )
    random, truth, columns = np.random.default_rng(seed + 3), fleet.truth, fleet.columns
    days = HISTORY_DAYS - 1 + ROUND_DAYS * np.arange(ROUNDS)
    zone = np.repeat(np.arange(zones), ROUNDS)
    after = random.random(zone.size) < 0.5
    gloss, _ = read_stations(
        truth,
        LAW,
        zone=zone,
        day=np.tile(days, zones),
        after_burnish=after,
        stations=STATIONS,
        seed=seed + 4,
    )
    state = FloorState(haze=truth.haze, film=truth.film, scratch=truth.scratch)
    site = np.sort(random.integers(0, max(1, zones // ZONES_A_SITE), zones))
    return Floors(
        columns=columns,
        thousand_passes=np.concatenate([columns.thousand_passes, fleet.passes_ahead], axis=1),
        plan=tuple(
            (effect, np.concatenate([done, planned], axis=1))
            for (effect, done), (_, planned) in zip(columns.treatments, fleet.plan, strict=True)
        ),
        promise_ln=truth.level[:, 0] + np.log(random.uniform(0.72, 0.90, zones)),
        seen_ln=seen_ln(truth.level, truth.shock, state),
        site=tuple(f"S{s:04d}" for s in site.tolist()),
        read_ln=np.log(gloss).mean(axis=1).reshape(zones, ROUNDS),
        read_after=after.reshape(zones, ROUNDS),
    )


def with_read(columns: WearColumns, floors: Floors, read: Whole, number: int) -> WearColumns:
    """The history up to a round's day, with what was read on it."""
    day = HISTORY_DAYS - 1 + ROUND_DAYS * number
    new = {
        "reading_zone": read,
        "reading_day": np.full(read.size, day),
        "reading_ln": floors.read_ln[read, number],
        "reading_stations": np.full(read.size, STATIONS),
        "reading_after_burnish": floors.read_after[read, number],
    }
    return replace(
        columns,
        thousand_passes=floors.thousand_passes[:, : day + 1],
        treatments=tuple((effect, done[:, : day + 1]) for effect, done in floors.plan),
        **{k: np.concatenate([getattr(columns, k), v]) for k, v in new.items()},  # type: ignore[arg-type]
    )


def candidates(
    floors: Floors, age_days: Whole, mean: Floats | None, sd: Floats | None
) -> tuple[ZoneToRead, ...]:
    """The zones as a rule sees them on a round's day."""
    return tuple(
        ZoneToRead(
            site=floors.site[z],
            zone=f"Z{z:05d}",
            age_days=int(age_days[z]),
            margin_ln=None if mean is None else float(mean[z] - floors.promise_ln[z]),
            sd_ln=None if sd is None else float(sd[z]),
            reading_sd_ln=READING_SD,
            confidence=CONFIDENCE,
        )
        for z in range(len(floors.site))
    )


def known_after(
    columns: WearColumns, floors: Floors, ahead: int
) -> list[tuple[int, Floats, Floats, Floats, Flags]]:
    """(day, mean ln, sd, median GU, due) at the end of each of the next weeks."""
    today, promise = columns.days - 1, floors.promise_ln[:, None]
    draws = draw(estimate(columns, LAW))
    part = slice(today + 1, today + 1 + ahead)
    plan = tuple((effect, done[:, part]) for effect, done in floors.plan)
    weeks = []
    nights = walk_ahead(draws, LAW, floors.thousand_passes[:, part], plan)
    for day, (_, evening) in enumerate(nights, start=1):
        if day % 7 == 0:
            ln = seen_ln(evening.base, evening.shock, evening.state)
            due = (ln >= promise).mean(axis=1) < CONFIDENCE
            median = np.exp(np.median(ln, axis=1))
            weeks.append((today + day, ln.mean(axis=1), ln.std(axis=1), median, due))
    return weeks


def year(floors: Floors, share: float, rule: Rule) -> dict[str, float]:
    """One year of rounds by a rule, held against the truth at every week's end."""
    columns, zones = floors.columns, len(floors.site)
    last = np.zeros(zones, dtype=np.int64)
    np.maximum.at(last, columns.reading_zone, columns.reading_day)
    budget = int(share * RoundCost().minutes(candidates(floors, last * 0, None, None)))
    mean: Floats | None = None
    sd: Floats | None = None
    sums = dict.fromkeys(("missed", "early", "error", "near", "near_error", "read", "minutes"), 0.0)
    oldest = 0
    for number in range(ROUNDS):
        day = HISTORY_DAYS - 1 + ROUND_DAYS * number
        if mean is None:
            start = with_read(columns, floors, np.zeros(0, dtype=np.int64), number)
            _, mean, sd, _, _ = known_after(start, floors, 7)[0]
        chosen = rule(candidates(floors, day - last, mean, sd), budget)
        read = np.array(sorted(int(c.zone.zone[1:]) for c in chosen), dtype=np.int64)
        sums["read"] += read.size
        sums["minutes"] += RoundCost().minutes(c.zone for c in chosen)
        columns, last[read] = with_read(columns, floors, read, number), day
        oldest = max(oldest, int((day - last).max()))
        for on, mean, sd, median, due in known_after(columns, floors, ROUND_DAYS):  # noqa: B007
            true = floors.seen_ln[:, on]
            below, near = true < floors.promise_ln, np.abs(true - floors.promise_ln) < NEAR_LN
            error = np.abs(median - np.exp(true))
            sums["missed"] += (below & ~due).sum()
            sums["early"] += (due & ~below).sum()
            sums["error"] += error.sum()
            sums["near"] += near.sum()
            sums["near_error"] += error[near].sum()
    weeks = zones * ROUNDS * (ROUND_DAYS // 7)
    assert sums["minutes"] <= budget * ROUNDS
    return {
        "near_mae": sums["near_error"] / sums["near"],
        "wrong": (sums["missed"] + sums["early"]) / weeks,
        "missed": sums["missed"] / weeks,
        "early": sums["early"] / weeks,
        "mae": sums["error"] / weeks,
        "near_share": sums["near"] / weeks,
        "zones_a_round": sums["read"] / ROUNDS,
        "longest_unread_days": float(oldest),
    }


def main(arguments: list[str]) -> None:
    """Run the study and print it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--zones", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args(arguments)
    answer: dict[str, object] = {"zones": given.zones, "seed": given.seed}
    for kind, departure in KINDS.items():
        floors = invent(given.zones, given.seed, departure)
        for budget, share in BUDGETS.items():
            for name, rule in RULES.items():
                found = {k: round(float(v), 4) for k, v in year(floors, share, rule).items()}
                answer[f"{kind}, {budget}, {name}"] = found
                print(f"{kind}, {budget}, {name}: {found}", flush=True)
    print(json.dumps(answer))


if __name__ == "__main__":
    main(sys.argv[1:])
