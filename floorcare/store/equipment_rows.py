"""The tables of what work is done with: machines, instruments, stock, and our own rates."""

from sqlalchemy import (
    CheckConstraint,
    Column,
    Date,
    Float,
    ForeignKey,
    Integer,
    Table,
    UniqueConstraint,
)

from floorcare.ground.trade.equipment import RateKind, StockMove
from floorcare.store.columns import (
    UtcInstant,
    amount,
    in_order,
    key,
    metadata,
    not_negative,
    number,
    of_row,
    text,
    whole,
    words,
)

machine = Table(
    "machine",
    metadata,
    key(),
    text("code"),
    text("kind"),
    text("name"),
    text("fuel"),
    UniqueConstraint("code"),
)

machine_place = Table(
    "machine_place",
    metadata,
    key(),
    of_row("machine"),
    Column("from_on", Date, nullable=False),
    of_row("branch", nullable=True),
    of_row("site", nullable=True),
    Column("to_on", Date),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("machine_id", "from_on"),
    in_order("from_on", "to_on"),
)

machine_outage = Table(
    "machine_outage",
    metadata,
    key(),
    of_row("machine"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date, nullable=False),
    UniqueConstraint("machine_id", "from_on"),
    in_order("from_on", "to_on"),
)

instrument = Table(
    "instrument",
    metadata,
    key(),
    text("code"),
    text("name"),
    text("measure"),
    text("serial"),
    UniqueConstraint("code"),
)

calibration = Table(
    "calibration",
    metadata,
    key(),
    of_row("instrument"),
    Column("done_on", Date, nullable=False),
    Column("valid_to", Date, nullable=False),
    UniqueConstraint("instrument_id", "done_on"),
    in_order("done_on", "valid_to"),
)

meter_bridge = Table(
    "meter_bridge",
    metadata,
    key(),
    Column("first_id", Integer, ForeignKey("instrument.id"), nullable=False),
    Column("second_id", Integer, ForeignKey("instrument.id"), nullable=False),
    Column("read_on", Date, nullable=False),
    Column("offset_gu", Float, nullable=False),
    whole("stations"),
    UniqueConstraint("first_id", "second_id", "read_on"),
    CheckConstraint("first_id <> second_id", name="two"),
    CheckConstraint("stations >= 1", name="stations"),
)

stock_entry = Table(
    "stock_entry",
    metadata,
    key(),
    of_row("branch"),
    text("material"),
    Column("moved_on", Date, nullable=False),
    text("move"),
    number("quantity"),
    text("unit"),
    UniqueConstraint("branch_id", "material", "moved_on", "move"),
    words("move", StockMove),
    CheckConstraint("quantity >= 0", name="quantity"),
)

supply = Table(
    "supply",
    metadata,
    key(),
    of_row("branch"),
    text("material"),
    number("pack"),
    text("unit"),
    whole("lead_days"),
    number("reserve"),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("branch_id", "material"),
    CheckConstraint("pack > 0", name="pack"),
    CheckConstraint("lead_days >= 0", name="lead_days"),
    CheckConstraint("reserve >= 0", name="reserve"),
)

rate = Table(
    "rate",
    metadata,
    key(),
    of_row("branch"),
    text("kind"),
    text("what"),
    Column("from_on", Date, nullable=False),
    amount("amount"),
    text("currency"),
    Column("to_on", Date),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("branch_id", "kind", "what", "from_on"),
    words("kind", RateKind),
    not_negative("amount"),
    CheckConstraint("length(currency) = 3", name="currency"),
    in_order("from_on", "to_on"),
)
