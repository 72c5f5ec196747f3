from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import Column, MetaData, Table, create_engine, insert, select
from sqlalchemy.exc import StatementError

from floorcare.store.columns import UtcInstant, between, in_order, key, words


@pytest.fixture
def diary(tmp_path: Path):
    engine = create_engine(f"sqlite:///{tmp_path}/diary.db")
    table = Table("diary", MetaData(), key(), Column("at", UtcInstant))
    table.create(engine)
    yield engine, table
    engine.dispose()


def test_an_instant_with_an_offset_comes_back_as_the_same_instant_in_utc(diary):
    engine, table = diary
    evening = datetime(2026, 3, 2, 22, 0, 1, 5, tzinfo=timezone(timedelta(hours=2)))
    with engine.begin() as connection:
        connection.execute(insert(table).values(at=evening))
        back = connection.scalar(select(table.c.at))
    assert back == evening
    assert back.tzinfo is UTC
    assert back.hour == 20


def test_an_instant_without_a_zone_is_refused(diary):
    engine, table = diary
    with engine.begin() as connection, pytest.raises(StatementError, match="no time zone"):
        connection.execute(insert(table).values(at=datetime(2026, 3, 2, 22, 0)))  # noqa: DTZ001


def test_no_instant_stays_none(diary):
    engine, table = diary
    with engine.begin() as connection:
        connection.execute(insert(table).values(at=None))
        assert connection.scalar(select(table.c.at)) is None


def test_checks_say_what_they_check():
    assert str(words("state", ("open", "shut")).sqltext) == "state IN ('open', 'shut')"
    assert str(between("minute", 0, 1439).sqltext) == "minute BETWEEN 0 AND 1439"
    assert str(in_order("a", "b", "c").sqltext) == "a <= b AND b <= c"
