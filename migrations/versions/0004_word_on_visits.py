"""Word on visits: who decided a change, how it came, nights refused and offered; a third policy."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


POLICIES = "policy IN ('as agreed', 'gentlest', 'cheapest')"


def upgrade() -> None:
    _word_on_visits()
    _third_policy()


def _third_policy() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.drop_constraint("ck_promise_line_policy", "promise_line", type_="check")
        op.create_check_constraint("ck_promise_line_policy", "promise_line", POLICIES)
        return
    # SQLite takes a check off by building the table anew; nothing refers to these rows. Written out,
    # because the library's own way names the constraints in another order each time.
    parts = _promise_line()
    columns = ", ".join(part.name for part in parts if isinstance(part, sa.Column))
    op.create_table("promise_line_anew", *parts)
    op.execute(f"INSERT INTO promise_line_anew ({columns}) SELECT {columns} FROM promise_line")
    op.drop_table("promise_line")
    op.rename_table("promise_line_anew", "promise_line")
    op.create_index("ix_promise_line_zone_id", "promise_line", ["zone_id"])


def _promise_line() -> tuple[sa.schema.SchemaItem, ...]:
    """The table's columns and constraints, the wider check of its policy among them."""
    return (
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("contract", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("starts_on", sa.Date(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=False),
        sa.Column("reference_gu", sa.Float(), nullable=True),
        sa.Column("reference_on", sa.Date(), nullable=True),
        sa.Column("reference_state", sa.Text(), nullable=False),
        sa.Column("loss_share", sa.Float(), nullable=False),
        sa.Column("confidence", sa.Float(), nullable=False),
        sa.Column("policy", sa.Text(), nullable=False),
        sa.Column("slip_method", sa.Text(), nullable=False),
        sa.Column("slip_limit", sa.Float(), nullable=True),
        sa.Column("slip_place", sa.Text(), nullable=False),
        sa.Column("response_hours", sa.Integer(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("origin", sa.Text(), server_default="folder", nullable=False),
        sa.Column("withdrawn_by", sa.Text(), server_default="", nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_promise_line"),
        sa.UniqueConstraint(
            "contract",
            "zone_id",
            "kind",
            "starts_on",
            name="uq_promise_line_contract_zone_id_kind_starts_on",
        ),
        sa.CheckConstraint(
            "kind IN ('appearance', 'rhythm', 'slip', 'response')", name="ck_promise_line_kind"
        ),
        sa.CheckConstraint(
            "reference_state IN ('after cleaning', 'after burnish', 'wet')",
            name="ck_promise_line_reference_state",
        ),
        sa.CheckConstraint("starts_on <= ends_on", name="ck_promise_line_order"),
        sa.CheckConstraint("origin IN ('folder', 'program')", name="ck_promise_line_origin"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_promise_line_zone_id_zone"),
        sa.CheckConstraint(POLICIES, name="ck_promise_line_policy"),
    )


def _word_on_visits() -> None:
    # Plain ALTERs with defaults: on SQLite anything more would build the table anew.
    op.add_column("visit_event", sa.Column("done_by", sa.Text(), server_default="", nullable=False))
    op.execute(
        "ALTER TABLE visit_event ADD COLUMN how TEXT DEFAULT '' NOT NULL "
        "CONSTRAINT ck_visit_event_how CHECK (how IN ('', 'phone', 'paper', 'mail', 'office'))"
    )
    op.add_column("visit_event", sa.Column("said_on", sa.Date(), nullable=True))
    op.create_table(
        "night_answer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=True),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("night", sa.Date(), nullable=False),
        sa.Column("word", sa.Text(), nullable=False),
        sa.Column("said_on", sa.Date(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_night_answer"),
        sa.CheckConstraint(
            "work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-polish', "
            "'strip', 'densify', 'full restoration', 'spot repair', 'joint repair', "
            "'reading round', 'slip test', 'walk', 'call')",
            name="ck_night_answer_work",
        ),
        sa.CheckConstraint("word IN ('refused', 'offered')", name="ck_night_answer_word"),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_night_answer_visit_id_visit"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_night_answer_zone_id_zone"),
    )
    op.create_index("ix_night_answer_visit_id", "night_answer", ["visit_id"])
