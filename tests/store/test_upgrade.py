import shutil
import sqlite3
from functools import partial
from pathlib import Path

import pytest

from floorcare.errors import StoreTrouble
from floorcare.store import standing, upgrade
from floorcare.store.engine import make_engine
from floorcare.store.open import open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.store.sample import INSTALLATION, LATER, NOW, portfolio

NEWEST = standing.known_revisions()[-1]

ADDS_A_COLUMN = f"""
import sqlalchemy as sa
from alembic import op
revision = "9000"
down_revision = "{NEWEST}"
def upgrade():
    op.add_column("customer", sa.Column("note", sa.Text(), nullable=True))
"""
FAILS_HALF_WAY = (
    ADDS_A_COLUMN
    + """
    op.execute("DELETE FROM reading")
    raise RuntimeError("broken migration")
"""
)


@pytest.fixture
def newer(tmp_path, monkeypatch):
    """Pretend that this program has one more migration."""

    def with_migration(text: str) -> None:
        folder = tmp_path / "migrations"
        shutil.copytree(standing.script_folder(), folder)
        (folder / "versions" / "9000_one_more.py").write_text(text)
        for module in (standing, upgrade):
            monkeypatch.setattr(module, "script_folder", lambda: folder)

    return with_migration


@pytest.fixture
def filled(database):
    store = open_store(str(database))
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        work.commit()
    store.close()
    return database


def content(path: Path) -> list[str]:
    with sqlite3.connect(path) as raw:
        lines = list(raw.iterdump())
    raw.close()
    return lines


def test_a_missing_database_is_made(tmp_path):
    path = tmp_path / "made.db"
    result = create_or_upgrade(f"sqlite:///{path}", NOW, INSTALLATION)
    assert (result.created, result.from_revision, result.to_revision) == (True, None, NEWEST)
    assert result.copy_path is None
    store = open_store(str(path))
    with store.work() as work:
        assert work.installation().uuid == INSTALLATION
    store.close()
    raw = sqlite3.connect(path)
    assert raw.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    raw.close()


def test_an_empty_file_is_filled(tmp_path):
    path = tmp_path / "made.db"
    path.touch()
    assert create_or_upgrade(str(path), NOW).created


def test_each_installation_has_its_own_uuid(tmp_path):
    uuids = set()
    for name in ("a.db", "b.db"):
        create_or_upgrade(str(tmp_path / name), NOW)
        store = open_store(str(tmp_path / name))
        with store.work() as work:
            uuids.add(work.installation().uuid)
        store.close()
    assert len(uuids) == 2


def test_a_database_that_is_up_to_date_is_left_alone(filled):
    before = content(filled)
    result = create_or_upgrade(str(filled), LATER)
    assert (result.created, result.from_revision, result.copy_path) == (False, NEWEST, None)
    assert content(filled) == before
    assert [p.name for p in filled.parent.iterdir()] == [filled.name]


def test_an_older_file_is_copied_and_brought_up(filled, newer):
    before = content(filled)
    newer(ADDS_A_COLUMN)
    with pytest.raises(StoreTrouble, match="too old"):
        open_store(str(filled))
    result = create_or_upgrade(str(filled), LATER)
    assert (result.created, result.from_revision, result.to_revision) == (False, NEWEST, "9000")
    assert result.copy_path == filled.with_name(f"floorcare.db.schema-{NEWEST}.20260309T140200Z")
    assert content(result.copy_path) == before
    store = open_store(str(filled))
    with store.work() as work:
        assert len(work.books()) == 2
        assert work.installation().uuid == INSTALLATION
    store.close()


def test_a_failed_upgrade_leaves_the_file_as_it_was(filled, newer):
    before = content(filled)
    newer(FAILS_HALF_WAY)
    with pytest.raises(RuntimeError, match="broken migration"):
        create_or_upgrade(str(filled), LATER)
    assert content(filled) == before


def test_a_failed_making_leaves_no_file(tmp_path, newer):
    newer(FAILS_HALF_WAY)
    with pytest.raises(RuntimeError, match="broken migration"):
        create_or_upgrade(str(tmp_path / "made.db"), NOW)
    assert not list(tmp_path.glob("made.db*"))


def test_a_copy_that_stands_already_is_not_overwritten(filled, newer):
    newer(ADDS_A_COLUMN)
    stands = filled.with_name(f"floorcare.db.schema-{NEWEST}.20260309T140200Z")
    stands.write_text("an earlier copy")
    with pytest.raises(StoreTrouble, match="move it away"):
        create_or_upgrade(str(filled), LATER)
    assert stands.read_text() == "an earlier copy"


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(StoreTrouble, match="there is no folder"):
        create_or_upgrade(str(tmp_path / "nowhere" / "made.db"), NOW)


def test_a_folder_that_may_not_be_written_is_told(shared_folder, ordinary_person):
    shared_folder.chmod(0o555)
    with ordinary_person(), pytest.raises(StoreTrouble, match="right to write"):
        create_or_upgrade(str(shared_folder / "made.db"), NOW)


def test_an_upgrade_waits_for_no_writer_for_ever(filled, newer, monkeypatch):
    newer(ADDS_A_COLUMN)
    monkeypatch.setattr(upgrade, "make_engine", partial(make_engine, patience_ms=20))
    raw = sqlite3.connect(filled, isolation_level=None)
    raw.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreTrouble, match="locked"):
        create_or_upgrade(str(filled), LATER)
    raw.close()
