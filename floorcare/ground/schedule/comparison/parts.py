"""The zones of a comparison, laid out in parts that fit into memory, and those that stand apart."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.floor import Course
from floorcare.ground.rules.slip import slip_guard
from floorcare.ground.rules.walk import WalkTerms
from floorcare.ground.rules.walk_terms import walk_terms
from floorcare.ground.rules.wear_dues import READ_STATIONS, Outlook, wear_rungs
from floorcare.ground.schedule.branch_year import BranchYear, look_ahead, site_nights
from floorcare.ground.schedule.comparison.belief import Belief, belief_of
from floorcare.ground.schedule.comparison.calendar import (
    FixedCalendar,
    calendar_works,
    fixed_calendar,
    laid_by,
)
from floorcare.ground.schedule.comparison.cost import Prices, WorkCosts, work_costs
from floorcare.ground.schedule.comparison.futures import Futures, futures_of
from floorcare.ground.schedule.zone_dues import LOOK_BEYOND_DAYS
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.surface import Effect, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.from_books import routine_dates, runs_by_itself
from floorcare.ground.wear.books.judged import reading_error
from floorcare.ground.wear.draws import Draws, draw
from floorcare.ground.wear.fleet import Fleet
from floorcare.ground.wear.model import Flags, Whole
from floorcare.ground.work.minutes import line_minutes

PART_ZONES = 128
"""Zones lived together; more take more memory and no less time. Assumption."""
BELIEF_DRAWS = 16
"""Sampled floors of a planner's belief in each future. Assumption."""
READ_EVERY_DAYS = 91
"""A zone under measured wear is read once a quarter, as the reading round has it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """Some zones of one surface at one branch, ready to be lived.

    keys : (site, contract) of each zone; zones : SITE/ZONE of each.
    opportunity : (Z, D), the nights a zone may be worked; number : (Z, D), which of its site's.
    works, effects, calendar, costs : the fixed calendar's works in the order of one night.
    reading_nights : (Z, D), on which a zone is read under measured wear.
    labour_minute : what a person's minute costs.
    """

    keys: tuple[tuple[str, str], ...]
    zones: tuple[str, ...]
    futures: Futures
    draws: Draws
    terms: WalkTerms
    opportunity: Flags
    works: tuple[Work, ...]
    effects: tuple[Effect, ...]
    calendar: FixedCalendar
    costs: WorkCosts
    reading_nights: Flags
    reading_sd: float
    labour_minute: float

    @property
    def number(self) -> Whole:
        """(Z, D): which of its opportunities each day is, counted from 0."""
        number: Whole = np.cumsum(self.opportunity, axis=1) - 1
        return number

    def belief(self) -> Belief:
        """What a planner believes of the zones today; made when it is needed, since it is large."""
        return belief_of(
            self.draws,
            self.futures.course,
            self.futures.level.shape[1],
            self.draws.count - BELIEF_DRAWS,
        )

    @property
    def promises(self) -> bool:
        """Whether a rhythm was sold on any of its zones."""
        return bool(self.calendar.promised.any())

    @property
    def standard(self) -> frozenset[str]:
        """Materials of works that any plan may do whose price was taken as standard."""
        climbed = {rung.work for rung in self.terms.rungs} - {Work.FULL_RESTORATION}
        held = [bool(np.isfinite(gaps).any()) for gaps in self.calendar.gap_days]
        found = (
            materials
            for work, on_it, materials in zip(self.works, held, self.costs.standard, strict=True)
            if on_it or work in climbed
        )
        return frozenset[str]().union(*found)

    def laid(self, factor: float, *, only_promised: bool = False) -> Flags:
        """(W, Z, D): the nights of the calendar with every gap `factor` times as long."""
        calendar = self.calendar.only_promised() if only_promised else self.calendar
        return laid_by(calendar, self.opportunity, factor)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Apart:
    """Zones that run as agreed in every plan.

    why : of each zone. nights : (Z, D). minutes, money : of their calendar, (Z,).
    """

    keys: tuple[tuple[str, str], ...]
    why: tuple[str, ...]
    nights: Flags
    minutes: Whole
    money: Whole


def laid_out(year: BranchYear, prices: Prices, futures: int) -> Iterator[Part | Apart]:
    """A branch's zones in parts, those with promised rhythms apart from the others, and those
    that cannot be compared.

    Parameters
    ----------
    year : its last day is the end of the comparison.
    futures : K.
    """
    permits = _permits(year)
    for fleet, cases, ahead in look_ahead(year):
        barred = [_barred(case.surface, permits[case.site]) for case in cases]
        whys = [_why_apart(fleet, z, case, ahead) for z, case in enumerate(cases)]
        asked = [z for z, why in enumerate(whys) if not why]
        others = [z for z, why in enumerate(whys) if why]
        if others:
            yield _apart(fleet, cases, others, [whys[z] for z in others], barred, prices, ahead)
        if not asked:
            continue
        draws = draw(fleet.fit, futures + BELIEF_DRAWS, band_scale=fleet.band_scale)
        sold = [z for z in asked if any(r.promised for r in cases[z].book.routines)]
        for own in ([z for z in asked if z not in sold], sold):
            for start in range(0, len(own), PART_ZONES):
                rows = own[start : start + PART_ZONES]
                yield _part(fleet, cases, ahead, draws, rows, barred, prices, futures)


def _permits(year: BranchYear) -> Mapping[str, tuple[frozenset[str], ...]]:
    """What the nights of each site permit, each kind of night once."""
    found = {}
    for book in year.books:
        nights = site_nights(year, book).nights
        found[book.site.code] = tuple({night.permits for night in nights})
    return found


def _barred(surface: Surface, permits: Sequence[frozenset[str]]) -> frozenset[Work]:
    return frozenset(
        work
        for work, rung in surface.methods.items()
        if not any(rung.needs <= permitted for permitted in permits)
    )


def _why_apart(fleet: Fleet, row: int, case: ZoneCase, ahead: Outlook) -> str:
    """Why a zone cannot be compared, "" where it can."""
    if case.appearance is None or not np.isfinite(ahead.promise_gu[row]):
        return "no look promised against a reference"
    if not fleet.measured[row] or np.isnan(fleet.draws.level[row]).any():
        return "no readings to go by"
    if slip_guard(case.book, case.today) is not None:
        return "guarded for slip"
    return ""


def _opportunity(cases: Sequence[ZoneCase], days: int) -> Flags:
    """(Z, D) nights within the zone's care."""
    found = np.zeros((len(cases), days), dtype=bool)
    for z, case in enumerate(cases):
        tomorrow = case.today + timedelta(days=1)
        ahead = [(on - tomorrow).days for on in case.opportunities if on <= case.last_on]
        found[z, [day for day in ahead if day < days]] = True
    return found


