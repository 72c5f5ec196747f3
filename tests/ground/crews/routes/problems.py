"""Small route problems with few places on a line, for the tests of the routes."""

import random

import numpy as np

from floorcare.ground.crews.routes.problem import (
    Answer,
    Called,
    Legs,
    Option,
    Request,
    RouteProblem,
    Tour,
    TourRun,
)


def legs_on_a_line(*at: int) -> Legs:
    """Places on a line; a unit costs a unit and takes a tick."""
    spots = np.array(at, dtype=np.int64)
    apart = np.abs(spots[:, None] - spots[None])
    return Legs(distance=apart, ticks=apart)


def a_request(place: int, *options: Option, **more: object) -> Request:
    """A request that takes ten ticks at any time of a hundred, unless told otherwise."""
    ways = options or (Option(early=0, late=90, ticks=10, worth=1_000),)
    return Request(key=f"R{place}", place=place, options=ways, **more)  # type: ignore[arg-type]


def a_tour(key: str = "T", **more: object) -> Tour:
    """A tour from place 0 and back between 0 and 100."""
    own = {"start": 0, "end": 0, "early": 0, "late": 100, **more}
    return Tour(key=key, **own)  # type: ignore[arg-type]


def a_run(*calls: tuple[int | None, int, int], tour: int = 0, leaves: int = 0, back: int = 100):
    """A run with these calls: request, option, start."""
    made = tuple(Called(request=r, option=o, starts=s) for r, o, s in calls)
    return TourRun(tour=tour, leaves=leaves, back=back, calls=made)


def an_answer(problem: RouteProblem, *runs: TourRun, cost: int = 0) -> Answer:
    """An answer of these runs, with what they leave out."""
    served = {call.request for run in runs for call in run.calls}
    unserved = tuple(at for at in range(len(problem.requests)) if at not in served)
    return Answer(runs=runs, unserved=unserved, cost=cost)


def drawn_problem(seed: int) -> RouteProblem:
    """Up to five requests with alternatives, loads, dislikes and overtime on two tours."""
    drawn = random.Random(seed)
    number = drawn.randint(1, 5)
    legs = legs_on_a_line(0, *(drawn.randint(1, 12) for _ in range(number)))
    requests = []
    for place in range(1, number + 1):
        options = []
        for _ in range(drawn.choice((1, 1, 2))):
            early = drawn.randint(0, 50)
            options.append(
                Option(
                    early=early,
                    late=early + drawn.randint(0, 30),
                    ticks=drawn.randint(1, 15),
                    worth=drawn.choice((60, 200, 900)),
                    tours=drawn.choice((None, None, frozenset({0}), frozenset({1}))),
                )
            )
        requests.append(
            Request(
                key=f"R{place}",
                place=place,
                options=tuple(options),
                load=(drawn.randint(0, 2),),
                dislikes=((drawn.randint(0, 1), drawn.randint(0, 30)),),
            )
        )
    tours = tuple(
        Tour(
            key=f"T{n}",
            start=0,
            end=0,
            early=0,
            late=100,
            longest=drawn.choice((None, 40)),
            overtime=drawn.choice((0, 20)),
            overtime_cost=3,
            fixed_cost=drawn.choice((0, 15)),
            tick_cost=drawn.choice((0, 1)),
            capacity=(drawn.randint(2, 5),),
        )
        for n in range(2)
    )
    return RouteProblem(legs=legs, requests=tuple(requests), tours=tours)
