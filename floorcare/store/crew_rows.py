"""The tables of who goes out: workers with what they hold, crews, their members and shifts."""

from sqlalchemy import Column, Date, Index, Table, UniqueConstraint

from floorcare.store.columns import (
    UtcInstant,
    between,
    in_order,
    key,
    metadata,
    of_row,
    text,
    whole,
)

worker = Table(
    "worker",
    metadata,
    key(),
    text("code"),
    text("name"),
    of_row("branch"),
    text("languages"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date),
    UniqueConstraint("code"),
    in_order("from_on", "to_on"),
)

qualification = Table(
    "qualification",
    metadata,
    key(),
    of_row("worker"),
    text("name"),
    Column("from_on", Date, nullable=False),
    Column("expires_on", Date),
    UniqueConstraint("worker_id", "name", "from_on"),
    in_order("from_on", "expires_on"),
)

crew = Table(
    "crew",
    metadata,
    key(),
    text("code"),
    of_row("branch"),
    text("name"),
    UniqueConstraint("code"),
)

crew_member = Table(
    "crew_member",
    metadata,
    key(),
    of_row("crew"),
    of_row("worker"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("crew_id", "worker_id", "from_on"),
    Index(None, "worker_id"),
    in_order("from_on", "to_on"),
)

shift = Table(
    "shift",
    metadata,
    key(),
    of_row("crew"),
    text("weekdays"),
    whole("starts_minute"),
    Column("from_on", Date, nullable=False),
    whole("ends_minute"),
    whole("break_minutes"),
    Column("to_on", Date),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("crew_id", "weekdays", "starts_minute", "from_on"),
    between("starts_minute", 0, 1439),
    between("ends_minute", 0, 1440),
    between("break_minutes", 0, 1440),
    in_order("from_on", "to_on"),
)
