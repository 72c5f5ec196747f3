"""The books of all sites and the meters, as they stand: what an export may speak of."""

from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.equipment import Instrument
from floorcare.store.open import Store


def read_books(store: Store) -> tuple[tuple[SiteBook, ...], tuple[Instrument, ...]]:
    """The books of every site, and every meter.

    Raises
    ------
    StoreTrouble : the database cannot be read.
    """
    with store.work() as work:
        return work.books(), work.instruments()