def _part(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    ahead: Outlook,
    draws: Draws,
    rows: Sequence[int],
    barred: Sequence[frozenset[Work]],
    prices: Prices,
    futures: int,
) -> Part:
    chosen, index = [cases[z] for z in rows], np.array(rows, dtype=np.int64)
    own_barred = [barred[z] for z in rows]
    days, rungs = ahead.course.days, wear_rungs(fleet.surface)
    works = calendar_works(fleet.surface)
    calendar = fixed_calendar(chosen, fleet.surface, own_barred)
    opportunity = _opportunity(chosen, days)
    names = tuple("/".join(case.key) for case in chosen)
    effects = tuple(fleet.surface.methods[work].effect for work in works)
    own = _rows_of(draws, index)
    care_days = np.array([(c.last_on - c.today).days for c in chosen], dtype=np.int64)
    course = _course_rows(ahead.course, index)
    terms = walk_terms(
        fleet,
        chosen,
        [ahead.evidence[z] for z in rows],
        rungs,
        days + LOOK_BEYOND_DAYS,
        own_barred,
        np.zeros(len(rows)),
    )
    # the nights of the walk and those of the calendar are the same
    terms = replace(terms, opportunity=np.pad(opportunity, ((0, 0), (0, LOOK_BEYOND_DAYS))))
    return Part(
        keys=tuple((c.site, c.appearance.contract if c.appearance else "") for c in chosen),
        zones=names,
        futures=futures_of(names, own, course, care_days, futures),
        draws=own,
        terms=terms,
        opportunity=opportunity,
        works=works,
        effects=effects,
        calendar=calendar,
        costs=work_costs(chosen, works, fleet.surface, prices),
        reading_nights=_reading_nights(opportunity),
        reading_sd=reading_error(course.law, READ_STATIONS),
        labour_minute=prices.labour_minute,
    )


def _reading_nights(opportunity: Flags) -> Flags:
    """The first opportunity of each quarter, quarters counted from half of one on."""
    quarter = (np.arange(opportunity.shape[1]) + READ_EVERY_DAYS // 2) // READ_EVERY_DAYS
    found = np.zeros(opportunity.shape, dtype=bool)
    for number in range(1, int(quarter.max(initial=0)) + 1):
        inside = opportunity & (quarter == number)
        zones = np.flatnonzero(inside.any(axis=1))
        found[zones, inside[zones].argmax(axis=1)] = True
    return found


def _rows_of(draws: Draws, index: Whole) -> Draws:
    return Draws(
        rates=draws.rates.rows(index),
        level=draws.level[index],
        shock=draws.shock[index],
        state=draws.state.rows(index),
    )


def _course_rows(course: Course, index: Whole) -> Course:
    return replace(
        course,
        thousand_passes=course.thousand_passes[index],
        treatments=tuple((work, effect, mask[index]) for work, effect, mask in course.treatments),
        promise_ln=course.promise_ln[index],
        seen_haze_kept=course.seen_haze_kept[index],
    )


def _apart(
    fleet: Fleet,
    cases: Sequence[ZoneCase],
    rows: Sequence[int],
    whys: Sequence[str],
    barred: Sequence[frozenset[Work]],
    prices: Prices,
    ahead: Outlook,
) -> Apart:
    chosen = [cases[z] for z in rows]
    calendar = fixed_calendar(chosen, fleet.surface, [barred[z] for z in rows])
    masks = laid_by(calendar, _opportunity(chosen, ahead.course.days))
    costs = work_costs(chosen, calendar.works, fleet.surface, prices)
    times = masks.sum(axis=2)
    return Apart(
        keys=tuple((c.site, c.appearance.contract if c.appearance else "") for c in chosen),
        why=tuple(whys),
        nights=np.asarray(masks.any(axis=0)),
        minutes=(times * costs.minutes).sum(axis=0),
        money=(times * costs.money).sum(axis=0),
    )


def round_hours(year: BranchYear, first: date, last: date) -> float:
    """Person-hours of our standing rounds at a branch, which run in every plan alike."""
    minutes = 0.0
    for book in year.books:
        for zone in book.zones:
            span = zone.zone.span_about(year.today)
            for routine in zone.routines:
                rung = year.surfaces[span.surface].rung(routine.work)
                ours = routine.performer is Performer.US and runs_by_itself(routine)
                if not ours or rung is None:
                    continue
                each = line_minutes(rung, span.area_m2, typed_minutes=routine.minutes).minutes
                minutes += each * len(routine_dates(routine, first, last))
    return minutes / 60.0
