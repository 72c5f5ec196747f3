"""The migrations as a whole: one line, the same tables as the store's, and no child row lost."""

import re
import shutil
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from floorcare.store import (
    contract_rows,
    crew_rows,
    equipment_rows,
    floor_rows,
    people_rows,
    prior_rows,
    rows,
    standing,
    upgrade,
    visit_rows,
)
from floorcare.store.columns import metadata
from floorcare.store.engine import for_writing, make_engine, place_of
from floorcare.store.standing import known_revisions, script_folder
from floorcare.store.upgrade import alembic_config, create_or_upgrade

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)

NEWEST = known_revisions()[-1]

BUILDS_SITE_ANEW = f"""
import sqlalchemy as sa
from alembic import op
revision = "9000"
down_revision = "{NEWEST}"
def upgrade():
    with op.batch_alter_table("site", recreate="always") as site:
        site.add_column(sa.Column("floors", sa.Integer(), nullable=True))
"""
LEAVES_ORPHANS = f"""
from alembic import op
revision = "9000"
down_revision = "{NEWEST}"
def upgrade():
    op.execute("DELETE FROM site")
"""


@pytest.fixture
def with_migration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Add one migration to a copy of the folder."""

    def add(text: str) -> None:
        folder = tmp_path / "migrations"
        shutil.copytree(script_folder(), folder)
        (folder / "versions" / "9000_one_more.py").write_text(text)
        for module in (standing, upgrade):
            monkeypatch.setattr(module, "script_folder", lambda: folder)

    return add


@pytest.fixture
def made(tmp_path: Path) -> Path:
    path = tmp_path / "made.db"
    create_or_upgrade(str(path), NOW)
    return path


def rows_of(path: Path, *tables: str) -> list[int]:
    raw = sqlite3.connect(path)
    found = [raw.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in tables]
    raw.close()
    return found


def put_a_site_with_two_zones(path: Path) -> None:
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA foreign_keys = ON")
    raw.execute("INSERT INTO customer VALUES (1, 'M', 'Market')")
    raw.execute(
        "INSERT INTO site VALUES (1, 'N', 1, 'North', 'Europe/Berlin', '', '', '', NULL, NULL, "
        "'shut', 7, '', 1)"
    )
    for number in (1, 2):
        raw.execute(
            "INSERT INTO zone VALUES (?, 1, NULL, ?, 'Lane', '', 'unknown', NULL, 0, NULL, '', 1)",
            (number, f"Z{number}"),
        )
    raw.commit()
    raw.close()


def schema(path: Path) -> dict[tuple[str, str], tuple[list[str], list[str]]]:
    """Of each table and index its columns in their order, and its constraints in any."""
    raw = sqlite3.connect(path)
    found = raw.execute(
        "SELECT type, name, sql FROM sqlite_master WHERE tbl_name != 'alembic_version'"
    ).fetchall()
    raw.close()
    return {(kind, name): told_apart(sql or "") for kind, name, sql in found}


def told_apart(sql: str) -> tuple[list[str], list[str]]:
    """A statement's columns and constraints, each to the letter.

    A column that an ALTER added carries its CHECK on its own line of the table's text, a table made
    anew carries it at the end: the same table, written in another order.
    """
    inside = sql[sql.find("(") + 1 : sql.rfind(")")]
    parts, depth, start = [], 0, 0
    for at, letter in enumerate(inside):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter == "," and depth == 0:
            parts.append(inside[start:at])
            start = at + 1
    parts.append(inside[start:])
    pieces = [
        " ".join(piece.split()) for part in parts for piece in re.split(r"(?=\bCONSTRAINT\b)", part)
    ]
    # a table built anew and renamed has its name in quotes
    head = sql[: sql.find("(")].replace('"', "")
    columns = [head, *(p for p in pieces if p and "CONSTRAINT" not in p)]
    return columns, sorted(p for p in pieces if "CONSTRAINT" in p)


def test_there_is_one_line_of_migrations_and_the_store_knows_it():
    scripts = ScriptDirectory.from_config(alembic_config())
    assert scripts.get_heads() == [known_revisions()[-1]]
    walked = [script.revision for script in scripts.walk_revisions()]
    assert tuple(reversed(walked)) == known_revisions()


def test_files_begin_with_their_own_revision_and_import_nothing_of_ours():
    for path in (script_folder() / "versions").glob("*.py"):
        text = path.read_text("utf-8")
        assert f'revision = "{path.name.partition("_")[0]}"' in text
        assert not re.search(r"^\s*(from|import)\s+floorcare", text, re.MULTILINE)


def test_migrated_from_empty_and_made_from_the_tables_are_the_same(made, tmp_path):
    straight = tmp_path / "straight.db"
    engine = create_engine(f"sqlite:///{straight}")
    metadata.create_all(engine)
    engine.dispose()
    assert schema(made) == schema(straight)
    assert len({name for kind, name in schema(made) if kind == "table"}) == 54


def test_a_check_that_goes_missing_would_be_seen(made, tmp_path):
    straight = tmp_path / "straight.db"
    engine = create_engine(f"sqlite:///{straight}")
    metadata.create_all(engine)
    engine.dispose()
    raw = sqlite3.connect(straight)
    raw.execute("DROP TABLE installation")
    raw.execute(
        "CREATE TABLE installation (id INTEGER NOT NULL, uuid TEXT NOT NULL, "
        "domain TEXT NOT NULL, made_at DATETIME NOT NULL, "
        "CONSTRAINT pk_installation PRIMARY KEY (id))"
    )
    raw.close()
    assert schema(made) != schema(straight)


def test_alembic_itself_finds_nothing_to_do(made):
    tables = (contract_rows, crew_rows, equipment_rows, floor_rows, people_rows, prior_rows)
    assert all(of.metadata is metadata for of in (*tables, rows, visit_rows))
    engine = make_engine(place_of(str(made)))
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []
    engine.dispose()


def test_building_a_parent_table_anew_keeps_its_children(made, with_migration):
    put_a_site_with_two_zones(made)
    with_migration(BUILDS_SITE_ANEW)
    result = create_or_upgrade(str(made), NOW)
    assert result.to_revision == "9000"
    assert rows_of(made, "customer", "site", "zone") == [1, 1, 2]
    assert "floors INTEGER" in schema(made)["table", "site"][0]


def test_a_migration_that_leaves_rows_without_parents_is_undone(made, with_migration):
    put_a_site_with_two_zones(made)
    with_migration(LEAVES_ORPHANS)
    with pytest.raises(RuntimeError, match="lost their parents"):
        create_or_upgrade(str(made), NOW)
    assert rows_of(made, "customer", "site", "zone") == [1, 1, 2]
    raw = sqlite3.connect(made)
    assert raw.execute("SELECT version_num FROM alembic_version").fetchall() == [(NEWEST,)]
    raw.close()


def test_foreign_keys_are_on_again_afterwards(tmp_path):
    engine = make_engine(place_of(str(tmp_path / "fresh.db")))
    with engine.connect() as connection:
        command.upgrade(alembic_config(for_writing(connection)), "head")
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def test_a_new_migration_can_be_drafted_from_the_template(made, with_migration, monkeypatch):
    with_migration(BUILDS_SITE_ANEW)
    create_or_upgrade(str(made), NOW)
    engine = make_engine(place_of(str(made)))
    with engine.connect() as connection:
        config = alembic_config(connection)
        command.revision(config, "joint length", rev_id="9001")
    engine.dispose()
    drafted = next((standing.script_folder() / "versions").glob("9001_*.py"))
    text = drafted.read_text("utf-8")
    assert "Rules for a migration" in text
    compile(text, str(drafted), "exec")
