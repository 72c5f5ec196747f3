"""The tables of contracts: terms, fee lines, exclusions. Promise lines stand with their zones."""

from sqlalchemy import Column, Date, Index, Table, UniqueConstraint

from floorcare.ground.trade.contract import FeeKind, RenewalKind
from floorcare.store.columns import (
    amount,
    between,
    in_order,
    key,
    metadata,
    not_negative,
    of_row,
    text,
    whole,
    words,
)

contract = Table(
    "contract",
    metadata,
    key(),
    text("code"),
    of_row("customer"),
    text("name"),
    text("currency"),
    UniqueConstraint("code"),
)

term = Table(
    "term",
    metadata,
    key(),
    of_row("contract"),
    Column("starts_on", Date, nullable=False),
    Column("ends_on", Date, nullable=False),
    whole("our_notice_days"),
    whole("their_notice_days"),
    text("renewal"),
    Column("cap_on", Date),
    UniqueConstraint("contract_id", "starts_on"),
    Index(None, "ends_on"),
    between("our_notice_days", 0, 730),
    between("their_notice_days", 0, 730),
    words("renewal", RenewalKind),
    in_order("starts_on", "ends_on", "cap_on"),
)

fee_line = Table(
    "fee_line",
    metadata,
    key(),
    of_row("term"),
    text("kind"),
    of_row("site", nullable=True),
    text("work"),
    amount("amount"),
    UniqueConstraint("term_id", "kind", "site_id", "work"),
    words("kind", FeeKind),
    not_negative("amount"),
)
# Two rows without a site never count as alike, so fees of all sites have their own index.
Index(
    "uq_fee_line_all_sites",
    *(fee_line.c[name] for name in ("term_id", "kind", "work")),
    unique=True,
    sqlite_where=fee_line.c.site_id.is_(None),
    postgresql_where=fee_line.c.site_id.is_(None),
)

exclusion = Table(
    "exclusion",
    metadata,
    key(),
    of_row("contract"),
    of_row("site"),
    of_row("zone", nullable=True),
    Column("from_on", Date, nullable=False),
    text("cause"),
    Column("to_on", Date, nullable=False),
    text("evidence"),
    UniqueConstraint("contract_id", "site_id", "zone_id", "from_on", "cause"),
    in_order("from_on", "to_on"),
)
Index(
    "uq_exclusion_whole_site",
    *(exclusion.c[name] for name in ("contract_id", "site_id", "from_on", "cause")),
    unique=True,
    sqlite_where=exclusion.c.zone_id.is_(None),
    postgresql_where=exclusion.c.zone_id.is_(None),
)
