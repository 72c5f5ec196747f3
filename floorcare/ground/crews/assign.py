"""The week: each visit to the crew-night that suits best, by a search over all of them at once.

Machines are shared out first, then tours are searched that put as many visits as can be, the most
pressing first, and cost least in drives, overtime and disturbed nights. What finds no place is
explained. The same week, seed and number of steps give the same answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time, timedelta
from itertools import pairwise

import numpy as np

from floorcare.ground.crews.breaks import with_break
from floorcare.ground.crews.doubts import week_findings
from floorcare.ground.crews.explain import explained
from floorcare.ground.crews.fill import filled
from floorcare.ground.crews.first_fit import unchecked_of
from floorcare.ground.crews.holders import Held, Key, holders, machines_for_wish
from floorcare.ground.crews.parts import wishes_of
from floorcare.ground.crews.rest import rested
from floorcare.ground.crews.roster import Nights, crew_nights, last_there
from floorcare.ground.crews.routes.problem import (
    Answer,
    Legs,
    Option,
    Request,
    RouteProblem,
    Tour,
    TourRun,
    answer_of,
)
from floorcare.ground.crews.routes.side_by_side import Search, solve_all
from floorcare.ground.crews.routes.timing import Step, timed
from floorcare.ground.crews.week import BranchWeek, CrewNight, CrewStop, WeekFit
from floorcare.ground.crews.wishes import Chance, Wish, hours_of, overtime_of
from floorcare.ground.crews.worth import (
    LEFT_OUT,
    MOVED_CREW,
    MOVED_NIGHT,
    NEW_CREW,
    OTHER_HOUR,
    OUT_COST,
    WeekPrices,
    night_cost,
    week_prices,
    worth_of,
)
from floorcare.ground.trade.site import Branch, Site
from floorcare.ground.trade.visit import Agreement
from floorcare.ground.worktime.night import instant

USUAL_SEARCH = Search(iterations=4_000, no_improvement=1_000, seed=1, seconds=120.0)
"""How long a branch's week is searched: so many steps, fewer where nothing gets better, and a cap
in seconds that only a very large week meets. Assumption."""


@dataclass(frozen=True, slots=True)
class _Ground:
    """A week put in the words of the search, and the way back.

    options : of each request what each of its options stands for, and the start it is fixed to.
    """

    week: BranchWeek
    nights: Nights
    wishes: tuple[Wish, ...]
    held: Held
    keys: tuple[Key, ...]
    options: tuple[tuple[Chance, ...], ...]
    asked: tuple[Wish, ...]
    problem: RouteProblem
    epoch: datetime


def assign_week(week: BranchWeek, search: Search = USUAL_SEARCH) -> WeekFit:
    """Put a branch's visits on crew-nights, and say of each that has none why not.

    Parameters
    ----------
    week : its visits; those that stand keep their night, what is held its crew too.
    search : how long is searched; its start is made here.
    """
    return assign_weeks([week], search)[0]


def assign_weeks(
    weeks: Sequence[BranchWeek], search: Search = USUAL_SEARCH, *, workers: int = 1
) -> tuple[WeekFit, ...]:
    """The weeks of several branches, which share nothing, side by side.

    Parameters
    ----------
    workers : how many branches are searched at once; the answers are the same with one.
    """
    grounds = [_ground(week) for week in weeks]
    answers = solve_all(
        [(ground.problem, replace(search, start=_start(ground))) for ground in grounds],
        workers=workers,
    )
    return tuple(_fit(ground, answer) for ground, answer in zip(grounds, answers, strict=True))


def _ground(week: BranchWeek) -> _Ground:
    nights = rested(week, crew_nights(week))
    wishes = wishes_of(week, nights)
    held = holders(week, wishes, nights)
    prices = week_prices(week.rates, week.branch.code, week.starts_on)
    keys = tuple(sorted(nights, key=lambda key: (key[1], key[0])))
    epoch = datetime.combine(week.starts_on - timedelta(days=3), time(), UTC)
    places: list[Branch | Site] = [week.branch]
    at_place = {"": 0}
    asked, requests, options = [], [], []
    tour_at = {key: index for index, key in enumerate(keys)}
    for wish in wishes:
        code = wish.visit.site
        if code not in at_place:
            at_place[code] = len(places)
            places.append(week.site(wish.visit))
        chances, ways = _ways(week, wish, nights, held, tour_at, epoch)
        if ways:
            asked.append(wish)
            options.append(chances)
            requests.append(
                Request(
                    key=wish.visit.uuid,
                    place=at_place[code],
                    options=ways,
                    dislikes=_dislikes(week, wish, keys),
                )
            )
    problem = RouteProblem(
        legs=_legs(week, places, prices),
        requests=tuple(requests),
        tours=tuple(_tour(nights[key], prices, epoch) for key in keys),
    )
    return _Ground(week, nights, wishes, held, keys, tuple(options), tuple(asked), problem, epoch)


def _legs(week: BranchWeek, places: Sequence[Branch | Site], prices: WeekPrices) -> Legs:
    """Drives in minutes, and what they cost a crew of the branch's usual size."""
    size = range(len(places))
    people = week.branch.crew_size
    ticks = [[week.drive(places[a], places[b]) for b in size] for a in size]
    costs = [
        [prices.drive(ticks[a][b], week.travel.km(places[a], places[b]), people) for b in size]
        for a in size
    ]
    return Legs(distance=np.array(costs, dtype=np.int64), ticks=np.array(ticks, dtype=np.int64))


