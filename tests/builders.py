"""Short ways to the records that planning tests stand on; every one is invented."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache

import numpy as np

from floorcare.findings import Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.floor import Course, Floor
from floorcare.ground.rules.walk import NEVER, WalkTerms
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.schedule.gather import SiteNights
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Site
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, VisitLine
from floorcare.ground.trade.zone import Opening, Zone, ZoneSpan
from floorcare.ground.wear.model import FloorState, Rates
from floorcare.ground.worktime.site_time import Night
from floorcare.ground.worktime.window import AccessWindow
from floorcare.store.surfaces import load_surfaces
from tests.store.sample import START, gloss

TODAY = date(2026, 3, 2)
"""A Monday."""
BEGUN = date(2025, 6, 2)
"""Care of the zones below began with a fresh floor."""
DAY = timedelta(days=1)
ALL_PERMITS = frozenset({"loud", "wet", "dust"})
WEEKNIGHTS = frozenset(range(5))


@lru_cache(maxsize=1)
def polished() -> Surface:
    """Polished concrete as it is shipped."""
    return load_surfaces()["polished_concrete"]


def a_zone(
    code: str = "LANE",
    *,
    area_m2: float | None = 400.0,
    traffic: TrafficLevel = TrafficLevel.HEAVY,
    from_on: date = BEGUN,
    to_on: date | None = None,
    place: str = "level",
    **more: object,
) -> Zone:
    """A zone of polished concrete with one span, fresh when its care began."""
    span = ZoneSpan(
        from_on=from_on,
        to_on=to_on,
        surface="polished_concrete",
        area_m2=area_m2,
        traffic=traffic,
        place=place,
    )
    own = {"area": "HALL", "name": f"Lane {code}", "opening": Opening.FRESH, **more}
    return Zone(code=code, spans=(span,), **own)  # type: ignore[arg-type]


def read_down(
    last_gu: float = 50.0, *, rounds: int = 6, last_on: date = TODAY - 6 * DAY, fall: float = 0.8
) -> tuple[Reading, ...]:
    """Rounds four weeks apart of three stations each, falling to `last_gu`; fall in GU a round."""
    return tuple(
        gloss(
            last_on - 28 * (rounds - 1 - r) * DAY,
            last_gu + fall * (rounds - 1 - r) + shift,
            station=f"P{s}",
        )
        for r in range(rounds)
        for s, shift in enumerate((-0.5, 0.0, 0.5), start=1)
    )


def look_promised(reference_gu: float = 60.0, **more: object) -> PromiseLine:
    """A promise that the look keeps 80 % of its reference."""
    terms: dict[str, object] = {"starts_on": START, "ends_on": date(2028, 12, 31), **more}
    return PromiseLine(
        contract="C-1",
        kind=PromiseKind.APPEARANCE,
        reference_gu=reference_gu,
        **terms,  # type: ignore[arg-type]
    )


def slip_promised(limit: float = 0.45, **more: object) -> PromiseLine:
    """A promise of slip resistance by wet DCOF."""
    terms: dict[str, object] = {"starts_on": START, "ends_on": date(2028, 12, 31), **more}
    return PromiseLine(
        contract="C-1",
        kind=PromiseKind.SLIP,
        slip_method="wet DCOF",
        slip_limit=limit,
        **terms,  # type: ignore[arg-type]
    )


def slip_read(on: date, value: float, method: str = "wet DCOF", station: str = "P1") -> Reading:
    """One slip reading."""
    return Reading(
        zone="LANE",
        station=station,
        taken_on=on,
        taken_minute=1380,
        measure=Measure.SLIP,
        value=value,
        state=SurfaceState.WET,
        method=method,
    )


def routinely(
    work: Work, rule: str, *, starts_on: date = START, by: Performer = Performer.US, **more: object
) -> Routine:
    """A routine that is confirmed to run."""
    proof = {"proof": Proof.CONFIRMED, **more}
    return Routine(work=work, rule=rule, starts_on=starts_on, performer=by, **proof)  # type: ignore[arg-type]


def a_book(code: str = "LANE", *, zone: Zone | None = None, **more: object) -> ZoneBook:
    """A zone burnished twice a week and read down to 50 GU where 48 of 60 GU are promised."""
    whole = {
        "zone": zone or a_zone(code),
        "readings": read_down(50.0),
        "routines": (routinely(Work.BURNISH, "FREQ=WEEKLY;BYDAY=TU,FR"),),
        "promises": (look_promised(),),
        **more,
    }
    return ZoneBook(**whole)  # type: ignore[arg-type]


def a_case(
    book: ZoneBook | None = None,
    *,
    site: str = "NORTH",
    today: date = TODAY,
    days: int = 180,
    every: int = 7,
    **more: object,
) -> ZoneCase:
    """A zone as the rules see it, with an opportunity each week from tomorrow on."""
    last_on = today + days * DAY
    chosen = {
        "first_open": today + DAY,
        "opportunities": tuple(today + ahead * DAY for ahead in range(1, days + 1, every)),
        "surface": polished(),
        **more,
    }
    return ZoneCase(
        site=site,
        book=book or a_book(),
        area="Hall B",
        today=today,
        last_on=last_on,
        **chosen,  # type: ignore[arg-type]
    )


def a_branch(**more: object) -> Branch:
    """One base with two crews of two, out on weeknights, in New York's time."""
    own = {"code": "EAST", "name": "East", "time_zone": "America/New_York", "crews": 2, **more}
    return Branch(**own)  # type: ignore[arg-type]


