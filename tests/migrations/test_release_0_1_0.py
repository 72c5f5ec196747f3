"""A database of release 0.1.0, loaded and planned there, brought up and worked on here.

`release_0_1_0.sql` is that database as text: two sites, loaded twice (so rows were ended and
withdrawn) and planned twice. It is never made anew.
"""

import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from floorcare.errors import StoreTrouble
from floorcare.ground.trade.visit import VisitState
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.store.open import open_store
from floorcare.store.standing import known_revisions
from floorcare.store.surfaces import load_surfaces
from floorcare.store.upgrade import create_or_upgrade
from tests.store.means import with_means

DUMP = Path(__file__).with_name("release_0_1_0.sql")
NOW = datetime(2026, 3, 16, 8, 0, tzinfo=UTC)


@pytest.fixture
def released(tmp_path: Path) -> Path:
    path = tmp_path / "floorcare.db"
    with closing(sqlite3.connect(path)) as raw:
        raw.executescript(DUMP.read_text("utf-8"))
        raw.execute("PRAGMA journal_mode = WAL")
    return path


def every_row(path: Path) -> dict[str, list[dict[str, object]]]:
    """Every row of every table, each as a dict of its columns."""
    with closing(sqlite3.connect(path)) as raw:
        raw.row_factory = sqlite3.Row
        tables = [
            name
            for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if name != "alembic_version"
        ]
        return {
            table: [dict(row) for row in raw.execute(f'SELECT * FROM "{table}" ORDER BY id')]
            for table in tables
        }


def test_it_is_too_old_to_be_worked_on_and_says_how_to_mend_that(released):
    with pytest.raises(StoreTrouble, match=r"schema 0001.*run `floorcare upgrade`"):
        open_store(str(released))


def test_every_row_and_every_value_is_there_after_the_upgrade(released):
    before = every_row(released)
    assert {table: len(rows) for table, rows in before.items() if table != "due"} == {
        "installation": 1,
        "history_entry": 4,
        "customer": 1,
        "branch": 2,
        "site": 2,
        "site_branch": 2,
        "access_window": 2,
        "shut_day": 2,
        "area": 2,
        "zone": 2,
        "zone_span": 2,
        "station": 4,
        "reading": 4,
        "treatment_done": 2,
        "traffic_row": 4,
        "routine": 3,
        "promise_line": 1,
        "plan": 2,
        "visit": 15,
        "visit_line": 25,
        "visit_event": 24,
    }
    result = create_or_upgrade(str(released), NOW)
    assert (result.from_revision, result.to_revision) == ("0001", known_revisions()[-1])
    after = every_row(released)
    for table, rows in before.items():
        kept = [{name: row[name] for name in rows[0]} for row in after[table]]
        assert kept == rows, table
    new = {table: rows for table, rows in after.items() if table not in before}
    assert new
    assert not any(new.values())


def test_what_was_loaded_is_the_folder_s_word_and_stands(released):
    create_or_upgrade(str(released), NOW)
    for table in ("shut_day", "reading", "treatment_done", "promise_line"):
        for row in every_row(released)[table]:
            marks = (row["origin"], row["withdrawn_at"], row["withdrawn_by"])
            assert marks == ("folder", None, "")


def test_a_treatment_of_a_visit_becomes_the_program_s_word(released):
    with closing(sqlite3.connect(released)) as raw:
        raw.execute("UPDATE treatment_done SET visit_uuid = 'v-1' WHERE id = 1")
        raw.commit()
    create_or_upgrade(str(released), NOW)
    origins = [row["origin"] for row in every_row(released)["treatment_done"]]
    assert origins == ["program", "folder"]


def test_promises_keep_their_rows_and_may_be_kept_cheaply_from_then_on(released):
    before = every_row(released)["promise_line"]
    create_or_upgrade(str(released), NOW)
    with closing(sqlite3.connect(released)) as raw:
        raw.execute("UPDATE promise_line SET policy = 'cheapest'")
        with pytest.raises(sqlite3.IntegrityError, match="ck_promise_line_policy"):
            raw.execute("UPDATE promise_line SET policy = 'dearest'")
    after = every_row(released)["promise_line"]
    assert [{name: row[name] for name in before[0]} for row in after] == before


def test_events_of_plans_are_nobody_s_word(released):
    create_or_upgrade(str(released), NOW)
    for row in every_row(released)["visit_event"]:
        assert (row["done_by"], row["how"], row["said_on"]) == ("", "", None)


def test_a_copy_from_before_lies_beside_it(released):
    before = every_row(released)
    copy = create_or_upgrade(str(released), NOW).copy_path
    assert copy == released.with_name("floorcare.db.schema-0001.20260316T080000Z")
    assert every_row(copy) == before


def test_today_s_program_reads_plans_and_loads_it(released):
    create_or_upgrade(str(released), NOW)
    store = open_store(str(released))
    with store.work() as work:
        north, south = work.books()
        assert [len(north.zones[0].readings), len(south.zones[0].readings)] == [4, 0]
        counted, later = north.zones[0].traffic
        assert (counted.to_on, later.per_day) == (date(2026, 1, 31), 2400.0)
        assert [row.per_day for row in south.zones[0].traffic] == [900.0]
        assert len(work.visits()) == 15
        assert work.revisions() == {"EAST": 2, "WEST": 2}
        assert (work.workers(), work.contracts(), work.calls()) == ((), (), ())
    account = plan_year(store, load_surfaces(), today=NOW.date(), now=NOW, who="planner", weeks=26)
    assert (account.sites, account.zones) == (2, 2)
    assert account.visits
    with store.work() as work:
        planned = [v for v in work.visits() if v.state is not VisitState.CANCELLED]
        assert len([v for v in planned if v.night >= NOW.date()]) == account.visits
    loaded = load_care(store, with_means(), who="office", now=NOW)
    assert {kind: added for kind, added, *_ in loaded.counts}["workers"] == 2
    store.close()
