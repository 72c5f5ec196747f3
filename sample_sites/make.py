"""Makes the sample: an invented contractor with two years of care, and the truth behind it.

    python sample_sites/make.py [--into FOLDER]

The same seed gives the same bytes: no clock is read and nothing is left to the order of a set.
"""

import argparse
import csv
import io
import json
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

# runs from a clone where nothing was installed, too
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import agreements
import crews
import equipment
import numpy as np
from lives import (
    AXIS_FROM,
    DAYS,
    SEED,
    Lives,
    acceptance_day,
    burnish_spans,
    date_of,
    day_of,
    dropped_dates,
    live,
    made_by,
    seen,
    site_of,
    stream,
)
from places import (
    AREAS,
    AS_OF,
    BRANCHES,
    CARE_FROM,
    CUSTOMERS,
    OWN_RHYTHMS,
    SITES,
    SPRING_RECOATS,
    ZONES,
    InventedZone,
)
from rounds import Round, rounds_of, slip_rows, station_codes

from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.traffic import PASS_WEIGHT
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.gloss import trimmed_mean
from floorcare.store.surfaces import load_surfaces

SLIP_PROMISES = {
    "CONCOURSE/RAMP": ("wet DCOF", "0.45", "ramp"),
    "KLINIK/MAIN-DOOR": ("pendulum PTV", "36", "level"),
}
BEFORE_OUR_TIME = (
    # SITE/ZONE, work, done on, about days
    ("CONCOURSE/SHOP-LANE", "recoat", date(2023, 11, 20), 30),
    ("TERMINAL/PIER-LANE", "strip", date(2024, 6, 10), 21),
    ("LIBRARY/LOBBY-LANE", "densify", date(2024, 8, 12), 0),
)
IN_TWO_NIGHTS = (
    ("MARKETHALL/SOUTH-LANE", Work.RECOAT, 0.6),
    ("COLLEGE/HALL-LANE", Work.REPOLISH, 0.5),
)
"""First works that took two nights, with the share done in the first of them."""
COUNTER_ERROR = 0.04
Rows = Iterable[Iterable[Any]]
TABLES = {**crews.TABLES, **equipment.TABLES, **agreements.TABLES}
"""Files that are plain tables: heading and rows by name."""

