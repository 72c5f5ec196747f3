"""Bring a contractor's care into the store: the portfolio a folder or sheet was read into."""

from dataclasses import dataclass
from datetime import datetime

from floorcare.ground.trade.book import Portfolio
from floorcare.store.merge import PutCount, RowChange
from floorcare.store.open import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a load did, or would do.

    counts : (kind, added, changed, unchanged) of every kind that was brought.
    changes : the difference row by row, at most 500 of a kind; what the program knows better is
        among them as "outranked" and was not applied.
    """

    counts: tuple[tuple[str, int, int, int], ...]
    changes: tuple[RowChange, ...] = ()

    @property
    def changed_anything(self) -> bool:
        """False where the same care was loaded again."""
        return any(added or changed for _, added, changed, _ in self.counts)


def load_care(
    store: Store, portfolio: Portfolio, *, who: str, now: datetime, dry_run: bool = False
) -> Loaded:
    """Write a portfolio in one transaction; what it leaves out stays as it is.

    Parameters
    ----------
    dry_run : say what would change and leave no trace.

    Raises
    ------
    NotKnown : something names a thing nobody knows, or a row to withdraw that never was.
    NotUnderstood : two rows have one key and differ, or a row cannot be as it is.
    StoreTrouble : the database is locked or may not be written.
    """
    with store.work(writes=True) as work:
        counts = work.put_portfolio(portfolio, who=who, now=now)
        if not dry_run:
            work.commit()
    brought = sorted((kind, count) for kind, count in counts.items() if count != PutCount())
    return Loaded(
        counts=tuple((kind, c.added, c.changed, c.unchanged) for kind, c in brought),
        changes=tuple(change for _, count in brought for change in count.changes),
    )
