"""Life of pads and diamonds: what the surface says, moved by the sets recorded as used up."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from floorcare.ground.trade.equipment import StockEntry, StockMove

TYPED_SETS = 2.0
"""A typed life weighs as much as so many sets used up. Assumption."""
UNTYPED_SETS = 0.5
"""Jeffreys' prior of a Poisson rate, where no life was typed."""
BAND = (0.05, 0.95)
"""The band a life is given with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolRecord:
    """Sets of a tool used up after one day and up to another, and the floor gone over with it."""

    sets: float
    worked_m2: float

    def __post_init__(self) -> None:
        if not (self.sets >= 0 and self.worked_m2 >= 0):
            raise ValueError(
                f"{self.sets:g} sets on {self.worked_m2:g} m²: allowed 0 or more of both"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolLife:
    """How much floor one set goes over before it is used up.

    life_m2 : None where nothing was typed and no set was used up on recorded work.
    low_m2, high_m2 : between which it lies nine times in ten; None with it.
    typed_m2 : as the surface says, None where it says nothing.
    sets, worked_m2 : what was learned from.
    """

    tool: str
    life_m2: float | None
    low_m2: float | None
    high_m2: float | None
    typed_m2: float | None
    sets: float
    worked_m2: float

    @property
    def known_by(self) -> str:
        """Typed, learned, both, or not known."""
        learned = self.worked_m2 > 0 and (self.typed_m2 is not None or self.sets > 0)
        if self.typed_m2 is not None:
            return "typed and learned" if learned else "typed"
        return "learned" if learned else "not known"


def span_of(entries: Iterable[StockEntry], tool: str) -> tuple[date, date] | None:
    """The days between which a branch's record of a tool can be held against its work.

    Returns
    -------
    Day of the first entry and day of the last use; None where nothing was used up after the first.

    Source: sets are used up by the work since the record began, so what came before is left out.
    """
    mine = [entry for entry in entries if entry.material == tool]
    first = min((entry.on for entry in mine), default=None)
    used = [e.on for e in mine if e.move is StockMove.USED and first is not None and e.on > first]
    return (first, max(used)) if first is not None and used else None


def pieces_used(entries: Iterable[StockEntry], tool: str, *, after: date, to: date) -> float:
    """Pieces of a tool recorded as used after one day and up to another.

    Source: the branch's own stock entries.
    """
    return sum(
        entry.quantity
        for entry in entries
        if entry.material == tool and entry.move is StockMove.USED and after < entry.on <= to
    )


def learn_tool_life(tool: str, typed_m2: float | None, record: ToolRecord | None) -> ToolLife:
    """The life of a tool's set from what is typed and what was recorded.

    Sets used up on M m² are Poisson with mean M over the life, and one over the life is Gamma;
    the answer is Gamma again: shape a + sets, rate a × typed life + M.

    Parameters
    ----------
    typed_m2 : the surface's own figure, above 0; None where it gives none.
    record : what was used up on how much floor; None where nothing was recorded.

    Source: conjugate Gamma-Poisson, e.g. Gelman and others, Bayesian Data Analysis, 2.6;
    Assumption: a typed life weighs as two sets.
    """
    from scipy.stats import gamma

    sets = record.sets if record else 0.0
    worked = record.worked_m2 if record else 0.0
    shape = (TYPED_SETS if typed_m2 is not None else UNTYPED_SETS) + sets
    rate = TYPED_SETS * (typed_m2 or 0.0) + worked
    known = typed_m2 is not None or (sets > 0 and worked > 0)
    band = [float(rate / gamma.ppf(q, shape)) for q in reversed(BAND)] if known else [None, None]
    return ToolLife(
        tool=tool,
        life_m2=rate / shape if known else None,
        low_m2=band[0],
        high_m2=band[1],
        typed_m2=typed_m2,
        sets=sets,
        worked_m2=worked,
    )
