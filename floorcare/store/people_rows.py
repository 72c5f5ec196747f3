"""The tables of people and of what a site asks for: contacts, persons, requirements, calls."""

from sqlalchemy import CheckConstraint, Column, Date, Float, Table, UniqueConstraint

from floorcare.ground.trade.people import CallKind, RequirementKind, Role
from floorcare.store.columns import UtcInstant, entered, key, metadata, of_row, text, words, yes

contact = Table(
    "contact",
    metadata,
    key(),
    text("code"),
    of_row("customer"),
    of_row("site", nullable=True),
    text("name"),
    text("role"),
    text("email"),
    text("phone"),
    UniqueConstraint("code"),
)

person = Table(
    "person",
    metadata,
    key(),
    text("code"),
    text("name"),
    text("role"),
    text("email"),
    of_row("worker", nullable=True),
    of_row("contact", nullable=True),
    UniqueConstraint("code"),
    words("role", Role),
)

site_requirement = Table(
    "site_requirement",
    metadata,
    key(),
    of_row("site"),
    text("kind"),
    text("name"),
    yes("each_worker"),
    Column("expires_on", Date),
    UniqueConstraint("site_id", "kind", "name"),
    words("kind", RequirementKind),
)

call = Table(
    "call",
    metadata,
    key(),
    text("uuid"),
    of_row("site"),
    of_row("zone", nullable=True),
    text("kind"),
    Column("received_at", UtcInstant, nullable=False, index=True),
    text("reported_by"),
    text("text"),
    Column("spot_m2", Float),
    Column("closed_at", UtcInstant),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("uuid"),
    words("kind", CallKind),
    CheckConstraint("spot_m2 >= 0", name="spot_m2"),
)

entry = Table(
    "entry",
    metadata,
    key(),
    text("uuid"),
    text("who"),
    text("digest"),
    text("answer"),
    Column("at", UtcInstant, nullable=False),
    UniqueConstraint("uuid"),
)
