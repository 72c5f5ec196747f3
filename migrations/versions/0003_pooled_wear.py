"""What fleets taught, version by version, and which version a plan read."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("plan", sa.Column("prior_version", sa.Integer(), nullable=True))
    op.create_table(
        "prior_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("learned_on", sa.Date(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_prior_version"),
        sa.UniqueConstraint("number", name="uq_prior_version_number"),
        sa.CheckConstraint("number >= 1", name="ck_prior_version_number"),
    )
    op.create_table(
        "prior_class",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("prior_version_id", sa.Integer(), nullable=False),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("traffic", sa.Text(), nullable=False),
        sa.Column("counted", sa.Boolean(), nullable=False),
        sa.Column("zones", sa.Integer(), nullable=False),
        sa.Column("mean_haze", sa.Float(), nullable=False),
        sa.Column("mean_rest", sa.Float(), nullable=False),
        sa.Column("sd_haze", sa.Float(), nullable=False),
        sa.Column("sd_rest", sa.Float(), nullable=False),
        sa.Column("correlation", sa.Float(), nullable=False),
        sa.Column("hidden", sa.Integer(), nullable=False),
        sa.Column("inside", sa.Float(), nullable=True),
        sa.Column("band_scale", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_prior_class"),
        sa.UniqueConstraint(
            "prior_version_id",
            "surface",
            "traffic",
            "counted",
            name="uq_prior_class_prior_version_id_surface_traffic_counted",
        ),
        sa.CheckConstraint(
            "traffic IN ('light', 'moderate', 'heavy', 'extreme')", name="ck_prior_class_traffic"
        ),
        sa.CheckConstraint("zones >= 0 AND hidden >= 0", name="ck_prior_class_counts"),
        sa.CheckConstraint("sd_haze > 0 AND sd_rest > 0", name="ck_prior_class_spread"),
        sa.CheckConstraint("correlation BETWEEN -1 AND 1", name="ck_prior_class_correlation"),
        sa.CheckConstraint("inside BETWEEN 0 AND 1", name="ck_prior_class_inside"),
        sa.CheckConstraint("band_scale > 0", name="ck_prior_class_band_scale"),
        sa.ForeignKeyConstraint(
            ["prior_version_id"],
            ["prior_version.id"],
            name="fk_prior_class_prior_version_id_prior_version",
        ),
    )
    op.create_table(
        "prior_noise",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("prior_version_id", sa.Integer(), nullable=False),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("first_reading_sd", sa.Float(), nullable=False),
        sa.Column("instrument_sd", sa.Float(), nullable=False),
        sa.Column("station_sd", sa.Float(), nullable=False),
        sa.Column("drift_sd", sa.Float(), nullable=False),
        sa.Column("shock_sd", sa.Float(), nullable=False),
        sa.Column("day_sd", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_prior_noise"),
        sa.UniqueConstraint(
            "prior_version_id", "surface", name="uq_prior_noise_prior_version_id_surface"
        ),
        sa.CheckConstraint(
            "first_reading_sd >= 0 AND instrument_sd >= 0 AND station_sd >= 0 AND drift_sd >= 0 "
            "AND shock_sd >= 0 AND day_sd >= 0",
            name="ck_prior_noise_errors",
        ),
        sa.ForeignKeyConstraint(
            ["prior_version_id"],
            ["prior_version.id"],
            name="fk_prior_noise_prior_version_id_prior_version",
        ),
    )
