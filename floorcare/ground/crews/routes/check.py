"""The checker: goes over an answer from the bare problem, trusting nothing of how it was found."""

from collections import Counter
from collections.abc import Iterator

from floorcare.ground.crews.routes.problem import Answer, RouteProblem, Tour, TourRun


def broken(problem: RouteProblem, answer: Answer) -> tuple[str, ...]:
    """Every limit an answer breaks, in plain words; none where it holds.

    Parameters
    ----------
    problem : what was to be routed.
    answer : the tours, with the cost they are said to have.
    """
    found = list(_each_once(problem, answer))
    for tour_at, times in Counter(run.tour for run in answer.runs).items():
        if not 0 <= tour_at < len(problem.tours):
            found.append(f"there is no tour {tour_at}")
        elif times > 1:
            found.append(f"tour {problem.tours[tour_at].key} goes out {times} times")
    if any("there is no" in line for line in found):
        return tuple(found)  # nothing can be reckoned with what does not exist
    for run in answer.runs:
        tour = problem.tours[run.tour]
        found += [f"tour {tour.key}: {line}" for line in _run(problem, tour, run)]
    reckoned = _cost(problem, answer)
    if reckoned != answer.cost:
        found.append(f"costs {reckoned} and is said to cost {answer.cost}")
    return tuple(found)


def _each_once(problem: RouteProblem, answer: Answer) -> Iterator[str]:
    told = Counter(c.request for run in answer.runs for c in run.calls if c.request is not None)
    told.update(answer.unserved)
    for at, request in enumerate(problem.requests):
        times = told.pop(at, 0)
        if times != 1:
            yield f"request {request.key} is served or named as unserved {times} times"
        if request.required and at in answer.unserved:
            yield f"request {request.key} must be served and is not"
    for at in told:
        yield f"there is no request {at}"
    for run in answer.runs:
        for call in run.calls:
            if call.request is not None and not 0 <= call.request < len(problem.requests):
                continue
            if call.request is not None and not (
                0 <= call.option < len(problem.requests[call.request].options)
            ):
                name = problem.requests[call.request].key
                yield f"there is no option {call.option} of request {name}"


def _run(problem: RouteProblem, tour: Tour, run: TourRun) -> Iterator[str]:
    legs = problem.legs.ticks
    if run.leaves < tour.early:
        yield f"leaves at {run.leaves}, before {tour.early}"
    if tour.latest_start is not None and run.leaves > tour.latest_start:
        yield f"leaves at {run.leaves}, after {tour.latest_start}"
    if run.back > tour.late:
        yield f"is back at {run.back}, after {tour.late}"
    if tour.longest is not None and run.back - run.leaves > tour.longest + tour.overtime:
        yield f"is out for {run.back - run.leaves}, allowed {tour.longest} and {tour.overtime} over"
    here, free, emptied = tour.start, run.leaves, 0
    carried = list(tour.load) if tour.load else [0] * len(tour.capacity)
    for call in run.calls:
        if call.request is None:
            emptied += 1
            if tour.calls_at is None:
                yield "empties its load and may not"
                continue
            place, service = tour.calls_at, 0
            carried = [0] * len(carried)
        else:
            request = problem.requests[call.request]
            option = request.options[call.option]
            place, service = request.place, option.ticks
            if not option.early <= call.starts <= option.late:
                yield (
                    f"starts {request.key} at {call.starts}, allowed {option.early} to "
                    f"{option.late}"
                )
            if option.tours is not None and run.tour not in option.tours:
                yield f"may not serve {request.key}"
            for axis, more in enumerate(request.load if tour.capacity else ()):
                carried[axis] += more
                if carried[axis] > tour.capacity[axis]:
                    yield f"carries {carried[axis]} of load {axis}, allowed {tour.capacity[axis]}"
        if call.starts < free + legs[here, place]:
            yield f"cannot be at place {place} by {call.starts}"
        here, free = place, call.starts + service
    if emptied > tour.most_calls:
        yield f"empties its load {emptied} times, allowed {tour.most_calls}"
    if run.back < free + legs[here, tour.end]:
        yield f"cannot be back by {run.back}"


def _cost(problem: RouteProblem, answer: Answer) -> int:
    total = 0
    won = dict.fromkeys(range(len(problem.requests)), 0)
    for run in answer.runs:
        tour = problem.tours[run.tour]
        out = run.back - run.leaves
        total += tour.fixed_cost + out * tour.tick_cost
        if tour.longest is not None and out > tour.longest:
            total += (out - tour.longest) * tour.overtime_cost
        here, length = tour.start, 0
        for call in run.calls:
            place = tour.calls_at if call.request is None else problem.requests[call.request].place
            if place is None:
                continue
            length += int(problem.legs.distance[here, place])
            here = place
            if call.request is not None:
                won[call.request] = problem.requests[call.request].options[call.option].worth
                total += sum(
                    c for at, c in problem.requests[call.request].dislikes if at == run.tour
                )
        length += int(problem.legs.distance[here, tour.end])
        total += length * tour.distance_cost
    best = (max(option.worth for option in request.options) for request in problem.requests)
    return total + sum(best) - sum(won.values())
