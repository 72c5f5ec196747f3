"""Contacts, crews, machines, meters, contracts, calls; rows that are taken back, not deleted."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

WITHDRAWN_ALREADY = ("traffic_row", "routine")
NOT_YET_WITHDRAWN = ("shut_day", "reading", "treatment_done", "promise_line")


def upgrade() -> None:
    _taken_back()
    _floors()
    _crews()
    _people()
    _equipment()
    _contracts()


def _taken_back() -> None:
    """Where a row was entered, and when and by whom it was taken back.

    Plain ALTERs with defaults, which both databases take in their stride: on SQLite anything more
    would build the table anew.
    """
    for table in NOT_YET_WITHDRAWN:
        op.add_column(table, sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True))
    for table in NOT_YET_WITHDRAWN + WITHDRAWN_ALREADY:
        op.execute(
            f"ALTER TABLE {table} ADD COLUMN origin TEXT DEFAULT 'folder' NOT NULL "
            f"CONSTRAINT ck_{table}_origin CHECK (origin IN ('folder', 'program'))"
        )
        op.add_column(
            table, sa.Column("withdrawn_by", sa.Text(), server_default="", nullable=False)
        )
    # A treatment of one of our visits was entered in the program, whatever loaded it.
    op.execute("UPDATE treatment_done SET origin = 'program' WHERE visit_uuid <> ''")


def _floors() -> None:
    op.create_table(
        "site_requirement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("each_worker", sa.Boolean(), nullable=False),
        sa.Column("expires_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_site_requirement"),
        sa.UniqueConstraint(
            "site_id", "kind", "name", name="uq_site_requirement_site_id_kind_name"
        ),
        sa.CheckConstraint(
            "kind IN ('induction', 'certificate', 'permit', 'insurance')",
            name="ck_site_requirement_kind",
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_site_requirement_site_id_site"),
    )
    op.create_table(
        "season",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("from_month", sa.Integer(), nullable=False),
        sa.Column("from_day", sa.Integer(), nullable=False),
        sa.Column("to_month", sa.Integer(), nullable=False),
        sa.Column("to_day", sa.Integer(), nullable=False),
        sa.Column("factor", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_season"),
        sa.UniqueConstraint("site_id", "name", name="uq_season_site_id_name"),
        sa.CheckConstraint("from_month BETWEEN 1 AND 12", name="ck_season_from_month"),
        sa.CheckConstraint("from_day BETWEEN 1 AND 31", name="ck_season_from_day"),
        sa.CheckConstraint("to_month BETWEEN 1 AND 12", name="ck_season_to_month"),
        sa.CheckConstraint("to_day BETWEEN 1 AND 31", name="ck_season_to_day"),
        sa.CheckConstraint("factor BETWEEN 1 AND 10", name="ck_season_factor"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_season_site_id_site"),
    )
    op.create_table(
        "floor_make_up",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("grit", sa.Integer(), nullable=True),
        sa.Column("exposure_class", sa.Text(), nullable=False),
        sa.Column("densifier", sa.Text(), nullable=False),
        sa.Column("protector", sa.Text(), nullable=False),
        sa.Column("joints_m", sa.Float(), nullable=True),
        sa.Column("edges_m", sa.Float(), nullable=True),
        sa.Column("obstruction_share", sa.Float(), nullable=False),
        sa.Column("moisture", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_floor_make_up"),
        sa.UniqueConstraint("zone_id", "from_on", name="uq_floor_make_up_zone_id_from_on"),
        sa.CheckConstraint("grit BETWEEN 16 AND 20000", name="ck_floor_make_up_grit"),
        sa.CheckConstraint(
            "exposure_class IN ('', 'A', 'B', 'C')", name="ck_floor_make_up_exposure_class"
        ),
        sa.CheckConstraint(
            "obstruction_share BETWEEN 0 AND 1", name="ck_floor_make_up_obstruction_share"
        ),
        sa.CheckConstraint("joints_m >= 0", name="ck_floor_make_up_joints_m"),
        sa.CheckConstraint("edges_m >= 0", name="ck_floor_make_up_edges_m"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_floor_make_up_zone_id_zone"),
    )


def _crews() -> None:
    op.create_table(
        "worker",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("languages", sa.Text(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_worker"),
        sa.UniqueConstraint("code", name="uq_worker_code"),
        sa.CheckConstraint("from_on <= to_on", name="ck_worker_order"),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], name="fk_worker_branch_id_branch"),
    )
    op.create_table(
        "qualification",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("worker_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("expires_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_qualification"),
        sa.UniqueConstraint(
            "worker_id", "name", "from_on", name="uq_qualification_worker_id_name_from_on"
        ),
        sa.CheckConstraint("from_on <= expires_on", name="ck_qualification_order"),
        sa.ForeignKeyConstraint(
            ["worker_id"], ["worker.id"], name="fk_qualification_worker_id_worker"
        ),
    )
    op.create_table(
        "crew",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_crew"),
        sa.UniqueConstraint("code", name="uq_crew_code"),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], name="fk_crew_branch_id_branch"),
    )
    op.create_table(
        "crew_member",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("worker_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_crew_member"),
        sa.UniqueConstraint(
            "crew_id", "worker_id", "from_on", name="uq_crew_member_crew_id_worker_id_from_on"
        ),
        sa.CheckConstraint("from_on <= to_on", name="ck_crew_member_order"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_crew_member_crew_id_crew"),
        sa.ForeignKeyConstraint(
            ["worker_id"], ["worker.id"], name="fk_crew_member_worker_id_worker"
        ),
    )
    op.create_index("ix_crew_member_worker_id", "crew_member", ["worker_id"])
    op.create_table(
        "shift",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("weekdays", sa.Text(), nullable=False),
        sa.Column("starts_minute", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("ends_minute", sa.Integer(), nullable=False),
        sa.Column("break_minutes", sa.Integer(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_shift"),
        sa.UniqueConstraint(
            "crew_id",
            "weekdays",
            "starts_minute",
            "from_on",
            name="uq_shift_crew_id_weekdays_starts_minute_from_on",
        ),
        sa.CheckConstraint("starts_minute BETWEEN 0 AND 1439", name="ck_shift_starts_minute"),
        sa.CheckConstraint("ends_minute BETWEEN 0 AND 1440", name="ck_shift_ends_minute"),
        sa.CheckConstraint("break_minutes BETWEEN 0 AND 1440", name="ck_shift_break_minutes"),
        sa.CheckConstraint("from_on <= to_on", name="ck_shift_order"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_shift_crew_id_crew"),
    )


def _people() -> None:
    op.create_table(
        "contact",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("email", sa.Text(), nullable=False),
        sa.Column("phone", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_contact"),
        sa.UniqueConstraint("code", name="uq_contact_code"),
        sa.ForeignKeyConstraint(
            ["customer_id"], ["customer.id"], name="fk_contact_customer_id_customer"
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_contact_site_id_site"),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("email", sa.Text(), nullable=False),
        sa.Column("worker_id", sa.Integer(), nullable=True),
        sa.Column("contact_id", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_person"),
        sa.UniqueConstraint("code", name="uq_person_code"),
        sa.CheckConstraint(
            "role IN ('admin', 'planner', 'crew', 'account', 'customer')", name="ck_person_role"
        ),
        sa.ForeignKeyConstraint(["worker_id"], ["worker.id"], name="fk_person_worker_id_worker"),
        sa.ForeignKeyConstraint(
            ["contact_id"], ["contact.id"], name="fk_person_contact_id_contact"
        ),
    )
    op.create_table(
        "call",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("received_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("reported_by", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("spot_m2", sa.Float(), nullable=True),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("origin", sa.Text(), nullable=False, server_default="folder"),
        sa.Column("withdrawn_by", sa.Text(), nullable=False, server_default=""),
        sa.PrimaryKeyConstraint("id", name="pk_call"),
        sa.CheckConstraint("origin IN ('folder', 'program')", name="ck_call_origin"),
        sa.UniqueConstraint("uuid", name="uq_call_uuid"),
        sa.CheckConstraint(
            "kind IN ('stain', 'spill', 'slip', 'damage', 'other')", name="ck_call_kind"
        ),
        sa.CheckConstraint("spot_m2 >= 0", name="ck_call_spot_m2"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_call_site_id_site"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_call_zone_id_zone"),
    )
    op.create_index("ix_call_received_at", "call", ["received_at"])
    op.create_table(
        "entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_entry"),
        sa.UniqueConstraint("uuid", name="uq_entry_uuid"),
    )


def _equipment() -> None:
    op.create_table(
        "machine",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("fuel", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_machine"),
        sa.UniqueConstraint("code", name="uq_machine_code"),
    )
    op.create_table(
        "machine_place",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("machine_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=True),
        sa.Column("site_id", sa.Integer(), nullable=True),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_machine_place"),
        sa.UniqueConstraint("machine_id", "from_on", name="uq_machine_place_machine_id_from_on"),
        sa.CheckConstraint("from_on <= to_on", name="ck_machine_place_order"),
        sa.ForeignKeyConstraint(
            ["machine_id"], ["machine.id"], name="fk_machine_place_machine_id_machine"
        ),
        sa.ForeignKeyConstraint(
            ["branch_id"], ["branch.id"], name="fk_machine_place_branch_id_branch"
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_machine_place_site_id_site"),
    )
    op.create_table(
        "machine_outage",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("machine_id", sa.Integer(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_machine_outage"),
        sa.UniqueConstraint("machine_id", "from_on", name="uq_machine_outage_machine_id_from_on"),
        sa.CheckConstraint("from_on <= to_on", name="ck_machine_outage_order"),
        sa.ForeignKeyConstraint(
            ["machine_id"], ["machine.id"], name="fk_machine_outage_machine_id_machine"
        ),
    )
    op.create_table(
        "instrument",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("measure", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_instrument"),
        sa.UniqueConstraint("code", name="uq_instrument_code"),
    )
    op.create_table(
        "calibration",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("instrument_id", sa.Integer(), nullable=False),
        sa.Column("done_on", sa.Date(), nullable=False),
        sa.Column("valid_to", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_calibration"),
        sa.UniqueConstraint(
            "instrument_id", "done_on", name="uq_calibration_instrument_id_done_on"
        ),
        sa.CheckConstraint("done_on <= valid_to", name="ck_calibration_order"),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name="fk_calibration_instrument_id_instrument"
        ),
    )
    op.create_table(
        "meter_bridge",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("first_id", sa.Integer(), nullable=False),
        sa.Column("second_id", sa.Integer(), nullable=False),
        sa.Column("read_on", sa.Date(), nullable=False),
        sa.Column("offset_gu", sa.Float(), nullable=False),
        sa.Column("stations", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_meter_bridge"),
        sa.UniqueConstraint(
            "first_id", "second_id", "read_on", name="uq_meter_bridge_first_id_second_id_read_on"
        ),
        sa.CheckConstraint("first_id <> second_id", name="ck_meter_bridge_two"),
        sa.CheckConstraint("stations >= 1", name="ck_meter_bridge_stations"),
        sa.ForeignKeyConstraint(
            ["first_id"], ["instrument.id"], name="fk_meter_bridge_first_id_instrument"
        ),
        sa.ForeignKeyConstraint(
            ["second_id"], ["instrument.id"], name="fk_meter_bridge_second_id_instrument"
        ),
    )
    op.create_table(
        "stock_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("material", sa.Text(), nullable=False),
        sa.Column("moved_on", sa.Date(), nullable=False),
        sa.Column("move", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Float(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_stock_entry"),
        sa.UniqueConstraint(
            "branch_id",
            "material",
            "moved_on",
            "move",
            name="uq_stock_entry_branch_id_material_moved_on_move",
        ),
        sa.CheckConstraint("move IN ('counted', 'received', 'used')", name="ck_stock_entry_move"),
        sa.CheckConstraint("quantity >= 0", name="ck_stock_entry_quantity"),
        sa.ForeignKeyConstraint(
            ["branch_id"], ["branch.id"], name="fk_stock_entry_branch_id_branch"
        ),
    )
    op.create_table(
        "rate",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("branch_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_rate"),
        sa.UniqueConstraint(
            "branch_id", "kind", "what", "from_on", name="uq_rate_branch_id_kind_what_from_on"
        ),
        sa.CheckConstraint(
            "kind IN ('labour hour', 'night supplement', 'overtime hour', 'travel "
            "km', 'machine hour', 'material litre')",
            name="ck_rate_kind",
        ),
        sa.CheckConstraint("substr(amount, 1, 1) <> '-'", name="ck_rate_amount"),
        sa.CheckConstraint("length(currency) = 3", name="ck_rate_currency"),
        sa.CheckConstraint("from_on <= to_on", name="ck_rate_order"),
        sa.ForeignKeyConstraint(["branch_id"], ["branch.id"], name="fk_rate_branch_id_branch"),
    )


def _contracts() -> None:
    op.create_table(
        "contract",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_contract"),
        sa.UniqueConstraint("code", name="uq_contract_code"),
        sa.ForeignKeyConstraint(
            ["customer_id"], ["customer.id"], name="fk_contract_customer_id_customer"
        ),
    )
    op.create_table(
        "term",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contract_id", sa.Integer(), nullable=False),
        sa.Column("starts_on", sa.Date(), nullable=False),
        sa.Column("ends_on", sa.Date(), nullable=False),
        sa.Column("our_notice_days", sa.Integer(), nullable=False),
        sa.Column("their_notice_days", sa.Integer(), nullable=False),
        sa.Column("renewal", sa.Text(), nullable=False),
        sa.Column("cap_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_term"),
        sa.UniqueConstraint("contract_id", "starts_on", name="uq_term_contract_id_starts_on"),
        sa.CheckConstraint("our_notice_days BETWEEN 0 AND 730", name="ck_term_our_notice_days"),
        sa.CheckConstraint("their_notice_days BETWEEN 0 AND 730", name="ck_term_their_notice_days"),
        sa.CheckConstraint(
            "renewal IN ('automatic', 'rolling', 'option', 'tender')", name="ck_term_renewal"
        ),
        sa.CheckConstraint("starts_on <= ends_on AND ends_on <= cap_on", name="ck_term_order"),
        sa.ForeignKeyConstraint(
            ["contract_id"], ["contract.id"], name="fk_term_contract_id_contract"
        ),
    )
    op.create_index("ix_term_ends_on", "term", ["ends_on"])
    op.create_table(
        "fee_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("term_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=True),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_fee_line"),
        sa.UniqueConstraint(
            "term_id", "kind", "site_id", "work", name="uq_fee_line_term_id_kind_site_id_work"
        ),
        sa.CheckConstraint(
            "kind IN ('fixed monthly', 'per visit', 'per work', 'by result')",
            name="ck_fee_line_kind",
        ),
        sa.CheckConstraint("substr(amount, 1, 1) <> '-'", name="ck_fee_line_amount"),
        sa.ForeignKeyConstraint(["term_id"], ["term.id"], name="fk_fee_line_term_id_term"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_fee_line_site_id_site"),
    )
    op.create_index(
        "uq_fee_line_all_sites",
        "fee_line",
        ["term_id", "kind", "work"],
        unique=True,
        sqlite_where=sa.text("site_id IS NULL"),
        postgresql_where=sa.text("site_id IS NULL"),
    )
    op.create_table(
        "exclusion",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contract_id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("zone_id", sa.Integer(), nullable=True),
        sa.Column("from_on", sa.Date(), nullable=False),
        sa.Column("cause", sa.Text(), nullable=False),
        sa.Column("to_on", sa.Date(), nullable=False),
        sa.Column("evidence", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_exclusion"),
        sa.UniqueConstraint(
            "contract_id",
            "site_id",
            "zone_id",
            "from_on",
            "cause",
            name="uq_exclusion_contract_id_site_id_zone_id_from_on_cause",
        ),
        sa.CheckConstraint("from_on <= to_on", name="ck_exclusion_order"),
        sa.ForeignKeyConstraint(
            ["contract_id"], ["contract.id"], name="fk_exclusion_contract_id_contract"
        ),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_exclusion_site_id_site"),
        sa.ForeignKeyConstraint(["zone_id"], ["zone.id"], name="fk_exclusion_zone_id_zone"),
    )
    op.create_index(
        "uq_exclusion_whole_site",
        "exclusion",
        ["contract_id", "site_id", "from_on", "cause"],
        unique=True,
        sqlite_where=sa.text("zone_id IS NULL"),
        postgresql_where=sa.text("zone_id IS NULL"),
    )
