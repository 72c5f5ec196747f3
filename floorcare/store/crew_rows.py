"""The tables of who goes out and how far: workers with what they hold, crews, shifts, drives."""

from sqlalchemy import CheckConstraint, Column, Date, Float, Index, Table, UniqueConstraint

from floorcare.store.columns import (
    UtcInstant,
    between,
    entered,
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

worker_absence = Table(
    "worker_absence",
    metadata,
    key(),
    of_row("worker"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date, nullable=False),
    text("why"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("worker_id", "from_on"),
    in_order("from_on", "to_on"),
)

travel_leg = Table(
    "travel_leg",
    metadata,
    key(),
    of_row("branch"),
    # Codes of sites; "" is the branch itself.
    text("leaves"),
    text("reaches"),
    whole("minutes"),
    Column("km", Float),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("branch_id", "leaves", "reaches"),
    CheckConstraint("minutes >= 0", name="minutes"),
    CheckConstraint("leaves <> reaches", name="two"),
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