def _tour(night: CrewNight, prices: WeekPrices, epoch: datetime) -> Tour:
    hours = hours_of(night)
    if hours is None:
        raise ValueError(f"crew {night.crew} has no hours on {night.on}")
    leaves, back = (_ticks(at, epoch) for at in hours)
    has_shift = night.starts_at is not None
    return Tour(
        key=f"{night.crew} {night.on}",
        start=0,
        end=0,
        early=leaves,
        # paid from the shift's start, whenever the van sets out
        latest_start=leaves if has_shift else None,
        late=back,
        longest=night.longest_minutes,
        overtime=overtime_of(night),
        overtime_cost=prices.overtime(night.people or 1),
        fixed_cost=OUT_COST,
        # without a shift, and where nothing else tells, out for the shorter time
        tick_cost=0 if has_shift else 1,
    )


def _ways(
    week: BranchWeek,
    wish: Wish,
    nights: Nights,
    held: Held,
    tour_at: dict[Key, int],
    epoch: datetime,
) -> tuple[tuple[Chance, ...], tuple[Option, ...]]:
    """The options of a wish, by its chances and the crew-nights that have what it needs."""
    full = worth_of(wish.visit, week.last_on) // wish.parts
    if wish.now is not None:
        full += LEFT_OUT
    chances, ways = [], []
    site = week.site(wish.visit)
    for chance in wish.chances:
        fit = frozenset(
            tour_at[key]
            for key in chance.crews
            if machines_for_wish(week, wish, nights[key], held, fuel=chance.access.fuel) is not None
        )
        if not fit:
            continue
        less = night_cost(wish.visit, chance.night)
        if wish.now is not None and wish.visit.night != chance.night:
            less += MOVED_NIGHT
        first, last = _ticks(chance.first, epoch), _ticks(chance.last, epoch)
        agreed = _ticks(instant(wish.visit.night, wish.visit.starts_minute, site.time_zone), epoch)
        spans = [(first, last, less)]
        if wish.visit.agreement is Agreement.AGREED and first <= agreed <= last:
            # what the customer's calendar shows is kept to the minute where that can be
            spans = [(agreed, agreed, less), (first, last, less + OTHER_HOUR)]
        for early, late, cost in spans:
            chances.append(chance)
            ways.append(
                Option(
                    early=early,
                    late=late,
                    ticks=wish.visit.minutes,
                    worth=max(1, full - cost),
                    tours=fit,
                )
            )
    return tuple(chances), tuple(ways)


def _dislikes(week: BranchWeek, wish: Wish, keys: Sequence[Key]) -> tuple[tuple[int, int], ...]:
    """What it costs that another crew goes than was told, or than was there last."""
    usual = wish.now.crew if wish.now is not None else last_there(week, wish.visit)
    if not usual:
        return ()
    cost = MOVED_CREW if wish.now is not None else NEW_CREW
    return tuple((at, cost) for at, (crew, _) in enumerate(keys) if crew != usual)


