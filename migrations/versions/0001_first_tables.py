"""First tables: sites, zones, what was recorded on them, plans and visits."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    _care()
    _sites()
    _zones()
    _recorded()
    _plans()
    _visits()


def _care() -> None:
    op.create_table(
        "installation",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("domain", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_installation"),
        sa.CheckConstraint("id = 1", name="ck_installation_only_one"),
    )
    op.create_table(
        "history_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_history_entry"),
    )
    op.create_table(
        "customer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_customer"),
        sa.UniqueConstraint("code", name="uq_customer_code"),
    )
    op.create_table(
        "branch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("time_zone", sa.Text(), nullable=False),
        sa.Column("country", sa.Text(), nullable=False),
        sa.Column("region", sa.Text(), nullable=False),
        sa.Column("latitude", sa.Float(), nullable=True),
        sa.Column("longitude", sa.Float(), nullable=True),
        sa.Column("crews", sa.Integer(), nullable=False),
        sa.Column("crew_size", sa.Integer(), nullable=False),
        sa.Column("shift_minutes", sa.Integer(), nullable=False),
        sa.Column("weekdays", sa.Text(), nullable=False),
        sa.Column("reserve_share", sa.Float(), nullable=False),
        sa.Column("units", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("revised_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("revised_by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_branch"),
        sa.UniqueConstraint("code", name="uq_branch_code"),
        sa.CheckConstraint("crews BETWEEN 0 AND 500", name="ck_branch_crews"),
        sa.CheckConstraint("crew_size BETWEEN 1 AND 50", name="ck_branch_crew_size"),
        sa.CheckConstraint("shift_minutes BETWEEN 30 AND 960", name="ck_branch_shift_minutes"),
        sa.CheckConstraint("reserve_share BETWEEN 0 AND 0.9", name="ck_branch_reserve_share"),
        sa.CheckConstraint("units IN ('metric', 'US')", name="ck_branch_units"),
    )


def _sites() -> None:
    op.create_table(
        "site",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("time_zone", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("country", sa.Text(), nullable=False),
        sa.Column("region", sa.Text(), nullable=False),
        sa.Column("latitude", sa.Float(), nullable=True),
        sa.Column("longitude", sa.Float(), nullable=True),
        sa.Column("holidays", sa.Text(), nullable=False),
        sa.Column("notice_days", sa.Integer(), nullable=False),
        sa.Column("access_note", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_site"),
        sa.UniqueConstraint("code", name="uq_site_code"),
        sa.CheckConstraint("holidays IN ('shut', 'worked')", name="ck_site_holidays"),
        sa.ForeignKeyConstraint(
            ["customer_id"], ["customer.id"], name="fk_site_customer_id_customer"
        ),
    )
    op.create_table(
        "site_branch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_site_branch"),
        sa.UniqueConstraint("site_id", "from_on", name="uq_site_branch_site_id_from_on"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_site_branch_site_id_site"),
        sa.ForeignKeyConstraint(
            ["branch_id"], ["branch.id"], name="fk_site_branch_branch_id_branch"
        ),
    )
    op.create_table(
        "access_window",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("weekdays", sa.Text(), nullable=False),
        sa.Column("starts_minute", sa.Integer(), nullable=False),
        sa.Column("ends_minute", sa.Integer(), nullable=False),
        sa.Column("permits", sa.Text(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=True),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_access_window"),
        sa.UniqueConstraint(
            "site_id",
            "weekdays",
            "starts_minute",
            "from_on",
            name="uq_access_window_site_id_weekdays_starts_minute_from_on",
        ),
        sa.CheckConstraint(
            "starts_minute BETWEEN 0 AND 1439",
            name="ck_access_window_starts_minute",
        ),
        sa.CheckConstraint("ends_minute BETWEEN 0 AND 1440", name="ck_access_window_ends_minute"),
        sa.CheckConstraint("from_on <= to_on", name="ck_access_window_order"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_access_window_site_id_site"),
    )
    op.create_table(
        "shut_day",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_shut_day"),
        sa.UniqueConstraint("site_id", "from_on", name="uq_shut_day_site_id_from_on"),
        sa.CheckConstraint("from_on <= to_on", name="ck_shut_day_order"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_shut_day_site_id_site"),
    )
    op.create_table(
        "area",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_area"),
        sa.UniqueConstraint("site_id", "code", name="uq_area_site_id_code"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_area_site_id_site"),
    )


def _zones() -> None:
    op.create_table(
        "zone",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("exposure", sa.Text(), nullable=False),
        sa.Column("opening", sa.Text(), nullable=False),
        sa.Column("polished_on", sa.Date(), nullable=True),
        sa.Column("about_days", sa.Integer(), nullable=False),
        sa.Column("poured_on", sa.Date(), nullable=True),
        sa.Column("parents", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_zone"),
        sa.UniqueConstraint("site_id", "code", name="uq_zone_site_id_code"),
        sa.CheckConstraint(
            "opening IN ('fresh', 'dates known', 'dates about', 'unknown')",
            name="ck_zone_opening",
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_zone_site_id_site"),
        sa.ForeignKeyConstraint(["area_id"], ["area.id"], name="fk_zone_area_id_area"),
    )
    op.create_table(
        "zone_span",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("area_m2", sa.Float(), nullable=True),
        sa.Column("traffic", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_zone_span"),
        sa.UniqueConstraint("zone_id", "from_on", name="uq_zone_span_zone_id_from_on"),
        sa.CheckConstraint("area_m2 BETWEEN 0.1 AND 1000000", name="ck_zone_span_area_m2"),
        sa.CheckConstraint(
            "traffic IN ('light', 'moderate', 'heavy', 'extreme')",
            name="ck_zone_span_traffic",
        ),
        sa.CheckConstraint("from_on <= to_on", name="ck_zone_span_order"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_zone_span_zone_id_zone"),
    )
    op.create_table(
        "station",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_station"),
        sa.UniqueConstraint("zone_id", "code", name="uq_station_zone_id_code"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_station_zone_id_zone"),
    )


def _recorded() -> None:
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("station_id", sa.Integer(), nullable=True),
        sa.Column("taken_on", sa.Date(), nullable=False),
        sa.Column("taken_minute", sa.Integer(), nullable=False),
        sa.Column("measure", sa.Text(), nullable=False),
        sa.Column("geometry_deg", sa.Integer(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("instrument", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("value", sa.Float(), nullable=False),
        sa.Column("reader", sa.Text(), nullable=False),
        sa.Column("witness", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_reading"),
        sa.UniqueConstraint(
            "zone_id",
            "station_id",
            "taken_on",
            "taken_minute",
            "measure",
            "geometry_deg",
            "method",
            "instrument",
            "state",
            name="uq_reading_at_station",
        ),
        sa.CheckConstraint("taken_minute BETWEEN 0 AND 1439", name="ck_reading_taken_minute"),
        sa.CheckConstraint(
            "measure IN ('gloss', 'DOI', 'haze', 'roughness', 'grade', 'slip')",
            name="ck_reading_measure",
        ),
        sa.CheckConstraint(
            "state IN ('after cleaning', 'after burnish', 'wet')",
            name="ck_reading_state",
        ),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_reading_zone_id_zone"),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_reading_station_id_station"
        ),
    )
    op.create_index(
        "uq_reading_whole_zone",
        "reading",
        [
            "zone_id",
            "taken_on",
            "taken_minute",
            "measure",
            "geometry_deg",
            "method",
            "instrument",
            "state",
        ],
        unique=True,
        sqlite_where=sa.text("station_id IS NULL"),
        postgresql_where=sa.text("station_id IS NULL"),
    )
    op.create_table(
        "treatment_done",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("done_on", sa.Date(), nullable=False),
        sa.Column("known", sa.Text(), nullable=False),
        sa.Column("about_days", sa.Integer(), nullable=False),
        sa.Column("share", sa.Float(), nullable=False),
        sa.Column("performer", sa.Text(), nullable=False),
        sa.Column("visit_uuid", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_treatment_done"),
        sa.UniqueConstraint(
            "zone_id", "work", "done_on", name="uq_treatment_done_zone_id_work_done_on"
        ),
        sa.CheckConstraint(
            "work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-"
            "polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint "
            "repair', 'reading round', 'slip test', 'walk', 'call')",
            name="ck_treatment_done_work",
        ),
        sa.CheckConstraint("known IN ('known', 'about')", name="ck_treatment_done_known"),
        sa.CheckConstraint("share > 0 AND share <= 1", name="ck_treatment_done_share"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_treatment_done_zone_id_zone"),
    )
    op.create_table(
        "traffic_row",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("per_day", sa.Float(), nullable=False),
        sa.Column("counted", sa.Boolean(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_traffic_row"),
        sa.UniqueConstraint(
            "zone_id", "kind", "from_on", name="uq_traffic_row_zone_id_kind_from_on"
        ),
        sa.CheckConstraint(
            "kind IN ('foot', 'trolley', 'pallet truck', 'lift truck')",
            name="ck_traffic_row_kind",
        ),
        sa.CheckConstraint("per_day BETWEEN 0 AND 1000000", name="ck_traffic_row_per_day"),
        sa.CheckConstraint("from_on <= to_on", name="ck_traffic_row_order"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_traffic_row_zone_id_zone"),
    )
    op.create_table(
        "routine",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("starts_on", sa.Date(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=True),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("performer", sa.Text(), nullable=False),
        sa.Column("proof", sa.Text(), nullable=False),
        sa.Column("except_on", sa.Text(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("about_days", sa.Integer(), nullable=False),
        sa.Column("promised", sa.Boolean(), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_routine"),
        sa.UniqueConstraint(
            "zone_id", "work", "starts_on", name="uq_routine_zone_id_work_starts_on"
        ),
        sa.CheckConstraint(
            "work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-"
            "polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint "
            "repair', 'reading round', 'slip test', 'walk', 'call')",
            name="ck_routine_work",
        ),
        sa.CheckConstraint(
            "performer IN ('site team', 'us', 'other')",
            name="ck_routine_performer",
        ),
        sa.CheckConstraint(
            "proof IN ('confirmed', 'reported', 'assumed', 'known missed')",
            name="ck_routine_proof",
        ),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_routine_zone_id_zone"),
    )
    op.create_table(
        "promise_line",
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
        sa.PrimaryKeyConstraint("id", name="pk_promise_line"),
        sa.UniqueConstraint(
            "contract",
            "zone_id",
            "kind",
            "starts_on",
            name="uq_promise_line_contract_zone_id_kind_starts_on",
        ),
        sa.CheckConstraint(
            "kind IN ('appearance', 'rhythm', 'slip', 'response')",
            name="ck_promise_line_kind",
        ),
        sa.CheckConstraint(
            "reference_state IN ('after cleaning', 'after burnish', 'wet')",
            name="ck_promise_line_reference_state",
        ),
        sa.CheckConstraint("policy IN ('as agreed', 'gentlest')", name="ck_promise_line_policy"),
        sa.CheckConstraint("starts_on <= ends_on", name="ck_promise_line_order"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_promise_line_zone_id_zone"),
    )
    op.create_index("ix_promise_line_zone_id", "promise_line", ["zone_id"])


def _plans() -> None:
    op.create_table(
        "plan",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("today", sa.Date(), nullable=False),
        sa.Column("last_on", sa.Date(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("added", sa.Integer(), nullable=False),
        sa.Column("moved", sa.Integer(), nullable=False),
        sa.Column("merged", sa.Integer(), nullable=False),
        sa.Column("changed", sa.Integer(), nullable=False),
        sa.Column("dropped", sa.Integer(), nullable=False),
        sa.Column("kept", sa.Integer(), nullable=False),
        sa.Column("unplaced", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_plan"),
    )
    op.create_table(
        "due",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("plan_id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=True),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("earliest", sa.Date(), nullable=False),
        sa.Column("target", sa.Date(), nullable=False),
        sa.Column("latest", sa.Date(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("area_m2", sa.Float(), nullable=True),
        sa.Column("needs", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("recheck", sa.Boolean(), nullable=False),
        sa.Column("unplaced_why", sa.Text(), nullable=True),
        sa.Column("unplaced_mend", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_due"),
        sa.CheckConstraint(
            "work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-"
            "polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint "
            "repair', 'reading round', 'slip test', 'walk', 'call')",
            name="ck_due_work",
        ),
        sa.CheckConstraint("earliest <= target AND target <= latest", name="ck_due_order"),
        sa.CheckConstraint(
            "(unplaced_why IS NULL) = (unplaced_mend IS NULL)",
            name="ck_due_unplaced",
        ),
        sa.ForeignKeyConstraint(["plan_id"], ["plan.id"], name="fk_due_plan_id_plan"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_due_site_id_site"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_due_zone_id_zone"),
    )
    op.create_index("ix_due_plan_id", "due", ["plan_id"])


def _visits() -> None:
    op.create_table(
        "visit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("night", sa.Date(), nullable=False),
        sa.Column("starts_minute", sa.Integer(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("people", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("commitment", sa.Text(), nullable=False),
        sa.Column("agreement", sa.Text(), nullable=False),
        sa.Column("origin", sa.Text(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_visit"),
        sa.UniqueConstraint("uuid", name="uq_visit_uuid"),
        sa.CheckConstraint("starts_minute BETWEEN 0 AND 2879", name="ck_visit_starts_minute"),
        sa.CheckConstraint(
            "state IN ('proposed', 'held', 'started', 'done', 'part done', 'no access', "
            "'cancelled')",
            name="ck_visit_state",
        ),
        sa.CheckConstraint("commitment IN ('week', 'night', 'hour')", name="ck_visit_commitment"),
        sa.CheckConstraint(
            "agreement IN ('not needed', 'asked', 'agreed', 'refused')",
            name="ck_visit_agreement",
        ),
        sa.CheckConstraint(
            "origin IN ('plan', 'call', 'customer order', 'make-good')",
            name="ck_visit_origin",
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_visit_site_id_site"),
    )
    op.create_index("ix_visit_night", "visit", ["night"])
    op.create_index("ix_visit_site_id_night", "visit", ["site_id", "night"])
    op.create_table(
        "visit_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=True),
        sa.Column("due_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("area_m2", sa.Float(), nullable=True),
        sa.Column("written_by", sa.Integer(), nullable=False),
        sa.Column("withdrawn_by", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_visit_line"),
        sa.CheckConstraint(
            "work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-"
            "polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint "
            "repair', 'reading round', 'slip test', 'walk', 'call')",
            name="ck_visit_line_work",
        ),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_visit_line_visit_id_visit"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_visit_line_zone_id_zone"),
        sa.ForeignKeyConstraint(["due_id"], ["due.id"], name="fk_visit_line_due_id_due"),
        sa.ForeignKeyConstraint(["written_by"], ["plan.id"], name="fk_visit_line_written_by_plan"),
        sa.ForeignKeyConstraint(
            ["withdrawn_by"], ["plan.id"], name="fk_visit_line_withdrawn_by_plan"
        ),
    )
    op.create_index("ix_visit_line_visit_id", "visit_line", ["visit_id"])
    op.create_table(
        "visit_event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("plan_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("night_before", sa.Date(), nullable=True),
        sa.Column("night_after", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_visit_event"),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_visit_event_visit_id_visit"),
        sa.ForeignKeyConstraint(["plan_id"], ["plan.id"], name="fk_visit_event_plan_id_plan"),
    )
    op.create_index("ix_visit_event_visit_id", "visit_event", ["visit_id"])
