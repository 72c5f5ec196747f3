import sqlite3

import pytest

from floorcare.errors import StoreTrouble
from floorcare.store import standing
from floorcare.store.open import open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.store.sample import LATER, NOW, portfolio, site_book


def counted(database):
    raw = sqlite3.connect(database)
    figures = [
        raw.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
        for table in ("customer", "branch", "site", "zone", "reading", "history_entry")
    ]
    raw.close()
    return figures


def test_a_missing_database_is_told_and_not_made(tmp_path):
    path = tmp_path / "none.db"
    with pytest.raises(StoreTrouble, match="`floorcare load FOLDER` or `floorcare upgrade`"):
        open_store(f"sqlite:///{path}")
    assert not path.exists()


def test_an_empty_file_is_told_with_its_mend(tmp_path):
    path = tmp_path / "new.db"
    path.touch()
    with pytest.raises(StoreTrouble, match="is empty; `floorcare load"):
        open_store(str(path))


def test_another_programs_database_is_refused_untouched(tmp_path):
    path = tmp_path / "other.db"
    raw = sqlite3.connect(path)
    raw.execute("CREATE TABLE recipes (id INTEGER)")
    raw.close()
    before = path.read_bytes()
    for touch in (lambda: open_store(str(path)), lambda: create_or_upgrade(str(path), NOW)):
        with pytest.raises(StoreTrouble, match="another program's database"):
            touch()
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["other.db"]


def test_an_older_schema_asks_for_an_upgrade(database, monkeypatch):
    known = (*standing.known_revisions(), "9000")
    monkeypatch.setattr(standing, "known_revisions", lambda: known)
    with pytest.raises(StoreTrouble, match=r"too old .*run `floorcare upgrade`"):
        open_store(str(database))


def test_a_newer_schema_asks_for_a_newer_program(database):
    raw = sqlite3.connect(database)
    raw.execute("UPDATE alembic_version SET version_num = '9001'")
    raw.commit()
    raw.close()
    for touch in (lambda: open_store(str(database)), lambda: create_or_upgrade(str(database), NOW)):
        with pytest.raises(StoreTrouble, match="newer floorcare"):
            touch()


def test_a_block_left_without_commit_leaves_nothing(store, database):
    before = counted(database)
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
    assert counted(database) == before


def test_a_committed_block_is_kept(store, database):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        work.commit()
    assert counted(database) == [1, 2, 2, 2, 6, 1]


@pytest.mark.parametrize("stopped_by", [KeyboardInterrupt, RuntimeError])
def test_a_block_broken_off_half_way_leaves_nothing_half_written(store, database, stopped_by):
    before = counted(database)

    def broken_off():
        with store.work(writes=True) as work:
            work.put_portfolio(portfolio(), who="t", now=NOW)
            raise stopped_by

    with pytest.raises(stopped_by):
        broken_off()
    assert counted(database) == before
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        work.commit()
    assert counted(database) != before


def test_ctrl_c_between_two_statements_of_a_load_leaves_nothing(store, database, monkeypatch):
    before = counted(database)

    def pressed(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("floorcare.store.portfolio.put_readings", pressed)
    with pytest.raises(KeyboardInterrupt), store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
    assert counted(database) == before


def test_a_reader_sees_one_moment_while_another_writes(store):
    with store.work() as reader:
        with store.work(writes=True) as writer:
            writer.put_portfolio(portfolio(), who="t", now=NOW)
            writer.commit()
        assert reader.books() == ()
        assert reader.history() == ()
    with store.work() as reader:
        assert len(reader.books()) == 2


def test_a_second_writer_is_told_that_the_database_is_locked(store):
    with store.work(writes=True) as one:
        one.put_portfolio(portfolio(), who="t", now=NOW)
        late = store.work(writes=True)
        with pytest.raises(StoreTrouble, match="locked by another program"):
            late.__enter__()
        one.commit()
    with store.work(writes=True) as other:
        other.put_portfolio(portfolio(site_book("EXTRA")), who="t", now=LATER)
        other.commit()


def test_a_database_that_cannot_be_read_at_all_is_told(
    store, database, shared_folder, ordinary_person
):
    path = shared_folder / "floorcare.db"
    path.write_bytes(database.read_bytes())
    path.chmod(0o000)
    with ordinary_person(), pytest.raises(StoreTrouble, match="no right to read"):
        open_store(str(path))


def test_a_read_only_folder_is_told(database, shared_folder, ordinary_person):
    path = shared_folder / "floorcare.db"
    path.write_bytes(database.read_bytes())
    path.chmod(0o444)
    shared_folder.chmod(0o555)
    with ordinary_person(), pytest.raises(StoreTrouble, match="right to write") as told:
        open_store(str(path))
    assert told.value.where == str(path)


def test_a_read_only_file_can_be_read_but_not_written(database, shared_folder, ordinary_person):
    path = shared_folder / "floorcare.db"
    path.write_bytes(database.read_bytes())
    path.chmod(0o444)
    shared_folder.chmod(0o777)
    with ordinary_person():
        store = open_store(str(path))
        with store.work() as work:
            assert work.books() == ()
        with pytest.raises(StoreTrouble, match="cannot be written"), store.work(writes=True):
            pass
        store.close()


def test_a_damaged_file_is_told(database):
    content = bytearray(database.read_bytes())
    content[100:4096] = b"\xff" * 3996
    database.write_bytes(content)
    with pytest.raises(StoreTrouble, match="damaged"):
        open_store(str(database))
