"""Levelling by one move after another, the cheapest for each hour it frees first.

It may stop short of the optimum; how far at most, a linear relaxation says.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from floorcare.ground.schedule.level.overload import Levelled, Movable, Room, displacement, result
from floorcare.ground.schedule.level.overload_model import least_overload

Move = tuple[tuple[int, date], ...]
"""Visits by their number, each with the night it would go to."""

MOST_ROUNDS = 60
"""The nights are gone over so often at most. Assumption."""


def level_greedily(visits: Sequence[Movable], room: Room, start: Sequence[date] = ()) -> Levelled:
    """Nights for the visits by moves of one or two, and a bound that no choice beats.

    Parameters
    ----------
    visits : in the order of their codes.
    start : nights to begin from, the homes where none are given.

    Source: greedy by cost per minute freed; the bound is the linear relaxation's.
    """
    return result(visits, improved(visits, room, start), room, bound=least_overload(visits, room))


def improved(visits: Sequence[Movable], room: Room, start: Sequence[date] = ()) -> list[date]:
    """The nights after every move that helps.

    First overload is taken down, then visits go back towards home where that adds none.
    """
    nights = _Nights(visits, room, start or [v.home for v in visits])
    for _ in range(MOST_ROUNDS):
        freed = nights.free_minutes()
        if not (nights.go_home() or freed):
            break
    return nights.chosen


class _Nights:
    """The visits on their nights while moves are tried."""

    def __init__(self, visits: Sequence[Movable], room: Room, chosen: Sequence[date]) -> None:
        self.visits, self.room, self.chosen = visits, room, list(chosen)
        self.load: Counter[date] = Counter()
        self.sites: Counter[tuple[str, date]] = Counter()
        self.on: dict[date, set[int]] = {}
        for v, on in enumerate(chosen):
            self._put(v, on)

    def free_minutes(self) -> bool:
        """Take overload down: whether any move did; two move only where one alone helps nowhere."""
        moved = False
        for of_two in (False, True):
            for _, move in sorted(self._moves(of_two=of_two)):
                # moves before it may have taken the room, or what there was to free
                if self._rated(move) is not None:
                    self._make(move)
                    moved = True
            if moved:
                break
        return moved

    def go_home(self) -> bool:
        """Bring visits nearer to home where no minute is added: whether any came."""
        moved = False
        for v, visit in enumerate(self.visits):
            for to in sorted(visit.nights, key=lambda on: self._cost(v, on)):
                if self._cost(v, to) >= self._cost(v, self.chosen[v]):
                    break
                if self._may_be(((v, to),)) and self._freed(((v, to),)) >= 0:
                    self._make(((v, to),))
                    moved = True
                    break
        return moved

    def _moves(self, *, of_two: bool) -> Iterator[tuple[float, Move]]:
        """Each move of a visit off an overfull night, with its cost for a minute freed.

        Where it would overfill the night it goes to, another visit may make room there.
        """
        for v, visit in enumerate(self.visits):
            if self._over(self.chosen[v], 0) == 0:
                continue
            for to in (on for on in visit.nights if on != self.chosen[v]):
                moves: list[Move] = [] if of_two else [((v, to),)]
                if of_two and self._over(to, visit.load) > 0:
                    moves = [
                        ((v, to), (u, on))
                        for u in sorted(self.on.get(to, ()))
                        for on in self.visits[u].nights
                        if on != to
                    ]
                for move in moves:
                    rated = self._rated(move)
                    if rated is not None:
                        yield rated, move

    def _rated(self, move: Move) -> float | None:
        """Cost of a move for each minute it frees, None where it frees none or may not be."""
        if any(self.chosen[v] == to for v, to in move) or not self._may_be(move):
            return None
        freed = self._freed(move)
        if freed <= 0:
            return None
        return sum(self._cost(v, to) - self._cost(v, self.chosen[v]) for v, to in move) / freed

    def _cost(self, v: int, on: date) -> int:
        return displacement(self.visits[v], on, len(self.visits))

    def _over(self, on: date, more: int) -> int:
        return max(0, self.load[on] + more - self.room.get(on, 0))

    def _freed(self, move: Move) -> int:
        net: dict[date, int] = {}
        for v, to in move:
            here, load = self.chosen[v], self.visits[v].load
            net[here] = net.get(here, 0) - load
            net[to] = net.get(to, 0) + load
        return sum(self._over(on, 0) - self._over(on, more) for on, more in net.items())

    def _may_be(self, move: Move) -> bool:
        """Whether the site has no other visit on those nights, once all have moved."""
        leaving = [(self.visits[v].site, self.chosen[v]) for v, _ in move]
        coming = [(self.visits[v].site, to) for v, to in move]
        return all(self.sites[one] - leaving.count(one) + coming.count(one) == 1 for one in coming)

    def _make(self, move: Move) -> None:
        for v, _ in move:
            self._take(v)
        for v, to in move:
            self._put(v, to)

    def _put(self, v: int, on: date) -> None:
        self.chosen[v] = on
        self.load[on] += self.visits[v].load
        self.sites[self.visits[v].site, on] += 1
        self.on.setdefault(on, set()).add(v)

    def _take(self, v: int) -> None:
        on = self.chosen[v]
        self.load[on] -= self.visits[v].load
        self.sites[self.visits[v].site, on] -= 1
        self.on[on].discard(v)