def _start(ground: _Ground) -> Answer | None:
    """What stands so far, as an answer to begin with; None where nothing was assigned."""
    tour_at = {key: tour for tour, key in enumerate(ground.keys)}
    by_tour: dict[int, list[tuple[int, int, int]]] = {}
    for at, wish in enumerate(ground.asked):
        now = wish.now
        tour = tour_at.get((now.crew, now.on)) if now is not None else None
        if now is None or tour is None:
            continue
        starts = _ticks(now.starts_at, ground.epoch)
        for option_at, option in enumerate(ground.problem.requests[at].options):
            if option.allows(tour) and option.early <= starts <= option.late:
                by_tour.setdefault(tour, []).append((starts, at, option_at))
                break
    runs = []
    for tour, stops in sorted(by_tour.items()):
        steps: list[Step] = []
        for _, at, way in sorted(stops):
            # what no longer fits behind what comes before it starts anew
            if timed(ground.problem, tour, [*steps, (at, way)]) is not None:
                steps.append((at, way))
        run = timed(ground.problem, tour, steps)
        if run is not None and steps:
            runs.append(run)
    return answer_of(ground.problem, runs) if runs else None


def _fit(ground: _Ground, answer: Answer) -> WeekFit:
    nights = dict(ground.nights)
    late: dict[Key, list[datetime]] = {}
    for run in answer.runs:
        key = ground.keys[run.tour]
        nights[key], late[key] = _night(ground, run, nights[key])
    placed = {c.request for run in answer.runs for c in run.calls}
    asked = {id(wish) for wish in ground.asked}
    left = [wish for at, wish in enumerate(ground.asked) if at not in placed]
    left += [wish for wish in ground.wishes if id(wish) not in asked]
    left = filled(ground.week, nights, late, left)
    final = {key: with_break(night, late.get(key, ())) for key, night in nights.items()}
    prices = week_prices(ground.week.rates, ground.week.branch.code, ground.week.starts_on)
    return WeekFit(
        nights=tuple(sorted(final.values(), key=lambda n: (n.on, n.crew))),
        unfitted=explained(ground.week, nights, left),
        unchecked=unchecked_of(ground.week),
        cost=sum(_night_cost(ground.week, night, prices) for night in final.values()),
        stopped_by=answer.stopped_by,
        findings=week_findings(ground.week, ground.nights, ground.wishes),
    )


def _night_cost(week: BranchWeek, night: CrewNight, prices: WeekPrices) -> int:
    """What a night's drives and overtime come to."""
    if not night.stops:
        return 0
    places: list[Branch | Site] = [week.branch, *(week.site(s.visit) for s in night.stops)]
    drives = sum(
        prices.drive(week.drive(one, then), week.travel.km(one, then), night.people)
        for one, then in pairwise([*places, week.branch])
    )
    return drives + prices.overtime(night.people or 1) * night.overtime_minutes


def _night(ground: _Ground, run: TourRun, night: CrewNight) -> tuple[CrewNight, list[datetime]]:
    """A crew's night with the stops of its run, and of each the latest it may begin."""
    week = ground.week
    stops: list[CrewStop] = []
    here: Branch | Site = week.branch
    last_starts: list[datetime] = []
    for call in run.calls:
        if call.request is None:
            continue
        wish = ground.asked[call.request]
        chance = ground.options[call.request][call.option]
        site = week.site(wish.visit)
        starts = ground.epoch + timedelta(minutes=call.starts)
        machines = machines_for_wish(week, wish, night, ground.held, fuel=chance.access.fuel)
        stops.append(
            CrewStop(
                visit=replace(wish.visit, night=chance.night),
                travel_minutes=week.drive(here, site),
                starts_at=starts,
                ends_at=starts + timedelta(minutes=wish.visit.minutes),
                machines=machines or (),
                part=wish.part,
                parts=wish.parts,
                held=wish.now is not None and wish.now.held,
            )
        )
        option = ground.problem.requests[call.request].options[call.option]
        last_starts.append(ground.epoch + timedelta(minutes=option.late))
        here = site
    home = week.drive(here, week.branch)
    return replace(night, stops=tuple(stops), home_minutes=home), last_starts


def _ticks(at: datetime, epoch: datetime) -> int:
    return (at - epoch) // timedelta(minutes=1)
