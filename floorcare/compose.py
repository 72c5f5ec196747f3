"""Where the parts are put together: which database, which surfaces, what time it is."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from floorcare.errors import NotKnown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from floorcare.findings import Finding
    from floorcare.ground.trade.surface import Surface
    from floorcare.store.open import Store

DEFAULT_DATABASE = "floorcare.db"


def database_url(chosen: str | None) -> str:
    """The database asked for, else FLOORCARE_DB, else floorcare.db in this folder."""
    return chosen or os.environ.get("FLOORCARE_DB") or DEFAULT_DATABASE


def database_stands(chosen: str | None) -> bool:
    """Whether the database asked for is there; one on a server is taken to be."""
    from floorcare.store.engine import is_file, place_of

    place = place_of(database_url(chosen))
    return not is_file(place) or Path(str(place.database)).exists()


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
    """Every surface that can be read, by code; one that is asked for and missing is told."""
    from floorcare.store.surfaces import readable_surfaces

    return _Surfaces(readable_surfaces()[0])


def surface_findings() -> "tuple[Finding, ...]":
    """What keeps a surface file from being read: its zones are left out, the rest is planned."""
    from floorcare.store.surfaces import readable_surfaces

    return tuple(f for f in readable_surfaces()[1] if f.weight == "stops")


class _Surfaces(dict[str, "Surface"]):
    """A zone brought in earlier may name a surface whose file is no longer shipped."""

    def __missing__(self, code: str) -> "Surface":
        raise NotKnown(
            f'A zone names the surface "{code}", which has no file any more, or none that '
            f"can be read. Put {code}.toml right or give the zone another; there are "
            f"{', '.join(sorted(self))}."
        )


class KnownCodes(NamedTuple):
    """What files brought in may name."""

    surfaces: frozenset[str]
    machine_kinds: frozenset[str]
    materials: frozenset[str]


def known_codes(known: "Mapping[str, Surface]") -> KnownCodes:
    """Codes of the surfaces, of their kinds of machine, and of their materials and tools."""
    return KnownCodes(
        surfaces=frozenset(known),
        machine_kinds=frozenset(kind for s in known.values() for kind in s.machines),
        materials=frozenset(code for s in known.values() for code in (*s.materials, *s.tools)),
    )


def now() -> datetime:
    """This moment, UTC, whole seconds."""
    return datetime.now(UTC).replace(microsecond=0)


def today() -> date:
    """The day it is where the program runs."""
    return datetime.now().astimezone().date()
