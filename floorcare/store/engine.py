"""The database connection: how SQLite and PostgreSQL are made to behave alike.

A writer is alone from its first statement, a reader sees one moment, and whatever the database
says of its troubles is told in people's words.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, IntegrityError, NoSuchModuleError

from floorcare.errors import StoreTrouble

APPLICATION_ID = int.from_bytes(b"FLCR", "big")
"""Stands in the header of every SQLite file of ours."""
PATIENCE_MS = 5000
"""How long to wait for another program's writing to end. Assumption."""
_WRITES = "floorcare_writes"


def place_of(url: str) -> URL:
    """The database meant by a URL or by the plain path of a SQLite file."""
    if "://" not in url:
        return URL.create("sqlite", database=url)
    try:
        place = make_url(url)
    except ArgumentError as wrong:
        raise StoreTrouble(
            "not a database address; write the path of a file, or postgresql+psycopg://…", where=url
        ) from wrong
    if place.get_backend_name() not in ("sqlite", "postgresql"):
        raise StoreTrouble(
            "only SQLite files and PostgreSQL are supported", where=shown_place(place)
        )
    if is_file(place) and place.database in (None, "", ":memory:"):
        raise StoreTrouble("no file is named; write sqlite:///floorcare.db", where=url)
    return place


def is_file(place: URL) -> bool:
    """Whether it is a SQLite file."""
    return place.get_backend_name() == "sqlite"


def shown_place(place: URL) -> str:
    """The path, or the address without its password."""
    return str(place.database) if is_file(place) else place.render_as_string(hide_password=True)


def make_engine(place: URL, *, patience_ms: int = PATIENCE_MS) -> Engine:
    """An engine for the place; a SQLite file is let go as soon as a block ends."""
    try:
        if not is_file(place):
            engine = create_engine(place)
            event.listen(engine, "begin", _begin_on_server)
            return engine
        engine = create_engine(
            place, poolclass=NullPool, connect_args={"timeout": patience_ms / 1000}
        )
    except (NoSuchModuleError, ModuleNotFoundError) as missing:
        raise StoreTrouble(
            f"the driver is not installed ({missing}); for PostgreSQL: pip install psycopg[binary]",
            where=shown_place(place),
        ) from missing
    event.listen(engine, "connect", _set_up_file)
    event.listen(engine, "begin", _begin_on_file)
    return engine


def for_writing(connection: Connection) -> Connection:
    """The connection, whose next transaction keeps other writers out from its start."""
    return connection.execution_options(**{_WRITES: True})


def for_reading(connection: Connection) -> Connection:
    """The connection, whose next transaction sees one moment of the database."""
    if connection.dialect.name == "postgresql":
        return connection.execution_options(isolation_level="REPEATABLE READ")
    return connection


def _set_up_file(raw: sqlite3.Connection, _record: object) -> None:
    # The driver must not begin transactions by itself: it would do so too late and never for DDL.
    raw.isolation_level = None
    raw.execute("PRAGMA foreign_keys = ON")


def _begin_on_file(connection: Connection) -> None:
    writes = connection.get_execution_options().get(_WRITES, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _begin_on_server(connection: Connection) -> None:
    # As on a file: one writer at a time, so a revision that was checked still holds at the commit.
    if connection.get_execution_options().get(_WRITES, False):
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({APPLICATION_ID})")


@contextmanager
def told_plainly(place: URL) -> Iterator[None]:
    """Turn the database's own troubles into `StoreTrouble`; our mistakes stay what they are."""
    try:
        yield
    except IntegrityError:
        raise
    except DBAPIError as trouble:
        message = _message(trouble.orig, place)
        if message is None:
            raise
        raise StoreTrouble(message, where=shown_place(place)) from trouble
    except sqlite3.Error as trouble:
        message = _message(trouble, place)
        if message is None:
            raise
        raise StoreTrouble(message, where=shown_place(place)) from trouble


_FILE_TROUBLE = {
    "SQLITE_BUSY": "locked by another program that is writing; try again when it has finished",
    "SQLITE_LOCKED": "locked by another program that is writing; try again when it has finished",
    "SQLITE_READONLY": "cannot be written; you need the right to write the file and its folder",
    "SQLITE_CANTOPEN": (
        "cannot be opened; you need the right to write the file and its folder, because SQLite "
        "keeps two files beside it"
    ),
    "SQLITE_PERM": "cannot be opened; you have no right to read it",
    "SQLITE_AUTH": "cannot be opened; you have no right to read it",
    "SQLITE_NOTADB": "is not a SQLite database; name another file",
    "SQLITE_CORRUPT": "is damaged; go back to a copy of it",
    "SQLITE_FULL": "cannot grow, the disk is full; make room and try again",
    "SQLITE_IOERR": "cannot be read or written, the disk reports an error; check the disk",
}


def _message(trouble: BaseException | None, place: URL) -> str | None:
    if is_file(place):
        name = getattr(trouble, "sqlite_errorname", "") or ""
        # Extended names such as SQLITE_BUSY_SNAPSHOT begin with the plain one.
        plain = "_".join(name.split("_")[:2])
        return _FILE_TROUBLE.get(plain)
    state = str(getattr(trouble, "sqlstate", None) or "")
    if state.startswith("55P03"):
        return "locked by another program; try again when it has finished"
    if state == "25006":
        return "cannot be written; the server is read-only"
    if not state or state.startswith(("08", "28", "3D", "53", "57")):
        first = str(trouble).strip().splitlines()[:1]
        return f"the database server refuses: {first[0] if first else 'no answer'}"
    return None
