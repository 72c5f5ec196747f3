"""When a tour is where: the hours of a given order of calls, out for the least time."""

from collections.abc import Sequence

from floorcare.ground.crews.routes.problem import Called, RouteProblem, TourRun, place_of

Step = tuple[int | None, int]
"""A request and which of its options, or (None, 0) for a call that empties the load."""


def timed(problem: RouteProblem, tour_at: int, steps: Sequence[Step]) -> TourRun | None:
    """The run of a tour through these calls, None where it breaks a limit.

    It is back as soon as it can be, and for that leaves as late as it can: so it is out for the
    least time. Where it must leave by an hour it waits on the way.

    Source: forward slack of a fixed order, Savelsbergh 1992 (ORSA Journal on Computing 4), the
    citation from memory.
    """
    tour = problem.tours[tour_at]
    if not _carries(problem, tour_at, steps):
        return None
    soonest = _forward(problem, tour_at, steps, tour.early)
    if soonest is None:
        return None
    leaves = _latest_leaving(problem, tour_at, soonest)
    run = _forward(problem, tour_at, steps, leaves)
    if run is None:
        return None
    out = run.back - run.leaves
    if tour.longest is not None and out > tour.longest + tour.overtime:
        return None
    return run


def _forward(
    problem: RouteProblem, tour_at: int, steps: Sequence[Step], leaves: int
) -> TourRun | None:
    tour, ticks = problem.tours[tour_at], problem.legs.ticks
    at, now = tour.start, leaves
    calls = []
    for request, option_at in steps:
        call = Called(request=request, option=option_at, starts=0)
        place = place_of(problem, tour, call)
        now += int(ticks[at, place])
        service = 0
        if request is not None:
            option = problem.requests[request].options[option_at]
            now = max(now, option.early)
            if now > option.late or not option.allows(tour_at):
                return None
            service = option.ticks
        calls.append(Called(request=request, option=option_at, starts=now))
        now += service
        at = place
    back = now + int(ticks[at, tour.end])
    if back > tour.late:
        return None
    return TourRun(tour=tour_at, leaves=leaves, back=back, calls=tuple(calls))


def _latest_leaving(problem: RouteProblem, tour_at: int, run: TourRun) -> int:
    """The latest leaving with which the tour is back as soon as in this run."""
    tour, ticks = problem.tours[tour_at], problem.legs.ticks
    latest, place = run.back, tour.end
    for call in reversed(run.calls):
        here = place_of(problem, tour, call)
        latest -= int(ticks[here, place])
        if call.request is not None:
            option = problem.requests[call.request].options[call.option]
            latest = min(latest - option.ticks, option.late)
        place = here
    latest -= int(ticks[tour.start, place])
    if tour.latest_start is not None:
        latest = min(latest, tour.latest_start)
    return max(tour.early, latest)


def _carries(problem: RouteProblem, tour_at: int, steps: Sequence[Step]) -> bool:
    tour = problem.tours[tour_at]
    if sum(request is None for request, _ in steps) > (
        0 if tour.calls_at is None else tour.most_calls
    ):
        return False
    carried = list(tour.load or (0,) * len(tour.capacity))
    for request, _ in steps:
        if request is None:
            carried = [0] * len(carried)
            continue
        load = problem.requests[request].load
        if load and tour.capacity:
            carried = [one + more for one, more in zip(carried, load, strict=True)]
            if any(one > most for one, most in zip(carried, tour.capacity, strict=True)):
                return False
    return True
