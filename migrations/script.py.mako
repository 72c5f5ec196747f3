"""${message}."""

# Rules for a migration:
# - One head. The file is called NNNN_what_changes.py and its revision is NNNN, one above the last.
# - It never imports floorcare: records and tables change underneath it. Words are spelled out.
# - Every constraint and index is named as the naming convention would name it.
# - Drafting one: alembic.command.revision(config, "what changes", autogenerate=True, rev_id="NNNN")
#   with config = floorcare.store.upgrade.alembic_config(connection) and the tables' metadata under
#   config.attributes["metadata"]; then read every line of it.
# - Autogenerate does not see CHECK constraints: write them by hand. tests/migrations compares the
#   whole DDL with the tables in floorcare/store.
# - A rename is three migrations: add, copy, drop. Nothing people entered is dropped.
# - A migration that moves rows has a test with rows before and after.
# - No downgrade: a copy of the file is taken before each upgrade.

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = None
depends_on = None


def upgrade() -> None:
    ${upgrades if upgrades else "pass"}
