"""Where the parts are put together: which database, which surfaces, what time it is."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from floorcare.ground.trade.surface import Surface
    from floorcare.store.open import Store

DEFAULT_DATABASE = "floorcare.db"


def database_url(chosen: str | None) -> str:
    """The database asked for, else FLOORCARE_DB, else floorcare.db in this folder."""
    return chosen or os.environ.get("FLOORCARE_DB") or DEFAULT_DATABASE


@contextmanager
def opened(chosen: str | None) -> "Iterator[Store]":
    """The store, closed again afterwards."""
    from floorcare.store.open import open_store

    store = open_store(database_url(chosen))
    try:
        yield store
    finally:
        store.close()


def surfaces() -> "dict[str, Surface]":
    """Every surface by code."""
    from floorcare.store.surfaces import load_surfaces

    return load_surfaces()


def now() -> datetime:
    """This moment, UTC, whole seconds."""
    return datetime.now(UTC).replace(microsecond=0)


def today() -> date:
    """The day it is where the program runs."""
    return datetime.now().astimezone().date()
