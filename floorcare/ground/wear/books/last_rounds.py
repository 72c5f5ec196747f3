"""New rounds beside the last ones of their kind."""

from dataclasses import dataclass
from typing import Any

from floorcare.ground.trade.reading import Reading, RoundValue
from floorcare.ground.wear.books.judged import group_rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundRead:
    """A round that was read, and the one before it of the same measure, geometry and state.

    zone : SITE/ZONE.
    """

    zone: str
    now: RoundValue
    last: RoundValue | None


def beside_last(
    zone: str, kept: tuple[Reading, ...], new: tuple[Reading, ...]
) -> tuple[RoundRead, ...]:
    """The new rounds of a zone in order, each with the last of its kind on an earlier day.

    Parameters
    ----------
    zone : SITE/ZONE.
    kept : readings of the zone that stood before, in any order; new : those just read.

    Source: rounds are averaged as `group_rounds` says.
    """
    both = [(r, False) for r in group_rounds(kept)] + [(r, True) for r in group_rounds(new)]
    last: dict[tuple[Any, ...], RoundValue] = {}
    found = []
    for value, is_new in sorted(both, key=lambda r: r[0].on):
        kind = (value.measure, value.geometry_deg, value.state)
        before = last.get(kind)
        if is_new:
            # of one day the kept round comes first: a round that is mended has no last but that
            earlier = before if before is not None and before.on < value.on else None
            found.append(RoundRead(zone=zone, now=value, last=earlier))
        last[kind] = value
    return tuple(found)
