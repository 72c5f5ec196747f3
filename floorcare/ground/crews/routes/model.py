"""A route problem in the words of PyVRP: locations, clients, groups, vehicle types, profiles."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from floorcare.ground.crews.routes.problem import Answer, Option, RouteProblem, Tour, Whole
from floorcare.ground.crews.routes.timing import Step

if TYPE_CHECKING:
    from pyvrp import Client, ClientGroup, ProblemData, Route


@dataclass(frozen=True, slots=True)
class _Spot:
    """A location: of a place alone, or of requests that the same tours may serve there."""

    place: int
    forbidden: frozenset[int] = frozenset()
    dislikes: tuple[tuple[int, int], ...] = ()


@dataclass(slots=True)
class Translated:
    """The problem as PyVRP takes it, and the way back.

    spoken : the problem in its words. clients : (request, option) of each client.
    tours : of each vehicle type the tours it stands for, alike in everything.
    calls_at : of each tour that may empty its load the depot at which.
    """

    spoken: "ProblemData"
    clients: list[tuple[int, int]]
    tours: list[list[int]]
    calls_at: dict[int, int] = field(default_factory=dict)

    def steps_of(self, route: "Route") -> list[Step]:
        """The calls of a route in order; its start and end are left out."""
        steps: list[Step] = []
        for call in list(route.schedule())[1:-1]:
            steps.append(self.clients[call.idx] if call.is_client() else (None, 0))
        return steps

    def routes_of(self, answer: Answer) -> list[Any]:
        """An answer's runs as routes."""
        from pyvrp import Activity, ActivityType, Route

        at = {client: index for index, client in enumerate(self.clients)}
        types = {tour: index for index, alike in enumerate(self.tours) for tour in alike}
        routes = []
        for run in answer.runs:
            calls = [
                Activity(ActivityType.CLIENT, at[call.request, call.option])
                if call.request is not None
                else Activity(ActivityType.DEPOT, self.calls_at[run.tour])
                for call in run.calls
            ]
            routes.append(Route(self.spoken, calls, types[run.tour]))
        return routes


def translated(problem: RouteProblem) -> Translated:
    """The problem in PyVRP's words.

    Who may not serve a request is told by a matrix of its own in which the way there takes longer
    than any tour; what is disliked, by one in which it is so much further.

    Source: pyvrp 0.14, `ProblemData`.
    """
    from pyvrp import Depot, Location, ProblemData, VehicleType

    spots: dict[_Spot, int] = {}
    bases = [spots.setdefault(_Spot(place), len(spots)) for place in _bases(problem)]
    loads = max((len(tour.capacity) for tour in problem.tours), default=0)
    clients, groups, names = _clients(problem, spots, loads)
    depots = {place: index for index, place in enumerate(_bases(problem))}
    profiles: dict[tuple[Any, ...], int] = {}
    listed = list(spots)
    alike: dict[tuple[Tour, int], list[int]] = {}
    for at, tour in enumerate(problem.tours):
        profile = profiles.setdefault(_seen_by(listed, at, tour), len(profiles))
        # one type for all that are alike: the search need not try an empty tour for each of them
        alike.setdefault((replace(tour, key=""), profile), []).append(at)
    types = [
        VehicleType(num_available=len(tours), **_vehicle(tour, depots, profile, loads))
        for (tour, profile), tours in alike.items()
    ]
    matrices: list[Any] = [_matrices(problem, listed, seen) for seen in profiles]
    spoken = ProblemData(
        [Location(0, 0) for _ in listed],
        clients,
        [Depot(bases[index]) for index in depots.values()],
        types,
        [distance for distance, _ in matrices],
        [ticks for _, ticks in matrices],
        groups,
    )
    return Translated(
        spoken=spoken,
        clients=names,
        tours=list(alike.values()),
        calls_at={
            at: depots[tour.calls_at]
            for at, tour in enumerate(problem.tours)
            if tour.calls_at is not None
        },
    )


