"""The floors that should be seen to first, each with its reason in one sentence."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import inf

from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.trade.visit import Unplaced, VisitLine

MOST = 5
"""How many are named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UrgentFloor:
    """One floor: its reason, and the night it will be seen to (None where it found none)."""

    site: str
    zone: str
    night: date | None
    sentence: str


def most_urgent(
    lines: Sequence[tuple[date, VisitLine]],
    unplaced: Sequence[Unplaced],
    outlooks: Sequence[ZoneOutlook],
    most: int = MOST,
) -> tuple[UrgentFloor, ...]:
    """The floors whose treatment may wait least, nearest to breaking their promise first.

    Parameters
    ----------
    lines : (night, line) of every planned line.
    unplaced : dues without a night; they may wait no longer than the others.
    outlooks : every zone's condition.

    Assumption: guarded zones first, then by the latest night, then by the early edge of the
    forecast break.
    """
    known = {(o.site, o.zone): o for o in outlooks}
    found: dict[tuple[str, str], tuple[tuple[bool, date, float], UrgentFloor]] = {}
    everything = [(night, line.due) for night, line in lines]
    for night, due in [*everything, *((None, u.due) for u in unplaced)]:
        if due.work not in TREATMENTS:
            continue
        condition = known.get((due.site, due.zone))
        early = inf
        if condition is not None and condition.early_days is not None:
            early = condition.early_days
        guarded = condition is not None and condition.guarded
        rank = (not guarded, due.latest, early)
        floor = UrgentFloor(site=due.site, zone=due.zone, night=night, sentence=due.reason.inside)
        key = (due.site, due.zone)
        if key not in found or rank < found[key][0]:
            found[key] = (rank, floor)
    ordered = sorted(found.items(), key=lambda pair: (pair[1][0], pair[0]))
    return tuple(floor for _, (_, floor) in ordered[:most])
