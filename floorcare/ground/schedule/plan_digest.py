"""What a plan was made from, in one line that can be compared."""

from collections.abc import Iterable, Mapping
from hashlib import sha256

from floorcare.ground.trade.surface import Surface


def plan_digest(
    inputs: Iterable[str], standing: Iterable[str], surfaces: Mapping[str, Surface]
) -> str:
    """The digest of what a plan reads.

    Parameters
    ----------
    inputs : day, horizon, pooled values and the branches' revisions, in a fixed order.
    standing : each visit that stands, in any order.
    surfaces : by code.
    """
    known = (f"{code}:{_told(surfaces[code])}" for code in sorted(surfaces))
    return sha256("\n".join([*inputs, *sorted(standing), *known]).encode()).hexdigest()


def _told(surface: Surface) -> str:
    """A surface as text in one fixed order; its sets have none of their own."""
    rungs = [
        f"{work}:{rung.effect}:{rung.worthwhile_hold_days}:{rung.forward_days}:{rung.cap_days}:"
        f"{rung.min_age_days}:{sorted(rung.needs)}:{rung.steps}"
        for work, rung in surface.methods.items()
    ]
    return f"{surface.law}|{surface.ladder}|{surface.coat_limit}|{surface.escape_share}|{rungs}"
