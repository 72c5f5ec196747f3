import sqlite3

import pytest

from floorcare.errors import StoreTrouble
from floorcare.store import standing
from floorcare.store.engine import APPLICATION_ID, make_engine, place_of


def found_in(path):
    engine = make_engine(place_of(str(path)))
    with engine.connect() as connection:
        found = standing.standing(connection)
    engine.dispose()
    return found


def test_our_database_is_known_by_its_mark_and_its_tables(database):
    found = found_in(database)
    assert (found.empty, found.ours, found.revision) == (
        False,
        True,
        standing.known_revisions()[-1],
    )
    raw = sqlite3.connect(database)
    assert raw.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
    raw.close()


def test_a_database_that_lost_its_mark_is_known_by_its_tables(database):
    raw = sqlite3.connect(database)
    raw.execute("PRAGMA application_id = 0")
    raw.close()
    assert found_in(database).ours


@pytest.mark.parametrize(
    "makes", ["CREATE TABLE recipes (id INTEGER)", "PRAGMA application_id = 77"]
)
def test_another_programs_database_is_not_ours(tmp_path, makes):
    path = tmp_path / "other.db"
    raw = sqlite3.connect(path)
    raw.execute(makes)
    raw.close()
    found = found_in(path)
    assert not found.ours
    assert not found.empty
    with pytest.raises(StoreTrouble, match="another program's database"):
        standing.refuse_foreign(found, place_of(str(path)))


def test_an_empty_file_is_empty(tmp_path):
    path = tmp_path / "new.db"
    path.touch()
    assert found_in(path).empty


def test_the_migrations_are_found_and_counted():
    assert (standing.script_folder() / "env.py").is_file()
    assert standing.known_revisions()[0] == "0001"


def test_a_file_that_is_no_database_is_refused(tmp_path):
    note = tmp_path / "note.txt"
    note.write_text("buy pads")
    with pytest.raises(StoreTrouble, match="not a SQLite database"):
        standing.check_file(place_of(str(note)))
    with pytest.raises(StoreTrouble, match="is a folder"):
        standing.check_file(place_of(str(tmp_path)))
    with pytest.raises(StoreTrouble, match="no database at"):
        standing.check_file(place_of(str(tmp_path / "none.db")))
