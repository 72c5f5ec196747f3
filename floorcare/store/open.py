"""Opening the store, and its blocks of work."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import URL, Engine

from floorcare.store.engine import (
    PATIENCE_MS,
    for_reading,
    for_writing,
    is_file,
    make_engine,
    place_of,
    told_plainly,
)
from floorcare.store.standing import check_file, refuse_unready, standing
from floorcare.store.unit_of_work import UnitOfWork


class Store:
    """An open database."""

    def __init__(self, engine: Engine, place: URL) -> None:
        self._engine = engine
        self._place = place

    @contextmanager
    def work(self, writes: bool = False) -> Iterator[UnitOfWork]:
        """One unit of work: leaving it without `commit` undoes everything.

        Parameters
        ----------
        writes : keep other writers out from the start; without it the block sees one moment of the
            database and may not write.

        Raises
        ------
        StoreTrouble : the database is locked, read-only or gone.
        """
        with told_plainly(self._place), self._engine.connect() as connection:
            ready = for_writing(connection) if writes else for_reading(connection)
            # Leaving the connection's block rolls back whatever was not committed.
            yield UnitOfWork(ready, writes=writes)

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()


def open_store(url: str, *, patience_ms: int = PATIENCE_MS) -> Store:
    """Open a database that stands ready.

    Parameters
    ----------
    url : "sqlite:///path", a plain path, or a PostgreSQL address.
    patience_ms : how long to wait where another program is writing.

    Raises
    ------
    StoreTrouble : missing, not ours, too old, too new, locked or unreadable; says the mend.
    """
    place = place_of(url)
    if is_file(place):
        check_file(place)
    engine = make_engine(place, patience_ms=patience_ms)
    try:
        with told_plainly(place), engine.connect() as connection:
            refuse_unready(standing(connection), place)
    except BaseException:
        engine.dispose()
        raise
    return Store(engine, place)