def _clients(
    problem: RouteProblem, spots: dict[_Spot, int], loads: int
) -> tuple[list["Client"], list["ClientGroup"], list[tuple[int, int]]]:
    """A client for every option, groups of those of one request; new spots are added."""
    from pyvrp import Client, ClientGroup

    clients: list[Client] = []
    groups: list[ClientGroup] = []
    names: list[tuple[int, int]] = []
    for at, request in enumerate(problem.requests):
        alone = len(request.options) == 1
        members = list(range(len(clients), len(clients) + len(request.options)))
        for option_at, option in enumerate(request.options):
            spot = _spot(problem, request.place, option, request.dislikes)
            clients.append(
                Client(
                    location=spots.setdefault(spot, len(spots)),
                    pickup=list(request.load or (0,) * loads),
                    service_duration=option.ticks,
                    tw_early=option.early,
                    tw_late=option.late,
                    prize=option.worth,
                    required=request.required and alone,
                    group=None if alone else len(groups),
                )
            )
            names.append((at, option_at))
        if not alone:
            groups.append(ClientGroup(members, required=request.required))
    return clients, groups, names


def _bases(problem: RouteProblem) -> tuple[int, ...]:
    """Places where tours start, end or empty their load, each once."""
    named: dict[int, None] = {}
    for tour in problem.tours:
        named.update(dict.fromkeys((tour.start, tour.end)))
        if tour.calls_at is not None:
            named[tour.calls_at] = None
    return tuple(named)


def _spot(
    problem: RouteProblem, place: int, option: Option, dislikes: Iterable[tuple[int, int]]
) -> _Spot:
    if option.tours is None:
        forbidden: frozenset[int] = frozenset()
    else:
        forbidden = frozenset(range(len(problem.tours))) - option.tours
    # who cannot be in time is kept out by the hours; naming them here would only split matrices
    met = {
        at
        for at, tour in enumerate(problem.tours)
        if tour.early <= option.late and option.early + option.ticks <= tour.late
    }
    disliked = tuple((at, cost) for at, cost in sorted(dislikes) if at in met and cost)
    return _Spot(place, forbidden & met, disliked)


def _seen_by(spots: list[_Spot], at: int, tour: Tour) -> tuple[Any, ...]:
    """What tells one tour's matrices from another's."""
    forbidden = tuple(index for index, spot in enumerate(spots) if at in spot.forbidden)
    dislikes = []
    for index, spot in enumerate(spots):
        cost = dict(spot.dislikes).get(at, 0)
        if cost:
            # what is disliked is told as distance, and distance has its price
            dislikes.append((index, -(-cost // max(1, tour.distance_cost))))
    return forbidden, tuple(dislikes)


def _matrices(
    problem: RouteProblem, spots: list[_Spot], seen: tuple[Any, ...]
) -> tuple[Whole, Whole]:
    places = np.array([spot.place for spot in spots], dtype=np.int64)
    distance = problem.legs.distance[np.ix_(places, places)].copy()
    ticks = problem.legs.ticks[np.ix_(places, places)].copy()
    forbidden, dislikes = seen
    if forbidden:
        columns = list(forbidden)
        ticks[:, columns] = _never(problem)
        distance[:, columns] += int(distance.max()) + 1
    for index, cost in dislikes:
        distance[:, index] += cost
        # from one visit of a spot to the next of the same spot no crew changes
    np.fill_diagonal(distance, 0)
    np.fill_diagonal(ticks, 0)
    return distance, ticks


def _never(problem: RouteProblem) -> int:
    """Longer than any tour can be out."""
    return 2 * (
        max(tour.late for tour in problem.tours)
        - min(0, *(tour.early for tour in problem.tours))
        + int(problem.legs.ticks.max())
        + 1
    )


def _vehicle(tour: Tour, depots: dict[int, int], profile: int, loads: int) -> dict[str, Any]:
    told: dict[str, Any] = {
        "capacity": list(tour.capacity or (_MUCH,) * loads),
        "initial_load": list(tour.load or (0,) * loads),
        "start_depot": depots[tour.start],
        "end_depot": depots[tour.end],
        "fixed_cost": tour.fixed_cost,
        "tw_early": tour.early,
        "tw_late": tour.late,
        "unit_distance_cost": tour.distance_cost,
        "unit_duration_cost": tour.tick_cost,
        "profile": profile,
    }
    if tour.latest_start is not None:
        told["start_late"] = tour.latest_start
    if tour.longest is not None:
        told["shift_duration"] = tour.longest
        told["max_overtime"] = tour.overtime
        told["unit_overtime_cost"] = tour.overtime_cost
    if tour.calls_at is not None:
        told["reload_depots"] = [depots[tour.calls_at]]
        told["max_reloads"] = tour.most_calls
    return told


_MUCH = 10**9