def a_site(code: str = "NORTH", **more: object) -> Site:
    """A site open to us every weeknight from 22:00 to 06:00 for all work."""
    own = {
        "windows": (
            AccessWindow(
                weekdays=WEEKNIGHTS, starts_minute=1320, ends_minute=360, permits=ALL_PERMITS
            ),
        ),
        "country": "US",
        **more,
    }
    return Site(
        code=code,
        customer="MARKET",
        name=code.title(),
        time_zone="America/New_York",
        branches=(BranchSpan(branch="EAST", from_on=START),),
        **own,  # type: ignore[arg-type]
    )


def a_site_book(code: str = "NORTH", *zones: ZoneBook, **more: object) -> SiteBook:
    """A site with its zones."""
    return SiteBook(
        site=a_site(code, **more),
        areas=(Area(code="HALL", name="Hall B"),),
        zones=tuple(sorted(zones or (a_book(),), key=lambda book: book.zone.code)),
    )


def a_due(
    work: Work = Work.RECOAT,
    *,
    zone: str = "LANE",
    site: str = "NORTH",
    earliest: date | None = None,
    target: date = TODAY + 7 * DAY,
    latest: date | None = None,
    minutes: int = 60,
    area_m2: float | None = None,
    needs: Set[str] = frozenset(),
    rule: str = "promise at confidence",
    recheck: bool = False,
) -> Due:
    """A due; its window is its target alone where no ends are named."""
    return Due(
        site=site,
        zone=zone,
        work=work,
        earliest=earliest or target,
        target=target,
        latest=latest or target,
        minutes=minutes,
        area_m2=area_m2,
        needs=frozenset(needs),
        reason=Reason(rule=rule, inside=f"{work} is due.", customer=f"{work} is due."),
        recheck=recheck,
    )


def a_line(due: Due) -> VisitLine:
    """The line that answers a due whole."""
    return VisitLine(
        zone=due.zone, work=due.work, minutes=due.minutes, area_m2=due.area_m2, due=due
    )


def a_night(on: date, minutes: int = 480, permits: Set[str] = ALL_PERMITS) -> Night:
    """A night from 22:00."""
    return Night(
        on=on,
        starts_minute=1320,
        ends_minute=1320 + minutes,
        minutes=minutes,
        permits=frozenset(permits),
    )


def nights_of(
    nights: Sequence[Night], *, site: str = "NORTH", people: int = 2, visit_minutes: int = 480
) -> SiteNights:
    """A site's nights for one crew."""
    return SiteNights(site=site, nights=tuple(nights), people=people, visit_minutes=visit_minutes)


def a_course(
    passes: Sequence[Sequence[float]],
    promise_gu: Sequence[float],
    *,
    draws: int = 32,
    treatments: Mapping[Work, Sequence[Sequence[int]]] | None = None,
    seen_haze_kept: float = 0.3,
    seed: int = 7,
) -> Course:
    """What happens anyway to zones of polished concrete.

    passes : thousand a day, (zones, days); treatments : day indices by work, one list a zone.
    """
    surface = polished()
    traffic = np.array(passes, dtype=float)
    zones, days = traffic.shape
    random = np.random.default_rng(seed)
    masks = []
    for work, of_zones in (treatments or {}).items():
        mask = np.zeros((zones, days), dtype=bool)
        for z, on in enumerate(of_zones):
            mask[z, list(on)] = True
        masks.append((work, surface.methods[work].effect, mask))
    return Course(
        law=surface.law,
        thousand_passes=traffic,
        treatments=tuple(masks),
        drift=np.cumsum(random.normal(0, surface.law.drift_sd, (draws, days)), axis=1),
        shocks=random.normal(0, surface.law.shock_sd, (draws, days)),
        promise_ln=np.log(np.array(promise_gu, dtype=float)),
        seen_haze_kept=np.full(zones, seen_haze_kept),
    )


def a_floor(
    zones: int = 1, *, draws: int = 32, level_gu: float = 60.0, rate_sd: float = 0.3, seed: int = 5
) -> Floor:
    """Fresh floors whose rates differ from draw to draw, the same draws in every zone."""
    law = polished().law
    random = np.random.default_rng(seed)
    pace = np.exp(random.normal(0.0, rate_sd, draws)) * np.ones((zones, 1))
    return Floor(
        zone=np.arange(zones),
        state=FloorState.fresh((zones, draws), law),
        rates=Rates(
            haze=law.haze_rate * pace, film=law.film_rate * pace, scratch=law.scratch_rate * pace
        ),
        level=np.log(level_gu) + np.zeros((zones, draws)),
        shock=np.zeros((zones, draws)),
    )


def without_noise(course: Course) -> Course:
    """The same course with neither drift nor shocks."""
    return replace(course, drift=np.zeros_like(course.drift), shocks=np.zeros_like(course.shocks))


def the_terms(course: Course, *, every: int = 7, first: int = 0, **more: object) -> WalkTerms:
    """A walk with an opportunity every so many days, 75 % confidence, no caps and no limits."""
    zones, days = course.thousand_passes.shape
    rungs = wear_rungs(polished())
    opportunity = np.zeros((zones, days), dtype=bool)
    opportunity[:, first::every] = True
    own = {
        "rungs": rungs,
        "opportunity": opportunity,
        "confidence": np.full(zones, 0.75),
        "allowed_from": np.zeros((zones, len(rungs)), dtype=np.int64),
        "cap_day": np.full((zones, len(rungs)), NEVER),
        "cap_days": np.full(len(rungs), NEVER),
        "forced": np.full(zones, -1),
        "coats": np.zeros(zones, dtype=np.int64),
        "coat_limit": polished().coat_limit,
        "escape_share": polished().escape_share,
        **more,
    }
    return WalkTerms(**own)  # type: ignore[arg-type]
