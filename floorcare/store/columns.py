"""What every table is made of: names of keys and checks, checked words, instants in UTC."""

from collections.abc import Iterable
from datetime import UTC, datetime
from decimal import Decimal
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


class Money(TypeDecorator[Decimal]):
    """An exact amount, kept as plain decimal text: SQLite would make a binary fraction of it."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:  # noqa: ARG002
        """The amount in digits, as many places as were given."""
        if value is None:
            return None
        if not value.is_finite():
            raise ValueError(f"{value} is no amount: allowed are numbers")
        return format(value if value else value.copy_abs(), "f")

    def process_result_value(self, value: str | None, dialect: Dialect) -> Decimal | None:  # noqa: ARG002
        """The amount as it was given."""
        return None if value is None else Decimal(value)


FOLDER, PROGRAM = "folder", "program"
"""Where a row was entered; what was entered in the program outranks the folder."""


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


def amount(name: str) -> Column[Decimal]:
    """An amount of money that is never missing."""
    return Column(name, Money, nullable=False)


def entered() -> tuple[Column[str] | CheckConstraint, ...]:
    """Where a row was entered, and who took it back ("" while it stands)."""
    return (
        Column("origin", Text, nullable=False, server_default=FOLDER),
        Column("withdrawn_by", Text, nullable=False, server_default=""),
        words("origin", (FOLDER, PROGRAM)),
    )


def words(column: str, allowed: Iterable[str]) -> CheckConstraint:
    """A check that the column holds one of the allowed words."""
    listed = ", ".join(f"'{word}'" for word in allowed)
    return CheckConstraint(f"{column} IN ({listed})", name=column)


def between(column: str, lowest: float, highest: float) -> CheckConstraint:
    """A check that the column's number lies in the range, both ends included."""
    return CheckConstraint(f"{column} BETWEEN {lowest} AND {highest}", name=column)


def not_negative(column: str) -> CheckConstraint:
    """A check that an amount has no minus before it."""
    return CheckConstraint(f"substr({column}, 1, 1) <> '-'", name=column)


def in_order(*columns: str) -> CheckConstraint:
    """A check that each column's date is on or before the next one's; an open end passes."""
    steps = [f"{one} <= {then}" for one, then in pairwise(columns)]
    return CheckConstraint(" AND ".join(steps), name="order")
