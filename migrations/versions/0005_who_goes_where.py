"""Who goes where with what: crews of visits, days workers are away, drives, how materials come."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _assignment()
    _worker_absence()
    _travel_leg()
    _supply()


def _assignment() -> None:
    op.create_table(
        "assignment",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("part", sa.Integer(), nullable=False),
        sa.Column("parts", sa.Integer(), nullable=False),
        sa.Column("zones", sa.Text(), nullable=False),
        sa.Column("crew", sa.Text(), nullable=False),
        sa.Column("crew_on", sa.Date(), nullable=False),
        sa.Column("starts_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("travel_minutes", sa.Integer(), nullable=False),
        sa.Column("machines", sa.Text(), nullable=False),
        sa.Column("held", sa.Boolean(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_assignment"),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_assignment_visit_id_visit"),
        sa.CheckConstraint("part BETWEEN 1 AND parts", name="ck_assignment_part"),
        sa.CheckConstraint("starts_at <= ends_at", name="ck_assignment_order"),
    )
    op.create_index("ix_assignment_visit_id", "assignment", ["visit_id"])
    op.create_index("ix_assignment_crew_on", "assignment", ["crew_on"])


def _worker_absence() -> None:
    op.create_table(
        "worker_absence",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("worker_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("origin", sa.Text(), server_default="folder", nullable=False),
        sa.Column("withdrawn_by", sa.Text(), server_default="", nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_worker_absence"),
        sa.UniqueConstraint("worker_id", "from_on", name="uq_worker_absence_worker_id_from_on"),
        sa.ForeignKeyConstraint(
            ["worker_id"], ["worker.id"], name="fk_worker_absence_worker_id_worker"
        ),
        sa.CheckConstraint("origin IN ('folder', 'program')", name="ck_worker_absence_origin"),
        sa.CheckConstraint("from_on <= to_on", name="ck_worker_absence_order"),
    )


def _travel_leg() -> None:
    op.create_table(
        "travel_leg",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("leaves", sa.Text(), nullable=False),
        sa.Column("reaches", sa.Text(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("km", sa.Float(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_travel_leg"),
        sa.UniqueConstraint(
            "branch_id", "leaves", "reaches", name="uq_travel_leg_branch_id_leaves_reaches"
        ),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], name="fk_travel_leg_branch_id_branch"),
        sa.CheckConstraint("minutes >= 0", name="ck_travel_leg_minutes"),
        sa.CheckConstraint("leaves <> reaches", name="ck_travel_leg_two"),
    )


def _supply() -> None:
    op.create_table(
        "supply",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("material", sa.Text(), nullable=False),
        sa.Column("pack", sa.Float(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=False),
        sa.Column("reserve", sa.Float(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_supply"),
        sa.UniqueConstraint("branch_id", "material", name="uq_supply_branch_id_material"),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], name="fk_supply_branch_id_branch"),
        sa.CheckConstraint("pack > 0", name="ck_supply_pack"),
        sa.CheckConstraint("lead_days >= 0", name="ck_supply_lead_days"),
        sa.CheckConstraint("reserve >= 0", name="ck_supply_reserve"),
    )
