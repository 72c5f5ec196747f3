"""Zones of any surface, worn by its law alone, and the year planned for them."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np

from floorcare.ground.schedule.branch_year import BranchYear, Decision, decide_branch
from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.reading import Reading, SurfaceState
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.traffic import FOOTFALL_OF_LEVEL, TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.model import FloorState, expose, ln_gloss, rates_from, treat
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_branch,
    a_site_book,
    a_zone,
    look_promised,
    routinely,
)
from tests.store.sample import gloss

BURNISH_NIGHTS = (1, 4)
"""Tuesday and Friday."""


def worn_down(
    surface: Surface,
    traffic: TrafficLevel,
    begun: date,
    done: tuple[TreatmentDone, ...],
    state: SurfaceState,
    burnished: bool,
) -> tuple[Reading, ...]:
    """Fortnightly rounds of three stations that follow the law exactly, 60 GU when fresh."""
    floor = FloorState.fresh((1,), surface.law)
    rates = rates_from(surface.law, np.zeros(1), np.zeros(1))
    fresh = ln_gloss(floor, surface.law)[0]
    readings: list[Reading] = []
    for day in (begun + n * DAY for n in range((TODAY - begun).days)):
        floor = expose(floor, rates, surface.law, FOOTFALL_OF_LEVEL[traffic] / 1000.0)
        for treatment in done:
            if treatment.done_on == day:
                floor = treat(floor, surface.methods[treatment.work].effect)
        if burnished and day.weekday() in BURNISH_NIGHTS:
            floor = treat(floor, surface.methods[Work.BURNISH].effect)
        if day.weekday() == BURNISH_NIGHTS[1] and (day - begun).days % 14 < 7 < (day - begun).days:
            value = round(60.0 * float(np.exp(ln_gloss(floor, surface.law)[0] - fresh)), 1)
            readings.extend(
                replace(gloss(day, value + shift, station=f"P{n}"), state=state)
                for n, shift in enumerate((-0.5, 0.0, 0.5))
            )
    return tuple(readings)


def a_zone_of(
    surface: Surface,
    traffic: TrafficLevel = TrafficLevel.HEAVY,
    *,
    begun: date = TODAY - 60 * DAY,
    done: tuple[TreatmentDone, ...] = (),
    state: SurfaceState = SurfaceState.AFTER_BURNISH,
    burnished: bool = True,
) -> ZoneBook:
    zone = a_zone(area_m2=60.0, traffic=traffic, from_on=begun)
    return a_book(
        zone=replace(zone, spans=tuple(replace(s, surface=surface.code) for s in zone.spans)),
        readings=worn_down(surface, traffic, begun, done, state, burnished),
        routines=(routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU,FR"),) if burnished else (),
        promises=(look_promised(reference_state=state),),
        done=done,
    )


def plan(surface: Surface, book: ZoneBook) -> Decision:
    return decide_branch(
        BranchYear(
            branch=a_branch(),
            books=(a_site_book("NORTH", book),),
            surfaces={surface.code: surface},
            standing=(),
            today=TODAY,
            last_on=TODAY + 364 * DAY,
        )
    )


def dues(decision: Decision) -> list[Due]:
    """Every treatment planned, once, in rising target."""
    found = {line.due.target: line.due for stub in decision.stubs for line in stub.lines
             if line.work is not Work.READING_ROUND}  # fmt: skip
    return [found[target] for target in sorted(found)]


def gaps(decision: Decision, work: Work) -> list[int]:
    """Days between one and the next of a work."""
    targets = [due.target for due in dues(decision) if due.work is work]
    return [(later - sooner).days for sooner, later in pairwise(targets)]


def recoats(count: int, apart: int, last: int) -> tuple[TreatmentDone, ...]:
    """Recoats so many days apart, the last one so many days ago."""
    days = (last + apart * n for n in reversed(range(count)))
    return tuple(TreatmentDone(work=Work.RECOAT, done_on=TODAY - ago * DAY) for ago in days)
