"""An invented contractor's care of any size, written straight into a database.

`python -m tests.scale.plan_care FILE --zones N [--seed S]` makes the file. Ten zones a site, up to
a thousand zones a branch; each zone with 24 readings over two years, 12 traffic rows, its past
work, two burnishes a week by the site's team and one promised look.
"""

import argparse
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np

from floorcare.ground.trade.book import Portfolio, SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import Policy, PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Customer, Site
from floorcare.ground.trade.traffic import TrafficRow, level_of
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening, Zone, ZoneSpan
from floorcare.ground.worktime.window import AccessWindow
from floorcare.store.open import Store, open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.ground.wear.fleets import Fleet, make_fleet

TODAY = date(2026, 3, 2)
NOW = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)
HISTORY_DAYS, AHEAD_DAYS, READINGS, TRAFFIC_ROWS = 730, 90, 24, 12
ZONES_A_SITE, ZONES_A_BRANCH = 10, 1000
FIRST = TODAY - timedelta(days=HISTORY_DAYS - 1)
ALWAYS = date(2020, 1, 1)
DAY_NAMES = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
SURFACES = ("polished_concrete",) * 4 + ("terrazzo",)
PERMITS = frozenset({"loud", "wet", "dust"})
AS_AGREED_EVERY = 5
"""Each fifth zone runs on the contractor's own rhythm."""
LOSS_SHARE = 0.25
ZONES_A_CREW = 50


def chunks(zones: int, seed: int, zones_a_site: int = ZONES_A_SITE) -> Iterator[Portfolio]:
    """The care branch by branch."""
    for number, start in enumerate(range(0, zones, ZONES_A_BRANCH)):
        count = min(ZONES_A_BRANCH, zones - start)
        fleet = fleet_of(count, seed + number)
        branch = _branch(number, count)
        yield Portfolio(
            customers=(Customer(code="OWNER", name="Owner of many floors"),),
            branches=(branch,),
            books=tuple(
                _site(branch, number, place, range(at, min(at + zones_a_site, count)), fleet)
                for place, at in enumerate(range(0, count, zones_a_site))
            ),
        )


def fleet_of(zones: int, seed: int) -> Fleet:
    """The floors of one branch, with what is really so."""
    return make_fleet(
        zones=zones, days=HISTORY_DAYS, ahead=AHEAD_DAYS, seed=seed, readings=READINGS
    )


