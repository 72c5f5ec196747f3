"""The tables of what floors are made of and of the seasons that grind them."""

from sqlalchemy import CheckConstraint, Column, Date, Float, Integer, Table, UniqueConstraint

from floorcare.store.columns import between, key, metadata, number, of_row, text, whole, words

season = Table(
    "season",
    metadata,
    key(),
    of_row("site"),
    text("name"),
    whole("from_month"),
    whole("from_day"),
    whole("to_month"),
    whole("to_day"),
    number("factor"),
    UniqueConstraint("site_id", "name"),
    between("from_month", 1, 12),
    between("from_day", 1, 31),
    between("to_month", 1, 12),
    between("to_day", 1, 31),
    between("factor", 1, 10),
)

floor_make_up = Table(
    "floor_make_up",
    metadata,
    key(),
    of_row("zone"),
    Column("from_on", Date, nullable=False),
    Column("grit", Integer),
    text("exposure_class"),
    text("densifier"),
    text("protector"),
    Column("joints_m", Float),
    Column("edges_m", Float),
    number("obstruction_share"),
    text("moisture"),
    UniqueConstraint("zone_id", "from_on"),
    between("grit", 16, 20_000),
    words("exposure_class", ("", "A", "B", "C")),
    between("obstruction_share", 0, 1),
    CheckConstraint("joints_m >= 0", name="joints_m"),
    CheckConstraint("edges_m >= 0", name="edges_m"),
)
