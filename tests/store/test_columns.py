from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import Column, MetaData, Table, create_engine, insert, select
from sqlalchemy.exc import IntegrityError, StatementError

from floorcare.store.columns import (
    Money,
    UtcInstant,
    between,
    entered,
    in_order,
    key,
    not_negative,
    words,
)


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
    assert str(not_negative("amount").sqltext) == "substr(amount, 1, 1) <> '-'"
    assert [getattr(part, "name", "") for part in entered()] == ["origin", "withdrawn_by", "origin"]


@pytest.fixture
def till(tmp_path: Path):
    engine = create_engine(f"sqlite:///{tmp_path}/till.db")
    table = Table("till", MetaData(), key(), Column("amount", Money), not_negative("amount"))
    table.create(engine)
    yield engine, table
    engine.dispose()


@pytest.mark.parametrize("typed", ["0.1", "31.10", "1E+3", "12345678901234567890.123456789", "-0"])
def test_an_amount_comes_back_to_the_last_digit(till, typed):
    engine, table = till
    with engine.begin() as connection:
        connection.execute(insert(table).values(amount=Decimal(typed)))
        assert connection.scalar(select(table.c.amount)) == Decimal(typed)


@pytest.mark.parametrize("typed", ["NaN", "Infinity"])
def test_what_is_no_amount_is_refused(till, typed):
    engine, table = till
    with engine.begin() as connection, pytest.raises(StatementError, match="is no amount"):
        connection.execute(insert(table).values(amount=Decimal(typed)))


def test_an_amount_below_nothing_is_refused_by_the_database_and_none_stays_none(till):
    engine, table = till
    with engine.begin() as connection:
        connection.execute(insert(table).values(amount=None))
        assert connection.scalar(select(table.c.amount)) is None
        with pytest.raises(IntegrityError):
            connection.execute(insert(table).values(amount=Decimal("-0.01")))
