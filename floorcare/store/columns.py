"""What every table is made of: names of keys and checks, checked words, instants in UTC."""

from collections.abc import Iterable
from datetime import UTC, datetime
from itertools import pairwise

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    DateTime,
    Float,
    ForeignKey,
    Integer,
    MetaData,
    Text,
)
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
    }
)


class UtcInstant(TypeDecorator[datetime]):
    """When something happened: an instant, kept in UTC.

    SQLite drops an offset without a word, so 22:00+02:00 would come back as 22:00. Here a value
    without an offset is refused, and one with an offset is turned into UTC first.
    """

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """The instant in UTC."""
        if value is None:
            return None
        if value.tzinfo is None or value.utcoffset() is None:
            raise ValueError(
                f"{value} has no time zone: allowed are instants with one, such as UTC"
            )
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """The instant in UTC; SQLite hands it back without its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def key() -> Column[int]:
    """The integer a row is known by inside the store."""
    return Column("id", Integer, primary_key=True)


def text(name: str) -> Column[str]:
    """A text that is never missing; "" stands for none."""
    return Column(name, Text, nullable=False)


def whole(name: str) -> Column[int]:
    """A whole number that is never missing."""
    return Column(name, Integer, nullable=False)


def number(name: str) -> Column[float]:
    """A number that is never missing."""
    return Column(name, Float, nullable=False)


def yes(name: str) -> Column[bool]:
    """A yes or no that is never missing."""
    return Column(name, Boolean, nullable=False)


def of_row(parent: str, *, nullable: bool = False) -> Column[int]:
    """The parent's row."""
    return Column(f"{parent}_id", Integer, ForeignKey(f"{parent}.id"), nullable=nullable)


def words(column: str, allowed: Iterable[str]) -> CheckConstraint:
    """A check that the column holds one of the allowed words."""
    listed = ", ".join(f"'{word}'" for word in allowed)
    return CheckConstraint(f"{column} IN ({listed})", name=column)


def between(column: str, lowest: float, highest: float) -> CheckConstraint:
    """A check that the column's number lies in the range, both ends included."""
    return CheckConstraint(f"{column} BETWEEN {lowest} AND {highest}", name=column)


def in_order(*columns: str) -> CheckConstraint:
    """A check that each column's date is on or before the next one's; an open end passes."""
    steps = [f"{one} <= {then}" for one, then in pairwise(columns)]
    return CheckConstraint(" AND ".join(steps), name="order")