HEADINGS = {
    "customers.csv": "customer,name",
    "branches.csv": "branch,name,time_zone,country,region,latitude,longitude,crews,crew_size,"
    "shift_minutes,nights,reserve_share,units,currency",
    "sites.csv": "site,customer,name,branch,branch_from_on,address,time_zone,country,region,"
    "latitude,longitude,holidays,notice_days,access_note",
    "access_windows.csv": "site,nights,from,to,permits,from_on,to_on",
    "shut_days.csv": "site,from_on,to_on,why",
    "areas.csv": "site,area,name",
    "zones.csv": "site,area,zone,name,surface,area_m2,traffic,place,exposure,from_on,to_on,"
    "opening,polished_on,about_days,poured_on,parents",
    "stations.csv": "site,zone,station,note",
    "traffic.csv": "site,zone,kind,per_day,counted,from_on,to_on",
    "readings.csv": "site,zone,station,taken_at,measure,geometry,method,value,state,instrument,"
    "reader,witness",
    "treatments_done.csv": "site,zone,work,done_on,known,about_days,share,performer",
    "routines.csv": "site,zone,work,every,starts_on,performer,proof,ends_on,except_on,minutes,"
    "promised",
    "promises.csv": "contract,site,zone,kind,starts_on,ends_on,reference_gu,reference_on,"
    "reference_state,loss_share,confidence,policy,slip_method,slip_limit,slip_place,"
    "response_hours",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lived:
    """A zone and its row in the lives of its surface."""

    zone: InventedZone
    z: int
    lives: Lives
    surface: Surface


def lived(surfaces: Mapping[str, Surface]) -> tuple[Lived, ...]:
    """Every zone with what happened to it, by site and code."""
    found = []
    for code in sorted({zone.surface for zone in ZONES}):
        zones = [zone for zone in ZONES if zone.surface == code]
        zones.sort(key=lambda zone: (zone.site, zone.code))
        lives = live(zones, surfaces[code])
        found += [
            Lived(zone=zone, z=z, lives=lives, surface=surfaces[code])
            for z, zone in enumerate(zones)
        ]
    return tuple(sorted(found, key=lambda each: (each.zone.site, each.zone.code)))


def made() -> dict[str, str]:
    """Every file of the sample, its text by its name."""
    all_lived = lived(load_surfaces())
    zones = [each.zone for each in all_lived]
    rounds = [list(rounds_of(e.zone, e.z, e.lives, e.surface.law)) for e in all_lived]
    rows: dict[str, Rows] = {
        "customers.csv": CUSTOMERS,
        "branches.csv": BRANCHES,
        "sites.csv": _site_rows(),
        "access_windows.csv": [(s.code, *w, "", "") for s in SITES for w in s.windows],
        "shut_days.csv": [(s.code, *shut) for s in SITES for shut in s.shut],
        "areas.csv": AREAS,
        "zones.csv": [_zone_row(zone) for zone in zones],
        "stations.csv": [
            (zone.site, zone.code, station, "") for zone in zones for station in station_codes(zone)
        ],
        "traffic.csv": _traffic_rows(all_lived),
        "readings.csv": _reading_rows(rounds),
        "treatments_done.csv": _done_rows(all_lived),
        "routines.csv": _routine_rows(zones),
        "promises.csv": _promise_rows(zones, rounds),
    }
    texts = {name: _csv(HEADINGS[name], rows[name]) for name in HEADINGS}
    texts |= {name: _csv(heading, table) for name, (heading, table) in TABLES.items()}
    texts["truth.json"] = _truth(all_lived, rounds)
    return texts


def _csv(heading: str, rows: Rows) -> str:
    text = io.StringIO(newline="")
    text.write(heading + "\n")
    csv.writer(text, lineterminator="\n").writerows(rows)
    return text.getvalue()


def _site_rows() -> Iterator[tuple[Any, ...]]:
    branches = {row[0]: row for row in BRANCHES}
    for s in SITES:
        _, _, time_zone, country, region, *_ = branches[s.branch]
        yield (
            s.code, s.customer, s.name, s.branch, "", s.address, time_zone, country, region,
            s.latitude, s.longitude, s.holidays, s.notice_days, s.access_note,
        )  # fmt: skip


def _zone_row(zone: InventedZone) -> tuple[Any, ...]:
    return (
        zone.site, zone.area, zone.code, zone.name, zone.surface, zone.area_m2, zone.traffic,
        zone.place, zone.exposure, zone.from_on, "", zone.opening,
        zone.polished_on or (zone.fresh_on if zone.opening == "fresh" else ""),
        zone.about_days or "", zone.poured_on or "", "",
    )  # fmt: skip


def _traffic_rows(all_lived: Sequence[Lived]) -> Iterator[tuple[Any, ...]]:
    """Counts of whole periods, one row a kind of traffic; the counter errs by a few per cent."""
    for each in all_lived:
        zone = each.zone
        random = stream(zone.key, "counter")
        for first, last in _count_periods(zone) if zone.counts else ():
            mean = each.lives.passes[each.z, day_of(first) : day_of(last) + 1].mean()
            for kind, share in zone.kinds:
                error = np.exp(COUNTER_ERROR * random.standard_normal())
                per_day = round(float(mean * share / PASS_WEIGHT[kind] * error), 1)
                yield zone.site, zone.code, kind, per_day, "yes", first, last


def _count_periods(zone: InventedZone) -> Iterator[tuple[date, date]]:
    """Whole months or quarters up to the last one that is over, cut where a zone was closed."""
    months = 1 if zone.counts == "monthly" else 3
    starts = {zone.from_on}
    if zone.closed is not None:
        starts |= {zone.closed[0], zone.closed[1] + timedelta(days=1)}
    year, month = zone.from_on.year, 1
    while (at := date(year, month, 1)) <= AS_OF:
        if at > zone.from_on + timedelta(days=20):
            starts.add(at)
        year, month = (year, month + months) if month + months <= 12 else (year + 1, 1)
    ordered = sorted(starts)
    for first, following in pairwise(ordered):
        yield first, following - timedelta(days=1)


def _reading_rows(rounds: list[list[Round]]) -> Iterator[tuple[Any, ...]]:
    for of_zone in rounds:
        for each in of_zone:
            taken_at = f"{each.on} {each.minute // 60:02d}:{each.minute % 60:02d}"
            for station, gloss in zip(station_codes(each.zone), each.values, strict=True):
                yield (
                    each.zone.site, each.zone.code, station, taken_at, "gloss", 60, "", gloss,
                    each.state, each.meter, each.reader, each.witness,
                )  # fmt: skip
    for key, on, method, station, slip in slip_rows():
        site, zone = key.split("/")
        meter, reader = ("SM-11", "Theo") if site == "CONCOURSE" else ("SM-21", "Lutz")
        yield (
            site, zone, station, f"{on} 21:30", "slip", "", method, slip, "wet", meter, reader, "",
        )  # fmt: skip


def _done_rows(all_lived: Sequence[Lived]) -> Iterator[tuple[Any, ...]]:
    """What was done beyond the routines, by night and zone."""
    rows: list[tuple[Any, ...]] = []
    for key, work, on, about in BEFORE_OUR_TIME:
        known = ("about", about) if about else ("known", "")
        rows.append((*key.split("/"), work, on, *known, 1, "other"))
    for each in all_lived:
        zone = each.zone
        for work, done in each.lives.done.items():
            if work is Work.BURNISH and zone.burnish:
                continue
            new = day_of(zone.fresh_on) if work is made_by(each.surface) else -1
            days = [day for day in np.flatnonzero(done[each.z]).tolist() if day != new]
            for number, day in enumerate(days):
                shares = [(date_of(day), 1.0)]
                for key, parted, share in IN_TWO_NIGHTS:
                    if key == zone.key and parted is work and number == 0:
                        shares = [(date_of(day - 1), share), (date_of(day), 1.0 - share)]
                rows += [
                    (zone.site, zone.code, work.value, on, "known", "", f"{share:g}", "us")
                    for on, share in shares
                ]
    return iter(sorted(rows, key=lambda row: (row[3], row[0], row[1], row[2])))


def _routine_rows(zones: list[InventedZone]) -> Iterator[tuple[Any, ...]]:
    for site in SITES:
        yield (
            site.code, "", "clean", "daily", CARE_FROM, "site team", "reported", "", "", "", "no",
        )  # fmt: skip
    for zone in zones:
        for first, last, proof in burnish_spans(zone):
            dropped = dropped_dates(zone, first, last)
            yield (
                zone.site, zone.code, "burnish", zone.burnish, first, zone.by, proof, last or "",
                " ".join(map(str, dropped)), "", "no",
            )  # fmt: skip
    for key in SPRING_RECOATS:
        yield (
            *key.split("/"), "recoat", "yearly", date(2025, 4, 8), "us", "confirmed", "", "", "",
            "yes",
        )  # fmt: skip
    for key, work, every, first, minutes in OWN_RHYTHMS:
        yield (
            *key.split("/"), work, every, first, "us", "confirmed", "", "", minutes or "", "no",
        )  # fmt: skip


def _promise_rows(
    zones: list[InventedZone], rounds: list[list[Round]]
) -> Iterator[tuple[Any, ...]]:
    none = ("",) * 6
    for site in SITES:
        term = (f"C-{site.code}", site.code, "", "response", CARE_FROM, site.term_ends)
        yield (*term, *none, "", "", "", 24 if site.holidays == "shut" else 12)
    for zone, of_zone in zip(zones, rounds, strict=True):
        ends = site_of(zone).term_ends
        line = (f"C-{zone.site}", zone.site, zone.code)
        starts = max(CARE_FROM, zone.from_on)
        if zone.policy:
            reference: tuple[Any, ...] = ("", "", "")
            if of_zone:
                first = of_zone[0]
                reference = (f"{trimmed_mean(first.values):.1f}", first.on, first.state)
            yield (
                *line, "appearance", starts, ends, *reference, "0.20", f"{zone.confidence:g}",
                zone.policy, "", "", "", "",
            )  # fmt: skip
        if zone.key in SPRING_RECOATS:
            yield (*line, "rhythm", starts, ends, *none, "", "", "", "")
        if zone.key in SLIP_PROMISES:
            yield (*line, "slip", starts, ends, *none, *SLIP_PROMISES[zone.key], "")


def _truth(all_lived: Sequence[Lived], rounds: list[list[Round]]) -> str:
    """What no contractor could know, for tests to compare with.

    gloss_gu is the gloss as it lies at the end, reference_gu the true one behind the contract's.
    """
    last = DAYS - 1
    floors = {}
    for each in all_lived:
        zone, z, lives = each.zone, each.z, each.lives
        burnish = each.surface.methods[Work.BURNISH].effect
        kept = np.array([[burnish.haze_kept]])
        after_burnish_gu = seen(lives.truth, each.surface.law, kept)[z, last]
        accepted = acceptance_day(zone, lives.done[Work.BURNISH][z])
        floors[zone.key] = {
            "u_haze": round(float(lives.u_haze[z]), 4),
            "u_rest": round(float(lives.u_rest[z]), 4),
            "footfall_per_day": round(float(lives.passes[z, last - 89 :].mean()), 1),
            "gloss_gu": round(float(lives.truth.after[z, last]), 2),
            "gloss_after_burnish_gu": round(float(after_burnish_gu), 2),
            "reference_gu": round(float(lives.seen_gu[z, min(accepted, last)]), 2),
        }
    gross = [[e.zone.key, str(e.on)] for of_zone in rounds for e in of_zone if e.gross]
    wrong = next(e for of_zone in rounds for e in of_zone if e.mistyped)
    mistyped = {
        "zone": wrong.zone.key,
        "station": wrong.mistyped,
        "on": str(wrong.on),
        "typed_gu": wrong.values[station_codes(wrong.zone).index(wrong.mistyped)],
    }
    whole = {"as_of": str(AS_OF), "seed": SEED, "simulated_from": str(AXIS_FROM)}
    return (
        json.dumps(
            {**whole, "zones": floors, "gross_rounds": gross, "mistyped": mistyped}, indent=1
        )
        + "\n"
    )


def main() -> None:
    """Write the sample into a folder."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--into", type=Path, default=Path(__file__).parent, metavar="FOLDER")
    folder: Path = parser.parse_args().into
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in made().items():
        (folder / name).write_bytes(text.encode())


if __name__ == "__main__":
    main()
