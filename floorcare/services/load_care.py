"""Bring a contractor's care into the store: the portfolio a folder or sheet was read into."""

from dataclasses import dataclass
from datetime import datetime

from floorcare.ground.trade.book import Portfolio
from floorcare.store.open import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a load did: (kind, added, changed, unchanged) of every kind that was brought."""

    counts: tuple[tuple[str, int, int, int], ...]

    @property
    def changed_anything(self) -> bool:
        """False where the same care was loaded again."""
        return any(added or changed for _, added, changed, _ in self.counts)


def load_care(store: Store, portfolio: Portfolio, *, who: str, now: datetime) -> Loaded:
    """Write a portfolio in one transaction; what it leaves out stays as it is.

    Raises
    ------
    StoreTrouble : the database is locked or may not be written.
    """
    with store.work(writes=True) as work:
        counts = work.put_portfolio(portfolio, who=who, now=now)
        work.commit()
    return Loaded(
        counts=tuple(
            (kind, count.added, count.changed, count.unchanged)
            for kind, count in sorted(counts.items())
        )
    )
