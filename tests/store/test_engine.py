import sqlite3

import pytest
from sqlalchemy.exc import IntegrityError, OperationalError

from floorcare.errors import StoreTrouble
from floorcare.store.engine import (
    for_writing,
    is_file,
    make_engine,
    place_of,
    shown_place,
    told_plainly,
)


def test_a_plain_path_is_a_sqlite_file(tmp_path):
    place = place_of(str(tmp_path / "a b%c.db"))
    assert is_file(place)
    assert shown_place(place) == str(tmp_path / "a b%c.db")


def test_a_password_is_not_shown():
    shown = shown_place(place_of("postgresql+psycopg://planner:secret@db/floorcare"))
    assert "secret" not in shown


@pytest.mark.parametrize(
    ("url", "said"),
    [
        ("mysql://host/db", "only SQLite files and PostgreSQL"),
        ("sqlite://", "no file is named"),
        ("sqlite:///:memory:", "no file is named"),
        ("://", "not a database address"),
    ],
)
def test_an_address_that_cannot_be_used_is_told(url, said):
    with pytest.raises(StoreTrouble, match=said):
        place_of(url)


def test_a_missing_driver_is_told_with_its_mend():
    with pytest.raises(StoreTrouble, match="pip install"):
        make_engine(place_of("postgresql+nosuchdriver://host/db"))


def test_every_connection_guards_its_foreign_keys(database):
    engine = make_engine(place_of(str(database)))
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def test_a_writer_keeps_others_out_from_its_start(database):
    place = place_of(str(database))
    engine = make_engine(place, patience_ms=10)
    with engine.connect() as one, engine.connect() as other, for_writing(one).begin():
        late = for_writing(other)
        with pytest.raises(OperationalError, match="locked"):
            late.begin()
    engine.dispose()


def test_our_own_mistakes_are_not_dressed_up_as_trouble(database):
    place = place_of(str(database))
    engine = make_engine(place)
    with pytest.raises(IntegrityError), told_plainly(place), engine.connect() as connection:
        connection.exec_driver_sql("UPDATE installation SET id = 2")
    with pytest.raises(OperationalError), told_plainly(place), engine.connect() as connection:
        connection.exec_driver_sql("SELECT * FROM nowhere")
    engine.dispose()


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("SQLITE_BUSY_SNAPSHOT", "locked by another program"),
        ("SQLITE_READONLY_DBMOVED", "cannot be written"),
        ("SQLITE_CORRUPT", "damaged"),
        ("SQLITE_FULL", "disk is full"),
        ("SQLITE_IOERR_READ", "disk reports an error"),
        ("SQLITE_NOTADB", "not a SQLite database"),
    ],
)
def test_what_sqlite_reports_is_told_in_peoples_words(database, name, said):
    trouble = sqlite3.OperationalError("as the driver words it")
    trouble.sqlite_errorname = name
    with pytest.raises(StoreTrouble, match=said) as told, told_plainly(place_of(str(database))):
        raise trouble
    assert told.value.where == str(database)