def _branch(number: int, zones: int) -> Branch:
    return Branch(
        code=f"B{number:03d}",
        name=f"Branch {number}",
        time_zone="America/Chicago",
        country="US",
        region="IL",
        latitude=41.9,
        longitude=-87.7,
        crews=-(-zones // ZONES_A_CREW) + 1,
        crew_size=3,
    )


def _site(branch: Branch, number: int, place: int, rows: range, fleet: Fleet) -> SiteBook:
    window = AccessWindow(
        weekdays=frozenset(range(5)),
        starts_minute=(20 + place % 4) * 60,
        ends_minute=6 * 60,
        permits=PERMITS,
    )
    site = Site(
        code=f"S{number:03d}{place:04d}",
        customer="OWNER",
        name=f"Hall {place} of branch {number}",
        time_zone=branch.time_zone,
        country=branch.country,
        region=branch.region,
        latitude=41.5 + place % 10 / 10,
        longitude=-88.2 + place // 10 % 10 / 10,
        branches=(BranchSpan(branch=branch.code, from_on=ALWAYS),),
        windows=(window,),
    )
    return SiteBook(
        site=site,
        areas=(Area(code="HALL", name="Hall"),),
        zones=tuple(_zone(f"Z{at:02d}", row, fleet) for at, row in enumerate(rows)),
    )


def _zone(code: str, row: int, fleet: Fleet) -> ZoneBook:
    columns = fleet.columns
    (_, repolish), (_, recoat), (_, burnish) = columns.treatments
    done = [(Work.REPOLISH, day) for day in np.flatnonzero(repolish[row]).tolist()]
    done += [(Work.RECOAT, day) for day in np.flatnonzero(recoat[row]).tolist()]
    passes = columns.thousand_passes[row]
    zone = Zone(
        code=code,
        area="HALL",
        name=f"Zone {code}",
        spans=(
            ZoneSpan(
                from_on=FIRST,
                surface=SURFACES[row % len(SURFACES)],
                area_m2=40.0 + 7.0 * (row % 40),
                traffic=level_of(1000.0 * float(passes.mean())),
            ),
        ),
        opening=Opening.FRESH,
    )
    days = ",".join(
        DAY_NAMES[(FIRST + timedelta(days=int(day))).weekday()]
        for day in np.flatnonzero(burnish[row, :7])
    )
    routines = [_routine(Work.BURNISH, f"FREQ=WEEKLY;BYDAY={days}", Performer.SITE_TEAM)]
    agreed = row % AS_AGREED_EVERY == 0
    if agreed:
        routines.append(_routine(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=16", Performer.US))
    readings = _readings(code, row, fleet)
    return ZoneBook(
        zone=zone,
        readings=readings,
        done=tuple(
            TreatmentDone(work=work, done_on=FIRST + timedelta(days=day))
            for work, day in sorted(done, key=lambda one: one[1])
        ),
        traffic=_traffic(passes, bool(columns.counted[row])),
        routines=tuple(routines),
        promises=(
            PromiseLine(
                contract="CARE",
                kind=PromiseKind.APPEARANCE,
                starts_on=FIRST,
                ends_on=date(2029, 12, 31),
                reference_gu=round(float(fleet.truth.after[row, 0]), 1),
                reference_on=FIRST,
                loss_share=LOSS_SHARE,
                policy=Policy.AS_AGREED if agreed else Policy.GENTLEST,
            ),
        ),
    )


def _routine(work: Work, rule: str, performer: Performer) -> Routine:
    return Routine(
        work=work, rule=rule, starts_on=FIRST, performer=performer, proof=Proof.CONFIRMED
    )


def _readings(code: str, row: int, fleet: Fleet) -> tuple[Reading, ...]:
    columns = fleet.columns
    found = {}
    for at in range(row * READINGS, (row + 1) * READINGS):
        after = bool(columns.reading_after_burnish[at])
        reading = Reading(
            zone=code,
            station="",
            taken_on=FIRST + timedelta(days=int(columns.reading_day[at])),
            taken_minute=540 + at % READINGS,
            measure=Measure.GLOSS,
            value=round(float(np.exp(columns.reading_ln[at])), 1),
            state=SurfaceState.AFTER_BURNISH if after else SurfaceState.AFTER_CLEANING,
            geometry_deg=60,
        )
        found[reading.taken_on, reading.taken_minute] = reading
    return tuple(found[key] for key in sorted(found))


def _traffic(passes: np.ndarray, counted: bool) -> tuple[TrafficRow, ...]:
    edges = np.linspace(0, HISTORY_DAYS, TRAFFIC_ROWS + 1).astype(int).tolist()
    return tuple(
        TrafficRow(
            kind="foot",
            per_day=round(1000.0 * float(passes[begin:end].mean()), 1),
            counted=counted,
            from_on=FIRST + timedelta(days=begin),
            to_on=FIRST + timedelta(days=end - 1),
        )
        for begin, end in pairwise(edges)
    )


def make_care(file: Path, zones: int, seed: int) -> None:
    """Write the care into a new database, a branch a transaction."""
    url = f"sqlite:///{file}"
    create_or_upgrade(url, NOW)
    store: Store = open_store(url)
    for portfolio in chunks(zones, seed):
        with store.work(writes=True) as work:
            work.put_portfolio(portfolio, who="scale", now=NOW)
            work.commit()
    store.close()


def main() -> None:
    """Make the file named on the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--zones", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    make_care(asked.file, asked.zones, asked.seed)


if __name__ == "__main__":
    main()
